// SPDX-License-Identifier: MIT
#include "cli/words/format.hpp"

#include "materials/error.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <numeric>

namespace hollowtop::cli {
namespace {

void expect_finite(double value) {
    if (std::isfinite(value)) return;
    throw Error(ErrorKind::not_computable,
                Fault{.place = "",
                      .what = "a number of the result is not finite",
                      .remedy = "this is a fault of the program: please report it with the piece file"});
}

bool is_zero_text(std::string_view text) { return text.find_first_of("123456789") == std::string_view::npos; }

} // namespace

std::string fixed(double value, int decimals) {
    expect_finite(value);
    std::array<char, 400> buffer{}; // the largest double has 309 digits before the point
    const auto result = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                      std::chars_format::fixed, decimals);
    std::string text(buffer.data(), result.ptr);
    if (!text.empty() && text.front() == '-' && is_zero_text(text)) text.erase(0, 1);
    return text;
}

std::string significant(double value, int digits) {
    expect_finite(value);
    if (value == 0) return "0";
    std::array<char, 400> buffer{};
    const auto rounded = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                       std::chars_format::scientific, digits - 1);
    double kept = 0; // the value as the wanted digits say it
    std::from_chars(buffer.data(), rounded.ptr, kept);
    const double size = std::abs(kept);
    const bool is_handy = size >= 1e-4 && size < 1e9;
    const auto format = is_handy ? std::chars_format::fixed : std::chars_format::scientific;
    const auto shown = std::to_chars(buffer.data(), buffer.data() + buffer.size(), kept, format);
    return {buffer.data(), shown.ptr};
}

namespace {

std::string fraction_text(double inches, long parts) {
    expect_finite(inches);
    constexpr double largest = 1e9; // inches; a longer one keeps its decimals
    if (!(std::abs(inches) < largest)) return fixed(inches, 0);
    const long count = std::lround(std::abs(inches) * static_cast<double>(parts));
    const long whole = count / parts;
    const long rest = count % parts;
    std::string text = inches < 0 && count > 0 ? "-" : "";
    if (whole > 0 || rest == 0) text += std::to_string(whole);
    if (rest == 0) return text;
    const long divisor = std::gcd(rest, parts);
    if (whole > 0) text += '-';
    return text + std::to_string(rest / divisor) + '/' + std::to_string(parts / divisor);
}

} // namespace

std::string sixteenths(double inches) { return fraction_text(inches, 16); }

std::string sixty_fourths(double inches) {
    constexpr long parts = 64;
    const std::string text = fraction_text(inches, parts);
    const double nearest = std::round(inches * static_cast<double>(parts)) / static_cast<double>(parts);
    const double off_mm = Length::from_inches(inches).mm() - Length::from_inches(nearest).mm();
    constexpr double told_from_mm = 0.1;
    return std::abs(off_mm) <= told_from_mm ? text : text + (off_mm > 0 ? " +" : " -");
}

std::string reading_text(double mm, Units units) {
    return units == Units::mm ? fixed(mm, 2) + " mm" : fixed(Length::from_mm(mm).inches(), 3) + " in";
}

std::string movement_text(double mm, Units units) {
    if (units == Units::mm) {
        const std::string text = fixed(mm, 1);
        return is_zero_text(text) && mm != 0 ? "under 0.1 mm" : text + " mm";
    }
    const double inches = Length::from_mm(mm).inches();
    const std::string fraction = sixteenths(inches);
    const std::string decimal = fixed(inches, 3) + " in";
    if (mm == 0) return "0 in";
    return decimal + (fraction == "0" ? " (under 1/16)" : " (about " + fraction + ")");
}

std::string dimension_text(double mm, Units units) {
    if (units == Units::mm) {
        std::string text = fixed(mm, 1);
        if (text.ends_with(".0")) text.erase(text.size() - 2);
        return text + " mm";
    }
    const double inches = Length::from_mm(mm).inches();
    constexpr double as_drawn_mm = 0.05; // no pencil tells it
    for (const long parts : {16L, 64L}) {
        const double nearest = std::round(inches * static_cast<double>(parts)) / static_cast<double>(parts);
        if (std::abs(mm - Length::from_inches(nearest).mm()) <= as_drawn_mm && (nearest != 0 || mm == 0))
            return fraction_text(inches, parts) + " in";
    }
    return sixteenths(inches) + " in (" + fixed(inches, 3) + ")";
}

std::string whole_dimension_text(double mm, Units units) {
    const std::string text = dimension_text(mm, units);
    constexpr double a_yard = 36, inches_a_foot = 12;
    const double inches = Length::from_mm(mm).inches();
    if (units == Units::mm || inches < a_yard) return text;
    constexpr long parts = 16;
    const long all = std::lround(inches * parts), a_foot = std::lround(inches_a_foot * parts);
    const std::string feet =
        std::to_string(all / a_foot) + " ft" +
        (all % a_foot > 0 ? " " + sixteenths(static_cast<double>(all % a_foot) / parts) + " in" : "");
    return text.ends_with(")") ? feet + ", " + text : feet + " (" + text + ")";
}

std::string place_text(Point at, Units units) {
    if (units == Units::mm) return fixed(at.x, 0) + ", " + fixed(at.y, 0);
    return sixteenths(Length::from_mm(at.x).inches()) + ", " + sixteenths(Length::from_mm(at.y).inches());
}

const char* place_unit(Units units) { return units == Units::mm ? "mm" : "in"; }

std::string stress_text(double MPa, Units units) {
    if (units == Units::inch) return fixed(Pressure::from_MPa(MPa).psi(), 0) + " psi";
    return fixed(MPa, std::abs(MPa) < 1 ? 2 : 1) + " MPa";
}

std::string force_text(double newtons, Units units) {
    const Force force = Force::from_N(newtons);
    if (units == Units::inch) return fixed(force.lbf(), 0) + " lbf";
    return fixed(newtons, 0) + " N (" + fixed(force.kgf(), 0) + " kg)";
}

std::string mass_text(double kg, Units units) {
    return units == Units::inch ? fixed(pounds_of_kg(kg), 1) + " lb" : fixed(kg, 1) + " kg";
}

std::string frequency_text(double hertz) { return fixed(hertz, 1) + " Hz"; }

std::string utilisation_text(double utilisation) {
    expect_finite(utilisation);
    constexpr double noise = 1e-9; // 0.83 is not quite 83 hundredths in binary
    double percent = std::ceil(utilisation * 100 - noise);
    if (utilisation > 1 && percent <= 100) percent = 101;
    return fixed(percent, 0) + " %";
}

std::string percent_text(double percent) { return fixed(percent, std::abs(percent) < 10 ? 1 : 0) + " %"; }

std::string error_text(double percent) {
    expect_finite(percent);
    return fixed(std::ceil(percent * 10) / 10, 1) + " %";
}

std::string amount_text(double value, std::string_view unit, Units units) {
    if (unit == "mm") {
        if (units == Units::mm) return movement_text(value, units);
        return fixed(Length::from_mm(value).inches(), 3) + " in";
    }
    if (unit == "MPa") return stress_text(value, units);
    if (unit == "N") return units == Units::mm ? fixed(value, 0) + " N" : force_text(value, units);
    if (unit == "kg") return mass_text(value, units);
    if (unit == "Hz") return frequency_text(value);
    return fixed(value, 2) + (unit == "1" || unit.empty() ? "" : " " + std::string(unit));
}

} // namespace hollowtop::cli
