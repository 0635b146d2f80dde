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

struct Pivoting {
    VectorXd force, gap;
    std::vector<char> active;
    int pivots = 0;
};

/// gap = A f + b on the active set is zero; all else has no force.
void solve_active(const MatrixXd& A, const VectorXd& b, Pivoting& state) {
    std::vector<Index> set;
    for (Index i = 0; i < b.size(); ++i)
        if (state.active[static_cast<size_t>(i)]) set.push_back(i);
    state.force.setZero(b.size());
    if (!set.empty()) {
        const MatrixXd part = A(set, set);
        const VectorXd answer = part.llt().solve(-b(set));
        for (size_t k = 0; k < set.size(); ++k) state.force[set[k]] = answer[static_cast<Index>(k)];
    }
    state.gap = A * state.force + b;
    for (const Index i : set) state.gap[i] = 0;
    ++state.pivots;
}

/// Block principal pivoting; `active` is the first guess.
Pivoting pivot_to_end(const MatrixXd& A, const VectorXd& b, const std::vector<char>& two_sided, std::vector<char> active) {
    constexpr int block_tries = 3; // Portugal et al.: p = 3 worked best
    const Index n = b.size();
    Pivoting state;
    state.active = std::move(active);
    Index fewest = n + 1;
    int tries = block_tries;
    const double scale = b.cwiseAbs().maxCoeff();
    for (;;) {
        solve_active(A, b, state);
        const double force_scale = std::max(state.force.cwiseAbs().maxCoeff(), 1e-300);
        std::vector<Index> wrong;
        for (Index i = 0; i < n; ++i) {
            if (two_sided[static_cast<size_t>(i)]) continue;
            const bool is_active = state.active[static_cast<size_t>(i)];
            if (is_active ? state.force[i] < -1e-12 * force_scale : state.gap[i] < -1e-12 * scale) wrong.push_back(i);
        }
        if (wrong.empty()) return state;
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
        if (block) {
            for (const Index i : wrong) state.active[static_cast<size_t>(i)] ^= 1;
        } else {
            state.active[static_cast<size_t>(wrong.back())] ^= 1;
        }
        if (state.pivots > 50 * n + 1000) return state; // cannot happen in exact arithmetic; the caller sees the imbalance
    }
}

} // namespace

ContactAnswer solve_contact(const ContactProblem& problem) {
    const Index n = problem.n_points, m = problem.n_rigid;
    const Map<const MatrixXd> M(problem.flexibility.data(), n, n);
    const Map<const MatrixXd> R_given(problem.rigid.data(), n, m);
    const Map<const VectorXd> q(problem.approach.data(), n), r_given(problem.unbalanced.data(), m);
    ContactAnswer answer;
    answer.force.assign(static_cast<size_t>(n), 0);
    answer.gap.assign(static_cast<size_t>(n), 0);
    answer.rigid_motion.assign(static_cast<size_t>(m), 0);
    answer.presses.assign(static_cast<size_t>(n), 0);
    if (n == 0) {
        answer.balanced = m == 0 || r_given.cwiseAbs().maxCoeff() == 0;
        return answer;
    }
    // each rigid motion scaled to unit size at the points; those that no point feels must carry no load
    MatrixXd R = R_given;
    VectorXd r = r_given, size = VectorXd::Ones(m);
    for (Index k = 0; k < m; ++k) {
        size[k] = R.col(k).norm();
        if (size[k] > 0) {
            R.col(k) /= size[k];
            r[k] /= size[k];
        }
    }
    // soft springs: 1e6 times more flexible than the top itself
    const double soft = 1e6 * M.diagonal().mean();
    const MatrixXd A = M + soft * (R * R.transpose());
    VectorXd motion = VectorXd::Zero(m);
    std::vector<char> active(static_cast<size_t>(n), 1);
    Pivoting state;
    VectorXd imbalance;
    const double load = std::max(r.norm(), 1e-300);
    for (int round = 0; round < 12; ++round) {
        const VectorXd b = q + R * (motion + soft * r);
        state = pivot_to_end(A, b, problem.two_sided, active);
        answer.pivots += state.pivots;
        active = state.active;
        imbalance = R.transpose() * state.force + r;
        const VectorXd step = soft * imbalance;
        motion += step;
        answer.imbalance = imbalance.norm() / load;
        if (answer.imbalance < 1e-13 || r.norm() == 0) break;
    }
    answer.balanced = r.norm() == 0 || answer.imbalance < 1e-9;
    for (Index i = 0; i < n; ++i) {
        answer.force[static_cast<size_t>(i)] = state.force[i];
        answer.gap[static_cast<size_t>(i)] = state.gap[i];
        answer.presses[static_cast<size_t>(i)] = state.active[static_cast<size_t>(i)];
    }
    for (Index k = 0; k < m; ++k) answer.rigid_motion[static_cast<size_t>(k)] = size[k] > 0 ? motion[k] / size[k] : 0;
    return answer;
}

} // namespace hollowtop
