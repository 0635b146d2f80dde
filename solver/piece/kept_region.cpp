// SPDX-License-Identifier: MIT
#include "solver/piece/kept_region.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hollowtop {
namespace {

constexpr double inf = std::numeric_limits<double>::infinity();

/// Coordinates, along x or y, at which the line at the other coordinate `place` meets the edge of a shape.
void meet(const std::vector<Point>& p, bool along_x, double place, std::vector<double>& at) {
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Point a = p[i], b = p[(i + 1) % p.size()];
        const double a_side = (along_x ? a.y : a.x) - place, b_side = (along_x ? b.y : b.x) - place;
        if (a_side * b_side > 0 || a_side == b_side)
            continue; // of an edge along the line its neighbours tell the ends
        const double share = a_side / (a_side - b_side);
        at.push_back(along_x ? a.x + share * (b.x - a.x) : a.y + share * (b.y - a.y));
    }
}

double low_of(const Rectangle& r, bool along_x) { return along_x ? r.x0 : r.y0; }
double high_of(const Rectangle& r, bool along_x) { return along_x ? r.x1 : r.y1; }

/// Lines across a footprint on which distances to a shape are taken: the footprint's edges (a hair inside),
/// and every corner of the shape between them; what lies nearest does so on one of these.
std::vector<double> places_across(const Rectangle& footprint, bool along_x, const std::vector<Point>& shape) {
    const double low = low_of(footprint, !along_x), high = high_of(footprint, !along_x);
    const double hair = 1e-6 * (high - low);
    std::vector<double> places{low + hair, high - hair};
    for (const Point& corner : shape)
        if (const double at = along_x ? corner.y : corner.x; at > low && at < high) places.push_back(at);
    return places;
}

/// A point of a wall, kept a hair inside the outline where the recess is open at the edge of the top.
Point on_the_top(Point p, Point towards, const Trace& outline) {
    constexpr double hair = 0.01;
    if (outline.points.empty() || depth_inside(outline, p) >= hair) return p;
    const double length = std::hypot(towards.x - p.x, towards.y - p.y);
    if (length <= hair) return p;
    return {p.x + hair * (towards.x - p.x) / length, p.y + hair * (towards.y - p.y) / length};
}

/// At most so many straight lines in place of a traced curve.
std::vector<Point> few_points(const Trace& trace) {
    constexpr std::size_t most = 12;
    const std::size_t n = trace.points.size();
    if (n <= most) return trace.points;
    std::vector<Point> few;
    for (std::size_t i = 0; i < most; ++i) few.push_back(trace.points[i * n / most]);
    return few;
}

} // namespace

Trace trace_of(const Recess& recess, const Outline& outline) {
    if (const auto* rim = std::get_if<RimShape>(&recess.shape))
        return traced_inset(outline, *rim).value_or(Trace{});
    if (const auto* box = std::get_if<RectangleShape>(&recess.shape)) return trace_of(*box);
    return trace_of(std::get<PolygonShape>(recess.shape));
}

Trace trace_of(const Land& land) {
    return std::visit([](const auto& shape) { return trace_of(shape); }, land.shape);
}

RecessTraces traces_of(const Recess& recess, const Outline& outline) {
    RecessTraces traces{.outline = trace_of(outline), .recess = trace_of(recess, outline), .lands = {}};
    for (const Land& land : recess.lands) traces.lands.push_back(trace_of(land));
    return traces;
}

Point place_of(const Kept& kept, const RecessTraces& traces) {
    if (kept.at) return *kept.at;
    const Rectangle box = bounds_of(traces.recess);
    return {(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
}

Rectangle footprint_of(const Kept& kept, const RecessTraces& traces) {
    const Point at = place_of(kept, traces);
    return {at.x - kept.size_x / 2, at.x + kept.size_x / 2, at.y - kept.size_y / 2, at.y + kept.size_y / 2};
}

const char* to_word(HangsOn hangs) {
    switch (hangs) {
    case HangsOn::skin:
        return "skin";
    case HangsOn::runners:
        return "runners";
    case HangsOn::base:
        return "base";
    }
    return "";
}

FreeStretch free_along(bool along_x, const Rectangle& footprint, const RecessTraces& traces,
                       const std::vector<Neighbour>& others) {
    FreeStretch free{.low = -inf, .high = inf, .low_is = "", .high_is = ""};
    const double middle = (low_of(footprint, along_x) + high_of(footprint, along_x)) / 2;
    const auto stop = [&](double at, const std::string& by) {
        if (at <= middle && at > free.low) {
            free.low = at;
            free.low_is = by;
        }
        if (at > middle && at < free.high) {
            free.high = at;
            free.high_is = by;
        }
    };
    const auto look_at = [&](const std::vector<Point>& shape, const std::string& name) {
        std::vector<double> at;
        for (const double place : places_across(footprint, along_x, shape)) meet(shape, along_x, place, at);
        for (const double v : at) stop(v, name);
    };
    look_at(traces.recess.points, "the wall");
    for (const Trace& land : traces.lands) look_at(land.points, "a land");
    for (const Neighbour& other : others) look_at(other.outline, other.name);
    return free;
}

Runners runners_of(const Rectangle& footprint, const RecessTraces& traces) {
    Runners runners{.along_x = footprint.x1 - footprint.x0 >= footprint.y1 - footprint.y0, .lines = {}};
    const bool along_x = runners.along_x;
    const double from = low_of(footprint, along_x), to = high_of(footprint, along_x);
    const double low = low_of(footprint, !along_x), high = high_of(footprint, !along_x),
                 middle = (low + high) / 2;
    const auto point = [&](double along, double across) {
        return along_x ? Point{along, across} : Point{across, along};
    };
    const auto wall = [&](double along, bool upper) {
        const double hair = 1e-6 * (to - from), place = std::clamp(along, from + hair, to - hair);
        std::vector<double> at;
        meet(traces.recess.points, !along_x, place, at);
        for (const Trace& land : traces.lands) meet(land.points, !along_x, place, at);
        double best = upper ? inf : -inf;
        for (const double v : at) {
            if (upper && v > middle) best = std::min(best, v);
            if (!upper && v <= middle) best = std::max(best, v);
        }
        if (!std::isfinite(best)) best = upper ? high : low;
        return on_the_top(point(along, best), point(along, middle), traces.outline);
    };
    runners.lines = {WallLine{wall(from, false), wall(to, false)},
                     WallLine{wall(from, true), wall(to, true)}};
    return runners;
}

std::vector<WallLine> edge_of_cover(const Recess& recess, const Outline& outline) {
    const Trace top = trace_of(outline);
    std::vector<Point> corners;
    if (const auto* box = std::get_if<RectangleShape>(&recess.shape)) {
        corners = corners_of(box->box);
    } else if (const auto* polygon = std::get_if<PolygonShape>(&recess.shape)) {
        corners = polygon->points;
    } else {
        const auto& rim = std::get<RimShape>(recess.shape);
        if (const auto* rectangle = std::get_if<RectangleShape>(&outline))
            corners = moved_inwards(corners_of(rectangle->box), rim.rim);
        else if (const auto* shape = std::get_if<PolygonShape>(&outline))
            corners = moved_inwards(shape->points, rim.rim);
        else
            corners = few_points(trace_of(recess, outline));
    }
    std::vector<WallLine> lines;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const WallLine line{corners[i], corners[(i + 1) % corners.size()]};
        constexpr double on_the_edge = 0.01;
        const bool is_open =
            depth_inside(top, {(line.from.x + line.to.x) / 2, (line.from.y + line.to.y) / 2}) < on_the_edge;
        if (!is_open) lines.push_back(line); // at the edge of the top there is no rim to hang on
    }
    return lines;
}

double area_of_cover(const RecessTraces& traces) {
    double area = std::abs(signed_area(traces.recess.points));
    for (const Trace& land : traces.lands) area -= std::abs(signed_area(land.points));
    return std::max(area, 0.0);
}

double span_of_cover(const RecessTraces& traces) {
    const Rectangle box = bounds_of(traces.recess);
    return std::min(box.x1 - box.x0, box.y1 - box.y0);
}

} // namespace hollowtop
