// SPDX-License-Identifier: MIT
#pragma once
/// \file  Does a top that only lies on its supports stay on them? Moments of the loads about the edges of the
/// supports' hull.

#include "solver/piece/piece.hpp"
#include "solver/result/response.hpp"
#include "solver/shell/loads.hpp"

#include <optional>
#include <span>
#include <vector>

namespace hollowtop {

/// Convex hull, counter-clockwise; fewer than three points where all lie on a line (Andrew 1979, monotone
/// chain).
std::vector<Point> convex_hull(std::vector<Point> points);

/// Does the point lie in a hull as from convex_hull, or within a millimetre of its edge?
bool is_within(const std::vector<Point>& hull, Point p);

/// What of a polygon lies in a convex one, both counter-clockwise (Sutherland and Hodgman 1974).
std::vector<Point> clipped(const std::vector<Point>& polygon, const std::vector<Point>& by);

/// The line about which the top tips, and the multiple of the passing load at which it starts to.
struct Tipping {
    Point from, to;
    double factor =
        0; ///< standing + factor x passing reaches the line; 0 where the standing loads alone tip it
};

/// Empty where no multiple of the passing load tips the top. `hull` as from convex_hull.
std::optional<Tipping> tipping_of(const std::vector<Point>& hull, const Resultant& standing,
                                  const Resultant& passing);

/// A load of a situation, its moment about each edge by itself: it helps or it harms.
struct TippingLoad {
    Resultant of{};
    bool is_permanent =
        false; ///< the weight of top and bars, and what stays for good; all else is left out where it helps
    bool leads = false; ///< of what passes: the multiple of this is asked for
    double psi_0 = 1;
};

/// How many times each load is counted, and how many times what passes has to stand.
struct TippingFormat {
    double helps = 1, harms = 1; ///< what is permanent
    double others = 1;           ///< what else harms, ...
    bool with_psi_0 = false;     ///< ... times its psi_0
    double needed = 1;
    double standing_needed = 1; ///< of the moments that hold against those that harm, where nothing passes
};
/// Everything once, and no reserve.
inline constexpr TippingFormat as_it_is{};
/// Handbook: a load of every day 1.5 times (judgement), the force of a test once. Strength class: 0.9 G that
/// helps, 1.1 G that harms, 1.5 Q (EN 1990 table A1.2(A), from memory), the force of a test once.
TippingFormat tipping_format(AllowablesBasis basis, LoadFor judged_for);

/// The least multiple of the loads that lead, over the edges; what helps and may be away is left out.
std::optional<Tipping> tipping_of(const std::vector<Point>& hull, std::span<const TippingLoad> loads,
                                  const TippingFormat& format);

/// Nothing passes: what holds over what harms, about the edge where that is least. Empty where nothing harms.
std::optional<Tipping> standing_tipping_of(const std::vector<Point>& hull, std::span<const TippingLoad> loads,
                                           const TippingFormat& format);

} // namespace hollowtop
