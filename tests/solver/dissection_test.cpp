// SPDX-License-Identifier: MIT
#include "solver/numeric/dissection.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace hollowtop;

namespace {

CellGrid full_grid(int nx, int ny, int order, int dofs_per_node) {
    CellGrid grid{.nx = nx, .ny = ny, .order = order, .dofs_per_node = dofs_per_node, .active = {}};
    grid.active.assign(static_cast<std::size_t>(nx) * ny, 1);
    return grid;
}

double flops(const Dissection& d) {
    double sum = 0;
    for (const Dissection::Front& front : d.fronts)
        for (int k = 0; k < front.n_own; ++k) sum += std::pow(front.size() - k, 2);
    return sum;
}

} // namespace

TEST_CASE("every free dof has one place in the order of elimination, every other none",
          "[solver][dissection]") {
    CellGrid grid = full_grid(9, 7, 3, 5);
    for (int cell : {0, 1, 30, 31, 40, 62}) grid.active[cell] = 0;
    const std::vector<int> held = {200, 201, 777, grid.n_dofs() / 2};
    const Dissection d = dissect(grid, held);

    std::vector<char> expected(static_cast<std::size_t>(grid.n_dofs()), 0);
    for (int cell = 0; cell < 63; ++cell)
        for (int local = 0; grid.active[cell] && local < grid.element_size(); ++local)
            expected[global_dof(grid, cell, local)] = 1;
    for (int dof : held) expected[dof] = 0;
    for (int dof = 0; dof < grid.n_dofs(); ++dof) {
        REQUIRE((d.position_of[dof] >= 0) == (expected[dof] != 0));
        if (expected[dof]) REQUIRE(d.dof_at[d.position_of[dof]] == dof);
    }
    REQUIRE(d.n_free() == std::count(expected.begin(), expected.end(), 1));
}

TEST_CASE("a front is eliminated before its border, and all of its border is in its parent",
          "[solver][dissection]") {
    CellGrid grid = full_grid(11, 6, 2, 2);
    for (int cell : {16, 17, 27, 28}) grid.active[cell] = 0;
    const Dissection d = dissect(grid, {5, 90});
    int n_owned = 0;
    for (std::size_t f = 0; f < d.fronts.size(); ++f) {
        const Dissection::Front& front = d.fronts[f];
        n_owned += front.n_own;
        const auto begin = d.border_positions.begin() + front.border, end = begin + front.n_border;
        REQUIRE(std::is_sorted(begin, end));
        for (auto position = begin; position != end; ++position) {
            REQUIRE(*position >= front.first_own + front.n_own);
            REQUIRE(front.parent > static_cast<int>(f));
            const Dissection::Front& parent = d.fronts[front.parent];
            const auto parent_begin = d.border_positions.begin() + parent.border;
            const bool is_own = *position >= parent.first_own && *position < parent.first_own + parent.n_own;
            REQUIRE((is_own || std::binary_search(parent_begin, parent_begin + parent.n_border, *position)));
        }
    }
    for (const Dissection::Cell& cell : d.cells) n_owned += cell.n_interior;
    REQUIRE(n_owned == d.n_free());
    REQUIRE(d.cells.size() == 62);
}

TEST_CASE("the work grows as the dofs to the power of one and a half", "[solver][dissection][rate]") {
    // George 1973: order n^3 operations on an n x n grid, that is 1.5 in the number of dofs, reached from
    // below.
    const auto work = [](int n) { return flops(dissect(full_grid(n, n, 1, 1), {})); };
    const double rate = std::log(work(256) / work(128)) / std::log(std::pow(257.0 / 129.0, 2));
    REQUIRE_THAT(rate, Catch::Matchers::WithinAbs(1.5, 0.1));
    // His count for square grids by cuts to the last node is 829/84 n^3 multiplications; ours stops at blocks
    // of cells.
    REQUIRE(work(256) < 2 * 829.0 / 84 * std::pow(257.0, 3));
}

TEST_CASE("twice as long a strip is twice the work", "[solver][dissection][rate]") {
    // Cut across its length, a strip has cuts of one size; only the few blocks at its ends are cheaper.
    const auto work = [](int nx) { return flops(dissect(full_grid(nx, 3, 1, 1), {})); };
    REQUIRE_THAT(work(800) / work(400), Catch::Matchers::WithinAbs(2.0, 0.05));
}
