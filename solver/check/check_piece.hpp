// SPDX-License-Identifier: MIT
#pragma once
/// \file  The one door for a whole check: piece in, result out.

#include "materials/error.hpp"
#include "solver/check/check_options.hpp"
#include "solver/piece/piece.hpp"

#include <optional>
#include <span>
#include <vector>

namespace hollowtop {

/// Models the piece asked for, solves every situation, judges every check. Refines the mesh on its own until
/// the errors are under 1 % (sag) and 3 % (stress), or says in the result that they are not.
/// Throws Error(input) where the piece makes no sense, Error(not_computable) where nothing holds the top, it
/// tips, or the piece asks for what this version does not compute.
CheckOutcome check_piece(const Piece& asked, const CheckOptions& options = {});

/// What came of one of several pieces: one of the two.
struct CheckAttempt {
    std::optional<CheckOutcome> outcome{};
    std::optional<Error> error{};
};

/// Each piece checked as by check_piece; neighbours that differ in their stiffeners alone are solved
/// together. Each comes out the same, whichever stand beside it. No progress is told.
std::vector<CheckAttempt> check_pieces(std::span<const Piece> asked, const CheckOptions& options);

} // namespace hollowtop
