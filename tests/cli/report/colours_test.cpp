// SPDX-License-Identifier: MIT
#include "cli/report/drawing/colours.hpp"

#include <catch2/catch.hpp>

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
