// SPDX-License-Identifier: MIT
// What a shell needs to complete the command line.
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/commands/shells.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"

#include <array>

namespace hollowtop::cli {
namespace {

constexpr std::array<Option, 2> options{out_option, help_option};

struct Shell {
    const char* name;
    std::string (*script)();
};
constexpr std::array<Shell, 3> shells{
    {{"bash", bash_completion}, {"zsh", zsh_completion}, {"fish", fish_completion}}};

Status run(const Given& given) {
    const std::string& wanted = given.names.front();
    const Settings settings = settings_of({.names = {}, .options = given.options});
    for (const Shell& shell : shells)
        if (wanted == shell.name) {
            put_text(settings, shell.script());
            return Status::passes;
        }
    throw Error(ErrorKind::input, Fault{in_quotes(wanted), "no such shell here", "give bash, zsh or fish"});
}

std::vector<std::string> names() {
    std::vector<std::string> all;
    for (const Shell& shell : shells) all.emplace_back(shell.name);
    return all;
}

} // namespace

extern const Command completion_command{
    .name = "completion",
    .one_line = "completion of the command line, for bash, zsh or fish",
    .names = "SHELL",
    .least_names = 1,
    .most_names = 1,
    .text =
        "Prints a script that completes commands, options and their values by the tabulator key. An "
        "installed package brings it along. Otherwise: in bash, source it; in zsh, write it as _hollowtop "
        "into a folder of $fpath; in fish, write it to ~/.config/fish/completions/hollowtop.fish.",
    .example = "hollowtop completion bash --out hollowtop.bash\n"
               "hollowtop completion fish",
    .options = options,
    .run = run,
    .offered = names,
};

} // namespace hollowtop::cli
