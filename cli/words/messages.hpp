// SPDX-License-Identifier: MIT
#pragma once
/// \file  How an error is shown: `file: place: what; remedy`, one line a fault, on standard error.

#include "materials/error.hpp"

#include <string>

namespace hollowtop::cli {

/// At most this many faults are shown; the rest are counted.
inline constexpr std::size_t most_faults_shown = 12;

/// An input error that knows its file: the file of a piece, or the command.
Error error_in(const std::string& file, Fault fault);

std::string message_of(const Error& error);
void show(const Error& error);
/// A sentence of the program itself: "hollowtop: ...".
void show(const std::string& sentence);

} // namespace hollowtop::cli
