// SPDX-License-Identifier: MIT
#pragma once
/// \file  How plan and section of a top are laid on paper: scale, side from which it is seen, letters and lengths.

#include "cli/report/drawing/placer.hpp"
#include "cli/report/drawing/plan_of.hpp"
#include "cli/report/drawing/svg.hpp"
#include "solver/piece/piece.hpp"

#include <string>

namespace hollowtop::cli {

enum class Seen { from_above, from_below };

/// From millimetres of the piece to units of the picture.
struct View {
    double scale = 1;
    Point origin{}; ///< where the corner of the bounds that is nearest the picture's origin lies
    Rectangle bounds{};
    Seen seen = Seen::from_below;
    Point operator()(Point at) const;
    Point place_of(Point seen_at) const; ///< the other way
    Box box(const Rectangle& part) const;
};

SvgPath path_of(const Loop& loop, const View& view);
void add_to(SvgPath& path, const Loop& loop, const View& view);

/// A length in a drawing whose caption names the unit: "120", "120.5"; "4-3/4".
std::string drawn_length(double mm, Units units);

/// Where the two sections are taken: through the middle of the largest recess, else of the top.
struct SectionLines {
    double x = 0, y = 0;
};
SectionLines section_lines(const Plan& plan);

/// "A", "B", ... for the supports, in the order of the piece.
std::string support_letter(std::size_t index);

} // namespace hollowtop::cli
