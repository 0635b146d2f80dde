// SPDX-License-Identifier: MIT
#include "materials/digits.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstddef>

namespace hollowtop::materials {

std::string digits(double value, int significant) {
    if (!std::isfinite(value)) return "not a number";
    if (value == 0) return "0";
    const int places = significant - 1 - static_cast<int>(std::floor(std::log10(std::abs(value))));
    const double step = std::pow(10.0, places);
    // Whole numbers keep all their digits: a mass of 12345 stays 12345.
    const double rounded = places > 0 ? std::round(value * step) / step : std::round(value);
    if (rounded == 0) return "0";
    char text[64];
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

std::string cited(const std::string& source, const std::string& status) {
    // A row may name several sources, parted by "; ": the first is the one of the strengths and the moduli.
    const std::size_t end = std::min(source.find(", checked against"), source.find("; "));
    return " (" + source.substr(0, end) + ", " + status + ")";
}

} // namespace hollowtop::materials
