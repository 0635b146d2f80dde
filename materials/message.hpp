// SPDX-License-Identifier: MIT
#pragma once
/// \file  A sentence as data: a pattern with holes, and what stands in them.
///
///     said("span of {} / {}", amount(1270, Unit::mm), number(300))
///         in our own units    "span of 1270 mm / 300"
///         in other units      whatever the one who writes amounts makes of 1270 mm
///
/// The pattern stands where the fault is found or the capacity is reckoned, so that a check stays one file, and
/// it is the key by which a sentence may be said in other words. Amounts keep their value, unit and digits:
/// nobody has to read a sentence to turn it into other units. Text in a hole is taken as it is: somebody's
/// word, a name, a section, a formula, a source.

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

namespace hollowtop {

/// What an amount is measured in; `none` for numbers that are the same in all units.
enum class Unit { none, mm, cm3, MPa, kPa, kg, N, C };

/// "mm"; empty for `none`.
std::string_view word_of(Unit unit);
/// `none` for any other word.
Unit unit_of(std::string_view word);

/// How many digits are shown in our own units; trailing zeros are not.
struct Digits {
    enum class Count { significant, decimals };
    Count count = Count::significant; ///< whole numbers keep all their digits
    int at_most = 3;
    bool operator==(const Digits&) const = default;
};
constexpr Digits significant(int n) { return {Digits::Count::significant, n}; }
constexpr Digits decimals(int n) { return {Digits::Count::decimals, n}; }

/// One amount, or several that share the unit behind the last: "45 mm", "20 and 45 mm", "0, 40 or 80 mm".
struct Amounts {
    std::vector<double> values;
    Unit unit = Unit::none;
    Digits digits{};
    std::vector<std::string_view> joints{}; ///< literals, one between each two
    bool is_place = false;                  ///< coordinates, not a dimension
    bool is_bare = false;                   ///< its unit is not said
    bool is_drawn_in_inches = false;        ///< a place of a piece whose file is in inches
    bool operator==(const Amounts&) const = default;
};

struct Message;
/// Messages one after another; one alone is a sentence within a sentence.
struct Messages {
    std::vector<Message> items;
    std::string_view joint{}, last_joint{}; ///< literals; an empty last one is as the others
};

using Value = std::variant<std::string, Amounts, Messages>;

/// A sentence, or a piece of one.
struct Message {
    std::string_view pattern{}; ///< a literal with a "{}" for each value; empty: the values one after another
    std::vector<Value> values{};

    Message();
    ~Message();
    Message(const Message&);
    Message(Message&&) noexcept;
    Message& operator=(const Message&);
    Message& operator=(Message&&) noexcept;
    /// A sentence without holes.
    template <std::size_t N> Message(const char (&literal)[N]) : Message(Literal{{literal, N - 1}}) {}
    /// Text as it is.
    Message(std::string text);
    Message(std::string_view text);
    template <class Text>
    requires std::is_same_v<Text, const char*> Message(Text text) : Message(std::string(text)) {}
    Message(const Amounts& amounts);

    bool empty() const;
    /// That it takes beside itself.
    std::size_t bytes() const;

  private:
    struct Literal {
        std::string_view text;
    };
    Message(Literal literal);
};

/// Alike in what they say: runs of text and amounts, however they were put together.
bool operator==(const Message& a, const Message& b);
/// One after the other.
Message operator+(Message first, Message then);
Message& operator+=(Message& first, Message then);

Amounts amount(double value, Unit unit, Digits digits = significant(3));
/// "18 x 24 mm", "20 to 45 mm".
Amounts amounts(std::vector<double> values, std::string_view joint, Unit unit,
                Digits digits = significant(3));
/// The same in all units.
Amounts number(double value, Digits digits = significant(3));
/// "x 950, y 60 mm".
Message place(double x, double y, Digits digits);
/// "x 950, y 60".
Message bare_place(double x, double y, Digits digits);

/// Text of our own tables, in which amounts stand in braces: "a thumb pressed hard, about {50 N} on {20 mm}",
/// "{30 to 50 N}". Throws std::runtime_error for braces that hold no amount.
Message marked(std::string_view text);

/// "a, b or c".
Message joined(std::vector<Message> items, std::string_view joint, std::string_view last_joint = {});

/// Is there an amount in plain text, such as "12 mm", that no one could say in other units? Not a formula
/// ("25 d l N/mm"), nor a section ("30x30x3").
constexpr bool states_amount(std::string_view text) {
    constexpr std::string_view units[]{"mm", "cm3", "MPa", "kPa", "kg", "N", "C"};
    const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
    const auto is_joined = [&](char c) {
        return is_digit(c) || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' || c == '^' ||
               c == '/' || c == '*' || static_cast<unsigned char>(c) >= 0x80;
    };
    for (std::size_t at = 0; at + 1 < text.size(); ++at) {
        if (!is_digit(text[at])) continue;
        const std::string_view rest = text.substr(at + (text[at + 1] == ' ' ? 2 : 1));
        for (const std::string_view unit : units)
            if (rest.starts_with(unit) && (rest.size() == unit.size() || !is_joined(rest[unit.size()])))
                return true;
    }
    return false;
}

namespace message_parts {

constexpr std::size_t holes_in(std::string_view pattern) {
    std::size_t n = 0;
    for (auto at = pattern.find("{}"); at != std::string_view::npos; at = pattern.find("{}", at + 2)) ++n;
    return n;
}

/// A pattern with as many holes as there are values: seen when it is compiled.
template <class... Values> struct Pattern {
    std::string_view text;
    template <std::size_t N> consteval Pattern(const char (&literal)[N]) : text(literal, N - 1) {
        if (holes_in(text) != sizeof...(Values)) throw "as many holes as values";
        if (states_amount(text)) throw "an amount belongs in a hole";
    }
};

/// The next value of a message. Out of line: sentences stand everywhere.
void put(Message& message, const Amounts& amounts);
void put(Message& message, const std::string& text);
void put(Message& message, std::string_view text);
void put(Message& message, const char* text);
void put(Message& message, const Message& sentence);
void put(Message& message, Messages sentences);
template <class Count>
requires std::is_integral_v<Count>
void put(Message& message, Count count) { put(message, std::to_string(count)); }

} // namespace message_parts

/// The pattern, a literal, with those values in its holes: amounts, text, whole numbers, other messages.
template <class... Values>
Message said(std::type_identity_t<message_parts::Pattern<Values...>> pattern, const Values&... values) {
    Message message;
    message.pattern = pattern.text;
    (message_parts::put(message, values), ...);
    return message;
}

/// Words for amounts. `bracket_fits`: something in brackets may be put behind them.
using WriteAmounts = std::function<std::string(const Amounts&, bool bracket_fits)>;

/// The sentence with its amounts as `write` has them.
std::string rendered(const Message& message, const WriteAmounts& write);

/// In N, mm, MPa, kg, kPa, C.
std::string in_own_units(const Message& message);
std::string in_own_units(const Amounts& amounts);
/// The number alone, as shown in our own units.
std::string in_digits(double value, Digits digits);
/// The numbers as `show` has them, between their joints; no unit.
std::string row_of(const Amounts& amounts, const std::function<std::string(double)>& show);

/// What a sentence is made of once its holes are filled: text and amounts in turn.
using MessagePart = std::variant<std::string, Amounts>;
std::vector<MessagePart> parts_of(const Message& message);

} // namespace hollowtop
