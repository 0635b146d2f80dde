// SPDX-License-Identifier: MIT
#include "solver/variants/deepest.hpp"

#include "materials/error.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/variants/edits.hpp"
#include "tests/solver/tray_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;

namespace {

JudgeEachOptions quick(int threads = 1) {
    JudgeEachOptions options;
    options.check.mesh = CheckOptions::Mesh::coarse;
    options.check.threads = threads;
    return options;
}

} // namespace

TEST_CASE("the greatest depth passes, one tenth of a millimetre more fails, seen by check itself",
          "[solver][slow]") {
    const Piece piece = tray();
    const Reach reach = reach_of_depth(piece, "", 4);
    CHECK_THAT(reach.at(reach.n_steps), WithinAbs(16, 1e-9));
    const auto piece_of = [&](double depth) {
        Piece deeper = piece;
        set_depth(deeper, "well", depth);
        return deeper;
    };
    const Farthest answer = farthest(reach, piece_of, quick());
    REQUIRE(answer.passing);
    REQUIRE(answer.failing);
    CHECK_THAT(answer.failing->measure - answer.passing->measure, WithinAbs(0.1, 1e-9));
    CHECK(check_piece(piece_of(answer.passing->measure), quick().check).result.passes);
    CHECK_FALSE(check_piece(piece_of(answer.failing->measure), quick().check).result.passes);
    CHECK(std::is_sorted(answer.curve.begin(), answer.curve.end(),
                         [](const auto& a, const auto& b) { return a.measure < b.measure; }));
    CHECK(answer.curve.size() < 50);
    const Farthest two = farthest(reach, piece_of, quick(2));
    REQUIRE(two.curve.size() == answer.curve.size());
    for (std::size_t i = 0; i < two.curve.size(); ++i)
        CHECK(two.curve[i].row->sag_mm == answer.curve[i].row->sag_mm);
}

TEST_CASE("a piece that never passes and one that always does are told apart", "[solver][slow]") {
    Piece piece = tray();
    const Reach reach{.low = 2, .step = 0.5, .n_steps = 8, .scan_every = 4};
    const auto piece_of = [&](double depth) {
        Piece deeper = piece;
        set_depth(deeper, "", depth);
        return deeper;
    };
    piece.limits.sag = {
        .is_share_of_span = false, .divisor = 0, .length = 1e-6, .is_stated = true, .source = {}};
    const Farthest never = farthest(reach, piece_of, quick());
    CHECK_FALSE(never.passing);
    CHECK(never.curve.size() == 3); // the scan alone
    piece = tray();
    piece.loads[0].kind =
        PatchLoad{.force = 1, .at = {300, 150}, .size_x = 80, .size_y = 80, .travels = false, .over = {}};
    const Farthest always = farthest(reach, piece_of, quick());
    REQUIRE(always.passing);
    CHECK_FALSE(always.failing);
    CHECK_THAT(always.passing->measure, WithinAbs(6, 1e-9));
}

TEST_CASE("where lesser measures fail and greater ones pass, the greatest is found and the gap told",
          "[solver][slow]") {
    // fails from 3 to 5 (a load too heavy there), passes elsewhere up to 8.3
    const Reach reach{.low = 1, .step = 0.1, .n_steps = 90, .scan_every = 5};
    const auto piece_of = [&](double x) {
        Piece piece = tray();
        const bool fails = (x > 2.95 && x < 5.05) || x > 8.35;
        piece.recesses.clear();
        piece.loads[0].kind = PatchLoad{.force = fails ? 50000.0 : 1.0,
                                        .at = {300, 150},
                                        .size_x = 80,
                                        .size_y = 80,
                                        .travels = false,
                                        .over = {}};
        return piece;
    };
    const Farthest answer = farthest(reach, piece_of, quick(2));
    REQUIRE(answer.passing);
    REQUIRE(answer.failing);
    CHECK_THAT(answer.passing->measure, WithinAbs(8.3, 1e-9));
    CHECK_THAT(answer.failing->measure, WithinAbs(8.4, 1e-9));
    REQUIRE(answer.gaps.size() == 1);
    CHECK_THAT(answer.gaps[0].first, WithinAbs(3, 1e-9));
    CHECK_THAT(answer.gaps[0].second, WithinAbs(5, 1e-9));
}

TEST_CASE("a measure at which the piece cannot be made counts as failing, with its reason",
          "[solver][slow]") {
    const Reach reach{.low = 1, .step = 1, .n_steps = 4, .scan_every = 4};
    const auto piece_of = [&](double x) {
        Piece piece = tray();
        piece.loads[0].kind =
            PatchLoad{.force = 1, .at = {300, 150}, .size_x = 80, .size_y = 80, .travels = false, .over = {}};
        set_depth(piece, "", x > 3.5 ? 25 : x);
        return piece;
    };
    const Farthest answer = farthest(reach, piece_of, quick());
    REQUIRE(answer.failing);
    CHECK_THAT(answer.passing->measure, WithinAbs(3, 1e-9));
    CHECK(in_own_units(answer.failing->problem).rfind("recesses[0].depth", 0) == 0);
}

TEST_CASE("the reach of a width ends at the least rim, that of a depth at the least skin", "[solver]") {
    const Piece piece = tray();
    const Reach width = reach_of_width(piece, "well", 25);
    CHECK_THAT(rim_of(piece, ""), WithinAbs(60, 1e-9));
    CHECK_THAT(width.at(width.n_steps), WithinAbs(35, 0.1001)); // 60 - 25, on the grid
    CHECK_THAT(width.low, WithinAbs(-(180.0 - 40) / 2, 1e-9));  // 180 wide, 40 at the least
    CHECK_THROWS_AS(reach_of_depth(piece, "drawer", 4), Error);
    CHECK_THROWS_AS(reach_of_depth(piece, "", 20), Error);
    CHECK_THROWS_AS(reach_of_width(piece, "", 400), Error);
}
