// SPDX-License-Identifier: MIT
#pragma once
/// \file  Dense work on one front. All matrices are column-major, `stride` numbers from one column to the
/// next.
///
///      own     border
///     +-----+
///     | L11 |             own columns: factorised in place by factor_columns
///     +-----+---------+
///     | L21 |    U    |   update of the border, lower half only: U -= L21 L21'
///     +-----+---------+
///
/// The order of every sum depends on the sizes alone, so the same front gives the same bits on every thread.

namespace hollowtop {

/// Cholesky factor of the first `cols` columns of a front with `rows` rows, in place, lower half. Above the
/// diagonal nothing is read or written. Returns -1, or the column whose pivot is not positive and finite.
int factor_columns(double* front, long stride, int rows, int cols);

/// U -= L21 L21', lower half, U is n x n and L21 is n x k.
void update_border(double* u, long u_stride, const double* l21, long l_stride, int n, int k);

/// Rows of a child's border that follow one another in the parent's front too.
struct Stretch {
    int from, count, to;
};

/// A front to add to: its own columns, and its update, which starts with the first row and column of the
/// border.
struct FrontTarget {
    double* own;
    long own_stride;
    double* update;
    long update_stride;
    int n_own;

    /// Column j, addressed by rows of the front.
    double* column(int j) const {
        return j < n_own ? own + j * own_stride : update + (j - n_own) * update_stride - n_own;
    }
};

/// Adds a child's update (lower half), whose rows and columns are the stretches one after another.
void add_update(const double* u, long stride, const Stretch* stretches, int n_stretches,
                const FrontTarget& front);

/// A group of right-hand sides, row by row: row r starts at values + r * width.
struct Rows {
    double* values;
    int width;
};

/// The rows of a front's border among the right-hand sides: row k is row[k] of `all`. A row that does not
/// count must lie somewhere too.
struct BorderRows {
    Rows all;
    const int* row;
    int count;
};

/// Forward half on one front: own <- L11^-1 own, then border -= L21 own. The width of the rows is 1 or a
/// multiple of eight; a column's numbers do not depend on what stands beside it, but for a single one.
void forward_front(const double* l, long stride, int n_own, Rows own, const BorderRows& border);

/// Backward half: own <- L11^-T (own - L21' border).
void backward_front(const double* l, long stride, int n_own, Rows own, const BorderRows& border);

/// g += a' b, where a and b have `rows` rows of a_width and b_width numbers; g is a_width x b_width. All row
/// by row.
void add_inner_products(const double* a, int a_width, const double* b, int b_width, int rows, double* g);

} // namespace hollowtop
