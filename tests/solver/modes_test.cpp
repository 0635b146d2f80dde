// SPDX-License-Identifier: MIT
// Chains of equal masses m and springs k have closed forms (Blevins, Formulas for Natural Frequency and Mode
// Shape, from memory; they follow from cos((j + 1/2) a) being a solution of the difference equation):
//   held at both ends   omega_i = 2 sqrt(k/m) sin(i pi / (2 (n + 1)))
//   free at both ends   omega_i = 2 sqrt(k/m) sin(i pi / (2 n)), and one rigid motion
// Beams: f_i = a_i^2 / (2 pi L^2) sqrt(E I / mu), a = i pi for hinged ends, cos a cosh a = 1 for free ends.

#include "solver/vibration/modes.hpp"

#include "materials/error.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinRel;
using Eigen::MatrixXd;
using Eigen::VectorXd;
using std::numbers::pi;

namespace {

/// Some digits are lost in the products; the frequency itself is right to about the square of the residual.
constexpr double tolerance = 1e-9;

/// A problem from full matrices; the dofs in `pinned` are held while K is inverted (enough of them to hold
/// the body).
ModeProblem problem_from(const MatrixXd& k, const MatrixXd& m, int count, std::vector<int> pinned = {}) {
    MatrixXd held = k;
    for (int dof : pinned) {
        held.row(dof).setZero();
        held.col(dof).setZero();
        held(dof, dof) = 1;
    }
    const Eigen::LLT<MatrixXd> factor(held);
    const Eigen::Index n = k.rows();
    ModeProblem problem;
    problem.n = static_cast<int>(n);
    problem.count = count;
    problem.apply_stiffness_inverse = [factor, pinned, n](double* columns, int columns_count) {
        Eigen::Map<MatrixXd> f(columns, n, columns_count);
        for (int dof : pinned) f.row(dof).setZero();
        f = factor.solve(f).eval();
    };
    problem.apply_mass = [m, n](const double* in, double* out, int columns_count) {
        Eigen::Map<MatrixXd>(out, n, columns_count) = m * Eigen::Map<const MatrixXd>(in, n, columns_count);
    };
    return problem;
}

struct Chain {
    double k = 250; // N/mm
    double m = 3;   // kg
    int n = 10;
    bool is_held = true; // at both ends

    MatrixXd stiffness() const {
        MatrixXd matrix = MatrixXd::Zero(n, n);
        for (int i = 0; i + 1 < n; ++i) {
            matrix(i, i) += k;
            matrix(i + 1, i + 1) += k;
            matrix(i, i + 1) -= k;
            matrix(i + 1, i) -= k;
        }
        if (is_held) matrix(0, 0) += k, matrix(n - 1, n - 1) += k;
        return matrix;
    }
    MatrixXd mass() const { return MatrixXd::Identity(n, n) * m; }
    double frequency_Hz(int i) const {
        const double angle = i * pi / (is_held ? 2.0 * (n + 1) : 2.0 * n);
        return 2 * std::sqrt(1000 * k / m) * std::sin(angle) / (2 * pi);
    }
};

/// A beam of cubic elements, two dofs a node (w, slope), with their consistent mass.
struct Beam {
    double length = 900;     // mm
    double EI = 11000 * 1e6; // N mm2
    double mu = 0.0025;      // kg/mm
    int n_elements = 40;

    int n() const { return 2 * (n_elements + 1); }
    MatrixXd assembled(const Eigen::Matrix4d& element) const {
        MatrixXd matrix = MatrixXd::Zero(n(), n());
        for (int e = 0; e < n_elements; ++e) matrix.block<4, 4>(2 * e, 2 * e) += element;
        return matrix;
    }
    MatrixXd stiffness() const {
        const double h = length / n_elements;
        Eigen::Matrix4d element;
        element << 12, 6 * h, -12, 6 * h, 6 * h, 4 * h * h, -6 * h, 2 * h * h, -12, -6 * h, 12, -6 * h, 6 * h,
            2 * h * h, -6 * h, 4 * h * h;
        return assembled(element * (EI / (h * h * h)));
    }
    MatrixXd mass() const {
        const double h = length / n_elements;
        Eigen::Matrix4d element;
        element << 156, 22 * h, 54, -13 * h, 22 * h, 4 * h * h, 13 * h, -3 * h * h, 54, 13 * h, 156, -22 * h,
            -13 * h, -3 * h * h, -22 * h, 4 * h * h;
        return assembled(element * (mu * h / 420));
    }
    double frequency_Hz(double a) const {
        return a * a / (2 * pi * length * length) * std::sqrt(1000 * EI / mu);
    }
    /// Cubic elements with consistent mass are too high by (a h / L)^4 / 1440 in f (the next term of their
    /// dispersion), and by rounding.
    double mesh_error(double a) const { return 1.05 * std::pow(a / n_elements, 4) / 1440 + 1e-8; }
};

} // namespace

TEST_CASE("one newton a millimetre and one kilogram swing at the root of a thousand over two pi",
          "[solver][modes]") {
    MatrixXd k = MatrixXd::Identity(2, 2), m = MatrixXd::Identity(2, 2);
    k(1, 1) = 4;
    const Modes modes = natural_modes(problem_from(k, m, 1));
    REQUIRE(modes.converged);
    REQUIRE_THAT(modes.frequency_Hz[0], WithinRel(std::sqrt(1000.0) / (2 * pi), tolerance));
}

TEST_CASE("a held chain swings as its closed form says", "[solver][modes]") {
    const Chain chain{.n = GENERATE(3, 10, 200)};
    const int count = chain.n == 3 ? 2 : 6;
    const Modes modes = natural_modes(problem_from(chain.stiffness(), chain.mass(), count));
    REQUIRE(modes.converged);
    REQUIRE(static_cast<int>(modes.frequency_Hz.size()) == count);
    for (int i = 0; i < count; ++i)
        CHECK_THAT(modes.frequency_Hz[i], WithinRel(chain.frequency_Hz(i + 1), tolerance));
}

TEST_CASE("the rigid motion of a free chain is no mode", "[solver][modes]") {
    const Chain chain{.n = GENERATE(4, 30, 150), .is_held = false};
    const int pinned = GENERATE(0, 2);
    ModeProblem problem = problem_from(chain.stiffness(), chain.mass(), 3, {pinned});
    problem.free_rigid_modes = {std::vector<double>(static_cast<std::size_t>(chain.n), 0.7)};
    const Modes modes = natural_modes(problem);
    REQUIRE(modes.converged);
    for (int i = 0; i < 3; ++i) {
        CHECK_THAT(modes.frequency_Hz[i], WithinRel(chain.frequency_Hz(i + 1), tolerance));
        CHECK(std::abs(Eigen::Map<const VectorXd>(modes.shape[i].data(), chain.n).sum()) <
              1e-8); // at rest on the whole
    }
}

TEST_CASE("a frequency that occurs twice or three times is found each time", "[solver][modes]") {
    const Chain chain{.n = GENERATE(6, 60)};
    const int copies = GENERATE(2, 3), n = chain.n, count = 4;
    MatrixXd k = MatrixXd::Zero(copies * n, copies * n), m = k;
    for (int c = 0; c < copies; ++c) {
        k.block(c * n, c * n, n, n) = chain.stiffness();
        m.block(c * n, c * n, n, n) = chain.mass();
    }
    const Modes modes = natural_modes(problem_from(k, m, count));
    REQUIRE(modes.converged);
    for (int i = 0; i < count; ++i)
        CHECK_THAT(modes.frequency_Hz[i], WithinRel(chain.frequency_Hz(1 + i / copies), tolerance));
    for (int i = 0; i < count; ++i)
        for (int j = 0; j <= i; ++j) {
            const Eigen::Map<const VectorXd> a(modes.shape[i].data(), copies * n),
                b(modes.shape[j].data(), copies * n);
            CHECK(std::abs(a.dot(m * b) - (i == j)) < 1e-8);
        }
}

TEST_CASE("a shape satisfies its own equation and has a mass of one kilogram", "[solver][modes]") {
    const Chain chain{.n = 25};
    const Modes modes = natural_modes(problem_from(chain.stiffness(), chain.mass(), 4));
    REQUIRE(modes.converged);
    for (int i = 0; i < 4; ++i) {
        const Eigen::Map<const VectorXd> x(modes.shape[i].data(), chain.n);
        const double lambda = std::pow(2 * pi * modes.frequency_Hz[i], 2) / 1000;
        CHECK((chain.stiffness() * x - lambda * (chain.mass() * x)).norm() <
              1e-6 * lambda * (chain.mass() * x).norm());
        CHECK_THAT(x.dot(chain.mass() * x), WithinRel(1.0, 1e-12));
        CHECK(x.maxCoeff() >= -x.minCoeff());
    }
}

TEST_CASE("a hinged beam swings as Euler's does", "[solver][modes]") {
    const Beam beam;
    MatrixXd k = beam.stiffness(), m = beam.mass();
    for (int dof : {0, beam.n() - 2}) {
        k.row(dof).setZero();
        k.col(dof).setZero();
        k(dof, dof) = 1;
        m.row(dof).setZero();
        m.col(dof).setZero(); // held: no stiffness to others, no mass
    }
    const Modes modes = natural_modes(problem_from(k, m, 4));
    REQUIRE(modes.converged);
    for (int i = 0; i < 4; ++i) {
        const double a = (i + 1) * pi;
        CHECK_THAT(modes.frequency_Hz[i], WithinRel(beam.frequency_Hz(a), beam.mesh_error(a)));
    }
}

TEST_CASE("a free beam has two rigid motions and Euler's frequencies", "[solver][modes]") {
    const Beam beam;
    ModeProblem problem = problem_from(beam.stiffness(), beam.mass(), 3, {0, 1});
    std::vector<double> lift, tilt;
    for (int i = 0; i <= beam.n_elements; ++i) {
        lift.insert(lift.end(), {1, 0});
        tilt.insert(tilt.end(), {i * beam.length / beam.n_elements, 1});
    }
    problem.free_rigid_modes = {lift, tilt};
    const Modes modes = natural_modes(problem);
    REQUIRE(modes.converged);
    const double roots[] = {4.730040744862704, 7.853204624095838, 10.995607838001671}; // of cos a cosh a = 1
    for (int i = 0; i < 3; ++i) {
        CHECK(std::abs(std::cos(roots[i]) * std::cosh(roots[i]) - 1) < 1e-8);
        CHECK_THAT(modes.frequency_Hz[i], WithinRel(beam.frequency_Hz(roots[i]), beam.mesh_error(roots[i])));
    }
}

TEST_CASE("dofs without mass follow and are no modes", "[solver][modes]") {
    // Every second mass of the chain is gone: springs k in pairs, n masses on springs k/2.
    const int n = 7, whole = 2 * n + 1;
    Chain chain{.n = whole}, coarse{.k = chain.k / 2, .n = n};
    MatrixXd m = MatrixXd::Zero(whole, whole);
    for (int i = 1; i < whole; i += 2) m(i, i) = chain.m;
    const Modes modes = natural_modes(problem_from(chain.stiffness(), m, 3));
    REQUIRE(modes.converged);
    for (int i = 0; i < 3; ++i) {
        CHECK_THAT(modes.frequency_Hz[i], WithinRel(coarse.frequency_Hz(i + 1), tolerance));
        const Eigen::Map<const VectorXd> x(modes.shape[i].data(), whole);
        CHECK(std::abs(x[2] - (x[1] + x[3]) / 2) < 1e-9); // nothing pulls on it but its springs
    }
}

TEST_CASE("the units of stiffness may be scaled without losing digits", "[solver][modes]") {
    const Chain soft{.k = 1e-7, .n = 12}, stiff{.k = 1e9, .n = 12};
    for (const Chain& chain : {soft, stiff}) {
        const Modes modes = natural_modes(problem_from(chain.stiffness(), chain.mass(), 2));
        REQUIRE(modes.converged);
        CHECK_THAT(modes.frequency_Hz[1], WithinRel(chain.frequency_Hz(2), tolerance));
    }
}

TEST_CASE("the same problem gives the same bits", "[solver][modes]") {
    const Chain chain{.n = 80};
    const ModeProblem problem = problem_from(chain.stiffness(), chain.mass(), 5);
    const Modes a = natural_modes(problem), b = natural_modes(problem);
    REQUIRE(a.frequency_Hz == b.frequency_Hz);
    REQUIRE(a.shape == b.shape);
}

TEST_CASE("modes that do not exist or do not fit are flagged, never made up", "[solver][modes]") {
    SECTION("more modes than masses") {
        const Chain chain{.n = 3};
        REQUIRE_FALSE(natural_modes(problem_from(chain.stiffness(), chain.mass(), 5)).converged);
    }
    SECTION("no mass at all") {
        const Chain chain{.n = 5};
        const Modes modes = natural_modes(problem_from(chain.stiffness(), MatrixXd::Zero(5, 5), 2));
        REQUIRE_FALSE(modes.converged);
        REQUIRE(modes.frequency_Hz.empty());
    }
    SECTION("a stiffness that is not symmetric") {
        const Chain chain{.n = 40};
        ModeProblem problem = problem_from(chain.stiffness(), chain.mass(), 2);
        problem.apply_stiffness_inverse = [inner = problem.apply_stiffness_inverse](double* columns,
                                                                                    int columns_count) {
            inner(columns, columns_count);
            for (int j = 0; j < columns_count; ++j) {
                double* out = columns + 40 * j;
                for (int i = 0; i < 40; ++i) out[i] *= 1 + 0.5 * i;
                out[3] += out[20];
            }
        };
        REQUIRE_FALSE(natural_modes(problem).converged);
    }
    SECTION("a body that would fly apart by itself") {
        const Chain chain{.n = 6};
        ModeProblem problem = problem_from(chain.stiffness(), chain.mass(), 2);
        problem.apply_stiffness_inverse = [inner = problem.apply_stiffness_inverse](double* columns,
                                                                                    int columns_count) {
            inner(columns, columns_count);
            for (int i = 0; i < 6 * columns_count; ++i) columns[i] = -columns[i];
        };
        const Modes modes = natural_modes(problem);
        REQUIRE_FALSE(modes.converged);
        REQUIRE(modes.frequency_Hz.empty());
    }
    SECTION("numbers that are not finite") {
        const Chain chain{.n = 6};
        ModeProblem problem = problem_from(chain.stiffness(), chain.mass(), 2);
        problem.apply_stiffness_inverse = [](double* columns, int columns_count) {
            for (int i = 0; i < 6 * columns_count; ++i) columns[i] = std::nan("");
        };
        REQUIRE_FALSE(natural_modes(problem).converged);
    }
    SECTION("the same rigid motion named twice") {
        const Chain chain{.n = 6, .is_held = false};
        ModeProblem problem = problem_from(chain.stiffness(), chain.mass(), 2, {0});
        problem.free_rigid_modes.assign(2, std::vector<double>(6, 1.0));
        REQUIRE_THROWS_AS(natural_modes(problem), Error);
    }
}
