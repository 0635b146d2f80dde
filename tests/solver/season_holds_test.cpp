// SPDX-License-Identifier: MIT
// What a check tells of a bar that holds the wood across the grain, against what wood held fast would bear.
#include "solver/seasons/season_holds.hpp"

#include "materials/moisture.hpp"
#include "solver/capacity/screw_borne.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/variants/sanding.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

/// Oak with one flat across it, grain along x.
Piece with_flat(Holes holes) {
    Piece piece;
    piece.top.length = 900;
    piece.top.width = 600;
    piece.top.thickness = 30;
    piece.top.wood = "oak_white";
    piece.top.moisture_percent = 11;
    piece.top.outline = RectangleShape{{0, 900, 0, 600}, 0};
    piece.climate = Climate{};
    piece.climate->low = Air{20, 30};
    piece.climate->high = Air{20, 60};
    piece.stiffeners.push_back({.name = "flat",
                                .section = "flat 40x5",
                                .metal = "S235",
                                .wood = "",
                                .elastic = {},
                                .from = {450, 40},
                                .to = {450, 560},
                                .screws = {.diameter = 5,
                                           .length = 28,
                                           .spacing = 0,
                                           .at = {20, 140, 260, 380, 500},
                                           .holes = holes,
                                           .stiffness = {}}});
    for (const double x : {60.0, 840.0})
        piece.supports.push_back({x < 450 ? "left" : "right",
                                  Bearer{.from = {x, 20}, .to = {x, 580}, .width = 40, .stiffness = {}}});
    piece.loads.push_back({.name = "books", .duration = Duration::long_term, .kind = AreaLoad{0.0002, {}}});
    return piece;
}

bool says(const std::vector<Message>& all, const std::string& word) {
    return std::any_of(all.begin(), all.end(),
                       [&](const Message& one) { return one.pattern.find(word) != std::string::npos; });
}

CheckOptions on_one_thread() {
    CheckOptions options;
    options.threads = 1;
    return options;
}

const CheckResult* row_of(const Result& result, const std::string& name) {
    for (const CheckResult& row : result.checks)
        if (row.check == name) return &row;
    return nullptr;
}

} // namespace

TEST_CASE("a bar in round holes across the grain is told with a pull below that of wood held fast",
          "[solver][property]") {
    const Piece piece = with_flat(Holes::round);
    const SeasonHolds told = season_holds(piece);
    REQUIRE(told.holds.size() == 1);
    const SeasonHold& hold = told.holds.front();
    CHECK(hold.tension_MPa > 0.1);
    // oak: C_T 0.00365 a point (Wood Handbook table 13-5), E_T below 0.1 E_L; nothing relaxes
    const double points = 11 - materials::equilibrium_moisture_percent(20, 30);
    CHECK(hold.tension_MPa < 0.1 * 12300 * 0.00365 * points);
    const double borne = borne_by_screw(piece, piece.stiffeners[0], 23).shear_N;
    CHECK(hold.screw_N > 0);
    CHECK(hold.screw_N <= borne * (1 + 1e-9));
    REQUIRE(hold.screw_bears_N);
    CHECK(*hold.screw_bears_N < borne); // for long and with its safety
    CHECK(says(told.warnings, "the top across the grain"));
    Piece damper = piece; // of less than its screws bear: where all of them yield drier air pulls no harder
    damper.climate->low = Air{20, 55};
    CHECK(season_holds(damper).holds.front().tension_MPa < 0.9 * hold.tension_MPa);
    Piece drier = piece;
    drier.climate->low = Air{20, 15};
    CHECK(season_holds(drier).holds.front().tension_MPa >= hold.tension_MPa * (1 - 1e-9));
}

TEST_CASE("bars that let the wood move, or run with its grain, hold nothing back", "[solver][property]") {
    CHECK(season_holds(with_flat(Holes::slotted)).holds.empty());
    CHECK(season_holds(with_flat(Holes::slotted)).warnings.empty());
    Piece along = with_flat(Holes::round);
    along.stiffeners[0].from = {100, 300};
    along.stiffeners[0].to = {800, 300};
    CHECK(season_holds(along).holds.empty());
    CHECK(season_holds(along).warnings.empty());
    Piece sheet = with_flat(Holes::round);
    sheet.top.wood.clear();
    sheet.top.sheet = "mdf";
    CHECK(season_holds(sheet).holds.empty());
}

TEST_CASE(
    "an oversize hole that is narrower than the wood's way is told, and one that is not narrower is not",
    "[solver]") {
    Piece piece = with_flat(Holes::oversize); // each way by 1 mm, common practice
    // the outermost screws stand 240 mm from the fixed one: so far the wood goes
    const auto way = [](double humidity) {
        return 240 * 0.00365 * (11 - materials::equilibrium_moisture_percent(20, humidity));
    };
    REQUIRE(way(15) > 1);
    REQUIRE(way(58) < 1);
    piece.climate->low = Air{20, 15};
    CHECK(says(season_holds(piece).warnings, "Held across the grain: "));
    piece.climate->low = Air{20, 58};
    CHECK(season_holds(piece).warnings.empty());
}

TEST_CASE("slots of a stated length let the wood go half of what is left beside the screw",
          "[solver][published]") {
    Piece piece = with_flat(Holes::slotted);
    // the outermost screws stand 240 mm from the fixed one, 3.65 parts in a thousand a point
    const double way = 240 * 0.00365 * (11 - materials::equilibrium_moisture_percent(20, 30));
    REQUIRE(way > 1);
    piece.stiffeners[0].screws.slot_length = 5 + 2 * way * 1.01;
    CHECK(told_of_short_slots(piece).empty());
    CHECK(season_holds(piece).warnings.empty());
    piece.stiffeners[0].screws.slot_length = 5 + 2 * way * 0.99;
    CHECK_FALSE(told_of_short_slots(piece).empty());
    CHECK(says(season_holds(piece).warnings, "Held across the grain: "));
}

TEST_CASE("what is told of a pull never exceeds that of screws that do not yield", "[solver][property]") {
    Piece piece = with_flat(Holes::round);
    piece.climate->low = Air{20, 10};
    const double yielding = season_holds(piece).holds.front().tension_MPa;
    piece.stiffeners[0].screws.diameter = 12; // bears several times as much
    const double stiff = season_holds(piece).holds.front().tension_MPa;
    CHECK(yielding > 0);
    CHECK(stiff > yielding);
    // two screws each side, at most what each bears, over the strip between them: four times that at its face
    piece = with_flat(Holes::round);
    piece.climate->low = Air{20, 10};
    const double borne = borne_by_screw(piece, piece.stiffeners[0], 23).shear_N;
    CHECK(yielding <= 4 * 2 * borne / (120 * 30) * (1 + 1e-6));
}

TEST_CASE("slots that the wood goes beyond are told with the length that they need, and others are not",
          "[solver]") {
    Piece piece = with_flat(Holes::slotted);
    // three screws of 5 mm let it go 5 mm each way; the outermost stand 240 mm from the fixed one
    const auto way = [](double humidity) {
        return 240 * 0.00365 * (11 - materials::equilibrium_moisture_percent(20, humidity));
    };
    REQUIRE(way(10) > 5);
    REQUIRE(way(30) < 5);
    CHECK(told_of_short_slots(piece).empty());
    piece.climate->low = Air{20, 10};
    CHECK_FALSE(told_of_short_slots(piece).empty());
    piece.stiffeners[0].screws.holes = Holes::round; // told otherwise
    CHECK(told_of_short_slots(piece).empty());
}

TEST_CASE("check tells of a bar that holds the wood across the grain, and never fails a top by it",
          "[solver][slow]") {
    const Result held = check_piece(with_flat(Holes::round), on_one_thread()).result;
    const CheckResult *wood = row_of(held, "held across the grain"),
                      *screws = row_of(held, "screws in the season");
    REQUIRE(wood != nullptr);
    REQUIRE(screws != nullptr);
    CHECK(wood->advice);
    CHECK(screws->advice);
    CHECK(held.governing_check != wood->check);
    CHECK(says(held.warnings, "the top across the grain"));
    const Result free = check_piece(with_flat(Holes::slotted), on_one_thread()).result;
    CHECK(row_of(free, "held across the grain") == nullptr);
    CHECK_FALSE(says(free.warnings, "the top across the grain"));
    CHECK(held.passes == free.passes);
}

TEST_CASE("what is sanded off the show face comes off the thickness and the skin alike", "[solver]") {
    Piece piece = with_flat(Holes::slotted);
    piece.recesses.push_back(
        {.name = "well", .shape = RectangleShape{{100, 400, 100, 500}, 0}, .depth = 12, .lands = {}});
    const Piece lower = sanded(piece, 1.5);
    CHECK(lower.top.thickness == 28.5);
    CHECK(lower.top.thickness - lower.recesses[0].depth == 16.5);
    piece.recesses[0].depth = 29.7; // a skin of 0.3 mm: half a millimetre cannot come off
    const std::vector<Sanded> reserve = sanding_reserve(piece, 1);
    REQUIRE(reserve.size() == 3);
    for (const Sanded& one : reserve) {
        CHECK_FALSE(one.passes);
        CHECK_FALSE(one.problem.empty());
    }
}
