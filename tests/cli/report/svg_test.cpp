// SPDX-License-Identifier: MIT
#include "cli/report/drawing/svg.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using namespace hollowtop::cli;

TEST_CASE("a drawing holds its title, its description and its shapes", "[report]") {
    Svg svg("plan", 100, 50.5, "Plan", "A top <seen> from below");
    svg.line({1, 2}, {3.14159, 4}, {.stroke = "#000000", .width = 0.5, .dash = "4 3"});
    svg.text({10, 20}, "850 mm", {.size = 11, .anchor = Anchor::middle}, {{"data-json", "/a"}});
    const std::string expected =
        R"(<svg id="plan" width="100" height="50.5" viewBox="0 0 100 50.5" role="img" )"
        R"(aria-labelledby="plan-title plan-description" )"
        R"(font-family="system-ui, &#39;Segoe UI&#39;, &#39;Helvetica Neue&#39;, Arial, sans-serif">
<title id="plan-title">Plan</title>
<desc id="plan-description">A top &lt;seen&gt; from below</desc>
<line x1="1" y1="2" x2="3.142" y2="4" fill="none" stroke="#000000" stroke-width="0.5" stroke-dasharray="4 3"/>
<text x="10" y="20" font-size="11" fill="#26231f" text-anchor="middle" data-json="/a">850 mm</text>
</svg>
)";
    CHECK(svg.element() == expected);
}

TEST_CASE("a drawing as a file says its size on paper", "[report]") {
    const Svg svg("ruler", 210, 10, "Ruler", "Nothing");
    const std::string file = svg.file("210mm", "10mm");
    CHECK(file.rfind("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\"",
                     0) == 0);
    CHECK(file.find(R"(width="210mm" height="10mm" viewBox="0 0 210 10")") != std::string::npos);
}

TEST_CASE("words with markup, quotes and strange bytes come out as text", "[report]") {
    CHECK(escaped(R"(<script>alert("x")</script> & 'y')") ==
          "&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt; &amp; &#39;y&#39;");
    CHECK(escaped("\xD7\xA9\xD7\x95\xD7\x9C\xD7\x97\xD7\x9F") ==
          "\xD7\xA9\xD7\x95\xD7\x9C\xD7\x97\xD7\x9F"); // right to left
    CHECK(escaped("a\x01z") == "a\xEF\xBF\xBDz");
    CHECK(escaped("a\xFFz") == "a\xEF\xBF\xBDz");
    CHECK(escaped("\xC0\xAF") == "\xEF\xBF\xBD\xEF\xBF\xBD");         // too long a form of "/"
    CHECK(escaped("\xED\xA0\x80").find('\xED') == std::string::npos); // half a surrogate pair
    CHECK(escaped("tab\tline\n") == "tab\tline\n");
}

TEST_CASE("coordinates have at most three decimals and no minus nought", "[report]") {
    CHECK(coordinate(12) == "12");
    CHECK(coordinate(100) == "100");
    CHECK(coordinate(12.5004) == "12.5");
    CHECK(coordinate(-0.0001) == "0");
    CHECK(coordinate(-0.125) == "-0.125");
}

TEST_CASE("paths are written run by run", "[report]") {
    SvgPath path;
    CHECK(path.empty());
    path.move({0, 0}).line({10, 0}).arc({15, 5}, 5, 5, true).close();
    CHECK(path.d() == "M0 0L10 0A5 5 0 0 1 15 5Z");
    CHECK(SvgPath().circle({5, 5}, 2).d() == "M3 5A2 2 0 0 1 7 5A2 2 0 0 1 3 5Z");
    CHECK(SvgPath().polygon({{0, 0}, {1, 0}, {1, 1}}).d() == "M0 0L1 0L1 1Z");
}

TEST_CASE("clips and hatches are named after their picture, each once", "[report]") {
    Svg svg("a", 10, 10, "t", "d");
    const auto clip = svg.clip(SvgPath().circle({5, 5}, 4));
    const std::string hatch = svg.hatch(4, 45, "#111111", 1);
    CHECK(clip == std::pair<std::string, std::string>{"clip-path", "url(#a-clip-1)"});
    CHECK(hatch == "url(#a-hatch-2)");
    svg.open({clip});
    svg.rectangle({0, 0}, 10, 10, {.fill = hatch});
    svg.close();
    const std::string text = svg.element();
    CHECK(text.find(R"(<clipPath id="a-clip-1">)") != std::string::npos);
    CHECK(text.find(R"x(<g clip-path="url(#a-clip-1)">)x") != std::string::npos);
    CHECK(text.find(R"x(fill="url(#a-hatch-2)")x") != std::string::npos);
}

TEST_CASE("boxes of words meet where the words would cover one another", "[report]") {
    const Lettering plain{.size = 10};
    const Box first = box_of_words({0, 10}, "12.5 mm", plain);
    CHECK(first.meets(box_of_words({5, 12}, "3", plain)));
    CHECK_FALSE(first.meets(box_of_words({5, 30}, "3", plain)));
    CHECK(box_of_words({50, 10}, "12", {.size = 10, .anchor = Anchor::end}).x1 == 50);
    CHECK(width_of_words("\xD7\xA9", 10) == Approx(6.4)); // one letter of two bytes
}
