// SPDX-License-Identifier: MIT
#pragma once
/// \file  "Did you mean ...": the nearest of the words that are allowed.

#include <span>
#include <string>
#include <string_view>

namespace hollowtop::cli {

/// Fewest insertions, deletions, replacements and swaps of neighbours that turn one word into the other; upper and
/// lower case are one. (Restricted edit distance: Damerau, A technique for computer detection and correction of
/// spelling errors, Communications of the ACM 7(3), 1964.)
int edit_distance(std::string_view one, std::string_view other);

/// The nearest of `known`; empty where none is near (more than a third of the letters, and more than two, differ).
std::string_view nearest(std::string_view word, std::span<const std::string_view> known);

/// `"a"`, `"a" or "b"`, `"a", "b" or "c"`: words in quotes, for a message.
std::string listed(std::span<const std::string_view> words);

} // namespace hollowtop::cli
