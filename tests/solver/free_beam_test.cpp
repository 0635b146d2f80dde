// SPDX-License-Identifier: MIT
// The first tone of a free bar with its shear, against finite elements that know nothing of the closed form, against
// published figures and against limits.
#include "solver/boardtest/free_beam.hpp"

#include "materials/error.hpp"

#include <Eigen/Dense>
#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace hollowtop;

namespace {

/// T by linear Timoshenko elements, shear taken at their middles, over half the bar (its middle does not turn),
/// length 1, E I = 1, rho A = 1: stiffness and consistent mass from the energies. Two meshes, extrapolated.
double factor_by_elements(double E_over_G, double depth, int n) {
    const double r2 = depth * depth / 12, kGA = 5.0 / 6 / (r2 * E_over_G), a = 0.5 / n;
    const int size = 2 * (n + 1);
    Eigen::MatrixXd K = Eigen::MatrixXd::Zero(size, size), M = K;
    for (int e = 0; e < n; ++e) {
        Eigen::Vector4d bend(0, -1 / a, 0, 1 / a), shear(-1 / a, -0.5, 1 / a, -0.5);
        K.block<4, 4>(2 * e, 2 * e) += a * bend * bend.transpose() + kGA * a * shear * shear.transpose();
        for (int i = 0; i < 2; ++i)
            for (int j = 0; j < 2; ++j) {
                const double share = a * (i == j ? 2.0 : 1.0) / 6;
                M(2 * (e + i), 2 * (e + j)) += share;
                M(2 * (e + i) + 1, 2 * (e + j) + 1) += r2 * share;
            }
    }
    // node 0 is the middle: its turning goes
    std::vector<int> kept;
    for (int i = 0; i < size; ++i)
        if (i != 1) kept.push_back(i);
    const Eigen::MatrixXd k = K(kept, kept), m = M(kept, kept);
    const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> solver(k, m, Eigen::EigenvaluesOnly);
    return slender_tone * slender_tone / solver.eigenvalues()(1); // 0 is the bar that moves as a whole
}

double factor_by_elements(double E_over_G, double depth) {
    const double coarse = factor_by_elements(E_over_G, depth, 40),
                 fine = factor_by_elements(E_over_G, depth, 80);
    return fine + (fine - coarse) / 3;
}

} // namespace

TEST_CASE("the tone of a free bar agrees with finite elements within half a percent for ten to sixty depths",
          "[boardtest]") {
    double worst = 0;
    for (const double E_over_G : {5.0, 10.0, 15.0, 20.0, 30.0})
        for (const double slender : {10.0, 15.0, 20.0, 30.0, 45.0, 60.0}) {
            CAPTURE(E_over_G, slender);
            const double error = std::abs(
                shear_factor_of_tone(E_over_G, 1 / slender) / factor_by_elements(E_over_G, 1 / slender) - 1);
            CHECK(error < 0.005);
            worst = std::max(worst, error);
        }
    CAPTURE(worst);
    CHECK(worst < 2e-4); // of the elements, two meshes extrapolated
}

TEST_CASE("the shear factor of a tone is as tabulated for E over G of 10, 15 and 20", "[boardtest]") {
    // computed by another hand before this program, three decimals
    const double table[4][4] = {{15, 1.072, 1.099, 1.126},
                                {20, 1.041, 1.056, 1.071},
                                {30, 1.018, 1.025, 1.032},
                                {40, 1.010, 1.014, 1.018}};
    for (const auto& row : table)
        for (int i = 0; i < 3; ++i) {
            CAPTURE(row[0], i);
            CHECK(std::abs(shear_factor_of_tone(10 + 5 * i, 1 / row[0]) - row[i + 1]) < 0.0015);
        }
}

TEST_CASE("a slender bar has no shear to speak of, and a stiffer shear modulus always means less of it",
          "[boardtest]") {
    CHECK(std::abs(shear_factor_of_tone(15, 1e-4) - 1) < 1e-6);
    double before = 1;
    for (double E_over_G = 1; E_over_G < 40; E_over_G += 3) {
        const double factor = shear_factor_of_tone(E_over_G, 0.1);
        CHECK(factor > before);
        before = factor;
    }
}

TEST_CASE("the polynomial for isotropic bars meets the beam at its own E over G and is too small for wood",
          "[boardtest]") {
    // isotropic: E/G = 2 (1 + nu). The polynomial is of the Timoshenko beam with a coefficient of its own:
    // within 0.3 %.
    for (const double slender : {15.0, 20.0, 30.0}) {
        CAPTURE(slender);
        CHECK(std::abs(isotropic_factor_of_tone(0.3, 1 / slender) / shear_factor_of_tone(2.6, 1 / slender) -
                       1) < 0.003);
        CHECK(isotropic_factor_of_tone(0.3, 1 / slender) < shear_factor_of_tone(15, 1 / slender));
    }
    // 1 + 6.585 (t/L)^2 for slender bars, the short form of the same standard, at Poisson's ratio 0
    CHECK(std::abs(isotropic_factor_of_tone(0, 0.01) - (1 + 6.585e-4)) < 1e-6);
}

TEST_CASE("a bar shorter than five depths is refused", "[boardtest]") {
    CHECK_NOTHROW(shear_factor_of_tone(15, 0.2));
    CHECK_THROWS_AS(shear_factor_of_tone(15, 0.21), Error);
}
