// SPDX-License-Identifier: MIT
#include "solver/shell/front_kernels.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>

namespace hollowtop {

namespace {

using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic>;
using RowMatrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
using Block = Eigen::Map<Matrix, 0, Eigen::OuterStride<>>;
using ConstBlock = Eigen::Map<const Matrix, 0, Eigen::OuterStride<>>;
using RowBlock = Eigen::Map<RowMatrix>;
using ConstRowBlock = Eigen::Map<const RowMatrix>;
using Column = Eigen::Map<Eigen::VectorXd>;
using ConstColumn = Eigen::Map<const Eigen::VectorXd>;

constexpr int panel = 32; ///< columns factorised at a time; wider work goes to Eigen's products
constexpr int strip = 16; ///< rows of a panel held in registers
constexpr int group = 4;  ///< columns of a panel held in registers
using Strip = Eigen::Array<double, strip, 1>;

/// A panel's own triangle, padded to whole groups with the unit matrix.
struct Triangle {
    double value[panel * panel]; ///< row by row
    double inverse_diagonal[panel];
    int cols; ///< a multiple of `group`
};

/// x <- x L^-T for `strip` rows, x column by column.
void solve_strip(const Triangle& t, Strip* x) {
    for (int j = 0; j < t.cols; j += group) {
        const double* l0 = t.value + j * panel;
        const double *l1 = l0 + panel, *l2 = l1 + panel, *l3 = l2 + panel;
        Strip a0 = x[j], a1 = x[j + 1], a2 = x[j + 2], a3 = x[j + 3];
        for (int k = 0; k < j; ++k) {
            const Strip xk = x[k];
            a0 -= xk * l0[k];
            a1 -= xk * l1[k];
            a2 -= xk * l2[k];
            a3 -= xk * l3[k];
        }
        a0 *= t.inverse_diagonal[j];
        a1 = (a1 - a0 * l1[j]) * t.inverse_diagonal[j + 1];
        a2 = (a2 - a0 * l2[j] - a1 * l2[j + 1]) * t.inverse_diagonal[j + 2];
        a3 = (a3 - a0 * l3[j] - a1 * l3[j + 1] - a2 * l3[j + 2]) * t.inverse_diagonal[j + 3];
        x[j] = a0;
        x[j + 1] = a1;
        x[j + 2] = a2;
        x[j + 3] = a3;
    }
}

/// Cholesky of the panel's own triangle, by columns, into `t`; returns -1 or the failing column.
int factor_triangle(const double* a, long stride, int cols, Triangle& t) {
    t.cols = (cols + group - 1) / group * group;
    alignas(64) double c[panel * panel]; // column by column
    for (int j = 0; j < t.cols; ++j)
        for (int i = 0; i < panel; ++i)
            c[j * panel + i] = i < cols && j < cols && i >= j ? a[j * stride + i] : double(i == j);
    using Whole = Eigen::Array<double, panel, 1>;
    for (int j = 0; j < t.cols; ++j) {
        Eigen::Map<Whole, Eigen::Aligned64> cj(c + j * panel);
        const double pivot = c[j * panel + j];
        if (!(pivot > 0) || !std::isfinite(pivot)) return j;
        const double root = std::sqrt(pivot), inverse = 1 / root;
        t.inverse_diagonal[j] = inverse;
        cj *= inverse;
        c[j * panel + j] = root;
        for (int k = j + 1; k < t.cols; ++k) {
            Eigen::Map<Whole, Eigen::Aligned64> ck(c + k * panel);
            ck -= cj * c[j * panel + k];
        }
    }
    for (int j = 0; j < t.cols; ++j)
        for (int i = j; i < t.cols; ++i) t.value[i * panel + j] = c[j * panel + i];
    return -1;
}

int factor_panel(double* a, long stride, int rows, int cols) {
    Triangle t;
    if (const int failed = factor_triangle(a, stride, cols, t); failed >= 0) return failed;
    for (int j = 0; j < cols; ++j)
        for (int i = j; i < cols; ++i) a[j * stride + i] = t.value[i * panel + j];
    alignas(64) Strip x[panel];
    for (int j = cols; j < t.cols; ++j) x[j].setZero();
    int r = cols;
    for (; r + strip <= rows; r += strip) {
        for (int j = 0; j < cols; ++j) x[j] = Eigen::Map<const Strip>(a + j * stride + r);
        solve_strip(t, x);
        for (int j = 0; j < cols; ++j) Eigen::Map<Strip>(a + j * stride + r) = x[j];
    }
    if (r < rows) {
        for (int j = 0; j < cols; ++j) {
            x[j].setZero();
            for (int i = r; i < rows; ++i) x[j][i - r] = a[j * stride + i];
        }
        solve_strip(t, x);
        for (int j = 0; j < cols; ++j)
            for (int i = r; i < rows; ++i) a[j * stride + i] = x[j][i - r];
    }
    return -1;
}

} // namespace

int factor_columns(double* front, long stride, int rows, int cols) {
    if (cols <= panel) return cols == 0 ? -1 : factor_panel(front, stride, rows, cols);
    const int left = (cols / 2 + panel - 1) / panel * panel, right = cols - left;
    if (const int failed = factor_columns(front, stride, rows, left); failed >= 0) return failed;
    const double* l = front + left;
    double* rest = front + left * stride + left;
    update_border(rest, stride, l, stride, right, left);
    if (rows > cols) {
        Block below(rest + right, rows - cols, right, Eigen::OuterStride<>(stride));
        below.noalias() -= ConstBlock(l + right, rows - cols, left, Eigen::OuterStride<>(stride)) *
                           ConstBlock(l, right, left, Eigen::OuterStride<>(stride)).transpose();
    }
    const int failed = factor_columns(rest, stride, rows - left, right);
    return failed < 0 ? -1 : failed + left;
}

void update_border(double* u, long u_stride, const double* l21, long l_stride, int n, int k) {
    if (n == 0 || k == 0) return;
    Block(u, n, n, Eigen::OuterStride<>(u_stride))
        .selfadjointView<Eigen::Lower>()
        .rankUpdate(ConstBlock(l21, n, k, Eigen::OuterStride<>(l_stride)), -1.0);
}

void add_update(const double* u, long stride, const Stretch* stretches, int n_stretches,
                const FrontTarget& front) {
    for (int s = 0; s < n_stretches; ++s) {
        const Stretch& columns = stretches[s];
        for (int q = 0; q < columns.count; ++q) {
            const double* from = u + (columns.from + q) * stride;
            double* to = front.column(columns.to + q);
            Column(to + columns.to + q, columns.count - q) +=
                ConstColumn(from + columns.from + q, columns.count - q);
            for (int r = s + 1; r < n_stretches; ++r) {
                const Stretch& rows = stretches[r];
                Column(to + rows.to, rows.count) += ConstColumn(from + rows.from, rows.count);
            }
        }
    }
}

void subtract_values(double* to, const double* from, int n) { Column(to, n) -= ConstColumn(from, n); }

void forward_front(const double* l, long stride, int n_own, int n_border, Rows own, double* out) {
    const ConstBlock l11(l, n_own, n_own, Eigen::OuterStride<>(stride));
    const ConstBlock l21(l + n_own, n_border, n_own, Eigen::OuterStride<>(stride));
    if (own.width == 1) {
        Column x(own.values, n_own);
        l11.triangularView<Eigen::Lower>().solveInPlace(x);
        if (n_border > 0) Column(out, n_border).noalias() = l21 * x;
        return;
    }
    RowBlock x(own.values, n_own, own.width);
    l11.triangularView<Eigen::Lower>().solveInPlace(x);
    if (n_border > 0) RowBlock(out, n_border, own.width).noalias() = l21 * x;
}

void backward_front(const double* l, long stride, int n_own, int n_border, Rows own, const double* border) {
    const ConstBlock l11(l, n_own, n_own, Eigen::OuterStride<>(stride));
    const ConstBlock l21(l + n_own, n_border, n_own, Eigen::OuterStride<>(stride));
    if (own.width == 1) {
        Column x(own.values, n_own);
        if (n_border > 0) x.noalias() -= l21.transpose() * ConstColumn(border, n_border);
        l11.transpose().triangularView<Eigen::Upper>().solveInPlace(x);
        return;
    }
    RowBlock x(own.values, n_own, own.width);
    if (n_border > 0) x.noalias() -= l21.transpose() * ConstRowBlock(border, n_border, own.width);
    l11.transpose().triangularView<Eigen::Upper>().solveInPlace(x);
}

void add_inner_products(const double* a, int a_width, const double* b, int b_width, int rows, double* g) {
    if (rows == 0) return;
    RowBlock product(g, a_width, b_width);
    if (a_width == 1 && b_width == 1) {
        product(0, 0) += ConstColumn(a, rows).dot(ConstColumn(b, rows));
        return;
    }
    product.noalias() += ConstRowBlock(a, rows, a_width).transpose() * ConstRowBlock(b, rows, b_width);
}

} // namespace hollowtop
