// SPDX-License-Identifier: MIT
#include "cli/nearest.hpp"

#include <catch2/catch.hpp>

#include <array>

using namespace hollowtop::cli;

TEST_CASE("edit distance counts insertions, deletions, replacements and swaps of neighbours", "[cli]") {
    CHECK(edit_distance("metal", "metal") == 0);
    CHECK(edit_distance("metl", "metal") == 1);
    CHECK(edit_distance("mteal", "metal") == 1);
    CHECK(edit_distance("METAL", "metal") == 0);
    CHECK(edit_distance("", "rim") == 3);
    CHECK(edit_distance("kitten", "sitting") == 3); // the textbook example
}

TEST_CASE("a word that is near none of the known ones gets no suggestion", "[cli]") {
    constexpr std::array<std::string_view, 3> known{"depth", "skin", "rim"};
    CHECK(nearest("deph", known) == "depth");
    CHECK(nearest("Skin", known) == "skin");
    CHECK(nearest("zzzzzz", known).empty());
    CHECK(nearest(std::string(100, 'd'), known).empty());
}

TEST_CASE("words are listed as a sentence lists them", "[cli]") {
    constexpr std::array<std::string_view, 3> words{"a", "b", "c"};
    CHECK(listed(std::span(words).first(1)) == R"("a")");
    CHECK(listed(std::span(words).first(2)) == R"("a" or "b")");
    CHECK(listed(words) == R"("a", "b" or "c")");
}
