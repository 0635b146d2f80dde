// SPDX-License-Identifier: MIT
#pragma once
/// \file  The piece file: JSON text in the maker's words turned into a Piece in home units (N, mm, MPa).
/// Every key is checked; a key nobody knows is a fault. Independent faults are told in one run, first those
/// of reading, with those of sense (solver/piece/sense.hpp) in the parts that could be read.

#include "solver/piece/piece.hpp"

#include <string>
#include <string_view>

namespace hollowtop::cli {

/// The version of the piece file that this program reads.
inline constexpr int piece_file_version = 1;

/// Throws Error(input) with every fault found.
Piece piece_of_json(std::string_view text);

/// The same from a file; the error carries its name. Throws Error(input) too where the file cannot be read.
Piece load_piece(const std::string& file);

} // namespace hollowtop::cli
