// SPDX-License-Identifier: MIT
#include "solver/variants/changes.hpp"

#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"
#include "tray_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

const Change* find(const std::vector<Change>& changes, Changed kind) {
    const auto found =
        std::find_if(changes.begin(), changes.end(), [&](const Change& c) { return c.kind == kind; });
    return found == changes.end() ? nullptr : &*found;
}

materials::WoodConstants constants_of(const Top& top) {
    return materials::wood_constants(materials::find_wood(top.wood), top.moisture_percent,
                                     top.measured.E_along);
}

/// A bar along the length with four screws.
Piece tray_with_a_bar() {
    Piece piece = tray();
    piece.stiffeners.push_back({.name = "bar",
                                .section = "flat 30x5",
                                .metal = "S235",
                                .wood = {},
                                .elastic = {},
                                .from = {100, 150},
                                .to = {500, 150},
                                .screws = {.diameter = 4,
                                           .length = 10,
                                           .spacing = 120,
                                           .at = {},
                                           .holes = Holes::slotted,
                                           .stiffness = {}}});
    return piece;
}

Result with_screws() {
    Result result;
    for (const double x : {120.0, 240.0, 360.0, 480.0}) {
        result.screws.emplace_back();
        result.screws.back().stiffener = "bar";
        result.screws.back().at = {x, 150};
    }
    result.screws[2].shear_N = 30;
    result.screws[3].withdrawal_N = 40;
    return result;
}

} // namespace

TEST_CASE("a softer wood has every modulus less by the same share, measured or not", "[solver]") {
    Piece piece = tray();
    for (const bool measured : {false, true}) {
        if (measured) piece.top.measured.E_along = 9000;
        const std::vector<Change> changes = changes_of(piece, {});
        const Change* softer = find(changes, Changed::softer);
        REQUIRE(softer != nullptr);
        const auto as_drawn = constants_of(piece.top), soft = constants_of(softer->piece.top);
        CHECK_THAT(soft.E_L, WithinRel(0.8 * as_drawn.E_L, 1e-12));
        CHECK_THAT(soft.E_T, WithinRel(0.8 * as_drawn.E_T, 1e-12));
        CHECK_THAT(soft.G_LR, WithinRel(0.8 * as_drawn.G_LR, 1e-12));
        CHECK(soft.density_kg_m3 == as_drawn.density_kg_m3);
    }
}

TEST_CASE("a board planed too thin loses from rim and skin, a recess cut too deep from the skin alone",
          "[solver]") {
    const Piece piece = tray();
    const std::vector<Change> changes = changes_of(piece, {});
    const Change *thinner = find(changes, Changed::thinner), *deeper = find(changes, Changed::deeper);
    REQUIRE(thinner != nullptr);
    REQUIRE(deeper != nullptr);
    CHECK(thinner->piece.top.thickness == piece.top.thickness - 0.5);
    CHECK(thinner->piece.recesses[0].depth == piece.recesses[0].depth);
    CHECK(deeper->piece.top.thickness == piece.top.thickness);
    CHECK(deeper->piece.recesses[0].depth == piece.recesses[0].depth + 0.5);
    Piece solid = piece;
    solid.recesses.clear();
    CHECK(find(changes_of(solid, {}), Changed::deeper) == nullptr);
}

TEST_CASE("supports move apart along the longer side, and one in the middle stays", "[solver]") {
    Piece piece = tray();
    piece.supports.push_back(
        {.name = "middle",
         .kind = Pad{.at = {300, 150}, .size_x = 40, .size_y = 40, .hold_down = false, .stiffness = {}}});
    const std::vector<Change> changes = changes_of(piece, {});
    const Change *out = find(changes, Changed::supports_out), *in = find(changes, Changed::supports_in);
    REQUIRE(out != nullptr);
    REQUIRE(in != nullptr);
    const auto at = [](const Change* change, std::size_t i) {
        return std::get<Pad>(change->piece.supports[i].kind).at;
    };
    CHECK(at(out, 0) == Point{20, 30});
    CHECK(at(out, 1) == Point{580, 30});
    CHECK(at(in, 0) == Point{40, 30});
    CHECK(at(in, 3) == Point{560, 270});
    CHECK(at(out, 4) == Point{300, 150});
}

TEST_CASE("the loose screw is the one that is loaded hardest, and the others stay", "[solver]") {
    const Piece piece = tray_with_a_bar();
    const std::vector<Change> changes = changes_of(piece, with_screws());
    const Change* loose = find(changes, Changed::screw_loose);
    REQUIRE(loose != nullptr);
    CHECK(loose->part == "bar");
    CHECK(loose->at == Point{480, 150});
    CHECK(loose->piece.stiffeners[0].screws.at == std::vector<double>{20, 140, 260});
    CHECK(loose->piece.stiffeners[0].screws.spacing == 0);
    const Change* all = find(changes, Changed::stiffeners_loose);
    REQUIRE(all != nullptr);
    CHECK(all->piece.stiffeners.empty());
    CHECK(find(changes_of(tray(), {}), Changed::stiffeners_loose) == nullptr);
}

TEST_CASE("the limit is where the straight line through both reaches it, for the check that is there first",
          "[solver]") {
    StudyRow base, changed;
    base.passes = true;
    base.uses = {0.5, 0.8, 0.99, -1};
    changed.uses = {0.75, 0.85, 1.2, -1};
    const std::vector<bool> all_but_the_third{true, true, false, true};
    CHECK_THAT(steps_to_limit(base, changed, all_but_the_third).value(),
               WithinRel(2.0, 1e-12)); // 0.5 / 0.25, not 0.2 / 0.05
    changed.uses = {0.4, 0.8, 1.2, -1};
    CHECK_FALSE(steps_to_limit(base, changed, all_but_the_third));
    changed.uses = {0.52, 0.8, 0.99, -1};
    CHECK_FALSE(steps_to_limit(base, changed, all_but_the_third)); // 25 steps
    CHECK_THAT(steps_to_limit(base, changed, all_but_the_third, 30).value(), WithinRel(25.0, 1e-9));
    base.passes = false;
    CHECK_FALSE(steps_to_limit(base, changed, all_but_the_third, 30));
}
