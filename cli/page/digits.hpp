// SPDX-License-Identifier: MIT
#pragma once
/// \file  Numbers to text and back by the C library alone, digit for digit as std::to_chars and std::from_chars of a
/// complete standard library write and read them. Headers only: stand_ins.hpp puts these in the place of what the library of
/// the page's compiler lacks, in every source. Needs the C locale and a C library whose printf and strtod are exact.

#include <charconv>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <limits>
#include <string>
#include <system_error>

namespace hollowtop::digits {

/// Which way of writing, as std::chars_format names them.
enum class Way { shorter, fixed, scientific, general };

/// The fewest digits that read back as the same number; of those the nearest to it. `digits` d1 d2 ... stand for d1.d2... x
/// 10^exponent.
struct Shortest {
    char digits[20];
    int count, exponent;
};

/// Is 10^exponent x d1.d2... of `text` (as printf's %e writes it) read back as `value`?
inline bool is_same(const char* text, double value) { return std::strtod(text, nullptr) == value; }

/// The digits of what %e wrote, without closing noughts.
inline Shortest taken_apart(const char* text) {
    Shortest out{};
    for (; *text != 'e'; ++text)
        if (*text != '.') out.digits[out.count++] = *text;
    out.exponent = std::atoi(text + 1);
    while (out.count > 1 && out.digits[out.count - 1] == '0') --out.count;
    return out;
}

/// The last of `text`'s digits (as %e wrote them) one further from nought; false where it is a nine.
inline bool one_further(char* text) {
    char* last = std::strchr(text, 'e') - 1;
    if (*last < '0' || *last > '8') return false;
    ++*last;
    return true;
}

/// Of a finite number above nought. A decimal of up to 15 digits survives the way into a double and back (DBL_DIG), so fewer
/// than 15 need no trial of their own; subnormal numbers have fewer digits and are tried from the first. printf gives the
/// nearest decimal of n digits; below a power of two, where the numbers stand twice as close as above, that may read back as the
/// neighbour while the next decimal above does not.
inline Shortest shortest(double value) {
    constexpr int most = std::numeric_limits<double>::max_digits10,
                  sure = std::numeric_limits<double>::digits10;
    char text[32];
    int exponent = 0;
    const bool is_power = std::frexp(value, &exponent) == 0.5;
    for (int n = value < std::numeric_limits<double>::min() ? 1 : sure; n < most; ++n) {
        std::snprintf(text, sizeof text, "%.*e", n - 1, value);
        if (is_same(text, value)) return taken_apart(text);
        if (is_power && one_further(text) && is_same(text, value)) return taken_apart(text);
    }
    std::snprintf(text, sizeof text, "%.*e", most - 1, value);
    return taken_apart(text);
}

inline std::to_chars_result put(char* first, char* last, const char* text, int size) {
    if (size < 0 || last - first < size) return {last, std::errc::value_too_large};
    std::memcpy(first, text, static_cast<std::size_t>(size));
    return {first + size, std::errc()};
}

inline int length_of_exponent(int exponent) { return std::abs(exponent) < 100 ? 2 : 3; }

/// How long each way is, without a sign.
inline int length_fixed(const Shortest& s) {
    if (s.exponent < 0) return 1 - s.exponent + s.count;            // 0.00ddd
    return s.exponent + 1 < s.count ? s.count + 1 : s.exponent + 1; // dd.ddd or ddd000
}
inline int length_scientific(const Shortest& s) {
    return s.count + (s.count > 1 ? 1 : 0) + 2 + length_of_exponent(s.exponent);
}

/// The shortest text of `value`; of two ways of one length the fixed one, as the standard has it ([charconv.to.chars]).
inline std::to_chars_result to_chars(char* first, char* last, double value, Way way = Way::shorter) {
    if (!std::isfinite(value)) {
        const char* word = std::isnan(value) ? (std::signbit(value) ? "-nan" : "nan")
                           : value < 0       ? "-inf"
                                             : "inf";
        return put(first, last, word, static_cast<int>(std::strlen(word)));
    }
    char text[400];
    char* at = text;
    if (std::signbit(value)) *at++ = '-';
    const double size = std::fabs(value);
    const Shortest s = size == 0 ? Shortest{{'0'}, 1, 0} : shortest(size);
    if (way == Way::shorter) way = length_fixed(s) <= length_scientific(s) ? Way::fixed : Way::scientific;
    if (way == Way::general) way = s.exponent < -4 || s.exponent >= 6 ? Way::scientific : Way::fixed; // as %g
    if (way == Way::scientific) {
        *at++ = s.digits[0];
        if (s.count > 1) *at++ = '.';
        for (int i = 1; i < s.count; ++i) *at++ = s.digits[i];
        at += std::snprintf(at, 8, "e%c%02d", s.exponent < 0 ? '-' : '+', std::abs(s.exponent));
    } else if (s.exponent + 1 >= s.count) { // whole: its own digits to the last
        at += std::snprintf(at, sizeof text - 1, "%.0f", size);
    } else {
        if (s.exponent < 0) {
            *at++ = '0';
            *at++ = '.';
            for (int i = -1; i > s.exponent; --i) *at++ = '0';
        }
        for (int i = 0; i < s.count; ++i) {
            *at++ = s.digits[i];
            if (s.exponent >= 0 && i == s.exponent) *at++ = '.';
        }
    }
    return put(first, last, text, static_cast<int>(at - text));
}

/// With as many digits as asked for, as printf writes them.
inline std::to_chars_result to_chars(char* first, char* last, double value, Way way, int precision) {
    if (!std::isfinite(value)) return to_chars(first, last, value);
    const char* pattern = way == Way::fixed ? "%.*f" : way == Way::scientific ? "%.*e" : "%.*g";
    const int size = std::snprintf(nullptr, 0, pattern, precision, value);
    std::string text(static_cast<std::size_t>(size) + 1, '\0');
    std::snprintf(text.data(), text.size(), pattern, precision, value);
    return put(first, last, text.data(), size);
}

/// Reads what std::from_chars reads of a decimal number: no blanks, no plus sign before it, no hexadecimal.
inline std::from_chars_result from_chars(const char* first, const char* last, double& value) {
    const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
    const char* at = first;
    if (at != last && *at == '-') ++at;
    const auto is_word = [&](const char* word) {
        const char* c = at;
        for (; *word != '\0'; ++word, ++c)
            if (c == last || (*c | 0x20) != *word) return false;
        return true;
    };
    if (is_word("inf") || is_word("nan")) {
        const bool is_infinite = is_word("inf");
        const double size =
            is_infinite ? std::numeric_limits<double>::infinity() : std::numeric_limits<double>::quiet_NaN();
        value = *first == '-' ? -size : size;
        return {at + (is_word("infinity") ? 8 : 3), std::errc()};
    }
    int n_digits = 0;
    for (; at != last && is_digit(*at); ++at) ++n_digits;
    if (at != last && *at == '.') {
        const char* c = at + 1;
        for (; c != last && is_digit(*c); ++c) ++n_digits;
        if (n_digits > 0) at = c;
    }
    if (n_digits == 0) return {first, std::errc::invalid_argument};
    if (at != last && (*at | 0x20) == 'e') {
        const char* c = at + 1;
        if (c != last && (*c == '-' || *c == '+')) ++c;
        if (c != last && is_digit(*c)) {
            while (c != last && is_digit(*c)) ++c;
            at = c;
        }
    }
    const std::string text(first, at);
    const double read = std::strtod(text.c_str(), nullptr);
    const bool is_nought =
        text.substr(0, text.find_first_of("eE")).find_first_of("123456789") == std::string::npos;
    if (std::isinf(read) || (read == 0 && !is_nought)) return {at, std::errc::result_out_of_range};
    value = read;
    return {at, std::errc()};
}

} // namespace hollowtop::digits
