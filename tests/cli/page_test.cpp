// SPDX-License-Identifier: MIT
#include "cli/text/page.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace hollowtop::cli;

TEST_CASE("lines are broken at spaces, and a word that is too long alone is cut", "[cli]") {
    CHECK(wrapped("one two three", 7) == std::vector<std::string>{"one two", "three"});
    CHECK(wrapped("onetwothree", 4) == std::vector<std::string>{"onet", "woth", "ree"});
    CHECK(wrapped("", 4) == std::vector<std::string>{""});
    CHECK(wrapped("one   two", 4) == std::vector<std::string>{"one", "two"});
    CHECK(wrapped("\u00e4\u00f6\u00fc \u00e4", 4) ==
          std::vector<std::string>{"\u00e4\u00f6\u00fc", "\u00e4"});
}

TEST_CASE("width counts characters, not bytes", "[cli]") {
    CHECK(width_of("\u00e4b") == 2);
    CHECK(width_of("") == 0);
}

TEST_CASE("a table that is too wide breaks the cells of the columns that may shrink", "[cli]") {
    Page page;
    const std::string words =
        "word word word word word word word word word word word word word word word word";
    page.table({{.heading = "a", .shrinks = true},
                {.heading = "b", .to_the_right = true},
                {.heading = "c", .shrinks = true}},
               {{{words, "12.3", words}, Tone::plain}});
    const std::string text = page.text(false);
    std::size_t start = 0;
    for (std::size_t end = text.find('\n'); end != std::string::npos;
         start = end + 1, end = text.find('\n', start))
        CHECK(end - start <= page_width);
    CHECK(text.find("12.3") != std::string::npos);
}

TEST_CASE("colour stands around whole lines and only where it is wanted", "[cli]") {
    Page page;
    page.paragraph("fine", 0, Tone::good);
    page.paragraph("plain");
    CHECK(page.text(true) == "\x1b[1;32mfine\x1b[0m\nplain\n");
    CHECK(page.text(false) == "fine\nplain\n");
}
