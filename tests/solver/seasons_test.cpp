// SPDX-License-Identifier: MIT
#include "solver/seasons/seasons.hpp"

#include "materials/error.hpp"
#include "materials/moisture.hpp"
#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"
#include "solver/checks/checks.hpp"
#include "solver/interface/screw_places.hpp"
#include "solver/seasons/season_ground.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// Air that wood comes to that moisture in, at 20 C.
Air air_for(double moisture_percent) {
    double low = 1, high = 99;
    while (high - low > 1e-10) {
        const double middle = (low + high) / 2;
        (materials::equilibrium_moisture_percent(20, middle) < moisture_percent ? low : high) = middle;
    }
    return {.temperature_C = 20, .humidity_percent = (low + high) / 2};
}

Piece top_of(const std::string& wood, double width, double ring_angle_deg, double from, double to) {
    Piece piece;
    piece.top.length = 1000;
    piece.top.width = width;
    piece.top.thickness = 30;
    piece.top.wood = wood;
    piece.top.ring_angle_deg = ring_angle_deg;
    piece.top.outline = RectangleShape{{0, 1000, 0, width}, 0};
    piece.top.moisture_percent = from;
    piece.climate = Climate{.low = air_for(std::min(from, to)), .high = air_for(std::max(from, to))};
    return piece;
}

Seasons seasons_of(const Piece& piece) { return hollowtop::seasons_of(piece, {}); }

Stiffener batten(Point from, Point to, Holes holes) {
    return {.name = "batten",
            .section = "flat 40x5",
            .metal = "S235",
            .wood = {},
            .elastic = {},
            .from = from,
            .to = to,
            .screws = {.diameter = 5,
                       .length = 20,
                       .spacing = 0,
                       .at = {50, 200, 350, 500, 650},
                       .holes = holes,
                       .stiffness = {}}};
}

} // namespace

TEST_CASE("a board's width changes by width, coefficient and moisture", "[solver][published]") {
    // Wood Handbook Eq. 13-2 with Table 13-5: beech C_T 0.00431 over 900 mm from 12 to 7 %; walnut C_R
    // 0.00190 over 850 mm from 6 to 12 %
    const Seasons beech = seasons_of(top_of("beech_american", 900, 0, 12, 7));
    CHECK_THAT(beech.width.swing.shrinks, WithinRel(19.395, 1e-6));
    CHECK_THAT(beech.width.swing.grows, WithinAbs(0, 1e-6));
    const Seasons walnut = seasons_of(top_of("walnut_black", 850, 90, 6, 12));
    CHECK_THAT(walnut.width.swing.grows, WithinRel(9.69, 1e-6));
    // and through the thickness the other coefficient, 0.00274
    CHECK_THAT(walnut.thickness.swing.grows, WithinRel(30 * 0.00274 * 6, 1e-6));
}

TEST_CASE("rift-sawn boards move by the mean of both coefficients", "[solver]") {
    const double flat = seasons_of(top_of("beech_american", 900, 0, 12, 7)).width.swing.shrinks;
    const double quarter = seasons_of(top_of("beech_american", 900, 90, 12, 7)).width.swing.shrinks;
    CHECK_THAT(seasons_of(top_of("beech_american", 900, 45, 12, 7)).width.swing.shrinks,
               WithinRel((flat + quarter) / 2, 1e-9));
}

TEST_CASE("where no climate is given the usual one is taken and named", "[solver]") {
    Piece piece = top_of("cherry_black", 800, 0, 8, 8);
    piece.climate.reset();
    const Seasons seasons = seasons_of(piece);
    CHECK(seasons.moisture.dry_is_usual);
    CHECK_THAT(seasons.moisture.dry_percent,
               WithinRel(materials::equilibrium_moisture_percent(20, 30), 1e-12));
    CHECK_THAT(seasons.moisture.wet_percent,
               WithinRel(materials::equilibrium_moisture_percent(20, 60), 1e-12));
    CHECK(std::any_of(seasons.assumptions.begin(), seasons.assumptions.end(), [](const Message& s) {
        return in_own_units(s).find("common practice") != std::string::npos;
    }));
    CHECK(seasons.warnings.empty());
}

TEST_CASE("seasons named the other way round are put right", "[solver]") {
    Piece piece = top_of("cherry_black", 800, 0, 6, 12);
    const double right = seasons_of(piece).width.swing.grows;
    std::swap(piece.climate->low, piece.climate->high);
    CHECK_THAT(seasons_of(piece).width.swing.grows, WithinRel(right, 1e-12));
}

TEST_CASE("the grain decides which way is across", "[solver]") {
    Piece piece = top_of("cherry_black", 600, 0, 7, 11);
    piece.recesses.push_back(
        {.name = "well", .shape = RectangleShape{{100, 900, 150, 450}, 0}, .depth = 10, .lands = {}});
    const Seasons along_x = seasons_of(piece);
    piece.top.grain_deg = 90;
    const Seasons along_y = seasons_of(piece);
    CHECK_THAT(along_x.width.size, WithinRel(600.0, 1e-9));
    CHECK_THAT(along_y.width.size, WithinRel(1000.0, 1e-9));
    CHECK_THAT(along_x.recesses.front().size, WithinRel(300.0, 1e-9));
    CHECK_THAT(along_y.recesses.front().size, WithinRel(800.0, 1e-9));
}

TEST_CASE("screws travel from the fixed one by their distance across the grain", "[solver]") {
    Piece piece = top_of("cherry_black", 800, 0, 7, 11); // C_T 0.00248: 4 points are 0.00992
    piece.stiffeners.push_back(batten({500, 50}, {500, 750}, Holes::slotted));
    piece.stiffeners.push_back(batten({150, 400}, {850, 400}, Holes::round));
    const double slant = 700 / std::sqrt(2.0);
    piece.stiffeners.push_back(batten({200, 50}, {200 + slant, 50 + slant}, Holes::slotted));
    const Seasons seasons = seasons_of(piece);
    const StiffenerMovement& across = seasons.stiffeners[0];
    CHECK(across.screws[2].is_fixed);
    CHECK_THAT(across.screws[0].along.grows, WithinRel(300 * 0.00992, 1e-6));
    CHECK_THAT(across.screws[4].along.grows, WithinRel(300 * 0.00992, 1e-6));
    CHECK_THAT(across.screws[1].along.grows, WithinRel(150 * 0.00992, 1e-6));
    CHECK_THAT(across.screws[4].slot_length, WithinRel(5 + 2 * (300 * 0.00992 + 1), 1e-6));
    CHECK(across.screws[2].slot_length == 0);
    CHECK_THAT(across.screws[0].sideways.grows, WithinAbs(0, 1e-9));
    // along the grain nothing moves, so round holes hold nothing back
    const StiffenerMovement& along = seasons.stiffeners[1];
    CHECK_FALSE(along.restraint.has_value());
    CHECK_THAT(along.screws[0].along.grows, WithinAbs(0, 1e-9));
    // at 45 degrees half goes along the stiffener, half square to it
    const StiffenerMovement& askew = seasons.stiffeners[2];
    CHECK_THAT(askew.screws[0].along.grows, WithinRel(150 * 0.00992, 1e-6));
    CHECK_THAT(askew.screws[0].sideways.grows, WithinRel(150 * 0.00992, 1e-6));
    CHECK(seasons.passes);
}

TEST_CASE("made halfway between the seasons the play is half the movement and a millimetre", "[solver]") {
    Piece piece = top_of("cherry_black", 800, 0, 9, 9);
    piece.climate = Climate{.low = air_for(7), .high = air_for(11)};
    piece.stiffeners.push_back(batten({500, 50}, {500, 750}, Holes::slotted));
    const Seasons seasons = seasons_of(piece);
    const double whole = 300 * 0.00248 * 4;
    CHECK_THAT(seasons.stiffeners[0].screws[4].along.play(), WithinRel(whole / 2 + 1, 1e-6));
}

TEST_CASE("oversize holes serve a short stiffener and fail a long one", "[solver]") {
    Piece piece = top_of("cherry_black", 800, 0, 7, 11);
    piece.stiffeners.push_back(batten({500, 50}, {500, 750}, Holes::oversize));
    const Seasons fails = seasons_of(piece);
    CHECK_FALSE(fails.passes);
    REQUIRE(fails.checks.size() == 1);
    CHECK_THAT(fails.checks[0].demand, WithinRel(300 * 0.00992, 1e-6));
    CHECK(fails.checks[0].capacity == 1);
    piece.stiffeners[0].screws.at = {270, 350, 430};
    CHECK(seasons_of(piece).passes); // 0.8 mm
}

TEST_CASE("glue across the grain holds the wood nearly fast, round holes less", "[solver]") {
    Piece piece = top_of("cherry_black", 800, 0, 11, 7);
    piece.stiffeners.push_back(batten({500, 50}, {500, 750}, Holes::bonded));
    const Seasons glued = seasons_of(piece);
    REQUIRE(glued.stiffeners[0].restraint.has_value());
    const StressInSeason& g = glued.stiffeners[0].restraint->tension;
    CHECK(g.mean < g.held);
    CHECK(g.mean > 0.8 * g.held); // steel is much stiffer than the strip of wood
    CHECK_FALSE(glued.passes);
    {
        // of the volume held back: the glue line's 700 mm x the strip's section, against 81 cm3
        const Restraint& held = *glued.stiffeners[0].restraint;
        CHECK(held.strip_length == 700);
        const double strength = allowables_of(piece, Duration::long_term)->tension_across.value;
        CHECK_THAT(
            glued.checks[0].capacity,
            WithinRel(strength * std::pow(81000 / (700 * held.strip_width * held.strip_thickness), 0.2),
                      1e-9));
    }
    piece.stiffeners[0].screws.holes = Holes::round;
    const Seasons screwed = seasons_of(piece);
    const Restraint& r = *screwed.stiffeners[0].restraint;
    CHECK(r.tension.mean < g.mean);
    CHECK(r.tension.face <= r.tension.held);
    CHECK(r.screw_force > 0);
    CHECK_THAT(r.compression.face, WithinAbs(0, 1e-9)); // made at the damp end: it never grows
    // the end screws bear most
    CHECK(screwed.stiffeners[0].screws[0].force == r.screw_force);
}

TEST_CASE("supports travel by their distance from the middle of all", "[solver]") {
    Piece piece = top_of("cherry_black", 800, 0, 7, 11);
    piece.supports = {
        {.name = "a",
         .kind = Pad{.at = {100, 100}, .size_x = 60, .size_y = 60, .hold_down = true, .stiffness = {}}},
        {.name = "b",
         .kind = Pad{.at = {900, 700}, .size_x = 60, .size_y = 60, .hold_down = false, .stiffness = {}}},
        {.name = "c",
         .kind =
             Bearer{.from = {500, 100}, .to = {500, 400}, .width = 40, .hold_down = false, .stiffness = {}}}};
    const Seasons seasons = seasons_of(piece);
    CHECK(seasons.supports[0].holds);
    CHECK_FALSE(seasons.supports[1].holds);
    for (int i = 0; i < 3; ++i)
        CHECK_THAT(seasons.supports[static_cast<size_t>(i)].swing.grows, WithinRel(300 * 0.00992, 1e-6));
}

TEST_CASE("lines held in the plane at two places across the grain hold the width fast", "[solver]") {
    Piece piece = top_of("cherry_black", 800, 0, 11, 7);
    Held held{.from = {0, 0}, .to = {1000, 0}, .down = true, .across = true};
    piece.supports.push_back({.name = "front", .kind = held});
    CHECK(seasons_of(piece).passes);
    held.from.y = held.to.y = 800;
    piece.supports.push_back({.name = "back", .kind = held});
    const Seasons fast = seasons_of(piece);
    CHECK_FALSE(fast.passes);
    CHECK(fast.checks.size() == 2);
    CHECK(fast.warnings.size() == 1);
}

TEST_CASE("a material that is no wood is refused with its place", "[solver]") {
    Piece piece = top_of("", 800, 0, 7, 11);
    piece.top.elastic = Elastic{
        .E1 = 4000, .E2 = 4000, .nu12 = 0.3, .G12 = 1500, .G13 = 1500, .G23 = 1500, .density_kg_m3 = 700};
    try {
        seasons_of(piece);
        FAIL("not refused");
    } catch (const Error& error) {
        CHECK(error.kind() == ErrorKind::input);
        CHECK(error.faults().front().place == "top.elastic");
    }
    Piece wet = top_of("cherry_black", 800, 0, 7, 11);
    wet.climate->high->humidity_percent = 100;
    try {
        seasons_of(wet);
        FAIL("not refused");
    } catch (const Error& error) {
        CHECK(error.faults().front().place == "climate.high.humidity");
    }
}

TEST_CASE("boards made outside the range of the seasons are warned of", "[solver]") {
    Piece piece = top_of("cherry_black", 800, 0, 12, 12);
    piece.climate = Climate{.low = air_for(7), .high = air_for(10)};
    const Seasons seasons = seasons_of(piece);
    CHECK(seasons.warnings.size() == 1);
    CHECK_THAT(seasons.width.swing.shrinks, WithinRel(800 * 0.00248 * 5, 1e-6));
    CHECK(seasons.width.swing.grows == 0);
}

TEST_CASE("screws at a spacing leave equal ends", "[solver]") {
    Stiffener s = batten({0, 0}, {1600, 0}, Holes::slotted);
    s.screws.at.clear();
    s.screws.spacing = 300;
    CHECK(screw_places(s) == std::vector<double>{50, 350, 650, 950, 1250, 1550});
    s.to = {1500, 0}; // five whole spacings would put screws at the very ends
    CHECK(screw_places(s) == std::vector<double>{150, 450, 750, 1050, 1350});
}

TEST_CASE("slots of a stated length are held against the way of the screws in them", "[solver][published]") {
    Piece piece = top_of("cherry_black", 800, 0, 11, 7); // C_T 0.00248: 4 points are 0.00992
    piece.stiffeners.push_back(batten({500, 50}, {500, 750}, Holes::slotted));
    CHECK(seasons_of(piece).checks.empty());
    piece.stiffeners[0].screws.slot_length = 10;
    const Seasons seasons = seasons_of(piece);
    REQUIRE(seasons.checks.size() == 1);
    CHECK_THAT(seasons.checks[0].demand, WithinRel(300 * 0.00992, 1e-6));
    CHECK_THAT(seasons.checks[0].capacity, WithinRel((10 - 5) / 2.0, 1e-12));
    CHECK_FALSE(seasons.passes);
    piece.stiffeners[0].screws.slot_length = 5 + 2 * (300 * 0.00992) + 0.01;
    CHECK(seasons_of(piece).passes);
}

TEST_CASE("a dovetail in its groove lets half its length of wood move past each end", "[solver][published]") {
    Piece piece = top_of("cherry_black", 800, 0, 11, 7);
    piece.stiffeners.push_back(batten({500, 50}, {500, 750}, Holes::dovetail));
    piece.stiffeners[0].screws = {
        .diameter = 0, .length = 0, .spacing = 0, .at = {}, .holes = Holes::dovetail, .stiffness = {}};
    const Seasons seasons = seasons_of(piece);
    REQUIRE(seasons.stiffeners[0].slides);
    CHECK_THAT(seasons.stiffeners[0].slides->shrinks, WithinRel(350 * 0.00992, 1e-6));
    CHECK_FALSE(seasons.stiffeners[0].restraint);
    CHECK(seasons.checks.empty());
}

TEST_CASE("breadboard ends stand out by half of what the top shrinks, and their pegs need slots for it",
          "[solver][published]") {
    Piece piece = top_of("cherry_black", 800, 0, 11, 7);
    piece.ends = Ends{.width = 80, .tongue = 30, .wood = "cherry_black", .peg = 8, .pegs = 3};
    const Seasons seasons = seasons_of(piece);
    REQUIRE(seasons.ends);
    CHECK_THAT(seasons.ends->step.shrinks, WithinRel(400 * 0.00992, 1e-6));
    REQUIRE(seasons.ends->pegs.size() == 3);
    CHECK_THAT(seasons.ends->pegs[2], WithinRel(800 / 3.0, 1e-9));
    CHECK(seasons.ends->slots[1] == 0); // fixed
    // the peg, its way each side and a millimetre each side
    CHECK_THAT(seasons.ends->slots[2], WithinRel(8 + 2 * (800 / 3.0 * 0.00992 + 1), 1e-6));
}

TEST_CASE("two pegs of a breadboard end in round holes pull on the wood between them", "[solver]") {
    Piece piece = top_of("cherry_black", 800, 0, 11, 7);
    piece.ends = Ends{.width = 80, .tongue = 30, .wood = "cherry_black", .peg = 8, .pegs = 2};
    Seasons scratch;
    const Ground g = ground_of(piece, scratch);
    const double L = 400, e = 0.00992, t = piece.top.thickness, E_T = modulus_along(g.plane, g.across),
                 divisor = g.relaxation.divisor(), density = *g.elastic.density_kg_m3;
    // EN 1995-1-1 table 7.1, a dowel in each of two planes
    const double k = 2 * std::pow(density, 1.5) * 8 / 23 / divisor;
    const double E_end =
        materials::wood_constants(materials::find_wood("cherry_black"), piece.top.moisture_percent).E_L;
    const double compliance = divisor / (E_T * L * t) + 1 / (E_end * 80 * t);
    const double force = e * L / (2 / k + compliance * L);
    const Seasons seasons = seasons_of(piece);
    REQUIRE(seasons.ends->tight);
    CHECK_THAT(seasons.ends->tight->force_N, WithinRel(force, 1e-6));
    CHECK(seasons.ends->tight->tension_MPa > force / (L * t));
    CHECK(seasons.ends->tight->strength_MPa.value_or(0) > 0);
    CHECK(seasons.checks.empty()); // slots are cut: nothing of it is judged
    piece.ends->pegs = 1;
    CHECK_FALSE(seasons_of(piece).ends->tight);
    piece.ends = Ends{.width = 80, .tongue = 30, .wood = "cherry_black", .peg = 0, .pegs = 3};
    CHECK_FALSE(seasons_of(piece).ends->tight);
}
