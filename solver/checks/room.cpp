// SPDX-License-Identifier: MIT
// Is there room for what a recess holds? Height and both ways in the plane; the tightest thing and way is
// told.
#include "solver/capacity/in_recess.hpp"
#include "solver/checks/judges.hpp"

#include <algorithm>

namespace hollowtop {
namespace {

double used(const KeptResult::Way& way) {
    return way.there_mm > 0 ? way.needed_mm / way.there_mm : 1e9 + way.needed_mm;
}

} // namespace

std::optional<CheckResult> judge_room(const CheckInput& input) {
    if (&input.situation != told_situation(input.response)) return std::nullopt; // once a piece
    const std::vector<InRecess> told = in_recesses(input.piece, input.response);
    const KeptResult* tightest = nullptr;
    const KeptResult::Way* way = nullptr;
    const InRecess* where = nullptr;
    for (const InRecess& recess : told)
        for (const KeptResult& kept : recess.holds)
            for (const KeptResult::Way& here : kept.ways)
                if (!way || is_more(used(here), used(*way))) {
                    tightest = &kept;
                    way = &here;
                    where = &recess;
                }
    if (!way) return std::nullopt;
    CheckResult row;
    row.demand = way->needed_mm;
    row.capacity = std::max(way->there_mm, 0.0);
    row.unit = "mm";
    row.at = tightest->at;
    const bool is_height = way->way == "height";
    row.basis = "\"" + tightest->name + "\" in recess " + where->recess + ", " +
                (is_height ? "height" : "along " + way->way) + "; " + way->basis;
    row.remedy = is_height ? "keep something lower there, move it from under what takes its height, or cut "
                             "the recess deeper where the skin allows it"
                           : "keep something smaller there, or cut the recess wider";
    return row;
}

} // namespace hollowtop
