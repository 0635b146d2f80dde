// SPDX-License-Identifier: MIT
#include "solver/checks/checks.hpp"

#include "materials/error.hpp"
#include "tests/solver/checks_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <string>

using namespace hollowtop;
using Catch::WithinRel;

TEST_CASE("every check says what it compares, and no name stands twice", "[checks]") {
    std::set<std::string> names;
    for (const Check& check : table_of_checks()) {
        CHECK(names.insert(check.name).second);
        for (const char* text : {check.name, check.demand, check.capacity, check.governs})
            CHECK_FALSE(std::string(text).empty());
        CHECK(check.judge != nullptr);
    }
    CHECK(names.size() == table_of_checks().size());
}

TEST_CASE("a verdict is that of the most used row", "[checks]") {
    Piece piece = oak_top();
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    loaded.sag_mm = 1.5;                        // of 3: 0.5
    loaded.stress = even_field({20, 0, 0}, {}); // of 33.64: 0.5946
    Result result;
    judge(piece, response_of(loaded), result);
    CHECK(result.passes);
    CHECK(result.governing_check == "bending along the grain");
    CHECK(result.governing_situation == "books");
    CHECK_THAT(result.governing_utilisation, WithinRel(20 / (105 * (1 - 1.645 * 0.16) / 2.3), 1e-12));
    for (const CheckResult& row : result.checks) {
        CHECK_FALSE(row.basis.empty());
        CHECK_FALSE(row.remedy.empty());
        if (row.demand > 0) CHECK_THAT(row.margin, WithinRel(row.capacity / row.demand - 1, 1e-12));
    }
    loaded.sag_mm = 3.1;
    judge(piece, response_of(loaded), result);
    CHECK_FALSE(result.passes);
    CHECK(result.governing_check == "sag at once");
}

TEST_CASE("exactly at the limit still passes", "[checks]") {
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    loaded.sag_mm = 3;
    Result result;
    judge(oak_top(), response_of(loaded), result);
    CHECK(result.passes);
    CHECK(result.governing_utilisation == 1);
}

TEST_CASE("every situation keeps a row of every check that applies to it", "[checks]") {
    Response response = response_of(situation("standing", Stage::at_once, Duration::permanent));
    response.situations.push_back(situation("standing, after the years", Stage::years, Duration::permanent));
    response.situations.push_back(situation("leaning", Stage::passing, Duration::short_term));
    Result result;
    result.situations.resize(3);
    judge(oak_top(), response, result);
    const auto count = [&](const std::string& name) {
        int n = 0;
        for (const CheckResult& row : result.checks) n += row.check == name;
        return n;
    };
    CHECK(count("sag at once") == 2);
    CHECK(count("sag after the years") == 1);
    CHECK(count("bending across the grain") == 3);
    CHECK(count("dish") == 0);
    CHECK_THAT(result.situations[0].sag_limit_mm, WithinRel(3.0, 1e-12));
    CHECK_THAT(result.situations[1].sag_limit_mm, WithinRel(3.6, 1e-12));
    CHECK(result.situations[2].span_mm == 900);
    CHECK_FALSE(result.situations[2].overhang_governs);
}

TEST_CASE("a top of stated constants is judged by its movements, and the result says so", "[checks]") {
    Piece piece = oak_top();
    piece.top.wood.clear();
    piece.top.elastic =
        Elastic{.E1 = 12000, .E2 = 800, .nu12 = 0.4, .G12 = 700, .G13 = 700, .G23 = 200, .density_kg_m3 = {}};
    CHECK_FALSE(allowables_of(piece, Duration::permanent));
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    loaded.sag_mm = 1;
    loaded.stress = even_field({500, 500, 500}, {});
    Result result;
    judge(piece, response_of(loaded), result);
    REQUIRE(result.checks.size() == 1);
    CHECK(result.checks[0].check == "sag at once");
    REQUIRE(result.warnings.size() == 1);
    CHECK(result.warnings[0] == "the top is given by its elastic constants alone: no strength is known, and "
                                "only movements are judged");
}

TEST_CASE("the strength class is used where it is asked for", "[checks]") {
    Piece piece = oak_top();
    piece.allowables.basis = AllowablesBasis::strength_class;
    piece.allowables.strength_class = "D30";
    CHECK_THAT(allowables_of(piece, Duration::short_term)->bending_along.value,
               WithinRel(30 * 0.9 / 1.3, 1e-12)); // EN 338, EN 1995-1-1
}

TEST_CASE("a number that is not finite is refused, not passed", "[checks]") {
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    loaded.sag_mm = std::numeric_limits<double>::quiet_NaN();
    Result result;
    CHECK_THROWS_AS(judge(oak_top(), response_of(loaded), result), Error);
    loaded.sag_mm = 1;
    loaded.stress = field_of([](Point p) {
        return StressSample{
            .at = p, .thickness = 12, .top = {p.x > 500 ? std::nan("") : 1, 0, 0}, .bottom = {}, .shear = {}};
    });
    CHECK_THROWS_AS(judge(oak_top(), response_of(loaded), result), Error);
    loaded.stress.survey.clear();
    CHECK_THROWS_AS(judge(oak_top(), response_of(loaded), result), Error);
}

TEST_CASE("the worst place is found from several starts, and stays on the top", "[checks]") {
    // A broad hill of 1.0 and a narrow one of 1.2 that the survey sees as 0.9 at most.
    const auto hills = [](Point p) {
        const double broad = 1.0 / (1 + ((p.x - 200) * (p.x - 200) + (p.y - 100) * (p.y - 100)) / 40000);
        const double narrow = 1.2 / (1 + ((p.x - 800) * (p.x - 800) + (p.y - 500) * (p.y - 500)) / 4000);
        return StressSample{
            .at = p, .thickness = 12, .top = {std::max(broad, narrow), 0, 0}, .bottom = {}, .shear = {}};
    };
    const auto along = [](const StressSample& sample) { return sample.top[0]; };
    const Worst worst = worst_of(field_of(hills), along);
    CHECK(std::abs(worst.sample.at.x - 800) <= 1);
    CHECK(std::abs(worst.sample.at.y - 500) <= 1);
    CHECK(worst.value > 1.19);
    // Rising towards the corner: the answer is the corner, to a millimetre, and not past it.
    const auto slope = [](Point p) {
        return StressSample{.at = p, .thickness = 12, .top = {p.x + p.y, 0, 0}, .bottom = {}, .shear = {}};
    };
    const Worst corner = worst_of(field_of(slope), along);
    CHECK(corner.sample.at.x <= 1000);
    CHECK(corner.sample.at.y <= 600);
    CHECK(corner.value > 1598);
}

TEST_CASE("of mirror images one is climbed, so that a narrow hill among them is not missed", "[checks]") {
    // Four hills of 1.0 that are alike, as of a table on four legs, and one of 1.2 that the survey sees lower.
    const auto hill = [](Point p, Point top, double height, double reach) {
        return height /
               (1 + ((p.x - top.x) * (p.x - top.x) + (p.y - top.y) * (p.y - top.y)) / (reach * reach));
    };
    const auto hills = [&](Point p) {
        double most = hill(p, {811, 489}, 1.2, 40);
        for (const double x : {225.0, 375.0, 525.0, 675.0})
            for (const double y : {125.0, 275.0}) most = std::max(most, hill(p, {x, y}, 1, 50));
        return StressSample{.at = p, .thickness = 12, .top = {most, 0, 0}, .bottom = {}, .shear = {}};
    };
    const auto along = [](const StressSample& sample) { return sample.top[0]; };
    const StressField field = field_of(hills);
    double seen = 0;
    for (const StressSample& sample : field.survey)
        if (std::hypot(sample.at.x - 811, sample.at.y - 489) < 100) seen = std::max(seen, sample.top[0]);
    REQUIRE(seen < 1);
    CHECK(worst_of(field, along).value > 1.19);
}

TEST_CASE("a lesser hill is given up only where it cannot become the greatest", "[checks]") {
    // Seen from afar the sharp one is the lower; a cliff beside its top hides how high it is.
    const double sharp_height = GENERATE(1.05, 1.2, 2.0);
    const auto hills = [&](Point p) {
        const double blunt = 1 - ((p.x - 225) * (p.x - 225) + (p.y - 125) * (p.y - 125)) / 5e4;
        const double way = std::hypot(p.x - 811, p.y - 489);
        const double sharp = p.x > 811 ? 0.0 : sharp_height * (1 - way / 300);
        return StressSample{.at = p,
                            .thickness = 12,
                            .top = {std::max({blunt, sharp, 0.0}), 0, 0},
                            .bottom = {},
                            .shear = {}};
    };
    const auto along = [](const StressSample& sample) { return sample.top[0]; };
    const Worst worst = worst_of(field_of(hills), along);
    CHECK(worst.value > sharp_height * (1 - 1.0 / 300));
    CHECK(std::abs(worst.sample.at.x - 811) <= 1);
}

TEST_CASE("where the metric is nowhere greater than nought a place is told all the same", "[checks]") {
    const auto below = [](const StressSample& sample) { return -1 - sample.at.x; };
    const Worst worst = worst_of(even_field({1, 0, 0}, {}), below);
    CHECK(worst.value <= -1);
    CHECK(worst.value > -3);
}
