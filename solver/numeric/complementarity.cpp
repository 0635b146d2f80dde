// SPDX-License-Identifier: MIT
#include "solver/numeric/complementarity.hpp"

#include "materials/assert.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <mutex>
#include <utility>

namespace hollowtop {
namespace {

using Eigen::Index;
using Eigen::Map;
using Eigen::MatrixXd;
using Eigen::VectorXd;
using Set = std::vector<Index>;

/// The active contacts, those that press: their factor, and the rigid motions they hold.
struct ActiveSet {
    Set set;
    Eigen::LLT<MatrixXd> compliance; ///< of M at the set
    MatrixXd held;                   ///< M^-1 R at the set
    MatrixXd rigid;                  ///< R at the set
    Eigen::LLT<MatrixXd> motions;    ///< R' M^-1 R + what the two-sided points hold + soft springs
};

} // namespace

/// One-sided points alone, the two-sided ones eliminated:
///     gap = M f + q + R a,   R' f - H a + r = 0,   M = M_oo - half half'.
/// Of M only what is asked for is made: few of the one-sided points press.
struct ContactSolver::Body {
    Index n_points = 0, n_rigid = 0;
    Set one, two;                                          ///< one-sided and two-sided points
    std::vector<char> two_sided;                           ///< the same, one a point
    VectorXd size;                                         ///< of each rigid motion at the points
    MatrixXd R_all;                                        ///< scaled to unit size, all points
    std::shared_ptr<const std::vector<double>> compliance; ///< of all points, without `own compliance`
    Index stride = 0;
    VectorXd own_compliance;         ///< on the diagonal
    Eigen::LLT<MatrixXd> two_factor; ///< L L' = M_tt
    MatrixXd half;                   ///< M_ot L'^-1
    MatrixXd R_half;                 ///< L^-1 R_t
    MatrixXd R, H;
    double soft = 1;
    mutable std::vector<std::pair<std::vector<char>, std::shared_ptr<const ActiveSet>>>
        kept;                ///< the last few
    mutable size_t next = 0; ///< of those, the one to give up
    std::unique_ptr<std::mutex> guard = std::make_unique<std::mutex>();

    Map<const MatrixXd, 0, Eigen::OuterStride<>> between() const {
        return {compliance->data(), n_points, n_points, Eigen::OuterStride<>(stride)};
    }
    VectorXd diagonal() const { return between().diagonal() + own_compliance; }
    /// Rows and columns of M at a set.
    MatrixXd M_at(const Set& set) const {
        MatrixXd part = between()(set, set);
        part.diagonal() += own_compliance(set);
        return part;
    }

    /// The factor for these, that of a load before where the same pressed.
    std::shared_ptr<const ActiveSet> chosen(const std::vector<char>& presses) const {
        {
            const std::lock_guard lock(*guard);
            for (const auto& [pressed, active] : kept)
                if (pressed == presses) return active;
        }
        // made in its place: a factor of nothing must not be moved
        const std::shared_ptr<const ActiveSet> active(new ActiveSet(choose(presses)));
        constexpr size_t most_kept = 8;
        const std::lock_guard lock(*guard);
        if (kept.size() < most_kept)
            kept.emplace_back(presses, active);
        else
            kept[next++ % most_kept] = {presses, active};
        return active;
    }

    ActiveSet choose(const std::vector<char>& presses) const {
        ActiveSet active; // made anew: a matrix whose change of size finds no memory cannot be destroyed
        Set points;
        for (Index i = 0; i < R.rows(); ++i)
            if (presses[static_cast<size_t>(i)]) {
                active.set.push_back(i);
                points.push_back(one[static_cast<size_t>(i)]);
            }
        MatrixXd motions = H;
        motions.diagonal().array() += 1 / soft;
        if (!active.set.empty()) {
            MatrixXd part = M_at(points);
            if (!two.empty()) {
                const MatrixXd half_active = half(active.set, Eigen::all);
                part.selfadjointView<Eigen::Lower>().rankUpdate(half_active, -1);
            }
            active.compliance.compute(part);
            active.rigid = R(active.set, Eigen::all);
            active.held = active.rigid;
            if (active.rigid.cols() > 0) active.held = active.compliance.solve(active.rigid);
            motions.noalias() += active.rigid.transpose() * active.held;
        }
        if (motions.rows() > 0) active.motions.compute(motions);
        return active;
    }

    struct Held {
        MatrixXd force, motion; ///< n_points and n_rigid times as many columns
    };
    /// What the two-sided points and the active ones carry, none of them opening, column by column.
    Held hold(const ActiveSet& active, const MatrixXd& approach, const MatrixXd& unbalanced) const {
        const Index count = approach.cols();
        MatrixXd carried = approach(two, Eigen::all), q = approach(one, Eigen::all),
                 r = unbalanced; // carried: L^-1 of what the two-sided points move
        if (!two.empty()) {
            two_factor.matrixL().solveInPlace(carried);
            if (!one.empty()) q.noalias() -= half * carried;
            r.noalias() -= R_half.transpose() * carried;
        }
        MatrixXd alone, pressing; // forces at rest, and at last
        MatrixXd right = r;
        if (!active.set.empty()) {
            alone = active.compliance.solve(MatrixXd(-q(active.set, Eigen::all)));
            right.noalias() += active.rigid.transpose() * alone;
        }
        MatrixXd motion = MatrixXd::Zero(n_rigid, count), held_by_springs = motion;
        constexpr int most_rounds = 12; // each takes some six digits off what the soft springs carry
        for (int round = 0; round < most_rounds && n_rigid > 0; ++round) {
            motion = active.motions.solve(right + held_by_springs / soft);
            MatrixXd imbalance = r - H * motion;
            if (!active.set.empty()) {
                pressing = alone - active.held * motion;
                imbalance.noalias() += active.rigid.transpose() * pressing;
            }
            if (imbalance.norm() <= 1e-14 * right.norm()) break;
            held_by_springs += soft * imbalance;
        }
        if (n_rigid == 0) pressing = alone;
        Held held{.force = MatrixXd::Zero(n_points, count), .motion = std::move(motion)};
        for (size_t k = 0; k < active.set.size(); ++k)
            held.force.row(one[static_cast<size_t>(active.set[k])]) = pressing.row(static_cast<Index>(k));
        if (!two.empty()) {
            carried.noalias() += R_half * held.motion;
            for (size_t k = 0; k < active.set.size(); ++k)
                carried.noalias() +=
                    half.row(active.set[k]).transpose() * pressing.row(static_cast<Index>(k));
            two_factor.matrixL().transpose().solveInPlace(carried);
            held.force(two, Eigen::all) = -carried;
        }
        return held;
    }

    /// M f of the one-sided points for forces at the active ones.
    VectorXd yielding(const Set& active, const VectorXd& force) const {
        VectorXd all = VectorXd::Zero(n_points), at_two = VectorXd::Zero(half.cols());
        for (const Index i : active) {
            const Index point = one[static_cast<size_t>(i)];
            all += force[i] * between().col(point);
            all[point] += force[i] * own_compliance[point];
            if (!two.empty()) at_two += force[i] * half.row(i).transpose();
        }
        VectorXd yields = all(one);
        if (!two.empty()) yields.noalias() -= half * at_two;
        return yields;
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
    const bool is_shared = problem.shared_compliance != nullptr;
    b.compliance = is_shared ? std::move(problem.shared_compliance)
                             : std::make_shared<const std::vector<double>>(std::move(problem.compliance));
    b.stride = is_shared ? problem.stride : n;
    b.own_compliance = problem.own_compliance.empty()
                           ? VectorXd(VectorXd::Zero(n))
                           : VectorXd(Map<const VectorXd>(problem.own_compliance.data(), n));
    const VectorXd diagonal = b.diagonal();
    b.R_all = Map<const MatrixXd>(problem.rigid.data(), n, m);
    // each rigid motion scaled to unit size at the points; those that no point feels must carry no load
    b.size = VectorXd::Ones(m);
    for (Index k = 0; k < m; ++k) b.size[k] = b.R_all.col(k).norm();
    // a bar that can turn about its one round hole: what the points feel of that is rounding, and must not be
    // scaled up
    const double least = m > 0 ? 1e-12 * b.size.maxCoeff() : 0;
    for (Index k = 0; k < m; ++k) {
        if (b.size[k] > least) {
            b.R_all.col(k) /= b.size[k];
        } else {
            b.size[k] = 0;
            b.R_all.col(k).setZero();
        }
    }
    b.two_sided = problem.two_sided;
    for (Index i = 0; i < n; ++i) (problem.two_sided[static_cast<size_t>(i)] ? b.two : b.one).push_back(i);
    // 1e6 times more flexible than the bodies themselves, but never so soft that the stiffest connection
    // drowns them in rounding
    if (n > 0 && m > 0) {
        const double stiffest =
            (b.R_all.array().square().colwise() / diagonal.array()).colwise().sum().maxCoeff();
        b.soft = 1 / std::max(1e-6 / diagonal.mean(), 1e-10 * stiffest);
    }
    b.R = b.R_all(b.one, Eigen::all);
    b.H = MatrixXd::Zero(m, m);
    if (b.two.empty()) return;
    b.two_factor.compute(b.M_at(b.two));
    b.R_half = b.R_all(b.two, Eigen::all);
    if (m > 0) b.two_factor.matrixL().solveInPlace(b.R_half);
    b.H.noalias() = b.R_half.transpose() * b.R_half;
    b.half = b.between()(b.one, b.two);
    if (b.one.empty()) return;
    constexpr Index few = 64; // so few are quicker one by one than in blocks
    if (b.half.cols() <= few) {
        const MatrixXd& L = b.two_factor.matrixLLT(); // its lower half
        for (Index j = 0; j < b.half.cols(); ++j) {
            if (j > 0) b.half.col(j).noalias() -= b.half.leftCols(j) * L.row(j).head(j).transpose();
            b.half.col(j) /= L(j, j);
        }
    } else {
        b.two_factor.matrixU().solveInPlace<Eigen::OnTheRight>(b.half);
    }
    b.R.noalias() -= b.half * b.R_half;
}

std::vector<double> ContactSolver::hold(std::span<const double> approaches, int count) const {
    const Body& b = *body_;
    HOLLOWTOP_ASSERT(b.one.empty() && approaches.size() == static_cast<size_t>(b.n_points * count));
    const ActiveSet none = b.choose({});
    const Body::Held held = b.hold(none, Map<const MatrixXd>(approaches.data(), b.n_points, count),
                                   MatrixXd::Zero(b.n_rigid, count));
    return {held.force.data(), held.force.data() + held.force.size()};
}

ContactAnswer ContactSolver::solve(std::span<const double> approach, std::span<const double> unbalanced,
                                   std::span<const char> first_guess) const {
    const Body& b = *body_;
    const Index n = b.n_points, m = b.n_rigid, n_one = b.R.rows();
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
    VectorXd q = q_all(b.one), r = r_all, carried; // L^-1 of what the two-sided points move
    if (!b.two.empty()) {
        carried = q_all(b.two);
        b.two_factor.matrixL().solveInPlace(carried);
        if (n_one > 0) q.noalias() -= b.half * carried;
        r.noalias() -= b.R_half.transpose() * carried;
    }

    std::vector<char> presses(static_cast<size_t>(n_one), 1);
    HOLLOWTOP_ASSERT(first_guess.empty() || static_cast<Index>(first_guess.size()) == n);
    if (!first_guess.empty())
        for (Index i = 0; i < n_one; ++i)
            presses[static_cast<size_t>(i)] = first_guess[static_cast<size_t>(b.one[static_cast<size_t>(i)])];
    std::shared_ptr<const ActiveSet> active_set;
    VectorXd motion = VectorXd::Zero(m), held_by_springs = VectorXd::Zero(m), force(n_one), gap(n_one);
    const auto solve_active = [&] {
        const ActiveSet& active = *active_set;
        VectorXd right = r + held_by_springs / b.soft;
        VectorXd alone; // forces at rest
        if (!active.set.empty()) {
            alone = active.compliance.solve(VectorXd(-q(active.set)));
            right += active.rigid.transpose() * alone;
        }
        if (m > 0) motion = active.motions.solve(right);
        force.setZero();
        if (!active.set.empty()) {
            const VectorXd pressing = alone - active.held * motion;
            for (size_t k = 0; k < active.set.size(); ++k)
                force[active.set[k]] = pressing[static_cast<Index>(k)];
        }
        gap = q + b.yielding(active.set, force);
        if (m > 0) gap.noalias() += b.R * motion;
        for (const Index i : active.set) gap[i] = 0;
        ++answer.pivots;
    };
    constexpr int block_tries = 3; // Portugal et al.: p = 3 worked best
    const auto pivot_to_end = [&] {
        Index fewest = n_one + 1;
        int tries = block_tries;
        for (int pivot = 0; pivot < 50 * n_one + 1000;
             ++pivot) { // the limit cannot be met in exact arithmetic; the caller sees the imbalance
            solve_active();
            const double force_scale = force.size() ? std::max(force.cwiseAbs().maxCoeff(), 1e-300) : 1;
            const double gap_scale =
                gap.size() ? std::max((b.R * motion).cwiseAbs().maxCoeff(), q.cwiseAbs().maxCoeff()) : 1;
            Set wrong;
            for (Index i = 0; i < n_one; ++i)
                if (presses[static_cast<size_t>(i)] ? force[i] < -1e-12 * force_scale
                                                    : gap[i] < -1e-12 * gap_scale)
                    wrong.push_back(i);
            if (wrong.empty()) return;
            const auto count = static_cast<Index>(wrong.size());
            bool block = true;
            if (count < fewest) {
                fewest = count;
                tries = block_tries;
            } else if (tries > 0) {
                --tries;
            } else {
                block =
                    false; // Murty's rule: only the last wrong index; ends for every positive definite matrix
            }
            if (!block) wrong = {wrong.back()};
            for (const Index i : wrong) presses[static_cast<size_t>(i)] ^= 1;
            active_set = b.chosen(presses);
        }
    };
    active_set = b.chosen(presses);
    constexpr int enough_rounds = 12,
                  most_rounds = 200; // a load that just reaches the supports' power takes more
    double before = 1;
    for (int round = 0; round < most_rounds; ++round) {
        pivot_to_end();
        const VectorXd imbalance = r - b.H * motion + b.R.transpose() * force; // what the soft springs carry
        held_by_springs += b.soft * imbalance;
        answer.imbalance =
            imbalance.norm() /
            std::max({r_all.norm(), (b.R.cwiseAbs().transpose() * force.cwiseAbs()).norm(), 1e-300});
        if (answer.imbalance < 1e-13 || (answer.imbalance < 1e-11 && answer.imbalance > 0.1 * before))
            break; // balanced to rounding
        if (round >= enough_rounds && answer.imbalance > 0.99 * before) break;
        before = answer.imbalance;
    }
    VectorXd force_two;
    if (!b.two.empty()) {
        carried.noalias() += b.R_half * motion;
        if (n_one > 0) carried.noalias() += b.half.transpose() * force;
        force_two = -carried;
        b.two_factor.matrixL().transpose().solveInPlace(force_two);
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
    Map<VectorXd> all_forces(answer.force.data(), n);
    const auto find_imbalance = [&] {
        const double scale =
            std::max((b.R_all.cwiseAbs().transpose() * all_forces.cwiseAbs()).norm(), r_all.norm());
        answer.imbalance = (r_all + b.R_all.transpose() * all_forces).norm() / std::max(scale, 1e-300);
    };
    find_imbalance();
    // stiff connections beside soft bodies cost digits, which a round of refinement gives back; what is more
    // than rounding stays
    constexpr double exact = 1e-11, rounding = 1e-6, least_force = -1e-11;
    for (int round = 0; round < 2 && answer.imbalance > exact && answer.imbalance < rounding; ++round) {
        const VectorXd opened =
            q_all + b.R_all * motion + b.between() * all_forces + b.own_compliance.cwiseProduct(all_forces);
        const Body::Held more = b.hold(*active_set, opened, r_all + b.R_all.transpose() * all_forces);
        const VectorXd together = all_forces + more.force;
        if (!b.one.empty() && together(b.one).minCoeff() < least_force * together.cwiseAbs().maxCoeff())
            break;
        all_forces = together;
        motion += more.motion;
        find_imbalance();
    }
    const VectorXd by_motion = b.R_all * motion,
                   by_forces = b.between() * all_forces + b.own_compliance.cwiseProduct(all_forces),
                   opened = q_all + by_motion + by_forces;
    const double greatest = std::max(
        {q_all.cwiseAbs().maxCoeff(), by_motion.cwiseAbs().maxCoeff(), by_forces.cwiseAbs().maxCoeff()});
    answer.balanced =
        is_balanced(answer.imbalance, answer.force, b.two_sided) &&
        gaps_hold({opened.data(), static_cast<size_t>(n)}, answer.presses, b.two_sided, greatest);
    for (Index k = 0; k < m; ++k)
        answer.rigid_motion[static_cast<size_t>(k)] = b.size[k] > 0 ? motion[k] / b.size[k] : 0;
    return answer;
}

bool gaps_hold(std::span<const double> gap, std::span<const char> presses, std::span<const char> two_sided,
               double scale) {
    constexpr double rounding = 1e-7;
    if (!std::isfinite(scale)) return false;
    for (size_t i = 0; i < gap.size(); ++i) {
        const bool is_closed = presses[i] || two_sided[i];
        if (!(is_closed ? std::abs(gap[i]) <= rounding * scale : gap[i] >= -rounding * scale)) return false;
    }
    return true;
}

bool is_balanced(double imbalance, std::span<const double> force, std::span<const char> two_sided) {
    constexpr double rounding = 1e-9;
    double greatest = 0, least = 0; // the second of the one-sided points
    for (size_t i = 0; i < force.size(); ++i) {
        if (!std::isfinite(force[i])) return false;
        greatest = std::max(greatest, std::abs(force[i]));
        if (!two_sided[i]) least = std::min(least, force[i]);
    }
    return imbalance < rounding && least >= -rounding * greatest;
}

ContactAnswer solve_contact(const ContactProblem& problem) {
    return ContactSolver(problem).solve(problem.approach, problem.unbalanced);
}

} // namespace hollowtop
