// SPDX-License-Identifier: MIT
// What may not be where something else is: stiffeners, the bodies of supports, the lower pads of clamps.
#include "materials/section.hpp"
#include "solver/piece/fault_list.hpp"
#include "solver/piece/kept_region.hpp"
#include "solver/piece/sense.hpp"
#include "solver/piece/wording.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

/// A thing below the top: its shape in plan, and from where to where it reaches, mm below the top face.
struct Body {
    std::string name;
    Trace plan;
    double from = 0, to = 0;
};

Rectangle about(Point at, double size_x, double size_y) {
    return {at.x - size_x / 2, at.x + size_x / 2, at.y - size_y / 2, at.y + size_y / 2};
}

std::optional<materials::Section> section_of(const std::string& text) {
    try {
        return materials::parse_section(text);
    } catch (const Error&) { // said elsewhere
        return std::nullopt;
    }
}

bool has_length(Point from, Point to) { return std::hypot(to.x - from.x, to.y - from.y) > touching; }

std::optional<Body> body_of(const Stiffener& stiffener, const Piece& piece, const Plan& plan) {
    const auto section = section_of(stiffener.section);
    if (!section || !has_length(stiffener.from, stiffener.to)) return std::nullopt;
    const double width = std::max(section->width, section->contact_y1 - section->contact_y0);
    const double wood = thickness_at(
        piece, plan, {(stiffener.from.x + stiffener.to.x) / 2, (stiffener.from.y + stiffener.to.y) / 2});
    return Body{stiffener.name, band_along(stiffener.from, stiffener.to, width), wood,
                wood + section->height};
}

/// Of a support that is more than a line in a drawing. What is packed reaches up into the recess.
struct SupportBody {
    const Support& support;
    double thickness; ///< of the top

    Body standing(Trace plan, bool packed) const {
        return {support.name, std::move(plan), packed ? 0 : thickness, 1e300};
    }
    std::optional<Body> operator()(const Pad& pad) const {
        if (pad.size_x <= 0 || pad.size_y <= 0) return std::nullopt;
        return standing(trace_of(RectangleShape{about(pad.at, pad.size_x, pad.size_y), 0}), pad.packed);
    }
    std::optional<Body> operator()(const Bearer& bearer) const {
        if (!has_length(bearer.from, bearer.to) || (bearer.width <= 0 && !bearer.height))
            return std::nullopt; // a knife edge has no body
        constexpr double blade = 0.1;
        return standing(band_along(bearer.from, bearer.to, std::max(bearer.width, blade)), bearer.packed);
    }
    std::optional<Body> operator()(const Rail& rail) const {
        const auto section = section_of(rail.section);
        if (!section || !has_length(rail.from, rail.to)) return std::nullopt;
        return Body{support.name, band_along(rail.from, rail.to, section->width), thickness,
                    thickness + section->height};
    }
    std::optional<Body> operator()(const Held&) const { return std::nullopt; }
    std::optional<Body> operator()(const BuiltIn&) const { return std::nullopt; }
};

/// The middle of what two shapes have in common, or another place in both where it is not in both; they may
/// touch.
std::optional<Point> common_middle(const Trace& a, const Trace& b) {
    const std::optional<Point> place = common_place(a, b);
    if (!place) return std::nullopt;
    const Rectangle p = bounds_of(a), q = bounds_of(b);
    const Point middle{(std::max(p.x0, q.x0) + std::min(p.x1, q.x1)) / 2,
                       (std::max(p.y0, q.y0) + std::min(p.y1, q.y1)) / 2};
    return depth_inside(a, middle) > 0 && depth_inside(b, middle) > 0 ? middle : place;
}

/// Where two bodies are in one place.
std::optional<Point> meet(const Body& a, const Body& b) {
    if (std::min(a.to, b.to) - std::max(a.from, b.from) <= touching) return std::nullopt;
    return common_middle(a.plan, b.plan);
}

} // namespace

void look_at_collisions(const Piece& piece, const Plan& plan, FaultList& list) {
    const double t = piece.top.thickness;
    std::vector<std::optional<Body>> stiffeners, supports;
    for (const Stiffener& stiffener : piece.stiffeners) stiffeners.push_back(body_of(stiffener, piece, plan));
    for (const Support& support : piece.supports)
        supports.push_back(std::visit(SupportBody{support, t}, support.kind));
    for (std::size_t i = 0; i < stiffeners.size() && !list.is_full(); ++i) {
        if (!stiffeners[i]) continue;
        const std::string place = item("stiffeners", i);
        for (std::size_t k = 0; k < i; ++k) {
            if (!stiffeners[k]) continue;
            if (const auto at = meet(*stiffeners[i], *stiffeners[k]))
                list.add(place, said("runs through \"{}\" at {}", stiffeners[k]->name, place_text(*at)),
                         "move one of them, or end one at the other");
        }
        const double hangs = stiffeners[i]->to - t;
        for (const std::optional<Body>& support : supports) {
            if (!support) continue;
            const auto at = meet(*stiffeners[i], *support);
            if (!at) continue;
            if (hangs > touching)
                list.add(
                    place,
                    said("hangs {} below the rim and runs through \"{}\" at {}", in_mm(hangs), support->name,
                         place_text(*at)),
                    "end it before that support, or take a section that stays above the rim's underside");
            else
                list.add(place,
                         said("runs through the packing of \"{}\" at {}", support->name, place_text(*at)),
                         "end it there, or leave the packing out");
        }
    }
    for (std::size_t i = 0; i < piece.loads.size() && !list.is_full(); ++i) {
        const auto* clamp = std::get_if<ClampLoad>(&piece.loads[i].kind);
        if (!clamp || clamp->below_x <= 0 || clamp->below_y <= 0) continue;
        const double wood = thickness_at(piece, plan, clamp->at);
        const Body pad{piece.loads[i].name,
                       trace_of(RectangleShape{about(clamp->at, clamp->below_x, clamp->below_y), 0}), wood,
                       wood + 1};
        const std::string place = item("loads", i) + ".below";
        for (const auto* bodies : {&stiffeners, &supports})
            for (const std::optional<Body>& body : *bodies) {
                if (!body) continue;
                if (const auto at = common_middle(pad.plan, body->plan))
                    list.add(place, said("is where \"{}\" is, at {}", body->name, place_text(*at)),
                             "move the clamp");
            }
        for (std::size_t r = 0; r < plan.recesses.size(); ++r)
            if (plan.recesses[r] && common_place(pad.plan, *plan.recesses[r]) &&
                reaches_out(pad.plan, *plan.recesses[r]))
                list.add(place, "lies half under the recess \"" + piece.recesses[r].name + "\"",
                         "move the clamp, or make the pad smaller");
    }
}

std::vector<Hanging> hanging_stiffeners(const Piece& piece) {
    FaultList unused;
    Plan plan;
    look_at_top(piece, plan, unused);
    look_at_recesses(piece, plan, unused);
    if (unused.is_full()) return {};
    std::vector<Hanging> hanging;
    for (const Stiffener& stiffener : piece.stiffeners) {
        const std::optional<Body> body = body_of(stiffener, piece, plan);
        if (!body || body->to <= piece.top.thickness + touching) continue;
        hanging.push_back({.name = stiffener.name,
                           .by = body->to - piece.top.thickness,
                           .in_recess = body->from < piece.top.thickness - touching});
    }
    return hanging;
}

} // namespace hollowtop
