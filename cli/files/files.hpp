// SPDX-License-Identifier: MIT
#pragma once
/// \file  Reading and writing whole files, so that nothing is left half written.

#include <string>
#include <vector>

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

/// What a run writes: `file` "-" is standard output.
struct Output {
    std::string file, option, content;
};
/// Writes each under another name in its folder, then what goes to standard output and to what is no ordinary file (a
/// device, a pipe), then renames: all files are whole, or each is as it was before. A symbolic link is followed, also
/// where it leads to nothing yet. Throws Error(not_computable).
void write_files(const std::vector<Output>& outputs);
/// The same of one.
void write_file(const std::string& file, const std::string& option, const std::string& content);

/// Writes to standard output. Throws Error(not_computable) where it does not take all of it (a full disk).
void print(const std::string& text);

/// Do the two names mean the same file, there already or not?
bool is_same_file(const std::string& one, const std::string& other);

} // namespace hollowtop::cli
