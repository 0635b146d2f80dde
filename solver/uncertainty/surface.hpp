// SPDX-License-Identifier: MIT
#pragma once
/// \file  Numbers of a top as functions of its inputs: polynomials of second order in the logarithm of each number, laid
/// through one solve an input beside that at nought, and two more (a response surface; Box and Wilson 1951).
/// An input scales a share of a sum, found from a solve a step off: log(number) = +/- log(1 - share + share exp(x)).
/// All boards alike make the logarithm of a movement a straight line; how they share the load, as springs in a row, side
/// by side or between, the board that counts most tells, solved a step each way (so is the grain across), and with it the
/// curvature of all boards and their pairs. Of other pairs, all wood with its parts and load with own weight have one.
/// Lengths, which scatter by parts of a millimetre, enter by their slope alone. What it is worth is tried against a
/// whole solve.

#include "solver/uncertainty/inputs.hpp"

#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace hollowtop {

/// The numbers of one piece, each above zero; empty where it could not be computed. Called on several threads
/// at once.
using NumbersOf = std::function<std::optional<std::vector<double>>(const Piece&)>;

struct SurfaceOptions {
    int threads = 1;
    std::vector<bool> is_movement{}; ///< one a number
    std::function<void(double)> progress{};
};

/// log(number / number at nought) = slope . x + x . curvature x / 2.
struct Surface {
    std::size_t n_inputs = 0;
    std::vector<std::vector<double>> slope{}, curvature{}; ///< of each number; curvature row by row
    std::vector<bool> known{}; ///< of each number: it was above zero in every solve
    std::vector<double> at_nought{};
    int n_solves = 0;

    double log_of(std::size_t number, std::span<const double> x) const;
};

/// Throws Error(not_computable) where the piece itself, or one beside it, cannot be computed.
Surface lay_surface(const Inputs& inputs, const NumbersOf& numbers_of, const SurfaceOptions& options);

/// The surface in causes in place of inputs: log = constant + slope . z + z . curvature z / 2.
struct CauseForm {
    double constant = 0;
    std::vector<double> slope{}, curvature{};
};
CauseForm in_causes(const Surface& surface, const Inputs& inputs, std::size_t number);

/// Share of the variance of the logarithm that each cause has by itself (first-order index of Sobol 1993), and
/// what is left for causes that work together. Exact for a polynomial of second order in normal causes:
/// slope_i^2 + curvature_ii^2 / 2 of the sum of slope_i^2 and half of every curvature_ij^2.
std::vector<double> first_order_shares(const CauseForm& form);

} // namespace hollowtop
