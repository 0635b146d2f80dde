// SPDX-License-Identifier: MIT
// Painter's order: walls of the outline, the underside, then each recess within its mouth (walls, floor, lands,
// what of a stiffener lies below the mouth), then what stands above the underside, the far before the near.
#include "cli/report/drawing/aslant_picture.hpp"

#include "cli/report/drawing/colours.hpp"
#include "cli/report/drawing/contours.hpp"
#include "cli/report/drawing/section_shapes.hpp"
#include "cli/words/format.hpp"
#include "solver/piece/trace.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop::cli {
namespace {

const double cos_30 = std::sqrt(3.0) / 2, sin_30 = 0.5;

/// A place of the piece as it lies: up from the show face, mm.
struct Place {
    double x = 0, y = 0, up = 0;
};

struct Aslant {
    double scale = 1;
    Point origin{};
    Point operator()(const Place& p) const {
        return {origin.x + scale * cos_30 * (p.x - p.y), origin.y + scale * (sin_30 * (p.x + p.y) - p.up)};
    }
};

constexpr const char* wall_near = "#c9ab78"; ///< a wall that faces who looks
constexpr const char* wall_side = "#dcc296";

const Look thin_edge{.stroke = ink::text, .width = 0.9};

/// Chords that stray less than a quarter of a unit of the picture.
std::vector<Point> traced(const Loop& loop, const Aslant& view) {
    std::vector<Point> points = trace_of(loop).points;
    if (points.empty()) return points;
    points.push_back(points.front());
    points = thinned(points, 0.25 / view.scale);
    points.pop_back();
    return points;
}

/// Whether the outside of an edge that runs from a to b faces who looks: in the picture one looks along +x and
/// +y downwards, so it does where its outward normal has a part towards +x or +y. Counter-clockwise loops.
double facing(Point a, Point b) { return (b.y - a.y) - (b.x - a.x); }

class Painter {
  public:
    Painter(Svg& svg, const Aslant& view) : svg_(svg), view_(view) {}

    std::vector<Point> at_height(const std::vector<Point>& plan, double up) const {
        std::vector<Point> out;
        for (const Point& p : plan) out.push_back(view_({p.x, p.y, up}));
        return out;
    }

    /// The walls below a loop that face who looks: from outside where it runs counter-clockwise, the far ones of
    /// a hollow where clockwise.
    void walls(const std::vector<Point>& loop, double low, double high) {
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Point a = loop[i], b = loop[(i + 1) % loop.size()];
            if (facing(a, b) <= 0) continue;
            const bool near_side = std::abs(b.x - a.x) > std::abs(b.y - a.y);
            const char* shade = near_side ? wall_near : wall_side;
            svg_.polygon({view_({a.x, a.y, high}), view_({b.x, b.y, high}), view_({b.x, b.y, low}),
                          view_({a.x, a.y, low})},
                         {.fill = shade, .stroke = shade, .width = 0.5});
        }
    }

    /// The lower rim of walls and where they turn, as lines.
    void lower_edge(const std::vector<Point>& loop, double low, double high) {
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Point before = loop[(i + loop.size() - 1) % loop.size()], a = loop[i],
                        b = loop[(i + 1) % loop.size()];
            const bool seen = facing(a, b) > 0, seen_before = facing(before, a) > 0;
            if (seen) svg_.line(view_({a.x, a.y, low}), view_({b.x, b.y, low}), thin_edge);
            const double turn = std::atan2((a.x - before.x) * (b.y - a.y) - (a.y - before.y) * (b.x - a.x),
                                           (a.x - before.x) * (b.x - a.x) + (a.y - before.y) * (b.y - a.y));
            constexpr double corner = 0.3; // rad: less is a curve's chords
            if (seen != seen_before || (seen && std::abs(turn) > corner))
                svg_.line(view_({a.x, a.y, low}), view_({a.x, a.y, high}), thin_edge);
        }
    }

    void face(const std::vector<std::vector<Point>>& loops, double up, const char* fill) {
        SvgPath path;
        for (const auto& loop : loops) path.polygon(at_height(loop, up));
        svg_.path(path, {.fill = fill, .stroke = ink::text, .width = 0.9});
    }

    /// A box on four corners in plan.
    void box(const std::vector<Point>& corners, double low, double high, const char* top_fill,
             const char* side_fill) {
        if (high <= low) return;
        std::vector<Point> loop = corners;
        double twice = 0;
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Point a = loop[i], b = loop[(i + 1) % loop.size()];
            twice += a.x * b.y - b.x * a.y;
        }
        if (twice < 0) std::reverse(loop.begin(), loop.end());
        const Look side{.fill = side_fill, .stroke = ink::text, .width = 0.5};
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Point a = loop[i], b = loop[(i + 1) % loop.size()];
            if (facing(a, b) > 0)
                svg_.polygon({view_({a.x, a.y, high}), view_({b.x, b.y, high}), view_({b.x, b.y, low}),
                              view_({a.x, a.y, low})},
                             side);
        }
        svg_.polygon(at_height(loop, high), {.fill = top_fill, .stroke = ink::text, .width = 0.5});
    }

    Svg& svg() { return svg_; }
    const Aslant& view() const { return view_; }

  private:
    Svg& svg_;
    const Aslant& view_;
};

/// A part of a stiffener: its corners in plan, and how far it reaches up from the wood.
struct Bar {
    std::vector<Point> corners;
    double low = 0, high = 0; ///< up from the show face
    double near = 0;          ///< the greater, the later it is painted
};

std::vector<Bar> bars_of(const Piece& piece, const Plan& plan) {
    std::vector<Bar> bars;
    for (const Stiffener& stiffener : piece.stiffeners) {
        const materials::Section section = materials::parse_section(stiffener.section);
        const double length =
            std::hypot(stiffener.to.x - stiffener.from.x, stiffener.to.y - stiffener.from.y);
        const Point t{(stiffener.to.x - stiffener.from.x) / length,
                      (stiffener.to.y - stiffener.from.y) / length};
        const double middle = (section.contact_y0 + section.contact_y1) / 2;
        const Point half{(stiffener.from.x + stiffener.to.x) / 2, (stiffener.from.y + stiffener.to.y) / 2};
        const double wood = thickness_at(plan, half);
        const auto at = [&](Point p, double side) {
            return Point{p.x - (side - middle) * t.y, p.y + (side - middle) * t.x};
        };
        for (const Rectangle& part : parts_of_section(section))
            bars.push_back({.corners = {at(stiffener.from, part.x0), at(stiffener.to, part.x0),
                                        at(stiffener.to, part.x1), at(stiffener.from, part.x1)},
                            .low = wood - part.y1,
                            .high = wood - part.y0,
                            .near = half.x + half.y});
    }
    std::stable_sort(bars.begin(), bars.end(), [](const Bar& a, const Bar& b) { return a.near < b.near; });
    return bars;
}

constexpr const char *steel_top = "#c5d1d9", *steel_side = "#8ba0ae";

void paint_bars(Painter& painter, const std::vector<Bar>& bars, double from, double to) {
    for (const Bar& bar : bars)
        painter.box(bar.corners, std::max(bar.low, from), std::min(bar.high, to), steel_top, steel_side);
}

/// What is seen through the mouth of a recess.
void paint_recess(Painter& painter, const Hollow& hollow, double thickness, const std::vector<Bar>& bars) {
    Svg& svg = painter.svg();
    const std::vector<Point> loop = traced(hollow.loop, painter.view());
    const std::vector<Point> mouth = painter.at_height(loop, thickness);
    SvgPath opening;
    opening.polygon(mouth);
    svg.open({svg.clip(opening)});
    svg.path(opening, {.fill = wall_near});
    std::vector<Point> from_inside = loop;
    std::reverse(from_inside.begin(), from_inside.end());
    painter.walls(from_inside, hollow.skin, thickness);
    painter.lower_edge(from_inside, hollow.skin, thickness);
    painter.face({loop}, hollow.skin, ink::skin);
    std::vector<std::vector<Point>> lands;
    for (const Loop& land : hollow.lands) lands.push_back(traced(land, painter.view()));
    const auto nearness = [](const std::vector<Point>& points) {
        double most = -1e300;
        for (const Point& p : points) most = std::max(most, p.x + p.y);
        return most;
    };
    std::sort(lands.begin(), lands.end(),
              [&](const auto& a, const auto& b) { return nearness(a) < nearness(b); });
    paint_bars(painter, bars, 0, thickness);
    for (const auto& land : lands) {
        painter.walls(land, hollow.skin, thickness);
        painter.lower_edge(land, hollow.skin, thickness);
        painter.face({land}, thickness, ink::wood);
    }
    svg.close();
    svg.path(opening, {.stroke = ink::text, .width = 0.9});
}

std::vector<Point> pad_corners(const Pad& pad) {
    const double x = pad.size_x / 2, y = pad.size_y / 2;
    return {{pad.at.x - x, pad.at.y - y},
            {pad.at.x + x, pad.at.y - y},
            {pad.at.x + x, pad.at.y + y},
            {pad.at.x - x, pad.at.y + y}};
}

void mark_supports(Painter& painter, const Piece& piece, const Plan& plan) {
    const Look look{.stroke = ink::soft, .width = 1.1, .dash = "4 2.5"};
    for (const Support& support : piece.supports) {
        if (const auto* pad = std::get_if<Pad>(&support.kind)) {
            painter.svg().polygon(painter.at_height(pad_corners(*pad), thickness_at(plan, pad->at)), look);
            continue;
        }
        std::visit(
            [&](const auto& kind) {
                if constexpr (requires { kind.from; })
                    painter.svg().line(painter.view()({kind.from.x, kind.from.y, plan.thickness}),
                                       painter.view()({kind.to.x, kind.to.y, plan.thickness}), look);
            },
            support.kind);
    }
}

/// A bar of a round length along the front right edge, so that sizes can be read.
void put_lengths(Svg& svg, const Aslant& view, const Rectangle& b, double size, Units units) {
    const double off = 16 / view.scale;
    const auto measured = [&](Place from, Place to, double length) {
        const Point a = view(from), c = view(to);
        svg.line(a, c, {.stroke = ink::line, .width = 0.8});
        for (const Point& end : {a, c})
            svg.line({end.x, end.y - 4}, {end.x, end.y + 4}, {.stroke = ink::text});
        const bool falls = c.y > a.y;
        const std::string words = dimension_text(length, units);
        const double wide = width_of_words(words, size), away = 6, free = 2;
        Point place{(a.x + c.x) / 2 + (falls ? -away : away), (a.y + c.y) / 2 + size + 3};
        // where the picture ends too soon, along the line and back
        const double over = falls ? wide + free - place.x : place.x + wide + free - svg.width();
        if (over > 0) {
            place.x += falls ? over : -over;
            place.y += over * std::abs((c.y - a.y) / (c.x - a.x));
        }
        svg.text(place, words, {.size = size, .anchor = falls ? Anchor::end : Anchor::start});
    };
    measured({b.x0 - off * 0.2, b.y1 + off, 0}, {b.x1, b.y1 + off, 0}, b.x1 - b.x0);
    measured({b.x1 + off, b.y1, 0}, {b.x1 + off, b.y0, 0}, b.y1 - b.y0);
}

} // namespace

Svg aslant_picture(const std::string& id, const Piece& piece, const Plan& plan, double width, Units units) {
    const double size = width < 500 ? 11 : 13, side = 10, below = size + 24, above = 8;
    const Rectangle b = bounds_of_plan(plan);
    const std::vector<Bar> bars = bars_of(piece, plan);
    double highest = plan.thickness;
    for (const Bar& bar : bars) highest = std::max(highest, bar.high);
    const double length = b.x1 - b.x0, across = b.y1 - b.y0;
    const double tallest = width < 500 ? 300 : 400;
    const double scale = std::min((width - 2 * side - 2 * size) / (cos_30 * (length + across)),
                                  (tallest - below - above) / (sin_30 * (length + across) + highest));
    const double height = above + scale * (sin_30 * (length + across) + highest) + below;
    const double drawn = scale * cos_30 * (length + across);
    Aslant view{.scale = scale, .origin = {}};
    const Point left = view({b.x0, b.y1, 0}), top = view({b.x0, b.y0, highest});
    view.origin = {(width - drawn) / 2 - left.x, above - top.y};

    std::string description = "The top lies on its show face with its underside upwards, seen aslant: " +
                              dimension_text(plan.length, units) + " long, " +
                              dimension_text(plan.width, units) + " wide, " +
                              dimension_text(plan.thickness, units) + " thick";
    if (plan.hollows.empty()) description += ", not hollowed";
    for (const Hollow& hollow : plan.hollows)
        description += "; recess " + hollow.name + ", " + dimension_text(hollow.depth, units) + " deep" +
                       (hollow.lands.empty() ? ""
                                             : " with " + std::to_string(hollow.lands.size()) +
                                                   (hollow.lands.size() == 1 ? " land" : " lands"));
    if (!piece.stiffeners.empty())
        description += "; " + std::to_string(piece.stiffeners.size()) +
                       (piece.stiffeners.size() == 1 ? " stiffener" : " stiffeners");
    description += "; it rests on " + std::to_string(piece.supports.size()) + " supports.";
    Svg svg(id, width, height, "The underside, seen aslant", description);
    Painter painter(svg, view);
    const std::vector<Point> outline = traced(plan.outline, view);
    painter.walls(outline, 0, plan.thickness);
    painter.lower_edge(outline, 0, plan.thickness);
    painter.face({outline}, plan.thickness, ink::wood);
    for (const Hollow& hollow : plan.hollows) paint_recess(painter, hollow, plan.thickness, bars);
    mark_supports(painter, piece, plan);
    paint_bars(painter, bars, plan.thickness, highest);
    put_lengths(svg, view, b, size, units);
    return svg;
}

} // namespace hollowtop::cli
