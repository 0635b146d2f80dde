// SPDX-License-Identifier: MIT
#pragma once
/// \file  The mass that swings: the top's own and that of the loads that stay. kg.

#include "solver/model/model.hpp"

#include <map>
#include <vector>

namespace hollowtop {

/// The loads' mass is spread as the shell's own, cell by cell: as a diagonal of nodal forces it would be
/// negative at some nodes of a cell that the load covers in part, and the top would have natural frequencies
/// without end.
class VibratingMass {
  public:
    explicit VibratingMass(const Model& model);
    /// out = M in, column by column, all dofs each.
    void apply(const double* in, double* out, int count) const;

  private:
    struct OnCell {
        std::vector<int> dofs;    ///< of w
        std::vector<double> mass; ///< their count squared
    };
    size_t n_;
    MassOperator top_;
    std::map<int, OnCell> carried_;
};

} // namespace hollowtop
