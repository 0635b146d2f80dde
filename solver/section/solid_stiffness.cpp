// SPDX-License-Identifier: MIT
#include "solver/section/solid_stiffness.hpp"

#include <Eigen/Core>
#include <Eigen/LU>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

using Compliance = Eigen::Matrix<double, 6, 6>;

Matrix6 to_array(const Compliance& m) {
    Matrix6 a{};
    for (size_t i = 0; i < 6; ++i)
        for (size_t j = 0; j < 6; ++j)
            a[6 * i + j] = m(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j));
    return a;
}

/// Nine constants to a stiffness; nu_ij: stress along i, strain along j.
struct Nine {
    double E1, E2, E3, nu12, nu13, nu23, G12, G13, G23;
};
Matrix6 stiffness_of(const Nine& c) {
    Compliance S = Compliance::Zero();
    S(0, 0) = 1 / c.E1;
    S(1, 1) = 1 / c.E2;
    S(2, 2) = 1 / c.E3;
    S(0, 1) = S(1, 0) = -c.nu12 / c.E1;
    S(0, 2) = S(2, 0) = -c.nu13 / c.E1;
    S(1, 2) = S(2, 1) = -c.nu23 / c.E2;
    S(3, 3) = 1 / c.G23;
    S(4, 4) = 1 / c.G13;
    S(5, 5) = 1 / c.G12;
    return to_array(S.inverse());
}

constexpr size_t voigt[3][3] = {{0, 5, 4}, {5, 1, 3}, {4, 3, 2}};
constexpr size_t pairs[6][2] = {{0, 0}, {1, 1}, {2, 2}, {1, 2}, {0, 2}, {0, 1}};

/// Components of a stiffness in axes whose directions are the rows of `axes`, for the strain pairs i and j.
double turned(const Matrix6& C, const double (&axes)[3][3], size_t i, size_t j) {
    double sum = 0;
    for (size_t a = 0; a < 3; ++a)
        for (size_t b = 0; b < 3; ++b) {
            const double first = axes[pairs[i][0]][a] * axes[pairs[i][1]][b];
            if (first == 0) continue;
            for (size_t c = 0; c < 3; ++c)
                for (size_t d = 0; d < 3; ++d)
                    sum += first * axes[pairs[j][0]][c] * axes[pairs[j][1]][d] *
                           C[6 * voigt[a][b] + voigt[c][d]];
        }
    return sum;
}

} // namespace

Matrix6 solid_stiffness(const materials::WoodConstants& w, double ring_angle_deg) {
    const Matrix6 lrt = stiffness_of({.E1 = w.E_L,
                                      .E2 = w.E_R,
                                      .E3 = w.E_T,
                                      .nu12 = w.nu_LR,
                                      .nu13 = w.nu_LT,
                                      .nu23 = w.nu_RT,
                                      .G12 = w.G_LR,
                                      .G13 = w.G_LT,
                                      .G23 = w.G_RT});
    const double c = std::cos(ring_angle_deg * std::numbers::pi / 180),
                 s = std::sin(ring_angle_deg * std::numbers::pi / 180);
    // 0: across the width T, through the thickness R
    const double axes[3][3] = {{1, 0, 0}, {0, -s, c}, {0, c, s}};
    Matrix6 solid{};
    for (size_t i = 0; i < 6; ++i)
        for (size_t j = 0; j < 6; ++j) solid[6 * i + j] = turned(lrt, axes, i, j);
    return solid;
}

Matrix6 solid_stiffness(const Elastic& e) {
    const double E3 = e.E3.value_or(e.E2);
    // a stiffer third direction takes smaller ratios: the energy stays positive where that of E3 = E2 is
    const double less = std::min(1.0, std::sqrt(e.E2 / E3));
    const double nu23 = less * std::clamp(e.E2 / (2 * e.G23) - 1, 0.1, 0.5), nu13 = less * e.nu12;
    return stiffness_of({.E1 = e.E1,
                         .E2 = e.E2,
                         .E3 = E3,
                         .nu12 = e.nu12,
                         .nu13 = nu13,
                         .nu23 = nu23,
                         .G12 = e.G12,
                         .G13 = e.G13,
                         .G23 = e.G23});
}

Matrix3 section_law(const Matrix6& solid, Point n) {
    const double axes[3][3] = {{n.x, n.y, 0}, {-n.y, n.x, 0}, {0, 0, 1}};
    constexpr size_t in_plane[3] = {0, 2, 4};
    Matrix3 C{};
    for (size_t i = 0; i < 3; ++i)
        for (size_t j = 0; j < 3; ++j) C[3 * i + j] = turned(solid, axes, in_plane[i], in_plane[j]);
    return C;
}

std::array<double, 2> section_shear_moduli(const Matrix6& solid, Point n) {
    const double axes[3][3] = {{n.x, n.y, 0}, {-n.y, n.x, 0}, {0, 0, 1}};
    return {turned(solid, axes, 5, 5), turned(solid, axes, 3, 3)};
}

} // namespace hollowtop
