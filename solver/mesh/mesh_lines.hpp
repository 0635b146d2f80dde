// SPDX-License-Identifier: MIT
#pragma once
/// \file  The lines of a mesh without its cells: how many unknowns a size gives, at little cost.

#include "solver/mesh/mesh.hpp"

#include <vector>

namespace hollowtop {

/// Coordinates, mm, as in Mesh.
struct MeshLines {
    std::vector<double> xs, ys;
    bool operator==(const MeshLines&) const = default;
};
MeshLines mesh_lines(const ThicknessField& field, const MeshSize& size, const MeshWishes& wishes);

} // namespace hollowtop
