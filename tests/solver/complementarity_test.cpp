// SPDX-License-Identifier: MIT
#include "solver/numeric/complementarity.hpp"

#include <Eigen/Core>
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <memory>
#include <random>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using Eigen::MatrixXd;
using Eigen::VectorXd;

namespace {

/// How far an answer is from each of its conditions, against the greatest gap and the greatest force.
double worst_violation(const ContactProblem& problem, const ContactAnswer& answer) {
    const Eigen::Index n = problem.n_points, m = problem.n_rigid;
    const Eigen::Map<const MatrixXd> M(problem.compliance.data(), n, n), R(problem.rigid.data(), n, m);
    const Eigen::Map<const VectorXd> q(problem.approach.data(), n), r(problem.unbalanced.data(), m),
        f(answer.force.data(), n), a(answer.rigid_motion.data(), m);
    const VectorXd gap = M * f + q + R * a, balance = R.transpose() * f + r;
    const double gap_scale = std::max(gap.cwiseAbs().maxCoeff(), q.cwiseAbs().maxCoeff());
    const double force_scale = std::max(f.cwiseAbs().maxCoeff(), 1e-300);
    double worst = balance.cwiseAbs().maxCoeff() / force_scale;
    for (Eigen::Index i = 0; i < n; ++i) {
        if (problem.two_sided[static_cast<size_t>(i)]) {
            worst = std::max(worst, std::abs(gap[i]) / gap_scale);
            continue;
        }
        worst = std::max({worst, -gap[i] / gap_scale, -f[i] / force_scale,
                          std::min(std::abs(gap[i]) / gap_scale, std::abs(f[i]) / force_scale)});
    }
    return worst;
}

/// Bodies on one another: a smooth compliance, springs of very different stiffness, clearances, and a load
/// that the points can carry, for it is made from forces that they can exert.
ContactProblem random_problem(std::mt19937& random, int n, int m) {
    std::uniform_real_distribution<double> uniform(-1, 1);
    const auto matrix = [&](int rows, int columns) {
        MatrixXd A(rows, columns);
        for (Eigen::Index k = 0; k < A.size(); ++k) A.data()[k] = uniform(random);
        return A;
    };
    const MatrixXd shapes = matrix(n, std::max(1, n / 2)), R = matrix(n, m);
    MatrixXd M = shapes * shapes.transpose() / n;
    for (int i = 0; i < n; ++i) M(i, i) += std::pow(10, -4 + 4 * uniform(random));
    ContactProblem problem{.n_points = n,
                           .n_rigid = m,
                           .compliance = {M.data(), M.data() + M.size()},
                           .approach = {},
                           .rigid = {R.data(), R.data() + R.size()},
                           .unbalanced = {},
                           .two_sided = {}};
    VectorXd carried(n);
    for (int i = 0; i < n; ++i) {
        problem.approach.push_back(uniform(random));
        problem.two_sided.push_back(uniform(random) > 0.4);
        carried[i] = problem.two_sided.back() ? uniform(random) : std::max(0.0, uniform(random));
    }
    const VectorXd r = -R.transpose() * carried;
    problem.unbalanced.assign(r.data(), r.data() + m);
    return problem;
}

} // namespace

TEST_CASE("two thousand random contact problems are solved to their conditions", "[solver][property]") {
    std::mt19937 random(1);
    double worst = 0;
    int most_pivots = 0;
    for (int k = 0; k < 2000; ++k) {
        const int m = 1 + static_cast<int>(random() % 6), n = 2 * m + static_cast<int>(random() % 40);
        const ContactProblem problem = random_problem(random, n, m);
        const ContactAnswer answer = solve_contact(problem);
        CAPTURE(n, m, answer.imbalance, answer.pivots);
        REQUIRE(answer.balanced);
        worst = std::max(worst, worst_violation(problem, answer));
        most_pivots = std::max(most_pivots, answer.pivots);
    }
    CHECK(worst < 1e-7);
    CHECK(most_pivots < 1000); // Murty's rule alone may take far more
}

TEST_CASE("contact stays exact with hundreds of points and dozens of floating bodies", "[solver][property]") {
    std::mt19937 random(2);
    for (int k = 0; k < 3; ++k) {
        const ContactProblem problem = random_problem(random, 300, 54);
        const ContactAnswer answer = solve_contact(problem);
        REQUIRE(answer.balanced);
        CHECK(worst_violation(problem, answer) < 1e-7);
    }
}

TEST_CASE("a guess of what presses changes the way but not the answer", "[solver][property]") {
    std::mt19937 random(3);
    for (int k = 0; k < 50; ++k) {
        const ContactProblem problem = random_problem(random, 30, 4);
        const ContactAnswer cold = solve_contact(problem);
        std::vector<char> guess(30);
        for (char& g : guess) g = static_cast<char>(random() % 2);
        const ContactAnswer warm = ContactSolver(problem).solve(problem.approach, problem.unbalanced, guess);
        for (size_t i = 0; i < 30; ++i)
            CHECK_THAT(warm.force[i], WithinRel(cold.force[i], 1e-6) || WithinAbs(cold.force[i], 1e-8));
    }
}

TEST_CASE("bodies held at every point carry many approaches as one by one", "[solver][property]") {
    std::mt19937 random(5);
    for (int k = 0; k < 30; ++k) {
        const int n = 6 + static_cast<int>(random() % 90), m = static_cast<int>(random() % 4), count = 5;
        ContactProblem problem = random_problem(random, n, std::max(m, 1));
        problem.two_sided.assign(static_cast<size_t>(n), 1);
        if (m == 0) {
            problem.n_rigid = 0;
            problem.rigid.clear();
        }
        problem.unbalanced.assign(static_cast<size_t>(m), 0);
        const ContactSolver solver(problem);
        std::vector<double> approaches;
        for (int i = 0; i < n * count; ++i)
            approaches.push_back(std::uniform_real_distribution<double>(-1, 1)(random));
        const std::vector<double> together = solver.hold(approaches, count);
        REQUIRE(together.size() == approaches.size());
        for (int c = 0; c < count; ++c) {
            const std::vector<double> approach(approaches.begin() + c * n, approaches.begin() + (c + 1) * n);
            const ContactAnswer alone = solver.solve(approach, problem.unbalanced);
            double most = 0;
            for (const double f : alone.force) most = std::max(most, std::abs(f));
            for (int i = 0; i < n; ++i)
                REQUIRE_THAT(together[static_cast<size_t>(c * n + i)],
                             WithinAbs(alone.force[static_cast<size_t>(i)], 1e-7 * most));
        }
    }
}

TEST_CASE("a compliance that is shared and has more on its diagonal is that of the sum",
          "[solver][property]") {
    std::mt19937 random(6);
    for (int k = 0; k < 30; ++k) {
        const int n = 20, stride = 27, m = 3;
        ContactProblem whole = random_problem(random, n, m), parted = whole;
        parted.own_compliance.assign(static_cast<size_t>(n), 0);
        auto shared = std::make_shared<std::vector<double>>(static_cast<size_t>(stride * n),
                                                            1e9); // what lies between the columns is not read
        for (int j = 0; j < n; ++j)
            for (int i = 0; i < n; ++i) {
                double value = whole.compliance[static_cast<size_t>(j * n + i)];
                if (i == j) {
                    parted.own_compliance[static_cast<size_t>(i)] = 0.25 * value;
                    value *= 0.75;
                }
                (*shared)[static_cast<size_t>(j * stride + i)] = value;
            }
        parted.compliance.clear();
        parted.shared_compliance = shared;
        parted.stride = stride;
        const ContactAnswer one = solve_contact(whole), other = solve_contact(parted);
        REQUIRE(other.balanced);
        double most = 0;
        for (const double f : one.force) most = std::max(most, std::abs(f));
        for (int i = 0; i < n; ++i)
            CHECK_THAT(other.force[static_cast<size_t>(i)],
                       WithinAbs(one.force[static_cast<size_t>(i)], 1e-6 * most));
        CHECK(worst_violation(whole, other) < 1e-7);
    }
}

TEST_CASE("a load that nothing can carry is told as not balanced", "[solver]") {
    // a point that only presses upwards, and a body that is pulled upwards
    const ContactProblem problem{.n_points = 1,
                                 .n_rigid = 1,
                                 .compliance = {1},
                                 .approach = {0},
                                 .rigid = {1},
                                 .unbalanced = {1},
                                 .two_sided = {0}};
    CHECK_FALSE(solve_contact(problem).balanced);
}

TEST_CASE("a stop with clearance carries nothing until the clearance is used", "[solver]") {
    // one body on a spring of 100 N/mm, a stop 3 mm below with the same spring; 500 N: 300 N to reach it, the
    // rest shared
    const auto force_on_stop = [](double load) {
        const ContactProblem problem{.n_points = 2,
                                     .n_rigid = 1,
                                     .compliance = {0.01, 0, 0, 0.01},
                                     .approach = {0, 3},
                                     .rigid = {1, 1},
                                     .unbalanced = {-load},
                                     .two_sided = {1, 0}};
        return solve_contact(problem).force[1];
    };
    CHECK(force_on_stop(299) == 0);
    CHECK_THAT(force_on_stop(500), WithinRel(100, 1e-9));
}

TEST_CASE("a body without rigid motions may still press on its supports", "[solver]") {
    const ContactProblem problem{.n_points = 2,
                                 .n_rigid = 0,
                                 .compliance = {2, 0, 0, 1},
                                 .approach = {-4, 3},
                                 .rigid = {},
                                 .unbalanced = {},
                                 .two_sided = {0, 0}};
    const ContactAnswer answer = solve_contact(problem);
    CHECK(answer.balanced);
    CHECK_THAT(answer.force[0], WithinRel(2, 1e-12));
    CHECK(answer.force[1] == 0);
    CHECK_THAT(answer.gap[1], WithinRel(3, 1e-12));
}

TEST_CASE("a load that lifts a body off everything under it is never balanced", "[solver][property]") {
    // some motion a moves every point upwards (R a > 0) and the load does work on it (r'a > 0): forces that
    // only press cannot answer (Farkas' lemma)
    std::mt19937 random(4);
    std::uniform_real_distribution<double> uniform(0.1, 1);
    for (int k = 0; k < 300; ++k) {
        const int m = 1 + static_cast<int>(random() % 3), n = m + static_cast<int>(random() % 12);
        ContactProblem problem = random_problem(random, n, m);
        problem.two_sided.assign(static_cast<size_t>(n), 0);
        VectorXd a(m), r(m);
        for (int i = 0; i < m; ++i) {
            a[i] = uniform(random);
            r[i] = uniform(random);
        }
        Eigen::Map<MatrixXd> R(problem.rigid.data(), n, m);
        for (int i = 0; i < n; ++i)
            if (R.row(i).dot(a) <= 0) R.row(i) = -R.row(i) + 0.1 * a.transpose();
        problem.unbalanced.assign(r.begin(), r.end());
        CAPTURE(n, m);
        REQUIRE_FALSE(solve_contact(problem).balanced);
    }
}

TEST_CASE("a motion that no point feels is left alone, unless a load drives it", "[solver]") {
    // two points, a body that moves up and slides
    ContactProblem problem{.n_points = 2,
                           .n_rigid = 2,
                           .compliance = {1, 0, 0, 1},
                           .approach = {0, 0},
                           .rigid = {1, 1, 0, 0},
                           .unbalanced = {-10, 0},
                           .two_sided = {0, 0}};
    const ContactAnswer answer = solve_contact(problem);
    CHECK(answer.balanced);
    CHECK_THAT(answer.force[0], WithinRel(5, 1e-9));
    CHECK(answer.rigid_motion[1] == 0);
    problem.unbalanced[1] = 1;
    CHECK_FALSE(solve_contact(problem).balanced);
}

TEST_CASE("a connection that holds both ways pulls where a foot would let go", "[solver]") {
    // a lever: feet at 1 and 2, 10 N at 3
    ContactProblem problem{.n_points = 2,
                           .n_rigid = 2,
                           .compliance = {0.01, 0, 0, 0.01},
                           .approach = {0, 0},
                           .rigid = {1, 1, 1, 2},
                           .unbalanced = {-10, -30},
                           .two_sided = {0, 0}};
    CHECK_FALSE(solve_contact(problem).balanced);
    problem.two_sided[0] = 1;
    const ContactAnswer answer = solve_contact(problem);
    CHECK(answer.balanced);
    CHECK_THAT(answer.force[0], WithinRel(-10, 1e-9));
    CHECK_THAT(answer.force[1], WithinRel(20, 1e-9));
}

TEST_CASE("a rigid motion that the points feel by rounding alone changes no force", "[solver]") {
    // two springs pushed together by 1 and 2, held both ways; one motion is real and carries nothing, the
    // other is noise
    ContactProblem problem{.n_points = 2,
                           .n_rigid = 2,
                           .compliance = {1, 0, 0, 1},
                           .approach = {-1, -2},
                           .rigid = {1, -1, 1e-17, 0},
                           .unbalanced = {0, 0},
                           .two_sided = {1, 1}};
    const ContactAnswer answer = solve_contact(problem);
    CHECK(answer.balanced);
    // f = -q - R a: 1 - a and 2 + a, alike by R'f = 0, so a = -0.5
    CHECK_THAT(answer.force[0], WithinAbs(1.5, 1e-9));
    CHECK_THAT(answer.force[1], WithinAbs(1.5, 1e-9));
    CHECK(answer.rigid_motion[1] == 0);
}

TEST_CASE("a load that lies a hair outside the feet tips, one a hair inside rests", "[solver]") {
    // two feet, at 0 and at 1, and 1 N at x: the second carries x, the first 1 - x, and only presses. Outside, the best
    // that pressing feet can do leaves a moment of x - 1 unbalanced: a small share, but no rounding
    const auto answer_at = [](double x) {
        return solve_contact({.n_points = 2,
                              .n_rigid = 2,
                              .compliance = {0.01, 0, 0, 0.01},
                              .approach = {0, 0},
                              .rigid = {1, 1, 0, 1},
                              .unbalanced = {-1, -x},
                              .two_sided = {0, 0}});
    };
    for (const double hair : {1e-2, 1e-3, 1e-5, 1e-7}) {
        CAPTURE(hair);
        const ContactAnswer outside = answer_at(1 + hair), inside = answer_at(1 - hair);
        CHECK_FALSE(outside.balanced);
        CHECK(outside.imbalance > 0.1 * hair);
        CHECK(outside.imbalance < hair);
        CHECK(inside.balanced);
        CHECK_THAT(inside.force[0], WithinAbs(hair, 1e-9));
    }
}

TEST_CASE("forces of which a one-sided point pulls are no answer, however well they balance", "[solver]") {
    const std::vector<char> feet{0, 0, 0}, held{1, 0, 0};
    CHECK(is_balanced(0, std::vector<double>{0, 20, 10}, feet));
    CHECK_FALSE(is_balanced(0, std::vector<double>{-10, 20, 10}, feet));
    CHECK_FALSE(is_balanced(0, std::vector<double>{-1e-6, 20, 10}, feet));
    CHECK(is_balanced(0, std::vector<double>{-1e-12, 20, 10}, feet)); // rounding
    CHECK(is_balanced(0, std::vector<double>{-10, 20, 10}, held));    // this one may pull
    CHECK_FALSE(is_balanced(0, std::vector<double>{-10, 20, -10}, held));
    CHECK(is_balanced(1e-10, std::vector<double>{0, 20, 10}, feet));
    CHECK_FALSE(is_balanced(1e-8, std::vector<double>{0, 20, 10}, feet));
    CHECK(is_balanced(0, std::vector<double>{}, std::vector<char>{})); // nothing to carry
}

TEST_CASE("an answer whose gaps do not hold is not called balanced", "[solver]") {
    const std::vector<char> one_sided{0, 0}, held{1, 0};
    const std::vector<double> apart{0, 0.5}, overlap{0, -0.5}, not_closed{0.1, 0};
    CHECK(gaps_hold(apart, std::vector<char>{1, 0}, one_sided, 1));
    CHECK_FALSE(gaps_hold(overlap, std::vector<char>{1, 0}, one_sided, 1));
    CHECK_FALSE(gaps_hold(not_closed, std::vector<char>{1, 1}, one_sided, 1)); // presses without touching
    CHECK(gaps_hold(not_closed, std::vector<char>{0, 1}, one_sided, 1));
    CHECK_FALSE(gaps_hold(not_closed, std::vector<char>{0, 1}, held, 1)); // held both ways, and has moved
    CHECK(gaps_hold(std::vector<double>{0, -1e-9}, std::vector<char>{1, 0}, one_sided, 1)); // rounding
    CHECK_FALSE(gaps_hold(std::vector<double>{std::nan(""), 0}, std::vector<char>{1, 1}, one_sided, 1));
    // compliances that no body has: its factor is none, and the "forces" answer nothing
    for (const double compliance : {0.0, -1.0}) {
        const ContactProblem problem{.n_points = 1,
                                     .n_rigid = 0,
                                     .compliance = {compliance},
                                     .approach = {-1},
                                     .rigid = {},
                                     .unbalanced = {},
                                     .two_sided = {0}};
        CAPTURE(compliance);
        CHECK_FALSE(solve_contact(problem).balanced);
    }
}

TEST_CASE("of many random problems no one-sided point of a balanced answer pulls", "[solver][property]") {
    // loads of any kind: some can be carried, some tip; in every second problem all points only press
    std::mt19937 random(7);
    int balanced = 0, tipped = 0;
    for (int k = 0; k < 500; ++k) {
        const int m = 1 + static_cast<int>(random() % 3), n = m + 1 + static_cast<int>(random() % 6);
        ContactProblem problem = random_problem(random, n, m);
        for (double& r : problem.unbalanced) r = std::uniform_real_distribution<double>(-1, 1)(random);
        if (k % 2 == 0) problem.two_sided.assign(static_cast<size_t>(n), 0);
        const ContactAnswer answer = solve_contact(problem);
        (answer.balanced ? balanced : tipped) += 1;
        if (!answer.balanced) continue;
        double most = 0;
        for (const double f : answer.force) most = std::max(most, std::abs(f));
        for (size_t i = 0; i < answer.force.size(); ++i)
            if (!problem.two_sided[i]) REQUIRE(answer.force[i] >= -1e-9 * most);
        REQUIRE(worst_violation(problem, answer) < 1e-6); // of gaps too
    }
    CHECK(balanced > 50);
    CHECK(tipped > 20);
}
