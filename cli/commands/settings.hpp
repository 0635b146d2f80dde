// SPDX-License-Identifier: MIT
#pragma once
/// \file  The options that several commands share, and what they mean.

#include "cli/commands/command.hpp"
#include "cli/files/files.hpp"
#include "cli/text/check_text.hpp"
#include "solver/check/check_piece.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace hollowtop::cli {

// clang-format off
inline constexpr Option json_option{"--json", "FILE", "write the full result as JSON to FILE (- for standard output, in place of the text)"};
inline constexpr Option junit_option{"--junit", "FILE", "write what passes and what fails as JUnit's XML to FILE, for a build server"};
inline constexpr Option units_option{"--units", "mm|in", "units of the text (where not given: those of the piece file)", false, "", "mm in"};
inline constexpr Option mesh_option{"--mesh", "SIZE", "fineness of the computation: coarse, normal, fine, or a length such as 25mm or 1in", false, "", "coarse normal fine"};
inline constexpr Option threads_option{"--threads", "N", "how many threads to use (where not given: as many as the machine has)"};
inline constexpr Option out_option{"--out", "FILE", "write the text to FILE, in place of the screen", false, "-o"};
inline constexpr Option quiet_option{"--quiet", "", "print nothing; the exit status tells the verdict"};
inline constexpr Option no_color_option{"--no-color", "", "no colour (nor with the variable NO_COLOR set, nor into a file or a pipe)"};
inline constexpr Option help_option{"--help", "", "show this help"};
// clang-format on

struct Settings {
    std::optional<Units> units;
    CheckOptions check;
    std::string json_file; ///< empty: none; "-": standard output
    std::string out_file;  ///< of the text; empty: standard output
    bool quiet = false;
    bool coloured = false;
    bool bar_wanted = false; ///< standard error is a terminal and --quiet is not given

    bool json_to_output() const { return json_file == "-"; }
    bool text_wanted() const { return !quiet && !json_to_output(); }
    TextStyle style(Units of_the_piece) const {
        return {.units = units.value_or(of_the_piece), .coloured = coloured};
    }
};

/// The file of --junit, which can be written; empty where not given.
std::string junit_file_of(const Given& given);

/// Throws Error(input), with the option as its place, where a value makes no sense; asks whether FILE could
/// be written.
Settings settings_of(const Given& given);

/// Throws Error(input) where one of the files that are written is one of `pieces`, or is written twice: however the names are
/// spelled. `outputs`: option and file; empty ones and "-" are left out.
void ensure_apart(const std::vector<std::string>& pieces,
                  const std::vector<std::pair<const char*, std::string>>& outputs);

/// The text of a command and its JSON (empty file: none) among what it writes, for write_files().
void add_text(std::vector<Output>& outputs, const Settings& settings, std::string text);
void add_json(std::vector<Output>& outputs, const std::string& file, std::string json);

/// The text of a command, where one is wanted: to the file of --out, or to standard output.
void put_text(const Settings& settings, const std::string& text);

} // namespace hollowtop::cli
