// SPDX-License-Identifier: MIT
#include "materials/uses.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <map>
#include <string>

using namespace hollowtop;
using namespace hollowtop::materials;

namespace {

std::string told(const char* name) {
    try {
        find_use(name);
    } catch (const Error& error) {
        return error.faults().front().what + "; " + error.faults().front().remedy;
    }
    return "";
}

} // namespace

TEST_CASE("a use is found by its id, its name or what else it is called", "[materials]") {
    for (const char* name : {"counter", "kitchen counter", "Worktop", "KITCHEN-WORKTOP", "island"}) {
        CAPTURE(name);
        CHECK(find_use(name).id == "counter");
    }
}

TEST_CASE("a use that is not known names the nearest, or all", "[materials]") {
    CHECK(told("dinning") == "no use \"dinning\" in the table of uses; did you mean \"dining\"?");
    CHECK(told("trampoline") ==
          "no use \"trampoline\" in the table of uses; give one of bench, coffee_table, counter, desk, "
          "dining, hall_table, meeting, shelf, workbench");
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
        }
    }
}

TEST_CASE("no other name means two uses", "[materials][data]") {
    for (const Use& use : uses())
        for (const std::string& other : use.also) {
            INFO(other);
            CHECK(find_use(other).id == use.id);
        }
}
