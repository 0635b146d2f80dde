// SPDX-License-Identifier: MIT
#include "solver/interface/bed.hpp"

#include "solver/interface/bed_divisions.hpp"
#include "solver/interface/levels.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace hollowtop {
namespace {

constexpr double least_division =
    0.05; ///< mm: walls closer than this to an edge of the bed or to one another count as one

Point local(const BedShape& shape, Point p) {
    const Point d{p.x - shape.centre.x, p.y - shape.centre.y};
    return {d.x * shape.axis.x + d.y * shape.axis.y, d.y * shape.axis.x - d.x * shape.axis.y};
}
Point global(const BedShape& shape, Point q) {
    return {shape.centre.x + q.x * shape.axis.x - q.y * shape.axis.y,
            shape.centre.y + q.x * shape.axis.y + q.y * shape.axis.x};
}

std::vector<double> in_order(std::vector<double> places) {
    std::sort(places.begin(), places.end());
    std::vector<double> some;
    for (const double place : places)
        if (some.empty() || place - some.back() > least_division) some.push_back(place);
    return some;
}

/// How the walls of recesses and lands cross a bed.
struct Crossings {
    std::vector<double> along, across; ///< places of walls that run square to it
    bool aslant = false;               ///< there are others
};

Crossings crossings_of(const BedShape& shape, const ThicknessField& field) {
    Crossings found{.along = {-shape.half_along, shape.half_along},
                    .across = {-shape.half_across, shape.half_across}};
    const auto look_at = [&](const EdgePiece& piece) {
        const Rectangle box = bounds_of(piece);
        double p0 = 1e300, p1 = -1e300, q0 = 1e300, q1 = -1e300;
        for (const double x : {box.x0, box.x1})
            for (const double y : {box.y0, box.y1}) {
                const Point at = local(shape, {x, y});
                p0 = std::min(p0, at.x), p1 = std::max(p1, at.x), q0 = std::min(q0, at.y),
                q1 = std::max(q1, at.y);
            }
        if (p1 <= -shape.half_along || p0 >= shape.half_along || q1 <= -shape.half_across ||
            q0 >= shape.half_across)
            return;
        const Point a = local(shape, piece.a), b = local(shape, piece.b);
        constexpr double square = 1e-6;
        if (!piece.is_arc && std::abs(a.x - b.x) < square)
            found.along.push_back(a.x);
        else if (!piece.is_arc && std::abs(a.y - b.y) < square)
            found.across.push_back(a.y);
        else
            found.aslant = true;
    };
    for (const RecessPlan& recess : field.recesses) {
        for (const EdgePiece& piece : recess.loop) look_at(piece);
        for (const Loop& land : recess.lands)
            for (const EdgePiece& piece : land) look_at(piece);
    }
    std::erase_if(found.along, [&](double p) { return std::abs(p) > shape.half_along; });
    std::erase_if(found.across, [&](double q) { return std::abs(q) > shape.half_across; });
    found.along = in_order(std::move(found.along));
    found.across = in_order(std::move(found.across));
    found.along.back() = shape.half_along;
    found.across.back() = shape.half_across;
    return found;
}

/// What one rectangle of a bed adds: the places of its points across a division, their shares and leans.
struct DivisionPoint {
    double at = 0, share = 1, lean = 0; ///< `at` from -1 to 1
};
std::vector<DivisionPoint> points_of(const BedDivision& division) {
    if (division.points == 1) return {{}};
    const double root = std::sqrt(3.0);
    return {{-1 / root, 0.5, -root}, {1 / root, 0.5, root}};
}

struct BedMaker {
    const BedShape& shape;
    const BedNature& nature;
    const ThicknessField& field;
    const PlaneStiffness& plane;
    Bed bed{};
    std::map<int, double> open{}; ///< area under each recess that does not bear
    double area = 0;

    double stiffness_at(int region) const {
        if (nature.stated) return *nature.stated;
        const double h = thickness_of(field, region);
        return nature.modulus / (h > 0 ? h : field.thickness);
    }
    bool bears(int region) const { return region <= full_thickness || nature.packed; }

    double reach(Point n, int region) const {
        const double h = thickness_of(field, region) > 0 ? thickness_of(field, region) : field.thickness;
        return std::pow(modulus_along(plane, n) * h * h * h / 3 / stiffness_at(region), 0.25);
    }
    /// Cuts one way of a rectangle on one level about `middle`.
    std::vector<BedDivision> divisions(Point n, double from, double to, int region, Point middle,
                                       bool is_slender, bool is_long) const {
        if (!bears(region)) { // it may come to touch, somewhere
            std::vector<BedDivision> coarse;
            constexpr double longest = 60;
            cut_evenly(coarse, from, to, 1, longest);
            return coarse;
        }
        if (nature.at_most > 0) {
            constexpr double longest = 160;
            std::vector<BedDivision> few;
            cut_evenly(few, from, to, nature.at_most, is_long ? longest : to - from);
            return few;
        }
        if (nature.coarse) {
            std::vector<BedDivision> even;
            const double width = to - from;
            if (is_long)
                cut_evenly(even, from, to, 1, std::min(30.0, width / 4));
            else
                cut_evenly(even, from, to, 1, width / (is_slender ? 2 : 4));
            return even;
        }
        const double r = reach(n, region),
                     span = std::abs(n.x) * nature.extent.x + std::abs(n.y) * nature.extent.y;
        // what presses under an even load on a span as long as the top: docs/method.md
        BedBending bending{.held = nature.held,
                           .reach = r,
                           .edge = std::sqrt(6.0) * r * r / std::max(span, 1.0),
                           .divisions = is_slender ? 2 : 3};
        const Point to_middle{nature.extent.x / 2 - middle.x, nature.extent.y / 2 - middle.y};
        const double off = to_middle.x * n.x + to_middle.y * n.y;
        constexpr double about_middle =
            0.25; // of the span: over what stands near its middle the top bends down to both sides
        bending.low_edge = off < about_middle * span;
        bending.high_edge = off > -about_middle * span;
        // along a bearer that reaches nearly from edge to edge little changes; where the top bends down over
        // its ends they press
        constexpr double nearly_all = 0.7;
        return is_long && to - from > nearly_all * span ? divisions_along(from, to, bending)
                                                        : divisions_across(from, to, bending);
    }

    void add(Point at, double half_along, double half_across, int region, ContactPoint point) {
        point.axis = shape.axis;
        point.at = at;
        point.half_along = half_along;
        point.half_across = half_across;
        point.compliance = 1 / (stiffness_at(region) * point.area);
        point.two_sided = nature.held && bears(region);
        if (!bears(region)) {
            point.gap = field.thickness - thickness_of(field, region);
            open[region] += point.area;
        }
        area += point.area;
        bed.points.push_back(point);
    }

    /// A rectangle on one level.
    void add_plain(const BedDivision& p, const BedDivision& q, int region) {
        const double half_p = (p.to - p.from) / 2, half_q = (q.to - q.from) / 2;
        const Point middle = global(shape, {(p.from + p.to) / 2, (q.from + q.to) / 2});
        for (const DivisionPoint& i : points_of(p))
            for (const DivisionPoint& j : points_of(q)) {
                const Point at =
                    global(shape, {(p.from + p.to) / 2 + i.at * half_p, (q.from + q.to) / 2 + j.at * half_q});
                add(at, half_p, half_q, region,
                    {.area = i.share * j.share * 4 * half_p * half_q,
                     .lean_along = i.lean,
                     .lean_across = j.lean,
                     .to_middle = {middle.x - at.x, middle.y - at.y}});
            }
    }

    /// A small rectangle that a wall may cross: the part of it on each level by itself.
    void add_mixed(double p0, double p1, double q0, double q1) {
        struct Part {
            int count = 0;
            Point sum{};
        };
        std::map<int, Part> parts;
        const Point middle = global(shape, {(p0 + p1) / 2, (q0 + q1) / 2});
        const double half_p = (p1 - p0) / 2, half_q = (q1 - q0) / 2;
        int all = 0;
        for (const Point& at : level_samples(middle, shape.axis, half_p, half_q)) {
            Part& part = parts[std::max(region_at(field, at), full_thickness)];
            ++part.count;
            ++all;
            part.sum = {part.sum.x + at.x, part.sum.y + at.y};
        }
        for (const auto& [region, part] : parts) {
            const Point at{part.sum.x / part.count, part.sum.y / part.count};
            ContactPoint point{.area = 4 * half_p * half_q * part.count / all};
            if (parts.size() > 1) {
                point.level = region;
                point.to_middle = {middle.x - at.x, middle.y - at.y};
            }
            add(parts.size() > 1 ? at : middle, half_p, half_q, region, point);
        }
    }

    void fill() {
        const Crossings walls = crossings_of(shape, field);
        const Point across{-shape.axis.y, shape.axis.x};
        if (walls.aslant) {
            constexpr double longest = 12;
            std::vector<BedDivision> ps, qs;
            cut_evenly(ps, -shape.half_along, shape.half_along, 1, longest);
            cut_evenly(qs, -shape.half_across, shape.half_across, 1, longest);
            for (const BedDivision& p : ps)
                for (const BedDivision& q : qs) add_mixed(p.from, p.to, q.from, q.to);
        } else {
            for (size_t i = 0; i + 1 < walls.along.size(); ++i)
                for (size_t j = 0; j + 1 < walls.across.size(); ++j) {
                    const double p0 = walls.along[i], p1 = walls.along[i + 1], q0 = walls.across[j],
                                 q1 = walls.across[j + 1];
                    const Point middle = global(shape, {(p0 + p1) / 2, (q0 + q1) / 2});
                    const int region = std::max(region_at(field, middle), full_thickness);
                    const double along = p1 - p0, wide = q1 - q0;
                    const bool is_slender = std::max(along, wide) > 3 * std::min(along, wide);
                    for (const BedDivision& p :
                         divisions(shape.axis, p0, p1, region, middle, is_slender, along > 3 * wide))
                        for (const BedDivision& q :
                             divisions(across, q0, q1, region, middle, is_slender, false))
                            add_plain(p, q, region);
                }
        }
        double empty = 0, most = 0;
        for (const auto& [region, part] : open) {
            empty += part;
            bed.gap = std::max(bed.gap, field.thickness - thickness_of(field, region));
            if (part > most) most = part, bed.recess = region - 1;
        }
        bed.bearing = area > 0 ? 1 - empty / area : 1;
        if (empty <= 1e-9 * area) bed.bearing = 1;
    }
};

} // namespace

Bed make_bed(const BedShape& shape, const BedNature& nature, const ThicknessField& field,
             const PlaneStiffness& plane) {
    BedMaker maker{.shape = shape, .nature = nature, .field = field, .plane = plane};
    maker.fill();
    return std::move(maker.bed);
}

} // namespace hollowtop
