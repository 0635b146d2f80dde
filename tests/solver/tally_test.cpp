// SPDX-License-Identifier: MIT
#include "solver/variants/tally.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;

namespace {

StudyRow row(double mass, double sag, bool passes = true, double use = 0.9) {
    StudyRow r;
    r.mass_kg = mass;
    r.sag_mm = sag;
    r.passes = passes;
    r.utilisation = use;
    r.governing_check = sag > 3 ? "sag at once" : "dish";
    return r;
}

std::vector<std::uint64_t> variants(const std::vector<RankedVariant>& list) {
    std::vector<std::uint64_t> numbers;
    for (const RankedVariant& one : list) numbers.push_back(one.variant);
    return numbers;
}

} // namespace

TEST_CASE("what is heavier and sags more than another is no choice", "[solver]") {
    Tally tally({});
    tally.add(0, row(30, 2));
    tally.add(1, row(25, 3));
    tally.add(2, row(31, 2.5)); // beaten by 0
    tally.add(3, row(27, 2.4));
    tally.add(4, row(27, 2.2));      // beats 3
    tally.add(5, row(27, 2.2));      // the same again
    tally.add(6, row(20, 9, false)); // fails: no choice at all
    CHECK(variants(tally.pareto()) == std::vector<std::uint64_t>{1, 4, 0});
    tally.add(7, row(24, 1)); // beats all
    CHECK(variants(tally.pareto()) == std::vector<std::uint64_t>{7});
}

TEST_CASE("variants are ranked by what is wished for, under the weight that is allowed", "[solver]") {
    for (const Preference wish : {Preference::lightest, Preference::stiffest, Preference::cheapest}) {
        Tally tally({.wish = wish, .most_kg = 40, .shown = 2});
        std::vector<StudyRow> rows{row(30, 2), row(25, 3), row(35, 1), row(41, 0.5), row(10, 0.1, false)};
        rows[0].cost = 5;
        rows[1].cost = 9;
        rows[2].cost = 7;
        rows[3].cost = 1;
        for (std::size_t i = 0; i < rows.size(); ++i) tally.add(i, rows[i]);
        if (wish == Preference::lightest) CHECK(variants(tally.best()) == std::vector<std::uint64_t>{1, 0});
        if (wish == Preference::stiffest) CHECK(variants(tally.best()) == std::vector<std::uint64_t>{2, 0});
        if (wish == Preference::cheapest) CHECK(variants(tally.best()) == std::vector<std::uint64_t>{0, 2});
    }
}

TEST_CASE("what fails is ranked by how near it is, and what cannot be made is counted", "[solver]") {
    Tally tally({});
    tally.add(0, row(30, 4, false, 1.5));
    tally.add(1, std::nullopt);
    tally.add(2, row(30, 2, false, 1.1));
    tally.add(3, row(30, 2));
    CHECK(variants(tally.nearest()) == std::vector<std::uint64_t>{2, 0});
    CHECK(tally.all() == 4);
    CHECK(tally.passing() == 1);
    CHECK(tally.impossible() == 1);
    CHECK(tally.governs_failing() == std::map<std::string, std::size_t>{{"dish", 1}, {"sag at once", 1}});
    CHECK(tally.governs_passing() == std::map<std::string, std::size_t>{{"dish", 1}});
}

TEST_CASE("of very many variants the chart keeps every second, every fourth", "[solver]") {
    TallyOptions options;
    options.dots = 100;
    Tally tally(options);
    for (int i = 0; i < 1000; ++i) tally.add(static_cast<std::uint64_t>(i), row(i, 1));
    CHECK(tally.dots().size() <= 100);
    CHECK(tally.dots().size() > 40);
    for (std::size_t k = 0; k < tally.dots().size(); ++k)
        CHECK(tally.dots()[k].mass_kg == static_cast<double>(k * tally.dot_stride()));
}
