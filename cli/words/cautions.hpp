// SPDX-License-Identifier: MIT
#pragma once
/// \file  What every report has to say besides its numbers: the one list, printed by `check`, by `--help` and
/// in the JSON.
/// Common practice of the trade, in our words; figures in it carry their status in docs/guide.

#include "materials/message.hpp"

#include <span>

namespace hollowtop::cli {

/// What the numbers do not cover: of every result.
std::span<const Message> cautions();

/// How the routing itself can go wrong: of a top that has a recess.
std::span<const Message> router_cautions();

} // namespace hollowtop::cli
