// SPDX-License-Identifier: MIT
#include "solver/piece/wording.hpp"

#include <array>
#include <charconv>
#include <cmath>

namespace hollowtop {

std::string plain(double value) {
    const double rounded = std::isfinite(value) ? std::round(value * 1000) / 1000 : value;
    std::array<char, 512> text{};
    const auto [end, error] =
        std::to_chars(text.data(), text.data() + text.size(), rounded + 0.0, std::chars_format::fixed, 3);
    std::string digits(text.data(), error == std::errc() ? end : text.data());
    if (digits.find('.') == std::string::npos) return digits; // inf, nan
    digits.erase(digits.find_last_not_of('0') + 1);
    if (digits.back() == '.') digits.pop_back();
    return digits;
}

std::string in_mm(double length) { return plain(length) + " mm"; }

std::string place_text(Point at) { return "x " + plain(at.x) + ", y " + plain(at.y); }

} // namespace hollowtop
