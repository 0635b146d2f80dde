// SPDX-License-Identifier: MIT
#include "solver/seasons/zone_fields.hpp"

#include "solver/seasons/season_tension.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Piece hollowed() {
    Piece piece;
    piece.top.length = 1200;
    piece.top.width = 700;
    piece.top.thickness = 42;
    piece.top.wood = "cherry_black";
    piece.top.outline = RectangleShape{{0, 1200, 0, 700}, 0};
    piece.recesses.push_back(
        {.name = "well", .shape = RectangleShape{{120, 1080, 110, 590}, 0}, .depth = 24, .lands = {}});
    return piece;
}

MoistureProfile parabola(double thickness, double middle, double rise) {
    MoistureProfile p = even_profile(thickness, 0);
    double depth = 0;
    for (std::size_t i = 0; i < p.width.size(); ++i) { // means of the cells, exactly
        const double a = 2 * depth / thickness - 1, b = 2 * (depth + p.width[i]) / thickness - 1;
        p.percent[i] = middle + rise * (b * b * b - a * a * a) / (3 * (b - a));
        depth += p.width[i];
    }
    return p;
}

/// From an even start to those profiles in one step.
HeldState strained(const ZoneFields& fields, double start, const std::vector<MoistureProfile>& profiles,
                   double movement, double give = 0) {
    HeldState state = unstressed(fields, start);
    follow(state, fields, profiles, movement, give);
    return state;
}

} // namespace

TEST_CASE("a top whose zones all want the same stays flat and unstrained", "[solver][property]") {
    const ZoneFields fields = zone_fields(hollowed(), 1);
    REQUIRE(fields.zones.size() == 2);
    CHECK(fields.zones[0].thickness == 42);
    CHECK(fields.zones[1].thickness == 18);
    const std::array<ZoneStrain, 2> even{ZoneStrain{0.01, 0}, ZoneStrain{0.01, 0}};
    const Cup shape = shape_of(fields, even);
    CHECK_THAT(shape.across.value, WithinAbs(0, 1e-6)); // against 7 mm of width
    CHECK_THAT(shape.out_of_flat, WithinAbs(0, 1e-6));
    const TensionOfDay tension =
        tension_of(fields, strained(fields, 12, {even_profile(42, 8), even_profile(18, 8)}, 0.0025), 1);
    // held fast it would be E x 0.01, some 8 MPa
    CHECK_THAT(tension.greatest, WithinAbs(0, 8e-6));
}

TEST_CASE("a solid top takes the straight part of its moisture as a curvature, difference over thickness",
          "[solver][published]") {
    Piece piece = hollowed();
    piece.recesses.clear();
    const ZoneFields fields = zone_fields(piece, 1);
    REQUIRE(fields.zones.size() == 1);
    const std::array<ZoneStrain, 1> bent{ZoneStrain{0.004, 0.002}};
    const Cup shape = shape_of(fields, bent);
    CHECK_THAT(shape.across.value, WithinRel(0.002 * 700 * 700 / (8 * 42.0), 1e-5));
    CHECK_THAT(shape.along.value, WithinAbs(0, 1e-5)); // across alone, and free to
}

TEST_CASE("a skin that wants to shrink in a rim that does not is pulled, and bows the top",
          "[solver][property]") {
    const ZoneFields fields = zone_fields(hollowed(), 1);
    const TensionOfDay tension =
        tension_of(fields, strained(fields, 9, {even_profile(42, 9), even_profile(18, 8)}, 0.00248), 1);
    CHECK(tension.greatest > 0.3);
    CHECK(tension.greatest < 0.00248 * fields.Q_across); // never more than held fast
    const std::array<ZoneStrain, 2> shrunk{ZoneStrain{}, ZoneStrain{-0.00248, 0}};
    // the skin lies above the rim's middle: shortened there, the top goes hollow
    const Cup shape = shape_of(fields, shrunk);
    CHECK(shape.across.value < -0.1);
    const std::array<ZoneStrain, 2> twice{ZoneStrain{}, ZoneStrain{-0.00496, 0}};
    CHECK_THAT(shape_of(fields, twice).across.value, WithinRel(2 * shape.across.value, 1e-9));
}

TEST_CASE("a moisture that is wetter in the middle than at both faces leaves the stress of a free plate",
          "[solver][published]") {
    // u = 9 - 3 z^2, z from -1 to 1: mean 8, so the stress is Q C (3 z^2 - 1), 2 at the faces and -1 in the middle
    ZoneFields fields;
    fields.zones = {{.thickness = 42, .is_full = true}};
    fields.Q_across = 700;
    const double Q = 700, C = 0.0025;
    const MoistureProfile profile = parabola(42, 9, -3);
    const std::vector<double> stress = strained(fields, 12, {profile}, C).own.front();
    double force = 0, moment = 0, depth = 0;
    for (std::size_t i = 0; i < stress.size(); ++i) {
        const double a = 2 * depth / 42 - 1, b = 2 * (depth + profile.width[i]) / 42 - 1;
        CHECK_THAT(stress[i], WithinAbs(Q * C * ((b * b * b - a * a * a) / (b - a) - 1), 1e-9));
        force += stress[i] * profile.width[i];
        moment += stress[i] * profile.width[i] * (depth + profile.width[i] / 2 - 21);
        depth += profile.width[i];
    }
    CHECK_THAT(force, WithinAbs(0, 1e-9));
    CHECK_THAT(moment, WithinAbs(0, 1e-9));
    CHECK_THAT(stress.front(), WithinRel(2 * Q * C, 0.03)); // the outermost cell's mean
}

TEST_CASE("a solid top that lies free is pulled by its own balanced stress alone, most at its faces",
          "[solver][published]") {
    Piece piece = hollowed();
    piece.recesses.clear();
    const ZoneFields fields = zone_fields(piece, 1);
    const double C = 0.00248;
    const TensionOfDay day = tension_of(fields, strained(fields, 9, {parabola(42, 9, -3)}, C), 1.5);
    CHECK_THAT(day.greatest, WithinRel(2 * fields.Q_across * C / 1.5, 0.03)); // the outermost cell's mean
}

TEST_CASE("stress of wood that gives with its moisture grows towards movement over give, whatever the steps",
          "[solver][published]") {
    // held while its moisture falls by u: d stress = Q C du - give stress du, so Q C (1 - exp(-give u)) / give
    ZoneFields fields;
    fields.zones = {{.thickness = 42, .is_full = true}, {.thickness = 18, .is_full = false}};
    fields.Q_across = 700;
    constexpr double C = 0.0025, give = 0.8, u = 3;
    HeldState state = unstressed(fields, 12);
    constexpr int steps = 3000;
    for (int i = 1; i <= steps; ++i)
        follow(state, fields, {even_profile(42, 12 - u * i / steps), even_profile(18, 12 - u * i / steps)}, C,
               give);
    CHECK_THAT(state.strains[0][0], WithinRel(-C * (1 - std::exp(-give * u)) / give, 0.001));
    for (const double stress : state.own[1]) CHECK_THAT(stress, WithinAbs(0, 1e-9)); // even in itself
}

TEST_CASE("wood that dried too fast and is even again stays pressed at its faces and pulled in its middle",
          "[solver][property]") {
    ZoneFields fields;
    fields.zones = {{.thickness = 42, .is_full = true}};
    fields.Q_across = 700;
    const auto through_a_winter = [&](double give) {
        HeldState state = unstressed(fields, 12);
        for (int i = 1; i <= 60; ++i) follow(state, fields, {parabola(42, 12, -i / 20.0)}, 0.0025, give);
        const double pulled = state.own[0].front();
        for (int i = 1; i <= 60; ++i)
            follow(state, fields, {parabola(42, 12 - i / 20.0, -3 + i / 20.0)}, 0.0025, give);
        return std::array{pulled, state.own[0].front(), state.own[0][32]};
    };
    const auto elastic = through_a_winter(0), giving = through_a_winter(0.8);
    CHECK_THAT(elastic[1], WithinAbs(0, 1e-9)); // comes back as it was
    CHECK(giving[0] > 0);
    CHECK(giving[0] < 0.6 * elastic[0]);
    CHECK(giving[1] < -0.1);
    CHECK(giving[2] > 0.05);
}

TEST_CASE(
    "a skin that shrinks between two bars that do not takes the stress and the bow of one composed section",
    "[solver][published]") {
    // a narrow strip across the grain, its skin between two bars of full thickness that run along with it: as layers
    // side by side, N and M of the whole about one line must vanish (Timoshenko 1925, for layers one upon the other)
    constexpr double W = 1600, t = 42, skin = 18, bar = 20, middle = 40, E = 700, e = -0.003;
    Piece piece;
    piece.top.length = middle + 2 * bar;
    piece.top.width = W;
    piece.top.thickness = t;
    piece.top.outline = RectangleShape{{0, middle + 2 * bar, 0, W}, 0};
    piece.top.elastic = Elastic{E, E, 0, 1e6, 1e6, 1e6, {}};
    piece.recesses.push_back({.name = "channel",
                              .shape = RectangleShape{{bar, bar + middle, 0, W}, 0},
                              .depth = t - skin,
                              .lands = {}});
    const ZoneFields fields = zone_fields(piece, 1);
    const std::array<ZoneStrain, 2> shrunk{ZoneStrain{}, ZoneStrain{e, 0}};
    // from the top face down: area, its middle, its own second moment
    const double A1 = 2 * bar * t, z1 = t / 2, A2 = middle * skin, z2 = skin / 2;
    const double z = (A1 * z1 + A2 * z2) / (A1 + A2);
    const double I =
        A1 * t * t / 12 + A1 * (z1 - z) * (z1 - z) + A2 * skin * skin / 12 + A2 * (z2 - z) * (z2 - z);
    const double stretch = A2 * e / (A1 + A2),
                 curvature = A2 * e * (z2 - z) / I; // strain at z' = stretch + curvature (z' - z)
    CHECK_THAT(shape_of(fields, shrunk).across.value, WithinRel(-curvature * W * W / 8, 0.01));
    const HeldState state =
        strained(fields, 9, {even_profile(t, 9), even_profile(skin, 9 + e / 0.001)}, 0.001);
    double at_top = 0;
    int places = 0;
    for (std::size_t i = 0; i < fields.places.size(); ++i) {
        if (fields.places[i].zone != 1 || std::abs(fields.places[i].at.y - W / 2) > W / 4) continue;
        double stress = 0;
        for (std::size_t unit = 0; unit < fields.tension.size(); ++unit)
            stress += state.strains[1][unit] * fields.tension[unit][i][0];
        at_top += stress;
        ++places;
    }
    REQUIRE(places > 10);
    CHECK_THAT(at_top / places, WithinRel(E * (stretch - curvature * z - e), 0.01));
}
