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

#include "solver/numeric/grid_stiffness.hpp"

#include <memory>
#include <span>
#include <vector>

namespace hollowtop {

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

struct FactorBody; // factor_body.hpp

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
    std::unique_ptr<FactorBody> body_;
};

} // namespace hollowtop
