// SPDX-License-Identifier: MIT
#include "solver/seasons/restraint.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>

namespace hollowtop {

double held_stress(double modulus, double free_strain, const Relaxation& relaxation) {
    return modulus * free_strain / relaxation.divisor();
}

ScrewedBeamStripResult solve_screwed_beam_strip(const ScrewedBeamStrip& strip) {
    const auto n = static_cast<Eigen::Index>(strip.screws.size());
    ScrewedBeamStripResult result;
    if (n < 2) {
        result.screw_force.assign(strip.screws.size(), 0);
        result.slip.assign(strip.screws.size(), 0);
        return result;
    }
    // Unknown: the slip s of each screw. Between two screws s grows by (e - P (1/EA_top + 1/EA_stiffener)) L,
    // P being the pull that all screws beyond put on the stiffener; and all forces together are none.
    const double compliance = 1 / strip.EA_top + 1 / strip.EA_stiffener, k = strip.screw_stiffness;
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(n, n);
    Eigen::VectorXd right = Eigen::VectorXd::Zero(n);
    for (Eigen::Index j = 0; j + 1 < n; ++j) {
        const double L = strip.screws[static_cast<size_t>(j + 1)] - strip.screws[static_cast<size_t>(j)];
        matrix(j, j + 1) += 1;
        matrix(j, j) -= 1;
        for (Eigen::Index i = j + 1; i < n; ++i) matrix(j, i) += compliance * L * k;
        right[j] = strip.free_strain * L;
    }
    matrix.row(n - 1).setOnes();
    const Eigen::VectorXd slip = matrix.partialPivLu().solve(right);
    double pull = 0;
    result.screw_force.resize(strip.screws.size());
    result.slip.resize(strip.screws.size());
    for (Eigen::Index i = n - 1; i >= 0; --i) {
        result.slip[static_cast<size_t>(i)] = slip[i];
        result.screw_force[static_cast<size_t>(i)] = k * slip[i];
        pull += k * slip[i];
        result.greatest_pull = std::max(result.greatest_pull, std::abs(pull));
    }
    return result;
}

} // namespace hollowtop
