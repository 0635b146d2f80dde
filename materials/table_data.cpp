// SPDX-License-Identifier: MIT
#include "materials/table_data.hpp"

#include <array>

namespace hollowtop::materials {
namespace {
#include "embedded_tables.inc"
} // namespace

std::string_view table_text(std::string_view name) {
    for (const EmbeddedText& table : embedded_texts) {
        if (table.name == name) return table.text;
    }
    return {};
}

} // namespace hollowtop::materials
