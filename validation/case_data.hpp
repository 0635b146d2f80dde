// SPDX-License-Identifier: MIT
#pragma once
/// \file  The validation cases of validation/cases/ as they are built into the program.

#include <span>
#include <string_view>

namespace hollowtop::validation {

/// One file of validation/cases/: its name without ".json", and its text.
struct CaseText {
    std::string_view name, text;
};

/// Every case, sorted by name.
std::span<const CaseText> built_in_cases();

} // namespace hollowtop::validation
