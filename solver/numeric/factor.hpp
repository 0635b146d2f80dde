// SPDX-License-Identifier: MIT
#pragma once
/// \file  The factor of the top's stiffness: a multifrontal Cholesky by geometric nested dissection on a
/// tensor grid.
///
/// The top's mesh is a grid of nx x ny cells of order p; neighbouring cells share the nodes on their common
/// edge, so the grid has (nx p + 1) x (ny p + 1) nodes. The grid is cut in two again and again along its
/// longer side; the nodes on a cut are eliminated after both halves (George 1973; fronts as in Duff and Reid
/// 1983). The nodes inside a cell are eliminated in the cell itself, once for each distinct element matrix.
/// Same bits for every number of threads. Units: those of the element matrices (N, mm).

#include <functional>
#include <memory>
#include <span>
#include <vector>

namespace hollowtop {

/// Node (ix, iy) has index iy * (nx * order + 1) + ix; its dofs are node * dofs_per_node +
/// 0..dofs_per_node-1.
struct CellGrid {
    int nx = 0, ny = 0, order = 3;
    int dofs_per_node = 5;
    std::vector<char> active; ///< one a cell, index j * nx + i; cells outside the outline are not active

    int nodes_x() const { return nx * order + 1; }
    int nodes_y() const { return ny * order + 1; }
    int n_dofs() const { return nodes_x() * nodes_y() * dofs_per_node; }
    int element_size() const { return (order + 1) * (order + 1) * dofs_per_node; }
};

/// The stiffness as element matrices, kept once per distinct element.
struct GridStiffness {
    CellGrid grid;
    std::vector<int>
        cell_class; ///< one a cell: which of `classes` it uses; ignored where the cell is not active
    /// Full symmetric element matrices, element_size() squared, column-major. Local node (a, b), a along x,
    /// is b*(order+1)+a; local dof is local node * dofs_per_node + component.
    std::vector<std::vector<double>> classes;
    std::vector<int> held; ///< global dofs that are held at zero
};

/// y = K x over the free dofs (entries at held dofs and at nodes no active cell touches are taken as and left
/// at zero), for `count` columns one after another.
void multiply(const GridStiffness& stiffness, std::span<const double> x, std::span<double> y, int count = 1);

/// Thrown by Factor where a pivot is not positive: the matrix is not positive definite there.
struct PivotFailure {
    int dof = 0; ///< global dof
};

/// Columns with few non-zero entries, such as a unit force at a point of the top.
struct SparseColumns {
    std::vector<int> start{0}; ///< column c has entries start[c] .. start[c+1]-1
    std::vector<int> dof;
    std::vector<double> value;
    int count() const { return static_cast<int>(start.size()) - 1; }
    bool operator==(const SparseColumns&) const = default;
};

/// The forward half of the solve of sparse columns B: L^-1 B where K = L L'. Whoever multiplies some columns
/// with many others keeps it.
class ForwardColumns {
  public:
    int count() const;

  private:
    friend class Factor;
    struct Body;
    std::shared_ptr<const Body> body_{};
};

class Factor {
  public:
    /// Factorises. `threads` >= 1. Throws PivotFailure. The stiffness is not kept.
    Factor(const GridStiffness& stiffness, int threads);
    ~Factor();
    Factor(Factor&&) noexcept;
    Factor& operator=(Factor&&) noexcept;

    int n_dofs() const;

    /// Solves in place for `count` columns of n_dofs() each, stored one after another. Entries at held dofs
    /// and at nodes that no active cell touches are ignored and come back as zero. Blocked: many columns cost
    /// little more than a few.
    void solve(std::span<double> columns, int count) const;

    /// B' K^-1 B for sparse columns B, count x count, column-major, symmetric to the last bit. Only the
    /// forward half of the solve is done, only where a column has reached, and blocked.
    std::vector<double> compliance(const SparseColumns& columns) const;

    ForwardColumns forward(const SparseColumns& columns) const;
    /// A' K^-1 B, a.count() x b.count(), column-major; where both are the same, symmetric to the last bit.
    std::vector<double> compliance(const ForwardColumns& a, const ForwardColumns& b) const;

    struct Cost {
        double factor_flops = 0;
        double factor_entries = 0; ///< numbers stored
    };
    Cost cost() const;

  private:
    struct Body;
    std::unique_ptr<Body> body_;
};

} // namespace hollowtop
