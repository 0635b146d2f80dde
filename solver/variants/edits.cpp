// SPDX-License-Identifier: MIT
#include "solver/variants/edits.hpp"

#include "materials/error.hpp"
#include "solver/piece/skin.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

namespace hollowtop {
namespace {

[[noreturn]] void refuse(std::string place, Message what, Message remedy) {
    throw Error(ErrorKind::input,
                {.place = std::move(place), .what = std::move(what), .remedy = std::move(remedy)});
}

/// The one that is called so, or all of them.
template <class Part> void each(std::vector<Part>& parts, const std::string& name, const char* list,
                                const std::function<void(Part&)>& change) {
    if (parts.empty())
        refuse(list, "there are none to be changed", std::string("draw them in \"") + list + "\"");
    bool found = false;
    for (Part& part : parts) {
        if (!name.empty() && part.name != name) continue;
        change(part);
        found = true;
    }
    if (!found)
        refuse(list, "none is called \"" + name + "\"", "give one of their names, or none for all of them");
}
void each_recess(Piece& piece, const std::string& name, const std::function<void(Recess&)>& change) {
    each(piece.recesses, name, "recesses", change);
}
void each_bar(Piece& piece, const std::string& name, const std::function<void(Stiffener&)>& change) {
    each(piece.stiffeners, name, "stiffeners", change);
}

[[noreturn]] void refuse_polygon(const Recess& recess) {
    refuse("recesses", "\"" + recess.name + "\" is a polygon, whose rim is not one width",
           R"(draw it with "x" and "y", or with "rim")");
}

bool runs_along_x(const Stiffener& bar) { return std::abs(bar.to.y - bar.from.y) < 1e-6; }
bool runs_along_y(const Stiffener& bar) { return std::abs(bar.to.x - bar.from.x) < 1e-6; }

/// Does it run along x? Refuses a slanting one.
bool along_x(const Stiffener& bar) {
    if (!runs_along_x(bar) && !runs_along_y(bar))
        refuse("stiffeners", "\"" + bar.name + "\" slants",
               "only stiffeners along the length or the width can be moved so");
    return runs_along_x(bar);
}

void move_across(Stiffener& bar, bool is_along_x, double to) {
    (is_along_x ? bar.from.y : bar.from.x) = to;
    (is_along_x ? bar.to.y : bar.to.x) = to;
}

Rectangle bounds_of(const Recess& recess, const Top& top) {
    if (const auto* rectangle = std::get_if<RectangleShape>(&recess.shape)) return rectangle->box;
    if (const auto* rim = std::get_if<RimShape>(&recess.shape))
        return {rim->rim, top.length - rim->rim, rim->rim, top.width - rim->rim};
    constexpr double far = std::numeric_limits<double>::max();
    Rectangle box{far, -far, far, -far};
    for (const Point& p : std::get<PolygonShape>(recess.shape).points)
        box = {std::min(box.x0, p.x), std::max(box.x1, p.x), std::min(box.y0, p.y), std::max(box.y1, p.y)};
    return box;
}

/// What a bar lies under: its recess, or the top.
Rectangle bay_of(const Stiffener& bar, const Piece& piece) {
    const Point middle{(bar.from.x + bar.to.x) / 2, (bar.from.y + bar.to.y) / 2};
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
    if (piece.stiffeners.empty())
        refuse("stiffeners", "there is none to be copied", R"(draw one in "stiffeners")");
    const Stiffener like = piece.stiffeners.front();
    const bool is_along_x = along_x(like);
    const Rectangle bay = bay_of(like, piece);
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
            refuse("stiffeners", "they do not all run the same way", "name the one to be moved");
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
    each_bar(piece, name, [&](Stiffener& bar) { bar.screws.holes = holes; });
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
    if (!found) refuse("supports", "there is no pad, bearer or rail to be moved", "");
}

} // namespace hollowtop
