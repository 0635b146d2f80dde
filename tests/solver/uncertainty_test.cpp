// SPDX-License-Identifier: MIT
#include "solver/uncertainty/uncertainty.hpp"

#include "materials/error.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/numeric/threads.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <numeric>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// The reading table of docs/examples: 1900 x 850 mm, six boards of black cherry, one recess.
Piece reading_table() {
    Piece piece;
    piece.top.length = 1900;
    piece.top.width = 850;
    piece.top.thickness = 42;
    piece.top.wood = "cherry_black";
    piece.top.moisture_percent = 8;
    piece.top.boards = 6;
    piece.top.outline = RectangleShape{.box = {0, 1900, 0, 850}};
    piece.recesses.push_back({.name = "well",
                              .shape = RectangleShape{.box = {120, 1780, 110, 740}, .corner_radius = 15},
                              .depth = 16,
                              .root_radius = 4,
                              .lands = {}});
    for (const Point at : {Point{80, 80}, Point{1820, 80}, Point{80, 770}, Point{1820, 770}})
        piece.supports.push_back(
            {"pad", Pad{.at = at, .size_x = 70, .size_y = 70, .hold_down = true, .stiffness = {}}});
    piece.loads.push_back({.name = "books",
                           .duration = Duration::long_term,
                           .kind = AreaLoad{.pressure = 0.00025, .over = {}}});
    piece.loads.push_back(
        {.name = "someone leans on the edge",
         .kind = PatchLoad{.force = 490, .at = {950, 60}, .size_x = 200, .size_y = 100, .over = {}}});
    piece.limits.dish = {.length = 0.6, .is_stated = true};
    return piece;
}

CheckOptions on_one_thread() {
    CheckOptions options;
    options.threads = 1;
    options.essentials = options.no_advice = true;
    return options;
}

double quantile(std::vector<double> values, double share) {
    std::sort(values.begin(), values.end());
    const double at = share * static_cast<double>(values.size() - 1);
    const auto k = static_cast<std::size_t>(at);
    return values[k] +
           (at - static_cast<double>(k)) * (values[std::min(k + 1, values.size() - 1)] - values[k]);
}

/// The surface against whole solves at the same places: mean and middle, and of many both ends of the band
/// (of few an end is one solve of them).
void compare_with_solves(std::size_t n) {
    constexpr std::size_t many = 100;
    const CheckOutcome drawn = check_piece(reading_table(), on_one_thread());
    const Inputs inputs = inputs_of(drawn.placed);
    UncertaintyOptions options;
    options.samples = n;
    options.check.threads = 2;
    const Uncertainty told = uncertainty_of(drawn, options);
    for (const std::string& check : {std::string("sag at once"), told.governing}) {
        CAPTURE(check);
        const UncertainRow* row = find_row(told, check);
        REQUIRE(row != nullptr);
        std::vector<double> solved(n);
        share_out(static_cast<int>(n), 2, [&](int s, int) {
            const auto index = static_cast<std::size_t>(s);
            const Piece piece =
                piece_at(inputs, inputs_from(inputs, normals(options.seed, index, inputs.causes.size())));
            for (const CheckResult& one : check_piece(piece, options_of(Solve::whole, drawn)).result.checks)
                if (one.check == check && !one.advice)
                    solved[index] = std::max(solved[index], one.utilisation * row->limit);
        });
        const double tolerance = check == "sag at once" ? 0.01 : 0.02;
        const double mean = std::accumulate(solved.begin(), solved.end(), 0.0) / static_cast<double>(n);
        CHECK_THAT(row->mean, WithinRel(mean, tolerance));
        CHECK_THAT(row->demand.middle, WithinRel(quantile(solved, 0.5), tolerance));
        if (n < many) continue;
        CHECK_THAT(row->demand.low, WithinRel(quantile(solved, 0.05), tolerance));
        CHECK_THAT(row->demand.high, WithinRel(quantile(solved, 0.95), tolerance));
    }
}

} // namespace

TEST_CASE("a measurement narrows what is believed of a board as two independent readings do", "[solver]") {
    // equal errors: half way, and one over the root of two
    const Updated even = updated(0.2, 0.3, 0.2);
    CHECK_THAT(even.mean, WithinRel(0.15, 1e-12));
    CHECK_THAT(even.deviation, WithinRel(0.2 / std::sqrt(2.0), 1e-12));
    // precisions add
    const Updated now = updated(0.22, -0.1, 0.03);
    CHECK_THAT(1 / (now.deviation * now.deviation), WithinRel(1 / (0.22 * 0.22) + 1 / (0.03 * 0.03), 1e-12));
}

TEST_CASE("drawn normals have no mean, the deviation one, and five in a hundred beyond 1.645", "[solver]") {
    constexpr std::size_t n = 20000;
    std::vector<double> values;
    for (std::size_t row = 0; row < n; ++row) values.push_back(normals(7, row, 3)[2]);
    const double mean = std::accumulate(values.begin(), values.end(), 0.0) / n;
    double square = 0;
    for (const double v : values) square += v * v;
    CHECK_THAT(mean, WithinAbs(0, 4 / std::sqrt(double(n)))); // four standard errors
    CHECK_THAT(square / n, WithinAbs(1, 4 * std::sqrt(2.0 / n)));
    const Band band = band_of(values);
    CHECK_THAT(band.low, WithinAbs(-1.645, 0.06));
    CHECK_THAT(band.high, WithinAbs(1.645, 0.06));
    CHECK(normals(7, 5, 2)[1] == normals(7, 5, 9)[1]); // however many are drawn
}

TEST_CASE("a chance under one in a thousand is told without a number, others with the error of a count",
          "[solver]") {
    CHECK_FALSE(chance_of(9, 10000).share.has_value());
    const Chance chance = chance_of(400, 10000);
    CHECK_THAT(chance.share.value(), WithinRel(0.04, 1e-12));
    CHECK_THAT(chance.error, WithinRel(std::sqrt(0.04 * 0.96 / 10000), 1e-12));
}

TEST_CASE("a surface through a movement that is one over a sum of moduli follows it far out", "[solver]") {
    Inputs inputs;
    inputs.base.top.each_board = {{.width = 1}, {.width = 1}, {.width = 1}};
    for (Board& board : inputs.base.top.each_board) board.measured.E_along = 10000;
    for (std::size_t b = 0; b < 3; ++b)
        inputs.inputs.push_back(
            {.kind = InputKind::boards, .first_board = b, .end_board = b + 1, .step = 0.28});
    inputs.shift = {0, 0, 0};
    const NumbersOf sag = [](const Piece& piece) -> std::optional<std::vector<double>> {
        const auto& b = piece.top.each_board;
        const auto E = [&](std::size_t k) { return *b[k].measured.E_along / 10000; };
        return std::vector<double>{1 / (0.6 * E(0) + 0.3 * E(1) + 0.1 * E(2))};
    };
    SurfaceOptions options;
    options.is_movement = {true};
    const Surface surface = lay_surface(inputs, sag, options);
    CHECK(surface.n_solves == 1 + 3 + 1);
    for (const std::vector<double>& x :
         {std::vector<double>{0.35, -0.3, 0.2}, {-0.35, -0.35, -0.35}, {-0.4, 0.4, 0.1}}) {
        const double truth = -std::log(0.6 * std::exp(x[0]) + 0.3 * std::exp(x[1]) + 0.1 * std::exp(x[2]));
        CHECK_THAT(surface.log_of(0, x), WithinAbs(truth, 0.01)); // what a third order would add
    }
}

TEST_CASE("a surface follows boards that give way one after the other as well", "[solver]") {
    Inputs inputs;
    inputs.base.top.each_board = {{.width = 1}, {.width = 1}, {.width = 1}};
    for (Board& board : inputs.base.top.each_board) board.measured.E_along = 10000;
    for (std::size_t b = 0; b < 3; ++b)
        inputs.inputs.push_back(
            {.kind = InputKind::boards, .first_board = b, .end_board = b + 1, .step = 0.28});
    const NumbersOf sag = [](const Piece& piece) -> std::optional<std::vector<double>> {
        const auto& b = piece.top.each_board;
        const auto give = [&](std::size_t k) { return 10000 / *b[k].measured.E_along; };
        return std::vector<double>{0.6 * give(0) + 0.3 * give(1) + 0.1 * give(2)};
    };
    const Surface surface = lay_surface(inputs, sag, {.is_movement = {true}});
    for (const std::vector<double>& x :
         {std::vector<double>{0.35, -0.3, 0.2}, {-0.35, -0.35, -0.35}, {-0.4, 0.4, 0.1}}) {
        const double truth = std::log(0.6 * std::exp(-x[0]) + 0.3 * std::exp(-x[1]) + 0.1 * std::exp(-x[2]));
        CHECK_THAT(surface.log_of(0, x), WithinAbs(truth, 0.01)); // what a third order would add
    }
}

TEST_CASE("shares of a sum are those of its variances, and of a product of two nobody has any", "[solver]") {
    const std::vector<double> sum =
        first_order_shares({.constant = 0, .slope = {3, 4}, .curvature = {0, 0, 0, 0}});
    CHECK_THAT(sum[0], WithinRel(9.0 / 25, 1e-12));
    CHECK_THAT(sum[1], WithinRel(16.0 / 25, 1e-12));
    const std::vector<double> product =
        first_order_shares({.constant = 0, .slope = {0, 0}, .curvature = {0, 2, 2, 0}});
    CHECK(product[0] == 0);
    CHECK(product[1] == 0);
}

TEST_CASE("a top's band is the same bits on one thread and on two", "[solver][slow][long]") {
    const CheckOutcome drawn = check_piece(reading_table(), on_one_thread());
    UncertaintyOptions options;
    options.samples = 500;
    options.check.threads = 1;
    const Uncertainty one = uncertainty_of(drawn, options);
    options.check.threads = 2;
    const Uncertainty two = uncertainty_of(drawn, options);
    REQUIRE(one.rows.size() == two.rows.size());
    for (std::size_t k = 0; k < one.rows.size(); ++k) {
        CHECK(one.rows[k].demand.low == two.rows[k].demand.low);
        CHECK(one.rows[k].demand.high == two.rows[k].demand.high);
    }
}

TEST_CASE("what a large top does lies by that of whole solves, of hundreds where time is given",
          "[solver][slow][long]") {
    compare_with_solves(std::getenv("HOLLOWTOP_THOROUGH") != nullptr ? 500
                                                                     : 24); // of 24 the ends say nothing
}

TEST_CASE("a measured board narrows the band of a top", "[solver][slow][long]") {
    Piece measured = reading_table();
    measured.top.measured.E_along = 10300;
    measured.top.measured.u_E_along_percent = 3;
    UncertaintyOptions options;
    options.samples = 2000;
    const auto width = [&](const Piece& piece) {
        const Uncertainty told = uncertainty_of(check_piece(piece, on_one_thread()), options);
        const UncertainRow* row = find_row(told, "sag at once");
        REQUIRE(row != nullptr);
        return row->demand.high / row->demand.low;
    };
    const double handbook = width(reading_table()), bench = width(measured);
    CHECK(std::log(bench) < 0.75 * std::log(handbook));
}
