// SPDX-License-Identifier: MIT
#include "solver/interface/complementarity.hpp"

#include "materials/assert.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

using Eigen::Index;
using Eigen::Map;
using Eigen::MatrixXd;
using Eigen::VectorXd;
using Set = std::vector<Index>;

/// The points that press, their factor, and the rigid motions they hold.
struct ActiveSet {
    Set set;
    Eigen::LLT<MatrixXd> flexibility; ///< of M at the set
    MatrixXd held;                    ///< M^-1 R at the set
    MatrixXd rigid;                   ///< R at the set
    Eigen::LLT<MatrixXd> motions;     ///< R' M^-1 R + what the two-sided points hold + soft springs
};

} // namespace

/// One-sided points alone, the two-sided ones eliminated:
///     gap = M f + q + R a,   R' f - H a + r = 0.
struct ContactSolver::Body {
    Index n_points = 0, n_rigid = 0;
    Set one, two;             ///< one-sided and two-sided points
    VectorXd size;            ///< of each rigid motion at the points
    MatrixXd R_all;           ///< scaled to unit size, all points
    Eigen::LLT<MatrixXd> two_factor;
    MatrixXd M_one_two;       ///< M between one-sided and two-sided points
    MatrixXd R_two;           ///< R at two-sided points
    MatrixXd held_two;        ///< M_tt^-1 R_t
    MatrixXd M, R, H;
    double soft = 1;

    void choose(ActiveSet& active, const std::vector<char>& presses) const {
        active.set.clear();
        for (Index i = 0; i < M.rows(); ++i)
            if (presses[static_cast<size_t>(i)]) active.set.push_back(i);
        MatrixXd motions = H;
        motions.diagonal().array() += 1 / soft;
        if (!active.set.empty()) {
            const MatrixXd part = M(active.set, active.set);
            active.flexibility.compute(part);
            active.rigid = R(active.set, Eigen::all);
            active.held = active.rigid;
            if (active.rigid.cols() > 0) active.held = active.flexibility.solve(active.rigid);
            motions.noalias() += active.rigid.transpose() * active.held;
        }
        if (motions.rows() > 0) active.motions.compute(motions);
    }
};

ContactSolver::~ContactSolver() = default;
ContactSolver::ContactSolver(ContactSolver&&) noexcept = default;
ContactSolver& ContactSolver::operator=(ContactSolver&&) noexcept = default;

ContactSolver::ContactSolver(ContactProblem problem) : body_(std::make_unique<Body>()) {
    Body& b = *body_;
    const Index n = problem.n_points, m = problem.n_rigid;
    b.n_points = n;
    b.n_rigid = m;
    const Map<const MatrixXd> M_all(problem.flexibility.data(), n, n);
    b.R_all = Map<const MatrixXd>(problem.rigid.data(), n, m);
    // each rigid motion scaled to unit size at the points; those that no point feels must carry no load
    b.size = VectorXd::Ones(m);
    for (Index k = 0; k < m; ++k) b.size[k] = b.R_all.col(k).norm();
    // a bar that can turn about its one round hole: what the points feel of that is rounding, and must not be scaled up
    const double least = m > 0 ? 1e-12 * b.size.maxCoeff() : 0;
    for (Index k = 0; k < m; ++k) {
        if (b.size[k] > least) {
            b.R_all.col(k) /= b.size[k];
        } else {
            b.size[k] = 0;
            b.R_all.col(k).setZero();
        }
    }
    for (Index i = 0; i < n; ++i) (problem.two_sided[static_cast<size_t>(i)] ? b.two : b.one).push_back(i);
    // 1e6 times more flexible than the bodies themselves, but never so soft that the stiffest tie drowns them in rounding
    if (n > 0 && m > 0) {
        const double stiffest = (b.R_all.array().square().colwise() / M_all.diagonal().array()).colwise().sum().maxCoeff();
        b.soft = 1 / std::max(1e-6 / M_all.diagonal().mean(), 1e-10 * stiffest);
    }
    b.M = M_all(b.one, b.one);
    b.R = b.R_all(b.one, Eigen::all);
    b.H = MatrixXd::Zero(m, m);
    if (b.two.empty()) return;
    const MatrixXd M_two = M_all(b.two, b.two);
    b.two_factor.compute(M_two);
    b.R_two = b.R_all(b.two, Eigen::all);
    b.held_two = MatrixXd::Zero(b.R_two.rows(), m);
    if (m > 0) b.held_two = b.two_factor.solve(b.R_two);
    b.H = b.R_two.transpose() * b.held_two;
    b.M_one_two = M_all(b.one, b.two);
    if (b.one.empty()) return;
    const MatrixXd half = b.two_factor.matrixL().solve(b.M_one_two.transpose());
    b.M.noalias() -= half.transpose() * half;
    b.R.noalias() -= b.M_one_two * b.held_two;
}

ContactAnswer ContactSolver::solve(std::span<const double> approach, std::span<const double> unbalanced, std::span<const char> first_guess) const {
    const Body& b = *body_;
    const Index n = b.n_points, m = b.n_rigid, n_one = b.M.rows();
    const Map<const VectorXd> q_all(approach.data(), n), r_given(unbalanced.data(), m);
    ContactAnswer answer;
    answer.force.assign(static_cast<size_t>(n), 0);
    answer.gap.assign(static_cast<size_t>(n), 0);
    answer.rigid_motion.assign(static_cast<size_t>(m), 0);
    answer.presses.assign(static_cast<size_t>(n), 0);
    if (n == 0) {
        answer.balanced = m == 0 || r_given.cwiseAbs().maxCoeff() == 0;
        return answer;
    }
    VectorXd r_all = r_given;
    for (Index k = 0; k < m; ++k)
        if (b.size[k] > 0) r_all[k] /= b.size[k];
    VectorXd q = q_all(b.one), r = r_all;
    if (!b.two.empty()) {
        const VectorXd y = b.two_factor.solve(VectorXd(q_all(b.two)));
        q -= b.M_one_two * y;
        r -= b.R_two.transpose() * y;
    }

    std::vector<char> presses(static_cast<size_t>(n_one), 1);
    HOLLOWTOP_ASSERT(first_guess.empty() || static_cast<Index>(first_guess.size()) == n);
    if (!first_guess.empty())
        for (Index i = 0; i < n_one; ++i) presses[static_cast<size_t>(i)] = first_guess[static_cast<size_t>(b.one[static_cast<size_t>(i)])];
    ActiveSet active;
    VectorXd motion = VectorXd::Zero(m), held_by_springs = VectorXd::Zero(m), force(n_one), gap(n_one);
    const auto solve_active = [&] {
        VectorXd right = r + held_by_springs / b.soft;
        VectorXd alone; // forces at rest
        if (!active.set.empty()) {
            alone = active.flexibility.solve(VectorXd(-q(active.set)));
            right += active.rigid.transpose() * alone;
        }
        if (m > 0) motion = active.motions.solve(right);
        force.setZero();
        if (!active.set.empty()) {
            const VectorXd pressing = alone - active.held * motion;
            for (size_t k = 0; k < active.set.size(); ++k) force[active.set[k]] = pressing[static_cast<Index>(k)];
        }
        gap = q;
        if (m > 0) gap.noalias() += b.R * motion;
        for (const Index i : active.set) gap.noalias() += force[i] * b.M.col(i);
        for (const Index i : active.set) gap[i] = 0;
        ++answer.pivots;
    };
    constexpr int block_tries = 3; // Portugal et al.: p = 3 worked best
    const auto pivot_to_end = [&] {
        Index fewest = n_one + 1;
        int tries = block_tries;
        for (int pivot = 0; pivot < 50 * n_one + 1000; ++pivot) { // the limit cannot be met in exact arithmetic; the caller sees the imbalance
            solve_active();
            const double force_scale = force.size() ? std::max(force.cwiseAbs().maxCoeff(), 1e-300) : 1;
            const double gap_scale = gap.size() ? std::max((b.R * motion).cwiseAbs().maxCoeff(), q.cwiseAbs().maxCoeff()) : 1;
            Set wrong;
            for (Index i = 0; i < n_one; ++i)
                if (presses[static_cast<size_t>(i)] ? force[i] < -1e-12 * force_scale : gap[i] < -1e-12 * gap_scale) wrong.push_back(i);
            if (wrong.empty()) return;
            const auto count = static_cast<Index>(wrong.size());
            bool block = true;
            if (count < fewest) {
                fewest = count;
                tries = block_tries;
            } else if (tries > 0) {
                --tries;
            } else {
                block = false; // Murty's rule: only the last wrong index; ends for every positive definite matrix
            }
            if (!block) wrong = {wrong.back()};
            for (const Index i : wrong) presses[static_cast<size_t>(i)] ^= 1;
            b.choose(active, presses);
        }
    };
    b.choose(active, presses);
    constexpr int enough_rounds = 12, most_rounds = 200; // a load that just reaches the supports' power takes more
    double before = 1;
    for (int round = 0; round < most_rounds; ++round) {
        pivot_to_end();
        const VectorXd imbalance = r - b.H * motion + b.R.transpose() * force; // what the soft springs carry
        held_by_springs += b.soft * imbalance;
        answer.imbalance = imbalance.norm() / std::max({r_all.norm(), (b.R.cwiseAbs().transpose() * force.cwiseAbs()).norm(), 1e-300});
        if (answer.imbalance < 1e-13 || (answer.imbalance < 1e-11 && answer.imbalance > 0.1 * before)) break; // balanced to rounding
        if (round >= enough_rounds && answer.imbalance > 0.99 * before) break;
        before = answer.imbalance;
    }
    VectorXd force_two;
    if (!b.two.empty()) {
        const VectorXd movement = q_all(b.two) + b.M_one_two.transpose() * force + b.R_two * motion;
        force_two = -b.two_factor.solve(movement);
    }
    for (Index i = 0; i < n_one; ++i) {
        const auto at = static_cast<size_t>(b.one[static_cast<size_t>(i)]);
        answer.force[at] = force[i];
        answer.gap[at] = gap[i];
        answer.presses[at] = presses[static_cast<size_t>(i)];
    }
    for (Index i = 0; i < force_two.size(); ++i) {
        const auto at = static_cast<size_t>(b.two[static_cast<size_t>(i)]);
        answer.force[at] = force_two[i];
        answer.presses[at] = 1;
    }
    const Map<const VectorXd> all_forces(answer.force.data(), n);
    const double scale = std::max((b.R_all.cwiseAbs().transpose() * all_forces.cwiseAbs()).norm(), r_all.norm());
    answer.imbalance = (r_all + b.R_all.transpose() * all_forces).norm() / std::max(scale, 1e-300);
    answer.balanced = answer.imbalance < 1e-9;
    for (Index k = 0; k < m; ++k) answer.rigid_motion[static_cast<size_t>(k)] = b.size[k] > 0 ? motion[k] / b.size[k] : 0;
    return answer;
}

ContactAnswer solve_contact(const ContactProblem& problem) { return ContactSolver(problem).solve(problem.approach, problem.unbalanced); }

} // namespace hollowtop
