// SPDX-License-Identifier: MIT
#include "solver/mesh/thickness_field.hpp"

#include "materials/error.hpp"
#include "solver/piece/skin.hpp"
#include "solver/section/wall_along.hpp"
#include "solver/section/wall_submodel.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

namespace hollowtop {
namespace {

/// Of an arc the point at half its eccentric angle, so that a quarter turn of the piece finds the same place.
Point middle_of(const EdgePiece& piece) {
    if (!piece.is_arc) return {(piece.a.x + piece.b.x) / 2, (piece.a.y + piece.b.y) / 2};
    const auto angle = [&](Point p) {
        return std::atan2((p.y - piece.centre.y) / piece.ry, (p.x - piece.centre.x) / piece.rx);
    };
    const double from = angle(piece.a), turn = std::remainder(angle(piece.b) - from, 2 * std::numbers::pi);
    const Point one{piece.centre.x + piece.rx * std::cos(from + turn / 2),
                    piece.centre.y + piece.ry * std::sin(from + turn / 2)};
    // half an ellipse: of the two halves the one that the piece is
    const Point other{2 * piece.centre.x - one.x, 2 * piece.centre.y - one.y};
    return nearest_on(piece, one).distance <= nearest_on(piece, other).distance ? one : other;
}

/// Directions across a curved wall are taken in steps, so that a cell beside it holds few distinct sections.
constexpr int directions = 32;
int direction_step(Point n) {
    return static_cast<int>(std::lround(std::atan2(n.y, n.x) * directions / (2 * std::numbers::pi)));
}

Point shifted(Point p, Point direction, double by) {
    return {p.x + by * direction.x, p.y + by * direction.y};
}

/// The edges of the zone of a wall: its far side and its two ends.
void add_zone_edges(const Wall& wall, std::vector<EdgePiece>& cuts) {
    const double sign = wall.thick_is_outward ? 1 : -1;
    if (wall.straight) {
        const Point a = shifted(wall.piece.a, wall.across, sign * wall.zone);
        const Point b = shifted(wall.piece.b, wall.across, sign * wall.zone);
        cuts.push_back({.a = a, .b = b});
        cuts.push_back({.a = wall.piece.a, .b = a});
        cuts.push_back({.a = wall.piece.b, .b = b});
        return;
    }
    // a parallel curve of the arc; for circles it is exact, for ellipses the zone is sampled where it bulges
    EdgePiece far = wall.piece;
    const double grow = wall.piece.hollow_side_is_centre == wall.thick_is_outward ? wall.zone : -wall.zone;
    if (far.rx + grow <= 0 || far.ry + grow <= 0) return;
    for (Point* p : {&far.a, &far.b}) {
        p->x = far.centre.x + (p->x - far.centre.x) * (far.rx + grow) / far.rx;
        p->y = far.centre.y + (p->y - far.centre.y) * (far.ry + grow) / far.ry;
    }
    far.rx += grow;
    far.ry += grow;
    cuts.push_back(far);
    cuts.push_back({.a = wall.piece.a, .b = far.a});
    cuts.push_back({.a = wall.piece.b, .b = far.b});
}

/// How far the thick side reaches from the wall, up to `most`: the zones of a narrow land's two walls must
/// not overlap.
double reach_of(const ThicknessField& field, Point foot, Point direction, double thick, double most) {
    const auto is_thick = [&](double by) {
        return thickness_of(field, region_at(field, shifted(foot, direction, by))) >= thick;
    };
    constexpr int steps = 16;
    double good = 0;
    for (int k = 1; k <= steps; ++k) {
        const double to = most * k / steps;
        if (is_thick(to)) {
            good = to;
            continue;
        }
        double bad = to;
        for (int b = 0; b < 40; ++b) (is_thick((good + bad) / 2) ? good : bad) = (good + bad) / 2;
        return good;
    }
    return most;
}

/// Cells see only a zone about as wide as they are. A straight wall along x or y has mesh lines on both
/// sides; small arcs and chamfers that are no seams cut across cells, and their zone is up to four times as wide. Not at
/// small arcs, where a wide zone would grow longer than its wall.
double zone_width(const EdgePiece& piece, double width) {
    constexpr double wider = 4;
    if (piece.is_arc) return std::clamp(std::min(piece.rx, piece.ry) / 4, width, wider * width);
    return runs_along_x_or_y(piece) ? width : wider * width;
}

/// The mean of a region's thickness along a wall.
double mean_along(const ThicknessField& field, int region, const EdgePiece& piece) {
    const SkinGrid* grid = grid_of(field, region);
    if (grid == nullptr) return thickness_of(field, region);
    constexpr int samples = 32;
    double sum = 0;
    for (int k = 0; k < samples; ++k) sum += thickness_in(*grid, point_on(piece, (k + 0.5) / samples));
    return sum / samples;
}

/// Is the loop bounded by seams where it has no mesh lines? Not where that is the rounding or chamfer of a corner alone.
bool wants_seams(const Loop& loop) {
    constexpr double longest_corner = 60; // mm
    const size_t n = loop.size();
    size_t start = 0; // a piece with a mesh line, if there is one: stretches without are followed from there
    while (start < n && !has_mesh_line(loop[start])) ++start;
    Rectangle box{};
    bool open = false;
    for (size_t k = 0; k < n; ++k) {
        const EdgePiece& piece = loop[(start + k) % n];
        if (has_mesh_line(piece)) {
            open = false;
            continue;
        }
        const Rectangle b = bounds_of(piece);
        box = open ? Rectangle{std::min(box.x0, b.x0), std::max(box.x1, b.x1), std::min(box.y0, b.y0),
                               std::max(box.y1, b.y1)}
                   : b;
        open = true;
        if (std::max(box.x1 - box.x0, box.y1 - box.y0) > longest_corner) return true;
    }
    return false;
}

Seam* seam_of(ThicknessField& field, const EdgePiece& piece) {
    Seam* found = nullptr;
    any_near(field.seams_by_place, bounds_of(piece), [&](int k) {
        Seam& seam = field.seams[static_cast<size_t>(k)];
        const auto same = [](Point a, Point b) { return a.x == b.x && a.y == b.y; };
        if (same(seam.piece.a, piece.a) && same(seam.piece.b, piece.b)) found = &seam;
        return found != nullptr;
    });
    return found;
}

void add_walls(ThicknessField& field, const Loop& loop, bool has_seams, int thin_region,
               bool thick_is_outward, const PlaneStiffness& plane) {
    const RecessPlan& recess = field.recesses[static_cast<size_t>(thin_region - 1)];
    const double skin = recess.skin;
    constexpr double short_chord = 60; // mm: of a curve in chords each has a direction of its own
    for (const EdgePiece& piece : loop) {
        const Point middle = middle_of(piece);
        const Nearest nearest = nearest_on(piece, middle);
        const double step = 1e-6 * field.thickness;
        const int region =
            region_at(field, shifted(middle, nearest.outward, thick_is_outward ? step : -step));
        const double thick = thickness_of(field, region);
        if (thick <= skin) continue;
        Seam* const seam = has_seams && !has_mesh_line(piece) ? seam_of(field, piece) : nullptr;
        const bool is_chord = seam != nullptr && !runs_along_x_or_y(piece) &&
                              std::hypot(piece.b.x - piece.a.x, piece.b.y - piece.a.y) < short_chord &&
                              loop.size() > 16;
        const double width = zone_width(piece, wall_zone_width(plane, thick, nearest.outward));
        const Point inwards{thick_is_outward ? nearest.outward.x : -nearest.outward.x,
                            thick_is_outward ? nearest.outward.y : -nearest.outward.y};
        Wall wall{.piece = piece,
                  .thin_region = thin_region,
                  .skin = skin,
                  .skin_along = mean_along(field, thin_region, piece),
                  .thick = mean_along(field, region, piece),
                  .root_radius = recess.root_radius,
                  .zone = seam != nullptr ? 0 : reach_of(field, nearest.foot, inwards, thick, 2 * width) / 2,
                  .thick_is_outward = thick_is_outward,
                  .straight = !piece.is_arc && !is_chord,
                  .across = nearest.outward};
        if (seam != nullptr)
            seam->wall = static_cast<int>(field.walls.size());
        else
            add_zone_edges(wall, field.cuts);
        field.walls.push_back(wall);
    }
}

} // namespace

double thickness_of(const ThicknessField& field, int region) {
    if (region == outside) return 0;
    if (region == full_thickness) return field.thickness;
    return field.recesses[static_cast<size_t>(region - 1)].skin;
}

double local_thickness(const ThicknessField& field, int region, Point at) {
    const SkinGrid* grid = grid_of(field, region);
    return grid != nullptr ? thickness_in(*grid, at) : thickness_of(field, region);
}

const SkinGrid* grid_of(const ThicknessField& field, int region) {
    if (region == outside) return nullptr;
    const std::optional<SkinGrid>& grid =
        region == full_thickness ? field.uneven : field.recesses[static_cast<size_t>(region - 1)].uneven;
    return grid ? &*grid : nullptr;
}

bool is_uneven(const ThicknessField& field, int region) { return grid_of(field, region) != nullptr; }

double thinnest_of(const RecessPlan& recess) {
    if (!recess.uneven) return recess.skin;
    return *std::min_element(recess.uneven->thickness.begin(), recess.uneven->thickness.end());
}

namespace {

/// Glue lines along x or y are mesh lines and cut no cell; others cut those that they cross.
void add_glue_lines(ThicknessField& field) {
    const Point n = field.boards.across;
    if (n.x == 0 || n.y == 0) return;
    const Rectangle box = bounds_of(field.outline);
    for (const double at : field.boards.lines) {
        // where the line meets the box
        std::vector<Point> ends;
        const auto add = [&](Point p) {
            constexpr double near = 1e-9;
            if (p.x < box.x0 - near || p.x > box.x1 + near || p.y < box.y0 - near || p.y > box.y1 + near)
                return;
            for (const Point& other : ends)
                if (std::hypot(other.x - p.x, other.y - p.y) < near) return;
            ends.push_back(p);
        };
        for (const double x : {box.x0, box.x1}) add({x, (at - n.x * x) / n.y});
        for (const double y : {box.y0, box.y1}) add({(at - n.y * y) / n.x, y});
        if (ends.size() == 2) field.glue_lines.push_back({.a = ends[0], .b = ends[1]});
    }
    field.cuts.insert(field.cuts.end(), field.glue_lines.begin(), field.glue_lines.end());
}

} // namespace

int board_at(const ThicknessField& field, Point point) {
    const BoardShares& boards = field.boards;
    if (boards.lines.empty()) return 0;
    const double at = point.x * boards.across.x + point.y * boards.across.y;
    const auto after = std::upper_bound(boards.lines.begin(), boards.lines.end(), at);
    return boards.kind[static_cast<size_t>(after - boards.lines.begin())];
}

ThicknessField thickness_field(const Piece& piece, const PlaneStiffness& plane, bool with_wall_compliance) {
    ThicknessField field;
    field.thickness = piece.top.thickness;
    field.uneven = piece.top.surveyed;
    field.outline = std::visit([](const auto& shape) { return loop_of(shape); }, piece.top.outline);
    field.outline_rows = rows_of(field.outline);
    for (size_t i = 0; i < piece.recesses.size(); ++i) {
        const Recess& recess = piece.recesses[i];
        RecessPlan plan;
        plan.skin = skin_of(recess, piece.top);
        plan.root_radius = recess.root_radius;
        plan.uneven = recess.surveyed;
        if (const auto* rim = std::get_if<RimShape>(&recess.shape)) {
            plan.loop = inset(piece.top.outline, rim->rim, rim->corner_radius);
            if (plan.loop.empty())
                throw Error(ErrorKind::input, {.place = "recesses[" + std::to_string(i) + "].rim",
                                               .what = "the rim leaves nothing to hollow",
                                               .remedy = "give a narrower rim"});
        } else if (const auto* rectangle = std::get_if<RectangleShape>(&recess.shape)) {
            plan.loop = loop_of(*rectangle);
        } else {
            plan.loop = loop_of(std::get<PolygonShape>(recess.shape));
        }
        plan.rows = rows_of(plan.loop);
        for (const Land& land : recess.lands)
            plan.lands.push_back(std::visit([](const auto& shape) { return loop_of(shape); }, land.shape));
        field.recesses.push_back(std::move(plan));
    }
    std::vector<Rectangle> boxes;
    for (const RecessPlan& plan : field.recesses) boxes.push_back(bounds_of(plan.loop));
    field.recesses_by_place = box_grid(boxes);
    field.cuts = field.outline;
    for (const RecessPlan& plan : field.recesses) {
        field.cuts.insert(field.cuts.end(), plan.loop.begin(), plan.loop.end());
        for (const Loop& land : plan.lands) field.cuts.insert(field.cuts.end(), land.begin(), land.end());
    }
    field.n_region_cuts = field.cuts.size();
    note_leaves(field);
    if (with_wall_compliance) {
        for (size_t i = 0; i < field.recesses.size(); ++i) {
            const int region = static_cast<int>(i) + 1;
            const RecessPlan& plan = field.recesses[i];
            add_walls(field, plan.loop, plan.leaf > 0, region, true, plane);
            for (size_t k = 0; k < plan.lands.size(); ++k)
                add_walls(field, plan.lands[k], plan.land_leaves[k] != plan.leaf, region, false, plane);
        }
    }
    field.boards = board_shares_of(piece.top);
    add_glue_lines(field);
    boxes.clear();
    for (const Wall& wall : field.walls) {
        const Rectangle b = bounds_of(wall.piece);
        boxes.push_back({b.x0 - wall.zone, b.x1 + wall.zone, b.y0 - wall.zone, b.y1 + wall.zone});
    }
    field.walls_by_place = box_grid(boxes);
    note_cuts(field);
    return field;
}

void note_leaves(ThicknessField& field) {
    int next = 1;
    field.seams.clear();
    for (RecessPlan& plan : field.recesses) {
        plan.leaf = wants_seams(plan.loop) ? next++ : 0;
        plan.land_leaves.clear();
        for (const Loop& land : plan.lands)
            plan.land_leaves.push_back(wants_seams(land) ? next++ : plan.leaf);
    }
    const auto add = [&](const Loop& loop) {
        for (const EdgePiece& piece : loop)
            if (!has_mesh_line(piece)) field.seams.push_back({.piece = piece});
    };
    for (const RecessPlan& plan : field.recesses) {
        if (plan.leaf > 0) add(plan.loop);
        for (size_t k = 0; k < plan.lands.size(); ++k)
            if (plan.land_leaves[k] != plan.leaf) add(plan.lands[k]);
    }
    std::vector<Rectangle> boxes;
    for (const Seam& seam : field.seams) boxes.push_back(bounds_of(seam.piece));
    field.seams_by_place = box_grid(boxes);
}

void note_cuts(ThicknessField& field) {
    std::vector<Rectangle> boxes;
    boxes.reserve(field.cuts.size());
    for (const EdgePiece& piece : field.cuts) boxes.push_back(bounds_of(piece));
    field.cuts_by_place = box_grid(boxes);
}

bool has_mesh_line(const EdgePiece& piece) {
    constexpr double straight = 1e-9, shortest = 30; // mm
    if (piece.is_arc) return false;
    const Rectangle b = bounds_of(piece);
    const double x = b.x1 - b.x0, y = b.y1 - b.y0;
    return (x < straight && y > shortest) || (y < straight && x > shortest);
}

int leaf_at(const ThicknessField& field, Point point) {
    int leaf = 0;
    if (field.seams.empty()) return leaf;
    any_near(field.recesses_by_place, {point.x, point.x, point.y, point.y}, [&](int i) {
        const RecessPlan& plan = field.recesses[static_cast<size_t>(i)];
        if (!is_inside(plan.loop, plan.rows, point)) return false;
        leaf = plan.leaf;
        for (size_t k = 0; k < plan.lands.size(); ++k)
            if (plan.land_leaves[k] != plan.leaf && is_inside(plan.lands[k], point))
                leaf = plan.land_leaves[k];
        return true;
    });
    return leaf;
}

bool is_on_top(const ThicknessField& field, Point point) {
    return is_inside(field.outline, field.outline_rows, point);
}

int region_at(const ThicknessField& field, Point point) {
    if (!is_on_top(field, point)) return outside;
    int region = full_thickness;
    any_near(field.recesses_by_place, {point.x, point.x, point.y, point.y}, [&](int i) {
        const RecessPlan& plan = field.recesses[static_cast<size_t>(i)];
        if (!is_inside(plan.loop, plan.rows, point)) return false;
        const bool on_land = std::any_of(plan.lands.begin(), plan.lands.end(),
                                         [&](const Loop& land) { return is_inside(land, point); });
        region = on_land ? full_thickness : i + 1;
        return true;
    });
    return region;
}

std::vector<int> walls_near(const ThicknessField& field, const Rectangle& box) {
    std::vector<int> near;
    any_near(field.walls_by_place, box, [&](int i) {
        const Wall& wall = field.walls[static_cast<size_t>(i)];
        const double zone = wall.zone;
        if (zone <= 0) return false;
        const Rectangle b = bounds_of(wall.piece);
        if (b.x0 - zone <= box.x1 && b.x1 + zone >= box.x0 && b.y0 - zone <= box.y1 && b.y1 + zone >= box.y0)
            near.push_back(i);
        return false;
    });
    return near;
}

SectionRegion section_region_at(const ThicknessField& field, Point point) {
    return section_region_at(field, point, walls_near(field, {point.x, point.x, point.y, point.y}));
}

namespace {

SectionRegion place_in(const ThicknessField& field, int region, Point point,
                       const std::vector<int>& walls_nearby) {
    SectionRegion place{.region = region};
    const double thickness = thickness_of(field, place.region);
    double best = 0;
    Point outward{};
    for (const int i : walls_nearby) {
        const Wall& wall = field.walls[static_cast<size_t>(i)];
        if (thickness <= wall.skin) continue;
        const Nearest nearest = nearest_on(wall.piece, point);
        if (nearest.at_end || nearest.distance >= wall.zone) continue;
        const double side =
            (point.x - nearest.foot.x) * nearest.outward.x + (point.y - nearest.foot.y) * nearest.outward.y;
        if ((side > 0) != wall.thick_is_outward) continue;
        if (place.wall < 0 || nearest.distance < best) {
            place.wall = i;
            outward = nearest.outward;
            best = nearest.distance;
        }
    }
    if (place.wall >= 0 && !field.walls[static_cast<size_t>(place.wall)].straight)
        place.turn = direction_step(outward);
    if (place.region != outside) place.board = board_at(field, point);
    return place;
}

} // namespace

SectionRegion section_region_at(const ThicknessField& field, Point point,
                                const std::vector<int>& walls_nearby) {
    return place_in(field, region_at(field, point), point, walls_nearby);
}

SectionRegion turned_at(const ThicknessField& field, SectionRegion place, Point point) {
    place.turn =
        direction_step(nearest_on(field.walls[static_cast<size_t>(place.wall)].piece, point).outward);
    return place;
}

namespace {

Section section_of_mean_wood(const ThicknessField& field, const PlaneStiffness& plane, SectionRegion place,
                             double thickness, double reference_depth) {
    if (place.wall < 0) return plain_section(plane, thickness, reference_depth);
    const Wall& wall = field.walls[static_cast<size_t>(place.wall)];
    const Point across = wall_direction(wall, place.turn);
    const Matrix3 X =
        wall.straight ? wall_submodel(plane, wall.thick, wall.skin_along, wall.root_radius, across)->extra
                      : curved_wall_compliance(plane, wall.thick, wall.skin_along, wall.root_radius, across);
    // from the skin's own axis to the reference surface: the moment there is M - N z. The cell's x runs from
    // skin to rim.
    const double z = reference_depth - wall.skin_along / 2, sense = wall.thick_is_outward ? 1 : -1;
    const double NN = X[0] - 2 * z * X[1] + z * z * X[4], NM = X[1] - z * X[4],
                 NV = sense * (X[2] - z * X[5]), MV = sense * X[5];
    const AlongCompliance Y = wall_along(plane, wall.thick, wall.skin_along, across, wall.zone);
    const double along_NM = Y.NM - z * Y.MM;
    WallCompliance compliance{.across = {NN, NM, NV, NM, X[4], MV, NV, MV, X[8]},
                              .along = {Y.NN - 2 * z * Y.NM + z * z * Y.MM, along_NM, along_NM, Y.MM}};
    for (double& g : compliance.across) g /= wall.zone;
    for (double& g : compliance.along) g /= wall.zone;
    return wall_section(plane, thickness, compliance, across, reference_depth);
}

} // namespace

Section section_at(const ThicknessField& field, const PlaneStiffness& plane, SectionRegion place,
                   double reference_depth) {
    return section_at(field, plane, place, thickness_of(field, place.region), reference_depth);
}

Section section_at(const ThicknessField& field, const PlaneStiffness& plane, SectionRegion place,
                   double thickness, double reference_depth) {
    Section section = section_of_mean_wood(field, plane, place, thickness, reference_depth);
    const double share = stiffness_share(field, place);
    if (share != 1) { // what yields beside a wall is of the same board
        for (double& value : section.C) value *= share;
        for (double& value : section.S) value *= share;
        for (double& value : section.cross) value *= share;
    }
    return section;
}

Point wall_direction(const Wall& wall, int turn) {
    if (wall.straight) return wall.across;
    const double angle = turn * 2 * std::numbers::pi / directions;
    return {std::cos(angle), std::sin(angle)};
}

} // namespace hollowtop
