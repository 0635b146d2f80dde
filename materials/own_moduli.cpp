// SPDX-License-Identifier: MIT
#include "materials/own_moduli.hpp"

#include "materials/table.hpp"

namespace hollowtop::materials {

std::optional<OwnModuli> own_moduli_of(std::string_view id) {
    const Table& all = table("elastic_moduli");
    for (const Table::Row& row : all.rows) {
        if (row.cells.front() != id) continue;
        const Cells cells(all, row);
        return OwnModuli{.E_R = cells.number("E_R_MPa"),
                         .E_T = cells.number("E_T_MPa"),
                         .G_LR = cells.number("G_LR_MPa"),
                         .G_LT = cells.number("G_LT_MPa"),
                         .G_RT = cells.number("G_RT_MPa"),
                         .moe = cells.required("bending_moe_MPa"),
                         .moe_source = cells.text("source"),
                         .moe_status = cells.text("status"),
                         .source = cells.text("source_across"),
                         .status = cells.text("status_across")};
    }
    return std::nullopt;
}

} // namespace hollowtop::materials
