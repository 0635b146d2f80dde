// SPDX-License-Identifier: MIT
#include "solver/seasons/cupping.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Piece sheet(double length, double width, double thickness) {
    Piece piece;
    piece.top.length = length;
    piece.top.width = width;
    piece.top.thickness = thickness;
    piece.top.outline = RectangleShape{{0, length, 0, width}, 0};
    // nu 0: the strip of the closed form
    piece.top.elastic =
        Elastic{.E1 = 700, .E2 = 700, .nu12 = 0, .G12 = 350, .G13 = 350, .G23 = 350, .density_kg_m3 = 600};
    return piece;
}

Piece hollowed(double corner_radius, double grain_deg) {
    Piece piece;
    piece.top.length = 1200;
    piece.top.width = 700;
    piece.top.thickness = 36;
    piece.top.wood = "cherry_black";
    piece.top.grain_deg = grain_deg;
    piece.top.outline = RectangleShape{{0, 1200, 0, 700}, corner_radius};
    piece.recesses.push_back(
        {.name = "well", .shape = RectangleShape{{120, 1080, 110, 590}, 12}, .depth = 20, .lands = {}});
    return piece;
}

SwellingOf step(double difference) { // the upper half swells, the lower does not
    return [=](int, double t) {
        return std::vector<FreeLayer>{
            {.thickness = t / 2, .modulus = 1, .strain_above = difference, .strain_below = difference},
            {.thickness = t / 2, .modulus = 1, .strain_above = 0, .strain_below = 0}};
    };
}

} // namespace

TEST_CASE("a panel of two equal halves cups as the bimetal strip does", "[solver][published]") {
    // Timoshenko 1925: curvature 1.5 d / h; over 800 mm a cup of 24 mm, the lower half wetter: hollow seen
    // from above
    const std::array<SwellingOf, 2> both{step(0.004), step(-0.004)};
    const std::vector<Cup> cups = cups_of(sheet(800, 800, 20), both, 1);
    CHECK_THAT(cups[0].across.value, WithinRel(24.0, 1e-6)); // a quadratic: the shell holds it exactly
    CHECK_THAT(cups[1].across.value, WithinRel(-24.0, 1e-6));
    CHECK_THAT(cups[0].along.value, WithinAbs(0, 1e-6));
}

TEST_CASE(
    "a straight moisture profile cups a panel by the strain times the square of its width over 8 thicknesses",
    "[solver][published]") {
    const std::array<SwellingOf, 1> one{face_to_face_swelling(0.003, 0)};
    const Cup cup = cups_of(sheet(700, 700, 20), one, 1).front();
    CHECK_THAT(cup.across.value, WithinRel(9.1875, 1e-6));
    CHECK(cup.residual < 1e-6);
    // the plane that fits best stands level: from the edges to the middle it is the same height
    CHECK_THAT(cup.out_of_flat, WithinRel(9.1875, 1e-6));
}

TEST_CASE("an even change of moisture leaves a hollowed top flat", "[solver][property]") {
    const auto [radius, grain] = GENERATE(table<double, double>({{0, 0}, {40, 0}, {0, 30}}));
    CAPTURE(radius, grain);
    const std::array<SwellingOf, 1> one{even_swelling(0.01)};
    const Cup cup = cups_of(hollowed(radius, grain), one, 1).front();
    // against a width that changes by 7 mm
    CHECK_THAT(cup.across.value, WithinAbs(0, 1e-6));
    CHECK_THAT(cup.along.value, WithinAbs(0, 1e-6));
    CHECK_THAT(cup.out_of_flat, WithinAbs(0, 1e-6));
}

TEST_CASE("a wetter top face crowns, twice the difference crowns twice, and hollowing makes it cup more",
          "[solver][property]") {
    const std::array<SwellingOf, 3> three{face_to_face_swelling(0.002, 0), face_to_face_swelling(0.004, 0),
                                          face_to_face_swelling(0, 0.002)};
    Piece solid = hollowed(0, 0);
    solid.recesses.clear();
    const std::vector<Cup> cups = cups_of(hollowed(0, 0), three, 1), of_solid = cups_of(solid, three, 1);
    CHECK(cups[0].across.value > 0);
    CHECK_THAT(cups[1].across.value, WithinRel(2 * cups[0].across.value, 1e-6));
    CHECK_THAT(cups[2].across.value, WithinRel(-cups[0].across.value, 1e-6));
    CHECK(cups[0].across.value > of_solid[0].across.value);
    CHECK(cups[0].error_percent < 1);
    // the skin alone, free, would cup by strain x width^2 / (8 skin)
    CHECK(cups[0].across.value < 0.002 * 700 * 700 / (8 * 16.0));
    CHECK_THAT(of_solid[0].across.value, WithinRel(0.002 * 700 * 700 / (8 * 36.0), 1e-6));
}
