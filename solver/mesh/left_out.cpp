// SPDX-License-Identifier: MIT
#include "solver/mesh/left_out.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <set>
#include <tuple>

namespace hollowtop {
namespace {

constexpr double share_of_room = 0.25;
constexpr double smooth_joint =
    0.985;                           // cosine of the turn, 10 degrees, below which two walls meet in a corner
constexpr double alike = 1e-6;       // of thicknesses
constexpr double joint_apart = 1e-6; // mm: ends that meet

Point moved_along(Point p, Point direction, double by) {
    return {p.x + by * direction.x, p.y + by * direction.y};
}

/// The unit normal out of the loop at one end of a piece.
Point outward_at(const EdgePiece& piece, Point end) {
    if (!piece.is_arc || piece.rx == piece.ry) return nearest_on(piece, end).outward;
    const double sign = piece.hollow_side_is_centre ? 1 : -1;
    const double nx = (end.x - piece.centre.x) / (piece.rx * piece.rx),
                 ny = (end.y - piece.centre.y) / (piece.ry * piece.ry), norm = std::hypot(nx, ny);
    return {sign * nx / norm, sign * ny / norm};
}

/// How far the thickness stays what it is beside the wall, up to `most`.
double room_of(const ThicknessField& field, Point foot, Point direction, double most) {
    constexpr int steps = 24;
    const double near = 1e-3 * most / steps,
                 thickness = thickness_of(field, region_at(field, moved_along(foot, direction, near)));
    for (int k = 1; k <= steps; ++k) {
        const double to = most * k / steps;
        if (std::abs(thickness_of(field, region_at(field, moved_along(foot, direction, to))) - thickness) >
            alike * field.thickness)
            return to - most / steps / 2;
    }
    return most;
}

LeftOut::Beside beside(const ThicknessField& field, int index) {
    const Wall& wall = field.walls[static_cast<size_t>(index)];
    const double sense = wall.thick_is_outward ? 1 : -1, most = wall.skin / share_of_room;
    LeftOut::Beside beside{.wall = index, .thin_side = wall.skin, .thick_side = wall.skin};
    for (const double share : {0.25, 0.5, 0.75}) {
        const Nearest at = nearest_on(wall.piece, point_on(wall.piece, share));
        const Point to_thick{sense * at.outward.x, sense * at.outward.y};
        beside.thick_side =
            std::min(beside.thick_side, share_of_room * room_of(field, at.foot, to_thick, most));
        beside.thin_side = std::min(
            beside.thin_side, share_of_room * room_of(field, at.foot, {-to_thick.x, -to_thick.y}, most));
    }
    return beside;
}

void add_circle(Point centre, double radius, std::vector<EdgePiece>& edges) {
    const std::array<Point, 4> corners{{{centre.x + radius, centre.y},
                                        {centre.x, centre.y + radius},
                                        {centre.x - radius, centre.y},
                                        {centre.x, centre.y - radius}}};
    for (size_t k = 0; k < 4; ++k)
        edges.push_back({.a = corners[k],
                         .b = corners[(k + 1) % 4],
                         .is_arc = true,
                         .centre = centre,
                         .rx = radius,
                         .ry = radius});
}

/// The end of a line beside a wall's end, where the next wall goes on with the normal `other` and another
/// distance.
Point beside_joint(Point joint, Point normal, Point other, double by) {
    const Point sum{normal.x + other.x, normal.y + other.y};
    const double length = std::hypot(sum.x, sum.y), cosine = (sum.x * normal.x + sum.y * normal.y) / length;
    return moved_along(joint, {sum.x / length, sum.y / length}, by / cosine);
}

Rectangle wider(const Rectangle& box, double by) {
    return {box.x0 - by, box.x1 + by, box.y0 - by, box.y1 + by};
}

/// What a wall's end meets.
struct Joint {
    bool is_smooth = false;
    Point other{}; ///< the next wall's normal
    LeftOut::Beside next{};
};

Joint joint_of(const ThicknessField& field, const LeftOut& left, size_t k, bool at_b) {
    const EdgePiece& piece = field.walls[static_cast<size_t>(left.walls[k].wall)].piece;
    const Point end = at_b ? piece.b : piece.a, normal = outward_at(piece, end);
    Joint joint;
    any_near(field.walls_by_place, wider({end.x, end.x, end.y, end.y}, joint_apart), [&](int index) {
        const LeftOut::Beside& one = left.walls[static_cast<size_t>(index)];
        if (&one == &left.walls[k]) return false;
        const EdgePiece& other = field.walls[static_cast<size_t>(one.wall)].piece;
        const Point start = at_b ? other.a : other.b;
        if (std::hypot(start.x - end.x, start.y - end.y) > joint_apart) return false;
        const Point next = outward_at(other, start);
        if (!(normal.x * next.x + normal.y * next.y > smooth_joint)) return false;
        joint = {.is_smooth = true, .other = next, .next = one};
        return true;
    });
    return joint;
}

/// The lines on both sides of a wall, and rounds about its ends where it meets a corner.
void add_edges(const ThicknessField& field, const LeftOut& left, size_t k, std::vector<EdgePiece>& edges) {
    const LeftOut::Beside& here = left.walls[k];
    const Wall& wall = field.walls[static_cast<size_t>(here.wall)];
    const EdgePiece& piece = wall.piece;
    const Joint at_a = joint_of(field, left, k, false), at_b = joint_of(field, left, k, true);
    for (const bool outward : {true, false}) {
        const bool thick = outward == wall.thick_is_outward;
        const auto distance = [&](const LeftOut::Beside& one) {
            return (outward ? 1 : -1) * (thick ? one.thick_side : one.thin_side);
        };
        if (piece.is_arc) {
            EdgePiece far = piece;
            const double grow = piece.hollow_side_is_centre ? distance(here) : -distance(here);
            if (far.rx + grow <= 0 || far.ry + grow <= 0) continue;
            for (Point* p : {&far.a, &far.b}) {
                p->x = far.centre.x + (p->x - far.centre.x) * (far.rx + grow) / far.rx;
                p->y = far.centre.y + (p->y - far.centre.y) * (far.ry + grow) / far.ry;
            }
            far.rx += grow;
            far.ry += grow;
            edges.push_back(far);
            continue;
        }
        const auto end = [&](Point at, const Joint& joint) {
            const Point normal = outward_at(piece, at);
            if (!joint.is_smooth) return moved_along(at, normal, distance(here));
            return beside_joint(at, normal, joint.other, (distance(here) + distance(joint.next)) / 2);
        };
        edges.push_back({.a = end(piece.a, at_a), .b = end(piece.b, at_b)});
    }
    for (const bool at_end : {false, true}) {
        if ((at_end ? at_b : at_a).is_smooth) continue;
        const Point centre = at_end ? piece.b : piece.a;
        add_circle(centre, here.thin_side, edges);
        if (std::abs(here.thick_side - here.thin_side) > alike * wall.skin)
            add_circle(centre, here.thick_side, edges);
    }
}

bool points_inwards(const EdgePiece& before, const EdgePiece& after) {
    const Point n = outward_at(before, before.b), m = outward_at(after, after.a);
    return n.x * m.y - n.y * m.x < 0 && n.x * m.x + n.y * m.y < smooth_joint;
}

Rectangle box_of(const LeftOut::Beside& one, const ThicknessField& field) {
    return wider(bounds_of(field.walls[static_cast<size_t>(one.wall)].piece),
                 std::max(one.thin_side, one.thick_side));
}
Rectangle box_of(const LeftOut::Disc& disc) {
    return wider({disc.at.x, disc.at.x, disc.at.y, disc.at.y}, disc.radius);
}

/// Each edge once, in the order in which they come.
class UniqueEdges {
  public:
    void add(const EdgePiece& piece, std::vector<EdgePiece>& edges) {
        if (known_.emplace(piece.a.x, piece.a.y, piece.b.x, piece.b.y, piece.is_arc).second)
            edges.push_back(piece);
    }

  private:
    std::set<std::tuple<double, double, double, double, bool>> known_{};
};

} // namespace

LeftOut left_out(const ThicknessField& field, std::span<const Point> line_ends) {
    LeftOut left;
    for (size_t i = 0; i < field.walls.size(); ++i) left.walls.push_back(beside(field, static_cast<int>(i)));
    UniqueEdges unique;
    for (size_t k = 0; k < left.walls.size(); ++k) {
        std::vector<EdgePiece> edges;
        add_edges(field, left, k, edges);
        for (const EdgePiece& piece : edges) unique.add(piece, left.edges);
    }
    for (size_t k = 0; k < field.outline.size(); ++k) {
        const EdgePiece& before = field.outline[k];
        if (points_inwards(before, field.outline[(k + 1) % field.outline.size()]))
            left.discs.push_back({.at = before.b, .radius = field.thickness});
    }
    for (const Point end : line_ends) {
        const int region = region_at(field, end);
        left.discs.push_back(
            {.at = end, .radius = region == outside ? field.thickness : thickness_of(field, region)});
    }
    for (const LeftOut::Disc& disc : left.discs) add_circle(disc.at, disc.radius, left.edges);
    std::vector<Rectangle> boxes;
    for (const LeftOut::Beside& one : left.walls) boxes.push_back(box_of(one, field));
    left.walls_by_place = box_grid(boxes);
    boxes.clear();
    for (const LeftOut::Disc& disc : left.discs) boxes.push_back(box_of(disc));
    left.discs_by_place = box_grid(boxes);
    return left;
}

LeftOutNear near_of(const LeftOut& left, const ThicknessField& field, const Rectangle& box) {
    LeftOutNear near;
    const auto reaches = [&](const Rectangle& b) {
        return b.x0 <= box.x1 && b.x1 >= box.x0 && b.y0 <= box.y1 && b.y1 >= box.y0;
    };
    any_near(left.walls_by_place, box, [&](int k) {
        if (reaches(box_of(left.walls[static_cast<size_t>(k)], field))) near.walls.push_back(k);
        return false;
    });
    any_near(left.discs_by_place, box, [&](int k) {
        if (reaches(box_of(left.discs[static_cast<size_t>(k)]))) near.discs.push_back(k);
        return false;
    });
    return near;
}

bool is_left_out(const LeftOut& left, const ThicknessField& field, const LeftOutNear& near, Point point,
                 double thickness) {
    for (const int k : near.discs) {
        const LeftOut::Disc& disc = left.discs[static_cast<size_t>(k)];
        if (std::hypot(point.x - disc.at.x, point.y - disc.at.y) < disc.radius) return true;
    }
    for (const int k : near.walls) {
        const LeftOut::Beside& one = left.walls[static_cast<size_t>(k)];
        const Wall& wall = field.walls[static_cast<size_t>(one.wall)];
        const double reach = thickness > wall.skin * (1 + alike) ? one.thick_side : one.thin_side;
        const Rectangle box = wider(bounds_of(wall.piece), reach); // most points lie out of reach
        if (point.x < box.x0 || point.x > box.x1 || point.y < box.y0 || point.y > box.y1) continue;
        if (nearest_on(wall.piece, point).distance < reach) return true;
    }
    return false;
}

} // namespace hollowtop
