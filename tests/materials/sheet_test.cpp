// SPDX-License-Identifier: MIT
#include "materials/sheet.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using namespace hollowtop::materials;

TEST_CASE("sheets keep ranges, bounds and gaps", "[materials]") {
    CHECK(find_sheet("particleboard_range").density_kg_m3 == Range{600, 800});
    CHECK(find_sheet("mdf_en_12_19").thickness == Range{12, 19});
    CHECK(find_sheet("hb_en_3p5").thickness == Range{std::nullopt, 3.5});
    CHECK(find_sheet("hb_en_3p5").density_kg_m3 == Range{900, std::nullopt});
    CHECK_FALSE(find_sheet("hb_en_3p5").E_along.has_value()); // EN 622-2 asks for none
    CHECK_FALSE(find_sheet("plywood_range").bending_across.has_value());
}

TEST_CASE("MDF of 12 to 19 mm is that of EN 622-5", "[materials][published]") {
    CHECK(find_sheet("mdf_en_12_19").E_along == Range{2200, 2200});
    CHECK(find_sheet("mdf_en_12_19").bending_along == Range{20, 20});
    CHECK(find_sheet("mdf_en_12_19").thickness_tolerance == 0.2);
}

TEST_CASE("the moduli of birch plywood along and across sum to 17500 MPa", "[materials][published]") {
    // Every veneer lies one way or the other: Handbook of Finnish Plywood (2002).
    int n_found = 0;
    for (const Sheet& sheet : sheets()) {
        if (sheet.id.find("birch_ply") != 0) continue;
        CHECK_THAT(*sheet.E_along->low + *sheet.E_across->low,
                   Catch::WithinAbs(17500, 2)); // rounding of both
        ++n_found;
    }
    CHECK(n_found == 6);
}

TEST_CASE("a sheet that is not known names the nearest", "[materials]") {
    try {
        find_sheet("birch_ply_13");
        FAIL("there is no such sheet");
    } catch (const Error& error) {
        CHECK(error.faults().front().remedy.find("did you mean \"birch_ply_12\"") == 0);
    }
}
