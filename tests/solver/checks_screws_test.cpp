// SPDX-License-Identifier: MIT
// Where screws sit, how they hold, and what glue asks of the wood: each worked by hand.
#include "materials/metal.hpp"
#include "materials/screw.hpp"
#include "materials/wood.hpp"
#include "solver/capacity/bar_wood.hpp"
#include "solver/capacity/screw_strength.hpp"
#include "solver/check/check_piece.hpp"
#include "tests/solver/checks_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>

using namespace hollowtop;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// An oak top 1000 x 600 x 30 with a steel flat along the grain, its screws 4.5 mm thick.
Piece oak_with(Screws screws, const std::string& wood = "") {
    Piece piece = oak_top();
    piece.top.outline = RectangleShape{{0, 1000, 0, 600}, 0};
    piece.stiffeners = {{.name = "bar",
                         .section = "flat 40x5",
                         .metal = wood.empty() ? "S235" : "",
                         .wood = wood,
                         .elastic = {},
                         .from = {100, 300},
                         .to = {900, 300},
                         .screws = std::move(screws)}};
    return piece;
}
Screws thick(double d) {
    return {.diameter = d, .length = 30, .spacing = 100, .at = {}, .holes = Holes::round, .stiffness = {}};
}

ScrewForce screw_at(Point at, Point pushes, double withdrawal = 0) {
    return {.stiffener = 0,
            .at = at,
            .thread = 25,
            .wood = 30,
            .shear_N = std::hypot(pushes.x, pushes.y),
            .withdrawal_N = withdrawal,
            .pushes = pushes};
}

Response response_with(std::vector<ScrewForce> screws, StiffenerForce bar = {}) {
    SituationResponse one = situation("a person", Stage::passing, Duration::short_term);
    one.stiffeners = {std::move(bar)};
    one.screws = std::move(screws);
    return response_of(std::move(one));
}

CheckResult crowding(const Piece& piece, std::vector<ScrewForce> screws) {
    const Response response = response_with(std::move(screws));
    const auto row = judge_screw_spacing(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->capacity == 1);
    return *row;
}

} // namespace

TEST_CASE("screws keep the distances of EN 1995-1-1 tables 8.2, 8.4 and 8.6", "[checks][published]") {
    const materials::Distances along = materials::shear_distances(4.5, 1, 0, false),
                               across = materials::shear_distances(4.5, 0, 1, true);
    CHECK_THAT(along.a1, WithinRel(5 * 4.5, 1e-12));
    CHECK_THAT(along.a2, WithinRel(3 * 4.5, 1e-12));
    CHECK_THAT(along.a3_loaded, WithinRel(12 * 4.5, 1e-12));
    CHECK_THAT(along.a3_free, WithinRel(7 * 4.5, 1e-12));
    CHECK_THAT(along.a4_loaded, WithinRel(3 * 4.5, 1e-12));
    CHECK_THAT(across.a1, WithinRel(0.7 * 4 * 4.5, 1e-12)); // through steel
    CHECK_THAT(across.a2, WithinRel(0.7 * 4 * 4.5, 1e-12));
    CHECK_THAT(across.a4_loaded, WithinRel(5 * 4.5, 1e-12));
    CHECK_THAT(materials::shear_distances(5, 0, 1, false).a4_loaded, WithinRel(7 * 5.0, 1e-12));
    const materials::Distances bolt =
        materials::shear_distances(10, 0, 1, false); // a root of 7 mm: 7.7 mm, more than 6
    CHECK_THAT(bolt.a1, WithinRel(40, 1e-12));
    CHECK_THAT(bolt.a2, WithinRel(40, 1e-12));
    CHECK_THAT(bolt.a3_loaded, WithinRel(80, 1e-12));
    CHECK_THAT(bolt.a3_free, WithinRel(70, 1e-12));
    CHECK_THAT(bolt.a4_loaded, WithinRel(40, 1e-12));
    CHECK_THAT(bolt.a4_free, WithinRel(30, 1e-12));
    CHECK_THAT(materials::shear_distances(10, 1, 0, false).a3_free, WithinRel(40, 1e-12));
    const materials::Distances pulled = materials::withdrawal_distances(6);
    CHECK(pulled.a1 == 42);
    CHECK(pulled.a2 == 30);
    CHECK(pulled.a3_free == 60);
    CHECK(pulled.a4_free == 24);
}

TEST_CASE("screws two diameters apart are too close", "[checks]") {
    const Piece piece = oak_with(thick(4.5));
    const Point along{300, 0};
    const CheckResult close = crowding(piece, {screw_at({400, 300}, along), screw_at({409, 300}, along)});
    CHECK_THAT(close.demand, WithinRel(0.7 * 5 * 4.5 / 9, 1e-9)); // a1 through steel, 15.75 mm against 9
    CHECK_THAT(in_own_units(close.basis), Contains("sits 9 mm from the next, and needs 15.7"));
    const CheckResult apart = crowding(piece, {screw_at({400, 300}, along), screw_at({450, 300}, along)});
    CHECK_THAT(apart.demand, WithinRel(15.75 / 50, 1e-9));
    // beside each other across the grain: a2, 0.7 x 3 d
    CHECK_THAT(crowding(piece, {screw_at({400, 300}, along), screw_at({400, 310}, along)}).demand,
               WithinRel(0.7 * 3 * 4.5 / 10, 1e-9));
    // pulled out: 5 d across the grain
    CHECK_THAT(crowding(piece, {screw_at({400, 300}, {}, 300), screw_at({400, 310}, {}, 0)}).demand,
               WithinRel(5 * 4.5 / 10, 1e-9));
    // the drawing turned by a right angle asks the same
    Piece turned = piece;
    turned.top.grain_deg = 90;
    CHECK_THAT(crowding(turned, {screw_at({400, 300}, {0, 300}), screw_at({400, 309}, {0, 300})}).demand,
               WithinRel(close.demand, 1e-9));
}

TEST_CASE("a screw that pushes towards an end or an edge needs more wood there", "[checks]") {
    const Piece piece = oak_with(thick(4.5));
    const CheckResult loaded = crowding(piece, {screw_at({40, 300}, {-300, 0})});
    CHECK_THAT(loaded.demand, WithinRel(12 * 4.5 / 40, 1e-9)); // a3t
    CHECK_THAT(in_own_units(loaded.basis), Contains("from the edge of the top"));
    CHECK_THAT(crowding(piece, {screw_at({40, 300}, {300, 0})}).demand, WithinRel(7 * 4.5 / 40, 1e-9)); // a3c
    CHECK_THAT(crowding(piece, {screw_at({500, 20}, {0, -300})}).demand,
               WithinRel(5 * 4.5 / 20, 1e-9));                                                          // a4t
    CHECK_THAT(crowding(piece, {screw_at({500, 20}, {0, 300})}).demand, WithinRel(3 * 4.5 / 20, 1e-9)); // a4c
    CHECK_THAT(crowding(piece, {screw_at({40, 300}, {}, 300)}).demand,
               WithinRel(10 * 4.5 / 40, 1e-9)); // a1,CG: pulled
}

TEST_CASE("a screw in the rim has the wall of the recess for an edge, one in the skin has not", "[checks]") {
    Piece piece = oak_with(thick(4.5));
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{{100, 900, 100, 500}, 0},
                       .depth = 15,
                       .root_radius = 0,
                       .lands = {}}};
    const Point along{300, 0};
    const CheckResult rim = crowding(piece, {screw_at({500, 90}, along)});
    CHECK_THAT(rim.demand, WithinRel(3 * 4.5 / 10, 1e-6)); // a4c against 10 mm
    CHECK_THAT(in_own_units(rim.basis), Contains("from the wall of a recess"));
    ScrewForce skin = screw_at({500, 110}, along);
    skin.wood = 15;
    skin.thread = 10;
    CHECK_THAT(crowding(piece, {skin}).demand, WithinRel(3 * 4.5 / 110, 1e-6)); // to the edge of the top
}

TEST_CASE("a screw in a land has the land's own edge near, and a shallow recess is no edge", "[checks]") {
    Piece piece = oak_with(thick(4.5));
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{{100, 900, 100, 500}, 0},
                       .depth = 15,
                       .root_radius = 0,
                       .lands = {{.name = "land", .shape = RectangleShape{{400, 600, 250, 350}, 0}}}}};
    const Point along{300, 0};
    CHECK_THAT(crowding(piece, {screw_at({500, 335}, along)}).demand,
               WithinRel(3 * 4.5 / 15, 1e-6)); // 15 mm from the land's long edge
    CHECK_THAT(crowding(piece, {screw_at({580, 300}, along)}).demand,
               WithinRel(12 * 4.5 / 20, 1e-6)); // a3t towards its end
    piece.recesses[0].depth = 12;               // less than half of 25 mm of thread
    CHECK_THAT(crowding(piece, {screw_at({500, 90}, along)}).demand, WithinRel(3 * 4.5 / 90, 1e-6));
}

TEST_CASE("a thread under four diameters and a skin under 12 mm fail a screw", "[checks]") {
    const Piece piece = oak_with(thick(4.5));
    ScrewForce screw = screw_at({400, 300}, {100, 0});
    screw.thread = 15;
    screw.wood = 10;
    const Response response = response_with({screw_at({300, 300}, {100, 0}), screw});
    const auto thread = judge_screw_thread(input_of(piece, response)),
               wood = judge_screw_wood(input_of(piece, response));
    REQUIRE(thread);
    REQUIRE(wood);
    CHECK(thread->demand == 18); // 4 d
    CHECK(thread->capacity == 15);
    CHECK(wood->demand == 12);
    CHECK(wood->capacity == 10);
    CHECK(wood->at == Point{400, 300});
    Result result;
    judge(piece, response, result);
    CHECK_FALSE(result.passes);
}

TEST_CASE("what depends on where screws sit alone is judged on the loads as they are", "[checks]") {
    Piece piece = oak_with(thick(4.5));
    piece.allowables = {.basis = AllowablesBasis::strength_class,
                        .grade_ratio = 1,
                        .strength_class = "D30",
                        .service_class = 1};
    Response response = response_with({screw_at({300, 300}, {100, 0})});
    response.designs = {response.situations[0]};
    response.designs[0].design_of = 0;
    response.designs[0].factors = "1.35 G + 1.5 Q";
    Result result;
    judge(piece, response, result);
    const auto rows_of = [&](const std::string& name) {
        std::vector<CheckResult> rows;
        std::copy_if(result.checks.begin(), result.checks.end(), std::back_inserter(rows),
                     [&](const CheckResult& row) { return row.check == name; });
        return rows;
    };
    for (const char* name : {"thread of the screws", "wood at the screws", "points of the screws"}) {
        CAPTURE(name);
        REQUIRE(rows_of(name).size() == 1);
        CHECK(rows_of(name)[0].factors.empty());
        CHECK_FALSE(rows_of(name)[0].demand_unfactored);
        CHECK_THAT(in_own_units(rows_of(name)[0].basis), !Contains("design loads"));
    }
    // a force has its design factors, and so has what it asks of the edges that it pushes to
    for (const char* name : {"screws in shear", "screws too close"}) {
        CAPTURE(name);
        REQUIRE(rows_of(name).size() == 1);
        CHECK(rows_of(name)[0].factors == "1.35 G + 1.5 Q");
    }
}

TEST_CASE("screws are judged by the handbook on its basis and by the code on a strength class",
          "[checks][published]") {
    Piece piece = oak_with(thick(4.5));
    const ScrewForce screw = screw_at({400, 300}, {100, 0});
    const auto handbook = screw_strengths(piece, screw, Duration::long_term);
    REQUIRE(handbook.size() == 1);
    // Wood Handbook eq. 8-13, table 8-4: 44.13 N/mm2, 25 mm of thread of 31.5; eq. 8-10; ten years
    CHECK_THAT(*handbook[0].shear_N, WithinRel(44.13 * 4.5 * 4.5 * 0.75 * 25 / 31.5, 1e-4));
    CHECK_THAT(*handbook[0].withdrawal_N, WithinRel(108.25 * 0.68 * 0.68 * 4.5 * 25 / 5, 1e-9));
    // the force of a test: the weakest 5 % over 1.15, for ten minutes
    const auto tested = screw_strengths(piece, screw, Duration::minutes, LoadFor::strength);
    CHECK_THAT(*tested[0].withdrawal_N,
               WithinRel(108.25 * 0.68 * 0.68 * 4.5 * 25 * (1 - 1.645 * 0.2) / 1.15, 1e-9));
    piece.allowables = {.basis = AllowablesBasis::strength_class,
                        .grade_ratio = 1,
                        .strength_class = "D30",
                        .service_class = 1};
    const auto code = screw_strengths(piece, screw, Duration::long_term);
    REQUIRE(code.size() == 1);
    // D30: rho_k 530 kg/m3; 25 mm of thread of 27 that six diameters are; k_mod 0.7
    const double steel =
        materials::shear_steel_plate({.d = materials::effective_diameter(4.5).value, .axial = 0}, 5, 25, 530);
    CHECK_THAT(*code[0].shear_N, WithinRel(0.7 / 1.3 * steel * 25 / 27, 1e-9));
    // 30 mm of wood are less than 12 d, so the code's withdrawal does not count
    CHECK_THAT(*code[0].withdrawal_N,
               WithinRel(0.7 / 1.3 * 25 / 27 * 108.25 * 0.68 * 0.68 * 4.5 * 25 * (1 - 1.645 * 0.2), 1e-9));
    CHECK_THAT(in_own_units(code[0].withdrawal_basis),
               Contains("asks for wood of 12 d, more than the 30 mm here"));
}

TEST_CASE("wood denser than the handbook's table takes its densest group", "[checks]") {
    CHECK_FALSE(materials::lateral_handbook(0.6, true, 4).has_value());
    CHECK_THAT(materials::lateral_handbook_design(0.6, true, 4)->value, WithinRel(36.40 * 16 * 0.75, 1e-4));
    CHECK_FALSE(materials::lateral_handbook_design(0.2, true, 4).has_value());
}

TEST_CASE("a stiffener whose strength is not known is said not to be judged", "[checks]") {
    Piece piece = oak_with(thick(4.5));
    const auto said_of = [&] {
        Result result;
        judge(piece, response_with({}), result);
        const auto found = std::find_if(result.warnings.begin(), result.warnings.end(), [](const Message& w) {
            return in_own_units(w).find("\"bar\"") != std::string::npos;
        });
        return found == result.warnings.end() ? std::string() : in_own_units(*found);
    };
    CHECK(said_of().empty());
    piece.stiffeners[0].metal = "brass_70_30";
    CHECK_THAT(said_of(),
               Contains("The stress of \"bar\" is not judged: no yield strength known of Cartridge brass"));
    piece.stiffeners[0].metal.clear();
    piece.stiffeners[0].elastic = BarElastic{210000, 80000, 7850};
    CHECK(said_of() == "The stress of \"bar\" is not judged: no yield strength known of stated constants.");
    piece.stiffeners[0].elastic.reset();
    piece.stiffeners[0].wood = "ash_white";
    CHECK(said_of().empty());
    piece.allowables = {.basis = AllowablesBasis::strength_class,
                        .grade_ratio = 1,
                        .strength_class = "D30",
                        .service_class = 1};
    CHECK(said_of() ==
          "The stress of \"bar\" is not judged: D30 is stated of the top, and the bar is of another wood.");
    piece.stiffeners[0].wood = "oak_white";
    CHECK(said_of().empty());
}

TEST_CASE("steel is judged by its yield over gamma_M on a strength class", "[checks][published]") {
    Piece piece = oak_with(thick(4.5));
    piece.allowables = {.basis = AllowablesBasis::strength_class,
                        .grade_ratio = 1,
                        .strength_class = "D30",
                        .service_class = 1};
    const Response response = response_with(
        {}, {.stress_MPa = 100, .at = {500, 300}, .axial_N = 0, .pressure_MPa = 0, .pressure_at = {}});
    CHECK_THAT(judge_stiffener_stress(input_of(piece, response))->capacity, WithinRel(235, 1e-12));
    piece.stiffeners[0].metal = "1.4301";
    CHECK_THAT(judge_stiffener_stress(input_of(piece, response))->capacity, WithinRel(210 / 1.1, 1e-12));
}

TEST_CASE("a wooden bar is judged in bending and in shear by its own wood", "[checks]") {
    const Piece piece = oak_with(thick(4.5), "ash_white");
    StiffenerForce force{
        .stress_MPa = 8, .at = {500, 300}, .axial_N = 0, .pressure_MPa = 0, .pressure_at = {}};
    force.shear_MPa = 1;
    force.shear_at = {120, 300};
    const Response response = response_with({}, force);
    const materials::AllowableStresses ash =
        materials::handbook_allowables(materials::find_wood("ash_white"), 0, 12, 1, Duration::short_term);
    CHECK_THAT(judge_stiffener_stress(input_of(piece, response))->capacity,
               WithinRel(ash.bending_along.value, 1e-12));
    const auto shear = judge_stiffener_shear(input_of(piece, response));
    REQUIRE(shear);
    CHECK(shear->demand == 1);
    CHECK_THAT(shear->capacity, WithinRel(ash.shear.value, 1e-12));
    CHECK(shear->at == Point{120, 300});
    const Response steel = response_with({}, force);
    CHECK_FALSE(
        judge_stiffener_shear(input_of(oak_with(thick(4.5)), steel))); // steel's is told by its stress
}

TEST_CASE("a wooden bar sheared alone governs by its shear", "[checks]") {
    StiffenerForce force;
    force.shear_MPa = 10; // the mean of clear ash is 13.2 MPa, its weakest 5 % are 10.2
    force.shear_at = {120, 300};
    Result result;
    judge(oak_with(thick(4.5), "ash_white"), response_with({}, force), result);
    CHECK(result.governing_check == "stiffener shear");
    CHECK_FALSE(result.passes);
}

TEST_CASE("glue along the grain shears the wood and across it rolls its fibres", "[checks]") {
    Piece piece = oak_with(thick(4.5));
    StiffenerForce force;
    force.glue = {{.at = {200, 300}, .along = 0.3, .across = 0}};
    const Response response = response_with({}, force);
    const auto allowables = *allowables_of(piece, Duration::short_term);
    const auto along = judge_glue_line(input_of(piece, response));
    REQUIRE(along);
    CHECK(along->demand == 0.3);
    CHECK_THAT(along->capacity, WithinRel(allowables.shear.value, 1e-12));
    CHECK_THAT(in_own_units(along->basis), Contains("12 N a mm of its length")); // 0.3 MPa over 40 mm
    piece.top.grain_deg = 90;
    CHECK_THAT(judge_glue_line(input_of(piece, response))->capacity,
               WithinRel(allowables.rolling_shear.value, 1e-9));
    piece.top.grain_deg = 30; // both at once
    const double c = std::cos(std::acos(-1) / 6), s = 0.5;
    CHECK_THAT(
        judge_glue_line(input_of(piece, response))->capacity,
        WithinRel(1 / std::hypot(c / allowables.shear.value, s / allowables.rolling_shear.value), 1e-9));
}

TEST_CASE("the glue of a flat carries the shear flow of one section", "[solver][checks][published]") {
    // a strip as wide as its flat under an even load: flow = V E A r / EI, greatest at the ends (Timoshenko
    // 1955, art. 26)
    constexpr double L = 1200, b = 30, h1 = 25, E1 = 12000, h2 = 6, E2 = 210000, q = 0.4;
    Piece piece;
    piece.top.length = L;
    piece.top.width = b;
    piece.top.thickness = h1;
    piece.top.outline = RectangleShape{{0, L, 0, b}, 0};
    piece.top.wood = "oak_white";
    piece.top.measured.E_along = E1 / 1.1;
    piece.self_weight = false;
    for (const double x : {0.0, L})
        piece.supports.push_back(
            {"knife edge",
             Bearer{.from = {x, 0}, .to = {x, b}, .width = 0, .hold_down = true, .stiffness = {}}});
    piece.loads.push_back({"load", Duration::short_term, AreaLoad{q / b, {}}});
    piece.stiffeners = {{.name = "flat",
                         .section = "flat 30x6",
                         .metal = "S235",
                         .wood = "",
                         .elastic = {},
                         .from = {0, b / 2},
                         .to = {L, b / 2},
                         .screws = {.at = {}, .holes = Holes::bonded, .stiffness = {}}}};
    const Result result = check_piece(piece, {.mesh = CheckOptions::Mesh::normal,
                                              .mesh_size = 20,
                                              .threads = 1,
                                              .want_fields = false,
                                              .progress = {}})
                              .result;
    const auto row = std::find_if(result.checks.begin(), result.checks.end(),
                                  [](const CheckResult& r) { return r.check == "glue line"; });
    REQUIRE(row != result.checks.end());
    const double EA = 1 / (1 / (E1 * b * h1) + 1 / (E2 * b * h2)), r = (h1 + h2) / 2,
                 EI = E1 * b * h1 * h1 * h1 / 12 + E2 * b * h2 * h2 * h2 / 12 + EA * r * r;
    CHECK_THAT(row->demand, WithinRel(q * L / 2 * EA * r / EI / b,
                                      0.03)); // the mean over a stretch at the end, and what the end gathers
}
