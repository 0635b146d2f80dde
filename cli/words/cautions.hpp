// SPDX-License-Identifier: MIT
#pragma once
/// \file  What every report has to say besides its numbers: the one list, printed by `check`, by `--help` and
/// in the JSON.
/// Common practice of the trade, in our words; figures in it carry their status in docs/guide.

#include <span>
#include <string_view>

namespace hollowtop::cli {

/// What the numbers do not cover: of every result.
std::span<const std::string_view> cautions();

/// How the routing itself can go wrong: of a top that has a recess.
std::span<const std::string_view> router_cautions();

} // namespace hollowtop::cli
