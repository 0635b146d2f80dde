// SPDX-License-Identifier: MIT
#pragma once
/// \file  What one screw of a stiffener may carry in shear and pulled out, on two bases: EN 1995-1-1 8.7 and the Wood Handbook.

#include "solver/analysis/response.hpp"
#include "solver/piece/piece.hpp"

#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

namespace hollowtop {

/// One basis; a value it does not give is absent.
struct ScrewStrength {
    std::optional<double> shear_N, withdrawal_N;
    std::string basis;
};

/// Both bases for a screw in a load's duration. Empty for a top of stated elastic constants, whose strength is not known.
std::vector<ScrewStrength> screw_strengths(const Piece& piece, const ScrewForce& screw, Duration duration);

/// Greatest share of its strength that a screw takes over the bases: in shear, pulled out, and both as the root of the sum of
/// squares (EN 1995-1-1 eq. 8.28). Absent where no basis gives the strength.
struct ScrewUse {
    std::optional<double> shear, withdrawal, both;
    double shear_capacity_N = 0, withdrawal_capacity_N = 0; ///< of the basis that governs
    std::string shear_basis, withdrawal_basis, both_basis;
};
ScrewUse use_of_screw(const std::vector<ScrewStrength>& strengths, const ScrewForce& screw);

/// The same screw after screw: those of one stiffener in wood of one thickness have one strength.
class ScrewUses {
  public:
    /// Keeps the piece by reference.
    explicit ScrewUses(const Piece& piece) : piece_(&piece) {}
    ScrewUse of(const ScrewForce& screw, Duration duration);

  private:
    const Piece* piece_;
    std::map<std::tuple<int, double, Duration>, std::vector<ScrewStrength>> known_; ///< by stiffener, thread and duration
};

} // namespace hollowtop
