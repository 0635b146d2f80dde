// SPDX-License-Identifier: MIT
#include "solver/survey/survey.hpp"

#include "materials/error.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/survey/sheet.hpp"
#include "tests/solver/uneven_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>

using namespace hollowtop;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double noise = 0.2;
const SurveyOptions gauge{.gauge_sd = noise, .foot = 6, .keep_all = false};

/// Share of places in the recess at which the true skin lies within mean +/- 1.645 sd, over many invented floors.
double covered(int nx, int ny, unsigned first, unsigned count) {
    int inside = 0, all = 0;
    for (unsigned seed = first; seed < first + count; ++seed) {
        const UnevenSkinDrawn skin = invented_skin(seed);
        const Survey survey = survey_of(uneven_top(), invented_readings(skin, nx, ny, noise, seed), gauge);
        const RecessSurvey& well = survey.recesses.front();
        for (int j = 0; j < 10; ++j)
            for (int i = 0; i < 20; ++i) {
                const Rectangle& b = uneven_well;
                const Point p{b.x0 + (b.x1 - b.x0) * (i + 0.5) / 20, b.y0 + (b.y1 - b.y0) * (j + 0.5) / 10};
                inside += std::abs(skin(p) - thickness_in(well.mean, p)) <= 1.645 * thickness_in(well.sd, p)
                              ? 1
                              : 0;
                ++all;
            }
    }
    return static_cast<double>(inside) / all;
}

double sag_of(const Piece& piece) {
    const CheckOptions options{.mesh = CheckOptions::Mesh::coarse,
                               .mesh_size = {},
                               .threads = 1,
                               .essentials = true,
                               .no_advice = true,
                               .progress = {}};
    return check_piece(piece, options).result.situations.front().sag_mm;
}

std::string named(const Survey& survey) {
    std::string all;
    for (const NamedReading& one : survey.named)
        all += (one.used ? "used: " : "left out: ") + in_own_units(one.why) + "\n";
    return all;
}

std::string refused(const std::vector<Reading>& readings) {
    try {
        (void)survey_of(uneven_top(), readings, gauge);
    } catch (const Error& error) {
        CHECK(error.kind() == ErrorKind::input);
        return in_own_units(error.faults().front().what) + "; " + in_own_units(error.faults().front().remedy);
    }
    return "taken";
}

std::vector<Reading> twenty() { return invented_readings(invented_skin(3), 5, 4, 0.05, 3); }

} // namespace

TEST_CASE("nine places of ten are as thick as six, twenty or sixty readings say, within the band stated",
          "[solver][survey][slow]") {
    for (const auto& [nx, ny] : {std::pair{3, 2}, {5, 4}, {10, 6}}) {
        const double share = covered(nx, ny, 1, 60);
        INFO(nx * ny << " readings: " << share);
        CHECK(share >= 0.85);
        CHECK(share <= 0.95);
    }
}

TEST_CASE("twenty readings tell the sag within three per cent, and halve the error of the drawing",
          "[solver][survey][slow]") {
    const double drawn = sag_of(uneven_top());
    double with_20 = 0, ignored = 0;
    constexpr unsigned seeds = 6;
    for (unsigned seed = 1; seed <= seeds; ++seed) {
        const UnevenSkinDrawn skin = invented_skin(seed);
        const double truth = sag_of(with_skin(uneven_top(), skin));
        const auto surveyed = [&](int nx, int ny) {
            const Piece piece = uneven_top();
            return sag_of(
                as_routed(piece, survey_of(piece, invented_readings(skin, nx, ny, noise, seed), gauge)));
        };
        const double six = std::abs(surveyed(3, 2) / truth - 1),
                     twenty_off = std::abs(surveyed(5, 4) / truth - 1),
                     sixty = std::abs(surveyed(10, 6) / truth - 1), none = std::abs(drawn / truth - 1);
        INFO("seed " << seed << ": " << six << ", " << twenty_off << ", " << sixty << "; drawn " << none);
        CHECK(twenty_off < 0.03);
        CHECK(sixty < 0.03);
        CHECK(six < 0.06);
        CHECK(twenty_off <= none / 2);
        with_20 += twenty_off;
        ignored += none;
    }
    INFO("mean error " << with_20 / seeds << ", of the drawing " << ignored / seeds);
    CHECK(with_20 < ignored / 2);
}

TEST_CASE("twenty readings tell the sag of a top that is nearly all skin as well", "[solver][survey][slow]") {
    Piece top = uneven_top();
    std::get<RectangleShape>(top.recesses.front().shape).box = {50, 1550, 40, 760};
    top.supports = {edge({20, 0}, {20, 800}), edge({1580, 0}, {1580, 800})};
    const double drawn = sag_of(top);
    for (unsigned seed = 11; seed < 15; ++seed) {
        const UnevenSkinDrawn skin = invented_skin(seed);
        const double truth = sag_of(with_skin(top, skin));
        const Survey survey = survey_of(top, invented_readings(skin, 5, 4, noise, seed), gauge);
        const double off = std::abs(sag_of(as_routed(top, survey)) / truth - 1),
                     none = std::abs(drawn / truth - 1);
        INFO("seed " << seed << ": " << off << "; drawn " << none);
        CHECK(off < 0.03);
        CHECK(off <= none / 2);
    }
}

TEST_CASE("at the low bound a top sags more than as routed", "[solver][survey][slow]") {
    const Piece piece = uneven_top();
    const Survey survey = survey_of(piece, invented_readings(invented_skin(5), 5, 4, noise, 5), gauge);
    const double routed = sag_of(as_routed(piece, survey)), low = sag_of(at_low_bound(piece, survey));
    CHECK(low > routed);
    CHECK(low < 1.3 * routed);
}

TEST_CASE("a reading that cannot be is named and not used", "[solver][survey]") {
    std::vector<Reading> readings = twenty();
    readings.push_back({.at = {1700, 300}, .thickness = 17, .line = 21});
    readings.push_back({.at = {112, 300}, .thickness = 17, .line = 22});
    readings.push_back({.at = {700, 400}, .thickness = 47, .line = 23});
    readings.push_back({.at = {50, 400}, .thickness = 17, .line = 24});
    readings.push_back({.at = {705, 300}, .thickness = 0, .line = 25});
    const Survey survey = survey_of(uneven_top(), readings, gauge);
    CHECK(survey.n_used == 20);
    const std::string told = named(survey);
    CHECK_THAT(told, Contains("left out: lies off the top"));
    CHECK_THAT(told, Contains("left out: stands on a wall: its foot reaches 6 mm each way"));
    CHECK_THAT(told, Contains("left out: is as thick as the board, 40 mm, or thicker"));
    CHECK_THAT(
        told, Contains("left out: lies outside the recesses, where the board is 40 mm: is the place right?"));
    CHECK_THAT(told, Contains("left out: is no thickness"));
}

TEST_CASE("a skin far thicker than its neighbours say is left out, a far thinner one is kept",
          "[solver][survey]") {
    std::vector<Reading> thick = twenty();
    thick[7].thickness += 6;
    const Survey left = survey_of(uneven_top(), thick, gauge);
    CHECK_THAT(named(left), Contains("left out: its neighbours say 1"));
    CHECK(left.n_used == 19);
    std::vector<Reading> thin = twenty();
    thin[7].thickness -= 6;
    const Survey kept = survey_of(uneven_top(), thin, gauge);
    CHECK_THAT(named(kept), Contains("used: its neighbours say 1"));
    CHECK(kept.n_used == 20);
    CHECK_THAT(kept.recesses.front().thinnest.mean, WithinAbs(thin[7].thickness, 1.5));
    CHECK(named(survey_of(uneven_top(), twenty(), gauge)).empty());
}

TEST_CASE("readings in another unit, or with columns changed about, are answered with what would be right",
          "[solver][survey]") {
    std::vector<Reading> cm = twenty(), in = twenty(), turned = twenty(), first = twenty(), one = twenty();
    for (Reading& r : cm) r = {.at = {r.at.x / 10, r.at.y / 10}, .thickness = r.thickness / 10};
    for (Reading& r : in) r = {.at = {r.at.x / 25.4, r.at.y / 25.4}, .thickness = r.thickness / 25.4};
    for (Reading& r : turned) r.at = {r.at.y, r.at.x};
    for (Reading& r : first) r = {.at = {r.thickness, r.at.x}, .thickness = r.at.y};
    one[4].thickness /= 10;
    CHECK_THAT(refused(cm), Contains("centimetres; give --readings-units cm"));
    CHECK_THAT(refused(in), Contains("inches; give --readings-units in"));
    CHECK_THAT(refused(turned), Contains("x and y look as if they had changed places"));
    CHECK_THAT(refused(first), Contains("the columns look like thickness, x, y"));
    CHECK_THAT(refused(one), Contains("were centimetres written?"));
    CHECK(refused(twenty()) == "taken");
    CHECK(refused({{.at = {800, 400}, .thickness = 1.75, .line = 3}}) ==
          "line 3: 1.75 mm, x 800, y 400: drawn are 18 mm; were centimetres written? Correct it; if it is "
          "really so thin, "
          "give --keep-all");
    CHECK_THAT(refused({{.at = {800, 400}, .thickness = 0.69}}), Contains("were inches written?"));
}

TEST_CASE("a place gauged twice counts as its mean", "[solver][survey]") {
    std::vector<Reading> readings = twenty();
    Reading again = readings[3];
    again.thickness += 1.5;
    readings.push_back(again);
    const Survey survey = survey_of(uneven_top(), readings, gauge);
    CHECK_THAT(named(survey), Contains("the same place was read as"));
    CHECK(survey.recesses.front().n_readings == 20);
}

TEST_CASE("the rim's readings say how thick the board is", "[solver][survey]") {
    std::vector<Reading> readings = twenty();
    for (const Point at : {Point{40, 400}, {800, 50}, {1560, 400}, {800, 750}})
        readings.push_back({.at = at, .thickness = 39});
    const Piece piece = uneven_top();
    const Survey survey = survey_of(piece, readings, gauge);
    REQUIRE(survey.rim);
    const Piece routed = as_routed(piece, survey);
    CHECK_THAT(routed.top.thickness, WithinAbs(39, 1e-6));
    // the skin is what was read, not what the depth leaves of the thinner board
    CHECK_THAT(skin_of(routed.recesses.front(), routed.top),
               WithinAbs(survey.recesses.front().mean_skin, 1e-9));
    CHECK(at_low_bound(piece, survey).top.thickness < 39);
}

TEST_CASE("a board that tapers is told to wander, and is computed with as thick as it is at each place",
          "[solver][survey]") {
    const Piece piece = uneven_top();
    const auto rim_of = [&](double taper) { // from end to end, mm; 39.5 in the middle
        std::vector<Reading> readings = twenty();
        for (const double y : {50.0, 750.0})
            for (int i = 0; i < 6; ++i) {
                const double x = 100 + 280 * i;
                readings.push_back({.at = {x, y}, .thickness = 39.5 + taper * (x - 800) / 1600});
            }
        const Survey survey = survey_of(piece, readings, {.gauge_sd = 0.05});
        REQUIRE(survey.rim);
        CHECK_THAT(as_routed(piece, survey).top.thickness, WithinAbs(39.5, 0.02));
        CHECK(at_low_bound(piece, survey).top.thickness == survey.rim->low);
        for (const Point at : {Point{100, 50}, {800, 750}, {1500, 750}}) {
            const ThicknessField routed = thickness_field(as_routed(piece, survey), {}, false),
                                 low = thickness_field(at_low_bound(piece, survey), {}, false);
            const double there = 39.5 + taper * (at.x - 800) / 1600,
                         found = local_thickness(routed, full_thickness, at);
            CHECK_THAT(found, WithinAbs(there, 0.08)); // of a gauge good to 0.05
            CHECK(local_thickness(low, full_thickness, at) < found);
            CHECK(local_thickness(low, full_thickness, at) > found - 0.2);
        }
        return *survey.rim;
    };
    const RimSurvey even = rim_of(0), tapered = rim_of(2);
    CHECK_FALSE(wanders(even));
    CHECK_THAT(even.low, WithinAbs(39.5, 0.1));
    CHECK(wanders(tapered));
    // the outermost place of the rim that is looked at lies half a twentieth of the length from the end
    CHECK_THAT(tapered.thinnest.mean, WithinAbs(39.5 - 2 * 760.0 / 1600, 0.1));
    CHECK(tapered.thinnest_at.x < 100);
    CHECK(tapered.thickest_at.x > 1500);
}

TEST_CASE("a gouge between the readings of a grid is found by one that stands in it", "[solver][survey]") {
    UnevenSkinDrawn skin{.level = 18};
    skin.gouges = {{{900, 450}, 2.5, 90}};
    std::vector<Reading> readings = invented_readings(skin, 7, 4, 0.05, 1);
    readings.push_back({.at = {900, 450}, .thickness = skin({900, 450})});
    const Piece piece = uneven_top();
    const std::vector<ThinPlace> places = thin_places(piece, survey_of(piece, readings, {.gauge_sd = 0.05}));
    REQUIRE_FALSE(places.empty());
    CHECK(std::hypot(places.front().at.x - 900, places.front().at.y - 450) < 40);
    CHECK_THAT(places.front().under_drawn, WithinAbs(2.5, 0.5));
    const Rectangle& e = places.front().extent;
    CHECK(e.x0 < 900);
    CHECK(e.x1 > 900);
    CHECK(e.x1 - e.x0 < 400);
}

TEST_CASE("the next place to gauge lies in the part that was left out, where the sag feels it",
          "[solver][survey]") {
    const Piece piece = uneven_top();
    std::vector<Reading> readings = invented_readings(invented_skin(2), 8, 5, 0.1, 2);
    std::erase_if(readings, [](const Reading& r) { return r.at.x > 600 && r.at.x < 1000; });
    const Survey survey = survey_of(piece, readings, gauge);
    const auto next_where = [&](const std::function<double(Point)>& weight) {
        SkinSlopes slopes{.of_recess = {{}}};
        for (int j = 0; j < 8; ++j)
            for (int i = 0; i < 16; ++i) {
                const Point p{110 + 1380 * (i + 0.5) / 16, 110 + 580 * (j + 0.5) / 8};
                slopes.of_recess[0].push_back({p, weight(p)});
            }
        return next_reading(piece, survey, slopes);
    };
    const auto next = next_where([](Point) { return -0.01; });
    REQUIRE(next);
    CHECK(next->at.x > 600);
    CHECK(next->at.x < 1000);
    CHECK(next->removes > 0.02);
    CHECK(next->removes < 1);
    // what is felt at the front alone is gauged at the front
    const auto front = next_where([](Point p) { return p.y < 250 ? -0.01 : 0.0; });
    REQUIRE(front);
    CHECK(front->at.y < 300);
    CHECK_FALSE(next_where([](Point) { return 0.0; }));
}

TEST_CASE(
    "a sheet names places no further apart than 200, with the middle of each recess, clear of its walls",
    "[solver][survey]") {
    const std::vector<SheetPoint> points = sheet_points(uneven_top(), 6);
    CHECK(std::any_of(points.begin(), points.end(), [](const SheetPoint& p) {
        return p.at == Point{800, 400};
    }));
    for (const SheetPoint& p : points) {
        if (p.recess < 0) continue;
        double nearest = 1e9;
        for (const SheetPoint& q : points)
            if (q.recess == p.recess && !(q.at == p.at))
                nearest = std::min(nearest, std::hypot(q.at.x - p.at.x, q.at.y - p.at.y));
        CHECK(nearest <= 200);
        CHECK(p.at.x - uneven_well.x0 >= 12);
        CHECK(uneven_well.y1 - p.at.y >= 12);
    }
    // of the rim its corners and the middles of its sides
    CHECK(std::count_if(points.begin(), points.end(), [](const SheetPoint& p) { return p.recess < 0; }) == 8);
}
