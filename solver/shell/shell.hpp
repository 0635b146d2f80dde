// SPDX-License-Identifier: MIT
#pragma once
/// \file  The whole top as a shell: mesh, sections, element matrices, and the lines that are held both ways.
///
/// Held lines that run along x or y are mesh lines: their dofs are held exactly. "in-plane movement at the
/// middle" holds u0 + z bx, so there u0 is replaced by that combination (NodeLevel). Slanting held lines are
/// held by stiff springs along the line, inside the element matrices.

#include "solver/numeric/factor.hpp"
#include "solver/shell/element.hpp"

#include <array>
#include <map>
#include <vector>

namespace hollowtop {

/// A line that is held both ways; `support` says whose reaction it is.
struct HeldLine {
    Point from, to;
    bool down = false, tilt = false, twist = false, along = false, across = false;
    double level = 0; ///< share of the thickness below the top face: 0 top, 0.5 middle, 1 bottom
    int support = 0;
};

/// At this node the dofs u and v mean the movement at height zu and zv from the reference surface.
struct NodeLevel {
    double zu = 0, zv = 0;
};

/// A stiff spring at a point of a slanting held line: force = stiffness x (row . dofs at the point), both
/// ways.
struct HeldPoint {
    Point at;
    int cell = 0;
    int support = 0;
    std::array<double, 5> row{};
    double stiffness = 0;
};

/// The nodes of a leaf's polynomials in a cell (leaves.hpp), row by row, and their places in the element's list.
struct CellLeaf {
    int leaf = 0;
    std::vector<int> nodes, local;
};

struct ShellOptions {
    MeshSize size;
    int order = 4;
    bool with_wall_compliance = true;
    double reference_depth =
        0; ///< depth of the reference surface below the top face; other than 0 only in tests
    bool operator==(const ShellOptions&) const = default;
};

struct Shell {
    ThicknessField field{};
    PlaneStiffness plane{};
    Mesh mesh{};
    int order = 4;
    double reference_depth = 0;
    std::vector<std::vector<QuadraturePoint>>
        cut_points{}; ///< of each cut or uneven cell, exact for products of two polynomials; else empty
    std::map<SectionRegion, Section> sections{};
    std::map<SectionRegion, UnevenSkin> uneven{}; ///< of each place whose thickness is uneven
    std::vector<std::vector<CellLeaf>>
        leaves{}; ///< of each cell, where its nodes are not all the grid's own; empty where no cell has any
    GridStiffness stiffness{}; ///< `held` holds the held lines' dofs; pins are added later
    std::map<int, NodeLevel> levels{};
    std::vector<HeldPoint> held_points{};
    std::vector<std::pair<int, int>> held_dof_support{}; ///< (dof, support) of each held dof, by dof

    int nodes_x() const { return stiffness.grid.nodes_x(); }
    int node(int ix, int iy) const { return iy * nodes_x() + ix; }
    Point node_point(int node) const;
};

/// The elastic constants of the piece's top, from its wood or as stated.
Elastic elastic_of(const Piece& piece);

/// The same in the top's axes, with the solid's constants for the walls.
PlaneStiffness plane_of(const Piece& piece);

/// Global dofs of the local dofs of a cell, in the element's order.
std::vector<int> cell_dofs(const Shell& shell, int cell);

/// Which of the cell's leaves holds at a point in it; -1 where its nodes are the grid's own.
int leaf_index_at(const Shell& shell, int cell, Point point);

/// The nodes of the polynomials of a leaf in a cell, by column a and row b.
struct CellNodes {
    const int* list = nullptr;
    int first = 0, stride = 0, n = 0;
    int operator()(int a, int b) const { return list != nullptr ? list[b * n + a] : first + b * stride + a; }
};
CellNodes cell_nodes(const Shell& shell, int cell, int leaf_index);

/// basis_at() of a cell of the shell with an entry for each node of its element: nought for nodes of a leaf that the
/// point is not in.
void basis_at(const Shell& shell, int cell, Point point, BasisAt& basis);

/// The points of one leaf's part of a cell; all others are called outside.
std::vector<QuadraturePoint> points_of_leaf(const Shell& shell, int cell, int leaf_index);

/// The uneven thickness of the shell's places; null of one that is even.
UnevenOf uneven_of_shell(const Shell& shell);

/// Index of the cell that holds the point, or -1 where none is active there.
int cell_at(const Shell& shell, Point point);

/// Replaces u and v at levelled nodes by the movement of the reference surface (in place).
void to_reference_surface(const Shell& shell, std::span<double> dofs);

/// Sparse column of a unit upward force at a point; appended to `columns`.
void append_point_force(const Shell& shell, Point point, SparseColumns& columns);

/// y = M x over all dofs (u and v meant at the levels of held nodes, as in the stiffness), `count` columns
/// one after the other.
class MassOperator {
  public:
    explicit MassOperator(const Shell& shell);
    void apply(std::span<const double> x, std::span<double> y, int count = 1) const;

  private:
    const Shell* shell_;
    std::vector<CellNodes> nodes_;
    std::vector<int> class_of_;
    std::vector<ElementMass> classes_;
};

} // namespace hollowtop
