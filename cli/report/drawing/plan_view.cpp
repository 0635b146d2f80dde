// SPDX-License-Identifier: MIT
#include "cli/report/drawing/plan_view.hpp"

#include "cli/words/format.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {

Point View::operator()(Point at) const {
    const double x = origin.x + scale * (at.x - bounds.x0);
    const double y = seen == Seen::from_below ? scale * (at.y - bounds.y0) : scale * (bounds.y1 - at.y);
    return {x, origin.y + y};
}

Point View::place_of(Point seen_at) const {
    const double y = (seen_at.y - origin.y) / scale;
    return {bounds.x0 + (seen_at.x - origin.x) / scale,
            seen == Seen::from_below ? bounds.y0 + y : bounds.y1 - y};
}

Box View::box(const Rectangle& part) const {
    const Point a = (*this)({part.x0, part.y0}), b = (*this)({part.x1, part.y1});
    return {.x0 = std::min(a.x, b.x),
            .y0 = std::min(a.y, b.y),
            .x1 = std::max(a.x, b.x),
            .y1 = std::max(a.y, b.y)};
}

void add_to(SvgPath& path, const Loop& loop, const View& view) {
    if (loop.empty()) return;
    path.move(view(loop.front().a));
    for (const EdgePiece& piece : loop) {
        if (!piece.is_arc) {
            path.line(view(piece.b));
            continue;
        }
        // A loop runs counter-clockwise seen from above; from below it runs the other way round.
        const bool turns_left = piece.hollow_side_is_centre;
        const bool clockwise = view.seen == Seen::from_below ? turns_left : !turns_left;
        path.arc(view(piece.b), view.scale * piece.rx, view.scale * piece.ry, clockwise);
    }
    path.close();
}

SvgPath path_of(const Loop& loop, const View& view) {
    SvgPath path;
    add_to(path, loop, view);
    return path;
}

std::string drawn_length(double mm, Units units) {
    if (units == Units::inch) return sixteenths(Length::from_mm(mm).inches());
    std::string text = fixed(mm, 1);
    return text.ends_with(".0") ? text.substr(0, text.size() - 2) : text;
}

SectionLines section_lines(const Plan& plan) {
    const Rectangle* best = nullptr;
    Rectangle bounds = bounds_of_plan(plan);
    double most = 0;
    std::vector<Rectangle> all;
    all.reserve(plan.hollows.size());
    for (const Hollow& hollow : plan.hollows) {
        all.push_back(bounds_of(hollow.loop));
        if (hollow.area() > most) most = hollow.area(), best = &all.back();
    }
    if (best != nullptr) bounds = *best;
    return {.x = (bounds.x0 + bounds.x1) / 2, .y = (bounds.y0 + bounds.y1) / 2};
}

std::string support_letter(std::size_t index) {
    std::string text(1, static_cast<char>('A' + index % 26));
    return index < 26 ? text : text + std::to_string(index / 26);
}

} // namespace hollowtop::cli
