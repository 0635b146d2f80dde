// SPDX-License-Identifier: MIT
#include "cli/report/placer.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using namespace hollowtop::cli;

TEST_CASE("a label takes the first place that is free and inside the picture", "[report]") {
    Placer placer(100, 50);
    const Lettering lettering{.size = 10};
    CHECK_FALSE(placer.place("12.5 mm", lettering,
                             {{90, 20}, {-5, 20}, {10, 5}})); // cut at the right, the left, the top
    CHECK(placer.place("12.5 mm", lettering, {{90, 20}, {10, 20}}) == Point{10, 20});
    CHECK(placer.place("7", lettering, {{15, 22}, {10, 45}}) == Point{10, 45}); // the first is covered
    placer.take({60, 0, 100, 50});
    CHECK_FALSE(placer.place("7", lettering, {{70, 20}}));
}

TEST_CASE("a label turned upright needs its room upright", "[report]") {
    const Lettering upright{.size = 10, .anchor = Anchor::middle, .turn_deg = -90};
    const Box box = upright_box_of_words({50, 50}, "1234567", upright);
    CHECK(box.y1 - box.y0 > 40);
    CHECK(box.x1 - box.x0 < 15);
    CHECK(box.x0 < 50 - 9); // the words stand left of their line
    CHECK(Approx((box.y0 + box.y1) / 2) == 50);
}
