// SPDX-License-Identifier: MIT
#include "cli/report/drawing/colours.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace hollowtop::cli;
using Catch::Matchers::WithinAbs;

TEST_CASE("lightness falls evenly along the colour scale", "[report]") {
    // 8 bits a channel round L* by up to about 0.3
    for (int i = 0; i <= 20; ++i) {
        const double share = i / 20.0;
        CAPTURE(share);
        CHECK_THAT(lightness_of(scale_colour(share)), WithinAbs(95 - 70 * share, 0.5));
    }
}

TEST_CASE("lightness is that of CIE for black, white and a grey", "[report]") {
    CHECK_THAT(lightness_of({0, 0, 0}), WithinAbs(0, 1e-9));
    CHECK_THAT(lightness_of({255, 255, 255}), WithinAbs(100, 1e-3));
    CHECK_THAT(lightness_of({119, 119, 119}),
               WithinAbs(50.03, 0.05)); // sRGB grey 119: L* 50.0 (widely tabulated)
}

TEST_CASE("colours are written in six digits and carry ink that reads", "[report]") {
    CHECK(to_hex({36, 86, 107}) == "#24566b");
    CHECK(to_hex({0, 0, 255}) == "#0000ff");
    CHECK(ink_on(scale_colour(0)) == ink::text);
    CHECK(ink_on(scale_colour(1)) == ink::paper);
}

TEST_CASE("contrast is 21 between black and white, and as tabulated for a grey", "[report]") {
    CHECK_THAT(contrast_of({0, 0, 0}, {255, 255, 255}), WithinAbs(21, 1e-3));
    CHECK_THAT(contrast_of({119, 119, 119}, {255, 255, 255}),
               WithinAbs(4.48, 0.005)); // #777777, widely known
}

TEST_CASE("whatever a map's colour, its label reads on it by 4.5 to 1", "[report]") {
    const auto digit = [](char c) { return c <= '9' ? c - '0' : c - 'a' + 10; };
    for (int i = 0; i <= 1000; ++i) {
        const Colour ground = scale_colour(i / 1000.0);
        const std::string ink = ink_on(ground);
        const auto channel = [&](std::size_t at) { return 16 * digit(ink[at]) + digit(ink[at + 1]); };
        CAPTURE(i, to_hex(ground), ink);
        CHECK(contrast_of(ground, {channel(1), channel(3), channel(5)}) >= 4.5);
    }
}
