// SPDX-License-Identifier: MIT
#include "cli/words/quantity.hpp"

#include "cli/words/words.hpp"
#include "materials/error.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <span>
#include <utility>

namespace hollowtop::cli {
namespace {

constexpr double mm_per_inch = 25.4; // exact, international yard and pound agreement, 1959
constexpr double mm_per_foot = 12 * mm_per_inch;
constexpr double kg_per_pound = 0.45359237; // exact, the same agreement
constexpr double standard_gravity =
    9.80665; // m/s2, exact, 3rd General Conference on Weights and Measures, 1901
constexpr double N_per_lbf = kg_per_pound * standard_gravity;
constexpr double MPa_per_psi = N_per_lbf / (mm_per_inch * mm_per_inch);
constexpr double MPa_per_psf = N_per_lbf / (mm_per_foot * mm_per_foot);
constexpr double kg_m3_per_lb_ft3 = kg_per_pound / (mm_per_foot * mm_per_foot * mm_per_foot) * 1e9;

struct UnitWord {
    std::string_view word;
    double factor; ///< home unit per this unit
};

/// One kind of quantity: what a message calls it, how it is written, its units.
struct Kind {
    const char* name;
    const char* examples;
    std::span<const UnitWord> units;
};

// clang-format off
constexpr UnitWord length_units[] = {{"mm", 1}, {"cm", 10}, {"m", 1000}, {"in", mm_per_inch}, {"inch", mm_per_inch},
    {"inches", mm_per_inch}, {"\"", mm_per_inch}, {"ft", mm_per_foot}, {"foot", mm_per_foot}, {"feet", mm_per_foot},
    {"'", mm_per_foot}};
constexpr UnitWord force_units[] = {{"N", 1}, {"kN", 1000}, {"kg", standard_gravity}, {"kgf", standard_gravity},
    {"lb", N_per_lbf}, {"lbs", N_per_lbf}, {"lbf", N_per_lbf}};
constexpr UnitWord pressure_units[] = {{"kPa", 1e-3}, {"Pa", 1e-6}, {"MPa", 1}, {"kN/m2", 1e-3}, {"N/m2", 1e-6},
    {"N/mm2", 1}, {"kg/m2", standard_gravity * 1e-6}, {"kgf/m2", standard_gravity * 1e-6}, {"psf", MPa_per_psf},
    {"lb/ft2", MPa_per_psf}, {"psi", MPa_per_psi}};
constexpr UnitWord degree_units[] = {{"deg", 1}, {"degrees", 1}, {"", 1}};
constexpr UnitWord percent_units[] = {{"%", 1}, {"percent", 1}, {"", 1}};
constexpr UnitWord hertz_units[] = {{"Hz", 1}};
constexpr UnitWord modulus_units[] = {{"MPa", 1}, {"GPa", 1000}, {"N/mm2", 1}, {"kN/mm2", 1000}, {"psi", MPa_per_psi},
    {"ksi", 1000 * MPa_per_psi}};
constexpr UnitWord density_units[] = {{"kg/m3", 1}, {"g/cm3", 1000}, {"lb/ft3", kg_m3_per_lb_ft3}};
// clang-format on

constexpr Kind length_kind{"a length", R"("42 mm", "4.2 cm", "1-5/8 in" or "3'6\"")", length_units};
constexpr Kind force_kind{"a force", R"("600 N", "0.6 kN", "80 kg" or "180 lb")", force_units};
constexpr Kind pressure_kind{"a pressure", R"("1.5 kPa", "30 psf" or "25 kg/m2")", pressure_units};
constexpr Kind degree_kind{"an angle", R"(15 or "15 deg")", degree_units};
constexpr Kind percent_kind{"a percentage", R"(30 or "30 %")", percent_units};
constexpr Kind hertz_kind{"a frequency", R"("8 Hz")", hertz_units};
constexpr Kind modulus_kind{"a stiffness", R"("9800 MPa" or "9.8 GPa")", modulus_units};
constexpr Kind density_kind{"a density", R"("590 kg/m3" or "37 lb/ft3")", density_units};

[[noreturn]] void refuse(std::string what, std::string remedy) {
    throw Error(ErrorKind::input, Fault{.place = "", .what = std::move(what), .remedy = std::move(remedy)});
}

[[noreturn]] void refuse_as(std::string_view text, const Kind& kind) {
    refuse(in_quotes(text) + " is not " + kind.name, std::string("write it like ") + kind.examples);
}

/// Typographic marks as people paste them, turned into the plain ones.
std::string plain(std::string_view text) {
    static constexpr std::pair<std::string_view, std::string_view> marks[] = {
        {"\u2033", "\""}, {"\u201d", "\""}, {"\u2032", "'"}, {"\u2019", "'"},
        {"\u00b2", "2"},  {"\u00b3", "3"},  {"\u00b0", ""},  {"\u00a0", " "},
        {"\u202f", " "},  {"\u2044", "/"},  {"\u2013", "-"}, {"''", "\""}};
    std::string result(text);
    for (const auto& [mark, plain] : marks)
        for (auto at = result.find(mark); at != std::string::npos; at = result.find(mark, at + plain.size()))
            result.replace(at, mark.size(), plain);
    return result;
}

void skip_spaces(std::string_view& rest) {
    while (!rest.empty() && (rest.front() == ' ' || rest.front() == '\t')) rest.remove_prefix(1);
}

std::string_view trimmed(std::string_view text) {
    skip_spaces(text);
    while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
    return text;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::optional<double> take_decimal(std::string_view& rest) {
    if (rest.empty() || !(is_digit(rest.front()) || rest.front() == '.')) return std::nullopt;
    double value = 0;
    const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), value);
    if (error != std::errc{} || !std::isfinite(value)) return std::nullopt;
    rest.remove_prefix(static_cast<std::size_t>(end - rest.data()));
    return value;
}

/// "5/8", where both are whole numbers and the lower one is not zero.
std::optional<double> take_fraction(std::string_view& rest) {
    std::string_view ahead = rest;
    unsigned upper = 0;
    unsigned lower = 0;
    auto result = std::from_chars(ahead.data(), ahead.data() + ahead.size(), upper);
    if (result.ec != std::errc{}) return std::nullopt;
    ahead.remove_prefix(static_cast<std::size_t>(result.ptr - ahead.data()));
    if (ahead.empty() || ahead.front() != '/') return std::nullopt;
    ahead.remove_prefix(1);
    result = std::from_chars(ahead.data(), ahead.data() + ahead.size(), lower);
    if (result.ec != std::errc{} || lower == 0) return std::nullopt;
    ahead.remove_prefix(static_cast<std::size_t>(result.ptr - ahead.data()));
    rest = ahead;
    return static_cast<double>(upper) / static_cast<double>(lower);
}

/// "42", "4.2", "5/8", "1-5/8", "1 5/8".
std::optional<double> take_number(std::string_view& rest) {
    skip_spaces(rest);
    if (const auto fraction = take_fraction(rest)) return fraction;
    std::string_view ahead = rest;
    const auto whole = take_decimal(ahead);
    if (!whole) return std::nullopt;
    rest = ahead;
    if (*whole != std::floor(*whole) || ahead.empty() || (ahead.front() != '-' && ahead.front() != ' '))
        return whole;
    ahead.remove_prefix(1);
    skip_spaces(ahead);
    if (const auto fraction = take_fraction(ahead)) {
        rest = ahead;
        return *whole + *fraction;
    }
    return whole;
}

bool take_sign(std::string_view& rest) {
    skip_spaces(rest);
    const bool negative = !rest.empty() && rest.front() == '-';
    if (!rest.empty() && (rest.front() == '-' || rest.front() == '+')) rest.remove_prefix(1);
    return negative;
}

/// Finds the unit; refuses an unknown one with the list of those there are.
double factor_of(std::string_view word, std::string_view text, const Kind& kind) {
    for (const UnitWord& unit : kind.units)
        if (unit.word == word) return unit.factor;
    if (word.empty())
        refuse(in_quotes(text) + " has no unit",
               std::string("write the number without quotes, or with its unit: ") + kind.examples);
    if (word.find(',') == 0 && word.size() > 1 && is_digit(word[1]))
        refuse(in_quotes(text) + " has a comma in it",
               "write the decimal point as \".\" and leave out commas");
    std::string known;
    for (const UnitWord& unit : kind.units) {
        if (unit.word.empty() || !std::isalpha(static_cast<unsigned char>(unit.word.front()))) continue;
        known += (known.empty() ? "" : ", ") + std::string(unit.word);
    }
    const bool word_like = std::isalpha(static_cast<unsigned char>(word.front())) != 0;
    if (!word_like || known.empty()) refuse_as(text, kind);
    refuse(in_quotes(text) + ": " + in_quotes(word) + " is no unit of " +
               std::string(kind.name).substr(std::string(kind.name).find(' ') + 1) + " here",
           "use one of " + known);
}

/// A signed number and its unit.
double parse(std::string_view text, const Kind& kind) {
    const std::string plain_text = plain(text);
    std::string_view rest = trimmed(plain_text);
    const bool negative = take_sign(rest);
    const auto number = take_number(rest);
    if (!number) refuse_as(text, kind);
    const double value = *number * factor_of(trimmed(rest), text, kind);
    if (!std::isfinite(value)) refuse_as(text, kind);
    return negative ? -value : value;
}

bool take_foot_mark(std::string_view& rest) {
    skip_spaces(rest);
    for (const std::string_view mark : {"'", "feet", "foot", "ft"}) {
        if (rest.substr(0, mark.size()) != mark) continue;
        rest.remove_prefix(mark.size());
        return true;
    }
    return false;
}

/// "3'6\"", "3 ft 6-1/2 in", "3'-6\"": feet and inches; nothing where the text is not of that form.
std::optional<double> feet_and_inches(std::string_view text) {
    std::string_view rest = trimmed(text);
    const bool negative = take_sign(rest);
    const auto feet = take_number(rest);
    if (!feet || !take_foot_mark(rest)) return std::nullopt;
    skip_spaces(rest);
    if (!rest.empty() && rest.front() == '-') rest.remove_prefix(1);
    const auto inches = take_number(rest);
    if (!inches || *inches >= 12) return std::nullopt;
    const std::string_view unit = trimmed(rest);
    if (unit != "\"" && unit != "in" && unit != "inch" && unit != "inches") return std::nullopt;
    const double mm = *feet * mm_per_foot + *inches * mm_per_inch;
    if (!std::isfinite(mm)) return std::nullopt;
    return negative ? -mm : mm;
}

} // namespace

Length Length::from_inches(double inches) { return Length(inches * mm_per_inch); }
Length Length::of_number(double number, Units units) {
    return units == Units::inch ? from_inches(number) : Length(number);
}
Length Length::parse(std::string_view text) {
    if (const auto mm = feet_and_inches(plain(text))) return Length(*mm);
    return Length(cli::parse(text, length_kind));
}
Length Length::parse(std::string_view text, Units units) {
    const std::string plain_text = plain(text);
    std::string_view rest = trimmed(plain_text);
    const bool negative = take_sign(rest);
    const auto number = take_number(rest);
    const bool is_fraction = number && trimmed(rest).empty() && plain_text.find('/') != std::string::npos;
    if (is_fraction && units == Units::inch) return from_inches(negative ? -*number : *number);
    if (is_fraction)
        refuse(in_quotes(text) + " has no unit", "fractions are of inches: write \"" +
                                                     std::string(trimmed(plain_text)) +
                                                     " in\", or a number of mm");
    return parse(text);
}
double Length::inches() const { return mm_ / mm_per_inch; }

Force Force::of_number(double number, Units units) {
    return Force(units == Units::inch ? number * N_per_lbf : number);
}
Force Force::parse(std::string_view text) { return Force(cli::parse(text, force_kind)); }
double Force::kgf() const { return newtons_ / standard_gravity; }
double Force::lbf() const { return newtons_ / N_per_lbf; }

Pressure Pressure::of_number(double number, Units units) {
    return Pressure(number * (units == Units::inch ? MPa_per_psf : 1e-3));
}
Pressure Pressure::parse(std::string_view text) { return Pressure(cli::parse(text, pressure_kind)); }
double Pressure::psi() const { return MPa_ / MPa_per_psi; }
double Pressure::psf() const { return MPa_ / MPa_per_psf; }

namespace {
constexpr double celsius_of_fahrenheit(double fahrenheit) { return (fahrenheit - 32) / 1.8; }
} // namespace

Temperature Temperature::of_number(double number, Units units) {
    return Temperature(units == Units::inch ? celsius_of_fahrenheit(number) : number);
}
Temperature Temperature::parse(std::string_view text) {
    const std::string plain_text = plain(text);
    std::string_view rest = trimmed(plain_text);
    const bool negative = take_sign(rest);
    const auto number = take_decimal(rest);
    const std::string_view unit = trimmed(rest);
    if (!number || (unit != "C" && unit != "F"))
        refuse(in_quotes(text) + " is not a temperature", R"(write it like "18 C" or "64 F")");
    const double degrees = negative ? -*number : *number;
    return Temperature(unit == "F" ? celsius_of_fahrenheit(degrees) : degrees);
}

double pounds_of_kg(double kg) { return kg / kg_per_pound; }
double parse_degrees(std::string_view text) { return parse(text, degree_kind); }
double parse_percent(std::string_view text) { return parse(text, percent_kind); }
double parse_hertz(std::string_view text) { return parse(text, hertz_kind); }
double parse_modulus_MPa(std::string_view text) { return parse(text, modulus_kind); }
double parse_density_kg_m3(std::string_view text) { return parse(text, density_kind); }

bool speaks_of_span(std::string_view text) { return trimmed(text).substr(0, 4) == "span"; }

double parse_span_divisor(std::string_view text) {
    std::string_view rest = trimmed(text);
    const auto refuse_share = [&] {
        refuse(in_quotes(text) + " is not a share of the span", R"(write it like "span/300")");
    };
    if (!speaks_of_span(text)) refuse_share();
    rest.remove_prefix(4);
    skip_spaces(rest);
    if (rest.empty() || rest.front() != '/') refuse_share();
    rest.remove_prefix(1);
    skip_spaces(rest);
    const auto divisor = take_decimal(rest);
    if (!divisor || !(*divisor > 0) || !trimmed(rest).empty()) refuse_share();
    return *divisor;
}

} // namespace hollowtop::cli
