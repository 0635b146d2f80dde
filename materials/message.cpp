// SPDX-License-Identifier: MIT
#include "materials/message.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <stdexcept>

namespace hollowtop {
namespace {

constexpr std::array<std::string_view, 8> unit_words{"", "mm", "cm3", "MPa", "kPa", "kg", "N", "C"};

/// At most so many significant digits, no trailing zeros.
std::string with_significant(double value, int n) {
    if (!std::isfinite(value)) return "not a number";
    if (value == 0) return "0";
    char text[64];
    constexpr double largest = 1e15,
                     least = 1e-15; // beyond them nobody counts the noughts, and they would not fit
    if (!(std::abs(value) < largest && std::abs(value) > least))
        return {text, std::to_chars(text, text + sizeof text, value, std::chars_format::general, n).ptr};
    const int places = n - 1 - static_cast<int>(std::floor(std::log10(std::abs(value))));
    const double step = std::pow(10.0, places);
    // Whole numbers keep all their digits: a mass of 12345 stays 12345.
    const double rounded = places > 0 ? std::round(value * step) / step : std::round(value);
    if (rounded == 0) return "0";
    const auto end =
        std::to_chars(text, text + sizeof text, rounded, std::chars_format::fixed, places > 0 ? places : 0)
            .ptr;
    std::string out(text, static_cast<std::size_t>(end - text));
    if (out.find('.') != std::string::npos) {
        while (out.back() == '0') out.pop_back();
        if (out.back() == '.') out.pop_back();
    }
    return out;
}

/// At most so many decimals, no trailing zeros, no "-0".
std::string with_decimals(double value, int n) {
    const double step = std::pow(10.0, n);
    const double rounded = std::isfinite(value) ? std::round(value * step) / step : value;
    std::array<char, 512> text{};
    const auto [end, error] =
        std::to_chars(text.data(), text.data() + text.size(), rounded + 0.0, std::chars_format::fixed, n);
    std::string digits(text.data(), error == std::errc() ? end : text.data());
    if (digits.find('.') == std::string::npos) return digits; // whole, inf, nan
    digits.erase(digits.find_last_not_of('0') + 1);
    if (digits.back() == '.') digits.pop_back();
    return digits;
}

/// Text runs together; amounts stand between.
class Parts {
  public:
    void add(std::string_view text) {
        if (text.empty()) return;
        if (parts_.empty() || !std::holds_alternative<std::string>(parts_.back()))
            parts_.emplace_back(std::string());
        std::get<std::string>(parts_.back()) += text;
    }
    void add(const Amounts& amounts) { parts_.emplace_back(amounts); }
    void add(const Messages& messages) {
        const auto& items = messages.items;
        for (std::size_t i = 0; i < items.size(); ++i) {
            const bool is_last = i + 1 == items.size();
            if (i > 0) add(is_last && !messages.last_joint.empty() ? messages.last_joint : messages.joint);
            add(items[i]);
        }
    }
    void add(const Value& value) {
        if (const auto* text = std::get_if<std::string>(&value)) return add(std::string_view(*text));
        if (const auto* amounts = std::get_if<Amounts>(&value)) return add(*amounts);
        add(std::get<Messages>(value));
    }
    void add(const Message& message) {
        if (message.pattern.empty()) {
            for (const Value& value : message.values) add(value);
            return;
        }
        std::string_view rest = message.pattern;
        for (const Value& value : message.values) {
            const std::size_t hole = rest.find("{}");
            add(rest.substr(0, hole));
            rest.remove_prefix(hole + 2);
            add(value);
        }
        add(rest);
    }
    std::vector<MessagePart> take() { return std::move(parts_); }

  private:
    std::vector<MessagePart> parts_;
};

int brackets_after(std::string_view text, int open) {
    for (const char c : text) {
        if (c == '(') ++open;
        if (c == ')' && open > 0) --open;
    }
    return open;
}

bool is_empty(const Value& value) {
    if (const auto* text = std::get_if<std::string>(&value)) return text->empty();
    if (std::holds_alternative<Amounts>(value)) return false;
    const auto& items = std::get<Messages>(value).items;
    return std::all_of(items.begin(), items.end(), [](const Message& m) { return m.empty(); });
}

} // namespace

std::string_view word_of(Unit unit) { return unit_words[static_cast<std::size_t>(unit)]; }

Unit unit_of(std::string_view word) {
    const auto found = std::find(unit_words.begin(), unit_words.end(), word);
    return found == unit_words.end() ? Unit::none : static_cast<Unit>(found - unit_words.begin());
}

Message::Message() = default;
Message::~Message() = default;
Message::Message(const Message&) = default;
Message::Message(Message&&) noexcept = default;
Message& Message::operator=(const Message&) = default;
Message& Message::operator=(Message&&) noexcept = default;
Message::Message(Literal literal) : pattern(literal.text) {}
Message::Message(std::string_view text) : Message(std::string(text)) {}
Message::Message(const Amounts& amounts) { values.emplace_back(amounts); }
Message::Message(std::string text) {
    if (!text.empty()) values.emplace_back(std::move(text));
}

bool Message::empty() const { return pattern.empty() && std::all_of(values.begin(), values.end(), is_empty); }

std::size_t Message::bytes() const {
    std::size_t bytes = values.capacity() * sizeof(Value);
    for (const Value& value : values) {
        if (const auto* text = std::get_if<std::string>(&value)) bytes += text->capacity();
        if (const auto* amounts = std::get_if<Amounts>(&value))
            bytes += amounts->values.capacity() * sizeof(double) +
                     amounts->joints.capacity() * sizeof(std::string_view);
        if (const auto* messages = std::get_if<Messages>(&value))
            for (const Message& item : messages->items) bytes += sizeof(Message) + item.bytes();
    }
    return bytes;
}

bool operator==(const Message& a, const Message& b) { return parts_of(a) == parts_of(b); }

Message operator+(Message first, Message then) {
    first += std::move(then);
    return first;
}

Message& operator+=(Message& first, Message then) {
    if (then.empty()) return first;
    if (first.empty()) return first = std::move(then);
    if (!first.pattern.empty()) {
        Message row;
        message_parts::put(row, first);
        first = std::move(row);
    }
    if (!then.pattern.empty()) {
        message_parts::put(first, then);
        return first;
    }
    for (Value& value : then.values) {
        auto* text = std::get_if<std::string>(&value);
        auto* before = std::get_if<std::string>(&first.values.back());
        if (text && before)
            *before += *text;
        else
            first.values.push_back(std::move(value));
    }
    return first;
}

Amounts amount(double value, Unit unit, Digits digits) {
    return {.values = {value}, .unit = unit, .digits = digits};
}

Amounts amounts(std::vector<double> values, std::string_view joint, Unit unit, Digits digits) {
    Amounts several{.values = std::move(values), .unit = unit, .digits = digits};
    if (!several.values.empty()) several.joints.assign(several.values.size() - 1, joint);
    return several;
}

Amounts number(double value, Digits digits) { return amount(value, Unit::none, digits); }

Message place(double x, double y, Digits digits) {
    return said(
        "x {}",
        Amounts{.values = {x, y}, .unit = Unit::mm, .digits = digits, .joints = {", y "}, .is_place = true});
}

Message bare_place(double x, double y, Digits digits) {
    return said("x {}", Amounts{.values = {x, y},
                                .unit = Unit::mm,
                                .digits = digits,
                                .joints = {", y "},
                                .is_place = true,
                                .is_bare = true});
}

namespace {

/// "30 to 50 N".
std::optional<Amounts> read_marked(std::string_view text) {
    constexpr std::array<std::string_view, 4> joints{" to ", " x ", " and ", " or "};
    constexpr int as_written = 9;
    Amounts read{.values = {}, .digits = significant(as_written)};
    while (true) {
        double value = 0;
        const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
        if (error != std::errc()) return std::nullopt;
        read.values.push_back(value);
        text.remove_prefix(static_cast<std::size_t>(end - text.data()));
        const auto joint = std::find_if(joints.begin(), joints.end(),
                                        [&](std::string_view j) { return text.starts_with(j); });
        if (joint == joints.end()) break;
        read.joints.push_back(*joint);
        text.remove_prefix(joint->size());
    }
    if (!text.starts_with(' ')) return std::nullopt;
    read.unit = unit_of(text.substr(1));
    return read.unit == Unit::none ? std::nullopt : std::optional(read);
}

} // namespace

Message marked(std::string_view text) {
    Message message;
    while (!text.empty()) {
        const std::size_t open = text.find('{');
        message += Message(text.substr(0, open));
        if (open == std::string_view::npos) break;
        const std::size_t close = text.find('}', open);
        const auto amounts = close == std::string_view::npos
                                 ? std::nullopt
                                 : read_marked(text.substr(open + 1, close - open - 1));
        if (!amounts) throw std::runtime_error("no amount in braces: " + std::string(text));
        message += Message(*amounts);
        text.remove_prefix(close + 1);
    }
    return message;
}

Message joined(std::vector<Message> items, std::string_view joint, std::string_view last_joint) {
    Message message;
    message.values.emplace_back(Messages{std::move(items), joint, last_joint});
    return message;
}

namespace message_parts {

void put(Message& message, const Amounts& amounts) { message.values.emplace_back(amounts); }
void put(Message& message, const std::string& text) { message.values.emplace_back(text); }
void put(Message& message, std::string_view text) { message.values.emplace_back(std::string(text)); }
void put(Message& message, const char* text) { message.values.emplace_back(std::string(text)); }
void put(Message& message, const Message& sentence) { put(message, Messages{{sentence}}); }
void put(Message& message, Messages sentences) { message.values.emplace_back(std::move(sentences)); }

} // namespace message_parts

std::vector<MessagePart> parts_of(const Message& message) {
    Parts parts;
    parts.add(message);
    return parts.take();
}

std::string rendered(const Message& message, const WriteAmounts& write) {
    const std::vector<MessagePart> parts = parts_of(message);
    std::string out;
    int open = 0;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (const auto* text = std::get_if<std::string>(&parts[i])) {
            open = brackets_after(*text, open);
            out += *text;
            continue;
        }
        const auto* next = i + 1 < parts.size() ? std::get_if<std::string>(&parts[i + 1]) : nullptr;
        out += write(std::get<Amounts>(parts[i]), open == 0 && !(next && next->starts_with(" (")));
    }
    return out;
}

std::string in_digits(double value, Digits digits) {
    return digits.count == Digits::Count::decimals ? with_decimals(value, digits.at_most)
                                                   : with_significant(value, digits.at_most);
}

std::string row_of(const Amounts& amounts, const std::function<std::string(double)>& show) {
    std::string row;
    for (std::size_t i = 0; i < amounts.values.size(); ++i) {
        if (i > 0) row += amounts.joints[i - 1];
        row += show(amounts.values[i]);
    }
    return row;
}

std::string in_own_units(const Amounts& amounts) {
    std::string text = row_of(amounts, [&](double value) { return in_digits(value, amounts.digits); });
    if (amounts.unit != Unit::none && !amounts.is_bare) (text += ' ') += word_of(amounts.unit);
    return text;
}

std::string in_own_units(const Message& message) {
    return rendered(message, [](const Amounts& amounts, bool) { return in_own_units(amounts); });
}

} // namespace hollowtop
