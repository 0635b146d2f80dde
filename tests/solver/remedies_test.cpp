// SPDX-License-Identifier: MIT
#include "solver/variants/remedies.hpp"

#include "solver/variants/edits.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace hollowtop;

namespace {

CheckOptions quick() {
    CheckOptions options;
    options.threads = 2;
    return options;
}

/// 1000 x 600 x 30, its skin left 13 mm; what fails is up to the limit on sag.
Piece weak_top(double sag_limit) {
    Piece piece = invented_top();
    piece.top.elastic.reset();
    piece.top.wood = "white_ash";
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {100, 900, 90, 510}},
                       .depth = 17,
                       .root_radius = 0,
                       .lands = {}}};
    for (const Point& p : {Point{60, 60}, {940, 60}, {940, 540}, {60, 540}})
        piece.supports.push_back(pad(p, 60));
    piece.loads = {spread(0.0015)};
    piece.limits.sag = {
        .is_share_of_span = false, .divisor = 0, .length = sag_limit, .is_stated = true, .source = ""};
    piece.limits.dish.length = 50;
    return piece;
}

const Remedy* of_kind(const std::vector<Remedy>& remedies, const std::string& kind) {
    const auto found =
        std::find_if(remedies.begin(), remedies.end(), [&](const Remedy& c) { return c.kind == kind; });
    return found == remedies.end() ? nullptr : &*found;
}

bool passes(const Piece& piece) { return check_piece(piece, quick()).result.passes; }

} // namespace

TEST_CASE("each change that helps meets the limits, and not much less of it does", "[solver][study][slow]") {
    const Piece piece = weak_top(1.0);
    const CheckOutcome failing = check_piece(piece, quick());
    REQUIRE_FALSE(failing.result.passes);
    const std::vector<Remedy> remedies = remedies_for(piece, failing, quick()).changes;
    const Remedy *skin = of_kind(remedies, "skin"), *rim = of_kind(remedies, "rim"),
                 *supports = of_kind(remedies, "supports");
    REQUIRE(skin);
    const auto helping =
        std::count_if(remedies.begin(), remedies.end(), [](const Remedy& c) { return c.helps; });
    CHECK(helping >= 2); // two or three are brought back
    CHECK(std::is_sorted(remedies.begin(), remedies.begin() + helping, [](const Remedy& a, const Remedy& b) {
        return a.work != b.work ? a.work < b.work : a.mass_kg < b.mass_kg;
    }));
    for (const Remedy& change : remedies) CHECK(change.also.empty()); // one is enough
    CHECK_FALSE(of_kind(remedies, "section"));                        // there is no stiffener to be larger
    REQUIRE(skin->helps);
    Piece other = piece;
    set_skin(other, "", skin->to);
    CHECK(passes(other));
    set_skin(other, "", skin->to - 1.5); // 3 % are kept for the mesh
    CHECK_FALSE(passes(other));
    if (rim != nullptr && rim->helps) {
        other = piece;
        widen(other, "", rim->from - rim->to);
        CHECK(passes(other));
        widen(other, "", 20);
        CHECK_FALSE(passes(other));
    }
    if (supports != nullptr) {
        other = piece;
        set_supports(other, Way::x, supports->to);
        CHECK(passes(other) == supports->helps);
        if (!supports->helps) CHECK(supports->utilisation > 1);
    }
}

TEST_CASE("where even the strongest of a kind is not enough its nearest is told", "[solver][study][slow]") {
    const Piece piece = weak_top(0.05);
    const CheckOutcome failing = check_piece(piece, quick());
    const std::vector<Remedy> remedies = remedies_for(piece, failing, quick()).changes;
    const Remedy* skin = of_kind(remedies, "skin");
    REQUIRE(skin);
    CHECK_FALSE(skin->helps);
    CHECK(skin->utilisation > 1);
    CHECK(skin->to > skin->from);
    CHECK(skin->governing_check == "sag at once");
}

TEST_CASE(
    "a larger section is tried for a top that has one, and no kind is offered that a top has nothing for",
    "[solver][study][slow]") {
    Piece piece = weak_top(0.9);
    piece.stiffeners = {
        {.name = "middle",
         .section = "angle 20x20x3",
         .metal = "S235",
         .wood = "",
         .elastic = {},
         .from = {130, 300},
         .to = {870, 300},
         .screws = {
             .diameter = 4, .length = 10, .spacing = 150, .at = {}, .holes = Holes::round, .stiffness = {}}}};
    const CheckOutcome failing = check_piece(piece, quick());
    REQUIRE_FALSE(failing.result.passes);
    const std::vector<Remedy> remedies = remedies_for(piece, failing, quick()).changes;
    const Remedy* section = of_kind(remedies, "section");
    REQUIRE(section);
    CHECK(section->section != "angle 20x20x3");
    Piece other = piece;
    set_section(other, "", section->section);
    CHECK(passes(other) == section->helps);
    piece.recesses.clear();
    piece.stiffeners.clear();
    piece.loads = {spread(0.01)};
    const CheckOutcome solid = check_piece(piece, quick());
    REQUIRE_FALSE(solid.result.passes);
    const std::vector<Remedy> of_solid = remedies_for(piece, solid, quick()).changes;
    CHECK_FALSE(of_kind(of_solid, "skin"));
    CHECK_FALSE(of_kind(of_solid, "rim"));
    CHECK_FALSE(of_kind(of_solid, "land"));
    const Remedy* thicker = of_kind(of_solid, "solid");
    REQUIRE(thicker);
    CHECK(of_kind(of_solid, "loads") == nullptr); // less load is asked for only where nothing usual helps
    CHECK(thicker->helps);
}

TEST_CASE("a top that fails without its recesses too says so first", "[solver][study][slow]") {
    Piece piece = weak_top(0.4);
    Piece solid = piece;
    solid.recesses.clear();
    const auto found = [&](double limit) {
        piece.limits.sag.length = solid.limits.sag.length = limit;
        const CheckOutcome failing = check_piece(piece, quick());
        REQUIRE_FALSE(failing.result.passes);
        const auto too = remedies_for(piece, failing, quick()).solid_too;
        CHECK(too.has_value() == !passes(solid));
        return too;
    };
    CHECK(found(0.1));
    CHECK_FALSE(found(0.9));
}

TEST_CASE("where no change is enough two together are tried", "[solver][study][slow]") {
    Piece piece = weak_top(0.7); // the skin is too thin, and the screws stand too close: two faults
    piece.stiffeners = {
        {.name = "middle",
         .section = "angle 20x20x3",
         .metal = "S235",
         .wood = "",
         .elastic = {},
         .from = {130, 300},
         .to = {870, 300},
         .screws = {
             .diameter = 3, .length = 15, .spacing = 9, .at = {}, .holes = Holes::slotted, .stiffness = {}}}};
    const CheckOutcome failing = check_piece(piece, quick());
    const std::vector<Remedy> remedies = remedies_for(piece, failing, quick()).changes;
    for (const Remedy& change : remedies)
        if (change.helps && !change.also.empty()) {
            CHECK(change.kind != change.also.front().kind);
            CHECK(change.also.front().to != change.also.front().from);
        }
    REQUIRE_FALSE(remedies.empty());
    INFO(failing.result.governing_check << " " << failing.result.governing_utilisation << ": "
                                        << remedies.front().kind << " " << remedies.front().utilisation);
    CHECK(remedies.front().helps);
    CHECK_FALSE(remedies.front().also.empty());
}
