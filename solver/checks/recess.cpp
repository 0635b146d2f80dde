// SPDX-License-Identifier: MIT
// What lies in a recess and what closes it.
#include "solver/capacity/in_recess.hpp"
#include "solver/checks/judges.hpp"
#include "solver/piece/kept_region.hpp"

#include <algorithm>

namespace hollowtop {
namespace {

double used(const KeptResult::Way& way) {
    return way.there_mm > 0 ? way.needed_mm / way.there_mm : 1e9 + way.needed_mm;
}

Point middle_of_recess(const Piece& piece, const std::string& name) {
    for (const Recess& recess : piece.recesses) {
        if (recess.name != name || !recess.cover) continue;
        const Rectangle box = bounds_of(trace_of(recess, piece.top.outline));
        return {(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    }
    return {};
}

} // namespace

/// Is there room for what a recess holds? Height and both ways in the plane; the tightest thing and way is told.
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
    row.basis = said("\"{}\" in recess {}, {}; {}", tightest->name, where->recess,
                     is_height ? "height" : "along " + way->way, way->basis);
    row.remedy = is_height ? "keep something lower there, move it from under what takes its height, or cut "
                             "the recess deeper where the skin allows it"
                           : "keep something smaller there, or cut the recess wider";
    return row;
}

/// The cover of a recess: its own sag, and whether the top can move past the screws that hold it.
std::optional<CheckResult> judge_cover(const CheckInput& input) {
    if (&input.situation != told_situation(input.response)) return std::nullopt; // once a piece
    std::optional<CheckResult> worst;
    double most = -1;
    const auto look = [&](double demand, double capacity, const std::string& recess, const Message& basis,
                          const char* remedy) {
        const double used = capacity > 0 ? demand / capacity : 1e9 + demand;
        if (!is_more(used, most)) return;
        most = used;
        worst = CheckResult{};
        worst->demand = demand;
        worst->capacity = capacity;
        worst->unit = "mm";
        worst->at = middle_of_recess(input.piece, recess);
        worst->basis = said("cover of recess {}; {}", recess, basis);
        worst->remedy = remedy;
    };
    for (const InRecess& recess : in_recesses(input.piece, input.response)) {
        if (!recess.cover) continue;
        const CoverResult& cover = *recess.cover;
        if (cover.sag_mm)
            look(*cover.sag_mm, *cover.sag_limit_mm, recess.recess, said("sag: {}", cover.sag_basis),
                 "take a thicker or stiffer sheet, or set a ledger under its middle");
        if (cover.moves_mm && cover.play_mm)
            look(*cover.moves_mm, *cover.play_mm, recess.recess,
                 said("movement at its screws: {}", cover.play_basis),
                 "screw it through slots that run across the grain");
    }
    return worst;
}

} // namespace hollowtop
