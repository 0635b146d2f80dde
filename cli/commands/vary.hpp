// SPDX-License-Identifier: MIT
#pragma once
/// \file  What to vary, as it is typed: "depth=16..26 step 2", "section=all angles under 40",
/// "front.spacing=120,180".
/// A list is parted by commas; a range is LOW..HIGH with "step S" or "in N" (so many values, both ends among
/// them). A length without a unit is in the units of the piece.

#include "solver/variants/space.hpp"

#include <span>
#include <string>

namespace hollowtop::cli {

/// One thing that can be varied, for the help.
struct VaryKey {
    const char* name;
    const char* example;
    const char* text;
};
std::span<const VaryKey> vary_keys();

/// Throws Error(input), with `--vary` as its place, where it cannot be understood.
Axis read_axis(const std::string& text, const Piece& base);

} // namespace hollowtop::cli
