// SPDX-License-Identifier: MIT
#include "solver/variants/proof_test.hpp"

#include "solver/check/check_piece.hpp"
#include "tray_for_tests.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

CheckOptions coarse() {
    CheckOptions options;
    options.mesh = CheckOptions::Mesh::coarse;
    options.threads = 1;
    return options;
}

} // namespace

TEST_CASE("a proof test lays on the load that bends the top most, and what its gauges should read is that of "
          "a check",
          "[solver][long]") {
    Piece piece = tray();
    piece.loads.push_back(
        {.name = "books", .duration = Duration::long_term, .kind = AreaLoad{.pressure = 0.0002, .over = {}}});
    piece.loads.push_back(
        {.name = "cup",
         .duration = Duration::short_term,
         .kind = PatchLoad{
             .force = 20, .at = {300, 150}, .size_x = 80, .size_y = 80, .travels = false, .over = {}}});
    const CheckOutcome drawn = check_piece(piece, coarse());
    const auto plan = plan_proof_test(drawn.placed, drawn.result);
    REQUIRE(plan);
    CHECK(plan->test.load.name == "pot");
    CHECK(plan->piece.loads.size() == proof_shares.size());
    const auto test = read_proof_test(*plan, check_piece(plan->piece, coarse()).result);
    REQUIRE(test);
    CHECK_THAT(test->force_N, WithinRel(300.0, 1e-6));
    REQUIRE(test->gauges.size() >= 2);
    CHECK(test->gauges[0].at == Point{300, 150});

    // with the load and without it; the three meshes follow the edges of their own loads: they agree to a
    // part in ten thousand
    Piece loaded = tray(), bare = tray();
    loaded.probes = bare.probes = {test->gauges[0].at, test->gauges[1].at};
    bare.loads.clear();
    const Result with = check_piece(loaded, coarse()).result, without = check_piece(bare, coarse()).result;
    for (std::size_t g = 0; g < 2; ++g) {
        const double reading =
            with.situations.back().probes[g].w_mm - without.situations.front().probes[g].w_mm;
        CHECK_THAT(test->steps[3].readings_mm[g], WithinRel(reading, 1e-4));
        CHECK_THAT(test->gauges[g].slope_mm_per_100_N, WithinRel(reading / 3, 1e-4));
        // held down on every pad, the top answers in proportion
        CHECK_THAT(test->steps[0].readings_mm[g], WithinRel(reading / 4, 1e-4));
        CHECK_THAT(test->steps[4].readings_mm[g], WithinRel(reading * 1.25, 1e-4));
    }
}

TEST_CASE("without a passing load the one that stays is tested, and without any load nothing is",
          "[solver]") {
    Piece piece = tray();
    piece.loads = {
        {.name = "books", .duration = Duration::long_term, .kind = AreaLoad{.pressure = 0.0002, .over = {}}}};
    const CheckOutcome drawn = check_piece(piece, coarse());
    const auto plan = plan_proof_test(drawn.placed, drawn.result);
    REQUIRE(plan);
    const auto test = read_proof_test(*plan, check_piece(plan->piece, coarse()).result);
    REQUIRE(test);
    CHECK_THAT(test->force_N, WithinRel(0.0002 * 600 * 300, 1e-6));
    piece.loads.clear();
    CHECK_FALSE(plan_proof_test(piece, drawn.result));
}
