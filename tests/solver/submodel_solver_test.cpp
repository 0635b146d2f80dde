// SPDX-License-Identifier: MIT
#include "solver/section/submodel_solver.hpp"

#include "materials/error.hpp"
#include "solver/section/submodel_element.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const SubmodelSection sharp{.thick = 40, .skin = 18, .C = {13700, 420, 0, 420, 1030, 0, 0, 0, 980}};

EdgeTraction pulled(int column, bool at_right, int rows, double stress) {
    return {column, at_right, rows, [=](double) {
                std::array<PerLoad, 2> t{};
                t[0][0] = stress;
                return t;
            }};
}

} // namespace

TEST_CASE("a section pulled evenly on every face across has that stress everywhere", "[solver][wall]") {
    // the patch test on the whole grid: also on the wall's face, where the rim is free otherwise
    const SubmodelMesh grid = submodel_mesh(sharp);
    const SubmodelSolution solution =
        solve_on(grid, sharp,
                 {pulled(0, false, 0, -2), pulled(grid.columns() - 1, true, 0, 2),
                  pulled(grid.skin_columns, false, grid.low_rows, -2)});
    for (int column = 0; column < grid.columns(); ++column)
        for (int row = 0; row < grid.rows(); ++row) {
            if (!grid.has(column, row)) {
                CHECK(solution.movements(column, row).empty());
                continue;
            }
            const auto stress =
                stress_at(grid, sharp.C, solution.movements(column, row), column, row, 0.2, 0.6);
            CHECK_THAT(stress[0][0], WithinRel(2, 1e-8)); // rounding of a solve of some 700 unknowns
            CHECK_THAT(stress[1][0], WithinAbs(0, 2e-8));
            CHECK_THAT(stress[2][0], WithinAbs(0, 2e-8));
        }
    // work: force times movement, strain energy twice; s11 in a state with no stress through the thickness
    const double s11 = 1030 / (13700.0 * 1030 - 420.0 * 420), area = -grid.skin_end * 18 + grid.rim_end * 40;
    CHECK_THAT(solution.work[0][0], WithinRel(4 * s11 * area, 1e-8));
}

TEST_CASE("a law that is not positive is refused", "[solver][wall]") {
    SubmodelSection step = sharp;
    step.C[4] = -1030;
    const SubmodelMesh grid = submodel_mesh(sharp);
    CHECK_THROWS_AS(solve_on(grid, step, {}), Error);
}
