// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the eye sees: sag against the plane through the supports' own movements, and the dish of a
/// recess's skin against the rim around it. mm, downward +.

#include "solver/shell/movement_form.hpp"
#include "solver/shell/recovery.hpp"
#include "solver/situations/respond.hpp"

#include <cmath>
#include <optional>
#include <vector>

namespace hollowtop {

/// Downward movement of the plane that the supports' own movements fit best: a + b x + c y.
struct SupportPlane {
    double a = 0, b = 0, c = 0;
    double at(Point p) const { return a + b * p.x + c * p.y; }
};
SupportPlane support_plane(const Model& model, const SolvedSituation& situation);
/// From the forces at Model::points.
SupportPlane support_plane(const Model& model, const std::vector<double>& point_force);

/// The greatest downward movement, and the node of the mesh that the search for it set out from.
struct Sag {
    double value = 0;
    Point at{};
    Point node{};
    double at_node = 0;
};

/// Greatest downward movement of the top relative to the plane: best node, then a pattern search to 0.01 mm,
/// and one along the outline.
Sag sag_of(const Shell& shell, const SolvedSituation& situation, const SupportPlane& plane);

/// Where in a recess the dish is read, and the two places on the rim's middle that it is read against: the
/// rim across the recess's shorter side, straight between its two middles.
struct DishPoint {
    struct Chord {
        size_t low = 0, high = 0; ///< places
        double share = 0;         ///< of `high`
    };
    size_t here = 0; ///< a place
    Chord rim{};
    std::optional<Chord> other{}; ///< the same the other way; none where no rim closes the recess there
    int recess = 0;
};
/// Points, and the places that they are read at, each once.
struct DishGrid {
    struct SectionRegion {
        Point at{};
        MovementForm form{}; ///< on the shell that the grid was made for
        int node = -1;       ///< the place is this node
    };
    std::vector<SectionRegion> places{};
    std::vector<DishPoint> points{};
};
DishGrid dish_grid(const Shell& shell);
/// The one point at that place; none where it is not in a recess or has no rim to be read against.
DishGrid dish_grid_at(const Shell& shell, Point at);

/// Every coordinate along y (or x) at which the line through `p` crosses an edge of the outline, a recess or
/// a land; in order.
std::vector<double> crossings(const ThicknessField& field, Point p, bool along_y);

struct Dish {
    double value = 0; ///< greatest in size, downward +
    Point at{};
    int recess = 0;
    size_t point = 0; ///< which of the grid's
};
/// Against the straight line one way or the other, whichever is less: near the end of a long recess the skin
/// goes where the end rim goes, and towards its middle the whole top sags between the ends; neither is a
/// dish.
std::optional<Dish> dish_of(const Shell& shell, const DishGrid& grid, const SolvedSituation& situation);

/// What the eye sees of one situation.
struct Movements {
    SupportPlane plane{};
    Sag sag{};
    std::optional<Dish> dish{}; ///< none without a recess
};
Movements movements_of(const Model& model, const SolvedSituation& situation, const DishGrid& grid);

/// The dish at one of them; `movement` tells the upward movement at each of its places, by number.
template <class Movement> double dish_at(const DishPoint& point, const Movement& movement) {
    const double here = movement(point.here);
    const auto against = [&](const DishPoint::Chord& chord) {
        return (1 - chord.share) * movement(chord.low) + chord.share * movement(chord.high) - here;
    };
    const double value = against(point.rim);
    if (!point.other) return value;
    const double other = against(*point.other);
    return value * other <= 0 ? 0 : std::abs(other) < std::abs(value) ? other : value;
}

} // namespace hollowtop
