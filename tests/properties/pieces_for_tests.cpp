// SPDX-License-Identifier: MIT
#include "tests/properties/pieces_for_tests.hpp"

#include "solver/piece/loop.hpp"
#include "solver/vibration/frequencies.hpp"
#include "tests/properties/dice.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <random>

namespace hollowtop {
namespace {

/// A piece with every point p moved to map(p); axes swapped where the map turns by a quarter.
Piece mapped(Piece piece, const std::function<Point(Point)>& map, bool swaps) {
    const auto point = [&](Point& p) { p = map(p); };
    const auto box = [&](Rectangle& r) {
        const Point a = map({r.x0, r.y0}), b = map({r.x1, r.y1});
        r = {std::min(a.x, b.x), std::max(a.x, b.x), std::min(a.y, b.y), std::max(a.y, b.y)};
    };
    struct Shapes {
        const std::function<void(Rectangle&)> box;
        const std::function<void(Point&)> point;
        void operator()(RectangleShape& s) const { box(s.box); }
        void operator()(EllipseShape& s) const { box(s.box); }
        void operator()(PolygonShape& s) const { std::for_each(s.points.begin(), s.points.end(), point); }
        void operator()(RimShape&) const {}
    };
    const Shapes shapes{box, point};
    std::visit(shapes, piece.top.outline);
    for (Recess& recess : piece.recesses) {
        std::visit(shapes, recess.shape);
        for (Land& land : recess.lands) std::visit(shapes, land.shape);
    }
    for (Support& support : piece.supports) {
        if (auto* pad = std::get_if<Pad>(&support.kind)) {
            point(pad->at);
            if (swaps) std::swap(pad->size_x, pad->size_y);
        }
        const auto ends = [&](auto& line) {
            point(line.from);
            point(line.to);
        };
        if (auto* line = std::get_if<Bearer>(&support.kind)) ends(*line);
        if (auto* line = std::get_if<Held>(&support.kind)) ends(*line);
        if (auto* line = std::get_if<BuiltIn>(&support.kind)) ends(*line);
    }
    for (Load& load : piece.loads) {
        if (auto* area = std::get_if<AreaLoad>(&load.kind)) {
            if (area->over) box(*area->over);
        }
        if (auto* patch = std::get_if<PatchLoad>(&load.kind)) {
            point(patch->at);
            if (swaps) std::swap(patch->size_x, patch->size_y);
        }
        if (auto* line = std::get_if<LineLoad>(&load.kind)) {
            point(line->from);
            point(line->to);
        }
    }
    std::for_each(piece.probes.begin(), piece.probes.end(), point);
    if (swaps) std::swap(piece.top.length, piece.top.width);
    return piece;
}

} // namespace

Recess recess_of(std::variant<RectangleShape, PolygonShape, RimShape> shape, double depth,
                 std::vector<Land> lands) {
    return {.name = "well",
            .shape = std::move(shape),
            .depth = depth,
            .root_radius = 0,
            .lands = std::move(lands)};
}

Support pad_at(Point at, bool hold_down, double size) {
    return {.name = "pad",
            .kind = Pad{.at = at, .size_x = size, .size_y = size, .hold_down = hold_down, .stiffness = {}}};
}

Support knife_edge(Point from, Point to, bool hold_down) {
    return {.name = "edge",
            .kind = Bearer{.from = from, .to = to, .width = 0, .hold_down = hold_down, .stiffness = {}}};
}

Load area_load(double pressure, Duration duration) {
    return {.name = "area", .duration = duration, .kind = AreaLoad{.pressure = pressure, .over = {}}};
}

Load patch_load(double force, Point at, double size_x, double size_y) {
    return {.name = "patch",
            .duration = Duration::short_term,
            .kind = PatchLoad{.force = force, .at = at, .size_x = size_x, .size_y = size_y, .over = {}}};
}

Piece bare_top() {
    Piece piece;
    piece.title = "invented top";
    piece.top.length = 1000;
    piece.top.width = 600;
    piece.top.thickness = 30;
    piece.top.elastic = Elastic{
        .E1 = 11000, .E2 = 800, .nu12 = 0.37, .G12 = 750, .G13 = 700, .G23 = 90, .density_kg_m3 = 650};
    piece.top.outline = RectangleShape{.box = {0, 1000, 0, 600}, .corner_radius = 0};
    return piece;
}

Piece crooked_top() {
    Piece piece = bare_top();
    piece.top.grain_deg = 20;
    piece.recesses = {recess_of(RectangleShape{.box = {120, 640, 90, 470}, .corner_radius = 0}, 18,
                                {{.name = "land",
                                  .shape = RectangleShape{.box = {300, 390, 200, 310}, .corner_radius = 0}}}),
                      recess_of(RectangleShape{.box = {700, 930, 150, 520}, .corner_radius = 0}, 12)};
    piece.supports = {pad_at({60, 70}, true), pad_at({930, 60}), pad_at({70, 530}), pad_at({900, 550})};
    Load books = area_load(0.0006, Duration::long_term);
    books.name = "books";
    piece.loads = {books,
                   patch_load(400, {520, 210}, 110, 70),
                   {.name = "lean",
                    .duration = Duration::medium,
                    .kind = LineLoad{.force = 250, .from = {200, 560}, .to = {560, 580}, .over = {}}}};
    piece.probes = {{500, 300}, {200, 400}, {650, 120}, {345, 255}, {820, 330}};
    return piece;
}

Piece mirrored_in_x(const Piece& piece) {
    const double length = piece.top.length;
    Piece other = mapped(
        piece,
        [length](Point p) {
            return Point{length - p.x, p.y};
        },
        false);
    other.top.grain_deg = -piece.top.grain_deg;
    return other;
}

Piece mirrored_in_y(const Piece& piece) {
    const double width = piece.top.width;
    Piece other = mapped(
        piece,
        [width](Point p) {
            return Point{p.x, width - p.y};
        },
        false);
    other.top.grain_deg = -piece.top.grain_deg;
    return other;
}

Piece turned(const Piece& piece) {
    const double width = piece.top.width;
    Piece other = mapped(
        piece,
        [width](Point p) {
            return Point{width - p.y, p.x};
        },
        true);
    other.top.grain_deg = piece.top.grain_deg + 90;
    return other;
}

Piece scaled(const Piece& piece, double by) {
    Piece other = mapped(
        piece,
        [by](Point p) {
            return Point{by * p.x, by * p.y};
        },
        false);
    other.top.length *= by;
    other.top.width *= by;
    other.top.thickness *= by;
    const auto radius = [&](auto& shape) {
        if constexpr (requires { shape.corner_radius; }) shape.corner_radius *= by;
        if constexpr (requires { shape.rim; }) shape.rim *= by;
    };
    std::visit(radius, other.top.outline);
    for (Recess& recess : other.recesses) {
        recess.depth *= by;
        recess.root_radius *= by;
        std::visit(radius, recess.shape);
        for (Land& land : recess.lands) std::visit(radius, land.shape);
    }
    for (Support& support : other.supports) {
        if (auto* pad = std::get_if<Pad>(&support.kind)) {
            pad->size_x *= by;
            pad->size_y *= by;
            if (pad->stiffness) *pad->stiffness /= by;
        }
        if (auto* bearer = std::get_if<Bearer>(&support.kind)) bearer->width *= by;
    }
    for (Load& load : other.loads) {
        if (auto* patch = std::get_if<PatchLoad>(&load.kind)) {
            patch->force *= by * by;
            patch->size_x *= by;
            patch->size_y *= by;
        }
        if (auto* line = std::get_if<LineLoad>(&load.kind)) line->force *= by * by;
    }
    return other;
}

ModelOptions coarse_mesh(const Piece& piece, int order) {
    const double largest = std::max(piece.top.length, piece.top.width) / 6;
    return {.shell = {.size = {.largest = largest,
                               .at_walls = largest / 4,
                               .at_edges = largest / 2,
                               .growth = 0.8},
                      .order = order},
            .threads = 1};
}

Answer answer_of(const Piece& piece, const ModelOptions& options, int n_frequencies) {
    Answer answer;
    auto model = std::make_shared<Model>(make_model(piece, options));
    answer.solved = solve_situations(piece, *model);
    answer.response = gather_response(piece, model, answer.solved, readings_of(model->shell));
    if (n_frequencies > 0) answer.frequency_Hz = first_frequencies(*model, answer.solved, n_frequencies);
    answer.model = std::move(model);
    return answer;
}

MeshError error_between(const Piece& piece, const Answer& low, const Answer& high) {
    const Readings readings = readings_of(high.model->shell);
    OutputReader output_points;
    return mesh_error(*low.model, connect_situations(piece, *low.model), output_points,
                      {.model = *high.model,
                       .solved = high.solved,
                       .readings = readings,
                       .readout = read_out(high.model, high.solved, readings)});
}

std::vector<double> numbers_of(const ProbeReading& probe) {
    std::vector<double> numbers{probe.w_mm};
    for (const auto& list : {probe.stress_top_MPa, probe.stress_bottom_MPa, probe.moment_N})
        numbers.insert(numbers.end(), list.begin(), list.end());
    return numbers;
}

namespace {

/// A point inside the loop, `share` of the way from the middle to a corner of its box at most.
Point inside_point(Dice& dice, const Loop& loop, double share) {
    const Rectangle box = bounds_of(loop);
    const Point middle{(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    for (int k = 0; k < 1000; ++k) {
        const Point p{middle.x + share * dice.between(-1, 1) * (box.x1 - box.x0) / 2,
                      middle.y + share * dice.between(-1, 1) * (box.y1 - box.y0) / 2};
        if (is_inside(loop, p)) return p;
    }
    return middle;
}

bool box_is_inside(const Loop& loop, const Rectangle& box) {
    for (int k = 0; k <= 8; ++k) {
        const double s = k / 8.0, x = box.x0 + s * (box.x1 - box.x0), y = box.y0 + s * (box.y1 - box.y0);
        for (const Point& p : {Point{x, box.y0}, {x, box.y1}, {box.x0, y}, {box.x1, y}})
            if (!is_inside(loop, p)) return false;
    }
    return true;
}

} // namespace

Piece random_piece(std::uint32_t seed) {
    Dice dice(seed);
    Piece piece;
    piece.title = "random " + std::to_string(seed);
    Top& top = piece.top;
    top.length = std::round(dice.between(500, 2200));
    top.width = std::round(dice.between(300, std::min(1100.0, top.length)));
    top.thickness = dice.between(16, 50);
    static const char* const woods[] = {"oak_white",    "cherry_black",   "ash_white",
                                        "walnut_black", "beech_american", "pine_eastern_white"};
    top.wood = woods[dice.up_to(6)];
    top.grain_deg = dice.once_in(2) ? 0 : dice.once_in(2) ? 90 : dice.between(-60, 60);
    top.ring_angle_deg = dice.once_in(2) ? 45 * dice.up_to(3) : dice.between(0, 90);
    top.moisture_percent = dice.between(6, 14);
    const Rectangle box{0, top.length, 0, top.width};
    switch (dice.up_to(5)) {
    case 0:
        top.outline = EllipseShape{box};
        break;
    case 1:
        top.outline = RectangleShape{box, dice.between(5, 0.4 * top.width)};
        break;
    case 2: {
        PolygonShape shape;
        const double l = top.length, w = top.width, cut = dice.between(0.05, 0.25);
        shape.points = {{cut * l, 0},
                        {l, dice.between(0, cut) * w},
                        {l * dice.between(0.85, 1), w},
                        {dice.between(0, cut) * l, w},
                        {0, w * dice.between(0.3, 0.6)}};
        if (dice.once_in(2)) shape.corner_radius = dice.between(5, 40);
        top.outline = shape;
        break;
    }
    default:
        top.outline = RectangleShape{box, 0};
    }
    const Loop outline = std::visit([](const auto& shape) { return loop_of(shape); }, top.outline);

    double least_rim = std::max(35.0, 0.08 * top.width);
    if (std::holds_alternative<EllipseShape>(
            top.outline)) // a rim folds where it is wider than the tightest curve's radius
        least_rim = std::min(least_rim, 0.45 * top.width * top.width / (2 * top.length));
    switch (dice.up_to(4)) {
    case 0:
        break; // solid
    case 1:
        piece.recesses.push_back(recess_of(
            RimShape{.rim = dice.between(1, 2) * least_rim, .corner_radius = dice.once_in(2) ? 0 : 12.0},
            dice.between(0.2, 0.75) * top.thickness));
        break;
    default: {
        Rectangle well{dice.between(0.1, 0.3) * top.length, dice.between(0.55, 0.9) * top.length,
                       dice.between(0.12, 0.3) * top.width, dice.between(0.6, 0.88) * top.width};
        for (int k = 0; k < 20 && !box_is_inside(outline, well); ++k) {
            const double x = 0.05 * (well.x1 - well.x0), y = 0.05 * (well.y1 - well.y0);
            well = {well.x0 + x, well.x1 - x, well.y0 + y, well.y1 - y};
        }
        const double deep = dice.between(0.2, 0.75) * top.thickness;
        if (dice.once_in(3)) { // two that abut, one deeper: a slipping stop
            const double middle = well.x0 + dice.between(0.3, 0.7) * (well.x1 - well.x0);
            piece.recesses.push_back(recess_of(RectangleShape{{well.x0, middle, well.y0, well.y1}, 0}, deep));
            piece.recesses.push_back(recess_of(RectangleShape{{middle, well.x1, well.y0, well.y1}, 0},
                                               deep * dice.between(0.85, 0.98)));
        } else if (dice.once_in(3)) {
            const double x = well.x1 - well.x0, y = well.y1 - well.y0;
            piece.recesses.push_back(recess_of(PolygonShape{{{well.x0 + 0.2 * x, well.y0},
                                                             {well.x1, well.y0 + 0.1 * y},
                                                             {well.x1 - 0.1 * x, well.y1},
                                                             {well.x0, well.y1 - 0.2 * y}},
                                                            0},
                                               deep));
        } else {
            piece.recesses.push_back(
                recess_of(RectangleShape{well, dice.once_in(2) ? 0 : dice.between(4, 25)}, deep));
        }
        Recess& first = piece.recesses.front();
        if (piece.recesses.size() == 1 && dice.once_in(2)) {
            const double x = well.x1 - well.x0, y = well.y1 - well.y0;
            const Rectangle land{well.x0 + dice.between(0.3, 0.4) * x, well.x0 + dice.between(0.5, 0.6) * x,
                                 well.y0 + dice.between(0.3, 0.4) * y, well.y0 + dice.between(0.5, 0.6) * y};
            if (dice.once_in(3))
                first.lands.push_back(
                    {.name = "wedge",
                     .shape = PolygonShape{
                         {{land.x0, land.y0}, {land.x1, land.y0}, {(land.x0 + land.x1) / 2, land.y1}}, 0}});
            else
                first.lands.push_back(
                    {.name = "land", .shape = RectangleShape{land, dice.once_in(2) ? 0 : 4.0}});
        }
    }
    }

    const auto named = [&](Support support) {
        support.name = "support " + std::to_string(piece.supports.size() + 1);
        piece.supports.push_back(std::move(support));
    };
    const auto held_to = [&](double from_middle, double angle) { // towards the edge, in this direction
        const Point middle = {top.length / 2, top.width / 2};
        Point p = middle;
        for (double share = from_middle; share > 0.05; share -= 0.05) {
            p = {middle.x + share * std::cos(angle) * top.length / 2,
                 middle.y + share * std::sin(angle) * top.width / 2};
            double nearest = 1e9;
            for (const EdgePiece& edge : outline) nearest = std::min(nearest, nearest_on(edge, p).distance);
            if (is_inside(outline, p) && nearest > 45) return p;
        }
        return middle;
    };
    switch (dice.up_to(5)) {
    case 0:
    case 1: { // legs
        const int legs = 3 + dice.up_to(3);
        const bool hold = dice.once_in(2);
        for (int k = 0; k < legs; ++k) {
            const Point at = held_to(1.1, 2 * std::numbers::pi * (k + dice.between(-0.2, 0.2)) / legs + 0.6);
            named({.name = "",
                   .kind = Pad{.at = at,
                               .size_x = dice.between(30, 60),
                               .size_y = dice.between(30, 60),
                               .hold_down = hold,
                               .stiffness = dice.once_in(4) ? std::optional<double>(dice.between(5, 100))
                                                            : std::nullopt}});
        }
        break;
    }
    case 2: { // two bearers across
        const bool hold = dice.once_in(2);
        for (const double x : {dice.between(0.12, 0.3), dice.between(0.7, 0.88)}) {
            const double slant = dice.once_in(2) ? 0 : dice.between(-0.05, 0.05);
            named({.name = "",
                   .kind = Bearer{.from = {(x - slant) * top.length, 0.3 * top.width},
                                  .to = {(x + slant) * top.length, 0.7 * top.width},
                                  .width = dice.once_in(2) ? 0 : dice.between(15, 35),
                                  .hold_down = hold,
                                  .stiffness = {}}});
        }
        break;
    }
    case 3: { // held lines, one of them perhaps slanting
        const double x0 = dice.between(0.12, 0.3) * top.length, x1 = dice.between(0.7, 0.88) * top.length,
                     slant = dice.once_in(2) ? 0 : 40;
        named({.name = "",
               .kind = Held{.from = {x0, 0.3 * top.width},
                            .to = {x0 + slant, 0.7 * top.width},
                            .down = true,
                            .tilt = dice.once_in(3),
                            .twist = dice.once_in(3),
                            .along = dice.once_in(2),
                            .across = dice.once_in(2),
                            .level = static_cast<Level>(dice.up_to(3))}});
        named({.name = "",
               .kind = Held{.from = {x1, 0.3 * top.width},
                            .to = {x1, 0.7 * top.width},
                            .down = true,
                            .across = dice.once_in(2),
                            .level = static_cast<Level>(dice.up_to(3))}});
        break;
    }
    default: { // built in at one end, a leg at the other
        const double x0 = dice.between(0.15, 0.3) * top.length;
        named({.name = "", .kind = BuiltIn{.from = {x0, 0.3 * top.width}, .to = {x0, 0.7 * top.width}}});
        if (dice.once_in(2)) named(pad_at(held_to(0.9, 0), dice.once_in(2), 40));
    }
    }

    const int loads = 1 + dice.up_to(3);
    for (int k = 0; k < loads; ++k) {
        Load load;
        load.name = "load " + std::to_string(k + 1);
        load.duration = static_cast<Duration>(dice.up_to(5));
        switch (dice.up_to(4)) {
        case 0:
            load.kind = AreaLoad{.pressure = dice.between(1e-4, 2e-3), .over = {}};
            break;
        case 1:
            load.kind = AreaLoad{.pressure = dice.between(1e-4, 2e-3),
                                 .over = Rectangle{0.2 * top.length, dice.between(0.4, 0.9) * top.length,
                                                   0.1 * top.width, dice.between(0.4, 0.9) * top.width}};
            break;
        case 2:
            load.kind = PatchLoad{.force = dice.between(50, 900),
                                  .at = inside_point(dice, outline, 0.6),
                                  .size_x = dice.between(30, 200),
                                  .size_y = dice.between(30, 200),
                                  .over = {}};
            break;
        default: {
            const Point from = inside_point(dice, outline, 0.5);
            Point to = inside_point(dice, outline, 0.5);
            if (std::hypot(to.x - from.x, to.y - from.y) < 20) to = {from.x + 20, from.y};
            load.kind = LineLoad{.force = dice.between(50, 500), .from = from, .to = to, .over = {}};
        }
        }
        piece.loads.push_back(std::move(load));
    }
    piece.self_weight = !dice.once_in(4);
    for (int k = 0; k < 2; ++k) piece.probes.push_back(inside_point(dice, outline, 0.7));
    return piece;
}

std::string outline_of_random(const Piece& piece) {
    static const char* const outlines[] = {"rectangle", "ellipse", "polygon"};
    std::string text = piece.title + ": " + outlines[piece.top.outline.index()] + " " +
                       std::to_string(static_cast<int>(piece.top.length)) + " x " +
                       std::to_string(static_cast<int>(piece.top.width)) + " x " +
                       std::to_string(piece.top.thickness) + ", " + piece.top.wood;
    for (const Recess& recess : piece.recesses) {
        static const char* const shapes[] = {"box", "polygon", "rim"};
        text +=
            std::string(", ") + shapes[recess.shape.index()] + " " + std::to_string(recess.depth) + " deep";
        if (!recess.lands.empty()) text += " with a land";
    }
    static const char* const kinds[] = {"pad", "bearer", "rail", "held", "built in"};
    for (const Support& support : piece.supports) text += std::string(", ") + kinds[support.kind.index()];
    static const char* const loads[] = {"area", "patch", "line"};
    for (const Load& load : piece.loads) text += std::string(", ") + loads[load.kind.index()];
    return text;
}

} // namespace hollowtop
