// SPDX-License-Identifier: MIT
// The manual page, for `man`.
#include "cli/commands/manual_page.hpp"
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"

#include <array>

namespace hollowtop::cli {
namespace {

constexpr std::array<Option, 2> options{out_option, help_option};

Status run(const Given& given) {
    put_text(settings_of(given), manual_page());
    return Status::passes;
}

} // namespace

extern const Command manual_command{
    .name = "manual",
    .one_line = "the manual page, all help in one, for man",
    .names = "",
    .least_names = 0,
    .most_names = 0,
    .text = "Prints hollowtop(1) as man reads it. An installed package brings it along.",
    .example = "hollowtop manual --out hollowtop.1\n"
               "man -l hollowtop.1",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
