// SPDX-License-Identifier: MIT
#include "solver/readout/kept_sink.hpp"

#include "solver/piece/kept_region.hpp"

#include <algorithm>

namespace hollowtop {
namespace {

constexpr int n_across = 12; ///< steps of the grid over a footprint

Point between(const WallLine& line, double share) {
    return {line.from.x + share * (line.to.x - line.from.x), line.from.y + share * (line.to.y - line.from.y)};
}

double sink_of(const Kept& kept, const RecessTraces& traces, const Model& model, const SolvedSituation& s,
               const SupportPlane& plane) {
    const auto down = [&](Point p) { return -movement_at(model.shell, s.dofs, p) - plane.at(p); };
    const Rectangle box = footprint_of(kept, traces);
    const Runners runners = runners_of(box, traces);
    const WallLine &low = runners.lines[0], &high = runners.lines[1];
    const double at_ends[2][2] = {{down(low.from), down(high.from)}, {down(low.to), down(high.to)}};
    double most = 0;
    for (int i = 0; i <= n_across; ++i) {
        for (int j = 0; j <= n_across; ++j) {
            const Point p{box.x0 + (box.x1 - box.x0) * i / n_across,
                          box.y0 + (box.y1 - box.y0) * j / n_across};
            if (kept.hangs_on == HangsOn::base) {
                most = std::max(most, down(p));
                continue;
            }
            const double t = static_cast<double>(runners.along_x ? i : j) / n_across;
            const Point a = between(low, t), b = between(high, t);
            const double width = runners.along_x ? b.y - a.y : b.x - a.x;
            const double share =
                width > 0 ? std::clamp((runners.along_x ? p.y - a.y : p.x - a.x) / width, 0.0, 1.0) : 0;
            const double straight = (1 - t) * ((1 - share) * at_ends[0][0] + share * at_ends[0][1]) +
                                    t * ((1 - share) * at_ends[1][0] + share * at_ends[1][1]);
            most = std::max(most, down(p) - straight);
        }
    }
    return most;
}

} // namespace

std::vector<double> kept_sinks(const Piece& piece, const Model& model, const SolvedSituation& situation,
                               const SupportPlane& plane) {
    std::vector<double> sinks;
    for (const Recess& recess : piece.recesses) {
        if (recess.holds.empty()) continue;
        const RecessTraces traces = traces_of(recess, piece.top.outline);
        for (const Kept& kept : recess.holds) sinks.push_back(sink_of(kept, traces, model, situation, plane));
    }
    return sinks;
}

} // namespace hollowtop
