// SPDX-License-Identifier: MIT
#include "materials/sheet.hpp"

#include "materials/error.hpp"
#include "materials/names.hpp"

namespace hollowtop::materials {

const std::vector<Sheet>& sheets() {
    static const std::vector<Sheet> all = [] {
        std::vector<Sheet> read;
        const Table& rows = table("sheets");
        for (const Table::Row& row : rows.rows) {
            const Cells cells(rows, row);
            read.push_back({.id = cells.text("id"),
                            .name = cells.text("name"),
                            .thickness = cells.range("thickness_mm"),
                            .density_kg_m3 = cells.range("density_kg_m3"),
                            .E_along = cells.range("E_along_MPa"),
                            .E_across = cells.range("E_across_MPa"),
                            .bending_along = cells.range("f_m_along_MPa"),
                            .bending_across = cells.range("f_m_across_MPa"),
                            .thickness_tolerance = cells.number("thickness_tol_mm"),
                            .source = cells.text("source"),
                            .status = cells.text("status"),
                            .note = cells.text("note")});
        }
        return read;
    }();
    return all;
}

const Sheet& find_sheet(std::string_view id) {
    std::vector<std::string> ids;
    for (const Sheet& sheet : sheets()) {
        if (plain_words(sheet.id) == plain_words(id)) return sheet;
        ids.push_back(sheet.id);
    }
    const std::string near = did_you_mean(id, ids);
    throw Error(ErrorKind::input, Fault{"", "no sheet \"" + std::string(id) + "\" in the table of sheets",
                                        near.empty() ? "see the table of sheets" : near});
}

} // namespace hollowtop::materials
