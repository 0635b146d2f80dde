// SPDX-License-Identifier: MIT
#include "materials/uses.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <string>

using namespace hollowtop;
using namespace hollowtop::materials;

namespace {

std::string told(const char* name) {
    try {
        find_use(name);
    } catch (const Error& error) {
        return in_own_units(error.faults().front().what) + "; " + in_own_units(error.faults().front().remedy);
    }
    return "";
}

} // namespace

TEST_CASE("a use is found by its id, its name or what else it is called", "[materials]") {
    for (const char* name :
         {"counter", "kitchen counter", "Worktop", "KITCHEN-WORKTOP", "island", "kitchen island"}) {
        CAPTURE(name);
        CHECK(find_use(name).id == "counter");
    }
}

TEST_CASE("a use answers to what makers call their tables", "[materials]") {
    const auto [name, id] = GENERATE(table<const char*, const char*>({{"Dining room table", "dining"},
                                                                      {"dining-room table", "dining"},
                                                                      {"round table", "dining"},
                                                                      {"kitchen table", "dining"},
                                                                      {"table top", "dining"},
                                                                      {"a dining table", "dining"},
                                                                      {"office desk", "desk"},
                                                                      {"Desk top", "desk"},
                                                                      {"reading table", "desk"},
                                                                      {"conference table", "meeting"},
                                                                      {"café table", "meeting"},
                                                                      {"coffee-table", "coffee_table"},
                                                                      {"coffee table top", "coffee_table"},
                                                                      {"bench seat", "bench"},
                                                                      {"window seat", "bench"},
                                                                      {"breakfast bar", "counter"},
                                                                      {"nightstand", "hall_table"},
                                                                      {"side table", "hall_table"},
                                                                      {"console", "hall_table"},
                                                                      {"picnic table", "outdoor"},
                                                                      {"work bench", "workbench"},
                                                                      {"joiner's bench", "workbench"},
                                                                      {"bookcase", "shelf"}}));
    CAPTURE(name);
    CHECK(find_use(name).id == id);
}

TEST_CASE("a use that is not known names the nearest, or all with their other names", "[materials]") {
    CHECK(told("dinning") == "no use \"dinning\" in the table of uses; did you mean \"dining\"?");
    CHECK(told("my big oak kitchen table") ==
          "no use \"my big oak kitchen table\" in the table of uses; did you mean \"kitchen table\"?");
    const std::string all = told("trampoline");
    CHECK(all.find("no use \"trampoline\" in the table of uses; give one of bench (bench seat, seat, ") == 0);
    for (const Use& use : uses()) {
        CHECK(all.find(use.id + " (") != std::string::npos);
        for (const std::string& other : use.also) CHECK(all.find(other) != std::string::npos);
    }
}

TEST_CASE("every use brings a load in a unit of its kind, and limits that allow more after the years",
          "[materials][data]") {
    const std::map<UseLoad::Kind, std::string> units{
        {UseLoad::Kind::area, "kPa"}, {UseLoad::Kind::patch, "N"}, {UseLoad::Kind::line, "N/m"}};
    for (const Use& use : uses()) {
        INFO(use.id);
        CHECK_FALSE(use.loads.empty());
        CHECK(use.sag_years_divisor > 0);
        CHECK(use.sag_years_divisor < use.sag_divisor);
        for (const UseLoad& load : use.loads) {
            INFO(load.id);
            CHECK(load.value > 0);
            CHECK(load.unit == units.at(load.kind));
            CHECK((load.kind == UseLoad::Kind::area) == (load.where == UseLoad::Where::everywhere));
            CHECK((load.kind == UseLoad::Kind::patch) == (load.size_x > 0 && load.size_y > 0));
            CHECK((load.kind == UseLoad::Kind::line) == (load.where == UseLoad::Where::along_the_middle));
            // what stays stands somewhere: only a passing load may travel
            if (load.where == UseLoad::Where::worst) CHECK_FALSE(stays(load.duration));
            CHECK((load.judged_for == UseLoad::For::stability) == (load.where == UseLoad::Where::edge));
            // the force of a test is held for minutes, a desk's for an hour
            const bool is_test = load.duration == Duration::minutes || load.duration == Duration::hour;
            CHECK((load.judged_for != UseLoad::For::everyday) == is_test);
        }
    }
}

TEST_CASE("every use brings everyday loads, forces of strength above them, and one of stability",
          "[materials][data]") {
    for (const Use& use : uses()) {
        INFO(use.id);
        double everyday = 0, strength = 0; // the greatest patch
        int of[3] = {0, 0, 0};
        for (const UseLoad& load : use.loads) {
            ++of[static_cast<int>(load.judged_for)];
            if (load.kind != UseLoad::Kind::patch) continue;
            if (load.judged_for == UseLoad::For::everyday) everyday = std::max(everyday, load.value);
            if (load.judged_for == UseLoad::For::strength) strength = std::max(strength, load.value);
        }
        CHECK(of[static_cast<int>(UseLoad::For::everyday)] >= 1);
        CHECK(of[static_cast<int>(UseLoad::For::strength)] >= 1);
        CHECK(of[static_cast<int>(UseLoad::For::stability)] == 1);
        CHECK(strength > everyday);
    }
}

TEST_CASE("a workbench is flatter than a table, and a shelf and a seat need not be flat",
          "[materials][data]") {
    CHECK(find_use("dining").flatness == 1.0);
    CHECK(find_use("dining").flatness_years == 2.0);
    CHECK(find_use("workbench").flatness == 0.5);
    for (const char* name : {"shelf", "bench"}) {
        CHECK_FALSE(find_use(name).flatness);
        CHECK_FALSE(find_use(name).flatness_years);
    }
}

TEST_CASE("no other name means two uses", "[materials][data]") {
    for (const Use& use : uses())
        for (const std::string& other : use.also) {
            INFO(other);
            CHECK(find_use(other).id == use.id);
        }
}
