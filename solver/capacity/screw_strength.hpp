// SPDX-License-Identifier: MIT
#pragma once
/// \file  What one screw of a stiffener may carry in shear and pulled out, on the piece's own basis: the Wood
/// Handbook against loads as they are, or EN 1995-1-1 against design loads. The two are never mixed.

#include "materials/message.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/response.hpp"

#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

namespace hollowtop {

/// A screw from below into the top: what is in the wood of it, and how thick the wood is there, mm.
struct ScrewInWood {
    double diameter = 0, thread = 0, wood = 0;
};
/// What pulls it out, N, on the basis of the piece.
struct PulledOut {
    double force_N = 0;
    Message basis{};
};
/// Empty for a top whose strength is not known.
std::optional<PulledOut> screw_pulled_out(const Piece& piece, const ScrewInWood& screw, Duration duration,
                                          LoadFor judged_for);

/// A value that the basis does not give is absent.
struct ScrewStrength {
    std::optional<double> shear_N, withdrawal_N;
    Message shear_basis, withdrawal_basis;
};

/// Of a screw in a load's duration. Empty for a top whose strength is not known.
std::vector<ScrewStrength> screw_strengths(const Piece& piece, const ScrewForce& screw, Duration duration,
                                           LoadFor judged_for = LoadFor::everyday);

/// Greatest share of its strength that a screw takes: in shear, pulled out, and both as the root of the sum
/// of squares (EN 1995-1-1 eq. 8.28). Absent where no basis gives the strength.
struct ScrewUse {
    std::optional<double> shear, withdrawal, both;
    double shear_capacity_N = 0, withdrawal_capacity_N = 0;
    Message shear_basis, withdrawal_basis, both_basis;
};
ScrewUse use_of_screw(const std::vector<ScrewStrength>& strengths, const ScrewForce& screw);

/// The same screw after screw: those of one stiffener in wood of one thickness have one strength.
class ScrewUses {
  public:
    /// Keeps the piece by reference.
    explicit ScrewUses(const Piece& piece) : piece_(&piece) {}
    ScrewUse of(const ScrewForce& screw, Duration duration, LoadFor judged_for = LoadFor::everyday);

  private:
    const Piece* piece_;
    std::map<std::tuple<int, double, double, Duration, LoadFor>, std::vector<ScrewStrength>>
        known_; ///< by stiffener, thread, wood and load
};

} // namespace hollowtop
