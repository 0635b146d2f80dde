// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the eye sees: sag against the plane through the supports' own movements, and the dish of a recess's skin
/// against the rim around it. mm, downward +.

#include "solver/analysis/respond.hpp"

#include <optional>
#include <vector>

namespace hollowtop {

/// Downward movement of the plane that the supports' own movements fit best: a + b x + c y.
struct SupportPlane {
    double a = 0, b = 0, c = 0;
    double at(Point p) const { return a + b * p.x + c * p.y; }
};
SupportPlane support_plane(const Model& model, const SolvedSituation& situation);

struct Extreme {
    double value = 0;
    Point at{};
};

/// Greatest downward movement of the top relative to the plane: best node, then a pattern search to 0.01 mm, and one along the
/// outline.
Extreme sag_of(const Shell& shell, const SolvedSituation& situation, const SupportPlane& plane);

/// Where in a recess the dish is read, and the two places on the rim's middle that it is read against: the rim across the
/// recess's shorter side, straight between its two middles.
struct DishPoint {
    Point at{}, rim_low{}, rim_high{};
    double share = 0; ///< of rim_high
    int recess = 0;
    struct Chord {
        Point low{}, high{};
        double share = 0;
    };
    std::optional<Chord> other{}; ///< the same the other way; none where no rim closes the recess there
};
std::vector<DishPoint> dish_points(const Shell& shell);
/// The one at that place; empty where it is not in a recess or has no rim to be read against.
std::vector<DishPoint> dish_points_at(const Shell& shell, Point at);

/// Every coordinate along y (or x) at which the line through `p` crosses an edge of the outline, a recess or a land; in order.
std::vector<double> crossings(const ThicknessField& field, Point p, bool along_y);

struct Dish {
    double value = 0; ///< greatest in size, downward +
    Point at{};
    int recess = 0;
};
/// Against the straight line one way or the other, whichever is less: near the end of a long recess the skin goes where the end rim
/// goes, and towards its middle the whole top sags between the ends; neither is a dish.
std::optional<Dish> dish_of(const Shell& shell, const std::vector<DishPoint>& points, const SolvedSituation& situation);

/// The span and the overhang that sag limits speak of.
Span span_of(const Model& model);

} // namespace hollowtop
