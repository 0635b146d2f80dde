// SPDX-License-Identifier: MIT
// The stand-ins of the page against the standard library of this compiler, which is another's work.
#include "cli/page/digits.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <limits>
#include <random>
#include <string>
#include <vector>

namespace {

using hollowtop::digits::Way;

std::string shortest(double value) {
    std::array<char, 400> text{};
    const auto result = hollowtop::digits::to_chars(text.data(), text.data() + text.size(), value);
    return {text.data(), result.ptr};
}
std::string shortest_of_library(double value) {
    std::array<char, 400> text{};
    const auto result = std::to_chars(text.data(), text.data() + text.size(), value);
    return {text.data(), result.ptr};
}
std::string written(double value, Way way, std::chars_format format, int precision, bool by_library) {
    std::array<char, 1200> text{};
    char *const first = text.data(), *const last = first + text.size();
    const auto result = by_library      ? precision < 0 ? std::to_chars(first, last, value, format)
                                                        : std::to_chars(first, last, value, format, precision)
                             : precision < 0 ? hollowtop::digits::to_chars(first, last, value, way)
                                        : hollowtop::digits::to_chars(first, last, value, way, precision);
    return result.ec == std::errc() ? std::string(first, result.ptr) : "too large";
}

/// Numbers of every kind: any bits, powers of two and their neighbours, few digits, whole, subnormal, not finite.
std::vector<double> numbers(int n) {
    std::mt19937_64 random(20); // NOLINT(cert-msc51-cpp): the same every time
    std::vector<double> all{0.0,
                            -0.0,
                            1.0,
                            5e-324,
                            2.2250738585072014e-308,
                            1.7976931348623157e308,
                            9007199254740993.0,
                            1e15,
                            1e16,
                            1e17,
                            1e21,
                            1e22,
                            1e23,
                            123456789012345680.0,
                            0.1,
                            0.3,
                            1e-5,
                            1e-4,
                            100000,
                            1000000,
                            1.5e-7,
                            std::numeric_limits<double>::infinity(),
                            -std::numeric_limits<double>::infinity()};
    for (int e = -1074; e < 1024; ++e)
        for (const double near : {std::ldexp(1.0, e), std::nextafter(std::ldexp(1.0, e), 0.0)})
            all.push_back(near);
    for (int i = 0; i < n; ++i) {
        const std::uint64_t bits = random();
        if (const double any = std::bit_cast<double>(bits); std::isfinite(any)) all.push_back(any);
        all.push_back(static_cast<double>(static_cast<std::int64_t>(bits) >> (bits % 40)) / 1000);
        all.push_back(static_cast<double>(bits % 100000) * std::pow(10.0, static_cast<int>(bits % 23) - 11));
        all.push_back(std::bit_cast<double>(bits >> (12 + bits % 40))); // subnormal
    }
    return all;
}

} // namespace

TEST_CASE("the page writes the same shortest digits as the program") {
    int differ = 0;
    for (const double value : numbers(5000)) {
        if (shortest(value) == shortest_of_library(value)) continue;
        ++differ;
        CHECK(shortest(value) == shortest_of_library(value));
    }
    CHECK(differ == 0);
}

TEST_CASE("the page rounds to so many digits as the program does") {
    for (const double value : numbers(300))
        for (const auto& [way, format] : {std::pair{Way::fixed, std::chars_format::fixed},
                                          std::pair{Way::scientific, std::chars_format::scientific},
                                          std::pair{Way::general, std::chars_format::general}})
            for (const int precision : {-1, 0, 2, 5}) {
                if (precision < 0 && way == Way::general) continue; // nobody asks for it
                const std::string ours = written(value, way, format, precision, false),
                                  library = written(value, way, format, precision, true);
                if (ours != library) CHECK(ours == library);
            }
    SUCCEED("all compared");
}

TEST_CASE("the page reads a number as the program does, and stops where it stops") {
    const auto as_the_library = [](const std::string& text) {
        double ours = -7, library = -7;
        const auto a = hollowtop::digits::from_chars(text.data(), text.data() + text.size(), ours);
        const auto b = std::from_chars(text.data(), text.data() + text.size(), library);
        INFO("\"" << text << "\"");
        CHECK(a.ptr - text.data() == b.ptr - text.data());
        CHECK((a.ec == b.ec));
        CHECK((std::bit_cast<std::uint64_t>(ours) == std::bit_cast<std::uint64_t>(library)));
    };
    for (const char* text : {"1",
                             "-1",
                             "+1",
                             "",
                             "-",
                             ".",
                             "-.",
                             ".5",
                             "5.",
                             "5.e3",
                             "1e",
                             "1e+",
                             "1e-",
                             "1e5",
                             "1E5",
                             "1e+05x",
                             " 1",
                             "1 ",
                             "0x10",
                             "1_0",
                             "00012",
                             "inf",
                             "-inf",
                             "INF",
                             "infinity",
                             "infinit",
                             "in",
                             "nan",
                             "-nan",
                             "NaN",
                             "1e400",
                             "-1e400",
                             "1e-400",
                             "0e999",
                             "0.0e-999",
                             "-0",
                             "1e99999999999",
                             "1e-99999999999",
                             "123456789012345678901234567890",
                             "0.1000000000000000055511151231257827",
                             "9007199254740993",
                             "9007199254740992.99999",
                             "2.2250738585072011e-308",
                             "4.9e-324",
                             "2.4e-324",
                             "1,5",
                             "1.2.3",
                             "--1",
                             "e5"})
        as_the_library(text);
    std::mt19937 random(7); // NOLINT(cert-msc51-cpp): the same every time
    constexpr std::string_view letters = "0123456789.-+eE ";
    for (int i = 0; i < 3000; ++i) {
        std::string text;
        for (auto n = random() % 12; n > 0; --n) text += letters[random() % letters.size()];
        as_the_library(text);
    }
    for (const double value : numbers(100)) as_the_library(shortest_of_library(value));
}
