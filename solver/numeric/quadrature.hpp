// SPDX-License-Identifier: MIT
#pragma once
/// \file  Gauss points, Gauss-Lobatto nodes and the Lagrange polynomials through them, all on [-1, 1].
/// Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 25.4.29 (Gauss) and 25.4.32 (Lobatto);
/// points are found by Newton's iteration on the Legendre polynomials, so no table is copied.

#include <array>
#include <vector>

namespace hollowtop {

struct Rule {
    std::vector<double> points, weights;
};

/// 1 to 40 points, exact to degree 2n - 1.
const Rule& gauss_rule(int n);

/// 2 to 40 points with both ends, exact to degree 2n - 3.
const Rule& lobatto_rule(int n);

inline constexpr int max_order = 8;

/// Values and derivatives of the order + 1 Lagrange polynomials through the Lobatto nodes, at xi in [-1, 1].
struct Basis1d {
    std::array<double, max_order + 1> value{}, slope{};
};
Basis1d lagrange_basis(int order, double xi);
/// The same to fifteen digits in a third of the time. Not for a stiffness: thin cells need all of the
/// sixteen.
Basis1d lagrange_basis_for_reading(int order, double xi);

} // namespace hollowtop
