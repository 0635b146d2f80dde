// SPDX-License-Identifier: MIT
#include "solver/variants/surveyed.hpp"

#include "tests/solver/uneven_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

CheckOptions quick() {
    return {.mesh = CheckOptions::Mesh::coarse, .mesh_size = 250, .threads = 1, .progress = {}};
}

const Mend* mend_of(const SurveyAnswer& answer, Mend::Kind kind) {
    const auto found = std::find_if(answer.mends.begin(), answer.mends.end(),
                                    [&](const Mend& mend) { return mend.kind == kind; });
    return found == answer.mends.end() ? nullptr : &*found;
}

/// A floor that is where it was drawn, with one gouge; gauged closely.
std::vector<Reading> gouged(double level) {
    UnevenSkinDrawn skin{.level = level};
    skin.gouges = {{{800, 400}, 2.5, 100}};
    std::vector<Reading> readings = invented_readings(skin, 9, 6, 0.02, 7);
    readings.push_back({.at = {800, 400}, .thickness = skin({800, 400})});
    return readings;
}

} // namespace

TEST_CASE("a patch weighs what the gouge took away, and wins back sag", "[solver][surveyed][slow]") {
    const Piece piece = uneven_top();
    const SurveyAnswer answer = survey_and_check(piece, gouged(18), {.gauge_sd = 0.05}, quick());
    REQUIRE(answer.routed.result);
    const Mend* const patch = mend_of(answer, Mend::Kind::patch);
    REQUIRE(patch != nullptr);
    REQUIRE(patch->routed.result);
    REQUIRE(patch->place);
    CHECK_THAT(patch->place->at.x, WithinAbs(800, 30));
    CHECK_THAT(patch->place->at.y, WithinAbs(400, 30));
    // what is missing under the drawing within the patch, of the field itself
    const SkinGrid& grid = answer.survey.recesses.front().mean;
    const Rectangle& e = patch->place->extent;
    const double middle_x = (e.x0 + e.x1) / 2, middle_y = (e.y0 + e.y1) / 2;
    double missing = 0;
    constexpr int n = 200;
    for (int j = 0; j < n; ++j)
        for (int i = 0; i < n; ++i) {
            const Point p{middle_x + patch->size_x * ((i + 0.5) / n - 0.5),
                          middle_y + patch->size_y * ((j + 0.5) / n - 0.5)};
            missing += std::max(0.0, 18 - thickness_in(grid, p)) * patch->size_x * patch->size_y / (n * n);
        }
    const double gained = patch->routed.row.mass_kg - answer.routed.row.mass_kg;
    CHECK_THAT(gained, WithinRel(missing * 650e-9, 0.1)); // its edges lie between crossings of the grid
    CHECK(patch->routed.row.sag_mm < answer.routed.row.sag_mm);
    CHECK(patch->routed.row.sag_mm > answer.drawn.row.sag_mm - 1e-3);
    const Mend* const level = mend_of(answer, Mend::Kind::level);
    REQUIRE(level != nullptr);
    CHECK(level->routed.row.sag_mm > answer.routed.row.sag_mm);
    CHECK(level->routed.row.mass_kg < answer.routed.row.mass_kg);
}

TEST_CASE("where a skin is too thin for screws a batten is glued along the grain, never across",
          "[solver][surveyed][slow]") {
    Piece piece = uneven_top();
    piece.top.elastic.reset();
    piece.top.wood = "oak_white";
    piece.recesses.front().depth = 27;
    const SurveyAnswer answer = survey_and_check(piece, gouged(13), {.gauge_sd = 0.05}, quick());
    const Mend* const along = mend_of(answer, Mend::Kind::bar_along);
    REQUIRE(along != nullptr);
    REQUIRE(along->bar);
    CHECK(along->bar->screws.holes == Holes::bonded);
    CHECK(along->bar->wood == "oak_white");
    CHECK(along->bar->from.y == along->bar->to.y);
    CHECK(mend_of(answer, Mend::Kind::bar_across) == nullptr);
    REQUIRE(along->routed.result);
    CHECK(along->routed.row.sag_mm < answer.routed.row.sag_mm);
}

TEST_CASE("a screw that comes near the show face of a gouge is seen by the check as routed",
          "[solver][surveyed][slow]") {
    Piece piece = uneven_top();
    piece.stiffeners = {{.name = "iron",
                         .section = "angle 30x30x3",
                         .metal = "S235",
                         .wood = "",
                         .elastic = {},
                         .from = {300, 400},
                         .to = {1300, 400},
                         .screws = {.diameter = 4,
                                    .length = 15,
                                    .spacing = 0,
                                    .at = {50, 500, 950},
                                    .holes = Holes::slotted,
                                    .stiffness = {}}}};
    const auto left_over = [](const Result& result) {
        double least = 1e9;
        for (const CheckResult& check : result.checks)
            if (check.check == "points of the screws") least = std::min(least, check.capacity);
        return least;
    };
    UnevenSkinDrawn skin{.level = 18};
    skin.gouges = {{{800, 400}, 4, 80}};
    const Result drawn = check_piece(piece, quick()).result,
                 routed = check_piece(with_skin(piece, skin), quick()).result;
    // 18 of wood less 12 of thread are left as drawn, 2 over the gouge
    CHECK_THAT(left_over(drawn), WithinAbs(6, 1e-6));
    CHECK_THAT(left_over(routed), WithinAbs(2, 0.5));
}
