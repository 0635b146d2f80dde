// SPDX-License-Identifier: MIT
#include "cli/report/drawing/html.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <limits>

using namespace hollowtop;
using namespace hollowtop::cli;

TEST_CASE("what is text is escaped, what is a number carries its whole value", "[report]") {
    CHECK(words("a < b & \"c\"").html == "a &lt; b &amp; \u201cc\u201d");
    CHECK(words("in \"books\" (\"all\")").html == "in \u201cbooks\u201d (\u201call\u201d)");
    CHECK(words("write \"peg\": 8").html == "write &quot;peg&quot;: 8"); // it is to be typed
    CHECK(own("<b>").html == "<bdi>&lt;b&gt;</bdi>");
    CHECK(number(1.0 / 3, "/mass/solid_kg", "0.3 kg").html ==
          R"(<data value="0.3333333333333333" data-json="/mass/solid_kg">0.3 kg</data>)");
    CHECK(number(2, "/width/grows_mm", "2.0 mm", Source::movement).html ==
          R"(<data value="2" data-movement="/width/grows_mm">2.0 mm</data>)");
    CHECK(exact(-0.0) == "0");
    CHECK_THROWS_AS(exact(std::numeric_limits<double>::infinity()), Error);
}

TEST_CASE("no line ends within a number that a hyphen parts", "[report]") {
    CHECK(words("1-1/2 in by 12 in").html == "<span class=\"keep\">1-1/2</span> in by 12 in");
    CHECK(words("Table 5-3a, 18-20").html ==
          "Table <span class=\"keep\">5-3a</span>, <span class=\"keep\">18-20</span>");
    CHECK(words("EN 1995-1-1:2004").html == "EN <span class=\"keep\">1995-1-1</span>:2004");
    CHECK(words("GTR-190, 3/4, 12 -3, first-order, 7-").html == "GTR-190, 3/4, 12 \u22123, first-order, 7-");
    CHECK(words("30 x 3, the rim's, x 4, exit x").html == "30 \u00d7 3, the rim\u2019s, \u00d7 4, exit x");
    CHECK(own("1-1/2").html == "<bdi>1-1/2</bdi>"); // what others wrote stays as it is
}

TEST_CASE("a table names its columns in every cell, for narrow screens", "[report]") {
    const Markup made = table("Weight", {{"part"}, {"kg", true}},
                              {{{words("top"), words("3")}, "over"}, {{words("rest"), {}}}});
    CHECK(
        made.html ==
        R"(<table class="short"><caption>Weight</caption><thead><tr><th scope="col">part</th><th scope="col" class="right">kg</th></tr></thead>
<tbody><tr class="over"><th scope="row">top</th><td class="right" data-label="kg">3</td></tr>
<tr><th scope="row">rest</th><td class="right void" data-label="kg"></td></tr>
</tbody></table>
)");
}

TEST_CASE(
    "a table leaves out a column in which no row has anything, and stays a table where its rows are short",
    "[cli]") {
    const Markup made =
        table("Forces", {{"support"}, {"least", true}, {"most in"}, {"note"}},
              {{{words("A"), words("3"), words("books"), {}}}, {{words("B"), {}, words("books"), {}}}});
    CHECK(made.html.find("note") == std::string::npos);
    CHECK(made.html.find("least") != std::string::npos);
    CHECK(made.html.find("class=\"short\"") == std::string::npos);
    const Markup kept = table("Passes", {{"pass"}, {"note"}}, {}, TableKind::short_rows);
    CHECK(kept.html.find("<table class=\"short\">") == 0);
    CHECK(kept.html.find("note") != std::string::npos); // a table to fill in keeps its columns
}
