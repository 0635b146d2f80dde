// SPDX-License-Identifier: MIT
#include "materials/names.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop::materials;

TEST_CASE("edit distance counts insertions, deletions, substitutions and swaps", "[materials]") {
    CHECK(edit_distance("", "") == 0);
    CHECK(edit_distance("metal", "metl") == 1);
    CHECK(edit_distance("metl", "metal") == 1);
    CHECK(edit_distance("metal", "petal") == 1);
    CHECK(edit_distance("angel", "angle") == 1);
    CHECK(edit_distance("kitten", "sitting") == 3); // the textbook pair
    CHECK(edit_distance("abc", "") == 3);
    CHECK(edit_distance("S235", "s235") == 0);
}

TEST_CASE("only what could be a slip of the pen is near", "[materials]") {
    const std::vector<std::string> known{"metal", "section", "screws", "from"};
    CHECK(nearest_names("metl", known) == std::vector<std::string>{"metal"});
    CHECK(nearest_names("qqqqqq", known).empty());
    CHECK(did_you_mean("sektion", known) == "did you mean \"section\"?");
    CHECK(did_you_mean("zzz", known).empty());
}

TEST_CASE("the nearest name comes first and ties keep their order", "[materials]") {
    const std::vector<std::string> known{"C24", "C22", "C27", "D24"};
    CHECK(nearest_names("C24", known, 1) == std::vector<std::string>{"C24"});
    CHECK(did_you_mean("C2", known) == "did you mean \"C24\", \"C22\" or \"C27\"?");
}

TEST_CASE("names are compared as plain words", "[materials]") {
    CHECK(plain_words("  Black-Cherry_ ") == "black cherry");
    CHECK(plain_words("Red maple (soft maple)") == "red maple soft maple");
    CHECK(plain_words("6060-T66") == "6060 t66");
    CHECK(plain_words("--").empty());
}
