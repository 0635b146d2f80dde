// SPDX-License-Identifier: MIT
#include "cli/report/drawing/placer.hpp"

#include <algorithm>

namespace hollowtop::cli {

bool Placer::is_free(const Box& box, Over over) const {
    if (box.x0 < page_.x0 || box.y0 < page_.y0 || box.x1 > page_.x1 || box.y1 > page_.y1) return false;
    return std::none_of(taken_.begin(), taken_.end(), [&](const Box& other) { return box.meets(other); }) &&
           std::none_of(kept_off_.begin(), kept_off_.end(),
                        [&](const KeptOff& other) { return over < other.least && box.meets(other.box); });
}

double line_height(const Lettering& lettering) { return 1.38 * lettering.size; }

std::optional<Point> Placer::place_lines(const std::vector<std::string>& lines, const Lettering& lettering,
                                         const std::vector<Point>& candidates, Over over) {
    for (const Point& at : candidates) {
        std::vector<Box> boxes;
        for (const std::string& line : lines) {
            const Point place{at.x, at.y + static_cast<double>(boxes.size()) * line_height(lettering)};
            boxes.push_back(lettering.turn_deg == 0 ? box_of_words(place, line, lettering)
                                                    : upright_box_of_words(place, line, lettering));
        }
        if (!std::all_of(boxes.begin(), boxes.end(), [&](const Box& box) { return is_free(box, over); }))
            continue;
        constexpr double gap = 2; // so that two figures side by side do not read as one
        for (const Box& box : boxes) take({box.x0 - gap, box.y0, box.x1 + gap, box.y1});
        return at;
    }
    return std::nullopt;
}

std::optional<Point> Placer::place(std::string_view words, const Lettering& lettering,
                                   const std::vector<Point>& candidates) {
    for (const Over over : from_the_best)
        if (const auto at = place_lines({std::string(words)}, lettering, candidates, over)) return at;
    return std::nullopt;
}

Box upright_box_of_words(Point at, std::string_view words, const Lettering& lettering) {
    // turned by -90 degrees, (x, y) from the place goes to (y, -x)
    const Box flat = box_of_words({0, 0}, words, lettering);
    return {.x0 = at.x + flat.y0, .y0 = at.y - flat.x1, .x1 = at.x + flat.y1, .y1 = at.y - flat.x0};
}

} // namespace hollowtop::cli
