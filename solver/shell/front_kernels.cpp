// SPDX-License-Identifier: MIT
#include "solver/shell/front_kernels.hpp"

#include "materials/assert.hpp"

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

/// Eight right-hand sides side by side: one register of the widest processors, two of most.
constexpr int lane_width = 8;
constexpr int at_once = 4; ///< columns of L; each number of theirs is read once and multiplies a whole lane
using Lane = Eigen::Array<double, lane_width, 1>;

/// Eight of the columns of forward_front, from `first` on; adds to `out`.
void forward_lane(const double* l, long stride, int n_own, int n_border, Rows own, double* out, int first) {
    const auto row = [&](int i) { return Eigen::Map<Lane>(own.values + static_cast<std::ptrdiff_t>(i) * own.width + first); };
    const auto below = [&](int i) { return Eigen::Map<Lane>(out + static_cast<std::ptrdiff_t>(i) * own.width + first); };
    int j = 0;
    for (; j + at_once <= n_own; j += at_once) {
        const double* l0 = l + j * stride;
        const double *l1 = l0 + stride, *l2 = l1 + stride, *l3 = l2 + stride;
        const Lane x0 = row(j) / l0[j];
        const Lane x1 = (row(j + 1) - x0 * l0[j + 1]) / l1[j + 1];
        const Lane x2 = (row(j + 2) - x0 * l0[j + 2] - x1 * l1[j + 2]) / l2[j + 2];
        const Lane x3 = (row(j + 3) - x0 * l0[j + 3] - x1 * l1[j + 3] - x2 * l2[j + 3]) / l3[j + 3];
        row(j) = x0;
        row(j + 1) = x1;
        row(j + 2) = x2;
        row(j + 3) = x3;
        for (int i = j + at_once; i < n_own; ++i) row(i) -= x0 * l0[i] + x1 * l1[i] + x2 * l2[i] + x3 * l3[i];
        const double *b0 = l0 + n_own, *b1 = l1 + n_own, *b2 = l2 + n_own, *b3 = l3 + n_own;
        for (int i = 0; i < n_border; ++i) below(i) += x0 * b0[i] + x1 * b1[i] + x2 * b2[i] + x3 * b3[i];
    }
    for (; j < n_own; ++j) {
        const double* lj = l + j * stride;
        const Lane x = row(j) / lj[j];
        row(j) = x;
        for (int i = j + 1; i < n_own; ++i) row(i) -= x * lj[i];
        for (int i = 0; i < n_border; ++i) below(i) += x * lj[n_own + i];
    }
}

/// Eight of the columns of backward_front.
void backward_lane(const double* l, long stride, int n_own, int n_border, Rows own, const double* border, int first) {
    const auto row = [&](int i) { return Eigen::Map<Lane>(own.values + static_cast<std::ptrdiff_t>(i) * own.width + first); };
    const auto below = [&](int i) { return Eigen::Map<const Lane>(border + static_cast<std::ptrdiff_t>(i) * own.width + first); };
    int j = n_own;
    for (; j % at_once != 0; --j) {
        const double* lj = l + (j - 1) * stride;
        Lane x = row(j - 1);
        for (int i = j; i < n_own; ++i) x -= row(i) * lj[i];
        for (int i = 0; i < n_border; ++i) x -= below(i) * lj[n_own + i];
        row(j - 1) = x / lj[j - 1];
    }
    for (j -= at_once; j >= 0; j -= at_once) {
        const double* l0 = l + j * stride;
        const double *l1 = l0 + stride, *l2 = l1 + stride, *l3 = l2 + stride;
        Lane x0 = row(j), x1 = row(j + 1), x2 = row(j + 2), x3 = row(j + 3);
        const auto take = [&](const Lane& known, std::ptrdiff_t i) {
            x0 -= known * l0[i];
            x1 -= known * l1[i];
            x2 -= known * l2[i];
            x3 -= known * l3[i];
        };
        for (int i = 0; i < n_border; ++i) take(below(i), n_own + i);
        for (int i = j + at_once; i < n_own; ++i) take(row(i), i);
        x3 /= l3[j + 3];
        x2 = (x2 - x3 * l2[j + 3]) / l2[j + 2];
        x1 = (x1 - x3 * l1[j + 3] - x2 * l1[j + 2]) / l1[j + 1];
        x0 = (x0 - x3 * l0[j + 3] - x2 * l0[j + 2] - x1 * l0[j + 1]) / l0[j];
        row(j) = x0;
        row(j + 1) = x1;
        row(j + 2) = x2;
        row(j + 3) = x3;
    }
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
    if (own.width % lane_width == 0) {
        std::fill_n(out, static_cast<std::ptrdiff_t>(n_border) * own.width, 0.0);
        for (int first = 0; first < own.width; first += lane_width)
            forward_lane(l, stride, n_own, n_border, own, out, first);
        return;
    }
    const ConstBlock l11(l, n_own, n_own, Eigen::OuterStride<>(stride));
    const ConstBlock l21(l + n_own, n_border, n_own, Eigen::OuterStride<>(stride));
    HOLLOWTOP_ASSERT(own.width == 1);
    Column x(own.values, n_own);
    l11.triangularView<Eigen::Lower>().solveInPlace(x);
    if (n_border > 0) Column(out, n_border).noalias() = l21 * x;
}

void backward_front(const double* l, long stride, int n_own, int n_border, Rows own, const double* border) {
    if (own.width % lane_width == 0) {
        for (int first = 0; first < own.width; first += lane_width)
            backward_lane(l, stride, n_own, n_border, own, border, first);
        return;
    }
    const ConstBlock l11(l, n_own, n_own, Eigen::OuterStride<>(stride));
    const ConstBlock l21(l + n_own, n_border, n_own, Eigen::OuterStride<>(stride));
    HOLLOWTOP_ASSERT(own.width == 1);
    Column x(own.values, n_own);
    if (n_border > 0) x.noalias() -= l21.transpose() * ConstColumn(border, n_border);
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
