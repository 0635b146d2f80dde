// SPDX-License-Identifier: MIT
#pragma once
/// \file  "Did you mean ...?": names that look alike, by edit distance.
/// Distance: insertions, deletions, substitutions (Levenshtein 1966) and swaps of neighbours, each one.

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::materials {

/// Letters apart, capital and small letters alike.
std::size_t edit_distance(std::string_view a, std::string_view b);

/// The known names nearest to `word`, nearest first, at most `most`; only those that could be a slip of the
/// pen (a third of the letters and at least one). Empty where none is near.
std::vector<std::string> nearest_names(std::string_view word, std::span<const std::string> known,
                                       std::size_t most = 3);

/// `did you mean "a" or "b"?`; empty where none is near.
std::string did_you_mean(std::string_view word, std::span<const std::string> known);

/// Lower case, everything but letters and digits as one space: "Black-Cherry", "black_cherry" are "black
/// cherry".
std::string plain_words(std::string_view text);

} // namespace hollowtop::materials
