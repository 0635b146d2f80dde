// SPDX-License-Identifier: MIT
#pragma once
/// \file  One element of the wall submodel: a quadrilateral of order 4 on Lobatto nodes in plane strain.
/// Local node b n1 + a, local dof 2 node + component (x, z); a runs along x, b up. xi and eta run from -1 to
/// 1 over the cell.
/// Matrices are column by column. Source: Szabo and Babuska, Finite Element Analysis, 1991.
/// Units: N, mm, MPa.

#include "solver/section/submodel_mesh.hpp"

#include <array>
#include <span>
#include <vector>

namespace hollowtop {

namespace quad {
inline constexpr int order = 4, n1 = order + 1, n_nodes = n1 * n1, n_dofs = 2 * n_nodes;
}

/// n_dofs x n_dofs. A rectangle's is exact, another's is integrated with one point more than its order has
/// nodes.
std::vector<double> cell_stiffness(const SubmodelMesh& grid, const Matrix3& C, int column, int row);

/// Where a point of a cell lies.
SubmodelPoint place_at(const SubmodelMesh& grid, int column, int row, double xi, double eta);

/// Stress across, through, shear, by load, from the cell's movements (n_dofs x n_submodel_loads).
std::array<PerLoad, 3> stress_at(const SubmodelMesh& grid, const Matrix3& C,
                                 std::span<const double> movements, int column, int row, double xi,
                                 double eta);

} // namespace hollowtop
