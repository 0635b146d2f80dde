// SPDX-License-Identifier: MIT
#include "solver/check/row_errors.hpp"

#include "solver/check/check_piece.hpp"
#include "solver/checks/checks.hpp"
#include "solver/model/make_model.hpp"
#include "solver/readout/movement.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <set>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

Piece table() {
    Piece piece = plain_piece(1000, 600, 30);
    piece.top.wood = "oak_white";
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {120, 880, 110, 490}, .corner_radius = 0},
                       .depth = 14,
                       .root_radius = 0,
                       .lands = {}}};
    for (const Point& p : {Point{60, 60}, {940, 60}, {940, 540}, {60, 540}}) piece.supports.push_back(pad(p));
    for (std::size_t k = 0; k < 4; ++k) piece.supports[k].name = "leg " + std::to_string(k + 1);
    piece.loads = {spread(0.0004, Duration::long_term), patch_of(300, {480, 260}, 120, 90)};
    return piece;
}

CheckOptions on_one_mesh(double size) {
    return {.mesh_size = size,
            .threads = 1,
            .essentials = true,
            .no_advice = true,
            .unrefined = true,
            .progress = {}};
}

} // namespace

TEST_CASE("the error of a sag is twice what two orders differ by where it is read", "[solver][check]") {
    const Piece piece = table();
    const CheckOutcome outcome = check_piece(piece, on_one_mesh(250));
    const MeshSize size{.largest = 250, .at_walls = 250.0 / 6, .at_edges = 250 / 1.5, .growth = 1};
    const Model low = make_model(outcome.placed, {.shell = {.size = size, .order = 3}, .threads = 1});
    const std::vector<SolvedSituation> solved = solve_situations(outcome.placed, low);
    int n = 0;
    for (std::size_t s = 0; s < outcome.result.situations.size(); ++s) {
        const SituationResult& situation = outcome.result.situations[s];
        const double low_sag = -movement_at(low.shell, solved[s].dofs, situation.sag_at) -
                               support_plane(low, solved[s]).at(situation.sag_at);
        for (const CheckResult& row : outcome.result.checks) {
            if (!row.check.starts_with("sag") || row.situation != situation.name) continue;
            ++n;
            CHECK_THAT(row.error_percent.value(),
                       WithinRel(std::max(0.1, 200 * std::abs(low_sag / situation.sag_mm - 1)), 1e-6));
        }
    }
    CHECK(n == 3);
}

TEST_CASE("each row has an error of its own, and what no mesh is in has none", "[solver][check]") {
    const Result result = check_piece(table(), on_one_mesh(250)).result;
    std::set<double> errors;
    for (const CheckResult& row : result.checks) {
        if (row.advice || is_of_geometry(row.check)) {
            CHECK_FALSE(row.error_percent.has_value());
            continue;
        }
        REQUIRE(row.error_percent.has_value());
        CHECK(*row.error_percent >= 0);
        if (row.check == "bearing under loads") CHECK(*row.error_percent == 0); // the load over its own area
        if (row.unit == "MPa" && row.demand > 0 && row.check != "bearing under loads") {
            CHECK(*row.error_percent >= 0.5); // the least that is stated of a stress
            errors.insert(*row.error_percent);
        }
    }
    CHECK(errors.size() > 5);
}

TEST_CASE("a row that decides may not err by more than is wanted", "[solver][check]") {
    Result result;
    result.passes = true;
    result.governing_check = "rolling shear";
    result.governing_utilisation = 0.7;
    const auto row = [](const char* check, double utilisation, double error, const char* unit = "MPa") {
        CheckResult made;
        made.check = check;
        made.utilisation = utilisation;
        made.error_percent = error;
        made.unit = unit;
        return made;
    };
    result.checks = {row("rolling shear", 0.7, 2.9), row("stresses together", 0.2, 40)};
    CHECK_FALSE(decides_too_roughly(result, 1, 3));
    result.checks[0].error_percent = 3.1; // what governs
    CHECK(decides_too_roughly(result, 1, 3));
    result.checks[0].error_percent = 2.9;
    result.checks[1] = row("stresses together", 0.69, 50); // may be over its limit
    CHECK(decides_too_roughly(result, 1, 3));
    result.checks[1] = row("stresses together", 0.51, 3.1); // more than half used
    CHECK(decides_too_roughly(result, 1, 3));
    CHECK(errors_that_count(result).stress_percent == 3.1);
    result.checks[1] = row("stresses together", 0.49, 50); // neither near nor much used
    CHECK_FALSE(decides_too_roughly(result, 1, 3));
    CHECK(errors_that_count(result).stress_percent == 2.9);
    result.passes = false;
    result.checks[1] = row("stresses together", 1.2, 10); // over its limit whatever the mesh
    result.checks[0].error_percent = 3.1;
    CHECK_FALSE(decides_too_roughly(result, 1, 3));
    CHECK(errors_that_count(result).stress_percent == 10);
    result.checks[0].error_percent = 2.9;
    result.checks[1] = row("stresses together", 1.1, 10); // perhaps not
    CHECK(decides_too_roughly(result, 1, 3));
    result.passes = true;
    result.checks[1] = row("dish", 0.99, 1.5, "mm");
    CHECK(decides_too_roughly(result, 1, 3));
    result.checks[1].advice = true;
    CHECK_FALSE(decides_too_roughly(result, 1, 3));
}

TEST_CASE("beside the corners of a land stresses together are the same on two meshes within 3 %",
          "[solver][check][slow]") {
    Piece piece = table();
    piece.recesses[0].lands = {
        {.name = "land", .shape = RectangleShape{.box = {460, 540, 110, 490}, .corner_radius = 0}}};
    piece.loads = {patch_of(1500, {500, 60}, 200, 100)};
    const auto greatest = [&](double size) {
        const Result result = check_piece(piece, on_one_mesh(size)).result;
        double most = 0;
        for (const CheckResult& row : result.checks)
            if (row.check == "stresses together") most = std::max(most, row.demand);
        return most;
    };
    const double fine = greatest(35);
    CHECK(fine > 0.2);
    CHECK_THAT(greatest(71), WithinRel(fine, 0.03));
}

TEST_CASE("nearly every row of a table lies within its own error of a finer mesh", "[solver][check][slow]") {
    // of 1.2 % of the rows of random tables the difference was more than stated (docs/method.md)
    int n = 0, outside_own = 0;
    for (const double corner : {0.0, 20.0}) {
        Piece piece = table();
        std::get<RectangleShape>(piece.recesses[0].shape).corner_radius = corner;
        CheckOptions options = on_one_mesh(71); // the usual one
        const CheckOutcome outcome = check_piece(piece, options);
        options.mesh_of_another = MeshReport{.size_mm = 71 / 2.3};
        const Result finer = check_piece(outcome.placed, options).result;
        for (const CheckResult& row : outcome.result.checks) {
            if (!row.error_percent) continue;
            const auto other =
                std::find_if(finer.checks.begin(), finer.checks.end(), [&](const CheckResult& one) {
                    return one.check == row.check && one.situation == row.situation;
                });
            REQUIRE(other != finer.checks.end());
            ++n;
            const double off = 100 * std::abs(row.demand - other->demand);
            if (off <= *row.error_percent * row.demand + 1e-9) continue;
            ++outside_own;
            UNSCOPED_INFO(row.check << ": " << row.demand << ", finer " << other->demand << ", stated "
                                    << *row.error_percent << " %");
        }
    }
    CHECK(n > 60);
    CHECK(outside_own <= n / 20);
}
