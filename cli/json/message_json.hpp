// SPDX-License-Identifier: MIT
#pragma once
/// \file  A message as text in JSON.

#include "cli/words/said.hpp"

namespace hollowtop {

/// Found by the JSON library through the message's namespace.
template <class Json> void to_json(Json& json, const Message& message) { json = cli::as_drawn(message); }

} // namespace hollowtop
