// SPDX-License-Identifier: MIT
#include "cli/files/json_text.hpp"

#include "materials/error.hpp"

#include <nlohmann/json.hpp>

#include <array>
#include <cmath>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>

namespace hollowtop::cli {
namespace {

using Json = nlohmann::json;

struct Mark {
    std::size_t line = 1, column = 1;
};

Mark output_point_of(std::string_view text, std::size_t offset) {
    Mark spot;
    for (std::size_t i = 0; i < offset && i < text.size(); ++i) {
        if (text[i] == '\n') {
            ++spot.line;
            spot.column = 1;
        } else if ((static_cast<unsigned char>(text[i]) & 0xC0U) !=
                   0x80U) { // one column a character, not a byte
            ++spot.column;
        }
    }
    return spot;
}

[[noreturn]] void refuse_text(std::string place, std::string what, std::string remedy) {
    throw Error(ErrorKind::input, Fault{std::move(place), std::move(what), std::move(remedy)});
}

/// What the library found and what it had hoped for, taken from its message.
struct Mishap {
    std::string context, unexpected, expected;
};

std::string between(const std::string& text, const std::string& from, const std::string& to) {
    const auto start = text.find(from);
    if (start == std::string::npos) return {};
    const auto begin = start + from.size();
    const auto end = to.empty() ? std::string::npos : text.find(to, begin);
    return text.substr(begin, end == std::string::npos ? end : end - begin);
}

struct Words {
    std::string what, remedy;
};

/// The slips people make when they write JSON by hand, each in plain words.
Words in_words(const Mishap& mishap, const std::string& message) {
    const bool in_object = mishap.context.rfind("object", 0) == 0;
    const bool in_list = mishap.context.rfind("array", 0) == 0;
    if (mishap.unexpected == "end of input") {
        if (in_object || in_list)
            return {"the file ends too early",
                    std::string("a closing ") + (in_object ? "}" : "]") + " is missing"};
        return {"the file ends too early", "something is missing after its last character"};
    }
    if (mishap.context == "object key" && mishap.unexpected == "'}'")
        return {"there is a comma before the }", "take that comma out"};
    if (mishap.context == "value" && mishap.unexpected == "']'")
        return {"there is a comma before the ]", "take that comma out"};
    if (mishap.context == "object key")
        return {"a key in double quotes is missing here", R"(write it like "length": 1900)"};
    if (mishap.context == "object separator")
        return {"a colon is missing after the key", R"(write it like "length": 1900)"};
    if (mishap.context == "value" && (mishap.unexpected == "','" || mishap.unexpected == "'}'"))
        return {"a value is missing here", "write a number, a text in double quotes, a list or an object"};
    if (message.find("missing closing quote") != std::string::npos ||
        message.find("U+000A") != std::string::npos)
        return {"a text is not closed on its line", "write the closing double quote"};
    if (message.find("invalid comment") != std::string::npos)
        return {"a comment is not closed", "write // for the rest of a line, or /* ... */"};
    if (message.find("ill-formed UTF-8") != std::string::npos)
        return {"this is not UTF-8 text", "save the file as UTF-8"};
    if (message.find("invalid string") != std::string::npos)
        return {"a text holds something that cannot stand in it",
                R"(write \" for a double quote and \\ for a backslash)"};
    if (message.find("invalid number") != std::string::npos)
        return {"this is not a number",
                R"(write 0.5 rather than .5, and a quantity with a unit in quotes: "42 mm")"};
    if (message.find("invalid literal") != std::string::npos)
        return {"a word stands here without quotes", R"(write texts in double quotes: "mm")"};
    if (mishap.expected == "end of input")
        return {"more text follows after the end of the piece", "keep one pair of outer braces { }"};
    if (in_object || in_list)
        return {"a comma is missing before this",
                std::string("write a comma between ") + (in_object ? "keys" : "values")};
    return {"this cannot be read", "a piece file is JSON; see docs/examples"};
}

/// Builds the value while the library reads, and refuses a repeated key on the spot.
class Reader final : public nlohmann::json_sax<Json> {
  public:
    explicit Reader(std::string_view text) : text_(text) {}
    JsonValue take() { return std::move(root_); }

    bool null() override { return put({}); }
    bool boolean(bool value) override { return put({.kind = JsonValue::Kind::boolean, .boolean = value}); }
    bool number_integer(number_integer_t value) override { return number(static_cast<double>(value)); }
    bool number_unsigned(number_unsigned_t value) override { return number(static_cast<double>(value)); }
    bool number_float(number_float_t value, const string_t&) override { return number(value); }
    bool string(string_t& value) override {
        return put({.kind = JsonValue::Kind::text, .text = std::move(value)});
    }
    bool binary(binary_t&) override { return false; }
    bool start_object(std::size_t) override { return open(JsonValue::Kind::object); }
    bool start_array(std::size_t) override { return open(JsonValue::Kind::list); }
    bool end_object() override { return close(); }
    bool end_array() override { return close(); }

    bool key(string_t& name) override {
        JsonValue& object = *open_.back();
        if (object.find(name) != nullptr)
            refuse_text(path() + name, "this key is given twice", "keep one of them");
        if (object.members.size() >= static_cast<std::size_t>(most_keys))
            refuse_text(path() + name, "there are more than " + std::to_string(most_keys) + " keys here",
                        "no part of a piece file has so many");
        object.members.emplace_back(std::move(name), JsonValue{});
        return true;
    }

    bool parse_error(std::size_t position, const std::string& last_token,
                     const Json::exception& error) override {
        const std::string message = error.what();
        if (message.find("number overflow") != std::string::npos)
            refuse_text(at(position - raw_length(last_token)), "this number is too large",
                        "write a smaller one");
        // "unexpected X; expected Y": each is looked for on its own side of the semicolon.
        const Mishap mishap{.context = between(message, "while parsing ", " - "),
                            .unexpected = between(message, "unexpected ", ";"),
                            .expected = between(between(message, "; ", ""), "expected ", "")};
        const std::size_t offset = offset_of(mishap, message, position, last_token);
        const bool bare_point = offset < text_.size() && (text_[offset] == '.' || text_[offset] == '+');
        const Words words = in_words(mishap, bare_point ? "invalid number" : message);
        refuse_text(at(offset), words.what, words.remedy);
    }

  private:
    /// The library shows a control character as <U+000A>: counted as the one byte that it is.
    static std::size_t raw_length(const std::string& token) {
        constexpr std::size_t shown = 8;
        std::size_t length = token.size();
        for (auto mark = token.find("<U+00"); mark != std::string::npos; mark = token.find("<U+00", mark + 1))
            length -= shown - 1;
        return length;
    }

    /// Where the offending token starts. The library tells where it stopped; only texts and numbers are
    /// handed out from their first character on.
    std::size_t offset_of(const Mishap& mishap, const std::string& message, std::size_t position,
                          const std::string& last_token) const {
        if (mishap.unexpected.rfind("end of input", 0) == 0) return text_.size();
        if (message.find("invalid comment") != std::string::npos) return text_.rfind('/');
        const bool from_its_start = mishap.unexpected == "string literal" ||
                                    mishap.unexpected == "number literal" ||
                                    message.find("invalid string") != std::string::npos ||
                                    message.find("invalid number") != std::string::npos;
        const std::size_t length = from_its_start ? raw_length(last_token) : 1;
        return position > length ? position - length : 0;
    }

    std::string at(std::size_t offset) const {
        const Mark spot = output_point_of(text_, offset);
        return "line " + std::to_string(spot.line) + ", column " + std::to_string(spot.column);
    }

    /// Path of the object that is open, ready for a key to be added.
    std::string path() const {
        std::string place;
        for (std::size_t i = 0; i + 1 < open_.size(); ++i) {
            const JsonValue& outer = *open_[i];
            if (outer.kind == JsonValue::Kind::list) {
                place += '[' + std::to_string(outer.items.size() - 1) + ']';
            } else {
                place += (place.empty() ? "" : ".") + outer.members.back().first;
            }
        }
        return place.empty() ? place : place + '.';
    }

    bool number(double value) { return put({.kind = JsonValue::Kind::number, .number = value}); }

    bool put(JsonValue value) {
        place_for_next() = std::move(value);
        return true;
    }

    JsonValue& place_for_next() {
        if (open_.empty()) return root_;
        JsonValue& outer = *open_.back();
        if (outer.kind == JsonValue::Kind::object) return outer.members.back().second;
        return outer.items.emplace_back();
    }

    bool open(JsonValue::Kind kind) {
        if (open_.size() >= static_cast<std::size_t>(deepest_nesting))
            refuse_text("",
                        "lists and objects are nested more than " + std::to_string(deepest_nesting) + " deep",
                        "a piece file needs six levels at most");
        JsonValue& value = place_for_next();
        value.kind = kind;
        open_.push_back(&value); // stays valid: its list grows again only after this value is closed
        return true;
    }

    bool close() {
        open_.pop_back();
        return true;
    }

    std::string_view text_;
    JsonValue root_;
    std::vector<JsonValue*> open_;
};

} // namespace

const JsonValue* JsonValue::find(std::string_view key) const {
    for (const auto& [name, value] : members)
        if (name == key) return &value;
    return nullptr;
}

const char* name_of(JsonValue::Kind kind) {
    switch (kind) {
    case JsonValue::Kind::null:
        return "null";
    case JsonValue::Kind::boolean:
        return "true or false";
    case JsonValue::Kind::number:
        return "a number";
    case JsonValue::Kind::text:
        return "a text";
    case JsonValue::Kind::list:
        return "a list";
    case JsonValue::Kind::object:
        return "an object";
    }
    return "";
}

JsonValue parse_json(std::string_view text) {
    if (text.find_first_not_of(" \t\r\n") == std::string_view::npos)
        refuse_text("", "the file is empty", "see docs/examples for pieces to start from");
    Reader reader(text);
    constexpr bool strict = true;
    constexpr bool ignore_comments = true;
    Json::sax_parse(text.begin(), text.end(), &reader, Json::input_format_t::json, strict, ignore_comments);
    return reader.take();
}

} // namespace hollowtop::cli
