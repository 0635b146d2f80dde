// SPDX-License-Identifier: MIT
#pragma once
/// \file  Bands and contour lines of a value over the top, by marching squares on points of the mesh's own
/// functions.
///
/// The mesh is a grid of lines in x and in y, and the check samples each of its cells at points of its own,
/// so that a value may jump at a wall: there two grid lines lie on one another, and a contour runs straight
/// along the wall between them.
///
///      level 2   . 1   . 3        . 3          a region "at or above the level" is bounded by lines inside the squares,
///                  \___|           |            and by the edge of the grid
///                .  \  . 2.5      . 3

#include "solver/result/result.hpp"

#include <vector>

namespace hollowtop::cli {

/// Values at the crossings of lines; x and y do not fall. Row by row, x running fastest. Not a number: no
/// value.
struct ValueGrid {
    std::vector<double> x, y;
    std::vector<double> value;
    double at(std::size_t i, std::size_t j) const { return value[j * x.size() + i]; }
};

/// The field's points sorted into a grid; places where the field has none (outside the top) take the nearest
/// value along their row or column, so that a picture clipped by the outline is filled to its edge. `values`:
/// one a point.
ValueGrid grid_of(const std::vector<Point>& points, const std::vector<double>& values);

/// A closed run of points; `on_edge[k]`: the side from point k to the next lies on the edge of the grid.
struct ContourLoop {
    std::vector<Point> points;
    std::vector<char> on_edge;
};

/// The boundary of the region where the value is at or above the level. Even-odd filling gives the region.
std::vector<ContourLoop> region_at_or_above(const ValueGrid& grid, double level);

/// Drops points that stray less than `tolerance` from the line without them. The first and last stay.
std::vector<Point> thinned(const std::vector<Point>& points, double tolerance);

/// Levels at even steps of 1, 2, 2.5 or 5 times a power of ten, from at or below `least` to at or above
/// `most`: about `wanted` bands.
std::vector<double> even_levels(double least, double most, int wanted);

} // namespace hollowtop::cli
