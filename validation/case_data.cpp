// SPDX-License-Identifier: MIT
#include "validation/case_data.hpp"

#include <algorithm>
#include <array>

namespace hollowtop::validation {
namespace {
#include "embedded_cases.inc"

constexpr auto cases = [] {
    std::array<CaseText, embedded_texts.size()> result{};
    std::transform(embedded_texts.begin(), embedded_texts.end(), result.begin(), [](const EmbeddedText& row) {
        return CaseText{row.name, row.text};
    });
    return result;
}();
} // namespace

std::span<const CaseText> built_in_cases() { return cases; }

} // namespace hollowtop::validation
