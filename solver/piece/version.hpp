// SPDX-License-Identifier: MIT
#pragma once
/// \file  The program's version, one place for all who print it.

namespace hollowtop {

inline constexpr const char* program_version = "0.1.0";

} // namespace hollowtop
