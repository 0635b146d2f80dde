// SPDX-License-Identifier: MIT
#include "solver/piece/box_grid.hpp"

#include <catch2/catch.hpp>

#include <random>

using namespace hollowtop;

namespace {

bool touch(const Rectangle& a, const Rectangle& b) {
    return a.x0 <= b.x1 && a.x1 >= b.x0 && a.y0 <= b.y1 && a.y1 >= b.y0;
}

std::vector<int> shown(const BoxGrid& grid, const Rectangle& box) {
    std::vector<int> indices;
    any_near(grid, box, [&](int i) {
        indices.push_back(i);
        return false;
    });
    return indices;
}

} // namespace

TEST_CASE("a grid of boxes shows each that touches a place, once and in order, and few others",
          "[solver][piece]") {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> place(-300, 2000), side(0, 40);
    for (const std::size_t count : {std::size_t{0}, std::size_t{5}, std::size_t{600}}) {
        std::vector<Rectangle> boxes;
        for (std::size_t k = 0; k < count; ++k) {
            const double x = place(random), y = place(random);
            boxes.push_back({x, x + side(random), y, k % 3 == 0 ? y : y + side(random)}); // lines among them
        }
        const BoxGrid grid = box_grid(boxes);
        std::size_t n_shown = 0;
        for (int t = 0; t < 200; ++t) {
            const double x = 1.5 * place(random), y = 1.5 * place(random),
                         more = t % 2 == 0 ? 0 : side(random);
            const Rectangle asked{x, x + more, y, y + more};
            const std::vector<int> indices = shown(grid, asked);
            n_shown += indices.size();
            CHECK(std::is_sorted(indices.begin(), indices.end()));
            CHECK(std::adjacent_find(indices.begin(), indices.end()) == indices.end());
            for (std::size_t k = 0; k < boxes.size(); ++k)
                if (touch(boxes[k], asked))
                    CHECK(std::binary_search(indices.begin(), indices.end(), static_cast<int>(k)));
        }
        if (count > 100) CHECK(n_shown < 200 * count / 20);
    }
}

TEST_CASE("boxes on one line, and a place far from all, are looked for as well", "[solver][piece]") {
    std::vector<Rectangle> boxes;
    for (int k = 0; k < 100; ++k) boxes.push_back({10.0 * k, 10.0 * k + 10, 5, 5});
    const BoxGrid grid = box_grid(boxes);
    const std::vector<int> at_joint = shown(grid, {500, 500, 5, 5});
    CHECK(std::binary_search(at_joint.begin(), at_joint.end(), 49));
    CHECK(std::binary_search(at_joint.begin(), at_joint.end(), 50));
    CHECK(shown(grid, {1e12, 2e12, -3e12, 1e12}).empty());
}
