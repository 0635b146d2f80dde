// SPDX-License-Identifier: MIT
#include "solver/check/worst_position.hpp"

#include "materials/error.hpp"
#include "solver/check/position_search.hpp"
#include "solver/piece/wording.hpp"
#include "solver/situations/travelling_load.hpp"

#include <algorithm>

namespace hollowtop {

WorstPositions with_worst_positions(const Piece& piece, int threads, KeptAllowables* kept) {
    WorstPositions result{.piece = piece, .travels = {}, .tipped = {}};
    if (std::none_of(piece.loads.begin(), piece.loads.end(), travels)) return result;
    Piece standing = piece; // what the load comes on top of
    std::erase_if(standing.loads, [](const Load& load) { return !stays(load.duration); });
    result.piece.loads.clear();
    const bool has_stability = std::any_of(piece.loads.begin(), piece.loads.end(), [](const Load& load) {
        return load.judged_for == LoadFor::stability;
    });
    const std::shared_ptr<const CoarseTop> top = coarse_top(standing, threads, has_stability);
    for (size_t i = 0; i < piece.loads.size(); ++i) {
        const Load& load = piece.loads[i];
        if (!travels(load)) {
            result.piece.loads.push_back(load);
            continue;
        }
        PositionSearch search(top, load, "loads[" + std::to_string(i) + "]", kept);
        search.run();
        for (const Point at : search.worth_a_situation()) {
            Load placed = set_down(load, at);
            placed.found_at = at;
            result.piece.loads.push_back(std::move(placed));
        }
        result.travels.push_back(search.result());
        if (const auto tipped = search.tipped()) result.tipped.push_back(*tipped);
    }
    if (result.piece.loads.empty() && top->model->loads.empty())
        throw Error(ErrorKind::not_computable,
                    {.place = "supports",
                     .what = "the top tips wherever the load lies",
                     .remedy = "move the supports outwards, or hold the top down"});
    return result;
}

} // namespace hollowtop
