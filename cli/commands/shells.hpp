// SPDX-License-Identifier: MIT
#pragma once
/// \file  Completion scripts of shells, made from the table of commands as the help is.

#include <string>

namespace hollowtop::cli {

/// To be sourced, or to lie in share/bash-completion/completions/hollowtop.
std::string bash_completion();
/// To lie as _hollowtop in a folder of $fpath, or to be sourced after compinit.
std::string zsh_completion();
/// To be sourced, or to lie in share/fish/vendor_completions.d/hollowtop.fish.
std::string fish_completion();

} // namespace hollowtop::cli
