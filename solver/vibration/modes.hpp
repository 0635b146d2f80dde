// SPDX-License-Identifier: MIT
#pragma once
/// \file  First natural frequencies of a body that floats or is held: K x = lambda M x, the lowest lambda
/// first.
///
/// The caller brings two products and no matrices: a force gives a displacement, a displacement gives the
/// inertia force of a unit lambda. Motions that nothing holds (up to six of a rigid body) are named by the
/// caller, for no factorisation reports them; they are taken out and counted as no modes.
///
/// Method: block Lanczos on K^-1 M with full reorthogonalisation (Golub and Van Loan, Matrix Computations,
/// 4th ed., section 10.3.6, from memory). A block of vectors goes through the factor in one sweep, which is
/// bound by reading the factor and so costs little more than a single vector; and a frequency that occurs as
/// often as the block is wide is not missed. Each mode is checked by its own residual |K^-1 M x - x / lambda|, in the norm of M.
/// Units: stiffness N/mm, mass kg; 1 N = 1000 kg mm/s2, so omega^2 = 1000 lambda with omega in rad/s.
/// Limits: undamped, small vibrations about the unloaded shape.

#include <functional>
#include <vector>

namespace hollowtop {

struct ModeProblem {
    int n = 0; ///< dofs
    /// Columns of forces (n numbers each, one after the other) that do no work on any of the free rigid modes
    /// become their displacements, in place. Symmetric on such forces; what is added of a free rigid mode
    /// does not matter.
    std::function<void(double* columns, int count)> apply_stiffness_inverse;
    /// out = M in for columns alike: symmetric, not negative; dofs may be without mass.
    std::function<void(const double* in, double* out, int count)> apply_mass;
    std::vector<std::vector<double>> free_rigid_modes; ///< linearly independent, n numbers each
    int count = 1;                                     ///< modes wanted, at least 1
    /// Are the shapes wanted to ten digits, as something is made of them? Else frequencies are right to eight.
    bool sharp_shapes = true;
    /// Columns to begin with, such as smooth motions, n numbers each, one after the other; a little of all directions is
    /// added. Empty: all directions alike. What they hold of the lowest shapes need not be found.
    std::vector<double> start{};
};

struct Modes {
    std::vector<double> frequency_Hz;       ///< ascending
    std::vector<std::vector<double>> shape; ///< x'Mx = 1 kg, the greatest entry positive
    /// False where fewer than `count` modes exist or were found, or one of them does not satisfy its
    /// equation: then no frequency here may be relied on.
    bool converged = false;
};

/// Throws Error (not computable) where the free rigid modes have no mass or are not independent.
Modes natural_modes(const ModeProblem& problem);

} // namespace hollowtop
