// SPDX-License-Identifier: MIT
#include "cli/report/data.hpp"

#include "materials/digits.hpp"
#include "materials/metal.hpp"
#include "materials/table.hpp"
#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"
#include "solver/section/top_material.hpp"

#include <algorithm>

namespace hollowtop::cli {
namespace {

constexpr const char* stated = "as the piece file states it";
constexpr const char* measured_here = "measured on the boards, as the piece file states it";

Message with_status(const Message& source, const std::string& status) {
    return status.empty() || status == "checked" ? source : said("{}, {}", source, status);
}

void add_elastic(const Elastic& e, const char* source, std::vector<Datum>& data) {
    const auto add = [&](const char* what, double value, const char* unit) {
        data.push_back({.what = what, .unit = unit, .value = value, .source = source});
    };
    add("modulus of elasticity, axis 1", e.E1, "MPa");
    add("modulus of elasticity, axis 2", e.E2, "MPa");
    add("Poisson's ratio, stress along 1, strain along 2", e.nu12, "1");
    add("shear modulus in the plane", e.G12, "MPa");
    add("shear modulus through the thickness, along axis 1", e.G13, "MPa");
    add("shear modulus through the thickness, along axis 2", e.G23, "MPa");
    if (e.E3) add("modulus of elasticity through the thickness", *e.E3, "MPa");
    if (e.density_kg_m3) add("density", *e.density_kg_m3, "kg/m3");
}

void add_wood(const Top& top, std::vector<Datum>& data) {
    const materials::Wood& wood = materials::find_wood(top.wood);
    const materials::WoodConstants constants = wood_constants_of(top);
    const materials::PlaneConstants plane = materials::turned_by_rings(constants, top.ring_angle_deg);
    const auto variation = [](const char* id) { return materials::rule("wood_rules", id).value; };
    // of the sources of a row the first is the one of strengths and density
    const Message handbook = with_status(wood.source.substr(0, wood.source.find("; ")), wood.status);
    const std::string no_shear = materials::digits(materials::rule("wood_rules", "E_L_rule").value);
    const std::string ratio = "its own or its ratio to that along the grain, turned by the rings; it stands "
                              "under what was taken for granted";
    const auto add = [&](const char* what, double value, const char* unit, const Message& source,
                         std::optional<double> cov = {}) {
        data.push_back(
            {.what = what, .unit = unit, .value = value, .variation_percent = cov, .source = source});
    };
    add("modulus of elasticity along the grain", plane.E1, "MPa",
        top.measured.E_along
            ? said("{}, x {} for shear deflection", measured_here, no_shear)
            : said("{} x the bending modulus of {}, {}", no_shear, wood.common_name,
                   with_status(wood.moe_source.substr(0, wood.moe_source.find("; ")), wood.moe_status)),
        top.measured.E_along ? std::nullopt : std::optional(variation("cov_moe")));
    add("modulus of elasticity across it, in the plane", plane.E2, "MPa", ratio);
    add("shear modulus in the plane", plane.G12, "MPa", ratio);
    add("shear modulus through the thickness, along the grain", plane.G13, "MPa", ratio);
    add("shear modulus through the thickness, across the grain", plane.G23, "MPa", ratio);
    add("Poisson's ratio, stress along the grain, strain across it", plane.nu12, "1", ratio);
    add("density", constants.density_kg_m3, "kg/m3",
        top.measured.density_kg_m3 ? Message(measured_here) : handbook,
        top.measured.density_kg_m3 ? std::nullopt : std::optional(variation("cov_sg")));
    add("moisture at which it is made", top.moisture_percent, "%", stated);
}

void add_metals(const Piece& piece, std::vector<Datum>& data) {
    std::vector<std::string> seen;
    for (const Stiffener& bar : piece.stiffeners) {
        if (bar.metal.empty() || std::find(seen.begin(), seen.end(), bar.metal) != seen.end()) continue;
        seen.push_back(bar.metal);
        const materials::Metal& metal = materials::find_metal(bar.metal);
        data.push_back({.what = metal.name + ": modulus of elasticity",
                        .unit = "MPa",
                        .value = metal.E,
                        .source = with_status(metal.source, metal.status)});
        if (const auto limit = materials::allowable_stress(metal))
            data.push_back({.what = metal.name + ": allowable stress",
                            .unit = "MPa",
                            .value = limit->value,
                            .source = with_status(limit->source, limit->status)});
    }
}

} // namespace

std::vector<Datum> data_of(const Piece& piece) {
    std::vector<Datum> data;
    if (const auto elastic = stated_elastic(piece.top))
        add_elastic(*elastic,
                    piece.top.sheet.empty() ? stated
                                            : "of the sheet; what was taken for granted says from where",
                    data);
    else
        add_wood(piece.top, data);
    const materials::Sourced creep = creep_of(piece);
    data.push_back({.what = "sag under what stays, after the years, against that at once",
                    .unit = "1",
                    .value = 1 + creep.value,
                    .source = said("1 + k_def, {}", with_status(creep.source, creep.status))});
    add_metals(piece, data);
    return data;
}

} // namespace hollowtop::cli
