// SPDX-License-Identifier: MIT
// A strip with a free curvature and a bar under it. Side by side: free curvature x EI top / (EI top + EI bar). As one
// section: N and M of each part about one line must vanish together, as of two layers (Timoshenko 1925).
#include "solver/seasons/held_shape.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double L = 800, b = 30, h1 = 25, E1 = 700, h2 = 6, E2 = 205000;

/// Across the grain, stiff in shear as beam theory has it, on two knife edges.
Piece strip(Holes holes) {
    Piece piece;
    piece.top.length = L;
    piece.top.width = b;
    piece.top.thickness = h1;
    piece.top.grain_deg = 90;
    piece.top.outline = RectangleShape{{0, L, 0, b}, 0};
    piece.top.elastic = Elastic{E1, E1, 0, 1e6, 1e6, 1e6, {}};
    piece.self_weight = false;
    for (const double x : {0.0, L})
        piece.supports.push_back(
            {x == 0 ? "left" : "right",
             Bearer{.from = {x, 0}, .to = {x, b}, .width = 0, .hold_down = true, .stiffness = {}}});
    Screws screws{.diameter = 4, .length = 25, .spacing = 0, .at = {}, .holes = holes, .stiffness = 1e5};
    for (double s = 10; s < L; s += 20) screws.at.push_back(s);
    piece.stiffeners.push_back({.name = "flat",
                                .section = "flat 30x6",
                                .metal = "",
                                .wood = "",
                                .elastic = BarElastic{E2, 1e7, 0},
                                .from = {0, b / 2},
                                .to = {L, b / 2},
                                .screws = std::move(screws)});
    return piece;
}

HeldShape held(const Piece& piece, ZoneStrain strain) {
    const std::array<std::vector<ZoneStrain>, 1> one{std::vector<ZoneStrain>{strain}};
    return held_shapes(piece, {{.thickness = h1, .is_full = true}}, one, 1).front();
}

/// Curvature, crown +, of a top with the free strain glued to its bar.
double as_one_section(ZoneStrain strain) {
    const double EA1 = E1 * b * h1, EI1 = E1 * b * h1 * h1 * h1 / 12, EA2 = E2 * b * h2,
                 EI2 = E2 * b * h2 * h2 * h2 / 12,
                 z = -(h1 + h2) / 2; // of the bar, from the top's middle, up +
    // e + z k in each part: EA1 (e - mean) + EA2 (e + z k) = 0, EI1 (k - free) + EI2 k + z EA2 (e + z k) = 0
    const double a11 = EA1 + EA2, a12 = EA2 * z, a22 = EI1 + EI2 + EA2 * z * z;
    const double r1 = EA1 * strain.mean, r2 = EI1 * strain.difference / h1;
    return (a11 * r2 - a12 * r1) / (a11 * a22 - a12 * a12);
}

} // namespace

TEST_CASE("without a bar a strip on its supports bows as it does when it lies free", "[solver][published]") {
    Piece piece = strip(Holes::slotted);
    piece.stiffeners.clear();
    const ZoneStrain strain{0.002, 0.001};
    CHECK_THAT(held(piece, strain).shape.across.value, WithinRel(0.001 / h1 * L * L / 8, 1e-6));
}

TEST_CASE("a bar in slots leaves of a bow the share that the top has of both stiffnesses",
          "[solver][published]") {
    // bowed either way; slots let the wood slide by up to a screw's width
    const double EI1 = E1 * h1 * h1 * h1, EI2 = E2 * h2 * h2 * h2;
    const double crown = 0.001 / h1 * L * L / 8, share = EI1 / (EI1 + EI2);
    const HeldShape crowned = held(strip(Holes::slotted), {0, 0.001});
    CHECK_THAT(crowned.shape.across.value, WithinRel(crown * share, 0.01));
    CHECK(crowned.greatest_pull > 0);
    // hollow, the bar's ends hang on the outermost screws, which take nearly all of it and give: more is left
    const HeldShape hollow = held(strip(Holes::slotted), {0, -0.001});
    CHECK(hollow.shape.across.value < -crown * share);
    CHECK(hollow.shape.across.value > -crown * share * 1.05);
    CHECK(hollow.greatest_pull > 2 * crowned.greatest_pull);
    CHECK(std::min(hollow.pulled_at.x, L - hollow.pulled_at.x) < 15);
}

TEST_CASE("a bar in round holes bends a strip that dries as two layers glued to one another bend",
          "[solver][published]") {
    const ZoneStrain dry{-0.004, 0};
    const double k = as_one_section(dry);
    CHECK(k < 0); // the wood above is shortened: hollow
    const HeldShape round = held(strip(Holes::round), dry), bonded = held(strip(Holes::bonded), dry);
    CHECK_THAT(bonded.shape.across.value, WithinRel(k * L * L / 8, 0.01));
    CHECK_THAT(round.shape.across.value, WithinRel(k * L * L / 8, 0.03)); // screws every 20 mm give a little
    CHECK(round.greatest_shear > 0);
    // in slots the same drying bends nothing: it slides
    CHECK_THAT(held(strip(Holes::slotted), dry).shape.across.value,
               WithinAbs(0, 0.01 * std::abs(k) * L * L / 8));
}

TEST_CASE("slots that are shorter than the wood's way bend the strip as round holes would",
          "[solver][property]") {
    const double free_way = 4; // a slot of three screws' width lets a screw of 4 mm go 4 mm each way
    const double just = 2 * free_way / L;
    const double within = held(strip(Holes::slotted), {-0.9 * just, 0}).shape.across.value,
                 beyond = held(strip(Holes::slotted), {-2 * just, 0}).shape.across.value;
    CHECK_THAT(within, WithinAbs(0, 0.01));
    CHECK(beyond < -0.5);
}

TEST_CASE("under its weight alone a top at rest is as it was, and no screw is pulled by the season",
          "[solver]") {
    Piece piece = strip(Holes::slotted);
    const HeldShape still = held(piece, {0, 0});
    CHECK_THAT(still.shape.out_of_flat, WithinAbs(0, 1e-12));
    CHECK_THAT(still.greatest_pull, WithinAbs(0, 1e-9));
    CHECK(still.lets_go.empty());
}
