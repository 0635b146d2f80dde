// SPDX-License-Identifier: MIT
#include "solver/seasons/year_of_top.hpp"

#include "materials/error.hpp"
#include "materials/moisture.hpp"
#include "solver/seasons/zone_drying.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <string>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Piece table() {
    Piece piece;
    piece.top.length = 1200;
    piece.top.width = 700;
    piece.top.thickness = 42;
    piece.top.wood = "cherry_black";
    piece.top.moisture_percent = 9;
    piece.top.outline = RectangleShape{{0, 1200, 0, 700}, 0};
    piece.recesses.push_back(
        {.name = "well", .shape = RectangleShape{{120, 1080, 110, 590}, 0}, .depth = 24, .lands = {}});
    return piece;
}

Climate dry_house() {
    Climate climate;
    climate.low = climate.high = Air{.temperature_C = 20, .humidity_percent = 30};
    climate.shop = Air{.temperature_C = 20, .humidity_percent = 60};
    return climate;
}

} // namespace

TEST_CASE("the air of a year is the stated low in January, the high in July, and halfway in April",
          "[solver]") {
    Piece piece = table();
    piece.climate = Climate{.low = Air{20, 30}, .high = Air{24, 60}};
    const RoomAir air(piece);
    const double january = 15.5 * seconds_per_day, half_a_year = 182.5 * seconds_per_day;
    CHECK_THAT(air.at(january).humidity_percent, WithinAbs(30, 1e-9));
    CHECK_THAT(air.at(january + half_a_year).humidity_percent, WithinAbs(60, 1e-9));
    CHECK_THAT(air.at(january + half_a_year / 2).temperature_C, WithinAbs(22, 1e-9));
    CHECK_THAT(air.rest_percent(january), WithinRel(materials::equilibrium_moisture_percent(20, 30), 1e-12));
}

TEST_CASE(
    "months that are given are met in their middles, straight between them, and December leads into January",
    "[solver]") {
    Piece piece = table();
    Climate climate;
    for (int month = 1; month <= 12; ++month) climate.months.push_back({20.0, 30.0 + month});
    piece.climate = climate;
    const RoomAir air(piece);
    CHECK(air.is_stated_by_month());
    CHECK_THAT(air.at(15.5 * seconds_per_day).humidity_percent, WithinAbs(31, 1e-9));
    CHECK_THAT(air.at((59 + 15.5) * seconds_per_day).humidity_percent, WithinAbs(33, 1e-9));
    CHECK_THAT(air.at(0).humidity_percent, WithinAbs(36.5, 1e-9)); // between 42 and 31
    CHECK_THAT(air.at(365 * seconds_per_day).humidity_percent, WithinAbs(36.5, 1e-9));
    CHECK(month_of(0) == 1);
    CHECK(month_of(58) == 2);
    CHECK(month_of(59) == 3);
    CHECK(month_of(364) == 12);
    CHECK(month_of(365) == 1);
}

TEST_CASE("a top made in the air that it lives in neither bows nor is pulled, the whole year through",
          "[solver][property][slow]") {
    Piece piece = table();
    Climate still = dry_house();
    still.shop = still.low;
    piece.climate = still;
    piece.top.moisture_percent = materials::equilibrium_moisture_percent(20, 30);
    const YearOfTop year = year_of_top(piece, {.threads = 1});
    CHECK_THAT(year.first.lead.value, WithinAbs(0, 1e-8));
    CHECK_THAT(year.first.out_of_flat.value, WithinAbs(0, 1e-7));
    CHECK(year.tension.greatest.value < 1e-7);
    CHECK(year.helps.empty());
    for (const YearMonth& row : year.months) CHECK_THAT(row.width_change, WithinAbs(0, 1e-6));
}

TEST_CASE("in its first winter the skin dries first, the top goes hollow, and in the end all of it is as dry "
          "as the air",
          "[solver][property][slow]") {
    Piece piece = table();
    piece.climate = dry_house();
    const YearOfTop year = year_of_top(piece, {.threads = 1});
    const double from = materials::equilibrium_moisture_percent(20, 60),
                 to = materials::equilibrium_moisture_percent(20, 30);
    REQUIRE(year.months.size() == 12);
    CHECK(year.months.front().month == 11);
    CHECK(year.months.back().month == 10);
    CHECK(year.first.lead.value > 0);
    CHECK(year.first.lead.value / (from - to) >
          0.3); // oiled: 0.39 of the whole change by the design's elements, of a
    CHECK(year.first.lead.value / (from - to) < 0.45); // diffusion that does not grow with moisture
    CHECK(year.first.lead.day >= 8);
    CHECK(year.first.lead.day <= 30);
    CHECK(year.first.rise_across.value < 0);
    CHECK_THAT(year.months.back().full_percent, WithinAbs(to, 0.05));
    CHECK_THAT(year.months.back().skin_percent, WithinAbs(to, 0.001));
    CHECK(year.months.front().skin_percent < year.months.front().full_percent);
    // 700 mm of cherry, 0.00248 a point (Wood Handbook table 13-5)
    CHECK_THAT(year.months.back().width_change, WithinAbs(700 * 0.00248 * (to - 9), 0.1));
    CHECK(std::abs(year.second.lead.value) < 0.05 * year.first.lead.value);
    CHECK(year.first.lead.from <= year.first.lead.day);
    CHECK(year.first.lead.to >= year.first.lead.day);
    CHECK(year.tension.greatest.value > 0);
    REQUIRE(year.doubled.size() == 4);
    // twice the diffusion brings the day forward, not the size by much
    CHECK(year.doubled[0].first.lead.day < year.doubled[1].first.lead.day);
    for (const Otherwise& other : year.doubled)
        CHECK_THAT(other.first.lead.value, WithinRel(year.first.lead.value, 0.2));
}

TEST_CASE(
    "a solid board that is finished on one face alone bows, and finishing both alike is told as what helps",
    "[solver][property][slow]") {
    Piece piece = table();
    piece.recesses.clear();
    piece.climate = dry_house();
    piece.top.finish = {.above = "film", .below = "bare", .recess = "bare"};
    const YearOfTop bare_below = year_of_top(piece, {.threads = 1});
    // the underside dries first and is shortened: the top crowns
    CHECK(bare_below.first.rise_across.value > 1);
    REQUIRE_FALSE(bare_below.helps.empty());
    CHECK(bare_below.helps.front().first.out_of_flat.value < 0.1 * bare_below.first.out_of_flat.value);
    piece.top.finish = {.above = "bare", .below = "film", .recess = "bare"};
    const YearOfTop bare_above = year_of_top(piece, {.threads = 1});
    CHECK_THAT(bare_above.first.rise_across.value, WithinRel(-bare_below.first.rise_across.value, 1e-6));
}

TEST_CASE("a thin solid top that is oiled on both faces stays flat, and wood that gives is pulled less",
          "[solver]") {
    Piece piece = table();
    piece.recesses.clear();
    piece.top.wood = "oak_white";
    piece.top.thickness = 20;
    piece.top.moisture_percent = 8;
    const YearOfTop year = year_of_top(piece, {.threads = 1});
    CHECK(year.first.out_of_flat.value < 0.3);
    CHECK(year.tension.greatest.value > 0);
    CHECK(year.tension.greatest.value < year.tension.without_give);
}

TEST_CASE("boards are told from their rings where each is known, and as a range where not", "[solver]") {
    Piece piece = table();
    piece.top.boards = 5;
    const MoistureRange range{.dry_percent = 6, .wet_percent = 10, .made_percent = 9};
    const auto unknown = rings_of(piece, range);
    REQUIRE(unknown);
    CHECK_FALSE(unknown->are_known);
    CHECK(unknown->near_pith_crown > unknown->near_pith_wave);
    for (int i = 0; i < 5; ++i)
        piece.top.each_board.push_back({.width = 140, .rings = Rings{.pith = 60, .bark_up = false}});
    const auto known = rings_of(piece, range);
    REQUIRE(known);
    CHECK(known->are_known);
    // cherry: C_T 0.00248, C_R 0.00126 a point (Wood Handbook table 13-5), three points of drying
    CHECK_THAT(known->k_dry, WithinAbs(-3 * (0.00248 - 0.00126), 1e-12));
    CHECK(known->dry.crown > 0);
    CHECK_THAT(known->dry.wave, WithinRel(known->wave_pith_up, 1e-9));
    CHECK(known->turned.wave <= known->dry.wave);
    CHECK(known->narrow.size() == 5); // 140 mm, and the top is 42 thick
    piece.top.thickness = 35;
    CHECK(rings_of(piece, range)->narrow.empty());
    piece.top.ring_angle_deg = 90;
    CHECK_FALSE(rings_of(piece, range));
}

TEST_CASE("a bow greater than the thinnest skin is told to be beyond what is computed", "[solver][slow]") {
    const auto is_warned = [](double depth) {
        Piece piece = table();
        piece.top.moisture_percent = 14;
        piece.recesses.front().depth = depth;
        const YearOfTop year = year_of_top(piece, {.threads = 1});
        const double most = std::max(year.first.out_of_flat.value, year.second.out_of_flat.value);
        const bool warned = std::any_of(year.warnings.begin(), year.warnings.end(), [](const Message& one) {
            return one.pattern.find("Trust that it bows far") != std::string::npos;
        });
        CHECK(warned == (most > piece.top.thickness - depth));
        return warned;
    };
    CHECK(is_warned(38));
    CHECK_FALSE(is_warned(16));
}

TEST_CASE("the year of a sheet, or of a material of stated constants, is refused", "[solver]") {
    Piece piece = table();
    piece.top.wood.clear();
    CHECK_THROWS_AS(year_of_top(piece, {.threads = 1}), Error);
    piece.top.sheet = "mdf";
    CHECK_THROWS_AS(year_of_top(piece, {.threads = 1}), Error);
}

TEST_CASE("a recess less deep is told as what helps with the bow that it would have whole",
          "[solver][property][slow]") {
    Piece piece = table();
    piece.climate = dry_house();
    const YearOfTop year = year_of_top(piece, {.threads = 1});
    Piece shallower = piece;
    REQUIRE(shallower.recesses.front().depth > 8);
    shallower.recesses.front().depth -= 4;
    const double whole = year_of_top(shallower, {.threads = 1, .briefly = true}).first.out_of_flat.value;
    const auto help = std::find_if(year.helps.begin(), year.helps.end(), [](const Otherwise& one) {
        return one.what.pattern.find("less deep") != std::string::npos;
    });
    REQUIRE((help != year.helps.end()) == (whole < 0.9 * year.first.out_of_flat.value));
    REQUIRE(help != year.helps.end());
    CHECK_THAT(help->first.out_of_flat.value, WithinRel(whole, 1e-9));
}

TEST_CASE("a top finished alike bows less by as much as its rim's edges lessen the skin's lead",
          "[solver][property][slow]") {
    // alike on all faces no thickness wants to bend: the bow grows in proportion to the lead
    Piece piece = table();
    piece.climate = dry_house();
    piece.top.finish = {.above = "oil", .below = "oil", .recess = "oil"};
    const YearOfTop year = year_of_top(piece, {});
    REQUIRE(year.edges);
    CHECK(std::abs(year.edges->sides) < std::abs(year.first.lead.value));
    CHECK_THAT(year.edges->out_of_flat / year.first.out_of_flat.value,
               WithinRel(year.edges->sides / year.first.lead.value, 1e-6));
}
