// SPDX-License-Identifier: MIT
#include "materials/metal.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using namespace hollowtop::materials;
using Catch::WithinRel;

namespace {

std::string message_of(std::string_view name) {
    try {
        find_metal(name);
    } catch (const Error& error) {
        return in_own_units(error.faults().front().what) + "; " + in_own_units(error.faults().front().remedy);
    }
    return "found";
}

} // namespace

TEST_CASE("a metal is found by its id, large or small letters", "[materials]") {
    CHECK(find_metal("S235").id == "S235");
    CHECK(find_metal("s235").id == "S235");
    CHECK(find_metal("6060-T66").id == "6060-T66");
    CHECK(find_metal("6082").id == "6082-T6");
    CHECK(find_metal("1.4301").id == "1.4301");
}

TEST_CASE("a metal that is not known names the nearest or all", "[materials]") {
    CHECK(message_of("S236") == "no metal \"S236\" in the table of metals; did you mean \"S235\"?");
    CHECK(message_of("6063") == "\"6063\" may mean several metals; give one of 6063-T5, 6063-T6");
    CHECK(message_of("gold").find("no metal \"gold\" in the table of metals; give one of S235, S275") == 0);
}

TEST_CASE("S235 is that of EN 1993-1-1", "[materials][published]") {
    const Metal& steel = find_metal("S235");
    CHECK(steel.E == 210000);
    CHECK(steel.G == 81000);
    CHECK(steel.f_y == 235);
    CHECK(steel.density_kg_m3 == 7850);
    CHECK(steel.expansion_per_K == 1.2e-5);
}

TEST_CASE("a metal whose source gives no shear modulus takes that of E and nu", "[materials]") {
    CHECK_THAT(find_metal("CW614N").G, WithinRel(97000 / 2.68, 1e-12));
}

TEST_CASE("an allowable stress is yield / 1.67, and none where no yield is known", "[materials][published]") {
    CHECK_THAT(allowable_stress(find_metal("S235"))->value,
               WithinRel(235 / 1.67, 1e-12)); // AISC 360-16 F1(1)
    CHECK_FALSE(allowable_stress(find_metal("brass_70_30")).has_value());
}
