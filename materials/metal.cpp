// SPDX-License-Identifier: MIT
#include "materials/metal.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/names.hpp"
#include "materials/table.hpp"

namespace hollowtop::materials {
namespace {

/// Where the source prints none: G = E / (2 (1 + nu)), which holds for any metal without a grain.
double isotropic_shear_modulus(double E, double nu) { return E / (2 * (1 + nu)); }

} // namespace

const std::vector<Metal>& metals() {
    static const std::vector<Metal> all = [] {
        std::vector<Metal> read;
        const Table& rows = table("metals");
        for (const Table::Row& row : rows.rows) {
            const Cells cells(rows, row);
            read.push_back({.id = cells.text("id"),
                            .name = cells.text("name"),
                            .E = cells.required("E_MPa"),
                            .G = cells.number("G_MPa").value_or(
                                isotropic_shear_modulus(cells.required("E_MPa"), cells.required("nu"))),
                            .nu = cells.required("nu"),
                            .density_kg_m3 = cells.required("density_kg_m3"),
                            .expansion_per_K = cells.number("alpha_per_K"),
                            .f_y = cells.number("f_y_MPa"),
                            .f_u = cells.number("f_u_MPa"),
                            .source = cells.text("source"),
                            .status = cells.text("status"),
                            .note = cells.text("note"),
                            .partial_factor = cells.text("partial_factor")});
        }
        return read;
    }();
    return all;
}

const Metal& find_metal(std::string_view name) {
    const std::string asked = plain_words(name);
    const Metal* only = nullptr;
    std::vector<std::string> holding, ids;
    for (const Metal& metal : metals()) {
        ids.push_back(metal.id);
        if (plain_words(metal.id) == asked) return metal;
        // "6082": the id without its temper, where only one has it.
        if (!asked.empty() && (plain_words(metal.id) + " ").starts_with(asked + " ")) {
            only = &metal;
            holding.push_back(metal.id);
        }
    }
    if (only && holding.size() == 1) return *only;
    const std::string shown = "\"" + std::string(name) + "\"";
    std::string list;
    for (const std::string& id : holding.empty() ? ids : holding) list += (list.empty() ? "" : ", ") + id;
    if (!holding.empty())
        throw Error(ErrorKind::input, Fault{"", shown + " may mean several metals", "give one of " + list});
    const std::string near = did_you_mean(name, ids);
    throw Error(ErrorKind::input, Fault{"", "no metal " + shown + " in the table of metals",
                                        near.empty() ? "give one of " + list : near});
}

std::optional<Sourced> allowable_stress(const Metal& metal) {
    if (!metal.f_y) return std::nullopt;
    const Sourced omega = rule("metal_rules", "Omega_b");
    return Sourced{*metal.f_y / omega.value,
                   said("yield {} of {}{} / {}{}", amount(*metal.f_y, Unit::MPa), metal.id,
                        cited(metal.source, metal.status), number(omega.value), cited(omega)),
                   omega.status};
}

std::optional<Sourced> design_strength(const Metal& metal) {
    if (!metal.f_y) return std::nullopt;
    const bool has_code = !metal.partial_factor.empty();
    const Sourced gamma = rule("metal_rules", has_code ? metal.partial_factor : "gamma_M1_alu");
    return Sourced{*metal.f_y / gamma.value,
                   said("yield {} of {}{} / gamma_M {}{}", amount(*metal.f_y, Unit::MPa), metal.id,
                        cited(metal.source, metal.status), number(gamma.value),
                        has_code ? cited(gamma) : " (as of aluminium, judgement)"),
                   gamma.status};
}

} // namespace hollowtop::materials
