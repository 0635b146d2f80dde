// SPDX-License-Identifier: MIT
// A real board on the bench: the formulas by hand, published shares of shear, and bands that hold the truth.
#include "materials/error.hpp"
#include "solver/boardtest/board.hpp"
#include "solver/boardtest/handbook.hpp"
#include "solver/boardtest/slips.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>

using namespace hollowtop;

namespace {

constexpr double pi = 3.14159265358979;

TestedBoard oak() {
    return {.length = {1800, 1},
            .width = {200, 0.5},
            .thickness = {40, 0.1},
            .mass_kg = Gauged{10.1, 0.03},
            .E_over_G = {15, 2.9}};
}

/// Deflection at mid span of a simply supported Timoshenko beam, coefficient 5/6: F L^3 / 48 E I + F L / (4 k G A).
double deflection(double F, double L, double b, double h, double E, double E_over_G) {
    return F * L * L * L / (4 * E * b * h * h * h) + F * L * E_over_G / (4 * (5.0 / 6) * E * b * h);
}

BoardTest bend_of(double E, const TestedBoard& board, double span,
                  std::vector<double> loads = {0, 50, 100, 150, 200}) {
    BoardTest test{.kind = TestKind::bend, .name = "bend", .span = {span, 1}};
    for (const double F : loads)
        test.readings.push_back({F, 0.2 + deflection(F, span, board.width.value, board.thickness.value, E,
                                                     board.E_over_G.value)});
    return test;
}

std::string all_of(const std::vector<Message>& messages) {
    std::string text;
    for (const Message& message : messages) text += in_own_units(message) + "\n";
    return text;
}

} // namespace

TEST_CASE("a bend test gives back the modulus that bent the board, whatever the span", "[boardtest]") {
    const TestedBoard board = oak();
    for (const double span : {800.0, 1000.0, 1500.0, 1750.0}) {
        CAPTURE(span);
        const TestOutcome outcome = outcome_of(board, bend_of(12000, board, span));
        CHECK(std::abs(outcome.modulus / 12000 - 1) < 1e-9);
        CHECK(std::abs(outcome.line->offset_mm - 0.2) < 1e-9);
        CHECK(std::abs(outcome.stress_MPa - 1.5 * 200 * span / (200 * 40 * 40)) < 1e-9);
    }
}

TEST_CASE("the error without the correction for shear is as tabulated", "[boardtest]") {
    // percent for E/G 10, 16 and 20, one decimal
    const double table[5][4] = {{14, 6.1, 9.8, 12.2},
                                {20, 3.0, 4.8, 6.0},
                                {24, 2.1, 3.3, 4.2},
                                {30, 1.3, 2.1, 2.7},
                                {40, 0.8, 1.2, 1.5}};
    const double ratios[3] = {10, 16, 20};
    for (const auto& row : table)
        for (int i = 0; i < 3; ++i) {
            CAPTURE(row[0], ratios[i]);
            TestedBoard board = oak();
            board.width.value = 100; // narrow against every span
            board.E_over_G.value = ratios[i];
            const TestOutcome outcome = outcome_of(board, bend_of(12000, board, 40 * row[0]));
            CHECK(std::abs(100 * outcome.shear_share - row[i + 1]) <= 0.05 + 1e-9);
            CHECK(std::abs(outcome.modulus / outcome.apparent - 1 - outcome.shear_share) < 1e-9);
        }
}

TEST_CASE("the budget of a bend test is the root of the sum of its squares", "[boardtest]") {
    // b 200, h 40, L 1500, two readings at no load and 200 N, each good for the gauge's error: by hand
    TestedBoard board = oak();
    board.E_over_G.error = 0;
    for (const auto& [u_h, u_d] : {std::pair{0.1, 0.01}, {0.2, 0.01}, {0.5, 0.02}}) {
        CAPTURE(u_h, u_d);
        board.thickness.error = u_h;
        BoardTest test = bend_of(12000, board, 1500, {0, 200});
        test.gauge_mm = u_d;
        const TestOutcome outcome = outcome_of(board, test);
        const double d = test.readings[1].deflection_mm - test.readings[0].deflection_mm;
        const double shear = 1.2 * 15 * std::pow(40.0 / 1500, 2), in_h = 3 - 2 * shear / (1 + shear);
        const double by_hand =
            std::sqrt(std::pow(in_h * u_h / 40, 2) + std::pow(in_h * 1 / 1500, 2) + std::pow(0.5 / 200, 2) +
                      0.01 * 0.01 + 2 * u_d * u_d / (d * d) + 0.02 * 0.02);
        CHECK(std::abs(outcome.uncertainty / by_hand - 1) < 0.002);
    }
}

TEST_CASE("a tone in bending and one along the length give back the modulus they are made of",
          "[boardtest]") {
    const TestedBoard board = oak();
    const double rho = 10.1 / (1800.0 * 200 * 40) * 1e9;
    // a thin board, so that shear and rotary inertia hardly count: f = 22.3733 / (2 pi L^2) (E t^2 / 12 rho)^1/2
    TestedBoard thin = board;
    thin.thickness.value = 9;
    const double thin_rho = 10.1 / (1.8 * 0.2 * 0.009);
    const double f = 22.3733 / (2 * pi * 1.8 * 1.8) * 0.009 * std::sqrt(12e9 / (12 * thin_rho));
    BoardTest tone{.kind = TestKind::tone_bending, .hertz = {f, 0.2}};
    const double shear = (1.2 * 15 + 1) * 1.233 * std::pow(9.0 / 1800, 2); // T - 1, to some percent of itself
    CHECK(std::abs(outcome_of(thin, tone).modulus * 1.10 / 12000 - 1 - shear) < 0.0001);
    BoardTest along{.kind = TestKind::tone_along, .hertz = {std::sqrt(12e9 / rho) / (2 * 1.8), 2}};
    CHECK(std::abs(outcome_of(board, along).modulus * 1.175 / 12000 - 1) < 1e-9);
    const TestOutcome wood = outcome_of(board, tone);
    CHECK(wood.modulus > *wood.isotropic); // the factor of the isotropic bar is too small for wood
}

TEST_CASE("moisture takes a board to the piece it is for, and drying below 12 percent earns nothing",
          "[boardtest]") {
    TestedBoard board = oak();
    const BoardTest test = bend_of(12000, board, 1500);
    board.moisture_percent = Gauged{15, 0.6};
    CHECK(std::abs(outcome_of(board, test).modulus / 12000 - 1) < 1e-9); // as tested
    CHECK(std::abs(outcome_of(board, test).modulus_12 / 12000 - 1.045) < 1e-9);
    board.piece_moisture_percent = 8;
    CHECK(std::abs(outcome_of(board, test).modulus / 12000 - 1.045) < 1e-9);
    board.moisture_percent = Gauged{9, 0.6};
    CHECK(std::abs(outcome_of(board, test).modulus / 12000 - 1) < 1e-9);
    board.piece_moisture_percent = 16;
    CHECK(std::abs(outcome_of(board, test).modulus / (12000 * (1 - 0.045) / 1.06) - 1) < 1e-9);
    CHECK(outcome_of(board, test).uncertainty > outcome_of(oak(), test).uncertainty);
}

TEST_CASE("a wide board is stiffer than its wood, by the plate at the most", "[boardtest]") {
    TestedBoard board = oak();
    board.poisson_product = 0.025;
    const BoardTest test = bend_of(12000, board, 1500);
    CHECK(outcome_of(board, test).plate_share == 0);
    board.width.value = 600;
    const TestOutcome wide = outcome_of(board, bend_of(12000, board, 1500));
    CHECK(std::abs(wide.modulus / 12000 - 0.975) < 1e-9);
}

TEST_CASE("density is weight over size and goes half a percent a point of moisture", "[boardtest]") {
    TestedBoard board = oak();
    const double by_hand = 10.1 / (1.8 * 0.2 * 0.04);
    CHECK(std::abs(density_of(board)->value - by_hand) < 1e-9);
    CHECK(std::abs(density_of(board)->error / by_hand -
                   std::sqrt(std::pow(0.03 / 10.1, 2) + std::pow(1.0 / 1800, 2) + std::pow(0.5 / 200, 2) +
                             std::pow(0.1 / 40, 2))) < 1e-9);
    board.moisture_percent = Gauged{14, 0.6};
    board.piece_moisture_percent = 10;
    CHECK(std::abs(density_of(board)->value - 0.98 * by_hand) < 1e-9);
    board.mass_kg.reset();
    CHECK_FALSE(density_of(board).has_value());
}

TEST_CASE(
    "two hundred boards of known stiffness lie within their 90 percent bands 85 to 95 times in a hundred",
    "[boardtest]") {
    std::mt19937_64 dice(20261);
    std::normal_distribution<double> normal;
    const auto out_by = [&](Gauged gauged) { return gauged.value + gauged.error * normal(dice); };
    int by_bend = 0, by_tone = 0, by_along = 0, by_all = 0, by_posterior = 0;
    constexpr int n = 200;
    for (int i = 0; i < n; ++i) {
        const double E = 11800 * std::max(0.4, 1 + 0.22 * normal(dice)), E_over_G = 15 + 2.9 * normal(dice);
        const double rho = 700 * (1 + 0.1 * normal(dice));
        const double L = 1200 + 800 * std::abs(std::sin(i)), h = 30 + 10 * std::abs(std::cos(i)), b = 150,
                     span = L - 80;
        // what is read: each true size out by its stated error
        TestedBoard board{.length = {L, 1},
                          .width = {b, 0.5},
                          .thickness = {h, 0.15},
                          .mass_kg = Gauged{rho * L * b * h * 1e-9, 0.05},
                          .E_over_G = {15, 2.9}};
        for (Gauged* gauged : {&board.length, &board.width, &board.thickness, &*board.mass_kg})
            gauged->value = out_by(*gauged);
        BoardTest bend{.kind = TestKind::bend, .span = {out_by({span, 1}), 1}};
        const double weights = 1 + 0.01 * normal(dice), even = 1 + 0.02 * normal(dice);
        for (const double F : {20.0, 40.0, 60.0, 80.0, 100.0})
            bend.readings.push_back(
                {F, 0.4 + deflection(F * weights, span, b, h, E * even, E_over_G) + 0.01 * normal(dice)});
        const double ratio = 0.04 * normal(dice);
        // by the slender bar and T of tests/solver/free_beam_test.cpp
        const double T = 1 + (1.2 * E_over_G + 1) * 1.233 *
                                 std::pow(h / L, 2); // near enough: 16.0, 23.4, 30.8 at 10, 15, 20
        BoardTest tone{
            .kind = TestKind::tone_bending,
            .hertz = {1028 * h / (L * L) * 1e3 * std::sqrt(1.10 * (1 + ratio) * E * 1e6 / rho / T) * 1e-3,
                      0.3}};
        tone.hertz.value = out_by(tone.hertz);
        BoardTest along{.kind = TestKind::tone_along,
                        .hertz = {std::sqrt(1.175 * (1 + ratio) * E * 1e6 / rho) / (2 * L) * 1e3, 5}};
        along.hertz.value = out_by(along.hertz);
        const std::vector<TestOutcome> tests{outcome_of(board, bend), outcome_of(board, tone),
                                             outcome_of(board, along)};
        const auto holds = [&](double found, double u) { return std::abs(found - E) <= band_90 * u * found; };
        by_bend += holds(tests[0].modulus, tests[0].uncertainty);
        by_tone += holds(tests[1].modulus, tests[1].uncertainty);
        by_along += holds(tests[2].modulus, tests[2].uncertainty);
        const Together all = together_of(tests);
        by_all += holds(all.modulus, all.uncertainty);
        const Gauged posterior =
            updated({11800, 0.22 * 11800}, {tests[0].modulus, tests[0].uncertainty * tests[0].modulus});
        by_posterior += std::abs(posterior.value - E) <= band_90 * posterior.error;
        CHECK(posterior.error < 0.22 * 11800);
    }
    CAPTURE(by_bend, by_tone, by_along, by_all, by_posterior);
    for (const int held : {by_bend, by_tone, by_along, by_all, by_posterior}) {
        CHECK(held >= 0.85 * n);
        CHECK(held <= 0.95 * n);
    }
}

TEST_CASE("two tests that share their errors are no better than one, and two that share none are",
          "[boardtest]") {
    TestOutcome one{.modulus = 10000,
                    .modulus_12 = 10000,
                    .parts = {{ErrorFrom::thickness, 0.03}},
                    .uncertainty = 0.03,
                    .uncertainty_12 = 0.03};
    const TestOutcome same = one;
    CHECK(std::abs(together_of({one, same}).uncertainty - 0.03) < 1e-12);
    one.parts = {{ErrorFrom::reading, 0.03}};
    const Together apart = together_of({one, one});
    CHECK(std::abs(apart.uncertainty - 0.03 / std::sqrt(2)) < 1e-12);
    CHECK_FALSE(apart.at_odds.has_value());
    TestOutcome stiff = one;
    stiff.modulus = stiff.modulus_12 = 13000;
    const Together odd = together_of({one, stiff});
    REQUIRE(odd.at_odds.has_value());
    // the band reaches both
    CHECK(odd.modulus * std::exp(-band_90 * odd.uncertainty) < 10000);
    CHECK(odd.modulus * std::exp(band_90 * odd.uncertainty) > 13000);
    // what two errors of one test do is not mixed: a 0.03 and -0.03 of two sources are 0.03 root 2 in each, and in both
    TestOutcome wet = one;
    wet.parts = {{ErrorFrom::meter, 0.03}, {ErrorFrom::moisture_rate, -0.03}};
    wet.uncertainty = wet.uncertainty_12 = 0.03 * std::sqrt(2);
    CHECK(std::abs(together_of({wet, wet}).uncertainty - wet.uncertainty) < 1e-12);
    // weights by variances: 1 to 4
    stiff.uncertainty = 0.06;
    CHECK(std::abs(together_of({one, stiff}).weights[0] - 0.8) < 1e-12);
}

TEST_CASE("a prior and a measurement meet by the weights of their variances", "[boardtest]") {
    const Gauged both = updated({10000, 2000}, {12000, 1000});
    CHECK(std::abs(both.value - (10000 * 0.2 + 12000 * 0.8)) < 1e-9);
    CHECK(std::abs(both.error - std::sqrt(1 / (1 / 4e6 + 1 / 1e6))) < 1e-9);
}

TEST_CASE("what measured writes is a tenth less than the modulus without shear, as the piece file reads it",
          "[boardtest]") {
    CHECK(std::abs(bending_modulus(11000) - 10000) < 1e-9);
}

TEST_CASE("a reading that is off is named with what the others say", "[boardtest]") {
    const TestedBoard board = oak();
    BoardTest test = bend_of(12000, board, 1500, {0, 50, 100, 150, 200});
    test.readings[3].deflection_mm += 0.3;
    const TestOutcome outcome = outcome_of(board, test);
    REQUIRE(outcome.line->off.has_value());
    CHECK(outcome.line->off->index == 3);
    CHECK(std::abs(outcome.line->off->off_mm - 0.3) < 1e-9);
    CHECK(all_of(outcome.warnings).find("reading 4 (") != std::string::npos);
    CHECK(outcome.uncertainty > outcome_of(board, bend_of(12000, board, 1500)).uncertainty);
}

TEST_CASE(
    "curved readings, a gap on the way back, a gauge that counts down and one that hardly moves are told",
    "[boardtest]") {
    const TestedBoard board = oak();
    BoardTest softer = bend_of(12000, board, 1500, {0, 100, 200, 300, 400, 500});
    for (LoadReading& r : softer.readings) r.deflection_mm += 1e-6 * r.load_N * r.load_N;
    CHECK(all_of(outcome_of(board, softer).warnings).find("more per newton") != std::string::npos);
    for (LoadReading& r : softer.readings) r.deflection_mm -= 2e-6 * r.load_N * r.load_N;
    CHECK(all_of(outcome_of(board, softer).warnings).find("less per newton") != std::string::npos);
    BoardTest back = bend_of(12000, board, 1500, {0, 50, 100, 150, 200, 150, 100, 50, 0});
    CHECK(all_of(outcome_of(board, back).warnings).empty());
    for (std::size_t i = 5; i < 9; ++i) back.readings[i].deflection_mm += 0.06;
    CHECK(all_of(outcome_of(board, back).warnings).find("on the way back") != std::string::npos);
    BoardTest down = bend_of(12000, board, 1500);
    for (LoadReading& r : down.readings) r.deflection_mm = 10 - r.deflection_mm;
    CHECK(outcome_of(board, down).line->counts_down);
    CHECK(std::abs(outcome_of(board, down).modulus / 12000 - 1) < 1e-9);
    CHECK(all_of(outcome_of(board, bend_of(12000, board, 1500, {0, 20, 40})).warnings)
              .find("little for a gauge") != std::string::npos);
    CHECK_THROWS_AS(outcome_of(board, bend_of(12000, board, 1500, {0, 1})), Error);
    CHECK_THROWS_AS(outcome_of(board, bend_of(12000, board, 1500, {100, 100})), Error);
    CHECK_THROWS_AS(outcome_of(board, bend_of(12000, board, 1900)), Error); // longer than the board
    CHECK(all_of(outcome_of(board, bend_of(12000, board, 500, {0, 1000, 2000, 3000})).warnings)
              .find("14 is the least") != std::string::npos);
    CHECK(
        all_of(outcome_of(board, bend_of(12000, board, 1500, {0, 1000, 2000})).warnings).find("over 8 MPa") !=
        std::string::npos);
}

TEST_CASE("a slip of the pen is guessed from the stiffness that it makes", "[boardtest]") {
    TestedBoard board = oak();
    const Plausible plausible{.expected = 12000, .least = 3600, .most = 24000};
    const auto told = [&](const TestedBoard& typed, const BoardTest& test) {
        return all_of(slips_of(typed, test, outcome_of(typed, test), plausible, 1));
    };
    BoardTest test = bend_of(12000, board, 1500);
    CHECK(told(board, test).empty());
    BoardTest cm = test;
    for (LoadReading& r : cm.readings) r.deflection_mm /= 10;
    CHECK(told(board, cm).find("centimetres") != std::string::npos);
    BoardTest swapped = test;
    for (LoadReading& r : swapped.readings) std::swap(r.load_N, r.deflection_mm);
    CHECK(told(board, swapped).find("other order") != std::string::npos);
    BoardTest kg = test;
    for (LoadReading& r : kg.readings) r.load_N /= 9.80665;
    CHECK(told(board, kg).find("kilograms, read as newtons") != std::string::npos);
    TestedBoard thin = board;
    thin.thickness.value = 4;
    CHECK(told(thin, test).find("thickness may be centimetres") != std::string::npos);
    TestedBoard turned = board;
    std::swap(turned.width, turned.thickness);
    CHECK(told(turned, test).find("each other's place") != std::string::npos);
    BoardTest tone{.kind = TestKind::tone_bending, .hertz = {2.757 * 53, 0.5}};
    CHECK(told(board, tone).find("second tone") != std::string::npos);
    tone.hertz.value = 1150;
    CHECK(told(board, tone).find("along the length") != std::string::npos);
}

TEST_CASE("the handbook is looked up with the wood's own shear and scatter", "[boardtest]") {
    const Handbook book = handbook_of(materials::find_wood("white oak"), 0);
    const materials::Wood& wood = materials::find_wood("white oak");
    CHECK(std::abs(book.E_along.value / (1.10 * *wood.moe) - 1) < 1e-9);
    CHECK(std::abs(book.E_along.error / book.E_along.value - 0.22) < 1e-9);
    CHECK(book.E_over_G.value > 8);
    CHECK(book.E_over_G.value < 25);
    CHECK(book.poisson_product > 0);
    CHECK(book.poisson_product < 0.03 + 0.02);
}

TEST_CASE("every wood of the table can be tested: its mean, its shear and its density are such as wood has",
          "[boardtest]") {
    int n = 0;
    for (const materials::Wood& wood : materials::woods()) {
        CAPTURE(wood.id);
        try {
            const Handbook book = handbook_of(wood, 90);
            ++n;
            CHECK(book.E_over_G.value > 5);
            CHECK(book.E_over_G.value < 40);
            CHECK(book.across_over_G.value > 1);
            CHECK(book.E_across.value < 0.25 * book.E_along.value);
            CHECK(book.density_kg_m3.value > 100);
            const Plausible plausible = plausible_of(book, false), any = plausible_of_any_wood();
            CHECK(plausible.least < book.E_along.value);
            CHECK(any.least < book.E_along.value);
            CHECK(any.most > book.E_along.value);
        } catch (const Error&) {
            CHECK_FALSE(wood.moe.has_value()); // none is published
        }
    }
    CHECK(n > 50);
}
