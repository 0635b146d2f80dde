// SPDX-License-Identifier: MIT
#pragma once
/// \file  Many pieces judged one after another, each as fully as `check_piece` judges it, on several threads.
/// The outcomes come out in order, one at a time, whatever the number of threads; only a few of them are held
/// at once, so memory does not grow with the number of pieces.

#include "materials/message.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"

#include <cstddef>
#include <functional>
#include <optional>
#include <string>

namespace hollowtop {

/// What one of the pieces came to.
struct Judged {
    std::size_t index = 0;
    std::optional<Piece> piece;   ///< absent where there is none to be judged
    std::optional<Result> result; ///< absent where the piece makes no sense or could not be computed
    Message problem;              ///< why: the first fault, with its place
};

struct JudgeEachOptions {
    CheckOptions check;         ///< its threads are shared among the pieces; its progress is not called
    std::size_t first = 0;      ///< index of the first piece to be judged
    std::size_t most_bytes = 0; ///< of memory, shared out among the threads; 0: share_of_memory()
    std::function<bool()>
        stop; ///< asked before each piece, or every half second where pieces are quicker; may be empty
};

/// Judges the pieces `first` .. `count` - 1; neighbours that differ in their stiffeners alone together
/// (check_pieces). `piece_of` is called on several threads at once and may throw Error, which becomes the
/// problem of that piece; `done` is called on one thread at a time, in order. Gives the number of pieces
/// done: fewer than there are where `stop` said so. Whatever else is thrown (by `done` too) ends the run and
/// comes out here.
std::size_t judge_each(std::size_t count, const std::function<Piece(std::size_t)>& piece_of,
                       const JudgeEachOptions& options, const std::function<void(const Judged&)>& done);

/// The first fault of an error in one line: "recesses[0].depth: ...".
Message problem_of(const class Error& error);

} // namespace hollowtop
