// SPDX-License-Identifier: MIT
#include "cli/report/drawing/plan_of.hpp"

#include "cli/read/piece_file.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::WithinAbs;

namespace {

Piece example(const std::string& name) {
    return load_piece(std::string(HOLLOWTOP_SOURCE_DIR) + "/docs/examples/" + name + ".json");
}

} // namespace

TEST_CASE("thickness is that of the rim, the skin or a land, and nothing off the top", "[report]") {
    const Plan plan = plan_of(example("desk"));
    CHECK(thickness_at(plan, {400, 300}) == 20);
    CHECK(thickness_at(plan, {800, 300}) == 38);  // the rib
    CHECK(thickness_at(plan, {1170, 540}) == 38); // the land
    CHECK(thickness_at(plan, {1, 1}) == 0);       // off the rounded corner
    CHECK(thickness_at(plan, {-5, 300}) == 0);
}

TEST_CASE("a section names each stretch once, with its thickness", "[report]") {
    const auto stretches = section_along(plan_of(example("desk")), true, 375);
    REQUIRE(stretches.size() == 5);
    const std::vector<double> ends{0, 110, 740, 860, 1490, 1600};
    for (std::size_t i = 0; i < 5; ++i) {
        CHECK_THAT(stretches[i].from, WithinAbs(ends[i], 1e-9));
        CHECK_THAT(stretches[i].to, WithinAbs(ends[i + 1], 1e-9));
        CHECK(stretches[i].thickness == (i % 2 == 0 ? 38 : 20));
    }
}

TEST_CASE("a rim recess of an oval lies its rim inside the oval", "[report]") {
    const auto stretches = section_along(plan_of(example("oval_table")), true, 550);
    REQUIRE(stretches.size() == 3);
    CHECK_THAT(stretches[1].from, WithinAbs(130, 0.05)); // chords stray less than 0.02 mm
    CHECK_THAT(stretches[1].to, WithinAbs(1970, 0.05));
    CHECK(stretches[1].thickness == 10);
}
