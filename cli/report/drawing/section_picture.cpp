// SPDX-License-Identifier: MIT
#include "cli/report/drawing/colours.hpp"
#include "cli/report/drawing/dimensions.hpp"
#include "cli/report/drawing/kept_picture.hpp"
#include "cli/report/drawing/plan_picture.hpp"
#include "cli/words/format.hpp"
#include "materials/section.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

/// The section's corners in its own axes, y to the left seen along it and z up, the wood at z = 0.
std::vector<std::vector<Point>> shapes_of(const materials::Section& s) {
    const auto box = [](double y0, double y1, double z0, double z1) {
        return std::vector<Point>{{y0, z0}, {y1, z0}, {y1, z1}, {y0, z1}};
    };
    const double h = s.height, t = s.thickness, y0 = s.contact_y0, y1 = s.contact_y1, middle = (y0 + y1) / 2;
    switch (s.kind) {
    case materials::SectionKind::angle:
        return {{{0, 0}, {y1, 0}, {y1, -t}, {t, -t}, {t, -h}, {0, -h}}};
    case materials::SectionKind::channel:
        return {{{0, 0},
                 {s.width, 0},
                 {s.width, -t},
                 {t, -t},
                 {t, -h + t},
                 {s.width, -h + t},
                 {s.width, -h},
                 {0, -h}}};
    case materials::SectionKind::tee:
        return {box(y0, y1, -t, 0), box(middle - t / 2, middle + t / 2, -h, -t)};
    case materials::SectionKind::tube:
        return {box(y0, y1, -t, 0), box(y0, y1, -h, -h + t), box(y0, y0 + t, -h + t, -t),
                box(y1 - t, y1, -h + t, -t)};
    case materials::SectionKind::flat:
    case materials::SectionKind::bar:
        break;
    }
    return {box(y0, y1, -h, 0)};
}

/// Where a stiffener crosses the line of the section at a right angle, or nearly so; empty where it does not.
struct Crossing {
    double at = 0;
    bool left_is_right = false; ///< the left of the stiffener lies to the right in the picture
};
std::optional<Crossing> crossing_of(const Stiffener& stiffener, bool along_x, double place) {
    const auto part = [&](Point p) { return along_x ? std::pair{p.y, p.x} : std::pair{p.x, p.y}; };
    const auto [a, a_along] = part(stiffener.from);
    const auto [b, b_along] = part(stiffener.to);
    if ((a - place) * (b - place) > 0 || std::abs(b - a) < 3 * std::abs(b_along - a_along))
        return std::nullopt;
    const double share = (place - a) / (b - a);
    const bool forward = b > a;
    // Across the length the picture has y to the right, and the left of +x is +y; along it x to the right,
    // the left of +y is -x.
    return Crossing{.at = a_along + share * (b_along - a_along),
                    .left_is_right = along_x ? !forward : forward};
}

} // namespace

bool runs_along_grain(const Piece& piece, bool along_x) {
    return std::abs(std::remainder(piece.top.grain_deg - (along_x ? 0 : 90), 180)) < 45;
}

Svg section_picture(const std::string& id, const Piece& piece, const Plan& plan, double width, Units units,
                    bool along_x) {
    const bool narrow = width < 500;
    const double size = narrow ? 11 : 13;
    const Rectangle bounds = bounds_of_plan(plan);
    const SectionLines lines = section_lines(plan);
    const double low = along_x ? bounds.x0 : bounds.y0, high = along_x ? bounds.x1 : bounds.y1;
    const double side = narrow ? 34 : 46;
    const double scale = std::min((width - 2 * side) / (high - low), narrow ? 1.0 : 1.2);
    const double spare = width - 2 * side - scale * (high - low);
    double deepest = std::max(plan.thickness, kept_reach(piece));
    for (const Stiffener& s : piece.stiffeners)
        if (const auto c = crossing_of(s, along_x, along_x ? lines.y : lines.x)) {
            const Point at = along_x ? Point{c->at, lines.y} : Point{lines.x, c->at};
            deepest = std::max(deepest, thickness_at(plan, at) + materials::parse_section(s.section).height);
        }
    const double above = size + 14, below = 2 * size + 17;
    const double height = above + scale * deepest + below;
    const auto stretches = section_along(plan, along_x, along_x ? lines.y : lines.x);
    const auto at = [&](double along, double depth) {
        return Point{side + spare / 2 + scale * (along - low), above + scale * depth};
    };
    std::string description =
        std::string("Section ") + (along_x ? "along the length" : "across the length") + ", to scale: ";
    for (std::size_t i = 0; i < stretches.size(); ++i)
        description += (i > 0 ? ", " : "") + dimension_text(stretches[i].thickness, units) + " thick from " +
                       dimension_text(stretches[i].from, units) + " to " +
                       dimension_text(stretches[i].to, units);
    Svg svg(id, width, height, along_x ? "Section 1, along the length" : "Section 2, across the length",
            description + ".");
    Placer placer(width, height);

    const std::string grain = runs_along_grain(piece, along_x) ? svg.hatch(5, 0, "#c9ab78", 0.7, ink::wood)
                                                               : svg.hatch(4, 60, "#c9ab78", 0.7, ink::wood);
    const std::string steel =
        svg.hatch(2.4, 45, ink::text, 0.7, "#c5d1d9"); // close lines: metal, as drawings have it
    std::vector<Point> run;
    const auto finish = [&](double end) {
        run.push_back(at(end, 0));
        svg.polygon(run, {.fill = grain, .stroke = ink::text, .width = 1});
        run.clear();
    };
    for (std::size_t i = 0; i < stretches.size(); ++i) {
        const Stretch& s = stretches[i];
        if (run.empty()) run.push_back(at(s.from, 0));
        run.push_back(at(s.from, s.thickness));
        run.push_back(at(s.to, s.thickness));
        if (i + 1 == stretches.size() || stretches[i + 1].from > s.to + 1e-3) finish(s.to);
    }
    for (const Stiffener& stiffener : piece.stiffeners) {
        const auto c = crossing_of(stiffener, along_x, along_x ? lines.y : lines.x);
        if (!c) continue;
        const materials::Section section = materials::parse_section(stiffener.section);
        const double middle = (section.contact_y0 + section.contact_y1) / 2;
        const double under = thickness_at(plan, along_x ? Point{c->at, lines.y} : Point{lines.x, c->at});
        for (const auto& shape : shapes_of(section)) {
            std::vector<Point> points;
            for (const Point& p : shape)
                points.push_back(at(c->at + (c->left_is_right ? 1 : -1) * (p.x - middle), under - p.y));
            svg.polygon(points, {.fill = steel, .stroke = ink::text, .width = 0.8});
        }
    }
    draw_kept_section(svg, piece, plan, along_x, along_x ? lines.y : lines.x, at);
    const Lettering soft{.size = size, .fill = ink::soft, .anchor = Anchor::middle};
    const double left = at(stretches.empty() ? low : stretches.front().from, 0).x,
                 right = at(stretches.empty() ? high : stretches.back().to, 0).x,
                 base = above + scale * deepest + size + 10;
    // under the ends where both have room there, else outside them
    const bool wide = right - left > 120;
    const Lettering small{.size = size, .fill = ink::soft};
    for (const bool first : {true, false}) {
        const std::string end = along_x ? (first ? "left end" : "right end") : (first ? "front" : "back");
        Lettering lettering = small;
        lettering.anchor = first == wide ? Anchor::start : Anchor::end;
        const Point place{(first ? left : right) + (wide    ? 0
                                                    : first ? -5
                                                            : 5),
                          wide ? base + size + 3 : above + size}; // clear of the figures
        svg.text(place, end, lettering);
        placer.take(box_of_words(place, end, lettering));
    }
    const Point face{(left + right) / 2, above - 6};
    svg.text(face, "show face", soft);
    placer.take(box_of_words(face, "show face", soft));
    // the thickness of each stretch, below it; equal ones once where they have no room
    for (const Stretch& s : stretches) {
        const std::string figure = drawn_length(s.thickness, units);
        const double middle = (at(s.from, 0).x + at(s.to, 0).x) / 2;
        const Lettering lettering{
            .size = size, .anchor = Anchor::middle, .bold = s.thickness < plan.thickness, .halo = ink::paper};
        std::vector<Point> places;
        for (const double shift : {0.0, 16.0, -16.0, 32.0, -32.0})
            places.push_back({middle + shift, base - 2});
        if (const auto place = placer.place(figure, lettering, places)) {
            svg.text(*place, figure, lettering);
            svg.line({middle, at(0, s.thickness).y + 1}, {place->x, place->y - size},
                     {.stroke = ink::line, .width = 0.7});
        }
    }
    return svg;
}

} // namespace hollowtop::cli
