// SPDX-License-Identifier: MIT
#pragma once
/// \file  docs/checks.md: what is compared with what in every check, made from the table of checks itself.

#include <string>

namespace hollowtop::cli {

std::string checks_document();

} // namespace hollowtop::cli
