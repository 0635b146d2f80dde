// SPDX-License-Identifier: MIT
#pragma once
/// \file  How a check is asked for, and what comes out of it.

#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"

#include <functional>
#include <optional>

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
    /// Leaves out what belongs to the top, fails nothing, and is told only where all is: the natural frequencies, unless
    /// a limit is set for the first, and the pushes on skins.
    bool in_short = false;
    /// Of a piece that differs a little: the same mesh is solved with the higher order alone, and the errors
    /// found there are taken over.
    std::optional<MeshReport> mesh_of_another{};
    /// The first mesh alone, whatever its errors are; MeshReport::reached says whether a check would have stopped there.
    bool unrefined = false;
    /// With `mesh_of_another`: order 3, cells beside walls as large as a quarter of the others, beds in few parts;
    /// stresses are read on a grid alone, between whose places peaks are missed; what `essentials` leaves out of the bars
    /// and of second answers is left out. It says what to try, not what is so.
    bool rough = false;
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

} // namespace hollowtop
