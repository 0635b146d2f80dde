// SPDX-License-Identifier: MIT
#pragma once
/// \file  The works that the numbers of a report lean on, each numbered once. Used by the report alone.

#include "cli/report/sections/report_input.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {

/// A work, and what the sentences of the result say where they lean on it.
struct Work {
    std::string_view mark, full;
    bool from_memory = false; ///< some sentence says that it was not read again
};

/// The works that this report names, in the order of their numbers: 1, 2, ...
std::vector<Work> works_of(const ReportInput& in);

/// "[1] Table 5-3a": a citation with the names of works turned into their numbers, and a dagger where it was
/// from memory. Without brackets about the whole.
std::string numbered(std::string_view citation, const std::vector<Work>& works);

} // namespace hollowtop::cli
