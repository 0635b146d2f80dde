// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the hand estimate sees of a piece: thickness in boxes, loads in boxes, supports in rows. N,
/// mm, MPa.

#include "materials/message.hpp"
#include "solver/hand/stepped_beam.hpp"
#include "solver/piece/piece.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

/// The top cut along every edge of its recesses and lands: thickness of each box, row by row of `ys`.
struct Boxes {
    std::vector<double> xs, ys, thickness;
    double at(std::size_t ix, std::size_t iy) const { return thickness[iy * (xs.size() - 1) + ix]; }
    double greatest() const { return *std::max_element(thickness.begin(), thickness.end()); }
};

/// A load: evenly over a box, or evenly along the straight line from one corner to the other.
struct LoadBox {
    Point from, to;
    double force = 0;
    bool is_line = false;
};

/// A bar as its beam strip sees it.
struct HandBar {
    double from = 0, to = 0; ///< along the beam strip
    double at = 0;           ///< across it
    double EI = 0, EA = 0;
    double depth = 0; ///< of the centroid below the wood's surface
    double slip = 0;  ///< stiffness of its screws a length, MPa; below 0 where it is glued
    double force = 0; ///< its weight
};

/// One of the two beam strips, along x or along y.
struct BeamStrip {
    bool spans = false; ///< between two rows of supports
    std::array<BeamStripSupport, 2> rows{};
    double E = 0, G = 0;
    std::vector<HandBar> bars;
};

struct HandPlan {
    Message why_not; ///< empty where all the rest is filled
    Boxes boxes;
    std::array<BeamStrip, 2> strips{}; ///< along x, along y
    double G_plane = 0;
    double density = 0; ///< kg/mm3
};

/// `creep factor` 1 + k_def after the years.
HandPlan hand_plan(const Piece& piece, double creep_factor);

/// The rectangle of a recess drawn as one, or by its rim; empty for a polygon.
std::optional<Rectangle> recess_box(const Piece& piece, const Recess& recess);

/// The piece's load where it lies on the top.
LoadBox load_box(const Piece& piece, const Load& load);

} // namespace hollowtop
