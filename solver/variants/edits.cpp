// SPDX-License-Identifier: MIT
#include "solver/variants/edits.hpp"

#include "materials/error.hpp"
#include "solver/piece/skin.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

namespace hollowtop {

std::optional<Rectangle> straight_box_of(const Recess& recess, const Top& top) {
    if (const auto* rectangle = std::get_if<RectangleShape>(&recess.shape)) return rectangle->box;
    if (const auto* rim = std::get_if<RimShape>(&recess.shape))
        return Rectangle{rim->rim, top.length - rim->rim, rim->rim, top.width - rim->rim};
    return std::nullopt;
}

namespace {

[[noreturn]] void refuse_edit(std::string place, Message what, Message remedy) {
    throw Error(ErrorKind::input,
                {.place = std::move(place), .what = std::move(what), .remedy = std::move(remedy)});
}

/// The one that is called so, or all of them.
template <class Part> void each(std::vector<Part>& parts, const std::string& name, const char* list,
                                const std::function<void(Part&)>& change) {
    if (parts.empty())
        refuse_edit(list, "there are none to be changed", std::string("draw them in \"") + list + "\"");
    bool found = false;
    for (Part& part : parts) {
        if (!name.empty() && part.name != name) continue;
        change(part);
        found = true;
    }
    if (!found)
        refuse_edit(list, "none is called \"" + name + "\"",
                    "give one of their names, or none for all of them");
}
void each_recess(Piece& piece, const std::string& name, const std::function<void(Recess&)>& change) {
    each(piece.recesses, name, "recesses", change);
}
void each_bar(Piece& piece, const std::string& name, const std::function<void(Stiffener&)>& change) {
    each(piece.stiffeners, name, "stiffeners", change);
}

[[noreturn]] void refuse_polygon(const Recess& recess) {
    refuse_edit("recesses", "\"" + recess.name + "\" is a polygon, whose rim is not one width",
                R"(draw it with "x" and "y", or with "rim")");
}

bool runs_along_x(const Stiffener& bar) { return std::abs(bar.to.y - bar.from.y) < 1e-6; }
bool runs_along_y(const Stiffener& bar) { return std::abs(bar.to.x - bar.from.x) < 1e-6; }

/// Does it run along x? Refuses a slanting one.
bool along_x(const Stiffener& bar) {
    if (!runs_along_x(bar) && !runs_along_y(bar))
        refuse_edit("stiffeners", "\"" + bar.name + "\" slants",
                    "only stiffeners along the length or the width can be moved so");
    return runs_along_x(bar);
}

void move_across(Stiffener& bar, bool is_along_x, double to) {
    (is_along_x ? bar.from.y : bar.from.x) = to;
    (is_along_x ? bar.to.y : bar.to.x) = to;
}

Rectangle bounds_of(const Recess& recess, const Top& top) {
    if (const auto box = straight_box_of(recess, top)) return *box;
    constexpr double far = std::numeric_limits<double>::max();
    Rectangle box{far, -far, far, -far};
    for (const Point& p : std::get<PolygonShape>(recess.shape).points)
        box = {std::min(box.x0, p.x), std::max(box.x1, p.x), std::min(box.y0, p.y), std::max(box.y1, p.y)};
    return box;
}

/// What a bar with its middle there lies under: its recess, or the top.
Rectangle bay_of(Point middle, const Piece& piece) {
    for (const Recess& recess : piece.recesses) {
        const Rectangle box = bounds_of(recess, piece.top);
        if (middle.x > box.x0 && middle.x < box.x1 && middle.y > box.y0 && middle.y < box.y1) return box;
    }
    return {0, piece.top.length, 0, piece.top.width};
}

double moved_in(double at, double extent, double from_the_edge) {
    if (at < extent / 3) return from_the_edge;
    if (at > extent * 2 / 3) return extent - from_the_edge;
    return at;
}

} // namespace

void set_depth(Piece& piece, const std::string& name, double depth) {
    each_recess(piece, name, [&](Recess& recess) { recess.depth = depth; });
}

void set_skin(Piece& piece, const std::string& name, double skin) {
    set_depth(piece, name, depth_for_skin(skin, piece.top));
}

void set_rim(Piece& piece, const std::string& name, double rim) {
    each_recess(piece, name, [&](Recess& recess) {
        if (auto* by_rim = std::get_if<RimShape>(&recess.shape))
            by_rim->rim = rim;
        else if (auto* rectangle = std::get_if<RectangleShape>(&recess.shape))
            rectangle->box = {rim, piece.top.length - rim, rim, piece.top.width - rim};
        else
            refuse_polygon(recess);
    });
}

void widen(Piece& piece, const std::string& name, double by) {
    each_recess(piece, name, [&](Recess& recess) {
        if (auto* by_rim = std::get_if<RimShape>(&recess.shape)) {
            by_rim->rim -= by;
        } else if (auto* rectangle = std::get_if<RectangleShape>(&recess.shape)) {
            const Rectangle box = rectangle->box;
            rectangle->box = {box.x0 - by, box.x1 + by, box.y0 - by, box.y1 + by};
        } else {
            refuse_polygon(recess);
        }
    });
}

void set_number(Piece& piece, int number) {
    if (number == 0) {
        piece.stiffeners.clear();
        return;
    }
    const auto first = piece.stiffeners.empty() ? first_stiffener(piece) : piece.stiffeners.front();
    if (!first)
        refuse_edit(
            "stiffeners",
            "none is drawn to be copied, and none is put of itself where no screw has 4 diameters of wood "
            "or a polygon is hollowed",
            R"(draw one in "stiffeners")");
    const Stiffener& like = *first;
    const bool is_along_x = along_x(like);
    const Rectangle bay = bay_of({(like.from.x + like.to.x) / 2, (like.from.y + like.to.y) / 2}, piece);
    const double low = is_along_x ? bay.y0 : bay.x0, high = is_along_x ? bay.y1 : bay.x1;
    const bool first_is_low = (is_along_x ? like.from.y : like.from.x) <= (low + high) / 2;
    piece.stiffeners.clear();
    for (int i = 0; i < number; ++i) {
        Stiffener bar = like;
        bar.name = "stiffener " + std::to_string(i + 1);
        const double share = static_cast<double>(i + 1) / (number + 1);
        move_across(bar, is_along_x, low + share * (high - low));
        if (share != 0.5 && (share < 0.5) != first_is_low) std::swap(bar.from, bar.to);
        piece.stiffeners.push_back(std::move(bar));
    }
}

void put_bar(Stiffener& bar, const Piece& piece, Way way, double at,
             const std::optional<std::pair<double, double>>& ends) {
    constexpr double clear = 25; // mm, to walls and edges
    const bool is_along_x = way == Way::x;
    const Point middle = is_along_x ? Point{piece.top.length / 2, at} : Point{at, piece.top.width / 2};
    const Rectangle bay = bay_of(middle, piece);
    const double from = ends ? ends->first : (is_along_x ? bay.x0 : bay.y0) + clear;
    const double to = ends ? ends->second : (is_along_x ? bay.x1 : bay.y1) - clear;
    bar.from = is_along_x ? Point{from, at} : Point{at, from};
    bar.to = is_along_x ? Point{to, at} : Point{at, to};
}

void set_place(Piece& piece, const std::string& name, double place) {
    if (!name.empty() || piece.stiffeners.size() == 1) {
        each_bar(piece, name, [&](Stiffener& bar) { move_across(bar, along_x(bar), place); });
        return;
    }
    if (piece.stiffeners.empty()) return; // none is anywhere
    const bool is_along_x = along_x(piece.stiffeners.front());
    const auto where = [&](const Stiffener& bar) { return is_along_x ? bar.from.y : bar.from.x; };
    std::vector<Stiffener*> bars;
    for (Stiffener& bar : piece.stiffeners) {
        if (along_x(bar) != is_along_x)
            refuse_edit("stiffeners", "they do not all run the same way", "name the one to be moved");
        bars.push_back(&bar);
    }
    std::stable_sort(bars.begin(), bars.end(),
                     [&](const Stiffener* a, const Stiffener* b) { return where(*a) < where(*b); });
    const double extent = is_along_x ? piece.top.width : piece.top.length;
    for (std::size_t i = 0; i < bars.size(); ++i)
        move_across(*bars[i], is_along_x,
                    place +
                        static_cast<double>(i) / static_cast<double>(bars.size() - 1) * (extent - 2 * place));
}

void set_section(Piece& piece, const std::string& name, const std::string& section) {
    each_bar(piece, name, [&](Stiffener& bar) { bar.section = section; });
}

void set_metal(Piece& piece, const std::string& name, const std::string& metal) {
    each_bar(piece, name, [&](Stiffener& bar) {
        bar.metal = metal;
        bar.wood.clear();
        bar.elastic.reset();
    });
}

void set_spacing(Piece& piece, const std::string& name, double spacing) {
    each_bar(piece, name, [&](Stiffener& bar) {
        bar.screws.spacing = spacing;
        bar.screws.at.clear();
    });
}

void set_holes(Piece& piece, const std::string& name, Holes holes) {
    each_bar(piece, name, [&](Stiffener& bar) {
        bar.screws.holes = holes;
        if (holes != Holes::slotted) bar.screws.slot_length.reset();
    });
}

void set_screw(Piece& piece, const std::string& name, double diameter, double length) {
    each_bar(piece, name, [&](Stiffener& bar) {
        bar.screws.diameter = diameter;
        bar.screws.length = length;
    });
}

void set_supports(Piece& piece, Way way, double from_the_edge) {
    const auto move = [&](Point& p) {
        if (way != Way::y) p.x = moved_in(p.x, piece.top.length, from_the_edge);
        if (way != Way::x) p.y = moved_in(p.y, piece.top.width, from_the_edge);
    };
    bool found = false;
    for (Support& support : piece.supports) {
        if (auto* pad = std::get_if<Pad>(&support.kind)) {
            move(pad->at);
        } else if (auto* bearer = std::get_if<Bearer>(&support.kind)) {
            move(bearer->from);
            move(bearer->to);
        } else if (auto* rail = std::get_if<Rail>(&support.kind)) {
            move(rail->from);
            move(rail->to);
        } else {
            continue;
        }
        found = true;
    }
    if (!found) refuse_edit("supports", "there is no pad, bearer or rail to be moved", "");
}

void set_length(Piece& piece, double length) {
    const double middle = piece.top.length / 2, by = length - piece.top.length;
    const auto move = [&](double& x) { x += x > middle + 1e-9 ? by : x > middle - 1e-9 ? by / 2 : 0; };
    const auto move_box = [&](Rectangle& box) { move(box.x0), move(box.x1); };
    const auto move_points = [&](std::vector<Point>& points) {
        for (Point& p : points) move(p.x);
    };
    if (auto* ellipse = std::get_if<EllipseShape>(&piece.top.outline)) move_box(ellipse->box);
    if (auto* rectangle = std::get_if<RectangleShape>(&piece.top.outline)) move_box(rectangle->box);
    if (auto* polygon = std::get_if<PolygonShape>(&piece.top.outline)) move_points(polygon->points);
    const auto move_shape = [&](auto& shape) {
        if (auto* rectangle = std::get_if<RectangleShape>(&shape)) move_box(rectangle->box);
        if (auto* polygon = std::get_if<PolygonShape>(&shape)) move_points(polygon->points);
    };
    for (Recess& recess : piece.recesses) {
        move_shape(recess.shape);
        for (Land& land : recess.lands) move_shape(land.shape);
        for (Kept& kept : recess.holds)
            if (kept.at) move(kept.at->x);
    }
    for (Stiffener& bar : piece.stiffeners) move(bar.from.x), move(bar.to.x);
    for (Support& support : piece.supports)
        std::visit(
            [&](auto& kind) {
                if constexpr (requires { kind.at; })
                    move(kind.at.x);
                else
                    move(kind.from.x), move(kind.to.x);
            },
            support.kind);
    for (Load& load : piece.loads) {
        if (auto* area = std::get_if<AreaLoad>(&load.kind)) {
            if (area->over) move_box(*area->over);
        } else if (auto* patch = std::get_if<PatchLoad>(&load.kind)) {
            move(patch->at.x);
            if (patch->over) move_box(*patch->over);
        } else if (auto* line = std::get_if<LineLoad>(&load.kind)) {
            move(line->from.x), move(line->to.x);
            if (line->over) move_box(*line->over);
        } else if (auto* clamp = std::get_if<ClampLoad>(&load.kind)) {
            const double before = clamp->at.x;
            move(clamp->at.x);
            clamp->hangs_at.x += clamp->at.x - before;
        }
    }
    for (Point& probe : piece.probes) move(probe.x);
    piece.top.length = length;
}

void set_lands(Piece& piece, const std::string& name, int number) {
    constexpr double width = 40; // mm
    each_recess(piece, name, [&](Recess& recess) {
        if (std::holds_alternative<PolygonShape>(recess.shape)) refuse_polygon(recess);
        const Rectangle box = bounds_of(recess, piece.top);
        const bool across_x = box.x1 - box.x0 >= box.y1 - box.y0;
        const double low = across_x ? box.x0 : box.y0, high = across_x ? box.x1 : box.y1;
        recess.lands.clear();
        for (int i = 1; i <= number; ++i) {
            const double middle = low + (high - low) * i / (number + 1);
            const Rectangle rib = across_x
                                      ? Rectangle{middle - width / 2, middle + width / 2, box.y0, box.y1}
                                      : Rectangle{box.x0, box.x1, middle - width / 2, middle + width / 2};
            recess.lands.push_back({"rib " + std::to_string(i), RectangleShape{.box = rib}});
        }
    });
}

void set_hold_down(Piece& piece, bool holds) {
    bool found = false;
    for (Support& support : piece.supports) {
        const auto set = [&](auto& kind) {
            if constexpr (requires { kind.hold_down; }) {
                kind.hold_down = holds;
                found = true;
            }
        };
        std::visit(set, support.kind);
    }
    if (!found) refuse_edit("supports", "there is no pad, bearer or rail to hold the top down", "");
}

} // namespace hollowtop
