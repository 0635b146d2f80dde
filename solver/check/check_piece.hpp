// SPDX-License-Identifier: MIT
#pragma once
/// \file  The one door for a whole check: piece in, result out.

#include "materials/error.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"

#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace hollowtop {

struct KeptWork;

struct CheckOptions {
    enum class Mesh { coarse, normal, fine };
    Mesh mesh = Mesh::normal;
    std::optional<double> mesh_size; ///< mm; replaces `mesh`
    int threads = 0;                 ///< 0: as many as the machine has
    bool want_fields = false;
    /// Leaves out what no check reads: the natural frequencies above the first, what the stiffeners are
    /// worth, the pushes on skins (advice).
    bool essentials = false;
    /// With `essentials`: leaves out the first natural frequency too, unless a limit is set for it.
    bool no_advice = false;
    /// Of a piece that differs a little: the same mesh is solved with the higher order alone, and the errors
    /// found there are taken over.
    std::optional<MeshReport> mesh_of_another{};
    /// What is kept of the pieces checked before, for many that differ little: whoever loops owns it. On one
    /// thread at a time.
    KeptWork* kept = nullptr;
    /// Called now and then with the share done (0..1); may be empty.
    std::function<void(double)> progress;
};

struct CheckOutcome {
    Result result;
    std::optional<Fields> fields;
    Piece
        placed; ///< the piece as it was computed: with the loads of its use, loads that travel at their worst places
};

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
