// SPDX-License-Identifier: MIT
#include "materials/finish.hpp"

#include "materials/error.hpp"
#include "materials/table.hpp"

namespace hollowtop::materials {

const std::vector<Finish>& finishes() {
    static const std::vector<Finish> all = [] {
        std::vector<Finish> rows;
        const Table& known = table("finishes");
        constexpr double mm_per_m = 1000;
        for (const Table::Row& row : known.rows) {
            const Cells cells(known, row);
            rows.push_back({.id = cells.text("id"),
                            .name = cells.text("name"),
                            .exchange_mm_s = {cells.required("exchange_m_s") * mm_per_m, cells.text("source"),
                                              cells.text("status")}});
        }
        return rows;
    }();
    return all;
}

const Finish& find_finish(std::string_view id) {
    std::string known;
    for (const Finish& finish : finishes()) {
        if (finish.id == id) return finish;
        known += (known.empty() ? "\"" : ", \"") + finish.id + "\"";
    }
    throw Error(ErrorKind::input, Fault{"", "\"" + std::string(id) + "\" is no finish that is known here",
                                        "write one of " + known});
}

const Diffusion& diffusion_across() {
    static const Diffusion known = [] {
        Diffusion d{.at_12_mm2_s = rule("wood_rules", "diffusion_across"),
                    .growth_per_percent = rule("wood_rules", "diffusion_growth")};
        constexpr double mm2_per_m2 = 1e6;
        d.at_12_mm2_s.value *= mm2_per_m2;
        return d;
    }();
    return known;
}

Sourced diffusion_along() { return rule("wood_rules", "diffusion_along"); }

Sourced give_with_moisture() { return rule("wood_rules", "give_with_moisture"); }

} // namespace hollowtop::materials
