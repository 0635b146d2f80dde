// SPDX-License-Identifier: MIT
#include "solver/section/section_stiffness.hpp"

#include <Eigen/Dense>
#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

using Row3 = Eigen::Matrix<double, 3, 3, Eigen::RowMajor>;
using Row6 = Eigen::Matrix<double, 6, 6, Eigen::RowMajor>;

/// Sums of a dozen products: a few units in the last of sixteen digits.
constexpr double rounding = 1e-13;
/// The reference values are printed with nine digits.
constexpr double printed = 1e-8;

const Elastic wood{
    .E1 = 12000, .E2 = 700, .nu12 = 0.4, .G12 = 800, .G13 = 800, .G23 = 150, .density_kg_m3 = 680};

Row3 matrix(const Matrix3& m) { return Eigen::Map<const Row3>(m.data()); }
Row6 matrix(const Matrix6& m) { return Eigen::Map<const Row6>(m.data()); }

double largest(const Eigen::MatrixXd& m) { return m.cwiseAbs().maxCoeff(); }

/// Stress (x y xy) turned into axes at `angle`.
Eigen::Vector3d in_axes(const Eigen::Vector3d& s, double angle) {
    const double c = std::cos(angle), n = std::sin(angle);
    return {c * c * s[0] + n * n * s[1] + 2 * c * n * s[2], n * n * s[0] + c * c * s[1] - 2 * c * n * s[2],
            c * n * (s[1] - s[0]) + (c * c - n * n) * s[2]};
}

} // namespace

TEST_CASE("a layer hung from its top face gives the published resultants", "[solver][section][published]") {
    // Constitutive law with A, B, D of an offset layer (Jones, Mechanics of Composite Materials, 1999, ch.
    // 4), worked with nine digits: grain at 25 degrees, 18 mm thick, reference on the face. There z points
    // down, here up: k and M change sign.
    const PlaneStiffness plane = plane_stiffness(wood, 25);
    const Row6 C = matrix(plain_section(plane, 18, 0).C);
    Eigen::Matrix<double, 6, 1> strain;
    strain << 0.0004, -0.0002, 0.0003, -2e-5, 1e-5, -1.5e-5;
    const Eigen::Matrix<double, 6, 1> force = C * strain;
    CHECK_THAT(force[0], WithinRel(108.745906, printed));
    CHECK_THAT(force[1], WithinRel(17.8064779, printed));
    CHECK_THAT(force[2], WithinRel(45.5224059, printed));
    CHECK_THAT(-force[3], WithinRel(1079.95934, printed));
    CHECK_THAT(-force[4], WithinRel(176.836746, printed));
    CHECK_THAT(-force[5], WithinRel(452.084582, printed));
    const double grain = 25 * std::numbers::pi / 180;
    const Eigen::Vector3d top = in_axes(matrix(plane.Q) * strain.head<3>(), grain);
    const Eigen::Vector3d bottom =
        in_axes(matrix(plane.Q) * (strain.head<3>() - 18 * strain.tail<3>()), grain);
    CHECK_THAT(top[0], WithinRel(4.8802968, printed));
    CHECK_THAT(top[1], WithinRel(-0.0315464725, printed));
    CHECK_THAT(top[2], WithinRel(-0.213432306, printed));
    CHECK_THAT(bottom[0], WithinRel(9.27256393, printed));
    CHECK_THAT(bottom[1], WithinRel(-0.0599382977, printed));
}

TEST_CASE("wood at 30 degrees to the grain has the published constants", "[solver][section][published]") {
    // Tensor transformation, Jones, Mechanics of Composite Materials, 1999, eq. 2.97, worked with nine digits
    const PlaneStiffness plane = plane_stiffness(wood, 30);
    CHECK_THAT(plane.Q[2], WithinRel(3449.73585, printed));
    CHECK_THAT(modulus_along(plane, {1, 0}), WithinRel(2793.01746, printed));
    const Row3 compliance = matrix(plane.Q).inverse();
    CHECK_THAT(1 / compliance(2, 2), WithinRel(668.257757, printed));
    CHECK_THAT(-compliance(1, 0) / compliance(0, 0), WithinRel(-0.0789692436, printed));
    CHECK_THAT(compliance(0, 2) / compliance(0, 0), WithinRel(-1.42825802, printed));
}

TEST_CASE("a quarter turn of the grain swaps the axes to the last bit", "[solver][section]") {
    const PlaneStiffness along = plane_stiffness(wood, 0), across = plane_stiffness(wood, 90),
                         back = plane_stiffness(wood, -90), half = plane_stiffness(wood, 180);
    CHECK(across.Q == Matrix3{along.Q[4], along.Q[1], 0, along.Q[1], along.Q[0], 0, 0, 0, along.Q[8]});
    CHECK(across.G == std::array<double, 4>{along.G[3], 0, 0, along.G[0]});
    CHECK(back.Q[0] == across.Q[0]);
    CHECK(half.Q[0] == along.Q[0]);
    CHECK(half.Q[2] == 0);
}

TEST_CASE("grain to the left and grain to the right differ in sign of the coupling only",
          "[solver][section]") {
    const PlaneStiffness left = plane_stiffness(wood, 35), right = plane_stiffness(wood, -35);
    for (const std::size_t k : {0u, 1u, 4u, 8u}) CHECK(left.Q[k] == right.Q[k]);
    CHECK(left.Q[2] == -right.Q[2]);
    CHECK(left.Q[5] == -right.Q[5]);
    CHECK(left.G[1] == -right.G[1]);
}

TEST_CASE("a pull along the grain meets E1, across it E2", "[solver][section]") {
    const double angle = 0.3;
    const PlaneStiffness plane = plane_stiffness(wood, angle * 180 / std::numbers::pi);
    CHECK_THAT(modulus_along(plane, {std::cos(angle), std::sin(angle)}), WithinRel(12000, 1e-12));
    CHECK_THAT(modulus_along(plane, {-std::sin(angle), std::cos(angle)}), WithinRel(700, 1e-12));
    CHECK_THAT(shear_modulus_along(plane, {std::cos(angle), std::sin(angle)}), WithinRel(800, 1e-12));
    CHECK_THAT(shear_modulus_along(plane, {-std::sin(angle), std::cos(angle)}), WithinRel(150, 1e-12));
}

TEST_CASE("a constant shear strain gives the published shear forces", "[solver][section][published]") {
    // Mindlin 1951: Q = 5/6 h G gamma; h 20 mm, gamma 0.001 and 0.0005
    const Section section = plain_section(plane_stiffness(wood, 0), 20, 0);
    CHECK_THAT(section.S[0] * 0.001, WithinRel(13.3333333, printed));
    CHECK_THAT(section.S[3] * 0.0005, WithinRel(1.25, rounding));
    CHECK(section.S[1] == 0);
}

TEST_CASE("about its own middle a section couples nothing", "[solver][section]") {
    const Row6 C = matrix(plain_section(plane_stiffness(wood, 25), 24, 12).C);
    CHECK(largest(C.topRightCorner<3, 3>()) == 0);
    CHECK(largest(C.bottomRightCorner<3, 3>() - 24.0 * 24 * 24 / 12 * matrix(plane_stiffness(wood, 25).Q)) <
          rounding * largest(C));
}

TEST_CASE("moving the reference surface follows the parallel-axis rule", "[solver][section]") {
    // e at the new surface = e - d k with d the way down: C' = T' C T
    const PlaneStiffness plane = plane_stiffness(wood, 40);
    for (const double depth : {7.0, 15.0, 30.0, -4.0}) {
        Row6 T = Row6::Identity();
        T.topRightCorner<3, 3>() = depth * Eigen::Matrix3d::Identity();
        const Row6 here = matrix(plain_section(plane, 30, 0).C),
                   there = matrix(plain_section(plane, 30, depth).C);
        INFO(depth);
        CHECK(largest(T.transpose() * here * T - there) < rounding * largest(here));
    }
}

TEST_CASE("mass and its moments are those of a slab hung from its face", "[solver][section]") {
    const Section section = plain_section(plane_stiffness(wood, 0), 30, 0);
    const double density = 680e-9;
    CHECK_THAT(section.mass[0], WithinRel(density * 30, rounding));
    CHECK_THAT(section.mass[1], WithinRel(-density * 30 * 30 / 2, rounding));
    CHECK_THAT(section.mass[2], WithinRel(density * 30 * 30 * 30 / 3, rounding));
}

TEST_CASE("a wall's round may stiffen the strip beside it, never turn it inside out",
          "[solver][section][wall]") {
    const PlaneStiffness plane = plane_stiffness(wood, 0);
    const double own =
        12 / (12000.0 * 30 * 30 *
              30); // bending of the wood along the grain, a unit length, but for Poisson's share
    for (const double share : {-0.5, -0.95, -3.0, -50.0}) {
        // about the zone's own middle, 15 mm down
        const WallCompliance compliance{.across = {0, 0, 0, 0, share * own, 0, 0, 0, 0}, .along = {}};
        const Section section = wall_section(plane, 30, compliance, {1, 0}, 15),
                      plain = plain_section(plane, 30, 15);
        const double stiffer = section.C[21] / plain.C[21];
        INFO(share);
        const double d =
            1 - 0.4 * 0.4 * 700 / 12000; // share of the plate's compliance that is d of the beam's
        CHECK_THAT(stiffer,
                   WithinRel(share > -0.85 ? 1 / (1 + share / d) : 10, 1e-9)); // at most ten times as stiff
        CHECK(Eigen::SelfAdjointEigenSolver<Row6>(matrix(section.C)).eigenvalues().minCoeff() > 0);
    }
}

TEST_CASE("how far a wall's round may stiffen the strip does not depend on the reference surface",
          "[solver][section][wall]") {
    const PlaneStiffness plane = plane_stiffness(wood, 0);
    const double s = 1e-6, m = -3e-7,
                 b = 2e-8; // invented; the mix of pull and moment is beyond what the zone has
    const auto at = [&](double depth) {
        // the compliance at the middle, carried up by 15 - depth: the moment there is M - N z
        const double z = depth - 15;
        const double NN = -s - 2 * z * m - z * z * b, NM = m + z * b, MM = -b;
        const WallCompliance compliance{.across = {NN, NM, 0, NM, MM, 0, 0, 0, 1e-7}, .along = {}};
        Row6 T = Row6::Identity();
        T.topRightCorner<3, 3>() = -z * Eigen::Matrix3d::Identity(); // back to the middle
        return Row6(T.transpose() * matrix(wall_section(plane, 30, compliance, {0, 1}, depth).C) * T);
    };
    const Row6 middle = at(15), top = at(0);
    CHECK(largest(middle - top) < 1e-9 * largest(middle));
}
