// SPDX-License-Identifier: MIT
#pragma once
/// \file  What presses, what pulls and what lets go: the contact problem of bodies that float on one another.
///
/// Find forces f and rigid motions a with
///     gap = M f + q + R a,   R' f + r = 0,
///     one-sided points: f >= 0, gap >= 0, f gap = 0;   two-sided points: gap = 0.
/// M is symmetric positive definite (compliance of the bodies and of what lies between them), R holds the
/// rigid motions at the points, r the loads' share of them. The two-sided points are eliminated once. Rigid
/// motions are held by very soft springs, which makes a problem with a positive definite matrix, solved
/// exactly by block principal pivoting with a single-pivot fall-back that always ends (Portugal, Judice and
/// Vicente, Mathematics of Computation 63, 1994); the springs' forces are then driven to nothing by the
/// method of multipliers (Hestenes 1969; Powell 1969). If they cannot be, no forces balance the loads:
/// the top tips or floats. The soft springs never enter M: the rigid motions are unknowns of their own, in a
/// Schur complement, so that M keeps its digits however many bodies float.
/// Matrices column-major; any consistent units.

#include <memory>
#include <span>
#include <vector>

namespace hollowtop {

struct ContactProblem {
    int n_points = 0, n_rigid = 0;
    std::vector<double> compliance; ///< M, n_points squared
    std::shared_ptr<const std::vector<double>>
        shared_compliance{}; ///< in its place; its columns are `stride` apart
    int stride = 0;
    std::vector<double> own_compliance{}; ///< added on the diagonal of M; empty: nothing
    std::vector<double> approach;         ///< q, gap without forces
    std::vector<double> rigid;            ///< R, n_points x n_rigid
    std::vector<double> unbalanced;       ///< r
    std::vector<char> two_sided;          ///< one a point
};

struct ContactAnswer {
    bool balanced =
        false; ///< the conditions above hold; false: nothing within the supports' power balances the loads
    std::vector<double> force, gap, rigid_motion;
    std::vector<char> presses; ///< force may differ from zero
    double imbalance = 0;      ///< |R' f + r| against the greater of |r| and |R|' |f|
    int pivots = 0;
};

/// Do the gaps belong to an answer? Nothing overlaps, and what touches or holds both ways is closed, each to 1e-7 of
/// `scale`: the greatest that what makes up a gap moves.
bool gaps_hold(std::span<const double> gap, std::span<const char> presses, std::span<const char> two_sided,
               double scale);

/// May forces be taken for an answer? Where what they leave unbalanced is rounding (ContactAnswer::imbalance below 1e-9),
/// and no one-sided point pulls by more than 1e-9 of the greatest force.
bool is_balanced(double imbalance, std::span<const double> force, std::span<const char> two_sided);

ContactAnswer solve_contact(const ContactProblem& problem);

/// The same bodies under many loads: what does not depend on them is done once.
class ContactSolver {
  public:
    /// `approach` and `unbalanced` of the problem are not read.
    explicit ContactSolver(ContactProblem problem);
    ~ContactSolver();
    ContactSolver(ContactSolver&&) noexcept;
    ContactSolver& operator=(ContactSolver&&) noexcept;

    /// `first_guess`: which points press, such as those of a load before; empty: all.
    ContactAnswer solve(std::span<const double> approach, std::span<const double> unbalanced,
                        std::span<const char> first_guess = {}) const;

    /// Forces of bodies whose points are all two-sided, with nothing unbalanced, for many approaches:
    /// n_points x count of both.
    std::vector<double> hold(std::span<const double> approaches, int count) const;

  private:
    struct Body;
    std::unique_ptr<Body> body_;
};

} // namespace hollowtop
