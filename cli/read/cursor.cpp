// SPDX-License-Identifier: MIT
#include "cli/read/cursor.hpp"

#include "cli/words/quantity.hpp"
#include "cli/words/words.hpp"
#include "materials/names.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <utility>

namespace hollowtop::cli {
namespace {

std::string shortest(double number) {
    std::array<char, 40> buffer{};
    const auto result = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number);
    return {buffer.data(), result.ptr};
}

std::string bounds_in_words(const Rule& rule) {
    std::string words;
    if (std::isfinite(rule.least))
        words = (rule.above_least ? "more than " : "at least ") + shortest(rule.least);
    if (std::isfinite(rule.most))
        words += (words.empty() ? "at most " : " and at most ") + shortest(rule.most);
    return "give " + words;
}

} // namespace

/// One kind of quantity: its name in messages, how it is written, how a number and how a text of it are
/// turned into home units.
struct Cursor::Quantity {
    const char* name;
    const char* way; ///< how to write it
    double (*of_number)(double, Units);
    double (*of_text)(std::string_view, Units); ///< nullptr where only a number will do
    double largest;                             ///< in home units; beyond it somebody slipped
    const char* largest_in_words;
};

// clang-format off
const Cursor::Quantity Cursor::length_kind{"a length", R"(write a number or a text like "42 mm" or "1-5/8 in")",
    [](double n, Units u) { return Length::of_number(n, u).mm(); }, [](std::string_view t, Units u) { return Length::parse(t, u).mm(); },
    1e5, "100 m"};
const Cursor::Quantity Cursor::force_kind{"a force", R"(write a number or a text like "600 N", "80 kg" or "180 lb")",
    [](double n, Units u) { return Force::of_number(n, u).N(); }, [](std::string_view t, Units) { return Force::parse(t).N(); },
    1e7, "10 000 kN"};
const Cursor::Quantity Cursor::pressure_kind{"a pressure", R"(write a number or a text like "1.5 kPa" or "30 psf")",
    [](double n, Units u) { return Pressure::of_number(n, u).MPa(); }, [](std::string_view t, Units) { return Pressure::parse(t).MPa(); },
    10, "10 MPa"};
const Cursor::Quantity Cursor::celsius_kind{"a temperature", R"(write it like "18 C" or "64 F")",
    [](double n, Units u) { return Temperature::of_number(n, u).celsius(); },
    [](std::string_view t, Units) { return Temperature::parse(t).celsius(); }, 1000, "1000 C"};
const Cursor::Quantity Cursor::degree_kind{"an angle", "write a number of degrees",
    [](double n, Units) { return n; }, [](std::string_view t, Units) { return parse_degrees(t); }, 1e4, "10 000"};
const Cursor::Quantity Cursor::percent_kind{"a percentage", "write a number of percent",
    [](double n, Units) { return n; }, [](std::string_view t, Units) { return parse_percent(t); }, 1e4, "10 000"};
const Cursor::Quantity Cursor::hertz_kind{"a frequency", R"(write a number or a text like "8 Hz")",
    [](double n, Units) { return n; }, [](std::string_view t, Units) { return parse_hertz(t); }, 1e6, "1 000 000 Hz"};
const Cursor::Quantity Cursor::modulus_kind{"a stiffness of material", R"(write a number of MPa or a text like "9.8 GPa")",
    [](double n, Units) { return n; }, [](std::string_view t, Units) { return parse_modulus_MPa(t); }, 1e7, "10 000 GPa"};
const Cursor::Quantity Cursor::density_kind{"a density", R"(write a number of kg/m3 or a text like "37 lb/ft3")",
    [](double n, Units) { return n; }, [](std::string_view t, Units) { return parse_density_kg_m3(t); }, 1e5, "100 000 kg/m3"};
const Cursor::Quantity Cursor::plain_kind{"a number", "write a number without quotes",
    [](double n, Units) { return n; }, nullptr, 1e9, "1e9"};
// clang-format on

void Cursor::fault(Message what, Message remedy) const {
    if (faults_->size() >= most_faults) return;
    faults_->push_back({.place = place_, .what = std::move(what), .remedy = std::move(remedy)});
}

void Cursor::fault_at(std::string_view key, Message what, Message remedy) const {
    if (faults_->size() >= most_faults) return;
    faults_->push_back({.place = place_of(key), .what = std::move(what), .remedy = std::move(remedy)});
}

std::string Cursor::place_of(std::string_view key) const {
    // A key nobody knows may hold anything: show it short and harmless.
    std::string name = in_quotes(key);
    name = name.substr(1, name.size() - 2);
    return place_.empty() ? name : place_ + '.' + name;
}

std::string Cursor::shown() const {
    switch (value_->kind) {
    case JsonValue::Kind::number:
        return shortest(value_->number);
    case JsonValue::Kind::text:
        return in_quotes(value_->text);
    case JsonValue::Kind::boolean:
        return value_->boolean ? "true" : "false";
    default:
        return name_of(value_->kind);
    }
}

bool Cursor::only(std::initializer_list<std::string_view> keys) const {
    if (value_->kind != JsonValue::Kind::object) {
        fault(shown() + " stands here, not an object", "write { ... } with keys inside");
        return false;
    }
    for (const auto& [key, value] : value_->members) {
        if (std::find(keys.begin(), keys.end(), key) != keys.end()) continue;
        const std::string guess = did_you_mean(key, {keys.begin(), keys.size()});
        fault_at(key, "no such key",
                 guess.empty() ? "the keys here are " + listed({keys.begin(), keys.size()}, "and") : guess);
    }
    return true;
}

bool Cursor::has(std::string_view key) const { return value_->find(key) != nullptr; }

std::optional<Cursor> Cursor::find(std::string_view key) const {
    if (const JsonValue* found = value_->find(key)) return Cursor(*found, place_of(key), units_, *faults_);
    return std::nullopt;
}

std::optional<std::string_view> Cursor::one_of(std::initializer_list<std::string_view> keys) const {
    std::vector<std::string_view> given;
    for (const std::string_view key : keys)
        if (has(key)) given.push_back(key);
    if (given.size() == 1) return given.front();
    if (given.empty())
        fault("a key is missing", "give " + listed({keys.begin(), keys.size()}));
    else
        fault(listed(given, "and") + " are both given", "keep one of them");
    return std::nullopt;
}

std::optional<double> Cursor::quantity(const Quantity& kind) const {
    std::optional<double> result;
    if (value_->kind == JsonValue::Kind::number) {
        result = kind.of_number(value_->number, units_);
    } else if (value_->kind == JsonValue::Kind::text && kind.of_text != nullptr) {
        result = parsed([&] { return kind.of_text(value_->text, units_); });
    } else {
        fault(shown() + " is not " + kind.name, kind.way);
    }
    if (result && !(std::abs(*result) <= kind.largest)) {
        fault(shown() + " is too large", std::string("give at most ") + kind.largest_in_words);
        return std::nullopt;
    }
    return result;
}

bool Cursor::in_bounds(double number, const Rule& rule) const {
    const bool too_small = rule.above_least ? !(number > rule.least) : !(number >= rule.least);
    const bool too_large = !(number <= rule.most);
    if (too_small) fault(shown() + " is too small", bounds_in_words(rule));
    if (too_large) fault(shown() + " is too large", bounds_in_words(rule));
    return !too_small && !too_large;
}

bool Cursor::read(std::string_view key, double& out, Rule rule, const Quantity& kind) const {
    const JsonValue* found = value_->find(key);
    if (found == nullptr) {
        if (rule.required) fault_at(key, "this key is missing", kind.way);
        return false;
    }
    const Cursor there(*found, place_of(key), units_, *faults_);
    const auto result = there.quantity(kind);
    if (!result || !there.in_bounds(*result, rule)) return false;
    out = *result;
    return true;
}

// clang-format off
bool Cursor::length(std::string_view key, double& out, Rule rule) const { return read(key, out, rule, length_kind); }
bool Cursor::force(std::string_view key, double& out, Rule rule) const { return read(key, out, rule, force_kind); }
bool Cursor::pressure(std::string_view key, double& out, Rule rule) const { return read(key, out, rule, pressure_kind); }
bool Cursor::degrees(std::string_view key, double& out, Rule rule) const { return read(key, out, rule, degree_kind); }
bool Cursor::percent(std::string_view key, double& out, Rule rule) const { return read(key, out, rule, percent_kind); }
bool Cursor::hertz(std::string_view key, double& out, Rule rule) const { return read(key, out, rule, hertz_kind); }
bool Cursor::celsius(std::string_view key, double& out, Rule rule) const { return read(key, out, rule, celsius_kind); }
bool Cursor::modulus_MPa(std::string_view key, double& out, Rule rule) const { return read(key, out, rule, modulus_kind); }
bool Cursor::density_kg_m3(std::string_view key, double& out, Rule rule) const { return read(key, out, rule, density_kind); }
bool Cursor::number(std::string_view key, double& out, Rule rule) const { return read(key, out, rule, plain_kind); }
// clang-format on

bool Cursor::whole_number(std::string_view key, int& out, Rule rule) const {
    double number = 0;
    if (!read(key, number, rule, plain_kind)) return false;
    if (number != std::floor(number)) {
        const Cursor there = *find(key);
        there.fault(there.shown() + " is not a whole number", "write it without a fraction");
        return false;
    }
    out = static_cast<int>(number);
    return true;
}

bool Cursor::boolean(std::string_view key, bool& out) const {
    const auto there = find(key);
    if (!there) return false;
    if (there->value_->kind != JsonValue::Kind::boolean) {
        there->fault(there->shown() + " stands here", "write true or false, without quotes");
        return false;
    }
    out = there->value_->boolean;
    return true;
}

std::optional<std::string> Cursor::as_text() const {
    constexpr std::size_t longest = 200;
    if (value_->kind != JsonValue::Kind::text) {
        fault(shown() + " is not a text", "write it in double quotes");
    } else if (value_->text.empty()) {
        fault("this text is empty", "write something between the quotes, or leave the key out");
    } else if (has_control_character(value_->text)) {
        fault("this text holds a line break or another control character", "keep it to one line");
    } else if (const auto characters = std::count_if(value_->text.begin(), value_->text.end(),
                                                     [](char c) {
                                                         return (static_cast<unsigned char>(c) & 0xC0U) !=
                                                                0x80;
                                                     }); // UTF-8: its first bytes
               static_cast<std::size_t>(characters) > longest) {
        fault("this text is too long", "keep it under " + std::to_string(longest) + " characters");
    } else {
        return value_->text;
    }
    return std::nullopt;
}

bool Cursor::text(std::string_view key, std::string& out, Rule rule) const {
    if (!has(key) && rule.required) fault_at(key, "this key is missing", "write a text in double quotes");
    const auto there = find(key);
    if (!there) return false;
    auto result = there->as_text();
    if (result) out = std::move(*result);
    return result.has_value();
}

namespace {

/// What people call kinds of supports, loads and holes, and the word of the piece file; empty for others.
std::string_view usual_word_for(std::string_view typed) {
    static constexpr std::pair<std::string_view, std::string_view> other_names[] = {
        {"leg", "pad"},
        {"legs", "pad"},
        {"foot", "pad"},
        {"feet", "pad"},
        {"post", "pad"},
        {"batten", "bearer"},
        {"cleat", "bearer"},
        {"trestle", "bearer"},
        {"cabinet", "bearer"},
        {"apron", "rail"},
        {"wall", "built_in"},
        {"fixed", "held"},
        {"pinned", "held"},
        {"point", "patch"},
        {"force", "patch"},
        {"weight", "patch"},
        {"person", "patch"},
        {"pressure", "area"},
        {"uniform", "area"},
        {"distributed", "area"},
        {"spread", "area"},
        {"edge", "line"},
        {"vise", "clamp"},
        {"vice", "clamp"},
        {"slot", "slotted"},
        {"slots", "slotted"},
        {"large", "oversize"},
        {"oversized", "oversize"},
        {"tight", "round"},
        {"glued", "bonded"},
        {"rect", "rectangle"},
        {"box", "rectangle"},
        {"circle", "ellipse"},
        {"round", "ellipse"},
        {"oval", "ellipse"},
        {"points", "polygon"},
        {"always", "permanent"},
        {"short_term", "short"},
        {"long_term", "long"},
        {"instant", "instantaneous"},
        {"quartersawn", "quarter"}};
    const std::string plain = materials::plain_words(typed);
    for (const auto& [other, word] : other_names)
        if (plain == other) return word;
    return {};
}

} // namespace

std::optional<std::size_t> Cursor::as_word(std::span<const std::string_view> words) const {
    if (value_->kind == JsonValue::Kind::text) {
        const auto found = std::find(words.begin(), words.end(), value_->text);
        if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
    }
    std::string near;
    if (value_->kind == JsonValue::Kind::text) {
        const std::string_view other = usual_word_for(value_->text);
        near = std::find(words.begin(), words.end(), other) != words.end()
                   ? "did you mean \"" + std::string(other) + "\"?"
               : value_->text.size() > 2 ? did_you_mean(value_->text, words)
                                         : std::string();
    }
    fault(shown() + " is not known here", (near.empty() ? "write " : near + " Write ") + listed(words));
    return std::nullopt;
}

bool Cursor::word(std::string_view key, std::span<const std::string_view> words, std::size_t& out,
                  Rule rule) const {
    if (!has(key) && rule.required) {
        fault_at(key, "this key is missing", "write " + listed(words));
        return false;
    }
    const auto there = find(key);
    if (!there) return false;
    const auto result = there->as_word(words);
    if (result) out = *result;
    return result.has_value();
}

std::vector<Cursor> Cursor::items(const MostParts& limit) const {
    const bool is_list = value_->kind == JsonValue::Kind::list;
    if (!is_list || value_->items.size() <= limit.most) return items();
    fault(too_many(limit, value_->items.size()), at_most(limit));
    return {};
}

std::vector<Cursor> Cursor::items() const {
    if (value_->kind != JsonValue::Kind::list) {
        fault(shown() + " stands here, not a list", "write [ ... ] with the values inside");
        return {};
    }
    std::vector<Cursor> result;
    result.reserve(value_->items.size());
    for (std::size_t i = 0; i < value_->items.size(); ++i)
        result.emplace_back(value_->items[i], place_ + '[' + std::to_string(i) + ']', units_, *faults_);
    return result;
}

std::optional<double> Cursor::as_length() const { return quantity(length_kind); }
std::optional<double> Cursor::as_degrees() const { return quantity(degree_kind); }

std::optional<std::vector<double>> Cursor::lengths(std::size_t count, const char* what) const {
    if (value_->kind != JsonValue::Kind::list || value_->items.size() != count) {
        const bool is_list = value_->kind == JsonValue::Kind::list;
        fault(is_list ? "this list has " + std::to_string(value_->items.size()) +
                            (value_->items.size() == 1 ? " value" : " values")
                      : shown() + " stands here",
              what);
        return std::nullopt;
    }
    std::vector<double> result;
    for (const Cursor& item : items())
        if (const auto length = item.as_length()) result.push_back(*length);
    if (result.size() != count) return std::nullopt;
    return result;
}

std::optional<Point> Cursor::as_point() const {
    const auto pair = lengths(2, "write a point as [x, y]");
    if (!pair) return std::nullopt;
    return Point{.x = (*pair)[0], .y = (*pair)[1]};
}

bool Cursor::point(std::string_view key, Point& out, Rule rule) const {
    if (!has(key) && rule.required) fault_at(key, "this key is missing", "write a point as [x, y]");
    const auto there = find(key);
    if (!there) return false;
    const auto result = there->as_point();
    if (result) out = *result;
    return result.has_value();
}

bool Cursor::range(std::string_view key, double& lower, double& upper, Rule rule) const {
    constexpr const char* way = "write it as [from, to]";
    if (!has(key) && rule.required) fault_at(key, "this key is missing", way);
    const auto there = find(key);
    if (!there) return false;
    const auto pair = there->lengths(2, way);
    if (!pair) return false;
    if (!((*pair)[0] < (*pair)[1])) {
        there->fault("the second value is not greater than the first", way);
        return false;
    }
    lower = (*pair)[0];
    upper = (*pair)[1];
    return true;
}

bool Cursor::rectangle(std::string_view key, Rectangle& out) const {
    const auto there = find(key);
    if (!there || !there->only({"x", "y"})) return false;
    Rectangle result;
    const bool x = there->range("x", result.x0, result.x1, required);
    const bool y = there->range("y", result.y0, result.y1, required);
    if (x && y) out = result;
    return x && y;
}

} // namespace hollowtop::cli
