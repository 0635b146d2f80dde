// SPDX-License-Identifier: MIT
#include "solver/section/submodel_loads.hpp"

#include "solver/numeric/quadrature.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;

namespace {

/// Sum of forces across and through, and of moments about the origin, of each load.
std::array<PerLoad, 3> resultants(const SubmodelMesh& grid, const std::vector<EdgeTraction>& loads) {
    std::array<PerLoad, 3> sum{};
    const Rule& rule = gauss_rule(4); // the tractions are of degree 2, moments of 3
    for (const EdgeTraction& load : loads) {
        const double x = grid.xs[static_cast<size_t>(load.at_right ? load.column + 1 : load.column)];
        for (int row = 0; row < (load.rows > 0 ? load.rows : grid.rows()); ++row) {
            if (!grid.has(load.column, row)) continue;
            const double low = grid.zs[static_cast<size_t>(row)],
                         high = grid.zs[static_cast<size_t>(row) + 1];
            for (size_t q = 0; q < rule.points.size(); ++q) {
                const double z = low + (high - low) * (1 + rule.points[q]) / 2,
                             weight = rule.weights[q] * (high - low) / 2;
                const auto t = load.at(z);
                for (size_t l = 0; l < n_submodel_loads; ++l) {
                    sum[0][l] += weight * t[0][l];
                    sum[1][l] += weight * t[1][l];
                    sum[2][l] += weight * (t[0][l] * z - t[1][l] * x);
                }
            }
        }
    }
    return sum;
}

} // namespace

TEST_CASE("the loads of the step's section balance", "[solver][wall]") {
    SubmodelSection step{.thick = 40, .skin = 18, .C = {13700, 420, 0, 420, 1030, 0, 0, 0, 980}};
    for (const double crack : {0.0, 20.0}) {
        step.crack = crack;
        const SubmodelMesh grid = submodel_mesh(step);
        const auto sum = resultants(grid, submodel_loads(grid, step));
        CAPTURE(crack);
        for (const PerLoad& row : sum)
            for (const double value : row)
                CHECK_THAT(value, WithinAbs(0, 1e-10)); // forces of 1, moments of some hundreds: rounding
    }
}

TEST_CASE("half a bent bar carries a moment of one about the bar's middle at both ends", "[solver][wall]") {
    const SubmodelSection step{
        .thick = 40, .skin = 18, .C = {13700, 420, 0, 420, 1030, 0, 0, 0, 980}, .top = TopFace::bent_bar};
    const SubmodelMesh grid = submodel_mesh(step);
    for (const EdgeTraction& end : submodel_loads(grid, step)) {
        const auto sum = resultants(grid, {end});
        CHECK_THAT(sum[2][1], WithinAbs(end.at_right ? 1 : -1, 1e-12));
    }
}
