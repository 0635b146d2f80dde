// SPDX-License-Identifier: MIT
#pragma once
/// \file  Reading and writing whole files, so that nothing is left half written.

#include <string>

namespace hollowtop::cli {

/// As the name of a file: what is piped in.
inline constexpr const char* standard_input = "-";

/// The whole file. Throws Error(input), carrying the file's name, where it is missing, a folder, larger than
/// `largest_file` or not readable.
std::string read_file(const std::string& file);
inline constexpr std::size_t largest_file = 10'000'000; ///< bytes; a piece file has a few thousand

/// Throws Error(input) where `file` could not be written: asked before anything is computed. `option` is its
/// place in the message ("--json").
void ensure_writable(const std::string& file, const std::string& option);

/// Writes under another name in the same folder, then renames: the file is whole or untouched. What is no
/// ordinary file (a device, a pipe) is written directly. Throws Error(input).
void write_file(const std::string& file, const std::string& option, const std::string& content);

/// Do the two names mean the same existing file?
bool is_same_file(const std::string& one, const std::string& other);

} // namespace hollowtop::cli
