// SPDX-License-Identifier: MIT
#pragma once
/// \file  Eigenvalues and eigenvectors of small symmetric matrices. The matrix library's solver is compiled
/// here, once, for everyone who needs one: its templates cost more seconds to compile than the rest of the
/// files that call it.

#include <span>
#include <vector>

namespace hollowtop {

struct SymmetricEigen {
    std::vector<double> values;  ///< n, rising
    std::vector<double> vectors; ///< n x n, column by column, of unit length, in the order of the values
};

/// Of the symmetric n x n `matrix`; only its lower half is read. n >= 1.
SymmetricEigen symmetric_eigen(std::span<const double> matrix, int n);

/// Its eigenvalues alone, rising.
std::vector<double> symmetric_eigenvalues(std::span<const double> matrix, int n);

/// The greatest of them alone, to rounding: Sturm's count on the tridiagonal form, halved (Givens 1954, from
/// memory).
double greatest_eigenvalue(std::span<const double> matrix, int n);

/// The eigenvalues, rising, of A x = lambda B x; both n x n and symmetric, B positive definite. n >= 1.
std::vector<double> symmetric_eigenvalues(std::span<const double> A, std::span<const double> B, int n);

/// The plane a + b x + c y.
struct FlatPlane {
    double a = 0, b = 0, c = 0;
    double at(double x, double y) const { return a + b * x + c * y; }
};

struct WeighedPoint {
    double x = 0, y = 0, value = 0, weight = 1;
};

/// The plane of least weighed squares through the values; where the places lie on one line, or are one place,
/// no tilt is taken across it.
FlatPlane fitted_plane(std::span<const WeighedPoint> places);

} // namespace hollowtop
