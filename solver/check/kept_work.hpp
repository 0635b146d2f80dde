// SPDX-License-Identifier: MIT
#pragma once
/// \file  What is kept from one piece to the next. Whoever loops over pieces owns it, one for each of its
/// threads, and hands it down through CheckOptions::kept; nothing else outlives a check but
///   - the cross-sections of walls, solved once in a run (section/wall_submodel.cpp): at most 5000, 10 MB;
///   - memory of factors given back, for the next factor (numeric/arena.cpp): at most 192 MB;
///   - the tables of materials as they were read, and polynomials at quadrature points: what the program ships.
/// Inside a model, and counted with it (kept_bytes.hpp): how the top answers the last places of screws
/// (Model::known_columns, known_connections: 12 MB each), answers at output points (OutputReader: 64 MB) and
/// the forms of means (MeansAt: 30 000). Inside one check: strengths of its screws (ScrewUses), stresses at
/// points asked for (StressesAt), places where a travelling load was tried (PositionSearch).

#include "solver/capacity/allowables.hpp"
#include "solver/check/kept_models.hpp"

#include <cstddef>

namespace hollowtop {

/// A quarter of the machine's memory, bytes; 1 GiB where the system does not tell.
std::size_t share_of_memory();

/// On one thread at a time.
struct KeptWork {
    /// At most so many bytes of models; of allowables some hundred thousand more.
    explicit KeptWork(std::size_t most_bytes = share_of_memory()) : models(most_bytes) {}

    KeptModels models;
    KeptAllowables allowables{};

    std::size_t bytes() const { return models.bytes() + allowables.bytes(); }
};

/// How `bytes` are shared out among threads.
struct ThreadShares {
    int threads = 1;
    std::size_t kept_bytes = 0; ///< that each may keep, besides what its work takes
};
/// No more threads than `wanted`, nor than have room each for the work of a check and for the models of one
/// piece; at least one.
ThreadShares shared_out(std::size_t bytes, int wanted);

/// What some pieces judged together take besides models that are kept: the search for worst places, columns
/// and their answers, situations, readings. Seen on the examples: about 100 MB.
inline constexpr std::size_t bytes_of_work = std::size_t{128} << 20;
/// Both orders of one piece with what is read of them. Seen on the examples: 100 to 160 MB.
inline constexpr std::size_t least_kept_bytes = std::size_t{192} << 20;

} // namespace hollowtop
