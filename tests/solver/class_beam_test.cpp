// SPDX-License-Identifier: MIT
// A strip of C24 on two bearers, every row worked by hand by EN 1990 eq. 6.10 and EN 1995-1-1, beam theory
// for forces and movements.
#include "solver/check/check_piece.hpp"
#include "solver/shell/loads.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// What the reading of stresses takes from a peak, the bearers' slight turning and the mesh leave.
constexpr double by_hand = 0.005;

constexpr double length = 1200, width = 100, h = 40, bearer = 20;

/// C24 of EN 338 along the grain; nothing couples its two ways, so that the strip is a beam.
Piece strip() {
    Piece piece = plain_piece(length, width, h);
    piece.top.elastic =
        Elastic{.E1 = 11000, .E2 = 370, .nu12 = 0, .G12 = 690, .G13 = 690, .G23 = 69, .density_kg_m3 = 420};
    piece.allowables = {
        .basis = AllowablesBasis::strength_class, .strength_class = "C24", .service_class = 1};
    piece.self_weight = true;
    return piece;
}

/// Soft enough that it presses evenly.
Support bearer_at(double x, bool hold_down = false) {
    return {.name = "bearer",
            .kind = Bearer{
                .from = {x, 0}, .to = {x, width}, .width = bearer, .hold_down = hold_down, .stiffness = 0.2}};
}

Load even(const std::string& name, double pressure, Duration duration) {
    return {.name = name, .duration = duration, .kind = AreaLoad{.pressure = pressure, .over = {}}};
}

Result checked(const Piece& piece) {
    CheckOptions options;
    options.threads = 1;
    options.mesh = CheckOptions::Mesh::fine;
    return check_piece(piece, options).result;
}

const CheckResult* find(const Result& result, const std::string& check, const std::string& situation) {
    const auto row = std::find_if(result.checks.begin(), result.checks.end(), [&](const CheckResult& r) {
        return r.check == check && r.situation == situation;
    });
    return row == result.checks.end() ? nullptr : &*row;
}

const CheckResult& row_of(const Result& result, const std::string& check, const std::string& situation) {
    const CheckResult* row = find(result, check, situation);
    INFO(check << ", " << situation);
    REQUIRE(row);
    return *row;
}

} // namespace

TEST_CASE("a beam of C24 is judged row by row as the codes are worked by hand",
          "[checks][published][class_beam]") {
    Piece piece = strip();
    piece.supports = {bearer_at(bearer / 2), bearer_at(length - bearer / 2)};
    piece.loads = {even("books", 0.0015, Duration::long_term), even("meal", 0.001, Duration::medium)};
    const Result result = checked(piece);

    // loads a length, N/mm, and design loads: books are stored, psi_0 = 1, so that they lead wherever they
    // are
    const double g = 420e-9 * standard_gravity * width * h, books = 0.0015 * width, meal = 0.001 * width;
    const double standing = g + books, all = g + books + meal;
    const double design_standing = 1.35 * g + 1.5 * books, design_all = 1.35 * g + 1.5 * books + 1.5 * meal;
    const double L = length - bearer, overhang = bearer / 2;
    const auto moment = [&](double q) { return q * L * L / 8 - q * overhang * overhang / 2; };
    const auto bending = [&](double q) { return moment(q) / (width * h * h / 6); };
    // greatest mean shear over a length of h beside a bearer: its window's left end lies on the bearer where
    // the shear is that of the right end
    const auto shear = [&](double q) {
        const double R = q * length / 2;
        double most = 0;
        for (double from = -bearer / 2; from < 3 * h;
             from += 0.01) { // mean of V over (from, from + h), V from the bearer's middle
            const auto integral = [&](double x) { // of V from -overhang
                const double on = std::min(x, bearer / 2) + bearer / 2, past = std::max(x - bearer / 2, 0.0);
                return R * on * on / (2 * bearer) + R * past - q * (x + overhang) * (x + overhang) / 2;
            };
            most = std::max(most, (integral(from + h) - integral(from)) / h);
        }
        return 1.5 * most / (width * h);
    };

    // EN 1995-1-1 2.4.1: f_k k_mod / gamma_M, 1.3; k_mod of table 3.1: permanent 0.6, long 0.7, medium 0.8;
    // EN 338: f_m 24, f_v 4, f_c,90 2.5; k_cr 0.67
    const double f_m = 24 / 1.3, f_v = 4 * 0.67 / 1.3, f_c90 = 2.5 / 1.3;
    for (const auto& [name, q, design, k_mod] :
         {std::tuple{"standing loads", standing, design_standing, 0.7},
          {"standing loads after the years", standing, design_standing, 0.7},
          {"meal", all, design_all, 0.8}}) {
        CAPTURE(name);
        const CheckResult& bends = row_of(result, "bending along the grain", name);
        CHECK_THAT(bends.demand, WithinRel(bending(design), by_hand));
        CHECK_THAT(*bends.demand_unfactored, WithinRel(bending(q), by_hand));
        CHECK_THAT(bends.capacity, WithinRel(k_mod * f_m, 1e-9));
        CHECK(bends.factors ==
              (std::string(name) == "meal" ? "1.35 G + 1.5 books + 1.5 meal" : "1.35 G + 1.5 books"));
        const CheckResult& shears = row_of(result, "shear through the thickness", name);
        CHECK_THAT(shears.demand, WithinRel(shear(design), by_hand));
        CHECK_THAT(shears.capacity, WithinRel(k_mod * f_v, 1e-9));
        const CheckResult& bears = row_of(result, "bearing at the supports", name);
        CHECK_THAT(bears.demand, WithinRel(design * length / 2 / (bearer * width), by_hand));
        CHECK_THAT(*bears.demand_unfactored, WithinRel(q * length / 2 / (bearer * width), by_hand));
        CHECK_THAT(bears.capacity, WithinRel(k_mod * f_c90, 1e-9));
        // nothing acts across the grain: together the stresses use what the bending does
        CHECK_THAT(row_of(result, "stresses together", name).demand,
                   WithinRel(bending(design) / (k_mod * f_m), by_hand));
        CHECK_FALSE(find(result, "tipping", name)); // nothing lies past the supports
        CHECK_FALSE(find(result, "uplift at what is held down", name));
    }
    // sag on the loads as they are, mean moduli: 5 q L^4/384 E I + q L^2/(8 kappa G A), kappa 5/6; less what
    // the ends beyond the bearers take
    const double EI = 11000 * width * h * h * h / 12, GA = 5.0 / 6 * 690 * width * h;
    const auto sag = [&](double q) {
        return 5 * q * std::pow(L, 4) / (384 * EI) - q * overhang * overhang * L * L / (16 * EI) +
               q * L * L / (8 * GA);
    };
    CHECK_THAT(row_of(result, "sag at once", "standing loads").demand, WithinRel(sag(standing), by_hand));
    CHECK_THAT(row_of(result, "sag at once", "meal").demand, WithinRel(sag(all), by_hand));
    CHECK_THAT(row_of(result, "sag after the years", "standing loads after the years").demand,
               WithinRel(1.6 * sag(standing), by_hand));                  // k_def 0.6
    CHECK_FALSE(row_of(result, "sag at once", "meal").demand_unfactored); // they are
}

TEST_CASE("a beam of C24 past one bearer tips and lifts as the code says",
          "[checks][published][class_beam]") {
    // bearers at 200 and 900 of 1200; a jar of 20 N stands on the far end, 1160 to 1200
    const double G = 420e-9 * standard_gravity * length * width * h;
    const Load jar{.name = "jar",
                   .duration = Duration::short_term,
                   .kind =
                       PatchLoad{.force = 20, .at = {1180, 50}, .size_x = 40, .size_y = width, .over = {}}};
    Piece loose = strip();
    loose.supports = {bearer_at(200), bearer_at(900)};
    loose.loads = {jar};
    // about the outer edge of the bearer, at 910: the weight holds on an arm of 310, the jar harms on one of
    // 270
    const Result tips = checked(loose);
    const CheckResult& tipping = row_of(tips, "tipping", "jar");
    CHECK_THAT(tipping.demand, WithinRel(1.5, 1e-12));
    CHECK_THAT(tipping.capacity, WithinRel(0.9 * G * 310 / (20 * 270), by_hand));
    CHECK_THAT(*tips.situations[2].tipping_factor, WithinRel(G * 310 / (20 * 270), by_hand));

    Piece held = strip();
    held.top.elastic.reset();
    held.top.wood = "spruce_european";
    held.supports = {bearer_at(200, true), bearer_at(900)};
    std::get<Bearer>(held.supports[0].kind).held_by.strength_N = 150;
    held.loads = {jar};
    std::get<PatchLoad>(held.loads[0].kind).force = 300;
    const Result lifts = checked(held);
    const double weight = lifts.mass.top_kg * standard_gravity;
    // levers about the middles of the bearers, 700 apart: 1.5 x 300 on an arm of 280, 1.0 G holds on one of
    // 300
    const CheckResult& uplift = row_of(lifts, "uplift at what is held down", "jar");
    CHECK_THAT(uplift.demand,
               WithinRel((1.5 * 300 * 280 - 1.0 * weight * 300) / 700,
                         0.02)); // the loose bearer's force may lie off its middle: +-10 mm of 700
    CHECK(uplift.factors == "1 G + 1.5 jar");
    CHECK_THAT(*uplift.demand_unfactored, WithinRel((300 * 280 - weight * 300) / 700, 0.03));
    CHECK(uplift.capacity == 150);
    CHECK_FALSE(lifts.passes);
    CHECK_FALSE(find(lifts, "tipping", "jar")); // it is held
}
