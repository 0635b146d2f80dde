// SPDX-License-Identifier: MIT
// Tops of plywood, MDF and particleboard: what is judged, against the beam and the table of sheets, and what
// is said not to be.
#include "solver/check/check_piece.hpp"
#include "solver/checks/checks.hpp"
#include "solver/model/model.hpp"
#include "solver/model/plan_model.hpp"
#include "solver/piece/sense.hpp"
#include "solver/section/solid_stiffness.hpp"
#include "solver/section/wall_submodel.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

constexpr double span = 600, strip_width = 60;

/// A strip of a sheet on two knife edges under 2 kPa.
Piece strip(const std::string& sheet, double thickness, double grain_deg = 0) {
    Piece piece;
    piece.top.length = span;
    piece.top.width = strip_width;
    piece.top.thickness = thickness;
    piece.top.sheet = sheet;
    piece.top.grain_deg = grain_deg;
    piece.top.outline = RectangleShape{.box = {.x0 = 0, .x1 = span, .y0 = 0, .y1 = strip_width}};
    piece.supports = {{"left", Bearer{.from = {0, 0}, .to = {0, strip_width}}},
                      {"right", Bearer{.from = {span, 0}, .to = {span, strip_width}}}};
    piece.loads = {{"load", Duration::short_term, AreaLoad{.pressure = 0.002, .over = {}}}};
    piece.limits.sag = {.length = 100, .is_stated = true};
    piece.limits.sag_years = {.length = 100, .is_stated = true};
    piece.self_weight = false;
    return piece;
}

Result checked(const Piece& piece) {
    CheckOptions options;
    options.mesh = CheckOptions::Mesh::coarse;
    options.threads = 1;
    options.essentials = true;
    return check_piece(piece, options).result;
}

const CheckResult* row_of(const Result& result, const std::string& check) {
    const auto row = std::find_if(result.checks.begin(), result.checks.end(),
                                  [&](const CheckResult& c) { return c.check == check; });
    return row == result.checks.end() ? nullptr : &*row;
}

/// Of a beam of E and G under 2 kPa: bending, and shear at kappa 5/6.
double beam_sag(double E, double G, double t) {
    const double q = 0.002 * strip_width, I = strip_width * t * t * t / 12;
    return 5 * q * std::pow(span, 4) / (384 * E * I) + q * span * span / (8 * 5.0 / 6 * G * strip_width * t);
}

/// M / W in the middle.
double beam_stress(double t) { return 0.002 * span * span / 8 / (t * t / 6); }

std::string text_of(const std::vector<Fault>& faults) {
    std::string text;
    for (const Fault& fault : faults)
        text += fault.place + ": " + in_own_units(fault.what) + "; " + in_own_units(fault.remedy) + "\n";
    return text;
}

} // namespace

TEST_CASE("a strip of MDF sags as a beam of its table's modulus and is judged against its own strength",
          "[sheet_top]") {
    const Result result = checked(strip("mdf_en_12_19", 19));
    // a strip a tenth as wide as its span is a beam to within a hundredth
    CHECK_THAT(result.situations.front().sag_mm, WithinRel(beam_sag(2200, 100, 19), 0.01));
    const CheckResult* row = row_of(result, "bending of the sheet");
    REQUIRE(row);
    CHECK_THAT(row->demand, WithinRel(beam_stress(19), 0.01));
    CHECK_THAT(row->capacity, WithinRel(20 * 0.8 / 1.1 / 1.3,
                                        1e-9)); // EN 622-5; k_mod short over that of an instant; safety
    CHECK(result.passes);
    for (const char* wooden : {"bending along the grain", "bending across the grain", "rolling shear",
                               "bearing at the supports", "stresses together"})
        CHECK(row_of(result, wooden) == nullptr);
    CHECK(std::any_of(result.warnings.begin(), result.warnings.end(), [](const Message& w) {
        return in_own_units(w).find("only sag and bending are judged. Not judged") != std::string::npos;
    }));
}

TEST_CASE("MDF fails in bending where its stress passes its strength", "[sheet_top]") {
    Piece piece = strip("mdf_en_12_19", 19);
    const double capacity = 20 * 0.8 / 1.1 / 1.3;
    std::get<AreaLoad>(piece.loads.front().kind).pressure = 0.002 * 1.2 * capacity / beam_stress(19);
    const Result result = checked(piece);
    CHECK_FALSE(result.passes);
    CHECK(result.governing_check == "bending of the sheet");
    CHECK_THAT(result.governing_utilisation, WithinRel(1.2, 0.01));
}

TEST_CASE("birch plywood is judged along and across its face grain", "[sheet_top]") {
    const Result along = checked(strip("birch_ply_18", 18)), across = checked(strip("birch_ply_18", 18, 90));
    CHECK_THAT(along.situations.front().sag_mm, WithinRel(beam_sag(10048, 170, 18), 0.01));
    CHECK_THAT(across.situations.front().sag_mm, WithinRel(beam_sag(7452, 170, 18), 0.01));
    CHECK_THAT(row_of(along, "bending of the sheet")->capacity, WithinRel(40.2 * 0.9 / 1.1 / 1.3, 1e-9));
    CHECK_THAT(row_of(across, "bending of the sheet")->capacity, WithinRel(34.1 * 0.9 / 1.1 / 1.3, 1e-9));
    CHECK_THAT(row_of(across, "bending of the sheet")->demand, WithinRel(beam_stress(18), 0.01));
}

TEST_CASE("the force of a test stands against what the weakest 5 % of the sheets bear at once",
          "[sheet_top]") {
    Piece piece = strip("mdf_en_12_19", 19);
    piece.loads.front().judged_for = LoadFor::strength;
    piece.loads.front().duration = Duration::minutes;
    CHECK_THAT(row_of(checked(piece), "bending of the sheet")->capacity,
               WithinRel(20 / 1.15, 1e-9)); // EN 622-5; 1.15 is judgement
}

TEST_CASE("turning MDF in its plane changes nothing", "[sheet_top][property]") {
    const Result straight = checked(strip("mdf_en_12_19", 19)),
                 turned = checked(strip("mdf_en_12_19", 19, 37));
    CHECK_THAT(turned.situations.front().sag_mm, WithinRel(straight.situations.front().sag_mm, 1e-6));
    // the search for the worst place ends within a millimetre: (1 / 300)^2 of a parabola's peak
    CHECK_THAT(row_of(turned, "bending of the sheet")->utilisation,
               WithinRel(row_of(straight, "bending of the sheet")->utilisation, 1e-4));
}

TEST_CASE("a sheet under a load that stays sags by 1 + its own k_def", "[sheet_top]") {
    Piece piece = strip("mdf_en_12_19", 19);
    piece.loads.front().duration = Duration::long_term;
    const Result result = checked(piece);
    const auto at = [&](Stage stage) {
        return std::find_if(result.situations.begin(), result.situations.end(),
                            [&](const SituationResult& s) { return s.stage == stage; })
            ->sag_mm;
    };
    CHECK_THAT(at(Stage::years) / at(Stage::at_once),
               WithinRel(3.25, 1e-3)); // EN 1995-1-1 table 3.2: MDF 2.25
}

TEST_CASE("of a sheet with a recess no stress is judged, and plywood takes none", "[sheet_top]") {
    Piece piece = strip("mdf_en_12_19", 19);
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {.x0 = 200, .x1 = 400, .y0 = 15, .y1 = 45}},
                       .depth = 6,
                       .lands = {}}};
    const Result result = checked(piece);
    CHECK(row_of(result, "bending of the sheet") == nullptr);
    CHECK(std::any_of(result.warnings.begin(), result.warnings.end(), [](const Message& w) {
        return in_own_units(w).find("stresses are not judged, sag and dish are told too low") !=
               std::string::npos;
    }));
    piece.top.sheet = "birch_ply_18";
    piece.top.thickness = 18;
    CHECK(text_of(faults_of(piece)) ==
          "recesses: a recess in plywood cuts plies away, and what is left has other moduli and strengths "
          "than the table's; leave it out, or give the "
          "constants of the plies that stay as \"elastic\"\n");
}

TEST_CASE("faults of a sheet top are told, and on a class basis it needs no class", "[sheet_top]") {
    Piece thick = strip("birch_ply_18", 30);
    CHECK(text_of(faults_of(thick)) ==
          "top.thickness: 30 mm is not a thickness of birch_ply_18 in the table of sheets; give the "
          "thickness of the sheet, or the sheet of that thickness\n");
    Piece classed = strip("birch_ply_18", 18);
    classed.allowables.basis = AllowablesBasis::strength_class;
    CHECK(text_of(faults_of(classed)) == "");
    CHECK_THAT(row_of(checked(classed), "bending of the sheet")->capacity,
               WithinRel(40.2 * 0.9 / 1.2, 1e-9)); // EN 1995-1-1: k_mod 0.9, gamma_M 1.2
    classed.allowables.strength_class = "C24";
    CHECK(text_of(faults_of(classed)) == "allowables.class: is a class of solid timber, and the top is a "
                                         "sheet; leave it out: a sheet has strengths of its own\n");
    Piece bare = strip("plywood_range", 18);
    CHECK(text_of(faults_of(bare))
              .find("top.sheet: the table of sheets gives Plywood no modulus across its face grain; choose a "
                    "sheet that has one") == 0);
    Piece both = strip("birch_ply_18", 18);
    both.top.wood = "oak_white";
    CHECK(text_of(faults_of(both)) == "top.sheet: is given beside \"wood\"; give one of the two\n");
}

TEST_CASE("on a class basis the hold of screws in a sheet is not judged", "[sheet_top]") {
    Piece piece = strip("mdf_en_12_19", 19);
    piece.allowables.basis = AllowablesBasis::strength_class;
    piece.stiffeners = {Stiffener{.name = "iron",
                                  .section = "flat 20x5",
                                  .metal = "S235",
                                  .wood = "",
                                  .elastic = {},
                                  .from = {50, 30},
                                  .to = {550, 30},
                                  .screws = {.diameter = 4,
                                             .length = 16,
                                             .spacing = 100,
                                             .at = {},
                                             .holes = Holes::slotted,
                                             .stiffness = {}}}};
    const Result result = checked(piece);
    for (const char* held : {"screws in shear", "screws pulled out", "screws in both"})
        CHECK(row_of(result, held) == nullptr);
    CHECK(row_of(result, "stiffener stress") != nullptr); // of the metal it is known
}

TEST_CASE("a stated E3 is what supports press on, and E2 stands in without it", "[elastic][E3]") {
    Piece piece = strip("", 19);
    piece.top.elastic =
        Elastic{.E1 = 11000, .E2 = 800, .nu12 = 0.4, .G12 = 750, .G13 = 700, .G23 = 90, .density_kg_m3 = 600};
    CHECK(through_thickness_modulus(piece) == 800);
    const Matrix6 without = solid_stiffness(*piece.top.elastic);
    piece.top.elastic->E3 = 800;
    CHECK(solid_stiffness(*piece.top.elastic) == without);
    piece.top.elastic->E3 = 1200;
    CHECK(through_thickness_modulus(piece) == 1200);
    piece.top.elastic->E3 = -1;
    CHECK(text_of(faults_of(piece)).find("top.elastic.E3: -1 MPa is not a stiffness") == 0);
}
