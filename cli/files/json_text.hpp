// SPDX-License-Identifier: MIT
#pragma once
/// \file  JSON text turned into plain values, and refused in words a furniture maker can act on.
/// Stricter than JSON where a slip would be silent: a key given twice is refused, and so are numbers too
/// large to hold.
/// Friendlier in one way: // and /* */ comments are skipped.
/// Limits: at most `deepest_nesting` lists or objects inside one another, and `most_keys` keys in an object.

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace hollowtop::cli {

/// A JSON value; only the member that `kind` names holds anything.
struct JsonValue {
    enum class Kind { null, boolean, number, text, list, object };
    Kind kind = Kind::null;
    bool boolean = false;
    double number = 0;
    std::string text = {};
    std::vector<JsonValue> items = {};                           ///< of a list
    std::vector<std::pair<std::string, JsonValue>> members = {}; ///< of an object, in the order of the file

    const JsonValue* find(std::string_view key) const; ///< nullptr where the object has no such key
};

/// What a message calls it: "a number", "a text", "a list", "an object", ...
const char* name_of(JsonValue::Kind kind);

inline constexpr int deepest_nesting = 32;
inline constexpr int most_keys = 200;

/// Throws Error(input) with line and column in words where the text is not JSON, or with the path of a key
/// given twice.
JsonValue parse_json(std::string_view text);

} // namespace hollowtop::cli
