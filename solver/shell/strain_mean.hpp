// SPDX-License-Identifier: MIT
#pragma once
/// \file  Means of strains over a square as wide as the thickness there, as far as it stays on the same side of a wall,
/// so that no number depends on the mesh (mean-stress view of brittle wood: Serrano and Gustafsson, Fracture mechanics in
/// timber engineering, Materials and Structures 40(1), 2007, 87-96; docs/method.md, "Stresses"). A polynomial's mean over a
/// rectangle is the product of two one-dimensional integrals, so the means are exact. mm.

#include "solver/mesh/thickness_field.hpp"
#include "solver/numeric/quadrature.hpp"
#include "solver/shell/shell.hpp"

#include <array>
#include <vector>

namespace hollowtop {

/// Integrals (or values) of the polynomials of one line of a cell, and of their slopes.
struct LineMean {
    std::array<double, max_order + 1> value{}, slope{};
};

/// Mean strains over a square as a linear form in the dofs; the same square serves every situation.
struct StrainMean {
    /// The square's part in one cell, already weighted by its share of the square. In a plain cell it is a
    /// product of a form along x and a form along y; in a cut cell there is a number for each node.
    struct Part {
        int cell = 0;
        int leaf = -1; ///< as leaf_index_at()
        SectionRegion place{};
        LineMean x{}, y{};
        std::vector<double>
            nodes; ///< values of all nodes, then slopes along x, then along y; empty in a plain cell
    };
    Point at{};
    int region = outside;
    double thickness = 0;
    std::vector<Part> parts;
};

/// The mean about `point`, over the square as wide as the thickness there. region == outside where there is
/// no top.
StrainMean strain_mean(const Shell& shell, Point point);

/// The mean over the square of side `side`; a side of 0 takes the point itself.
StrainMean strain_mean(const Shell& shell, Point point, double side);

/// Means all over the top: nine a cell, one where the cell is smaller than `sparse` thicknesses. Unless it is sparser
/// than 1, such a small cell is read right beside a wall or edge that it ends at, where stresses are steep.
std::vector<StrainMean> survey_means(const Shell& shell, double sparse = 1);

} // namespace hollowtop
