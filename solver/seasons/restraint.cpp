// SPDX-License-Identifier: MIT
#include "solver/seasons/restraint.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>

namespace hollowtop {

double held_stress(double modulus, double free_strain, const Relaxation& relaxation) {
    return modulus * free_strain / relaxation.divisor();
}

namespace {

/// Slips of screws of those stiffnesses. Between two screws the slip s grows by (e - P (1/EA_top + 1/EA_stiffener)) L,
/// P being the pull that all screws beyond put on the stiffener; and all forces together are none.
Eigen::VectorXd slips_of(const ScrewedBeamStrip& strip, const Eigen::VectorXd& k) {
    const Eigen::Index n = k.size();
    const double compliance = 1 / strip.EA_top + 1 / strip.EA_stiffener;
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(n, n);
    Eigen::VectorXd right = Eigen::VectorXd::Zero(n);
    for (Eigen::Index j = 0; j + 1 < n; ++j) {
        const double L = strip.screws[static_cast<size_t>(j + 1)] - strip.screws[static_cast<size_t>(j)];
        matrix(j, j + 1) += 1;
        matrix(j, j) -= 1;
        for (Eigen::Index i = j + 1; i < n; ++i) matrix(j, i) += compliance * L * k[i];
        right[j] = strip.free_strain * L;
    }
    matrix.row(n - 1) = k / strip.screw_stiffness;
    return matrix.partialPivLu().solve(right);
}

} // namespace

ScrewedBeamStripResult solve_screwed_beam_strip(const ScrewedBeamStrip& strip) {
    const auto n = static_cast<Eigen::Index>(strip.screws.size());
    ScrewedBeamStripResult result;
    if (n < 2) {
        result.screw_force.assign(strip.screws.size(), 0);
        result.slip.assign(strip.screws.size(), 0);
        return result;
    }
    // a screw that would bear more than it can has the stiffness of its secant: slips only grow
    Eigen::VectorXd k = Eigen::VectorXd::Constant(n, strip.screw_stiffness);
    Eigen::VectorXd slip = slips_of(strip, k);
    constexpr int most = 200;
    constexpr double near_enough = 1e-9;
    for (int pass = 0; strip.screw_bears > 0 && pass < most; ++pass) {
        bool settled = true;
        for (Eigen::Index i = 0; i < n; ++i) {
            const double now =
                std::min(strip.screw_stiffness, strip.screw_bears / std::max(std::abs(slip[i]), 1e-300));
            settled = settled && std::abs(now / k[i] - 1) <= near_enough;
            k[i] = now;
        }
        if (settled) break;
        slip = slips_of(strip, k);
    }
    double pull = 0;
    result.screw_force.resize(strip.screws.size());
    result.slip.resize(strip.screws.size());
    for (Eigen::Index i = n - 1; i >= 0; --i) {
        result.slip[static_cast<size_t>(i)] = slip[i];
        result.screw_force[static_cast<size_t>(i)] = k[i] * slip[i];
        pull += k[i] * slip[i];
        result.greatest_pull = std::max(result.greatest_pull, std::abs(pull));
    }
    return result;
}

} // namespace hollowtop
