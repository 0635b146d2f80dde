// SPDX-License-Identifier: MIT
#include "solver/section/submodel_element.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <functional>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const SubmodelSection rounded{
    .thick = 40, .skin = 18, .root_radius = 6, .C = {13700, 420, 30, 420, 1030, -20, 30, -20, 980}};

/// Movements of a cell's nodes on its Lobatto lattice, by the place where they lie; one load.
std::vector<double> moved(const SubmodelMesh& grid, int column, int row,
                          const std::function<std::array<double, 2>(double, double)>& field) {
    const double lobatto[quad::n1] = {-1, -std::sqrt(3.0 / 7), 0, std::sqrt(3.0 / 7), 1};
    std::vector<double> u(static_cast<size_t>(quad::n_dofs * n_submodel_loads));
    for (int b = 0; b < quad::n1; ++b)
        for (int a = 0; a < quad::n1; ++a) {
            const SubmodelPoint p = place_at(grid, column, row, lobatto[a], lobatto[b]);
            const auto [x, z] = field(p.x, p.z);
            u[static_cast<size_t>(2 * (b * quad::n1 + a))] = x;
            u[static_cast<size_t>(2 * (b * quad::n1 + a) + 1)] = z;
        }
    return u;
}

} // namespace

TEST_CASE("a cell of the step's section moves rigidly at no cost, rectangle or not", "[solver][wall]") {
    const SubmodelMesh grid = submodel_mesh(rounded);
    bool plain = false, curved = false;
    for (const auto& [column, row] :
         {std::pair{0, grid.rows() - 1}, std::pair{grid.skin_columns - 1, grid.low_rows},
          std::pair{grid.skin_columns, grid.low_rows - 1}}) {
        (grid.is_plain(column, row) ? plain : curved) = true;
        const std::vector<double> K = cell_stiffness(grid, rounded.C, column, row);
        for (const auto& motion : {std::array<double, 3>{1, 0, 0}, std::array<double, 3>{0, 1, 0},
                                   std::array<double, 3>{0, 0, 0.1}}) {
            const std::vector<double> u = moved(grid, column, row, [&](double x, double z) {
                return std::array<double, 2>{motion[0] + motion[2] * z, motion[1] - motion[2] * x};
            });
            double work = 0, scale = 0;
            for (size_t i = 0; i < quad::n_dofs; ++i)
                for (size_t j = 0; j < quad::n_dofs; ++j) {
                    work += u[i] * K[j * quad::n_dofs + i] * u[j];
                    scale += std::abs(u[i] * K[j * quad::n_dofs + i] * u[j]);
                }
            // rounding; at the round the place is exact but a turn is interpolated
            CHECK_THAT(work,
                       WithinAbs(0, (motion[2] == 0 || grid.is_plain(column, row) ? 1e-14 : 1e-9) * scale));
        }
    }
    CHECK((plain && curved));
}

TEST_CASE("a stretched cell has the stress of the law", "[solver][wall]") {
    const SubmodelMesh grid = submodel_mesh(rounded);
    const double e_x = 1e-3, e_z = -2e-3, shear = 5e-4;
    const int column = 0, row = grid.rows() - 1;
    const std::vector<double> u = moved(grid, column, row, [&](double x, double z) {
        return std::array<double, 2>{e_x * x + shear * z, e_z * z};
    });
    const auto stress = stress_at(grid, rounded.C, u, column, row, 0.3, -0.7);
    for (size_t i = 0; i < 3; ++i) {
        const double expected =
            rounded.C[3 * i] * e_x + rounded.C[3 * i + 1] * e_z + rounded.C[3 * i + 2] * shear;
        CHECK_THAT(stress[i][0], WithinRel(expected, 1e-9));
        CHECK(stress[i][1] == 0);
    }
}
