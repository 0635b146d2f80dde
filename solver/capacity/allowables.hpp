// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the wood of a piece may bear under loads of a duration and a purpose.

#include "materials/strength.hpp"
#include "solver/piece/piece.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <tuple>

namespace hollowtop {

/// Allowable stresses of the piece's wood for a duration, MPa; empty for a sheet and where the top is given by
/// elastic constants alone. Against the force of a test, a strength load, by its own rule (materials::Against).
/// Throws Error(input) as handbook_allowables and class_allowables do.
std::optional<materials::AllowableStresses> allowables_of(const Piece& piece, Duration duration,
                                                          LoadFor judged_for = LoadFor::everyday);
inline materials::Against against(LoadFor judged_for) {
    return judged_for == LoadFor::everyday ? materials::Against::loads_of_use
                                           : materials::Against::test_force;
}

/// Answers of allowables_of: a thousand variants of one wood ask for the same few, and each takes a third of a
/// millisecond. Owned by whoever loops over the pieces; on one thread at a time.
class KeptAllowables {
  public:
    /// What allowables_of gives, and throws.
    const std::optional<materials::AllowableStresses>& of(const Piece& piece, Duration duration,
                                                          LoadFor judged_for = LoadFor::everyday);
    /// At most some hundred thousand.
    std::size_t bytes() const;

  private:
    /// All that the answer depends on: sheet, wood, ring angle, moisture, then Allowables and the load.
    using Key = std::tuple<std::string, std::string, double, double, AllowablesBasis, double, std::string,
                           int, Duration, materials::Against>;
    std::map<Key, std::optional<materials::AllowableStresses>> known_{};
};

} // namespace hollowtop
