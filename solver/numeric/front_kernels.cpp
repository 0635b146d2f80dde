// SPDX-License-Identifier: MIT
#include "solver/numeric/front_kernels.hpp"

#include "materials/assert.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <type_traits>

namespace hollowtop {

namespace {

using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic>;
using RowMatrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
using Block = Eigen::Map<Matrix, 0, Eigen::OuterStride<>>;
using ConstBlock = Eigen::Map<const Matrix, 0, Eigen::OuterStride<>>;
using RowMap = Eigen::Map<RowMatrix>;
using ConstRowMap = Eigen::Map<const RowMatrix>;
using Column = Eigen::Map<Eigen::VectorXd>;
using ConstColumn = Eigen::Map<const Eigen::VectorXd>;

constexpr int panel = 32;     ///< columns factorised at a time; wider work goes to Eigen's products
constexpr int row_block = 16; ///< rows of a panel held in registers
constexpr int group = 4;      ///< columns of a panel held in registers
using RowBlock = Eigen::Array<double, row_block, 1>;

/// A panel's own triangle, padded to whole groups with the unit matrix.
struct Triangle {
    double value[panel * panel]; ///< row by row
    double inverse_diagonal[panel];
    int cols; ///< a multiple of `group`
};

/// x <- x L^-T for `row_block` rows, x column by column.
void solve_row_block(const Triangle& t, RowBlock* x) {
    for (int j = 0; j < t.cols; j += group) {
        const double* l0 = t.value + j * panel;
        const double *l1 = l0 + panel, *l2 = l1 + panel, *l3 = l2 + panel;
        RowBlock a0 = x[j], a1 = x[j + 1], a2 = x[j + 2], a3 = x[j + 3];
        for (int k = 0; k < j; ++k) {
            const RowBlock xk = x[k];
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
        // NOLINTNEXTLINE(clang-analyzer-core.uninitialized.Assign): factor_triangle fills it
        for (int i = j; i < cols; ++i) a[j * stride + i] = t.value[i * panel + j];
    alignas(64) RowBlock x[panel];
    for (int j = cols; j < t.cols; ++j) x[j].setZero();
    int r = cols;
    for (; r + row_block <= rows; r += row_block) {
        for (int j = 0; j < cols; ++j) x[j] = Eigen::Map<const RowBlock>(a + j * stride + r);
        solve_row_block(t, x);
        for (int j = 0; j < cols; ++j) Eigen::Map<RowBlock>(a + j * stride + r) = x[j];
    }
    if (r < rows) {
        for (int j = 0; j < cols; ++j) {
            x[j].setZero();
            for (int i = r; i < rows; ++i) x[j][i - r] = a[j * stride + i];
        }
        solve_row_block(t, x);
        for (int j = 0; j < cols; ++j)
            for (int i = r; i < rows; ++i) a[j * stride + i] = x[j][i - r];
    }
    return -1;
}

/// Eight right-hand sides side by side: one register of the widest processors, two of most.
constexpr int lane_width = 8;
using Lane = Eigen::Array<double, lane_width, 1>;

// A tile of some rows or columns of L times a few lanes is held in registers while the sum over the other
// index runs; so each number of L is read once for all its lanes, and what is summed is written once. Each
// sum runs in one order, whatever the tile and the lanes.
#ifdef EIGEN_VECTORIZE_AVX512
constexpr int largest_tile = 8, most_lanes = 3;
#else
constexpr int largest_tile = 4, most_lanes = 1;
#endif
#define HOLLOWTOP_IN_REGISTERS                                                                               \
    [[gnu::always_inline]] inline // else the sums are kept in memory, as if they might be what is read

template <int n, int lanes> struct Sums {
    Lane value[n][lanes];
    HOLLOWTOP_IN_REGISTERS Sums() {
#pragma GCC unroll 8
        for (int r = 0; r < n; ++r)
#pragma GCC unroll 3
            for (int q = 0; q < lanes; ++q) value[r][q].setZero();
    }
};

/// Some lanes of right-hand sides, row by row.
struct LaneRows {
    double* values;
    std::ptrdiff_t width;
    HOLLOWTOP_IN_REGISTERS auto at(std::ptrdiff_t row, int lane) const {
        return Eigen::Map<Lane>(values + row * width + std::ptrdiff_t{lane} * lane_width);
    }
};
/// The same, row k at another place.
struct ScatteredRows {
    LaneRows rows;
    const int* row;
    HOLLOWTOP_IN_REGISTERS auto at(std::ptrdiff_t k, int lane) const { return rows.at(row[k], lane); }
};

/// sums[r] += L(r, k) x(k) over columns k of L; or, by columns, sums[r] += L(k, r) x(k) over rows k.
template <bool by_columns, int n, int lanes, class X> HOLLOWTOP_IN_REGISTERS void
add_products(const double* l, long stride, int count, const X& x, Sums<n, lanes>& sums) {
    for (int k = 0; k < count; ++k) {
        Lane xk[lanes];
#pragma GCC unroll 3
        for (int q = 0; q < lanes; ++q) xk[q] = x.at(k, q);
#pragma GCC unroll 8
        for (int r = 0; r < n; ++r)
#pragma GCC unroll 3
            for (int q = 0; q < lanes; ++q)
                sums.value[r][q] += xk[q] * (by_columns ? l[r * stride + k] : l[k * stride + r]);
    }
}

/// Own rows i .. i + n - 1 of the forward half; the ones above are done.
template <int n, int lanes> void forward_own(const double* l, long stride, int i, const LaneRows& own) {
    Sums<n, lanes> sums;
    add_products<false>(l + i, stride, i, own, sums);
    const double* triangle = l + i * stride + i;
#pragma GCC unroll 8
    for (int r = 0; r < n; ++r)
#pragma GCC unroll 3
        for (int q = 0; q < lanes; ++q) {
            Lane& x = sums.value[r][q];
            x = own.at(i + r, q) - x;
#pragma GCC unroll 8
            for (int k = 0; k < r; ++k) x -= sums.value[k][q] * triangle[k * stride + r];
            x /= triangle[r * stride + r];
            own.at(i + r, q) = x;
        }
}

template <int n, int lanes> void forward_border(const double* l, long stride, int n_own, int i,
                                                const LaneRows& own, const ScatteredRows& border) {
    Sums<n, lanes> sums;
    add_products<false>(l + n_own + i, stride, n_own, own, sums);
#pragma GCC unroll 8
    for (int r = 0; r < n; ++r)
#pragma GCC unroll 3
        for (int q = 0; q < lanes; ++q) border.at(i + r, q) -= sums.value[r][q];
}

/// Own rows j .. j + n - 1 of the backward half; the ones below are done.
template <int n, int lanes> void backward_own(const double* l, long stride, int n_own, int n_border, int j,
                                              const LaneRows& own, const ScatteredRows& border) {
    Sums<n, lanes> sums;
    const double* column = l + j * stride;
    add_products<true>(column + n_own, stride, n_border, border, sums);
    add_products<true>(column + j + n, stride, n_own - j - n,
                       LaneRows{own.values + (j + n) * own.width, own.width}, sums);
#pragma GCC unroll 8
    for (int c = n - 1; c >= 0; --c)
#pragma GCC unroll 3
        for (int q = 0; q < lanes; ++q) {
            Lane& x = sums.value[c][q];
            x = own.at(j + c, q) - x;
#pragma GCC unroll 8
            for (int k = n - 1; k > c; --k) x -= sums.value[k][q] * column[c * stride + j + k];
            x /= column[c * stride + j + c];
            own.at(j + c, q) = x;
        }
}

/// Cuts 0 .. count - 1 into tiles: work(size, first), the size known when this is compiled.
template <class Work> void cut_into_tiles(int count, const Work& work) {
    int first = 0;
    for (; first + largest_tile <= count; first += largest_tile)
        work(std::integral_constant<int, largest_tile>{}, first);
    if constexpr (largest_tile > 4)
        if (first + 4 <= count) {
            work(std::integral_constant<int, 4>{}, first);
            first += 4;
        }
    if (first + 2 <= count) {
        work(std::integral_constant<int, 2>{}, first);
        first += 2;
    }
    if (first < count) work(std::integral_constant<int, 1>{}, first);
}

/// Cuts `width` columns into lanes: work(lanes, first column).
template <class Work> void cut_into_lanes(int width, const Work& work) {
    const int all = width / lane_width, n_shares = (all + most_lanes - 1) / most_lanes;
    for (int share = 0, first = 0; share < n_shares; ++share) {
        const int lanes = (all - first) / (n_shares - share);
        if (lanes == 1) work(std::integral_constant<int, 1>{}, first * lane_width);
        if constexpr (most_lanes > 1) {
            if (lanes == 2) work(std::integral_constant<int, 2>{}, first * lane_width);
            if (lanes == 3) work(std::integral_constant<int, 3>{}, first * lane_width);
        }
        first += lanes;
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

void forward_front(const double* l, long stride, int n_own, Rows own, const BorderRows& border) {
    if (own.width % lane_width == 0) {
        cut_into_lanes(own.width, [&](auto lanes, int first) {
            const LaneRows x{own.values + first, own.width};
            const ScatteredRows below{{border.all.values + first, own.width}, border.row};
            cut_into_tiles(n_own, [&](auto n, int i) { forward_own<n(), lanes()>(l, stride, i, x); });
            cut_into_tiles(border.count, [&](auto n, int i) {
                forward_border<n(), lanes()>(l, stride, n_own, i, x, below);
            });
        });
        return;
    }
    const ConstBlock l11(l, n_own, n_own, Eigen::OuterStride<>(stride));
    const ConstBlock l21(l + n_own, border.count, n_own, Eigen::OuterStride<>(stride));
    HOLLOWTOP_ASSERT(own.width == 1);
    Column x(own.values, n_own);
    l11.triangularView<Eigen::Lower>().solveInPlace(x);
    const Eigen::VectorXd taken = l21 * x;
    for (int k = 0; k < border.count; ++k) border.all.values[border.row[k]] -= taken[k];
}

void backward_front(const double* l, long stride, int n_own, Rows own, const BorderRows& border) {
    if (own.width % lane_width == 0) {
        cut_into_lanes(own.width, [&](auto lanes, int first) {
            const LaneRows x{own.values + first, own.width};
            const ScatteredRows below{{border.all.values + first, own.width}, border.row};
            cut_into_tiles(n_own, [&](auto n, int i) {
                backward_own<n(), lanes()>(l, stride, n_own, border.count, n_own - i - n(), x, below);
            });
        });
        return;
    }
    const ConstBlock l11(l, n_own, n_own, Eigen::OuterStride<>(stride));
    const ConstBlock l21(l + n_own, border.count, n_own, Eigen::OuterStride<>(stride));
    HOLLOWTOP_ASSERT(own.width == 1);
    Column x(own.values, n_own);
    Eigen::VectorXd known(border.count);
    for (int k = 0; k < border.count; ++k) known[k] = border.all.values[border.row[k]];
    x.noalias() -= l21.transpose() * known;
    l11.transpose().triangularView<Eigen::Upper>().solveInPlace(x);
}

void add_inner_products(const double* a, int a_width, const double* b, int b_width, int rows, double* g) {
    if (rows == 0) return;
    RowMap product(g, a_width, b_width);
    if (a_width == 1 && b_width == 1) {
        product(0, 0) += ConstColumn(a, rows).dot(ConstColumn(b, rows));
        return;
    }
    product.noalias() += ConstRowMap(a, rows, a_width).transpose() * ConstRowMap(b, rows, b_width);
}

} // namespace hollowtop
