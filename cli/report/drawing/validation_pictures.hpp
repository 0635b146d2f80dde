// SPDX-License-Identifier: MIT
#pragma once
/// \file  Pictures of the validation page. They are drawn in currentColor, so that they suit a dark page too.

#include "cli/report/drawing/svg.hpp"
#include "validation/run_cases.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

/// One case on one mesh.
struct MeshRun {
    double dofs = 0; ///< degrees of freedom of the finest solve; 0 where nothing could be computed
    std::vector<validation::Comparison> lines; ///< one an expectation of the case
};

struct ValidatedCase {
    validation::Case about;
    std::vector<MeshRun> meshes; ///< from the coarsest to the finest
    std::size_t told = 0;        ///< which of them the tables tell
    const std::vector<validation::Comparison>& lines() const { return meshes[told].lines; }
};

/// How far off, as a share of what is allowed: 1 at the upper edge of the tolerance. Absent where nothing was
/// computed, or nothing is allowed.
std::optional<double> share_of_allowed(const validation::Comparison& comparison);

/// Every value of the case over its meshes, in shares of what is allowed.
Svg convergence_picture(const ValidatedCase& one);

/// A row a family, a dot a value.
Svg overview_picture(const std::vector<ValidatedCase>& cases, const std::string& id_end, double width);

} // namespace hollowtop::cli
