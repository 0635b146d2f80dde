// SPDX-License-Identifier: MIT
#pragma once
/// \file  Points of the plan reckoned with as vectors.

#include "solver/piece/piece.hpp"

#include <cmath>

namespace hollowtop {

inline Point operator+(Point a, Point b) { return {a.x + b.x, a.y + b.y}; }
inline Point operator-(Point a, Point b) { return {a.x - b.x, a.y - b.y}; }
inline Point operator*(double s, Point a) { return {s * a.x, s * a.y}; }
inline double dot(Point a, Point b) { return a.x * b.x + a.y * b.y; }
/// Above zero where b points to the left of a.
inline double cross(Point a, Point b) { return a.x * b.y - a.y * b.x; }
/// Not std::hypot: it is asked for every point of a mesh, and no length of a plan is near what a square cannot hold.
inline double length_of(Point a) { return std::sqrt(dot(a, a)); }
/// The direction turned a quarter to its left.
inline Point left_of(Point direction) { return {-direction.y, direction.x}; }
inline Point between(Point a, Point b, double share) { return a + share * (b - a); }

} // namespace hollowtop
