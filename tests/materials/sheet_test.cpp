// SPDX-License-Identifier: MIT
#include "materials/sheet.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <optional>
#include <string>

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
        find_sheet("birch_pli_12");
        FAIL("there is no such sheet");
    } catch (const Error& error) {
        CHECK(in_own_units(error.faults().front().remedy).find("did you mean \"birch_ply_12\"") == 0);
    }
}

namespace {
std::string message_of(std::string_view name, std::optional<double> thickness = {}) {
    try {
        return find_sheet(name, thickness).id;
    } catch (const Error& error) {
        return in_own_units(error.faults().front().what) + "; " + in_own_units(error.faults().front().remedy);
    }
}
} // namespace

TEST_CASE("a sheet is found by its kind and thickness", "[materials][names]") {
    for (const char* name : {"birch plywood 18", "Birch ply 18 mm", "18mm birch plywood",
                             "Baltic birch plywood 18", "birch_ply_18"})
        CHECK(message_of(name) == "birch_ply_18");
    CHECK(message_of("birch plywood 6.5") == "birch_ply_6p5");
    CHECK(message_of("MDF 19") == "mdf_en_12_19"); // over 12 to 19 mm
    CHECK(message_of("MDF 12") == "mdf_en_9_12");
    CHECK(message_of("mdf", 22.0) == "mdf_en_19_30");
    CHECK(message_of("chipboard 16mm") == "p2_20");
    CHECK(message_of("particleboard", 25.0) == "p2_25");
    CHECK(message_of("birch plywood") == "\"birch plywood\" is made in several thicknesses; give one of "
                                         "birch_ply_4, birch_ply_6p5, birch_ply_9, "
                                         "birch_ply_12, birch_ply_15, birch_ply_18");
    CHECK(message_of("birch plywood 20") == "\"birch plywood 20\" of 20 mm is not in the table of sheets; "
                                            "give one of birch_ply_4, birch_ply_6p5, "
                                            "birch_ply_9, birch_ply_12, birch_ply_15, birch_ply_18");
    CHECK(message_of("plywood", 18.0) == "\"plywood\" does not say of which wood; give \"birch plywood\" "
                                         "with its thickness, such as \"birch plywood 18\"");
}
