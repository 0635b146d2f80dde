// SPDX-License-Identifier: MIT
#pragma once
/// \file  The parts of a result that no check judges, each from what was solved: a function a part. Units as
/// in Result.

#include "solver/model/model.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/response.hpp"
#include "solver/result/result.hpp"
#include "solver/situations/respond.hpp"

#include <vector>

namespace hollowtop {

void fill_mass(const Piece& piece, const Model& model, Result& result);
void fill_situations(const Response& response, Result& result);

/// Where the passing load of each situation rests.
void fill_load_positions(const Piece& piece, const Model& model, const std::vector<SolvedSituation>& solved,
                         Result& result);

/// Of each load that travels the worst of its situations, as the checks have it, in place of what the coarse mesh
/// of the search said; after the checks.
void settle_travels(const Piece& piece, const Model& model, const std::vector<SolvedSituation>& solved,
                    Result& result);

/// What was taken of the wood, of creep and of the supports.
void fill_assumptions(const Piece& piece, const Model& model, Result& result);

/// Each stiffener and each screw in the situation where it is worst off; with `essentials` not what the
/// stiffeners are worth.
void fill_bars(const Piece& piece, const Model& model, const std::vector<SolvedSituation>& solved,
               const Response& response, bool essentials, Result& result);

void warn_of_mesh(const Piece& piece, Result& result);
/// What of them lies on the top, how clamps press, and under which the wood is not judged.
void tell_of_loads(const Piece& piece, const Model& model, Result& result);

/// Stiffeners that reach below the rim.
void tell_of_hanging(const Piece& piece, Result& result);

void warn_of_lifting(const Response& response, Result& result);
/// Of situations of which only a share can be set down.
void warn_of_tipping(const Response& response, Result& result);

/// Two answers to the same question by other ways: the sag by hand, and the solid top that sags as little.
void fill_second_answers(const Piece& piece, const Model& model, const std::vector<SolvedSituation>& solved,
                         int threads, Result& result);

} // namespace hollowtop
