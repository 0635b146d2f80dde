// SPDX-License-Identifier: MIT
#include "solver/interface/supports.hpp"

#include "materials/digits.hpp"
#include "solver/interface/bearing_parts.hpp"
#include "solver/interface/bed.hpp"
#include "solver/interface/knife_edges.hpp"
#include "solver/interface/levels.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

double length_of(Point a, Point b) { return std::hypot(b.x - a.x, b.y - a.y); }
Point middle(Point a, Point b) { return {(a.x + b.x) / 2, (a.y + b.y) / 2}; }

/// Axis-parallel lines become mesh lines, their ends too.
void wish_for_line(MeshWishes& wishes, Point a, Point b) {
    if (!runs_along_x(a, b) && !runs_along_y(a, b)) return;
    for (const Point& p : {a, b}) {
        wishes.lines_x.push_back(p.x);
        wishes.lines_y.push_back(p.y);
    }
}

/// How much of a support bears, in the words of a warning.
Message told_over_recess(const std::string& name, const Bed& bed, const ThicknessField& field,
                         const Piece& piece) {
    using materials::digits;
    const std::string over = '"' + piece.recesses[static_cast<size_t>(bed.recess)].name + '"';
    const double gap = field.thickness - field.recesses[static_cast<size_t>(bed.recess)].skin;
    if (bed.bearing <= 0)
        return said("{} lies under the recess {}, {} below its floor: it carries nothing until the top has "
                    "come down so far. Pack it (\"packed\": true), or move it.",
                    name, over, amount(gap, Unit::mm));
    return said("{} lies partly under the recess {}: {} % of its area bears, the rest is {} below the wood. "
                "Where that is packed, say so (\"packed\": true).",
                name, over, number(100 * bed.bearing, significant(2)), amount(gap, Unit::mm));
}

struct Planner {
    SupportPlan& plan;
    const Piece& piece;
    const ThicknessField& field;
    const PlaneStiffness& plane;
    double modulus;
    int index;
    bool coarse;
    int at_most; ///< as in BedNature

    const std::string& name() const { return piece.supports[static_cast<size_t>(index)].name; }

    void finish(Point centre, Rectangle extent, double area, bool one_sided, double bearing = 1) const {
        plan.centres.push_back(centre);
        plan.extents.push_back(extent);
        plan.areas.push_back(area);
        plan.bearing.push_back(bearing);
        plan.all_one_sided = plan.all_one_sided && one_sided;
    }
    void finish_line(Point a, Point b, double area, double half_width, bool one_sided,
                     double bearing = 1) const {
        finish(middle(a, b),
               {std::min(a.x, b.x) - half_width, std::max(a.x, b.x) + half_width,
                std::min(a.y, b.y) - half_width, std::max(a.y, b.y) + half_width},
               area, one_sided, bearing);
    }
    /// The share of it that bears.
    double add_bed(const BedShape& shape, std::optional<double> stated, bool held, bool packed) const {
        Bed bed = make_bed(shape,
                           {.modulus = modulus,
                            .stated = stated,
                            .held = held,
                            .packed = packed,
                            .extent = {piece.top.length, piece.top.width},
                            .at_most = at_most,
                            .coarse = coarse},
                           field, plane);
        for (ContactPoint& point : bed.points) {
            point.support = index;
            plan.points.push_back(point);
        }
        if (bed.bearing < 1) plan.warnings.push_back(told_over_recess(name(), bed, field, piece));
        return bed.bearing;
    }
    bool lies_under_a_recess(const Rectangle& box) const {
        constexpr double inside = 0.01; // a pad whose edge runs along a wall does not
        for (const double i : {inside, 0.5, 1 - inside})
            for (const double j : {inside, 0.5, 1 - inside})
                if (region_at(field, {box.x0 + i * (box.x1 - box.x0), box.y0 + j * (box.y1 - box.y0)}) >
                    full_thickness)
                    return true;
        return false;
    }
    void operator()(const Pad& pad) const {
        const double a = pad.size_x / 2, b = pad.size_y / 2;
        const bool packed = pad.packed || carries_a_rail(piece, pad);
        const double bearing = add_bed({.centre = pad.at, .half_along = a, .half_across = b}, pad.stiffness,
                                       pad.hold_down, packed);
        plan.wishes.attractors_x.push_back({pad.at.x, std::max(pad.size_x * 0.6, 20.0)});
        plan.wishes.attractors_y.push_back({pad.at.y, std::max(pad.size_y * 0.6, 20.0)});
        // a skin turns sharply over the edges of what it rests on: mesh lines let it
        if (packed && lies_under_a_recess({pad.at.x - a, pad.at.x + a, pad.at.y - b, pad.at.y + b}))
            for (const double side : {-1.0, 1.0}) {
                plan.wishes.steep_x.push_back(pad.at.x + side * a);
                plan.wishes.steep_y.push_back(pad.at.y + side * b);
            }
        finish(pad.at, {pad.at.x - a, pad.at.x + a, pad.at.y - b, pad.at.y + b}, 4 * a * b,
               !pad.hold_down || bearing <= 0, bearing);
    }
    void operator()(const Bearer& bearer) const {
        const double length = length_of(bearer.from, bearer.to);
        if (bearer.width > 0) {
            const Point t{(bearer.to.x - bearer.from.x) / length, (bearer.to.y - bearer.from.y) / length};
            const double bearing = add_bed({.centre = middle(bearer.from, bearer.to),
                                            .axis = t,
                                            .half_along = length / 2,
                                            .half_across = bearer.width / 2},
                                           bearer.stiffness, bearer.hold_down, bearer.packed);
            finish_line(bearer.from, bearer.to, length * bearer.width, bearer.width / 2,
                        !bearer.hold_down || bearing <= 0, bearing);
            if (runs_along_x(bearer.from, bearer.to))
                plan.wishes.attractors_y.push_back({bearer.from.y, std::max(bearer.width * 0.8, 25.0)});
            if (runs_along_y(bearer.from, bearer.to))
                plan.wishes.attractors_x.push_back({bearer.from.x, std::max(bearer.width * 0.8, 25.0)});
            return;
        }
        warn_of_line(bearer, length);
        wish_for_line(plan.wishes, bearer.from, bearer.to);
        if (bearer.hold_down && !bearer.stiffness)
            plan.held.push_back({.from = bearer.from, .to = bearer.to, .down = true, .support = index});
        finish_line(bearer.from, bearer.to, 0, 0, !bearer.hold_down);
    }
    /// A knife edge touches whatever is above it.
    void warn_of_line(const Bearer& bearer, double length) const {
        if (bearer.packed || length <= 0) return;
        constexpr double least = 1; // mm
        const Point axis{(bearer.to.x - bearer.from.x) / length, (bearer.to.y - bearer.from.y) / length};
        for (const LevelStretch& stretch :
             levels_along(field, middle(bearer.from, bearer.to), axis, length / 2)) {
            if (stretch.region <= full_thickness || stretch.to - stretch.from < least) continue;
            plan.warnings.push_back(name() +
                                    " has no width: it is taken to touch the floor of the recess \"" +
                                    piece.recesses[static_cast<size_t>(stretch.region - 1)].name +
                                    "\" too, as if packed. Give it its width, and there is a gap.");
            return;
        }
    }
    void operator()(const Rail& rail) const { finish_line(rail.from, rail.to, 0, 0, !rail.hold_down); }
    void operator()(const Held& held) const {
        wish_for_line(plan.wishes, held.from, held.to);
        plan.held.push_back({.from = held.from,
                             .to = held.to,
                             .down = held.down,
                             .tilt = held.tilt,
                             .twist = held.twist,
                             .along = held.along,
                             .across = held.across,
                             .level = held.level == Level::top      ? 0.0
                                      : held.level == Level::middle ? 0.5
                                                                    : 1.0,
                             .support = index});
        finish_line(held.from, held.to, 0, 0, !held.down);
    }
    void operator()(const BuiltIn& line) const {
        wish_for_line(plan.wishes, line.from, line.to);
        plan.held.push_back({.from = line.from,
                             .to = line.to,
                             .down = true,
                             .tilt = true,
                             .twist = true,
                             .along = true,
                             .across = true,
                             .level = 0.5,
                             .support = index});
        finish_line(line.from, line.to, 0, 0, false);
    }
};

} // namespace

namespace {

SupportPlan plan_cut(const Piece& piece, const ThicknessField& field, const PlaneStiffness& plane,
                     double through_thickness_modulus, bool coarse, int at_most) {
    SupportPlan plan;
    bool worked_out = false;
    for (size_t i = 0; i < piece.supports.size(); ++i) {
        const Support& support = piece.supports[i];
        std::visit(Planner{plan, piece, field, plane, through_thickness_modulus, static_cast<int>(i), coarse,
                           at_most},
                   support.kind);
        const auto* pad = std::get_if<Pad>(&support.kind);
        const auto* bearer = std::get_if<Bearer>(&support.kind);
        worked_out =
            worked_out || (pad && !pad->stiffness) || (bearer && bearer->width > 0 && !bearer->stiffness);
    }
    if (worked_out)
        plan.assumptions.push_back(
            said("Pads and bearers are taken as rigid; the top's underside gives under them by its own "
                 "compression across the grain, {} over its thickness (elastic layer between rigid plates).",
                 amount(through_thickness_modulus, Unit::MPa)));
    return plan;
}

} // namespace

SupportPlan plan_supports(const Piece& piece, const ThicknessField& field, const PlaneStiffness& plane,
                          double through_thickness_modulus, bool coarse) {
    // what they do to one another is a dense matrix, and what each does to the top is kept too
    constexpr size_t most_points = 1200;
    SupportPlan plan = plan_cut(piece, field, plane, through_thickness_modulus, coarse, 0);
    for (const int at_most : {2, 1}) {
        if (plan.points.size() <= most_points) break;
        plan = plan_cut(piece, field, plane, through_thickness_modulus, coarse, at_most);
        plan.wishes.attractors_x
            .clear(); // they ask for a fine mesh all over: the error of the mesh says what is needed
        plan.wishes.attractors_y.clear();
        plan.warnings.push_back(
            at_most == 2 ? "There are so many supports that the pressure under each is taken as changing "
                           "evenly across it: where a "
                           "bending top presses on one edge of a support, it presses harder than is told."
                         : "There are so many supports that the pressure under each is taken as even: where "
                           "a bending top "
                           "presses on one edge of a support, it presses harder than is told.");
    }
    return plan;
}

} // namespace hollowtop
