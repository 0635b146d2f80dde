// SPDX-License-Identifier: MIT
#include "solver/check/check_piece.hpp"

#include "materials/error.hpp"
#include "solver/piece/version.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Piece table() {
    Piece piece = plain_piece(1000, 600, 30);
    piece.title = "table (invented)";
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

CheckOptions quick() {
    return {.mesh = CheckOptions::Mesh::coarse, .mesh_size = 250, .threads = 1, .progress = {}};
}

Fault fault_of(const Piece& piece, ErrorKind kind) {
    try {
        (void)check_piece(piece, quick());
    } catch (const Error& error) {
        CHECK(error.kind() == kind);
        return error.faults().front();
    }
    return {"", "no error", ""};
}

} // namespace

TEST_CASE("where the mesh is not fine enough, point loads are blamed only where there are some",
          "[solver][check]") {
    CheckOptions options = quick();
    options.mesh_of_another = MeshReport{.sag_error_percent = 4, .stress_error_percent = 2, .reached = false};
    const auto warning = [&](const Piece& piece) {
        for (const Message& one : check_piece(piece, options).result.warnings)
            if (const std::string text = in_own_units(one); text.find("fine enough") != std::string::npos)
                return text;
        return std::string("none");
    };
    Piece piece = table();
    CHECK(warning(piece) == "The mesh could not be made fine enough: sag is sure to 4 %, stresses to 2 %. "
                            "Take every margin for no surer than that.");
    const std::string blamed = "Point loads and point supports have no finite stress";
    piece.loads.push_back(patch_of(300, {480, 260}, 0, 0));
    CHECK_THAT(warning(piece), Contains(blamed));
    piece.loads.pop_back();
    piece.supports.push_back(
        {"edge",
         Bearer{.from = {300, 100}, .to = {300, 500}, .width = 0, .hold_down = false, .stiffness = {}}});
    CHECK_THAT(warning(piece), Contains(blamed));
    options.mesh_of_another->sag_error_percent = 0.5;
    CHECK(warning(piece) == "none");
}

TEST_CASE("a check says what was asked of what, and how sure it is", "[solver][check]") {
    const Result result = check_piece(table(), quick()).result;
    CHECK(result.version == program_version);
    CHECK(result.title == "table (invented)");
    REQUIRE(result.situations.size() == 3);
    CHECK(result.situations[0].stage == Stage::at_once);
    CHECK(result.situations[1].stage == Stage::years);
    CHECK(result.situations[2].name == "patch");
    CHECK(result.situations[2].sag_mm > result.situations[0].sag_mm);
    CHECK(result.frequency_Hz.size() == 6);
    CHECK(result.mesh.order == 4);
    CHECK(result.mesh.elements > 0);
    CHECK(result.mesh.dofs > 1000);
    CHECK(result.mesh.reached ==
          (result.mesh.sag_error_percent <= 1 && result.mesh.stress_error_percent <= 3));
    CHECK(result.governing_utilisation > 0);
    CHECK(std::any_of(result.checks.begin(), result.checks.end(),
                      [&](const CheckResult& c) { return c.check == result.governing_check; }));
    for (const CheckResult& row : result.checks) {
        CHECK_FALSE(row.basis.empty());
        if (row.advice) continue; // pushes are computed on meshes of their own
        if (row.unit == "mm" || row.unit == "MPa") CHECK(row.error_percent.has_value());
        if (row.check.starts_with("sag")) // a tenth is left open by where the greatest is sought
            CHECK(row.error_percent.value() <= std::max(0.1, result.mesh.sag_error_percent) + 1e-9);
    }
}

TEST_CASE("a finer setting never ends on a coarser mesh", "[solver][check][slow]") {
    Piece round = table(), turned = table();
    round.top.outline = EllipseShape{.box = {0, 1000, 0, 600}};
    round.recesses.clear();
    round.supports.clear();
    for (const Point& p : {Point{250, 150}, {750, 150}, {500, 500}}) round.supports.push_back(pad(p));
    turned.recesses[0].shape = PolygonShape{.points = {{200, 160}, {820, 120}, {800, 430}, {180, 470}}};
    for (const Piece& piece : {table(), round, turned}) {
        Result before;
        for (const CheckOptions::Mesh mesh :
             {CheckOptions::Mesh::coarse, CheckOptions::Mesh::normal, CheckOptions::Mesh::fine}) {
            CheckOptions options = quick();
            options.mesh = mesh;
            options.mesh_size = {};
            options.essentials = options.no_advice = true;
            const Result result = check_piece(piece, options).result;
            CAPTURE(result.mesh.size_mm, result.mesh.dofs);
            CHECK(result.mesh.reached);
            if (before.mesh.dofs > 0) {
                CHECK(result.mesh.dofs >= before.mesh.dofs);
                CHECK(result.mesh.size_mm <= before.mesh.size_mm);
            }
            before = result;
        }
    }
}

TEST_CASE("masses are density times the drawing's volumes", "[solver][check][long]") {
    Piece piece = table();
    piece.top.measured.density_kg_m3 = 700;
    const Mass mass = check_piece(piece, quick()).result.mass;
    const double solid = 700e-9 * 1000 * 600 * 30, cut = 700e-9 * 760 * 380 * 14;
    CHECK_THAT(mass.solid_kg, WithinRel(solid, 1e-10)); // rounding
    CHECK_THAT(mass.top_kg, WithinRel(solid - cut, 1e-10));
    CHECK_THAT(mass.saved_percent, WithinRel(100 * cut / solid, 1e-9));
}

TEST_CASE("a stated size is kept unless it must be refined, and the answer hardly changes",
          "[solver][check][slow]") {
    CheckOptions options = quick();
    const Result coarse_result = check_piece(table(), options).result;
    options.mesh_size = 90;
    const Result fine_result = check_piece(table(), options).result;
    CHECK(coarse_result.mesh.size_mm <= 250);
    CHECK(fine_result.mesh.size_mm <= 90);
    CHECK_THAT(fine_result.situations[0].sag_mm,
               WithinRel(coarse_result.situations[0].sag_mm, 0.02)); // both are under 1 %
}

TEST_CASE("progress rises from start to end", "[solver][check][long]") {
    std::vector<double> shares;
    CheckOptions options = quick();
    options.progress = [&](double share) { shares.push_back(share); };
    (void)check_piece(table(), options);
    REQUIRE(shares.size() >= 3);
    CHECK(std::is_sorted(shares.begin(), shares.end()));
    CHECK(shares.front() > 0);
    CHECK(shares.back() == 1);
}

TEST_CASE("fields come only when they are wanted", "[solver][check][slow]") {
    CheckOptions options = quick();
    CHECK_FALSE(check_piece(table(), options).fields);
    options.want_fields = true;
    const CheckOutcome outcome = check_piece(table(), options);
    REQUIRE(outcome.fields);
    CHECK(outcome.fields->point_values.size() == 1 + 5 * outcome.result.situations.size());
}

TEST_CASE("a piece that makes no sense is refused before anything is computed", "[solver][check]") {
    Piece piece = table();
    piece.recesses[0].depth = 40;
    CHECK(fault_of(piece, ErrorKind::input).place == "recesses[0].depth");
}

TEST_CASE("without supports nothing holds the top", "[solver][check]") {
    Piece piece = table();
    piece.supports.clear();
    const Fault fault = fault_of(piece, ErrorKind::not_computable);
    CHECK(in_own_units(fault.what) == "nothing holds the top");
    CHECK_FALSE(fault.remedy.empty());
}

TEST_CASE("without load, weight and density there is nothing to say", "[solver][check]") {
    Piece piece = table();
    piece.loads.clear();
    piece.self_weight = false;
    piece.top.wood.clear();
    piece.top.elastic = invented_wood();
    piece.top.elastic->density_kg_m3.reset();
    CHECK_THAT(in_own_units(fault_of(piece, ErrorKind::not_computable).what),
               Contains("nothing loads the top"));
}

TEST_CASE("a support that the top leaves is warned of by name", "[solver][check]") {
    Piece piece = table();
    piece.self_weight = false;
    piece.recesses.clear();
    piece.supports = {edge({200, 0}, {200, 600}), edge({500, 0}, {500, 600}), pad({850, 300})};
    for (std::size_t k = 0; k < piece.supports.size(); ++k)
        piece.supports[k].name = "leg " + std::to_string(k + 1);
    piece.loads = {
        {.name = "books", .kind = LineLoad{.force = 400, .from = {350, 0}, .to = {350, 600}, .over = {}}}};
    const Result result = check_piece(piece, quick()).result;
    CHECK(result.situations[0].reactions[2].lifts);
    CHECK(std::count(result.warnings.begin(), result.warnings.end(),
                     Message("Under \"books\" the top lifts off leg 3.")) == 1);
}

TEST_CASE("a sheet of no stated density is checked without weight, and it is said", "[solver][check][long]") {
    Piece piece = table();
    piece.top.wood.clear();
    piece.top.elastic = invented_wood();
    piece.top.elastic->density_kg_m3.reset();
    piece.self_weight = false;
    const Result result = check_piece(piece, quick()).result;
    CHECK(result.mass.solid_kg == 0);
    CHECK(result.frequency_Hz.empty());
    CHECK(std::any_of(result.warnings.begin(), result.warnings.end(),
                      [](const Message& w) { return in_own_units(w).find("No density is given") == 0; }));
}

TEST_CASE("an answer in short has the verdict of the whole, and what can fail a top to the last digit",
          "[solver][check]") {
    const auto that_count = [](const Result& result) {
        std::vector<std::pair<std::string, double>> rows;
        for (const CheckResult& row : result.checks)
            if (!row.advice) rows.emplace_back(row.check, row.utilisation);
        return rows;
    };
    Piece piece = table();
    piece.loads.pop_back();
    CheckOptions asked = quick(), in_short = quick();
    asked.mesh_of_another = in_short.mesh_of_another = MeshReport{.size_mm = 250};
    in_short.in_short = true;
    const Result whole = check_piece(piece, asked).result, brief = check_piece(piece, in_short).result;
    CHECK(brief.passes == whole.passes);
    CHECK(brief.governing_check == whole.governing_check);
    CHECK(that_count(brief) == that_count(whole));
    CHECK(brief.warnings.size() == whole.warnings.size());
    CHECK_FALSE(whole.frequency_Hz.empty());
    CHECK(brief.frequency_Hz.empty());
    piece.limits.frequency_Hz = 2 * whole.frequency_Hz.front(); // a top cannot swing faster than it does
    const Result limited = check_piece(piece, in_short).result;
    CHECK_FALSE(limited.passes);
    CHECK(that_count(limited).size() == that_count(whole).size() + 1);
}
