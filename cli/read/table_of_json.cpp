// SPDX-License-Identifier: MIT
#include "cli/read/table_of_json.hpp"

#include "cli/files/json_text.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <vector>

namespace hollowtop::cli {
namespace {

[[noreturn]] void refuse(const std::string& place, Message what, Message remedy) {
    throw Error(ErrorKind::input, Fault{place, std::move(what), std::move(remedy)});
}

std::string cell_of(const JsonValue& value, const std::string& unit, const std::string& place) {
    switch (value.kind) {
    case JsonValue::Kind::number: {
        std::array<char, 32> digits{};
        const char* const end = std::to_chars(digits.data(), digits.data() + digits.size(), value.number).ptr;
        return std::string(digits.data(), static_cast<std::size_t>(end - digits.data())) +
               (unit.empty() ? "" : " " + unit);
    }
    case JsonValue::Kind::text:
        if (value.text.find_first_of(";\n\r") != std::string::npos)
            refuse(place, in_quotes(value.text) + " is more than one number",
                   R"(write a number, or one with its unit such as "0.48 mm")");
        return value.text;
    case JsonValue::Kind::null:
        return "-";
    default:
        refuse(place, std::string("is ") + name_of(value.kind), "write a number");
    }
}

} // namespace

bool is_json(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3); // as spreadsheets write it
    const std::size_t first = text.find_first_not_of(" \t\r\n");
    return first != std::string_view::npos && (text[first] == '{' || text[first] == '[');
}

std::string table_of_json(std::string_view text, std::span<const std::string_view> keys) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    const JsonValue root = parse_json(text);
    const JsonValue* list = &root;
    std::vector<std::string> units(keys.size());
    std::string known = "\"readings\"";
    if (root.kind == JsonValue::Kind::object) {
        list = root.find("readings");
        for (std::size_t k = 0; k < keys.size(); ++k) known += ", \"" + std::string(keys[k]) + "_unit\"";
        for (const auto& [key, value] : root.members) {
            if (key == "readings") continue;
            const auto of = std::find_if(keys.begin(), keys.end(), [&, &name = key](std::string_view one) {
                return name == std::string(one) + "_unit";
            });
            if (of == keys.end()) refuse(key, "is no key that is known here", "known are " + known);
            if (value.kind != JsonValue::Kind::text)
                refuse(key, std::string("is ") + name_of(value.kind), R"(write a unit such as "kg")");
            units[static_cast<std::size_t>(of - keys.begin())] = value.text;
        }
        if (list == nullptr) refuse("readings", "this key is missing", "known are " + known);
    }
    if (list->kind != JsonValue::Kind::list)
        refuse("readings", std::string("is ") + name_of(list->kind), "write a list of readings");
    std::string table;
    for (std::size_t i = 0; i < list->items.size(); ++i) {
        const JsonValue& item = list->items[i];
        const std::string place = "readings[" + std::to_string(i) + "]";
        std::vector<std::string> cells(keys.size(), "-");
        if (item.kind == JsonValue::Kind::list) {
            if (item.items.empty() || item.items.size() > keys.size())
                refuse(place, "holds " + std::to_string(item.items.size()) + " values",
                       "write one for each of: " + listed(keys));
            for (std::size_t k = 0; k < item.items.size(); ++k)
                cells[k] = cell_of(item.items[k], units[k], place + "[" + std::to_string(k) + "]");
        } else if (item.kind == JsonValue::Kind::object) {
            for (const auto& [key, value] : item.members) {
                const auto of = std::find(keys.begin(), keys.end(), key);
                if (of == keys.end())
                    refuse(place + "." + key, "is no key that is known here", "known are " + listed(keys));
                const auto k = static_cast<std::size_t>(of - keys.begin());
                cells[k] = cell_of(value, units[k], place + "." + key);
            }
        } else {
            refuse(place, std::string("is ") + name_of(item.kind), "write a list or an object");
        }
        for (std::size_t k = 0; k < cells.size(); ++k) table += (k > 0 ? ";" : "") + cells[k];
        table += '\n';
    }
    return table;
}

} // namespace hollowtop::cli
