// SPDX-License-Identifier: MIT
#include "cli/report/drawing/plan_marks.hpp"

#include "cli/report/drawing/colours.hpp"
#include "materials/section.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

const Look support_look{.stroke = ink::soft, .width = 1, .dash = "4 2.5"};

} // namespace

std::vector<Point> along_strip(Point from, Point to, double left, double right) {
    const double length = std::hypot(to.x - from.x, to.y - from.y);
    const Point t{(to.x - from.x) / length, (to.y - from.y) / length}, n{-t.y, t.x};
    const auto at = [&](Point p, double side) { return Point{p.x + side * n.x, p.y + side * n.y}; };
    return {at(from, right), at(to, right), at(to, left), at(from, left)};
}

std::vector<Point> seen(const std::vector<Point>& points, const View& view) {
    std::vector<Point> out;
    out.reserve(points.size());
    for (const Point& p : points) out.push_back(view(p));
    return out;
}

Point middle_of(const Support& support) {
    return std::visit(
        [](const auto& kind) {
            if constexpr (requires { kind.at; })
                return kind.at;
            else
                return Point{(kind.from.x + kind.to.x) / 2, (kind.from.y + kind.to.y) / 2};
        },
        support.kind);
}

void draw_stiffener(Svg& svg, const Stiffener& stiffener, const View& view) {
    const materials::Section section = materials::parse_section(stiffener.section);
    const double middle = (section.contact_y0 + section.contact_y1) / 2;
    svg.polygon(seen(along_strip(stiffener.from, stiffener.to, section.contact_y1 - middle,
                                 section.contact_y0 - middle),
                     view),
                {.fill = "#dfe6ea", .stroke = ink::steel, .width = 1});
    if (section.kind == materials::SectionKind::angle)
        svg.polygon(
            seen(along_strip(stiffener.from, stiffener.to, section.thickness - middle, -middle), view),
            {.fill = ink::steel});
    for (const ScrewPlace& screw : drilled_places(stiffener))
        svg.circle(view(screw.at), 1.6, {.fill = ink::text});
}

std::vector<Point> corners_of(const Support& support) {
    if (const auto* pad = std::get_if<Pad>(&support.kind)) {
        const double x = pad->size_x / 2, y = pad->size_y / 2;
        return {{pad->at.x - x, pad->at.y - y},
                {pad->at.x + x, pad->at.y - y},
                {pad->at.x + x, pad->at.y + y},
                {pad->at.x - x, pad->at.y + y}};
    }
    if (const auto* bearer = std::get_if<Bearer>(&support.kind))
        return along_strip(bearer->from, bearer->to, bearer->width / 2, -bearer->width / 2);
    if (const auto* rail = std::get_if<Rail>(&support.kind)) {
        const double half = materials::parse_section(rail->section).width / 2;
        return along_strip(rail->from, rail->to, half, -half);
    }
    if (const auto* held = std::get_if<Held>(&support.kind)) return {held->from, held->to};
    const auto& built_in = std::get<BuiltIn>(support.kind);
    return {built_in.from, built_in.to};
}

void draw_support(Svg& svg, const Support& support, const View& view) {
    const std::vector<Point> corners = seen(corners_of(support), view);
    if (std::holds_alternative<Held>(support.kind))
        svg.line(corners[0], corners[1], {.stroke = ink::soft, .width = 2, .dash = "2 2"});
    else if (std::holds_alternative<BuiltIn>(support.kind))
        svg.line(corners[0], corners[1], {.stroke = ink::soft, .width = 3});
    else if (const auto* bearer = std::get_if<Bearer>(&support.kind);
             bearer != nullptr && !(bearer->width > 0))
        svg.line(view(bearer->from), view(bearer->to), support_look);
    else
        svg.polygon(corners, support_look);
}

void draw_loads(Svg& svg, const Piece& piece, const View& view) {
    for (const Load& load : piece.loads) {
        if (const auto* patch = std::get_if<PatchLoad>(&load.kind)) {
            if (patch->travels) continue;
            const Box box = view.box({patch->at.x - patch->size_x / 2, patch->at.x + patch->size_x / 2,
                                      patch->at.y - patch->size_y / 2, patch->at.y + patch->size_y / 2});
            const double w = std::max(box.x1 - box.x0, 5.0), h = std::max(box.y1 - box.y0, 5.0);
            svg.rectangle({(box.x0 + box.x1 - w) / 2, (box.y0 + box.y1 - h) / 2}, w, h,
                          {.fill = svg.hatch(4, 45, ink::accent, 0.8), .stroke = ink::accent, .width = 1});
        } else if (const auto* line = std::get_if<LineLoad>(&load.kind); line != nullptr && !line->travels) {
            svg.line(view(line->from), view(line->to), {.stroke = ink::accent, .width = 3});
        } else if (const auto* area = std::get_if<AreaLoad>(&load.kind); area != nullptr && area->over) {
            const Box box = view.box(*area->over);
            svg.rectangle({box.x0, box.y0}, box.x1 - box.x0, box.y1 - box.y0,
                          {.stroke = ink::accent, .width = 0.9, .dash = "1 3"});
        }
    }
}

std::string load_letter(std::size_t index) { return "P" + std::to_string(index + 1); }

std::optional<Point> place_of_load(const Load& load) {
    if (const auto* patch = std::get_if<PatchLoad>(&load.kind))
        return patch->travels ? std::nullopt : std::optional(patch->at);
    if (const auto* line = std::get_if<LineLoad>(&load.kind))
        return line->travels
                   ? std::nullopt
                   : std::optional(Point{(line->from.x + line->to.x) / 2, (line->from.y + line->to.y) / 2});
    return std::nullopt;
}

} // namespace hollowtop::cli
