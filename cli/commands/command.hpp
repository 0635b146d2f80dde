// SPDX-License-Identifier: MIT
#pragma once
/// \file  A command as a plain row of a table: from it come the parser, the help and the list of commands.
/// Only commands that work stand in the table (commands/table.cpp).
/// What was typed (`Given`) is turned into what is meant (settings.hpp), then it is done (commands/NAME.cpp).

#include <cstddef>
#include <map>
#include <span>
#include <string>
#include <vector>

namespace hollowtop::cli {

/// Exit statuses, as the interface fixes them.
enum class Status {
    passes = 0,       ///< ran, and every check passes
    fails = 1,        ///< ran, and a check fails
    wrong_input = 2,  ///< the input or the command line is wrong: nothing computed, nothing written
    not_computed = 3, ///< could not be computed
};

struct Option {
    const char* name;       ///< "--json"
    const char* value;      ///< what follows it, "FILE"; "" for a switch
    const char* text;       ///< one sentence for the help
    bool repeats = false;   ///< may be given several times
    const char* also = "";  ///< a short way to write it, "-o"
    const char* words = ""; ///< what its value may be, parted by spaces, where a shell can offer that
};

/// What was typed after the command's name.
struct Given {
    std::vector<std::string> names; ///< what is no option, such as the piece files
    /// "--json" -> "out.json"; a switch -> ""; one that repeats: its values, parted by line feeds
    std::map<std::string, std::string> options;

    bool has(const char* option) const { return options.count(option) > 0; }
};

struct Command {
    const char* name;
    const char* one_line;
    const char* names; ///< what is no option, as the usage line shows it: "PIECE..."; "" for none
    std::size_t least_names, most_names;
    const char* text;    ///< a paragraph or two for its help
    const char* example; ///< command lines, one a line
    std::span<const Option> options;
    Status (*run)(const Given&);
    std::vector<std::string> (*offered)() =
        nullptr; ///< the names that a shell can offer, where there are such
};

/// Every command that works, in the order of the help.
std::span<const Command> commands();

} // namespace hollowtop::cli
