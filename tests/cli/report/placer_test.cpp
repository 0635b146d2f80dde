// SPDX-License-Identifier: MIT
#include "cli/report/drawing/placer.hpp"

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

TEST_CASE("a label lies on lines before it lies on edges, and on either only where nothing else is free",
          "[report]") {
    const Lettering lettering{.size = 10};
    const Point on_edge{10, 20}, on_line{10, 50}, free{10, 80};
    Placer placer(100, 100);
    placer.keep_off({0, 10, 100, 20}, Over::edges);
    placer.keep_off({0, 40, 100, 50}, Over::lines);
    CHECK(placer.place("7", lettering, {on_edge, on_line, free}) == free);
    CHECK(placer.place("7", lettering, {on_edge, on_line, free}) ==
          on_line); // the free place is taken by now
    CHECK(placer.place("7", lettering, {on_edge, on_line, free}) == on_edge);
    CHECK_FALSE(placer.place("7", lettering, {on_edge, on_line, free}));
}

TEST_CASE("lines that belong together go where all of them fit", "[report]") {
    const Lettering lettering{.size = 10};
    Placer placer(100, 100);
    placer.take({0, 40, 50, 42}); // where the second line of the first place would be
    const Point covered{10, 30}, free{60, 30};
    CHECK(placer.place_lines({"18 deep", "20"}, lettering, {covered}, Over::edges) == std::nullopt);
    CHECK(placer.place_lines({"18", "20"}, lettering, {covered, free}, Over::nothing) == free);
    CHECK_FALSE(placer.place("7", lettering, {{60, 30 + line_height(lettering)}})); // both lines are taken
}
