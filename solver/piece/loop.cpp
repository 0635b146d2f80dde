// SPDX-License-Identifier: MIT
#include "solver/piece/loop.hpp"

#include "solver/piece/ellipse_inset.hpp"
#include "solver/piece/plane.hpp"
#include "solver/piece/polygon.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

constexpr double quarter_turn = std::numbers::pi / 2;

EdgePiece segment(Point a, Point b) { return {.a = a, .b = b}; }

double angle_on(const EdgePiece& piece, Point p) {
    return std::atan2((p.y - piece.centre.y) / piece.ry, (p.x - piece.centre.x) / piece.rx);
}

Point on_ellipse(Point centre, double rx, double ry, double angle) {
    return {centre.x + rx * std::cos(angle), centre.y + ry * std::sin(angle)};
}

/// Adds the arc from angle0 to angle1 (either way round) cut at the quarters, so that each piece is monotone.
void add_arc(Loop& loop, Point centre, double rx, double ry, double angle0, double angle1, bool convex) {
    const double direction = angle1 > angle0 ? 1 : -1;
    double from = angle0;
    while (direction * (angle1 - from) > 1e-12) {
        const double turns = from / quarter_turn;
        double next = direction > 0 ? (std::floor(turns + 1e-9) + 1) * quarter_turn
                                    : (std::ceil(turns - 1e-9) - 1) * quarter_turn;
        if (direction * (next - angle1) > -1e-12) next = angle1;
        EdgePiece piece{.a = on_ellipse(centre, rx, ry, from),
                        .b = on_ellipse(centre, rx, ry, next),
                        .is_arc = true,
                        .centre = centre,
                        .rx = rx,
                        .ry = ry,
                        .hollow_side_is_centre = convex};
        // quarter points exactly on the axes, so that neighbours meet to the last bit
        for (Point* p : {&piece.a, &piece.b}) {
            if (std::abs(p->x - centre.x) < 1e-12 * rx) p->x = centre.x;
            if (std::abs(p->y - centre.y) < 1e-12 * ry) p->y = centre.y;
        }
        if (!loop.empty()) piece.a = loop.back().b;
        loop.push_back(piece);
        from = next;
    }
}

/// The corners at which the way turns: a side drawn in many parts is one side.
std::vector<Point> turning_points(const std::vector<Point>& points) {
    constexpr double straight = 1e-9; // sine of the turn
    std::vector<Point> turning;
    for (size_t i = 0; i < points.size(); ++i) {
        const Point before = turning.empty() ? points.back() : turning.back(), here = points[i],
                    in = here - before, out = points[(i + 1) % points.size()] - here;
        const bool goes_on = in.x * out.x + in.y * out.y > 0 &&
                             std::abs(cross(in, out)) < straight * length_of(in) * length_of(out);
        if (!goes_on) turning.push_back(here);
    }
    return turning;
}

/// Straight sides with every corner that turns left or right rounded where the sides are long enough.
Loop rounded(const std::vector<Point>& drawn, double radius) {
    Loop loop;
    const std::vector<Point> points = turning_points(drawn);
    const size_t n = points.size();
    if (radius <= 0) {
        for (size_t i = 0; i < n; ++i) loop.push_back(segment(points[i], points[(i + 1) % n]));
        return loop;
    }
    struct Fillet {
        Point start, end, centre;
        double angle0, angle1;
        bool convex, is_round;
    };
    std::vector<Fillet> corners(n);
    for (size_t i = 0; i < n; ++i) {
        const Corner sides = corner_at(points, i);
        const Point &here = points[i], &in = sides.in, &out = sides.out;
        const double cut = radius * std::tan(std::abs(sides.turn) / 2);
        Fillet& corner = corners[i];
        corner.convex = sides.turn > 0;
        corner.is_round = std::abs(sides.turn) > 1e-9 && cut < sides.length_in / 2 + 1e-9 &&
                          cut < sides.length_out / 2 + 1e-9;
        corner.start = corner.end = here;
        if (!corner.is_round) continue;
        corner.start = {here.x - cut * in.x, here.y - cut * in.y};
        corner.end = {here.x + cut * out.x, here.y + cut * out.y};
        const double side = corner.convex ? 1 : -1; // centre to the left of the path at a convex corner
        corner.centre = {corner.start.x - side * radius * in.y, corner.start.y + side * radius * in.x};
        corner.angle0 = std::atan2(corner.start.y - corner.centre.y, corner.start.x - corner.centre.x);
        corner.angle1 = corner.angle0 + sides.turn;
    }
    for (size_t i = 0; i < n; ++i) {
        if (corners[i].is_round) {
            const Fillet& c = corners[i];
            add_arc(loop, c.centre, radius, radius, c.angle0, c.angle1, c.convex);
        }
        const Point from = loop.empty() ? corners[i].end : loop.back().b;
        const Point to = corners[(i + 1) % n].start;
        if (length_of((to - from)) > 1e-9) loop.push_back(segment(from, to));
    }
    loop.back().b = loop.front().a;
    return loop;
}

} // namespace

bool runs_along_x_or_y(const EdgePiece& piece) {
    constexpr double straight = 1e-9; // mm
    return !piece.is_arc &&
           (std::abs(piece.a.x - piece.b.x) < straight || std::abs(piece.a.y - piece.b.y) < straight);
}

Loop loop_of(const RectangleShape& shape) {
    const Rectangle& r = shape.box;
    return rounded({{r.x0, r.y0}, {r.x1, r.y0}, {r.x1, r.y1}, {r.x0, r.y1}}, shape.corner_radius);
}

Loop loop_of(const EllipseShape& shape) {
    const Rectangle& r = shape.box;
    Loop loop;
    add_arc(loop, {(r.x0 + r.x1) / 2, (r.y0 + r.y1) / 2}, (r.x1 - r.x0) / 2, (r.y1 - r.y0) / 2, 0,
            4 * quarter_turn, true);
    loop.back().b = loop.front().a;
    return loop;
}

Loop loop_of(const PolygonShape& shape) {
    return rounded(counter_clockwise(shape.points), shape.corner_radius);
}

std::optional<double> widest_rim(const Outline& outline) {
    const Rectangle* box = nullptr;
    if (const auto* rectangle = std::get_if<RectangleShape>(&outline)) box = &rectangle->box;
    if (const auto* ellipse = std::get_if<EllipseShape>(&outline)) box = &ellipse->box;
    if (!box) return std::nullopt;
    return std::min(box->x1 - box->x0, box->y1 - box->y0) / 2;
}

Loop inset(const Outline& outline, double rim, double corner_radius) {
    if (const auto* rectangle = std::get_if<RectangleShape>(&outline)) {
        const Rectangle& r = rectangle->box;
        const Rectangle inner{r.x0 + rim, r.x1 - rim, r.y0 + rim, r.y1 - rim};
        if (inner.x0 >= inner.x1 || inner.y0 >= inner.y1) return {};
        const double radius = std::max({corner_radius, rectangle->corner_radius - rim, 0.0});
        return loop_of(RectangleShape{inner, radius});
    }
    if (const auto* polygon = std::get_if<PolygonShape>(&outline)) {
        const std::vector<Point> inner = moved_inwards(polygon->points, rim);
        if (inner.empty()) return {};
        return rounded(inner, std::max({corner_radius, polygon->corner_radius - rim, 0.0}));
    }
    const Rectangle& r = std::get<EllipseShape>(outline).box;
    const double rx = (r.x1 - r.x0) / 2, ry = (r.y1 - r.y0) / 2;
    if (rim + corner_radius >= std::min(rx, ry)) return {};
    if (rx == ry) {
        return loop_of(EllipseShape{{r.x0 + rim, r.x1 - rim, r.y0 + rim, r.y1 - rim}});
    }
    constexpr double stray = 0.02;
    return rounded(inset_of_ellipse(r, rim, corner_radius, stray), 0);
}

std::optional<double> y_at(const EdgePiece& piece, double x) {
    const double low = std::min(piece.a.x, piece.b.x), high = std::max(piece.a.x, piece.b.x);
    if (x < low || x > high || low == high) return std::nullopt;
    if (!piece.is_arc) return piece.a.y + (piece.b.y - piece.a.y) * (x - piece.a.x) / (piece.b.x - piece.a.x);
    const double s = (x - piece.centre.x) / piece.rx;
    const double rise = piece.ry * std::sqrt(std::max(0.0, 1 - s * s));
    return (piece.a.y + piece.b.y) / 2 > piece.centre.y ? piece.centre.y + rise : piece.centre.y - rise;
}

std::optional<double> x_at(const EdgePiece& piece, double y) {
    const double low = std::min(piece.a.y, piece.b.y), high = std::max(piece.a.y, piece.b.y);
    if (y < low || y > high || low == high) return std::nullopt;
    if (!piece.is_arc) return piece.a.x + (piece.b.x - piece.a.x) * (y - piece.a.y) / (piece.b.y - piece.a.y);
    const double s = (y - piece.centre.y) / piece.ry;
    const double reach = piece.rx * std::sqrt(std::max(0.0, 1 - s * s));
    return (piece.a.x + piece.b.x) / 2 > piece.centre.x ? piece.centre.x + reach : piece.centre.x - reach;
}

namespace {

/// Does the ray from the point along x cross the piece?
bool lies_before(const EdgePiece& piece, Point point) {
    const double low = std::min(piece.a.y, piece.b.y), high = std::max(piece.a.y, piece.b.y);
    if (point.y < low || point.y >= high) return false;
    // a piece keeps within the box of its ends: most points lie to one side of it
    if (point.x >= std::max(piece.a.x, piece.b.x)) return false;
    if (point.x < std::min(piece.a.x, piece.b.x)) return true;
    const auto x = x_at(piece, point.y);
    return x && *x > point.x;
}

} // namespace

Point point_on(const EdgePiece& piece, double share) {
    if (!piece.is_arc)
        return {piece.a.x + share * (piece.b.x - piece.a.x), piece.a.y + share * (piece.b.y - piece.a.y)};
    return on_ellipse(piece.centre, piece.rx, piece.ry, angle_on(piece, piece.a) + share * turn_of(piece));
}

Point point_after(const EdgePiece& piece, double turn) {
    return on_ellipse(piece.centre, piece.rx, piece.ry, angle_on(piece, piece.a) + turn);
}

double turn_of(const EdgePiece& piece) {
    return std::remainder(angle_on(piece, piece.b) - angle_on(piece, piece.a), 2 * std::numbers::pi);
}

bool is_inside(const Loop& loop, Point point) {
    bool inside = false;
    for (const EdgePiece& piece : loop) inside = inside != lies_before(piece, point);
    return inside;
}

LoopRows rows_of(const Loop& loop) {
    constexpr size_t short_loop = 16;
    LoopRows rows;
    if (loop.size() <= short_loop) return rows;
    const Rectangle box = bounds_of(loop);
    rows.y0 = box.y0;
    rows.height = (box.y1 - box.y0) / static_cast<double>(loop.size());
    rows.pieces.resize(loop.size());
    const auto row_at = [&](double y) {
        return std::clamp(static_cast<int>((y - rows.y0) / rows.height), 0,
                          static_cast<int>(rows.pieces.size()) - 1);
    };
    for (size_t i = 0; i < loop.size(); ++i) {
        const Rectangle b = bounds_of(loop[i]);
        for (int row = row_at(b.y0); row <= row_at(b.y1); ++row)
            rows.pieces[static_cast<size_t>(row)].push_back(static_cast<int>(i));
    }
    return rows;
}

bool is_inside(const Loop& loop, const LoopRows& rows, Point point) {
    if (rows.pieces.empty()) return is_inside(loop, point);
    const double row = (point.y - rows.y0) / rows.height;
    if (row < 0 || row > static_cast<double>(rows.pieces.size())) return false;
    bool inside = false;
    for (const int i : rows.pieces[std::min(static_cast<size_t>(row), rows.pieces.size() - 1)])
        inside = inside != lies_before(loop[static_cast<size_t>(i)], point);
    return inside;
}

Rectangle bounds_of(const EdgePiece& piece) {
    return {std::min(piece.a.x, piece.b.x), std::max(piece.a.x, piece.b.x), std::min(piece.a.y, piece.b.y),
            std::max(piece.a.y, piece.b.y)};
}

Rectangle bounds_of(const Loop& loop) {
    Rectangle box = bounds_of(loop.front());
    for (const EdgePiece& piece : loop) {
        const Rectangle b = bounds_of(piece);
        box = {std::min(box.x0, b.x0), std::max(box.x1, b.x1), std::min(box.y0, b.y0),
               std::max(box.y1, b.y1)};
    }
    return box;
}

namespace {

/// On a piece of a circle; it spans less than a half turn.
Nearest nearest_on_circle(const EdgePiece& piece, Point point) {
    const Point a = (piece.a - piece.centre), b = (piece.b - piece.centre), p = (point - piece.centre);
    const double way = cross(a, b) > 0 ? 1 : -1, from_a = way * cross(a, p), to_b = way * cross(p, b);
    Nearest nearest;
    nearest.at_end = from_a < 0 || to_b < 0 || (p.x == 0 && p.y == 0);
    const Point towards = !nearest.at_end ? p : p.x * a.x + p.y * a.y >= p.x * b.x + p.y * b.y ? a : b;
    const double length = length_of(towards);
    const Point normal{towards.x / length, towards.y / length};
    nearest.foot = {piece.centre.x + piece.rx * normal.x, piece.centre.y + piece.rx * normal.y};
    const double sign = piece.hollow_side_is_centre ? 1 : -1;
    nearest.outward = {sign * normal.x, sign * normal.y};
    nearest.distance = length_of((point - nearest.foot));
    return nearest;
}

} // namespace

Nearest nearest_on(const EdgePiece& piece, Point point) {
    Nearest nearest;
    if (!piece.is_arc) {
        const Point side = (piece.b - piece.a);
        const double squared = side.x * side.x + side.y * side.y;
        double s = ((point.x - piece.a.x) * side.x + (point.y - piece.a.y) * side.y) / squared;
        nearest.at_end = s < 0 || s > 1;
        s = std::clamp(s, 0.0, 1.0);
        nearest.foot = {piece.a.x + s * side.x, piece.a.y + s * side.y};
        const double length = std::sqrt(squared);
        nearest.outward = {side.y / length, -side.x / length};
        nearest.distance = length_of((point - nearest.foot));
        return nearest;
    }
    if (piece.rx == piece.ry) return nearest_on_circle(piece, point);
    // the eccentric angle of the nearest point: a point inside may have four normals, so the best of a few
    // places along the piece, made sharp by Newton's iteration between its neighbours
    const double a0 = angle_on(piece, piece.a), a1 = angle_on(piece, piece.b);
    const double span = std::remainder(a1 - a0, 2 * std::numbers::pi);
    const double px = point.x - piece.centre.x, py = point.y - piece.centre.y;
    constexpr int places = 16;
    int best = 0;
    double least = 0;
    for (int k = 0; k <= places; ++k) {
        const double d =
            length_of((point - on_ellipse(piece.centre, piece.rx, piece.ry, a0 + span * k / places)));
        if (k == 0 || d < least) {
            least = d;
            best = k;
        }
    }
    const double before = a0 + span * std::max(best - 1, 0) / places,
                 after = a0 + span * std::min(best + 1, places) / places;
    const double low = std::min(before, after), high = std::max(before, after),
                 squares = piece.ry * piece.ry - piece.rx * piece.rx;
    double t = a0 + span * best / places;
    for (int k = 0; k < 30; ++k) {
        const double c = std::cos(t), s = std::sin(t);
        const double f = squares * s * c + px * piece.rx * s - py * piece.ry * c;
        const double df = squares * (c * c - s * s) + px * piece.rx * c + py * piece.ry * s;
        const double next =
            std::clamp(df > 0 ? t - f / df : t - std::copysign((high - low) / 4, f), low, high);
        const double step = std::abs(next - t);
        t = next;
        if (step < 1e-14) break;
    }
    nearest.at_end = t == a0 || t == a1 || t == a0 + span;
    nearest.foot = on_ellipse(piece.centre, piece.rx, piece.ry, t);
    const double nx = piece.ry * std::cos(t), ny = piece.rx * std::sin(t), norm = std::hypot(nx, ny);
    const double sign = piece.hollow_side_is_centre ? 1 : -1;
    nearest.outward = {sign * nx / norm, sign * ny / norm};
    nearest.distance = length_of((point - nearest.foot));
    return nearest;
}

double area_of(const Loop& loop) {
    double area = 0;
    for (const EdgePiece& piece : loop) {
        area += cross(piece.a, piece.b) / 2;
        if (!piece.is_arc) continue;
        // between chord and arc: half the sector in the circle that the ellipse is stretched from, less its
        // triangle
        const double turn = turn_of(piece);
        area += piece.rx * piece.ry * (turn - std::sin(turn)) / 2;
    }
    return area;
}

} // namespace hollowtop
