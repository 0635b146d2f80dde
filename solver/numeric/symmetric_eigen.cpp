// SPDX-License-Identifier: MIT
#include "solver/numeric/symmetric_eigen.hpp"

#include "materials/assert.hpp"

#include <Eigen/Core>
#include <Eigen/Eigenvalues>

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

using Eigen::Map;
using Eigen::MatrixXd;

Map<const MatrixXd> square(std::span<const double> matrix, int n) {
    HOLLOWTOP_ASSERT(n >= 1 && matrix.size() == static_cast<std::size_t>(n) * static_cast<std::size_t>(n));
    return {matrix.data(), n, n};
}

} // namespace

SymmetricEigen symmetric_eigen(std::span<const double> matrix, int n) {
    const Eigen::SelfAdjointEigenSolver<MatrixXd> solver(square(matrix, n));
    const Eigen::VectorXd& values = solver.eigenvalues();
    const MatrixXd& vectors = solver.eigenvectors();
    return {.values = {values.data(), values.data() + values.size()},
            .vectors = {vectors.data(), vectors.data() + vectors.size()}};
}

std::vector<double> symmetric_eigenvalues(std::span<const double> matrix, int n) {
    const Eigen::SelfAdjointEigenSolver<MatrixXd> solver(square(matrix, n), Eigen::EigenvaluesOnly);
    return {solver.eigenvalues().data(), solver.eigenvalues().data() + n};
}

double greatest_eigenvalue(std::span<const double> matrix, int n) {
    if (n == 1) return matrix.front();
    const Eigen::Tridiagonalization<MatrixXd> form(square(matrix, n));
    const Eigen::VectorXd diagonal = form.diagonal(), beside = form.subDiagonal();
    double low = diagonal.maxCoeff(), high = low; // Gershgorin above, a Rayleigh quotient below
    for (Eigen::Index i = 0; i < n; ++i)
        high = std::max(high, diagonal[i] + (i > 0 ? std::abs(beside[i - 1]) : 0) +
                                  (i + 1 < n ? std::abs(beside[i]) : 0));
    const auto all_below = [&](double value) { // no pivot of value I - T is less than zero
        double pivot = value - diagonal[0];
        for (Eigen::Index i = 1; i < n && pivot > 0; ++i)
            pivot = value - diagonal[i] - beside[i - 1] * beside[i - 1] / pivot;
        return pivot > 0;
    };
    constexpr int most_halvings = 60; // fifteen digits of the first interval
    for (int k = 0; k < most_halvings && high - low > 1e-16 * std::abs(high); ++k) {
        const double middle = low + (high - low) / 2;
        (all_below(middle) ? high : low) = middle;
    }
    return high;
}

std::vector<double> symmetric_eigenvalues(std::span<const double> A, std::span<const double> B, int n) {
    const Eigen::LLT<MatrixXd> factor(square(B, n));
    MatrixXd reduced = square(A, n);
    factor.matrixL().solveInPlace(reduced);
    factor.matrixL().solveInPlace(reduced.transpose()); // L^-1 A L^-T
    return symmetric_eigenvalues({reduced.data(), static_cast<std::size_t>(reduced.size())}, n);
}

FlatPlane fitted_plane(std::span<const WeighedPoint> places) {
    if (places.empty()) return {};
    double x0 = places[0].x, x1 = x0, y0 = places[0].y, y1 = y0;
    for (const WeighedPoint& p : places) {
        x0 = std::min(x0, p.x), x1 = std::max(x1, p.x);
        y0 = std::min(y0, p.y), y1 = std::max(y1, p.y);
    }
    const double size = std::max({x1 - x0, y1 - y0, 1e-9}) / 2, x = (x0 + x1) / 2, y = (y0 + y1) / 2;
    Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
    Eigen::Vector3d right = Eigen::Vector3d::Zero();
    for (const WeighedPoint& p : places) {
        const Eigen::Vector3d row(1, (p.x - x) / size, (p.y - y) / size);
        normal += p.weight * row * row.transpose();
        right += p.weight * p.value * row;
    }
    const SymmetricEigen eigen = symmetric_eigen({normal.data(), 9}, 3);
    Eigen::Vector3d plane = Eigen::Vector3d::Zero();
    for (std::size_t k = 0; k < 3; ++k) {
        if (eigen.values[k] <= 1e-9 * eigen.values[2]) continue;
        const Map<const Eigen::Vector3d> vector(eigen.vectors.data() + 3 * k);
        plane += vector * vector.dot(right) / eigen.values[k];
    }
    return {plane[0] - (plane[1] * x + plane[2] * y) / size, plane[1] / size, plane[2] / size};
}

} // namespace hollowtop
