// SPDX-License-Identifier: MIT
// The checks of stiffeners and their screws, each with its demand worked by hand: by Newmark's slip, by
// weight, by a foundation of springs.
#include "materials/metal.hpp"
#include "materials/screw.hpp"
#include "materials/wood.hpp"
#include "solver/capacity/screw_strength.hpp"
#include "solver/check/check_piece.hpp"
#include "tests/solver/checks_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double L = 1200, b = 30, h1 = 25, E1 = 12000, h2 = 6, E2 = 210000, q = 0.4;

/// A strip of oak as wide as its steel flat, so that no wood beside it lags behind.
Piece strip(Screws screws) {
    Piece piece;
    piece.top.length = L;
    piece.top.width = b;
    piece.top.thickness = h1;
    piece.top.outline = RectangleShape{{0, L, 0, b}, 0};
    piece.top.wood = "oak_white";
    piece.top.measured.E_along = E1 / 1.1; // E_L is 1.1 times the bending modulus
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
                         .screws = std::move(screws)}};
    return piece;
}

Result checked(const Piece& piece) {
    return check_piece(piece, {.mesh = CheckOptions::Mesh::normal,
                               .mesh_size = {},
                               .threads = 1,
                               .want_fields = false,
                               .progress = {}})
        .result;
}

const CheckResult& row_of(const Result& result, const std::string& check) {
    const auto found = std::find_if(result.checks.begin(), result.checks.end(),
                                    [&](const CheckResult& row) { return row.check == check; });
    REQUIRE(found != result.checks.end());
    return *found;
}

/// Newmark, Siess and Viest, Proc. SESA 9(1), 1951: the force in the flat of a strip under an even load, x
/// from its end.
/// N'' = a^2 N - g M, N = 0 at both ends, with a^2 = K (1/EA + r^2/EI0), g = K r/EI0, M = q x (L - x)/2.
struct Newmark {
    double K; ///< N/mm per mm of length
    double I1 = b * h1 * h1 * h1 / 12, I2 = b * h2 * h2 * h2 / 12, r = (h1 + h2) / 2;
    double EI0 = E1 * I1 + E2 * I2, EA = 1 / (1 / (E1 * b * h1) + 1 / (E2 * b * h2));
    double a = std::sqrt(K * (1 / EA + r * r / EI0)), g = K * r / EI0;
    double moment(double x) const { return q * x * (L - x) / 2; }
    double force(double x) const {
        return g / (a * a) *
               (moment(x) - q / (a * a) * (1 - std::cosh(a * (x - L / 2)) / std::cosh(a * L / 2)));
    }
    double stress_of_flat(double x) const {
        return force(x) / (b * h2) + (moment(x) - force(x) * r) * E2 * I2 / EI0 * (h2 / 2) / I2;
    }
};

/// A response of a bar under an oak top, its forces written by the test.
Response bar_response(StiffenerForce force, std::vector<ScrewForce> screws) {
    SituationResponse one = situation("a person", Stage::passing, Duration::short_term);
    one.stiffeners = {force};
    one.screws = std::move(screws);
    return response_of(std::move(one));
}

Piece oak_with(const std::string& section, Screws screws) {
    Piece piece = oak_top();
    piece.stiffeners = {{.name = "bar",
                         .section = section,
                         .metal = "S235",
                         .wood = "",
                         .elastic = {},
                         .from = {100, 300},
                         .to = {900, 300},
                         .screws = std::move(screws)}};
    return piece;
}

} // namespace

TEST_CASE("the outermost screw bears the slip that Newmark gives it", "[solver][checks][published]") {
    constexpr double spacing = 25, slip = 2500;
    Screws screws{
        .diameter = 4, .length = 25, .spacing = 0, .at = {}, .holes = Holes::round, .stiffness = slip};
    for (double s = spacing / 2; s < L; s += spacing) screws.at.push_back(s);
    const Newmark hand{slip / spacing};
    const Result result = checked(strip(screws));
    const CheckResult& shear = row_of(result, "screws in shear");
    CHECK_THAT(shear.demand, WithinRel(hand.force(spacing), 0.015)); // it gathers the force of its own 25 mm
    CHECK((shear.at->x < spacing || shear.at->x > L - spacing));
    // Wood Handbook eq. 8-13 with K = 44.13 N/mm2 of table 8-4 over 4/3, of 19 mm of thread: short of 7
    // diameters, so it falls in proportion; 1.25 for seven days
    CHECK_THAT(shear.capacity, WithinRel(44.13 * 16 * 3 / 4 * 19 / 28 * 1.25, 1e-4));
    CHECK_THAT(row_of(result, "stiffener stress").demand, WithinRel(hand.stress_of_flat(L / 2), 0.01));
}

TEST_CASE("the stress of a glued flat is that of the whole section", "[solver][checks][published]") {
    const Result result = checked(strip({.at = {}, .holes = Holes::bonded, .stiffness = {}}));
    const Newmark hand{1e7};
    const CheckResult& row = row_of(result, "stiffener stress");
    CHECK_THAT(row.demand, WithinRel(hand.stress_of_flat(L / 2), 0.01));
    CHECK_THAT(row.capacity, WithinRel(235 / 1.67, 1e-12)); // S235, EN 1993-1-1 Table 3.1; AISC 360-16 F1
}

TEST_CASE("a bar that hangs across the grain pulls its screws by its weight alone", "[solver][checks]") {
    Piece piece = oak_top();
    piece.top.outline = RectangleShape{{0, 1000, 0, 600}, 0};
    for (Support& support : piece.supports) std::get<Pad>(support.kind).hold_down = true;
    piece.stiffeners = {{.name = "bar",
                         .section = "flat 80x40",
                         .metal = "S235",
                         .wood = "",
                         .elastic = {},
                         .from = {500, 40},
                         .to = {500, 560},
                         .screws = {.diameter = 4,
                                    .length = 55,
                                    .spacing = 0,
                                    .at = {210, 310},
                                    .holes = Holes::slotted,
                                    .stiffness = {}}}};
    const Result result = checked(piece);
    const CheckResult& row = row_of(result, "screws pulled out");
    const double weight = 80e-3 * 40e-3 * 0.520 * 7850 * 9.80665; // N
    CHECK_THAT(row.demand, WithinRel(weight / 2, 1e-3));
    // a fifth of Wood Handbook Eq. 8-10 for 15 mm of thread in oak, 0.9 for a load for good
    CHECK_THAT(row.capacity, WithinRel(108.25 * 0.68 * 0.68 * 4 * 15 / 5 * 0.9, 1e-9));
    CHECK_THAT(row_of(result, "screws in shear").demand,
               WithinAbs(0, 1)); // the slots let go, the fixing screw is in the middle of nothing
}

TEST_CASE("a screw that is pulled and sheared is used by the root of both squares", "[checks]") {
    const Piece piece =
        oak_with("flat 40x5", {.diameter = 5, .length = 30, .spacing = 100, .at = {}, .stiffness = {}});
    const ScrewForce screw{.stiffener = 0,
                           .at = {150, 300},
                           .thread = 25,
                           .wood = 30,
                           .slip_mm = 0.1,
                           .shear_N = 300,
                           .withdrawal_N = 200};
    const Response response = bar_response(
        {},
        {screw,
         {.stiffener = 0, .at = {250, 300}, .thread = 25, .wood = 30, .shear_N = 90, .withdrawal_N = 10}});
    const auto row = judge_screw_both(input_of(piece, response));
    REQUIRE(row);
    double most = 0;
    for (const ScrewStrength& strength : screw_strengths(piece, screw, Duration::short_term))
        if (strength.shear_N && strength.withdrawal_N)
            most = std::max(most, std::sqrt(std::pow(300 / *strength.shear_N, 2) +
                                            std::pow(200 / *strength.withdrawal_N, 2)));
    CHECK(most > 0);
    CHECK_THAT(row->demand, WithinRel(most, 1e-12)); // EN 1995-1-1 eq. 8.28
    CHECK(row->capacity == 1);
    CHECK(row->at == Point{150, 300});
}

TEST_CASE("a screw sheared alone governs by its shear", "[checks]") {
    const Piece piece =
        oak_with("flat 40x5", {.diameter = 5, .length = 30, .spacing = 100, .at = {}, .stiffness = {}});
    const Response response =
        bar_response({}, {{.stiffener = 0, .at = {150, 300}, .thread = 25, .wood = 30, .shear_N = 2000}});
    Result result;
    judge(piece, response, result);
    CHECK(result.governing_check == "screws in shear");
    CHECK_FALSE(result.passes);
}

TEST_CASE("what is left over the point of a screw is the wood less the thread", "[checks]") {
    const Piece piece =
        oak_with("flat 40x5", {.diameter = 4, .length = 21, .spacing = 100, .at = {}, .stiffness = {}});
    const Response response =
        bar_response({}, {{.stiffener = 0, .at = {150, 300}, .thread = 16, .wood = 30},
                          {.stiffener = 0, .at = {450, 300}, .thread = 16, .wood = 18}});
    const auto row = judge_screw_point(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->demand == 3);   // common practice
    CHECK(row->capacity == 2); // 18 - (21 - 5)
    CHECK(row->at == Point{450, 300});
}

TEST_CASE("a leg too slender for its yield takes less by the square of its slenderness", "[checks]") {
    const StiffenerForce force{
        .stress_MPa = -90, .at = {500, 300}, .axial_N = 0, .pressure_MPa = 0, .pressure_at = {}};
    const Screws close{
        .diameter = 0, .length = 0, .spacing = 0, .at = {}, .holes = Holes::bonded, .stiffness = {}};
    const auto capacity_of = [&](const char* section, const Screws& screws) {
        const Piece piece = oak_with(section, screws);
        const Response response = bar_response(force, {});
        const auto row = judge_stiffener_stress(input_of(piece, response));
        REQUIRE(row);
        CHECK(row->demand == 90);
        return row->capacity;
    };
    const double whole = 235 / 1.67;
    CHECK_THAT(capacity_of("bar 4x56", close),
               WithinRel(whole, 1e-12)); // 14 thicknesses deep: EN 1993-1-1 table 5.2
    CHECK_THAT(capacity_of("bar 3x60", close), WithinRel(whole * 14 * 14 / 400, 1e-12)); // 20
    CHECK_THAT(capacity_of("angle 50x50x3", close),
               WithinRel(whole * 14 * 14 / std::pow(47 / 3.0, 2), 1e-12));
}

TEST_CASE("a tall bar between screws far apart tips over before it yields", "[checks]") {
    const StiffenerForce force{
        .stress_MPa = -90, .at = {500, 300}, .axial_N = 0, .pressure_MPa = 0, .pressure_at = {}};
    const auto capacity_with = [&](std::vector<double> at) {
        const Piece piece = oak_with(
            "bar 6x84", {.diameter = 3, .length = 100, .spacing = 0, .at = std::move(at), .stiffness = {}});
        const Response response = bar_response(force, {});
        return judge_stiffener_stress(input_of(piece, response))->capacity;
    };
    const double E = materials::find_metal("S235").E, whole = 235 / 1.67;
    // AISC 360-16 eq. F11-4: 1.9 E / (L d/t^2), which is yield at L d/t^2 = 1698
    CHECK_THAT(capacity_with({20, 400, 780}), WithinRel(whole, 1e-12)); // 380 x 84 / 36 = 887
    CHECK_THAT(capacity_with({20, 780}), WithinRel(1.9 * E / (760 * 84 / 36.0) / 1.67, 1e-12)); // 1773
    CHECK_THAT(capacity_with({20}),
               WithinRel(1.9 * E / (780 * 84 / 36.0) / 1.67, 1e-12)); // past the last screw
}

TEST_CASE("a bar that carries a load to its ends is pressed as a foundation of springs says",
          "[solver][checks][published]") {
    // Hetenyi, Beams on Elastic Foundation, 1946: an infinite beam (the wood) under a load P over 2 c, on
    // springs k (its own compression against a bar that does not give): greatest pressure P/(2 c) (1 - e^(-m
    // c) cos(m c)), m^4 = k/(4 EI).
    Screws screws{
        .diameter = 1, .length = 25, .spacing = 0, .at = {}, .holes = Holes::oversize, .stiffness = 1};
    for (double s = 20; s < L; s += 40) screws.at.push_back(s);
    Piece piece = strip(screws);
    constexpr double E_across = 800, P = 500, c = 10;
    piece.top.wood.clear();
    piece.top.measured = {};
    piece.top.elastic =
        Elastic{E1, E_across, 0, 1e6, 1e6, 1e6, {}}; // stiff in shear, as the closed form has it
    piece.allowables = {.basis = AllowablesBasis::strength_class,
                        .grade_ratio = 1,
                        .strength_class = "D30",
                        .service_class = 1};
    piece.stiffeners[0].metal.clear();
    piece.stiffeners[0].elastic = BarElastic{1e9, 4e8, 0};
    piece.loads = {{"load", Duration::short_term,
                    PatchLoad{.force = P, .at = {L / 2, b / 2}, .size_x = 2 * c, .size_y = b, .over = {}}}};
    const CheckResult row = row_of(checked(piece), "bearing under stiffeners");
    const double k = E_across / h1 * b, m = std::pow(k / (4 * E1 * b * h1 * h1 * h1 / 12), 0.25);
    REQUIRE(row.demand_unfactored); // on a strength class
    CHECK_THAT(*row.demand_unfactored,
               WithinRel(P / (2 * c * b) * (1 - std::exp(-m * c) * std::cos(m * c)), 0.03));
}
