// SPDX-License-Identifier: MIT
#include "materials/push.hpp"

#include "materials/error.hpp"
#include "materials/table.hpp"

#include <algorithm>
#include <array>

namespace hollowtop::materials {
namespace {

Duration duration_of(const Cells& cells) {
    constexpr std::array all{Duration::permanent,    Duration::long_term, Duration::medium,
                             Duration::short_term,   Duration::hour,      Duration::minutes,
                             Duration::instantaneous};
    const auto it = std::find_if(all.begin(), all.end(),
                                 [&](Duration d) { return to_word(d) == cells.text("duration"); });
    if (it == all.end())
        throw Error(ErrorKind::not_computable,
                    Fault{cells.place("duration"), "unknown word \"" + cells.text("duration") + "\"", ""});
    return *it;
}

} // namespace

const std::vector<Push>& pushes() {
    static const std::vector<Push> all = [] {
        std::vector<Push> read;
        const Table& rows = table("pushes");
        for (const Table::Row& row : rows.rows) {
            const Cells cells(rows, row);
            read.push_back({.id = cells.text("id"),
                            .name = cells.text("name"),
                            .force_N = cells.required("force_N"),
                            .size_mm = cells.required("size_mm"),
                            .dish_limit_mm = cells.number("dish_limit_mm"),
                            .width_over = cells.number("width_over"),
                            .duration = duration_of(cells),
                            .source = marked(cells.text("source")),
                            .status = cells.text("status")});
        }
        return read;
    }();
    return all;
}

} // namespace hollowtop::materials
