// SPDX-License-Identifier: MIT
#include "materials/error.hpp"
#include "solver/check/check_piece.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double L = 1200, b1 = 200, h1 = 25, E1 = 12000, b2 = 30, h2 = 6, E2 = 205000, q = 0.5;

/// A strip of wood, stiff in shear as beam theory has it, on two knife edges, a steel flat laid under it.
Piece strip() {
    Piece piece;
    piece.top.length = L;
    piece.top.width = b1;
    piece.top.thickness = h1;
    piece.top.outline = RectangleShape{{0, L, 0, b1}, 0};
    piece.top.elastic = Elastic{E1, E1, 0, 1e6, 1e6, 1e6, {}};
    piece.self_weight = false;
    for (const double x : {0.0, L})
        piece.supports.push_back(
            {"knife edge",
             Bearer{.from = {x, 0}, .to = {x, b1}, .width = 0, .hold_down = true, .stiffness = {}}});
    piece.loads.push_back({"load", Duration::short_term, AreaLoad{q / b1, {}}});
    return piece;
}

Stiffener flat(Screws screws) {
    return {.name = "flat",
            .section = "flat 30x6",
            .metal = "",
            .wood = "",
            .elastic = BarElastic{E2, 1e7, 0},
            .from = {0, b1 / 2},
            .to = {L, b1 / 2},
            .screws = std::move(screws)};
}

Screws close_screws(double spacing, double stiffness, Holes holes = Holes::round) {
    Screws screws{
        .diameter = 4, .length = 25, .spacing = 0, .at = {}, .holes = holes, .stiffness = stiffness};
    for (double s = spacing / 2; s < L; s += spacing) screws.at.push_back(s);
    return screws;
}

Result checked(const Piece& piece) {
    return check_piece(piece, {.mesh = CheckOptions::Mesh::normal,
                               .mesh_size = {},
                               .threads = 1,
                               .want_fields = false,
                               .progress = {}})
        .result;
}

double sag_of(const Stiffener& stiffener) {
    Piece piece = strip();
    piece.stiffeners = {stiffener};
    return checked(piece).situations.at(0).sag_mm;
}

/// Newmark, Siess and Viest, Proc. SESA 9(1), 1951: sag under an even load, K in N/mm per mm.
struct Newmark {
    double with_slip, full, none;
};
Newmark newmark(double K) {
    const double A1 = b1 * h1, A2 = b2 * h2, r = (h1 + h2) / 2;
    const double EI0 = E1 * b1 * h1 * h1 * h1 / 12 + E2 * b2 * h2 * h2 * h2 / 12;
    const double EA = 1 / (1 / (E1 * A1) + 1 / (E2 * A2)), EI = EI0 + EA * r * r;
    const double a = std::sqrt(K * (1 / EA + r * r / EI0)), full = 5 * q * L * L * L * L / (384 * EI);
    return {full + q / (a * a * a * a * EI0) * (1 - EI0 / EI) *
                       (1 / std::cosh(a * L / 2) + a * a * L * L / 8 - 1),
            full, 5 * q * L * L * L * L / (384 * EI0)};
}

} // namespace

TEST_CASE("screws that slip stiffen a top as Newmark says over six decades", "[solver][published][slow]") {
    for (const double K : {0.1, 3.0, 30.0, 300.0, 1e5}) {
        CAPTURE(K);
        CHECK_THAT(sag_of(flat(close_screws(25, 25 * K))),
                   WithinRel(newmark(K).with_slip, 0.01)); // parts pulled apart a little between screws
    }
}

TEST_CASE("screws that give at once leave top and stiffener side by side", "[solver][published]") {
    CHECK_THAT(sag_of(flat(close_screws(100, 1e-3))), WithinRel(newmark(1).none, 1e-3));
}

TEST_CASE("a glued stiffener makes one section with the top", "[solver][published]") {
    CHECK_THAT(sag_of(flat({.at = {}, .holes = Holes::bonded, .stiffness = {}})),
               WithinRel(newmark(1).full, 4e-3)); // shear lag towards the strip's edges
}

TEST_CASE("a strip as wide as its stiffener comes from side by side to one section as its screws stiffen",
          "[solver][published][long]") {
    // no wood beside the stiffener, so no shear lag: both limits are those of beam theory
    constexpr double width = b2;
    Piece narrow = strip();
    narrow.top.width = width;
    narrow.top.outline = RectangleShape{{0, L, 0, width}, 0};
    for (Support& support : narrow.supports) std::get<Bearer>(support.kind).to.y = width;
    narrow.loads[0].kind = AreaLoad{q / width, {}};
    const auto sag_with = [&](Screws screws) {
        Piece piece = narrow;
        piece.stiffeners = {flat(std::move(screws))};
        piece.stiffeners[0].from.y = piece.stiffeners[0].to.y = width / 2;
        return checked(piece).situations.at(0).sag_mm;
    };
    const double EI0 = E1 * width * h1 * h1 * h1 / 12 + E2 * b2 * h2 * h2 * h2 / 12,
                 EA = 1 / (1 / (E1 * width * h1) + 1 / (E2 * b2 * h2)), r = (h1 + h2) / 2;
    const double none = 5 * q * L * L * L * L / (384 * EI0),
                 full = 5 * q * L * L * L * L / (384 * (EI0 + EA * r * r));
    CHECK_THAT(sag_with(close_screws(100, 1e-3)), WithinRel(none, 1e-3));
    CHECK_THAT(sag_with(close_screws(12, 1e7)),
               WithinRel(full, 1e-3)); // at 25 mm 0.16 %: between screws the parts still slip
    CHECK_THAT(sag_with({.at = {}, .holes = Holes::bonded, .stiffness = {}}), WithinRel(full, 1e-3));
}

TEST_CASE("more screws never let a top sag more", "[solver][property][long]") {
    double before = 1e9;
    for (const double spacing : {600.0, 300.0, 150.0, 75.0}) {
        const double sag = sag_of(flat(close_screws(spacing, 2500)));
        CHECK(sag < before);
        before = sag;
    }
}

TEST_CASE("a tighter hole never lets a top sag more", "[solver][property]") {
    const double round = sag_of(flat(close_screws(100, 2500))),
                 oversize = sag_of(flat(close_screws(100, 2500, Holes::oversize)));
    CHECK(round < oversize);
    CHECK_THAT(oversize, WithinRel(newmark(1).none, 3e-3)); // 1 mm of clearance is not used: side by side
}

TEST_CASE("slots across the grain carry along it and let the wood move across", "[solver][property]") {
    Piece along = strip(); // the grain runs along the stiffener: the slots are tight that way
    along.stiffeners = {flat(close_screws(100, 2500, Holes::slotted))};
    CHECK_THAT(checked(along).situations.at(0).sag_mm,
               WithinRel(sag_of(flat(close_screws(100, 2500))), 1e-6));
    Piece across = strip();
    across.top.grain_deg = 90; // the constants are alike both ways; only the slots turn
    across.stiffeners = along.stiffeners;
    const Result result = checked(across);
    CHECK_THAT(result.situations.at(0).sag_mm, WithinRel(newmark(1).none, 3e-3));
    CHECK(result.stiffeners.at(0).composite_action < 0.02);
}

TEST_CASE("a larger section never lets a top sag more and a glued batten is as good as thicker wood",
          "[solver][property][slow]") {
    Piece piece = strip();
    piece.top.elastic->G12 = piece.top.elastic->G13 = piece.top.elastic->G23 = 750;
    const auto with_batten = [&](const char* section) {
        Piece one = piece;
        one.stiffeners = {{.name = "batten",
                           .section = section,
                           .metal = "",
                           .wood = "",
                           .elastic = BarElastic{E1, 750, 0},
                           .from = {0, b1 / 2},
                           .to = {L, b1 / 2},
                           .screws = {.at = {}, .holes = Holes::bonded, .stiffness = {}}}};
        return checked(one).situations.at(0).sag_mm;
    };
    const double thin = with_batten("bar 200x10"), thick = with_batten("bar 200x20");
    CHECK(thick < thin);
    piece.top.thickness = h1 + 20;
    CHECK_THAT(thick, WithinRel(checked(piece).situations.at(0).sag_mm,
                                0.02)); // the wood's shear runs through both in one, in each alone here
}

TEST_CASE("stiffeners weigh on the supports and the forces balance", "[solver][property][long]") {
    Piece piece = strip();
    piece.self_weight = true;
    piece.top.elastic->density_kg_m3 = 600;
    Stiffener angle{
        .name = "angle",
        .section = "angle 30x30x3",
        .metal = "S235",
        .wood = "",
        .elastic = {},
        .from = {100, 60},
        .to = {1100, 140},
        .screws = {
            .diameter = 4, .length = 18, .spacing = 150, .at = {}, .holes = Holes::slotted, .stiffness = {}}};
    piece.stiffeners = {angle};
    const Result result = checked(piece);
    CHECK_THAT(result.mass.stiffeners_kg,
               WithinRel(1.36 * std::hypot(1.0, 0.08), 0.01)); // EN 10056-1: 1.36 kg/m
    for (const SituationResult& s : result.situations) {
        CHECK(s.equilibrium_error < 1e-6);
        double sum = 0;
        for (const Reaction& r : s.reactions) sum += r.force_N;
        CHECK_THAT(sum, WithinRel(s.applied_N, 1e-6));
    }
    CHECK(result.screws.size() == 7);
}

TEST_CASE("a rail bends under the top and a stiff one is a bearer", "[solver][property]") {
    Piece piece = strip();
    piece.supports.clear();
    for (const double x : {0.0, L})
        piece.supports.push_back({"rail", Rail{.from = {x == 0 ? 20 : L - 20, 0},
                                               .to = {x == 0 ? 20 : L - 20, b1},
                                               .section = "bar 20x60",
                                               .metal = "",
                                               .wood = "",
                                               .elastic = BarElastic{1e7, 1e6, 0},
                                               .hold_down = false}});
    const Result stiff = checked(piece);
    CHECK_THAT(stiff.situations.at(0).reactions.at(0).force_N, WithinRel(q * L / 2, 1e-6));
    for (Support& s : piece.supports) std::get<Rail>(s.kind).elastic = BarElastic{100, 50, 0};
    const Result soft = checked(piece);
    CHECK(soft.situations.at(0).sag_mm > stiff.situations.at(0).sag_mm);
    CHECK(soft.situations.at(0).equilibrium_error < 1e-6);
}

namespace {

/// A wide board on two rails across it, 300 mm in from its ends.
Piece on_rails(bool hold_down, double E = 12000) {
    Piece piece = strip();
    piece.supports.clear();
    piece.top.width = 600;
    piece.top.outline = RectangleShape{{0, L, 0, 600}, 0};
    for (const double x : {300.0, L - 300})
        piece.supports.push_back(
            {x < 600 ? "left rail" : "right rail", Rail{.from = {x, 50},
                                                        .to = {x, 550},
                                                        .section = "bar 25x50",
                                                        .metal = "",
                                                        .wood = "",
                                                        .elastic = BarElastic{E, E / 16, 0},
                                                        .hold_down = hold_down}});
    piece.loads = {{"load", Duration::short_term, AreaLoad{1e-3, {}}}};
    return piece;
}

double reaction_of(const SituationResult& s, const std::string& support) {
    for (const Reaction& r : s.reactions)
        if (r.support == support) return r.force_N;
    FAIL("no support called " << support);
    return 0;
}

} // namespace

TEST_CASE("a pad under a rail carries the rail and takes its share off the legs",
          "[solver][property][long]") {
    const Piece bare = on_rails(false);
    Piece propped = bare;
    for (const double x : {300.0, L - 300})
        propped.supports.push_back(
            {x < 600 ? "left foot" : "right foot",
             Pad{.at = {x, 300}, .size_x = 25, .size_y = 40, .hold_down = false, .stiffness = {}}});
    const SituationResult alone = checked(bare).situations.at(0),
                          with_feet = checked(propped).situations.at(0);
    CHECK(with_feet.sag_mm < alone.sag_mm);
    const double load = 1e-3 * L * 600;
    CHECK_THAT(reaction_of(alone, "left rail"), WithinRel(load / 2, 1e-6)); // symmetry
    const double rail = reaction_of(with_feet, "left rail"), foot = reaction_of(with_feet, "left foot");
    CHECK_THAT(rail + foot, WithinRel(load / 2, 1e-6));
    CHECK(
        foot >
        0.3 * load /
            2); // a beam on three supports gives its middle five eighths of an even load; the board is stiffer than that
    CHECK(rail > 0);
    CHECK(with_feet.equilibrium_error < 1e-6);
}

TEST_CASE("a rail that is screwed on pulls where one that only bears lets go", "[solver][property]") {
    // all load beyond the left rail: the lever wants to lift the board off the right one
    const double over =
        2e-3 * 200 * 600; // N, its middle 200 mm left of the left rail, 800 mm from the right one
    const auto at_the_end = [&](Piece piece) {
        piece.loads[0].kind = AreaLoad{2e-3, Rectangle{0, 200, 0, 600}};
        return piece;
    };
    const SituationResult held = checked(at_the_end(on_rails(true))).situations.at(0);
    const double left = reaction_of(held, "left rail"), right = reaction_of(held, "right rail");
    CHECK_THAT(left + right, WithinRel(over, 1e-6));
    // statics about the rails' middle lines, less what their legs hold against rolling: 25 mm of width
    // against 200 mm of lever
    CHECK(right < -0.85 * over * 200 / 600);
    CHECK(right > -over * 200 / 600);
    CHECK(held.equilibrium_error < 1e-6);
    CHECK_THROWS_AS(checked(at_the_end(on_rails(false))), Error); // it tips
}

namespace {

/// A softwood panel 800 x 300 x 20 on its two short edges under 1000 N spread evenly, a batten 40 x 50 glued
/// under it from end to end.
Result glued_batten(bool along, double grain) {
    Piece piece;
    piece.top.length = 800;
    piece.top.width = 300;
    piece.top.thickness = 20;
    piece.top.outline = RectangleShape{{0, 800, 0, 300}, 0};
    piece.top.elastic = Elastic{11000, 450, 0.45, 700, 650, 50, {}, 800};
    piece.top.grain_deg = grain;
    piece.self_weight = false;
    for (const double x : {0.0, 800.0})
        piece.supports.push_back({"edge", Held{.from = {x, 0}, .to = {x, 300}, .down = true}});
    piece.loads.push_back({"load", Duration::short_term, AreaLoad{1000.0 / (800 * 300), {}}});
    piece.stiffeners = {{.name = "batten",
                         .section = "bar 40x50",
                         .metal = "",
                         .wood = "",
                         .elastic = BarElastic{11000, 650, 0},
                         .from = along ? Point{0, 150} : Point{400, 0},
                         .to = along ? Point{800, 150} : Point{400, 300},
                         .screws = {.at = {}, .holes = Holes::bonded, .stiffness = {}}}};
    piece.probes = {{400, 150}, {400, 0.5}};
    return check_piece(piece, {.mesh = CheckOptions::Mesh::fine,
                               .mesh_size = {},
                               .threads = 1,
                               .want_fields = false,
                               .progress = {}})
        .result;
}

} // namespace

TEST_CASE("a batten that is glued on moves as the solid does whose width it grips",
          "[solver][published][long]") {
    // Three-dimensional elasticity, 27-node hexahedra on three meshes (along the batten two, and the trend of
    // a third with other supports), extrapolated: batten E 11000 along, 450 across, G 650; panel as above
    // with
    // E_3 800. The solid's own error is about 0.3 % across (0.5 % at the batten's line in the second). Middle
    // of the panel, and its edge at midspan.
    const auto moves = [](const Result& result, int probe) {
        return result.situations.at(0).probes.at(static_cast<size_t>(probe)).w_mm;
    };
    const Result across = glued_batten(false, 0);
    CHECK_THAT(moves(across, 0), WithinRel(3.028, 5e-3));
    CHECK_THAT(moves(across, 1), WithinRel(3.034, 5e-3));
    const Result along = glued_batten(true, 0);
    CHECK_THAT(moves(along, 1),
               WithinRel(0.824, 1e-2)); // 5 % too much where the wood may bend across the batten's width
    CHECK_THAT(
        moves(along, 0),
        WithinRel(
            0.346,
            4.5e-2)); // at its ends the solid batten gives way to the panel's shear and pull: a line of it does not
    const Result crossed = glued_batten(true, 90);
    CHECK_THAT(moves(crossed, 0), WithinRel(1.014, 1.5e-2));
    CHECK_THAT(moves(crossed, 1), WithinRel(1.052, 1.2e-2));
}
