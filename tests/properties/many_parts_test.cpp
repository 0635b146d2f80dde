// SPDX-License-Identifier: MIT
// Many recesses and many corners: the same top drawn in more parts, and one piece many times side by side.
#include "tests/properties/pieces_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <string>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

constexpr double same = 1e-8; // of a number: the rounding of two solves

/// An L with a slanting side, on four pads, its sides drawn in so many parts.
Piece slanting_ell(int parts) {
    Piece piece = bare_top();
    const std::vector<Point> corners{{0, 0}, {1000, 60}, {1000, 300}, {520, 300}, {430, 600}, {0, 600}};
    PolygonShape outline;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Point a = corners[i], b = corners[(i + 1) % corners.size()];
        for (int k = 0; k < parts; ++k)
            outline.points.push_back({a.x + (b.x - a.x) * k / parts, a.y + (b.y - a.y) * k / parts});
    }
    piece.top.outline = outline;
    piece.recesses = {recess_of(RectangleShape{.box = {80, 400, 80, 250}}, 14)};
    for (const Point at : {Point{60, 60}, {920, 120}, {60, 540}, {380, 540}})
        piece.supports.push_back(pad_at(at, true));
    piece.loads = {patch_load(400, {480, 240}, 80, 60)};
    return piece;
}

/// So many spans of 320 mm side by side, each between lines that hold it fast, with ten pockets.
Piece spans_of_ten(int spans) {
    Piece piece = bare_top();
    constexpr double span = 320,
                     width = 180; // rims so wide that what is left out beside a wall does not know its end
    piece.top.length = spans * span;
    piece.top.width = width;
    piece.top.outline = RectangleShape{.box = {0, piece.top.length, 0, width}};
    for (int s = 0; s <= spans; ++s)
        piece.supports.push_back({.name = "wall " + std::to_string(s),
                                  .kind = BuiltIn{.from = {s * span, 0}, .to = {s * span, width}}});
    for (int s = 0; s < spans; ++s)
        for (int k = 0; k < 10; ++k) {
            const double x = s * span + 43 + 24.0 * k;
            piece.recesses.push_back(recess_of(RectangleShape{.box = {x, x + 18, 30, 150}}, 20));
            piece.recesses.back().name = "pocket " + std::to_string(piece.recesses.size());
        }
    piece.loads = {area_load(0.002)};
    return piece;
}

/// Both on cells of one size.
ModelOptions small_cells() {
    return {.shell = {.size = {.largest = 65, .at_walls = 40, .at_edges = 45, .growth = 1}, .order = 3},
            .threads = 1,
            .bonded = false};
}

} // namespace

TEST_CASE("an outline whose straight sides are drawn in many parts gives the same numbers", "[properties]") {
    const Answer one = answer_of(slanting_ell(1), 1), many = answer_of(slanting_ell(60), 1);
    REQUIRE(one.response.situations.size() == many.response.situations.size());
    for (std::size_t s = 0; s < one.response.situations.size(); ++s) {
        const SituationResponse &a = one.response.situations[s], &b = many.response.situations[s];
        CHECK_THAT(b.sag_mm, WithinRel(a.sag_mm, same));
        REQUIRE(a.dish_mm.has_value());
        CHECK_THAT(*b.dish_mm, WithinRel(*a.dish_mm, same));
        CHECK_THAT(b.tension_across->norm, WithinRel(a.tension_across->norm, same));
        REQUIRE(a.stress.survey.size() == b.stress.survey.size());
    }
    CHECK_THAT(many.frequency_Hz.front(), WithinRel(one.frequency_Hz.front(), same));
}

TEST_CASE("forty pockets in four spans that are held fast between them give what ten in one span do",
          "[properties][slow]") {
    const Answer one = answer_of(spans_of_ten(1), small_cells()),
                 four = answer_of(spans_of_ten(4), small_cells());
    for (std::size_t s = 0; s < one.response.situations.size(); ++s) {
        const SituationResponse &a = one.response.situations[s], &b = four.response.situations[s];
        CHECK(a.sag_mm > 0);
        CHECK_THAT(b.sag_mm, WithinRel(a.sag_mm, same));
        CHECK_THAT(*b.buckling_factor, WithinRel(*a.buckling_factor, same));
        // four times the wood: of a norm of that power the root of four
        CHECK_THAT(b.tension_across->norm,
                   WithinRel(a.tension_across->norm * std::pow(4, 1.0 / a.tension_across->exponent), same));
    }
}
