// SPDX-License-Identifier: MIT
#include "solver/hand/hand_estimate.hpp"

#include "solver/hand/hand_plan.hpp"
#include "solver/hand/hand_skin.hpp"
#include "solver/shell/loads.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

constexpr double shear_correction = 5.0 / 6; // Reissner 1945, a homogeneous rectangle

/// A cross-section of boxes under one top face, at one place along the beam strip.
struct CrossSection {
    double EA = 0, EI = 0, GA = 0, axis = 0; ///< axis: depth of the neutral axis below the top face
    double EI_uneven = 0; ///< E I weighted by the square of the distance from the middle of the width, N mm4
    double GJ = 0;
};

CrossSection cross_section(const HandPlan& plan, std::size_t strip, std::size_t step) {
    const BeamStrip& s = plan.strips[strip];
    const std::vector<double>& lines = strip == 0 ? plan.boxes.ys : plan.boxes.xs;
    const double middle = (lines.front() + lines.back()) / 2;
    const auto thickness = [&](std::size_t k) {
        return strip == 0 ? plan.boxes.at(step, k) : plan.boxes.at(k, step);
    };
    CrossSection section;
    double first = 0;
    for (std::size_t k = 0; k + 1 < lines.size(); ++k) {
        const double h = thickness(k), area = (lines[k + 1] - lines[k]) * h;
        section.EA += s.E * area;
        section.GA += shear_correction * s.G * area;
        section.GJ += plan.G_plane * area * h * h / 3;
        first += s.E * area * h / 2;
    }
    section.axis = first / section.EA;
    for (std::size_t k = 0; k + 1 < lines.size(); ++k) {
        const double h = thickness(k), width = lines[k + 1] - lines[k], off = h / 2 - section.axis;
        const double EI = s.E * width * (h * h * h / 12 + h * off * off);
        section.EI += EI;
        const double away = (lines[k] + lines[k + 1]) / 2 - middle;
        section.EI_uneven += EI * (away * away + width * width / 12);
    }
    return section;
}

/// The bar's share in a section: side by side, and Newmark's share of what glue would give.
double with_bar(const CrossSection& section, const HandBar& bar, double thickness) {
    const double arm = thickness + bar.depth - section.axis,
                 both = section.EA * bar.EA / (section.EA + bar.EA);
    const double length = bar.to - bar.from;
    const double pi2 = std::numbers::pi * std::numbers::pi;
    const double share = bar.slip < 0   ? 1
                         : bar.slip > 0 ? 1 / (1 + pi2 * both / (bar.slip * length * length))
                                        : 0;
    return bar.EI + share * both * arm * arm;
}

double thickness_under(const HandPlan& plan, std::size_t strip, std::size_t step, double at) {
    const std::vector<double>& lines = strip == 0 ? plan.boxes.ys : plan.boxes.xs;
    std::size_t k = 0;
    while (k + 2 < lines.size() && at > lines[k + 1]) ++k;
    return strip == 0 ? plan.boxes.at(step, k) : plan.boxes.at(k, step);
}

std::vector<BeamStep> steps_of(const HandPlan& plan, std::size_t strip) {
    const std::vector<double>& lines = strip == 0 ? plan.boxes.xs : plan.boxes.ys;
    std::vector<double> cuts = lines;
    for (const HandBar& bar : plan.strips[strip].bars)
        for (const double end : {bar.from, bar.to})
            if (end > lines.front() && end < lines.back()) cuts.push_back(end);
    std::sort(cuts.begin(), cuts.end());
    std::vector<BeamStep> steps;
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
        const double middle = (cuts[i] + cuts[i + 1]) / 2;
        if (cuts[i + 1] - cuts[i] <= 0) continue;
        std::size_t step = 0;
        while (step + 2 < lines.size() && middle > lines[step + 1]) ++step;
        const CrossSection section = cross_section(plan, strip, step);
        double EI = section.EI;
        for (const HandBar& bar : plan.strips[strip].bars)
            if (middle > bar.from && middle < bar.to)
                EI += with_bar(section, bar, thickness_under(plan, strip, step, bar.at));
        steps.push_back({cuts[i], cuts[i + 1], EI, section.GA});
    }
    return steps;
}

/// Does the wood of some step do less than its bars? It then hangs between them, which no strip tells.
bool bars_carry_most(const HandPlan& plan, std::size_t strip) {
    const std::vector<double>& lines = strip == 0 ? plan.boxes.xs : plan.boxes.ys;
    for (std::size_t i = 0; i + 1 < lines.size(); ++i) {
        const CrossSection section = cross_section(plan, strip, i);
        double bars = 0;
        for (const HandBar& bar : plan.strips[strip].bars)
            if (std::min(bar.to, lines[i + 1]) > std::max(bar.from, lines[i]))
                bars += with_bar(section, bar, thickness_under(plan, strip, i, bar.at));
        if (bars > section.EI) return true;
    }
    return false;
}

std::vector<LoadBox> loads_of(const Piece& piece, const HandPlan& plan, const HandLoads& loads) {
    std::vector<LoadBox> boxes;
    for (const int k : loads.loads)
        boxes.push_back(load_box(piece, piece.loads[static_cast<std::size_t>(k)]));
    if (!loads.own_weight) return boxes;
    const Boxes& b = plan.boxes;
    for (std::size_t iy = 0; iy + 1 < b.ys.size(); ++iy)
        for (std::size_t ix = 0; ix + 1 < b.xs.size(); ++ix)
            boxes.push_back({{b.xs[ix], b.ys[iy]},
                             {b.xs[ix + 1], b.ys[iy + 1]},
                             plan.density * standard_gravity * b.at(ix, iy) * (b.xs[ix + 1] - b.xs[ix]) *
                                 (b.ys[iy + 1] - b.ys[iy]),
                             false});
    for (std::size_t strip = 0; strip < 2; ++strip)
        for (const HandBar& bar : plan.strips[strip].bars) {
            const Point from = strip == 0 ? Point{bar.from, bar.at} : Point{bar.at, bar.from};
            const Point to = strip == 0 ? Point{bar.to, bar.at} : Point{bar.at, bar.to};
            boxes.push_back({from, to, bar.force, true});
        }
    return boxes;
}

/// The turning of the beam strip at its middle under loads that lie to one side, a radian; +: it sinks at greater
/// y (x).
double turning(const HandPlan& plan, std::size_t strip, const std::vector<LoadBox>& loads) {
    const BeamStrip& s = plan.strips[strip];
    const std::vector<double>& lines = strip == 0 ? plan.boxes.xs : plan.boxes.ys;
    const std::vector<double>& across = strip == 0 ? plan.boxes.ys : plan.boxes.xs;
    const double a = s.rows[0].at, span = s.rows[1].at - a, middle = (across.front() + across.back()) / 2;
    const auto wave = [&](double x) {
        return x <= a || x >= a + span ? 0 : std::sin(std::numbers::pi * (x - a) / span);
    };
    double moment = 0;
    for (const LoadBox& load : loads) {
        const Point from = strip == 0 ? load.from : Point{load.from.y, load.from.x},
                    to = strip == 0 ? load.to : Point{load.to.y, load.to.x};
        constexpr int n = 16;
        for (int i = 0; i < n; ++i) {
            const double along = (i + 0.5) / n, x = from.x + along * (to.x - from.x);
            const double y = load.is_line ? from.y + along * (to.y - from.y) : (from.y + to.y) / 2;
            moment += load.force / n * (y - middle) * wave(x);
        }
    }
    double EI = 0, GJ = 0; // means between the supports
    for (std::size_t i = 0; i + 1 < lines.size(); ++i) {
        const double length = std::min(lines[i + 1], a + span) - std::max(lines[i], a);
        if (length <= 0) continue;
        const CrossSection section = cross_section(plan, strip, i);
        EI += section.EI_uneven * length / span;
        GJ += section.GJ * length / span;
    }
    const double k = std::numbers::pi / span;
    return moment / (span / 2 * (EI * k * k * k * k + GJ * k * k));
}

/// Does a load that rests on a spot lie past a row of supports or over it (its middle within a twentieth of the
/// span)? What bends there is the top about its support, and the wood under the load, which no beam tells.
bool lies_past(const HandPlan& plan, const LoadBox& load) {
    constexpr double slack = 0.05;
    for (std::size_t strip = 0; strip < 2; ++strip) {
        const BeamStrip& s = plan.strips[strip];
        if (!s.spans) continue;
        const double x = strip == 0 ? (load.from.x + load.to.x) / 2 : (load.from.y + load.to.y) / 2;
        const double span = s.rows[1].at - s.rows[0].at;
        if (x < s.rows[0].at + slack * span || x > s.rows[1].at - slack * span) return true;
    }
    return false;
}

constexpr std::size_t n = 48; ///< places each way
using Row = std::array<double, n + 1>;

double read(const Row& row, double share) {
    const double at = std::clamp(share, 0.0, 1.0) * n;
    const std::size_t i = std::min<std::size_t>(static_cast<std::size_t>(at), n - 1);
    return row[i] + (at - static_cast<double>(i)) * (row[i + 1] - row[i]);
}

/// How far the row sags below the straight line between two places, where it does.
Row sag_between(const Row& row, double from, double to) {
    Row sag{};
    const double first = read(row, from), last = read(row, to);
    for (std::size_t i = 0; i <= n; ++i) {
        const double share = (static_cast<double>(i) / n - from) / (to - from);
        if (share > 0 && share < 1) sag[i] = std::max(0.0, row[i] - first - share * (last - first));
    }
    return sag;
}

} // namespace

Message why_not_by_hand(const Piece& piece) { return hand_plan(piece, 1).why_not; }

HandAnswer sag_by_hand(const Piece& piece, const HandLoads& loads) {
    const HandPlan plan = hand_plan(piece, loads.creep_factor);
    const std::vector<LoadBox> boxes = loads_of(piece, plan, loads);
    if (std::any_of(boxes.begin(), boxes.begin() + static_cast<std::ptrdiff_t>(loads.loads.size()),
                    [&](const LoadBox& load) { return lies_past(plan, load); }))
        return {.sag = {}, .why_not = "a load over or past the supports"};
    std::array<Row, 2> moved{}, turned{};
    const std::array<double, 2> size{piece.top.length, piece.top.width};
    for (std::size_t strip = 0; strip < 2; ++strip) {
        const BeamStrip& s = plan.strips[strip];
        if (!s.spans) continue;
        SteppedBeam by_hand{
            .steps = steps_of(plan, strip), .loads = {}, .left = s.rows[0], .right = s.rows[1]};
        for (const LoadBox& load : boxes) {
            const double from = strip == 0 ? load.from.x : load.from.y,
                         to = strip == 0 ? load.to.x : load.to.y;
            by_hand.loads.push_back({std::min(from, to), std::max(from, to), load.force});
        }
        if (bars_carry_most(plan, strip)) return {.sag = {}, .why_not = "stiffeners that carry most of it"};
        const SteppedBeamAnswer answer = solve_stepped_beam(by_hand);
        for (std::size_t k = 0; k < 2; ++k)
            if (s.rows[k].lets_go && answer.force[k] < 0) return {.sag = {}, .why_not = "a support lets go"};
        const double turn = strip == 0 || !plan.strips[0].spans ? turning(plan, strip, boxes) : 0;
        for (std::size_t i = 0; i <= n; ++i) {
            const double x = size[strip] * static_cast<double>(i) / n,
                         share = (x - s.rows[0].at) / (s.rows[1].at - s.rows[0].at);
            moved[strip][i] = beam_movement(by_hand, answer, x);
            turned[strip][i] = share > 0 && share < 1 ? turn * std::sin(std::numbers::pi * share) : 0;
        }
    }
    std::vector<double> xs, ys;
    for (std::size_t i = 0; i <= n; ++i) {
        xs.push_back(size[0] * static_cast<double>(i) / n);
        ys.push_back(size[1] * static_cast<double>(i) / n);
    }
    std::vector<double> dish((n + 1) * (n + 1), 0);
    for (const HandSkin& skin : skins_by_hand(piece, plan)) {
        const std::vector<double> sinks = dish_by_hand(skin, boxes, xs, ys);
        const auto across = sag_between(moved[1], skin.box.y0 / size[1], skin.box.y1 / size[1]);
        for (std::size_t j = 0; j <= n; ++j)
            for (std::size_t i = 0; i <= n;
                 ++i) // what the strip across sags between the walls is the same bending, told twice
                dish[j * (n + 1) + i] +=
                    std::max(0.0, sinks[j * (n + 1) + i] - skin.share_across * across[j]);
    }
    HandSag sag;
    sag.sag_mm = -1e300;
    for (std::size_t i = 0; i <= n; ++i)
        for (std::size_t j = 0; j <= n; ++j) {
            const double t = (ys[j] - size[1] / 2) * turned[0][i] + (xs[i] - size[0] / 2) * turned[1][j],
                         d = dish[j * (n + 1) + i];
            const double w = moved[0][i] + moved[1][j] + t + d;
            if (w > sag.sag_mm + 1e-9) sag = {w, {xs[i], ys[j]}, moved[0][i], moved[1][j], t, d};
        }
    return {.sag = sag, .why_not = {}};
}

} // namespace hollowtop
