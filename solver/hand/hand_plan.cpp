// SPDX-License-Identifier: MIT
#include "solver/hand/hand_plan.hpp"

#include "materials/screw.hpp"
#include "solver/interface/beam.hpp"
#include "solver/model/model.hpp"
#include "solver/model/plan_model.hpp"
#include "solver/piece/skin.hpp"
#include "solver/shell/loads.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

/// A stiff pad that turns in a wide plate meets 8 sqrt(D1 D2), N mm a radian: of the form 4 pi D / log(size
/// of plate / pad), the number our own estimate (docs/method.md, "By hand").
constexpr double pad_in_plate = 8;

/// Says nothing of the piece: why it is beyond a hand's reckoning.
struct Beyond {
    std::string why;
};

Boxes boxes_of(const Piece& piece) {
    struct Level {
        Rectangle box;
        double thickness;
    };
    std::vector<Level> levels{{{0, piece.top.length, 0, piece.top.width}, piece.top.thickness}};
    for (const Recess& recess : piece.recesses) {
        const std::optional<Rectangle> box = recess_box(piece, recess);
        if (!box) throw Beyond{"a recess that is no rectangle"};
        levels.push_back({*box, skin_of(recess, piece.top)});
        for (const Land& land : recess.lands) {
            const auto* shape = std::get_if<RectangleShape>(&land.shape);
            if (!shape) throw Beyond{"a land that is no rectangle"};
            levels.push_back({shape->box, piece.top.thickness});
        }
    }
    Boxes boxes;
    for (const Level& level : levels) {
        boxes.xs.insert(boxes.xs.end(), {level.box.x0, level.box.x1});
        boxes.ys.insert(boxes.ys.end(), {level.box.y0, level.box.y1});
    }
    for (std::vector<double>* lines : {&boxes.xs, &boxes.ys}) {
        std::sort(lines->begin(), lines->end());
        lines->erase(std::unique(lines->begin(), lines->end()), lines->end());
    }
    for (std::size_t iy = 0; iy + 1 < boxes.ys.size(); ++iy)
        for (std::size_t ix = 0; ix + 1 < boxes.xs.size(); ++ix) {
            const Point p{(boxes.xs[ix] + boxes.xs[ix + 1]) / 2, (boxes.ys[iy] + boxes.ys[iy + 1]) / 2};
            const auto over = std::find_if(levels.rbegin(), levels.rend(), [&](const Level& level) {
                return p.x > level.box.x0 && p.x < level.box.x1 && p.y > level.box.y0 && p.y < level.box.y1;
            });
            boxes.thickness.push_back(over == levels.rend() ? piece.top.thickness : over->thickness);
        }
    return boxes;
}

double thickness_at(const Boxes& boxes, Point p) {
    const auto cell = [](const std::vector<double>& lines, double v) {
        const auto after = std::upper_bound(lines.begin() + 1, lines.end() - 1, v);
        return static_cast<std::size_t>(after - lines.begin()) - 1;
    };
    return boxes.at(cell(boxes.xs, p.x), cell(boxes.ys, p.y));
}

/// A support as both beam strips see it.
struct SupportPoint {
    Point at;
    std::array<double, 2> turning{}, width{};
    std::array<bool, 2> is_row{}; ///< a line across this strip: the other strip cannot bend there
    bool lets_go = false, holds_in_plane = false;
};

SupportPoint support_point_on_line(const Boxes& boxes, Point from, Point to) {
    const double dx = std::abs(to.x - from.x), dy = std::abs(to.y - from.y);
    if (std::min(dx, dy) > 0.02 * std::max(dx, dy)) throw Beyond{"a slanting support"};
    SupportPoint support_point;
    support_point.at = {(from.x + to.x) / 2, (from.y + to.y) / 2};
    support_point.is_row = {dy > dx, dx >= dy};
    constexpr double nearly_all = 0.7; // of the width: beyond its ends the top hangs free
    if (std::max(dx, dy) < nearly_all * (dy > dx ? boxes.ys.back() : boxes.xs.back()))
        throw Beyond{"a short bearer"};
    return support_point;
}

SupportPoint support_point_of(const Support& support, const Boxes& boxes, double E3, double root_D) {
    constexpr double built_in = 1e18;
    if (const auto* pad = std::get_if<Pad>(&support.kind)) {
        SupportPoint support_point;
        support_point.at = pad->at;
        const double bed = pad->stiffness.value_or(E3 / thickness_at(boxes, pad->at));
        support_point.width = {pad->size_x, pad->size_y};
        support_point.turning = {bed * pad->size_y * std::pow(pad->size_x, 3) / 12,
                                 bed * pad->size_x * std::pow(pad->size_y, 3) / 12};
        if (thickness_at(boxes, pad->at) < boxes.greatest()) throw Beyond{"a leg under a recess"};
        for (double& turning : support_point.turning)
            turning = 1 / (1 / turning + 1 / (pad_in_plate * root_D));
        support_point.lets_go = !pad->hold_down;
        return support_point;
    }
    if (const auto* bearer = std::get_if<Bearer>(&support.kind)) {
        SupportPoint support_point = support_point_on_line(boxes, bearer->from, bearer->to);
        const std::size_t strip = support_point.is_row[0] ? 0 : 1;
        const double bed = bearer->stiffness.value_or(E3 / thickness_at(boxes, support_point.at));
        const double length = std::hypot(bearer->to.x - bearer->from.x, bearer->to.y - bearer->from.y);
        support_point.width[strip] = bearer->width;
        support_point.turning[strip] = bed * length * std::pow(bearer->width, 3) / 12;
        support_point.lets_go = !bearer->hold_down;
        constexpr int places = 50;
        for (int k = 0; bearer->width > 0 && k <= places;
             ++k) // a knife edge touches all along, whatever is above it
            for (const double side : {-0.45, 0.45}) {
                const double s = static_cast<double>(k) / places, off = side * bearer->width / length;
                const Point d{bearer->to.x - bearer->from.x, bearer->to.y - bearer->from.y};
                if (thickness_at(boxes, {bearer->from.x + s * d.x - off * d.y,
                                         bearer->from.y + s * d.y + off * d.x}) < boxes.greatest())
                    throw Beyond{"a bearer under a recess"};
            }
        return support_point;
    }
    if (const auto* held = std::get_if<Held>(&support.kind)) {
        if (!held->down) throw Beyond{"a line that is not held down"};
        SupportPoint support_point = support_point_on_line(boxes, held->from, held->to);
        if (held->tilt) support_point.turning[support_point.is_row[0] ? 0 : 1] = built_in;
        support_point.holds_in_plane = held->across;
        return support_point;
    }
    if (const auto* wall = std::get_if<BuiltIn>(&support.kind)) {
        SupportPoint support_point = support_point_on_line(boxes, wall->from, wall->to);
        support_point.turning[support_point.is_row[0] ? 0 : 1] = built_in;
        support_point.holds_in_plane = true;
        return support_point;
    }
    throw Beyond{"rails"};
}

/// Puts the supports into two rows across the beam strip.
void take_rows(const std::vector<SupportPoint>& support_points, std::size_t axis, double length,
               BeamStrip& strip) {
    const auto place = [&](const SupportPoint& s) { return axis == 0 ? s.at.x : s.at.y; };
    double low = 1e300, high = -1e300;
    for (const SupportPoint& s : support_points) {
        low = std::min(low, place(s));
        high = std::max(high, place(s));
    }
    constexpr double one_row = 0.06, apart = 0.25; // shares of the length
    if (high - low < apart * length) throw Beyond{"supports that do not stand in two rows"};
    std::array<double, 2> middle{};
    std::array<int, 2> count{};
    std::array<bool, 2> lets_go{false, false};
    for (const SupportPoint& s : support_points) {
        const double x = place(s);
        const bool left = x - low < one_row * length, right = high - x < one_row * length;
        if (!left && !right) throw Beyond{"supports that do not stand in two rows"};
        const std::size_t k = left ? 0 : 1;
        middle[k] += x;
        ++count[k];
        strip.rows[k].turning += s.turning[axis];
        strip.rows[k].width = std::max(strip.rows[k].width, s.width[axis]);
        lets_go[k] = lets_go[k] || s.lets_go;
    }
    for (std::size_t k = 0; k < 2; ++k) {
        strip.rows[k].at = middle[k] / count[k];
        strip.rows[k].lets_go = lets_go[k];
    }
    strip.spans = true;
}

HandBar bar_of(const Piece& piece, const Stiffener& stiffener, std::size_t axis, double density_kg_m3,
               double k_def) {
    const Beam beam = beam_of(stiffener, piece.top.moisture_percent);
    const materials::Section& s = beam.section;
    HandBar bar;
    const double half = beam.length / 2, middle = axis == 0 ? beam.middle.x : beam.middle.y;
    bar.from = middle - half;
    bar.to = middle + half;
    bar.at = axis == 0 ? beam.middle.y : beam.middle.x;
    const double E = beam.E / (beam.creeps ? 1 + k_def : 1);
    const bool gives_sideways =
        stiffener.screws.holes == Holes::slotted && s.I_zz > 0; // a slot lets it bend about its own axes
    bar.EI = E * (s.I_yy - (gives_sideways ? s.I_yz * s.I_yz / s.I_zz : 0));
    bar.EA = E * s.area;
    bar.depth = -s.z_c;
    bar.force = beam.weight * beam.length;
    const double way = std::fmod(std::abs(piece.top.grain_deg - (axis == 0 ? 0 : 90)), 180);
    const bool along_the_grain = way < 45 || way > 135;
    const Screws& screws = stiffener.screws;
    if (screws.holes == Holes::bonded) {
        bar.slip = -1;
    } else if (screws.holes == Holes::round || (screws.holes == Holes::slotted && along_the_grain)) {
        const double one = screws.stiffness.value_or(
            materials::slip_stiffness(screws.diameter, density_kg_m3, stiffener.wood.empty()).value);
        const double spacing = screws.spacing > 0
                                   ? screws.spacing
                                   : beam.length / std::max<double>(1, static_cast<double>(screws.at.size()));
        bar.slip = one / spacing / (1 + k_def);
    }
    return bar;
}

void fill(const Piece& piece, double creep_factor, HandPlan& plan) {
    const auto* outline = std::get_if<RectangleShape>(&piece.top.outline);
    constexpr double round = 0.15;
    if (!outline || outline->corner_radius > round * std::min(piece.top.length, piece.top.width))
        throw Beyond{"an outline that is no rectangle"};
    const double grain = std::fmod(std::abs(piece.top.grain_deg), 180);
    const bool along = grain < 1 || grain > 179;
    if (!along && std::abs(grain - 90) > 1) throw Beyond{"grain that runs aslant"};
    plan.boxes = boxes_of(piece);
    const Elastic wood = elastic_of(piece);
    plan.strips[along ? 0 : 1].E = wood.E1 / creep_factor;
    plan.strips[along ? 0 : 1].G = wood.G13 / creep_factor;
    plan.strips[along ? 1 : 0].E = wood.E2 / creep_factor;
    plan.strips[along ? 1 : 0].G = wood.G23 / creep_factor;
    plan.G_plane = wood.G12 / creep_factor;
    plan.density = wood.density_kg_m3.value_or(0) * 1e-9;
    for (const Load& load : piece.loads)
        if (std::holds_alternative<ClampLoad>(load.kind)) throw Beyond{"a clamp that turns the top"};
    std::vector<SupportPoint> support_points;
    const double E3 = through_thickness_modulus(piece); // pressed wood is not reduced after the years
    const double h = piece.top.thickness,
                 root_D = std::sqrt(wood.E1 * wood.E2) / creep_factor * h * h * h / 12;
    int in_plane = 0;
    for (const Support& support : piece.supports) {
        support_points.push_back(support_point_of(support, plan.boxes, E3, root_D));
        in_plane += support_points.back().holds_in_plane;
    }
    if (support_points.size() < 2) throw Beyond{"a single support"};
    if (in_plane > 1) throw Beyond{"supports that hold it from stretching"};
    bool rows_along = true, rows_across = true;
    for (const SupportPoint& s : support_points) {
        rows_along = rows_along && !s.is_row[1];
        rows_across = rows_across && !s.is_row[0];
    }
    if (rows_along)
        take_rows(support_points, 0, piece.top.length, plan.strips[0]);
    else if (rows_across)
        take_rows(support_points, 1, piece.top.width, plan.strips[1]);
    else
        throw Beyond{"supports both along and across"};
    const bool all_pads = rows_along && rows_across;
    constexpr double slender = 1.25; // a shorter strip bends both ways at once
    if (!all_pads) {
        const BeamStrip& strip = plan.strips[rows_along ? 0 : 1];
        if (strip.rows[1].at - strip.rows[0].at < slender * (rows_along ? piece.top.width : piece.top.length))
            throw Beyond{"hardly longer than wide between its bearers"};
    }
    if (all_pads) {
        if (support_points.size() < 4) throw Beyond{"fewer than four legs"};
        take_rows(support_points, 1, piece.top.width, plan.strips[1]);
    }
    for (const Stiffener& stiffener : piece.stiffeners) {
        const double dx = std::abs(stiffener.to.x - stiffener.from.x),
                     dy = std::abs(stiffener.to.y - stiffener.from.y);
        if (std::min(dx, dy) > 0.02 * std::max(dx, dy)) throw Beyond{"a slanting stiffener"};
        const std::size_t axis = dx >= dy ? 0 : 1;
        plan.strips[axis].bars.push_back(
            bar_of(piece, stiffener, axis, wood.density_kg_m3.value_or(0), creep_factor - 1));
    }
}

} // namespace

std::optional<Rectangle> recess_box(const Piece& piece, const Recess& recess) {
    if (const auto* box = std::get_if<RectangleShape>(&recess.shape)) return box->box;
    if (const auto* rim = std::get_if<RimShape>(&recess.shape))
        return Rectangle{rim->rim, piece.top.length - rim->rim, rim->rim, piece.top.width - rim->rim};
    return std::nullopt;
}

HandPlan hand_plan(const Piece& piece, double creep_factor) {
    HandPlan plan;
    try {
        fill(piece, creep_factor, plan);
    } catch (const Beyond& beyond) {
        plan.why_not = beyond.why;
    }
    return plan;
}

LoadBox load_box(const Piece& piece, const Load& load) {
    const Rectangle whole{0, piece.top.length, 0, piece.top.width};
    const auto clipped = [&](const Rectangle& box) {
        return Rectangle{std::max(box.x0, whole.x0), std::min(box.x1, whole.x1), std::max(box.y0, whole.y0),
                         std::min(box.y1, whole.y1)};
    };
    if (const auto* area = std::get_if<AreaLoad>(&load.kind)) {
        const Rectangle box = clipped(area->over.value_or(whole));
        return {{box.x0, box.y0},
                {box.x1, box.y1},
                area->pressure * (box.x1 - box.x0) * (box.y1 - box.y0),
                false};
    }
    if (const auto* patch = std::get_if<PatchLoad>(&load.kind)) {
        const Rectangle box = clipped({patch->at.x - patch->size_x / 2, patch->at.x + patch->size_x / 2,
                                       patch->at.y - patch->size_y / 2, patch->at.y + patch->size_y / 2});
        return {{box.x0, box.y0}, {box.x1, box.y1}, patch->force, false};
    }
    if (const auto* clamp = std::get_if<ClampLoad>(&load.kind))
        return {clamp->at, clamp->at, clamp->force, false}; // not asked for: it turns the top
    const auto& line = std::get<LineLoad>(load.kind);
    return {line.from, line.to, line.force, true};
}

} // namespace hollowtop
