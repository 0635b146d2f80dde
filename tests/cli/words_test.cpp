// SPDX-License-Identifier: MIT
#include "cli/words/words.hpp"

#include <catch2/catch.hpp>

#include <array>

using namespace hollowtop::cli;

TEST_CASE("a word that is near none of the known ones gets no suggestion", "[cli]") {
    constexpr std::array<std::string_view, 3> known{"depth", "skin", "rim"};
    CHECK(did_you_mean("deph", known) == R"(did you mean "depth"?)");
    CHECK(did_you_mean("Skin", known) == R"(did you mean "skin"?)");
    CHECK(did_you_mean("zzzzzz", known).empty());
    CHECK(did_you_mean(std::string(100, 'd'), known).empty());
}

TEST_CASE("a cut that nobody makes has no ring angle", "[cli]") {
    for (const char* cut : {"", "sawn", "bent", "flatquarter", "30", "sawn flat"}) {
        CAPTURE(cut);
        CHECK_FALSE(ring_angle_of(cut).has_value());
    }
    CHECK(ring_angle_of("Rift-cut") == 45.0);
    CHECK(ring_angle_of("plain") == 0.0);
}

TEST_CASE("words are listed as a sentence lists them", "[cli]") {
    constexpr std::array<std::string_view, 3> words{"a", "b", "c"};
    CHECK(listed(std::span(words).first(1)) == R"("a")");
    CHECK(listed(std::span(words).first(2)) == R"("a" or "b")");
    CHECK(listed(words, "and") == R"("a", "b" and "c")");
}

TEST_CASE("what somebody typed is shown short and harmless", "[cli]") {
    CHECK(in_quotes("42 mm") == R"("42 mm")");
    CHECK(in_quotes("a\nb\x1b[31m") == R"("a?b?[31m")");
    CHECK(in_quotes(std::string(50, 'x')) == '"' + std::string(40, 'x') + "...\"");
    CHECK(in_quotes(std::string(39, 'x') + "\u00e4\u00e4") == '"' + std::string(39, 'x') + "...\"");
}
