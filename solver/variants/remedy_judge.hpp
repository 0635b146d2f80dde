// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a changed piece comes to: quickly, to say what to try, and in full, to say that it is enough.

#include "solver/check/check_piece.hpp"
#include "solver/variants/lever.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace hollowtop {

/// Of each check that can fail the piece its greatest utilisation.
using UsedByCheck = std::vector<std::pair<std::string, double>>;

/// `at_most`: with what each row may err by on its mesh, where that is known.
UsedByCheck used_of(const Result& result, bool at_most = false);

/// 0 where there is no such check.
double used_by(const UsedByCheck& used, const std::string& check);

struct RemedyVerdict {
    bool passes = false;
    double utilisation = 0, mass_kg = 0;
    std::string governing_check;
    UsedByCheck used;
};

/// Each check uses so many times as much as it seemed.
void scale(RemedyVerdict& verdict, const UsedByCheck& times);

/// Left free below the limit where what the mesh errs by is not known of each row.
inline constexpr double spare_for_mesh = 0.03;

/// Its answers may be asked for on many threads; empty where no piece so changed can be computed.
class RemedyJudge {
  public:
    /// `failing` is what the check of `asked` came to; both outlive the judge. Throws nothing: a quick check that fails
    /// teaches nothing.
    RemedyJudge(const Piece& asked, const CheckOutcome& failing, CheckOptions options);

    /// Every check on the mesh of the search, the loads at rest where they were worst for the piece as drawn; each
    /// check uses so much more or less as the check of the piece as drawn said more or less than the quick one.
    std::optional<RemedyVerdict> quick(const Lever& lever, int k, KeptWork& kept) const;

    /// The changed piece by itself: as `quick` judges, but every load that travels sought anew; and what passes so by the
    /// first mesh of a check, each row with what it may err by there, or where lines are round or aslant by the mesh to
    /// which the piece as drawn was refined, something left for the error.
    std::optional<RemedyVerdict> full(const Lever& lever, int k, int threads) const;

    /// The top as drawn, without its recesses, as `quick` judges.
    std::optional<RemedyVerdict> solid() const;

    /// Passes only where enough is left for the error of the mesh.
    std::optional<RemedyVerdict> left_over(std::optional<RemedyVerdict> verdict) const;

  private:
    std::optional<RemedyVerdict> judged_roughly(const Lever& lever,
                                                std::optional<RemedyVerdict> verdict) const;
    void compare_with(const UsedByCheck& drawn);

    const Piece& asked_;
    const Piece& resting_;
    MeshReport mesh_;
    CheckOptions options_;
    bool is_straight_;
    MeshReport refined_; ///< the mesh on which the piece as drawn was checked
    UsedByCheck
        more_in_full_{}; ///< of each check, how many times as much the full one said of the piece as drawn
};

} // namespace hollowtop
