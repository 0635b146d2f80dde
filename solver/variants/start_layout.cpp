// SPDX-License-Identifier: MIT
#include "solver/variants/start_layout.hpp"

#include "solver/piece/polygon.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

constexpr double inch = 25.4;
constexpr double least_recess = 100;  ///< less is a slot, not a recess
constexpr double beside_support = 15; ///< wood of full thickness around what a support bears on
/// To what a rule shows: 5 mm, or an eighth of an inch.
double on_rule(double mm, Units units) {
    const double step = units == Units::mm ? 5 : inch / 8;
    return std::round(mm / step) * step;
}

/// How far the edges of a slab run in, at most.
double wave_of(const Wish& wish) {
    return wish.plan == Plan::slab ? on_rule(std::clamp(0.05 * wish.width, 10.0, 50.0), wish.units) : 0;
}

/// Of a corner its wings, of a slab what its edges leave.
double least_side(const Wish& wish) {
    return wish.plan == Plan::corner ? wing_of(wish) : std::min(wish.length, wish.width) - 2 * wave_of(wish);
}

double leg_size(const Wish& wish) {
    const double least = least_side(wish);
    if (wish.use == "workbench") return on_rule(std::clamp(0.12 * least, 50.0, 90.0), wish.units);
    return on_rule(std::clamp(0.08 * least, 40.0, 70.0), wish.units);
}
double leg_inset(const Wish& wish) {
    return on_rule(std::clamp(0.1 * least_side(wish), leg_size(wish) / 2 + 15, 110.0), wish.units);
}
double bearer_width(const Wish& wish) {
    switch (wish.base) {
    case Base::brackets:
        return on_rule(30, wish.units);
    case Base::cabinet:
        return wish.units == Units::mm ? 18 : 0.75 * inch;
    default:
        return on_rule(70, wish.units);
    }
}

/// x of the bearers that run across: trestles, brackets, sides and partitions of a cabinet.
std::vector<double> lines_across(const Wish& wish) {
    const double L = wish.length, half = bearer_width(wish) / 2;
    constexpr double bay_of_shelf = 700, bay_of_cabinet = 620, carcase_inside = 20;
    double first = on_rule(0.2 * L, wish.units);
    int bays = 1;
    if (wish.base == Base::brackets) {
        first = on_rule(std::max(0.1 * L, half + 10), wish.units);
        bays = std::max(1, static_cast<int>(std::ceil((L - 2 * first) / bay_of_shelf)));
    } else if (wish.base == Base::cabinet) {
        first = on_rule(carcase_inside, wish.units) + half;
        bays = std::max(1, static_cast<int>(std::ceil((L - 2 * first) / bay_of_cabinet)));
    }
    std::vector<double> lines;
    for (int i = 0; i <= bays; ++i) {
        const double x = first + (L - 2 * first) * i / bays;
        lines.push_back(i == 0 || i == bays ? x : on_rule(x, wish.units));
    }
    return lines;
}

double end_of_bearers(const Wish& wish) {
    return on_rule(std::clamp(0.08 * wish.width, 15.0, 70.0), wish.units) + wave_of(wish);
}

/// An ellipse so far inside that of an oval top.
struct Inner {
    Point middle;
    double a, b;
    Point at(double angle) const { return {middle.x + a * std::cos(angle), middle.y + b * std::sin(angle)}; }
};
Inner inside_oval(const Wish& wish, double rim) {
    return {{wish.length / 2, wish.width / 2}, wish.length / 2 - rim, wish.width / 2 - rim};
}

Support bearer(const Wish& wish, std::string name, Point from, Point to) {
    return {.name = std::move(name),
            .kind = Bearer{.from = from,
                           .to = to,
                           .width = bearer_width(wish),
                           .hold_down = true,
                           .stiffness = {},
                           .held_by = {},
                           .packed = false,
                           .height = {}}};
}

struct LegReach {
    double nearest, farthest;
};
/// The nearest and the farthest that a leg comes to the edge of the top: of its four corners.
LegReach reach_of_leg(const Loop& outline, Point at, double size) {
    LegReach reach{.nearest = 1e9, .farthest = 0};
    for (const double sx : {-1, 1})
        for (const double sy : {-1, 1}) {
            const Point corner{at.x + sx * size / 2, at.y + sy * size / 2};
            double away = 1e9;
            for (const EdgePiece& piece : outline) away = std::min(away, nearest_on(piece, corner).distance);
            if (!is_inside(outline, corner)) away = -away;
            reach.nearest = std::min(reach.nearest, away);
            reach.farthest = std::max(reach.farthest, away);
        }
    return reach;
}

/// Under an oval: towards its ends, as near to the edge as under a rectangle.
constexpr double leg_direction = 40 * 3.14159265358979323846 / 180; // eccentric angle
Point leg_under_oval(const Wish& wish) {
    const Loop outline = loop_of(std::get<EllipseShape>(outline_of(wish)));
    const double size = leg_size(wish), clear = std::max(15.0, leg_inset(wish) - size / 2);
    double far = 1, near = 0; // of the way from the middle to the edge
    constexpr int halvings = 30;
    for (int i = 0; i < halvings; ++i) {
        const double share = (far + near) / 2;
        const Point at = inside_oval(wish, 0).at(leg_direction), middle{wish.length / 2, wish.width / 2};
        const Point tried{middle.x + share * (at.x - middle.x), middle.y + share * (at.y - middle.y)};
        (reach_of_leg(outline, tried, size).nearest >= clear ? near : far) = share;
    }
    const Point edge = inside_oval(wish, 0).at(leg_direction);
    return {on_rule(near * (edge.x - wish.length / 2), wish.units),
            on_rule(near * (edge.y - wish.width / 2), wish.units)};
}

std::vector<Support> legs_of(const Wish& wish) {
    const double size = leg_size(wish), L = wish.length, W = wish.width;
    const auto leg = [&](const char* name, Point at) {
        return Support{.name = name,
                       .kind = Pad{.at = at, .size_x = size, .size_y = size, .hold_down = true}};
    };
    if (wish.plan == Plan::oval) {
        const Point off = leg_under_oval(wish), m{L / 2, W / 2};
        return {leg("front left leg", {m.x - off.x, m.y - off.y}),
                leg("front right leg", {m.x + off.x, m.y - off.y}),
                leg("back left leg", {m.x - off.x, m.y + off.y}),
                leg("back right leg", {m.x + off.x, m.y + off.y})};
    }
    const double a = leg_inset(wish), b = a + wave_of(wish);
    if (wish.plan == Plan::corner) {
        const double d = wing_of(wish);
        return {leg("leg in the corner", {a, a}),       leg("front right leg", {L - a, a}),
                leg("inner right leg", {L - a, d - a}), leg("leg of the inner corner", {d - a, d - a}),
                leg("inner back leg", {d - a, W - a}),  leg("back left leg", {a, W - a})};
    }
    return {leg("front left leg", {a, b}), leg("front right leg", {L - a, b}),
            leg("back left leg", {a, W - b}), leg("back right leg", {L - a, W - b})};
}

std::vector<Support> arms_of(const Wish& wish) {
    const double L = wish.length, W = wish.width, half = bearer_width(wish) / 2;
    const double ax = on_rule(0.12 * L, wish.units), ay = on_rule(0.12 * W, wish.units);
    const double gap = half + on_rule(10, wish.units);
    return {bearer(wish, "arm", {ax, W / 2}, {L - ax, W / 2}),
            bearer(wish, "front cross arm", {L / 2, ay}, {L / 2, W / 2 - gap}),
            bearer(wish, "back cross arm", {L / 2, W / 2 + gap}, {L / 2, W - ay})};
}

std::vector<Support> bearers_of(const Wish& wish) {
    const double half = bearer_width(wish) / 2;
    double y = end_of_bearers(wish);
    const std::vector<double> lines = lines_across(wish);
    if (wish.plan == Plan::oval) { // within the edge at the outer side of the bearer
        const double off = (wish.length / 2 - lines.front() + half) / (wish.length / 2);
        y = std::ceil(y + wish.width / 2 * (1 - std::sqrt(1 - off * off)));
    }
    std::vector<Support> all;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const char* kind = wish.base == Base::trestles   ? "trestle"
                           : wish.base == Base::brackets ? "bracket"
                                                         : "side";
        const std::string which = i == 0 ? "left " : i + 1 == lines.size() ? "right " : "middle ";
        const std::string number =
            lines.size() > 3 && i > 0 && i + 1 < lines.size() ? " " + std::to_string(i) : "";
        const std::string name =
            wish.base == Base::cabinet && which == "middle " ? "partition" : which + kind;
        all.push_back(bearer(wish, name + number, {lines[i], y}, {lines[i], wish.width - y}));
    }
    if (wish.base == Base::cabinet) {
        const double x0 = lines.front() + half, x1 = lines.back() - half;
        all.push_back(bearer(wish, "front rail", {x0, y + half}, {x1, y + half}));
        all.push_back(bearer(wish, "back rail", {x0, wish.width - y - half}, {x1, wish.width - y - half}));
    }
    return all;
}

double rim_of_ends(const Wish& wish) {
    const double wide = wish.plan == Plan::corner ? wing_of(wish) : wish.width;
    return on_rule(std::clamp(0.13 * wide, 40.0, 130.0), wish.units);
}

/// To what a rule shows, towards the middle.
Point towards(Point at, Point middle, Units units) {
    const double step = units == Units::mm ? 1 : inch / 16;
    const auto in = [&](double x, double m) {
        return m + std::copysign(std::floor(std::abs(x - m) / step) * step, x - m);
    };
    return {in(at.x, middle.x), in(at.y, middle.y)};
}

/// Under an oval, between bearers: chords of an ellipse within its rim.
std::vector<PolygonShape> oval_wells(const Wish& wish) {
    const Inner inner = inside_oval(wish, rim_of_ends(wish));
    const double in = bearer_width(wish) / 2 + on_rule(beside_support, wish.units);
    const double radius = wish.units == Units::mm ? 10 : 0.375 * inch;
    constexpr int chords = 5;
    std::vector<PolygonShape> wells;
    // of a small well the chords are short: a smaller cutter
    const auto with_fitting_corners = [&](PolygonShape well) {
        const double step = wish.units == Units::mm ? 1 : inch / 16;
        const double fits = std::floor(largest_corner_radius(well.points) / step) * step;
        well.corner_radius = std::min(well.corner_radius, fits);
        return well;
    };
    const auto arc = [&](PolygonShape& shape, double from, double to) {
        for (int k = 0; k <= chords; ++k)
            shape.points.push_back(
                towards(inner.at(from + (to - from) * k / chords), inner.middle, wish.units));
    };
    if (wish.base == Base::pedestal) {
        if (inner.a - in < least_recess || inner.b - in < least_recess) return {};
        const double first = std::asin(in / inner.b), last = std::acos(in / inner.a);
        for (const Point side : {Point{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}) {
            PolygonShape well{.points = {{inner.middle.x + in, inner.middle.y + in}},
                              .corner_radius = radius};
            arc(well, first, last);
            for (Point& p : well.points)
                p = {inner.middle.x + side.x * (p.x - inner.middle.x),
                     inner.middle.y + side.y * (p.y - inner.middle.y)};
            wells.push_back(with_fitting_corners(std::move(well)));
        }
        return wells;
    }
    const double half = inner.middle.x - lines_across(wish).front() - in; // of the well between two trestles
    if (2 * half < least_recess || half >= inner.a) return {};
    constexpr double pi = 3.14159265358979323846;
    const double end = std::acos(half / inner.a);
    if (2 * inner.b * std::sin(end) < least_recess) return {};
    PolygonShape well{.points = {}, .corner_radius = radius};
    arc(well, end, pi - end);
    arc(well, pi + end, 2 * pi - end);
    wells.push_back(with_fitting_corners(std::move(well)));
    return wells;
}

std::vector<Rectangle> wells_of(const Wish& wish) {
    const double L = wish.length, W = wish.width, half = bearer_width(wish) / 2;
    const double beside = on_rule(beside_support, wish.units);
    std::vector<Rectangle> wells;
    switch (wish.base) {
    case Base::legs: {
        const double rim =
            std::max(rim_of_ends(wish), on_rule(leg_inset(wish) + leg_size(wish) / 2 + beside, wish.units));
        if (wish.plan == Plan::corner) {
            const double d = wing_of(wish), beyond = d + rim - 2 * leg_inset(wish);
            wells.push_back({std::max(rim, beyond), L - rim, rim, d - rim});
            wells.push_back({rim, d - rim, std::max(rim, beyond), W - rim});
            break;
        }
        wells.push_back({rim, L - rim, rim + wave_of(wish), W - rim - wave_of(wish)});
        break;
    }
    case Base::pedestal: {
        const double rim = rim_of_ends(wish), in = half + beside;
        for (const double x0 : {rim, L / 2 + in})
            for (const double y0 : {rim, W / 2 + in})
                wells.push_back({x0, x0 == rim ? L / 2 - in : L - rim, y0, y0 == rim ? W / 2 - in : W - rim});
        break;
    }
    case Base::trestles:
    case Base::brackets:
    case Base::cabinet: {
        const double rails = wish.base == Base::cabinet ? end_of_bearers(wish) + 2 * half + beside : 0;
        const double rim = std::max(rim_of_ends(wish), on_rule(rails, wish.units)) + wave_of(wish);
        const std::vector<double> lines = lines_across(wish);
        for (std::size_t i = 0; i + 1 < lines.size(); ++i) {
            const double in = half + beside;
            wells.push_back({lines[i] + in, lines[i + 1] - in, rim, W - rim});
        }
        break;
    }
    }
    std::erase_if(
        wells, [](const Rectangle& r) { return r.x1 - r.x0 < least_recess || r.y1 - r.y0 < least_recess; });
    return wells;
}

} // namespace

double depth_step(Units units) { return units == Units::mm ? 0.5 : inch / 32; }

bool goes_under(Base base, Plan plan) {
    switch (plan) {
    case Plan::rectangle:
        return true;
    case Plan::oval:
        return base == Base::legs || base == Base::trestles || base == Base::pedestal;
    case Plan::slab:
        return base == Base::legs || base == Base::trestles;
    case Plan::corner:
        return base == Base::legs;
    }
    return false;
}

double wing_of(const Wish& wish) {
    return on_rule(std::clamp(0.45 * std::min(wish.length, wish.width), 250.0, 700.0), wish.units);
}

Outline outline_of(const Wish& wish) {
    const double L = wish.length, W = wish.width, w = wave_of(wish), d = wing_of(wish);
    switch (wish.plan) {
    case Plan::rectangle:
        break;
    case Plan::oval:
        return EllipseShape{.box = {0, L, 0, W}};
    case Plan::slab: // each edge comes to the full width once: ours, until the real edge is measured
        return PolygonShape{.points = {{0, 0.4 * w},
                                       {0.25 * L, w},
                                       {0.5 * L, 0.3 * w},
                                       {0.75 * L, 0},
                                       {L, 0.6 * w},
                                       {L, W - 0.3 * w},
                                       {0.7 * L, W - w},
                                       {0.45 * L, W - 0.5 * w},
                                       {0.2 * L, W},
                                       {0, W - 0.7 * w}},
                            .corner_radius = 0};
    case Plan::corner:
        return PolygonShape{.points = {{0, 0}, {L, 0}, {L, d}, {d, d}, {d, W}, {0, W}}, .corner_radius = 0};
    }
    return RectangleShape{.box = {0, L, 0, W}};
}

std::vector<Support> supports_of(const Wish& wish) {
    return wish.base == Base::legs       ? legs_of(wish)
           : wish.base == Base::pedestal ? arms_of(wish)
                                         : bearers_of(wish);
}

std::vector<Recess> recesses_of(const Wish& wish, double depth) {
    const double corner = wish.units == Units::mm ? 10 : 0.375 * inch,
                 root = wish.units == Units::mm ? 3 : 0.125 * inch;
    std::vector<decltype(Recess::shape)> shapes;
    if (wish.plan == Plan::oval && wish.base == Base::legs) {
        const Point off = leg_under_oval(wish);
        const double farthest =
                         reach_of_leg(loop_of(std::get<EllipseShape>(outline_of(wish))),
                                      {wish.length / 2 + off.x, wish.width / 2 + off.y}, leg_size(wish))
                             .farthest,
                     step = wish.units == Units::mm ? 5 : inch / 8,
                     rim = std::max(rim_of_ends(wish), std::ceil((farthest + beside_support) / step) * step);
        if (std::min(wish.length, wish.width) - 2 * rim >= least_recess)
            shapes.emplace_back(RimShape{.rim = rim, .corner_radius = 0});
    } else if (wish.plan == Plan::oval) {
        for (PolygonShape& well : oval_wells(wish)) shapes.emplace_back(std::move(well));
    } else {
        for (const Rectangle& well : wells_of(wish))
            shapes.emplace_back(RectangleShape{.box = well, .corner_radius = corner});
    }
    std::vector<Recess> recesses;
    for (std::size_t i = 0; i < shapes.size(); ++i)
        recesses.push_back({.name = shapes.size() == 1 ? "well" : "well " + std::to_string(i + 1),
                            .shape = shapes[i],
                            .depth = depth,
                            .root_radius = root,
                            .lands = {}});
    return recesses;
}

} // namespace hollowtop
