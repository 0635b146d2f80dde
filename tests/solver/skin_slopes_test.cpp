// SPDX-License-Identifier: MIT
#include "solver/variants/skin_slopes.hpp"

#include "solver/check/check_piece.hpp"
#include "solver/numeric/threads.hpp"
#include "solver/uncertainty/uncertainty.hpp"
#include "tests/solver/uneven_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double noise = 0.2;

Survey surveyed(unsigned seed) {
    return survey_of(uneven_top(), invented_readings(invented_skin(seed), 5, 4, noise, seed),
                     {.gauge_sd = noise});
}

CheckOutcome checked(const Piece& piece) {
    CheckOptions options;
    options.mesh = CheckOptions::Mesh::coarse;
    options.threads = 1;
    options.essentials = options.no_advice = true;
    return check_piece(piece, options);
}

double sag_of(const Piece& piece, const CheckOptions& options) {
    return check_piece(piece, options).result.situations.front().sag_mm;
}

} // namespace

TEST_CASE(
    "what the skin does to the sag place by place adds up to what a floor does that is thicker all over",
    "[solver][survey][slow]") {
    const Survey survey = surveyed(1);
    const CheckOutcome routed = checked(as_routed(uneven_top(), survey));
    const auto slopes = skin_slopes(routed, survey, "sag at once", 2);
    REQUIRE(slopes);
    double sum = 0;
    for (const Weighed& one : slopes->sag.of_recess.front()) sum += one.weight;
    const CheckOptions options = options_of(Solve::whole, routed);
    const auto shifted = [&](double by) {
        Piece piece = routed.placed;
        SkinGrid grid = *piece.recesses.front().surveyed;
        for (double& t : grid.thickness) t += by;
        give_skin(piece.recesses.front(), piece.top, grid, skin_of(piece.recesses.front(), piece.top) + by);
        return std::log(sag_of(piece, options));
    };
    // a mesh for differences, steps of 2 % one way: a part in thirty
    CHECK_THAT(sum, WithinRel((shifted(0.2) - shifted(-0.2)) / 0.4, 0.03));
    // the middle of the floor counts, its corners hardly
    const auto near = [&](Point at) {
        double found = 0;
        for (const Weighed& one : slopes->sag.of_recess.front())
            if (std::hypot(one.at.x - at.x, one.at.y - at.y) < 150) found += one.weight;
        return found;
    };
    CHECK(near({800, 400}) < 3 * near({200, 170}));
    CHECK(near({800, 400}) < 0);
}

// A sag is a straight line in the skins to line_error, which whole solves hold; by that line hundreds of floors cost what
// a dozen solves do.
TEST_CASE("nine of ten uneven floors sag within the band that six, twenty or sixty readings leave",
          "[solver][survey][slow]") {
    constexpr unsigned first = 500; // others than those that line_error was seen on
    const Survey one = surveyed(first);
    const CheckOutcome outcome = checked(as_routed(uneven_top(), one));
    const auto slopes = skin_slopes(outcome, one, "sag at once", 2); // alike on floors that differ so little
    REQUIRE(slopes);
    // 9 x 5 places do for a sum, at a sixteenth of the cost of 18 x 10
    std::vector<Weighed> weights;
    for (int j = 0; j < 5; ++j)
        for (int i = 0; i < 9; ++i)
            weights.push_back({{110 + 1380 * (i + 0.5) / 9, 110 + 580 * (j + 0.5) / 5}, 0});
    for (const Weighed& place : slopes->sag.of_recess.front()) {
        const int i = std::clamp(static_cast<int>((place.at.x - 110) / 1380 * 9), 0, 8),
                  j = std::clamp(static_cast<int>((place.at.y - 110) / 580 * 5), 0, 4);
        weights[static_cast<std::size_t>(9 * j + i)].weight += place.weight;
    }
    const auto of_floor = [&](unsigned seed) {
        const UnevenSkinDrawn skin = invented_skin(seed);
        double sum = 0;
        for (const Weighed& place : weights) sum += place.weight * skin(place.at);
        return sum;
    };
    struct Grid {
        int nx, ny, floors; // of sixty readings a floor costs thirty times one of six
    };
    for (const Grid& grid : {Grid{3, 2, 400}, Grid{5, 4, 400}, Grid{10, 6, 120}}) {
        const int n = grid.floors;
        std::vector<char> covered(static_cast<std::size_t>(n), 0);
        share_out(n, 2, [&](int k, int) {
            const unsigned seed = first + static_cast<unsigned>(k);
            std::vector<Observed> observed;
            for (const Reading& r : invented_readings(invented_skin(seed), grid.nx, grid.ny, noise, seed))
                observed.push_back({r.at, r.thickness, noise});
            const Estimate found = Kriging(observed, uneven_well).sum(weights);
            covered[static_cast<std::size_t>(k)] =
                std::abs(of_floor(seed) - found.mean) <= 1.645 * found.sd ? 1 : 0;
        });
        const auto held = static_cast<int>(std::count(covered.begin(), covered.end(), 1));
        INFO(grid.nx * grid.ny << " readings: " << held << " of " << n);
        CHECK(held >= 0.85 * n);
        CHECK(held <= 0.95 * n);
    }
    // the line against whole solves: of ten within 2.6 of its deviations
    const CheckOptions options = options_of(Solve::whole, outcome);
    const double sag_of_first = sag_of(with_skin(uneven_top(), invented_skin(first)), options);
    for (unsigned seed = first + 1; seed <= first + 10; ++seed) {
        const double off =
            std::log(sag_of(with_skin(uneven_top(), invented_skin(seed)), options) / sag_of_first);
        INFO("floor " << seed << ": " << off);
        CHECK_THAT(of_floor(seed) - of_floor(first), WithinAbs(off, 2.6 * line_error));
    }
    const double scatter = log_scatter(one, slopes->sag);
    CHECK(scatter > 0.0005);
    CHECK(scatter < 0.03); // under what ignoring the readings costs
}

// A taper of the board alone, found by a dozen readings in its rim, against the board itself.
TEST_CASE("the sag of a top whose rim tapers is that of the board as it is", "[solver][survey][slow]") {
    const Piece drawn = uneven_top();
    const auto board = [](Point p) { return 39.2 + 2.0 * (p.x - 800) / 1600 - 1.2 * (p.y - 400) / 800; };
    SkinGrid truth{.box = {0, 1600, 0, 800}, .nx = 3, .ny = 3, .thickness = {}};
    for (const double y : {0.0, 400.0, 800.0})
        for (const double x : {0.0, 800.0, 1600.0}) truth.thickness.push_back(board({x, y}));
    Piece is = drawn;
    give_thickness(is, truth, 39.2);
    std::vector<Reading> readings;
    std::mt19937 random(4);
    std::normal_distribution<double> error(0, 0.05);
    for (const double y : {50.0, 750.0})
        for (int i = 0; i < 5; ++i) {
            const Point at{100 + 350.0 * i, y};
            readings.push_back({.at = at, .thickness = board(at) + error(random)});
        }
    for (const double x : {50.0, 1550.0})
        readings.push_back({.at = {x, 400}, .thickness = board({x, 400}) + error(random)});
    const Survey survey = survey_of(drawn, readings, {.gauge_sd = 0.05});
    const CheckOutcome routed = checked(as_routed(drawn, survey));
    const CheckOptions options = options_of(Solve::whole, routed);
    const double sag = sag_of(is, options), found = sag_of(as_routed(drawn, survey), options),
                 ignored = sag_of(drawn, options);
    CHECK_THAT(found, WithinRel(sag, 0.002));
    CHECK(std::abs(ignored - sag) > 5 * std::abs(found - sag));
    const auto slopes = skin_slopes(routed, survey, "sag at once", 2);
    REQUIRE(slopes);
    REQUIRE_FALSE(slopes->sag.of_rim.empty());
    // the board as the slopes see it: thinner all over by half a millimetre
    double sum = 0;
    for (const Weighed& one : slopes->sag.of_rim) sum += one.weight;
    Piece thinner = routed.placed;
    SkinGrid grid = *thinner.top.surveyed;
    for (double& t : grid.thickness) t -= 0.5;
    give_thickness(thinner, grid, thinner.top.thickness - 0.5);
    CHECK_THAT(-0.5 * sum, WithinRel(std::log(sag_of(thinner, options) / found), 0.05));
    const double scatter = std::hypot(log_scatter(survey, slopes->sag), line_error);
    CHECK(std::abs(std::log(found / sag)) < 3 * scatter);
    const auto next = next_reading(drawn, survey, slopes->sag);
    REQUIRE(next);
    CHECK(next->recess == -1);
}
