// SPDX-License-Identifier: MIT
#include "solver/analysis/use_loads.hpp"

#include "checks_for_tests.hpp"
#include "materials/error.hpp"
#include "solver/analysis/check_piece.hpp"
#include "solver/piece/sense.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

TEST_CASE("a use adds its loads after the piece's own, in N and MPa", "[solver]") {
    Piece piece = oak_top();
    piece.loads.push_back({"bowl", Duration::medium, PatchLoad{50, {500, 300}, 100, 100, false, {}}});
    piece.use = "dining table";
    const Piece used = with_use(piece);
    REQUIRE(used.loads.size() == 3);
    CHECK(used.loads[0].name == "bowl");
    CHECK_THAT(std::get<AreaLoad>(used.loads[1].kind).pressure, WithinRel(0.25e-3)); // 0.25 kPa
    CHECK(std::get<PatchLoad>(used.loads[2].kind).force == 1000);
    CHECK(used.use.empty());
    CHECK(with_use(used).loads.size() == 3); // a second time adds nothing
}

TEST_CASE("a use sets only those limits that the piece does not state", "[solver]") {
    Piece piece = oak_top();
    piece.use = "shelf";
    piece.limits.sag = {.is_share_of_span = false, .length = 1.5, .is_stated = true};
    const Piece used = with_use(piece);
    CHECK(used.limits.sag.length == 1.5);
    CHECK(used.limits.sag.source.empty());
    CHECK(used.limits.sag_years.divisor == 384);
    CHECK(used.limits.sag_years.source.find("use \"shelf\"") == 0);
}

TEST_CASE("the bench full of people loads its longer side, whichever that is", "[solver]") {
    Piece piece = oak_top();
    piece.use = "bench";
    const auto line = std::get<LineLoad>(with_use(piece).loads[0].kind);
    CHECK_THAT(line.force, WithinRel(2260.0)); // 2 260 N/m on 1 m
    CHECK(line.from == Point{0, 300});
    CHECK(line.to == Point{1000, 300});
    std::swap(piece.top.length, piece.top.width);
    const auto turned = std::get<LineLoad>(with_use(piece).loads[0].kind);
    CHECK(turned.from == Point{300, 0});
    CHECK(turned.to == Point{300, 1000});
}

TEST_CASE("a use that is not known is a fault of the piece", "[solver]") {
    Piece piece = oak_top();
    piece.top.outline = RectangleShape{{0, 1000, 0, 600}, 0};
    piece.use = "dessk";
    const std::vector<Fault> faults = faults_of(piece);
    REQUIRE(faults.size() == 1);
    CHECK(faults.front().place == "use");
    CHECK(faults.front().remedy == "did you mean \"desk\"?");
}

TEST_CASE("the result tells what a use brought, and that no standard is met by it", "[solver]") {
    Piece piece = oak_top();
    piece.top.outline = RectangleShape{{0, 1000, 0, 600}, 0};
    piece.use = "hall table";
    CheckOptions options;
    options.mesh = CheckOptions::Mesh::coarse;
    const Result result = check_piece(piece, options).result;
    const auto told = [&](const std::string& part) {
        return std::any_of(result.assumptions.begin(), result.assumptions.end(),
                           [&](const std::string& text) { return text.find(part) != std::string::npos; });
    };
    CHECK(told("says nothing of any standard"));
    CHECK(told("someone leans on it with both hands, 500 N"));
    const auto basis = std::find_if(result.checks.begin(), result.checks.end(),
                                    [](const auto& row) { return row.check == "sag at once"; });
    REQUIRE(basis != result.checks.end());
    CHECK(basis->basis.find("use \"hall_table\"") != std::string::npos);
}
