// SPDX-License-Identifier: MIT
#pragma once
/// \file  Which supports press and which let go: the contact problem of a body that floats on one-sided supports.
///
/// Find forces f and rigid motion a with
///     gap = M f + q + R a,   R' f + r = 0,
///     one-sided points: f >= 0, gap >= 0, f gap = 0;   two-sided points: gap = 0.
/// M is symmetric positive definite (flexibility of the top and of the supports), R holds the rigid motions at the points, r
/// the loads' share of them. Rigid motions are first held by very soft springs, which makes the problem one with a positive
/// definite matrix, solved exactly by block principal pivoting with a single-pivot fall-back that always ends (Portugal,
/// Judice and Vicente, Mathematics of Computation 63, 1994); the springs' forces are then driven to nothing by the method of
/// multipliers (Hestenes 1969; Powell 1969). If they cannot be, no forces balance the loads: the top tips or floats.
/// Matrices column-major; any consistent units.

#include <span>
#include <vector>

namespace hollowtop {

struct ContactProblem {
    int n_points = 0, n_rigid = 0;
    std::vector<double> flexibility; ///< M, n_points squared
    std::vector<double> approach;    ///< q, gap without forces
    std::vector<double> rigid;       ///< R, n_points x n_rigid
    std::vector<double> unbalanced;  ///< r
    std::vector<char> two_sided;     ///< one a point
};

struct ContactAnswer {
    bool balanced = false; ///< false: nothing within the supports' power balances the loads
    std::vector<double> force, gap, rigid_motion;
    std::vector<char> presses; ///< force may differ from zero
    double imbalance = 0;      ///< |R' f + r| / |r|
    int pivots = 0;
};

ContactAnswer solve_contact(const ContactProblem& problem);

} // namespace hollowtop
