// SPDX-License-Identifier: MIT
#pragma once
/// \file  Bits of sentences that messages are made of.

#include "solver/piece/piece.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {

/// What somebody typed, in double quotes; cut where it is long, control characters shown as "?".
std::string in_quotes(std::string_view text);

/// `"a"`, `"a" or "b"`, `"a", "b" or "c"`; `joint` is the word before the last.
std::string listed(std::span<const std::string_view> words, std::string_view joint = "or");

/// `did you mean "metal"?`, or "" where none of the known words is near.
std::string did_you_mean(std::string_view word, std::span<const std::string_view> known);

/// The angle of the growth rings by how makers call the cut: "flatsawn", "plain-sawn" 0, "rift" 45, "Quarter
/// sawn" 90 degrees.
std::optional<double> ring_angle_of(std::string_view cut);

/// "round", "oversize", "slotted", "bonded", "dovetail": the words of the piece file.
const char* to_word(Holes holes);

bool has_control_character(std::string_view text);

/// The parts of a text between that character: one more than it stands there.
std::vector<std::string> parted(const std::string& text, char at);

} // namespace hollowtop::cli
