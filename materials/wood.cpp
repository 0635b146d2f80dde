// SPDX-License-Identifier: MIT
#include "materials/wood.hpp"

#include "materials/own_moduli.hpp"
#include "materials/table.hpp"

namespace hollowtop::materials {
namespace {

Wood as_printed(const Cells& row) {
    return {.id = row.text("id"),
            .common_name = row.text("common_name"),
            .botanical_name = row.text("botanical_name"),
            .softwood = row.text("group") == "softwood",
            .sg_12 = row.required("sg_12"),
            .density_12_kg_m3 = row.required("density_12_kg_m3"),
            .mor = row.number("mor_12_MPa"),
            .moe = row.number("moe_12_MPa"),
            .comp_par = row.number("comp_par_MPa"),
            .comp_perp_pl = row.number("comp_perp_pl_MPa"),
            .shear_par = row.number("shear_par_MPa"),
            .tension_perp = row.number("tension_perp_MPa"),
            .side_hardness_N = row.number("side_hardness_N"),
            .shrink_R_percent = row.number("shrink_R_pct"),
            .shrink_T_percent = row.number("shrink_T_pct"),
            .shrink_V_percent = row.number("shrink_V_pct"),
            .coef_R_per_percent = row.number("coef_R_per_pct"),
            .coef_T_per_percent = row.number("coef_T_per_pct"),
            .source = row.text("source"),
            .status = row.text("status"),
            .shrink_status = row.text("shrink_status"),
            .coef_status = row.text("coef_status"),
            .note = row.text("note"),
            .moe_source = row.text("source"),
            .moe_status = row.text("status")};
}

/// Where the bending modulus has a source of its own, it stands for that of the wood's row.
Wood read_wood(const Cells& row) {
    Wood wood = as_printed(row);
    if (const std::optional<OwnModuli> own = own_moduli_of(wood.id)) {
        wood.moe = own->moe;
        wood.moe_source = own->moe_source;
        wood.moe_status = own->moe_status;
    }
    return wood;
}

} // namespace

const std::vector<Wood>& woods() {
    static const std::vector<Wood> all = [] {
        const Table& rows = table("woods");
        std::vector<Wood> read;
        read.reserve(rows.rows.size());
        for (const Table::Row& row : rows.rows) read.push_back(read_wood(Cells(rows, row)));
        return read;
    }();
    return all;
}

} // namespace hollowtop::materials
