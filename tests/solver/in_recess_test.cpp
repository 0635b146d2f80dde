// SPDX-License-Identifier: MIT
// What a recess holds and its cover: where its weight goes, and whether there is room for it. Sums by hand.
#include "solver/capacity/in_recess.hpp"

#include "checks_for_tests.hpp"
#include "materials/moisture.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/piece/kept_region.hpp"
#include "solver/situations/recess_loads.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// An invented top of oak, 1000 x 600 x 42 mm, with a recess of 800 x 400 x 30 mm.
Piece tray_table() {
    Piece piece = oak_top();
    piece.top.thickness = 42;
    piece.top.outline = RectangleShape{{0, 1000, 0, 600}, 0};
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{{100, 900, 100, 500}, 0},
                       .depth = 30,
                       .root_radius = 0,
                       .lands = {}}};
    return piece;
}

/// The same of stated constants, so that no season moves it.
Piece still_table() {
    Piece piece = tray_table();
    piece.top.wood.clear();
    piece.top.elastic = Elastic{
        .E1 = 12000, .E2 = 900, .nu12 = 0.4, .G12 = 800, .G13 = 800, .G23 = 200, .density_kg_m3 = 700};
    return piece;
}

Kept tray(HangsOn hangs) {
    return {.name = "tray",
            .size_x = 400,
            .size_y = 200,
            .height = 20,
            .at = {},
            .weight_N = 60,
            .hangs_on = hangs};
}

Response after_years(std::vector<double> sinks) {
    Response response =
        response_of(situation("what stays, after the years", Stage::years, Duration::long_term));
    response.situations.front().kept_sink_mm = std::move(sinks);
    return response;
}

const LineLoad& line_of(const Load& load) { return std::get<LineLoad>(load.kind); }

} // namespace

TEST_CASE("a tray on runners hangs half its weight on each wall beside its longer side", "[holds]") {
    Piece piece = tray_table();
    piece.recesses[0].holds = {tray(HangsOn::runners)};
    const Piece loaded = with_recess_loads(piece);
    REQUIRE(loaded.loads.size() == 2);
    for (const Load& load : loaded.loads) {
        CHECK(load.name == "tray, on a runner");
        CHECK(load.duration == Duration::long_term);
        CHECK(line_of(load).force == 30);
        CHECK_THAT(line_of(load).from.x, WithinAbs(300, 1e-9)); // the middle of the recess is 500, 300
        CHECK_THAT(line_of(load).to.x, WithinAbs(700, 1e-9));
    }
    CHECK_THAT(line_of(loaded.loads[0]).from.y, WithinAbs(100, 1e-9));
    CHECK_THAT(line_of(loaded.loads[1]).to.y, WithinAbs(500, 1e-9));
    CHECK(with_recess_loads(loaded).loads.size() == 2); // a second time adds nothing
    std::swap(piece.recesses[0].holds[0].size_x, piece.recesses[0].holds[0].size_y);
    const Piece turned = with_recess_loads(piece);
    CHECK_THAT(line_of(turned.loads[0]).from.x,
               WithinAbs(100, 1e-9)); // now along y, on the walls at the ends
    CHECK_THAT(line_of(turned.loads[1]).from.x, WithinAbs(900, 1e-9));
    CHECK_THAT(line_of(turned.loads[0]).from.y, WithinAbs(100, 1e-9));
    CHECK_THAT(line_of(turned.loads[0]).to.y, WithinAbs(500, 1e-9));
}

TEST_CASE("runners lie on a land that is nearer than the wall", "[holds]") {
    Piece piece = tray_table();
    piece.recesses[0].lands = {{.name = "land", .shape = RectangleShape{{100, 900, 420, 440}, 0}}};
    piece.recesses[0].holds = {tray(HangsOn::runners)};
    const Piece loaded = with_recess_loads(piece);
    CHECK_THAT(line_of(loaded.loads[0]).from.y, WithinAbs(100, 1e-9));
    CHECK_THAT(line_of(loaded.loads[1]).from.y, WithinAbs(420, 1e-9));
}

TEST_CASE("what hangs on the skin rests on its footprint, what lies on the base on nothing", "[holds]") {
    Piece piece = tray_table();
    piece.recesses[0].holds = {tray(HangsOn::skin), tray(HangsOn::base)};
    const Piece loaded = with_recess_loads(piece);
    REQUIRE(loaded.loads.size() == 1);
    const auto& patch = std::get<PatchLoad>(loaded.loads[0].kind);
    CHECK(loaded.loads[0].name == "tray, on the skin");
    CHECK(patch.force == 60);
    CHECK(patch.at == Point{500, 300});
    CHECK(patch.size_x == 400);
    CHECK(patch.size_y == 200);
}

TEST_CASE("a cover hangs on the rim all round, in proportion to its sides", "[holds]") {
    Piece piece = tray_table();
    piece.recesses[0].cover = Cover{.sheet = "mdf_en_9_12", .wood = "", .thickness = 9, .trim = ""};
    // 800 x 400 mm, 9 mm, 800 kg/m3 (the upper end of its range)
    const double mass = 0.8 * 0.4 * 0.009 * 800;
    CHECK_THAT(mass_of_covers(piece), WithinRel(mass, 1e-12));
    const Piece loaded = with_recess_loads(piece);
    REQUIRE(loaded.loads.size() == 4);
    double long_sides = 0, all = 0;
    for (const Load& load : loaded.loads) {
        CHECK(load.duration == Duration::permanent);
        const LineLoad& line = line_of(load);
        all += line.force;
        if (line.from.y == line.to.y) long_sides += line.force;
    }
    CHECK_THAT(all, WithinRel(mass * 9.80665, 1e-12));
    CHECK_THAT(long_sides, WithinRel(mass * 9.80665 * 1600 / 2400, 1e-12));
    piece.recesses[0].cover->trim = "bar 35x8"; // 2.4 m of it, of the top's oak
    piece.top.measured.density_kg_m3 = 700;
    CHECK_THAT(mass_of_covers(piece), WithinRel(mass + 0.035 * 0.008 * 2.4 * 700, 1e-12));
    piece.self_weight = false;
    CHECK(with_recess_loads(piece).loads.empty());
}

TEST_CASE("the supports carry what hangs in the recess and its cover", "[holds][solver]") {
    Piece piece = still_table();
    for (Support& support : piece.supports)
        std::get<Pad>(support.kind).size_x = std::get<Pad>(support.kind).size_y = 12;
    piece.recesses[0].holds = {tray(HangsOn::runners)};
    piece.recesses[0].holds[0].at = Point{350, 300};
    piece.recesses[0].holds.push_back({.name = "cables",
                                       .size_x = 100,
                                       .size_y = 300,
                                       .height = 15,
                                       .at = Point{700, 300},
                                       .weight_N = 20,
                                       .hangs_on = HangsOn::skin});
    piece.recesses[0].cover = Cover{.sheet = "mdf_en_4_6", .wood = "", .thickness = 5, .trim = ""};
    CheckOptions quick;
    quick.mesh = CheckOptions::Mesh::coarse;
    quick.threads = 1;
    quick.essentials = true;
    const Result result = check_piece(piece, quick).result;
    const double cover = 0.8 * 0.4 * 0.005 * 800, wood = (1.0 * 0.6 * 0.042 - 0.8 * 0.4 * 0.03) * 700;
    CHECK_THAT(result.mass.cover_kg, WithinRel(cover, 1e-12));
    CHECK_THAT(result.mass.saved_kg, WithinRel(0.8 * 0.4 * 0.03 * 700 - cover, 1e-9));
    REQUIRE(result.situations.front().stage == Stage::at_once);
    CHECK_THAT(result.situations.front().applied_N, WithinRel((cover + wood) * 9.80665 + 80, 1e-9));
    double all = 0;
    for (const Reaction& r : result.situations.front().reactions) all += r.force_N;
    CHECK_THAT(all, WithinRel((cover + wood) * 9.80665 + 80, 1e-6));
    // moment about the line x = 50 of the left pads: all but the things acts at x = 500
    const auto& reactions = result.situations.front().reactions;
    CHECK_THAT(900 * (reactions[1].force_N + reactions[3].force_N),
               WithinRel((cover + wood) * 9.80665 * 450 + 60 * 300 + 20 * 650,
                         1e-3)); // a pad 12 mm wide may carry at its inner edge
}

TEST_CASE("a thing on the base loses the sag over it, one on runners what the skin sinks below the line "
          "between its ends",
          "[holds][solver]") {
    Piece piece = still_table();
    piece.loads = {{"books", Duration::long_term, AreaLoad{0.001, {}}}};
    piece.probes = {{500, 300}, {300, 100}, {700, 100}, {300, 500}, {700, 500}};
    CheckOptions quick;
    quick.mesh = CheckOptions::Mesh::coarse;
    quick.threads = 1;
    quick.essentials = true;
    const auto sink_on = [&](HangsOn hangs) {
        piece.recesses[0].holds = {tray(hangs)};
        piece.recesses[0].holds[0].weight_N = 0;
        return check_piece(piece, quick).result;
    };
    const Result on_base = sink_on(HangsOn::base), on_runners = sink_on(HangsOn::runners);
    const auto years = [](const Result& r) {
        return *std::find_if(r.situations.begin(), r.situations.end(),
                             [](const auto& s) { return s.stage == Stage::years; });
    };
    const SituationResult seen = years(on_base);
    CHECK(seen.sag_mm > 0.1);
    CHECK_THAT(on_base.in_recesses.at(0).holds.at(0).sinks_mm,
               WithinRel(seen.sag_mm, 1e-4)); // the middle sags most
    CHECK_THAT(on_base.in_recesses[0].holds[0].sinks_mm, WithinRel(seen.probes[0].w_mm, 1e-6));
    double rim = 0;
    for (size_t i = 1; i < 5; ++i) rim += years(on_runners).probes[i].w_mm / 4;
    CHECK_THAT(on_runners.in_recesses.at(0).holds.at(0).sinks_mm,
               WithinRel(years(on_runners).probes[0].w_mm - rim, 1e-6));
    CHECK(on_runners.in_recesses[0].holds[0].sinks_mm < 0.9 * seen.sag_mm);
    CHECK_THAT(sink_on(HangsOn::skin).in_recesses.at(0).holds.at(0).sinks_mm,
               WithinRel(on_runners.in_recesses[0].holds[0].sinks_mm, 1e-12));
}

TEST_CASE("room in height is depth less cover, iron and heads against height, clearance and sinking",
          "[holds][checks]") {
    Piece piece = still_table();
    piece.recesses[0].holds = {tray(HangsOn::runners)};
    const Response response = after_years({1.25});
    auto row = judge_room(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->unit == "mm");
    CHECK_THAT(row->demand, WithinRel(20 + 2 + 1.25, 1e-12));
    CHECK_THAT(row->capacity, WithinRel(30.0, 1e-12));
    CHECK(row->at == Point{500, 300});
    CHECK(in_own_units(row->basis) ==
          "\"tray\" in recess well, height; needed: its own 20 mm + 2 mm to work with (common practice) + "
          "1.25 mm that the skin sinks under what stays, after the years; there: depth 30 mm");
    piece.recesses[0].cover = Cover{.sheet = "mdf_en_4_6", .wood = "", .thickness = 5, .trim = ""};
    CHECK_THAT(judge_room(input_of(piece, response))->capacity, WithinRel(25.0, 1e-12));
    // a flat of 4 mm with screws of 5 mm under it: its heads, 0.6 d, stand 7 mm under the skin
    piece.stiffeners = {{.name = "flat",
                         .section = "flat 30x4",
                         .metal = "S235",
                         .wood = "",
                         .elastic = {},
                         .from = {150, 350},
                         .to = {850, 350},
                         .screws = {.diameter = 5, .length = 14, .spacing = 100, .at = {}, .stiffness = {}}}};
    CHECK_THAT(judge_room(input_of(piece, response))->capacity,
               WithinRel(25.0 - 4 - 0.6 * 5, 1e-12)); // 18 of 23.25: fails
    CHECK(judge_room(input_of(piece, response))->demand > judge_room(input_of(piece, response))->capacity);
    piece.stiffeners[0].from.y = piece.stiffeners[0].to.y = 416; // 1 mm beside the tray, which ends at 400
    CHECK_THAT(judge_room(input_of(piece, response))->capacity, WithinRel(25.0, 1e-12));
    piece.stiffeners[0].section = "angle 30x30x3";
    piece.stiffeners[0].from.y = piece.stiffeners[0].to.y = 300;
    CHECK(judge_room(input_of(piece, response))->capacity == 0); // 30 mm of angle in 25 mm
}

TEST_CASE("a rounded root takes height from what stands in the corner of a recess", "[holds][checks]") {
    Piece piece = still_table();
    piece.recesses[0].root_radius = 10;
    piece.recesses[0].holds = {tray(HangsOn::skin)};
    piece.recesses[0].holds[0].at = Point{304, 204}; // 4 mm from two walls
    const auto row = judge_room(input_of(piece, after_years({0})));
    // the tightest way is the height: 22 of 30 less 10 - sqrt(100 - 36)
    CHECK_THAT(row->capacity, WithinRel(28.0, 1e-12));
}

TEST_CASE("room along a side ends at walls, lands and neighbours", "[holds][checks]") {
    Piece piece = still_table();
    Recess& well = piece.recesses[0];
    well.depth = 41;
    well.holds = {tray(HangsOn::base)};
    well.holds[0].size_y = 397;
    auto row = judge_room(input_of(piece, after_years({0})));
    CHECK_THAT(row->demand, WithinRel(401.0, 1e-12));   // 397 and 2 on each side
    CHECK_THAT(row->capacity, WithinRel(400.0, 1e-12)); // fails by a millimetre
    CHECK(in_own_units(row->basis)
              .find("along y; needed: its own 397 mm + 2 mm on each side to work with (common "
                    "practice); there: 400 mm from the wall to the wall") != std::string::npos);
    well.holds[0].size_y = 200;
    well.holds[0].at = Point{320, 300};
    well.holds.push_back({.name = "box",
                          .size_x = 50,
                          .size_y = 50,
                          .height = 10,
                          .at = Point{548, 300},
                          .weight_N = 0,
                          .hangs_on = HangsOn::base});
    row = judge_room(input_of(piece, after_years({0, 0})));
    CHECK_THAT(row->demand, WithinRel(404.0, 1e-12));
    CHECK_THAT(row->capacity, WithinRel(423.0, 1e-12)); // from the wall at 100 to the box at 523
    CHECK(in_own_units(row->basis).find("423 mm from the wall to \"box\"") != std::string::npos);
    // an angle that runs past the tray, its whole width counted: from 535 to 565
    well.holds.pop_back();
    piece.stiffeners = {{.name = "rib",
                         .section = "angle 30x30x3",
                         .metal = "S235",
                         .wood = "",
                         .elastic = {},
                         .from = {550, 120},
                         .to = {550, 480},
                         .screws = {.diameter = 4, .length = 6, .spacing = 100, .at = {}, .stiffness = {}}}};
    row = judge_room(input_of(piece, after_years({0})));
    CHECK_THAT(row->demand, WithinRel(404.0, 1e-12));
    CHECK_THAT(row->capacity, WithinRel(435.0, 1e-12));
    CHECK(in_own_units(row->basis).find("435 mm from the wall to stiffener \"rib\"") != std::string::npos);
}

TEST_CASE("the dry season narrows a recess across the grain alone, and makes its rim less high",
          "[holds][checks]") {
    Piece piece = tray_table();
    piece.climate = Climate{.low = Air{.temperature_C = 20, .humidity_percent = 30}, .high = {}, .years = 10};
    piece.recesses[0].holds = {tray(HangsOn::base)};
    const materials::Wood& oak = materials::find_wood("oak_white");
    const double points = 12 - materials::equilibrium_moisture_percent(20, 30);
    REQUIRE(points > 5);
    const auto told = in_recesses(piece, std::vector<double>{0});
    const auto& ways = told.at(0).holds.at(0).ways;
    REQUIRE(ways.size() == 3);
    // quarter-sawn: radial across, tangential through the thickness (Wood Handbook Eq. 13-2)
    CHECK_THAT(ways[0].there_mm, WithinRel(30 * (1 - *oak.coef_T_per_percent * points), 1e-9));
    CHECK_THAT(ways[1].there_mm, WithinRel(800.0, 1e-12));
    CHECK_THAT(ways[2].there_mm, WithinRel(400 * (1 - *oak.coef_R_per_percent * points), 1e-9));
    piece.top.grain_deg = 90;
    const auto turned = in_recesses(piece, std::vector<double>{0});
    CHECK_THAT(turned.at(0).holds.at(0).ways[1].there_mm,
               WithinRel(800 * (1 - *oak.coef_R_per_percent * points), 1e-9));
    CHECK_THAT(turned.at(0).holds.at(0).ways[2].there_mm, WithinRel(400.0, 1e-12));
}

TEST_CASE("a cover sags as a strip under its own weight, times creep", "[holds][checks]") {
    Piece piece = still_table();
    piece.recesses[0].cover = Cover{.sheet = "birch_ply_6p5", .wood = "", .thickness = 6.5, .trim = ""};
    auto row = judge_cover(input_of(piece, after_years({})));
    REQUIRE(row);
    // 5 q b^4 / (384 E I): 680 kg/m3, weaker direction 4763 MPa, 400 mm; k_def 0.8
    CHECK_THAT(row->demand, WithinRel(0.2386, 5e-4));
    CHECK_THAT(row->capacity, WithinRel(400.0 / 200, 1e-12));
    std::get<RectangleShape>(piece.recesses[0].shape).box = {100, 900, 0, 600};
    piece.recesses[0].cover = Cover{.sheet = "mdf_en_4_6", .wood = "", .thickness = 4, .trim = ""};
    row = judge_cover(input_of(piece, after_years({})));
    CHECK_THAT(row->demand, WithinRel(3.6775 * 3.25, 5e-4)); // 800 kg/m3, 2700 MPa, 600 mm; k_def 2.25
    CHECK_THAT(row->capacity, WithinRel(3.0, 1e-12));        // fails
    // of thin MDF the standard gives no stiffness: nothing is judged, and that is said
    piece.recesses[0].cover = Cover{.sheet = "mdf_en_2p5_4", .wood = "", .thickness = 3, .trim = ""};
    CHECK_FALSE(judge_cover(input_of(piece, after_years({}))));
    const auto told = in_recesses(piece, std::vector<double>{});
    CHECK(told.at(0).cover->not_judged.front() == "its sag: no stiffness is published for this sheet");
}

TEST_CASE("a cover screwed fast across the grain does not let the top move, one in slots does",
          "[holds][checks]") {
    Piece piece = tray_table();
    piece.climate = Climate{.low = Air{.temperature_C = 20, .humidity_percent = 30},
                            .high = Air{.temperature_C = 20, .humidity_percent = 50},
                            .years = 10};
    piece.recesses[0].cover = Cover{.sheet = "birch_ply_6p5",
                                    .wood = "",
                                    .thickness = 6.5,
                                    .trim = "",
                                    .screw_diameter = 3.5,
                                    .screw_spacing = 150,
                                    .holes = Holes::round};
    const double moves = 200 * *materials::find_wood("oak_white").coef_R_per_percent *
                         (12 - materials::equilibrium_moisture_percent(20, 30));
    auto row = judge_cover(input_of(piece, after_years({})));
    REQUIRE(row);
    CHECK_THAT(row->demand, WithinRel(moves, 1e-9)); // half of 400 mm
    CHECK(row->capacity == 0.25);
    CHECK(row->demand > row->capacity);
    piece.recesses[0].cover->holes = Holes::oversize;
    CHECK(judge_cover(input_of(piece, after_years({})))->capacity > 1 - 1e-12);
    piece.recesses[0].cover->holes = Holes::slotted;
    CHECK(in_own_units(judge_cover(input_of(piece, after_years({})))->basis).find("sag:") !=
          std::string::npos);
}

TEST_CASE("runners that reach far from the walls are warned of", "[holds]") {
    Piece piece = tray_table();
    piece.recesses[0].holds = {tray(HangsOn::runners)}; // 200 wide in 400: 100 mm to each wall
    const auto told = warnings_in_recesses(piece);
    REQUIRE(told.size() == 1);
    CHECK(in_own_units(told[0]) ==
          "The runners of \"tray\" reach 100 mm from the wall: how they bend, and turn the rim, "
          "is not judged. Keep it within 50 mm of the walls (judgement), or hang it on the skin.");
    piece.recesses[0].holds[0].size_y = 300; // exactly 50
    CHECK(warnings_in_recesses(piece).empty());
    piece.recesses[0].holds = {tray(HangsOn::skin)};
    CHECK(warnings_in_recesses(piece).empty());
}

TEST_CASE("room and cover are told once a piece, for what stays after the years", "[holds][checks]") {
    Piece piece = still_table();
    piece.recesses[0].holds = {tray(HangsOn::skin)};
    piece.recesses[0].cover = Cover{.sheet = "birch_ply_6p5", .wood = "", .thickness = 6.5, .trim = ""};
    Response response = response_of(situation("what stays, at once", Stage::at_once, Duration::long_term));
    response.situations.push_back(
        situation("what stays, after the years", Stage::years, Duration::long_term));
    CHECK_FALSE(judge_room(input_of(piece, response)));
    CHECK_FALSE(judge_cover(input_of(piece, response)));
    std::swap(response.situations[0], response.situations[1]);
    CHECK(judge_room(input_of(piece, response)));
    piece.recesses[0].holds.clear();
    piece.recesses[0].cover.reset();
    CHECK_FALSE(judge_room(input_of(piece, response)));
    CHECK_FALSE(judge_cover(input_of(piece, response)));
}
