// SPDX-License-Identifier: MIT
#pragma once
/// \file  The result of a check before and after its rows are judged: figures, assumptions, warnings, second
/// answers.

#include "solver/model/model.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/response.hpp"
#include "solver/result/result.hpp"
#include "solver/situations/respond.hpp"

#include <vector>

namespace hollowtop {

/// A piece that is solved and read.
struct Checked {
    const Piece& asked; ///< as the maker drew it
    const Piece& piece; ///< as it was computed (CheckOutcome::placed)
    const Model& model; ///< of the higher order
    const std::vector<SolvedSituation>& solved;
    const Response& response;
    bool essentials = false; ///< as in CheckOptions
    int threads = 1;
};

/// All that does not depend on the rows of checks, in the order of the report; Result::travels is left empty.
Result present(const Checked& checked, const MeshReport& mesh);

/// What comes after judge(): second answers, how far each row's demand errs, and the band of what governs.
void finish_result(const Checked& checked, Result& result);

} // namespace hollowtop
