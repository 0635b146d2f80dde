// SPDX-License-Identifier: MIT
// The dense kernels against the matrix library's plain operations, at sizes around their panels and row
// blocks.
#include "solver/numeric/front_kernels.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <catch2/catch.hpp>

#include <cmath>
#include <numeric>
#include <random>
#include <vector>

using namespace hollowtop;
using Eigen::MatrixXd;

namespace {

using RowMatrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

MatrixXd random_matrix(int rows, int columns) {
    std::mt19937 random(static_cast<unsigned>(rows * 1000 + columns));
    std::uniform_real_distribution<double> entry(-1, 1);
    MatrixXd a(rows, columns);
    for (double& value : a.reshaped()) value = entry(random);
    return a;
}

MatrixXd positive_definite(int n) {
    const MatrixXd a = random_matrix(n, n);
    return a * a.transpose() +
           MatrixXd::Identity(n, n) * n; // condition under 10: all but a digit or two are left
}

} // namespace

TEST_CASE("a front's own columns and its update are those of the whole matrix's factor",
          "[solver][front_kernels]") {
    const auto [rows, cols] = GENERATE(table<int, int>({{1, 1},
                                                        {3, 3},
                                                        {4, 2},
                                                        {16, 5},
                                                        {33, 17},
                                                        {40, 32},
                                                        {48, 33},
                                                        {90, 64},
                                                        {100, 65},
                                                        {150, 150},
                                                        {257, 129}}));
    const MatrixXd whole = positive_definite(rows);
    const int padding = 3;
    MatrixXd front = MatrixXd::Constant(rows + padding, cols, 1e300); // what must not be touched or read
    front.topRows(rows).triangularView<Eigen::Lower>() = whole.leftCols(cols);
    MatrixXd update = MatrixXd::Constant(rows - cols, rows - cols, 1e300);
    update.triangularView<Eigen::Lower>() = whole.bottomRightCorner(rows - cols, rows - cols);
    REQUIRE(factor_columns(front.data(), rows + padding, rows, cols) == -1);
    update_border(update.data(), rows - cols, front.data() + cols, rows + padding, rows - cols, cols);

    const MatrixXd l = whole.llt().matrixL();
    const MatrixXd rest = l.bottomRightCorner(rows - cols, rows - cols), left = rest * rest.transpose();
    for (int j = 0; j < cols; ++j)
        for (int i = 0; i < rows + padding; ++i) {
            if (i >= j && i < rows)
                REQUIRE(std::abs(front(i, j) - l(i, j)) < 1e-12 * rows);
            else
                REQUIRE(front(i, j) == 1e300);
        }
    for (int j = 0; j < rows - cols; ++j)
        for (int i = 0; i < rows - cols; ++i) {
            if (i >= j)
                REQUIRE(std::abs(update(i, j) - left(i, j)) < 1e-12 * rows);
            else
                REQUIRE(update(i, j) == 1e300);
        }
}

TEST_CASE("the column of a pivot that is not positive is named", "[solver][front_kernels]") {
    const int bad = GENERATE(0, 3, 31, 32, 63, 79);
    MatrixXd front = MatrixXd::Identity(100, 80);
    front(bad, bad) = GENERATE(0.0, -1.0, std::nan(""), INFINITY);
    REQUIRE(factor_columns(front.data(), 100, 100, 80) == bad);
}

TEST_CASE("the forward and the backward half undo the factor", "[solver][front_kernels]") {
    const int n_own = GENERATE(1, 45, 70), n_border = GENERATE(0, 30), width = GENERATE(1, 8, 32),
              rows = n_own + n_border;
    const MatrixXd l = MatrixXd(positive_definite(rows).llt().matrixL()).leftCols(n_own);
    const MatrixXd l11 = l.topRows(n_own), l21 = l.bottomRows(n_border);
    const RowMatrix b = random_matrix(n_own, width), border = random_matrix(n_border, width);

    // the border's rows lie apart, the last first
    std::vector<int> place(static_cast<std::size_t>(n_border));
    RowMatrix all = RowMatrix::Zero(2 * n_border + 1, width);
    for (int k = 0; k < n_border; ++k) {
        place[static_cast<std::size_t>(k)] = 2 * (n_border - 1 - k);
        all.row(place[static_cast<std::size_t>(k)]) = border.row(k);
    }
    const RowMatrix before = all;
    const BorderRows rows_of_border{{all.data(), width}, place.data(), n_border};
    RowMatrix own = b;
    forward_front(l.data(), rows, n_own, {own.data(), width}, rows_of_border);
    REQUIRE((l11 * own - b).norm() < 1e-12 * b.norm() * rows);
    const RowMatrix taken = l21 * own;
    for (int k = 0; k < n_border; ++k) {
        const int at = place[static_cast<std::size_t>(k)];
        REQUIRE((border.row(k) - taken.row(k) - all.row(at)).norm() <= 1e-12 * b.norm() * rows);
        REQUIRE(all.row(at + 1).norm() == 0); // nobody's row
    }

    own = b;
    all = before;
    backward_front(l.data(), rows, n_own, {own.data(), width}, rows_of_border);
    REQUIRE(all == before);
    REQUIRE((l11.transpose() * own - (b - l21.transpose() * border)).norm() < 1e-11 * rows);
}

TEST_CASE("a column comes out the same whatever stands beside it", "[solver][front_kernels]") {
    const int n_own = 45, n_border = 27, rows = n_own + n_border;
    const MatrixXd l = MatrixXd(positive_definite(rows).llt().matrixL()).leftCols(n_own);
    const RowMatrix wide = random_matrix(rows, 32);
    std::vector<int> place(n_border);
    std::iota(place.begin(), place.end(), n_own);
    const auto both_halves = [&](RowMatrix all) {
        const int width = static_cast<int>(all.cols());
        forward_front(l.data(), rows, n_own, {all.data(), width},
                      {{all.data(), width}, place.data(), n_border});
        backward_front(l.data(), rows, n_own, {all.data(), width},
                       {{all.data(), width}, place.data(), n_border});
        return all;
    };
    const RowMatrix together = both_halves(wide);
    for (const int width : {8, 16, 24})
        for (int first = 0; first + width <= 32; first += 8)
            REQUIRE(both_halves(wide.middleCols(first, width)) == together.middleCols(first, width));
}

TEST_CASE("a child's update lands where its rows are in the front", "[solver][front_kernels]") {
    // Child rows 0 1 | 2 3 4 are rows 1 2 | 4 5 6 of a front with three own columns and four on the border.
    const MatrixXd u = random_matrix(5, 5);
    const std::vector<Stretch> stretches = {{0, 2, 1}, {2, 3, 4}};
    MatrixXd own = MatrixXd::Zero(7, 3), update = MatrixXd::Zero(4, 4);
    add_update(u.data(), 5, stretches.data(), 2, {own.data(), 7, update.data(), 4, 3});
    const int to[] = {1, 2, 4, 5, 6};
    MatrixXd expected = MatrixXd::Zero(7, 7), whole = MatrixXd::Zero(7, 7);
    for (int j = 0; j < 5; ++j)
        for (int i = j; i < 5; ++i) expected(to[i], to[j]) = u(i, j);
    whole.leftCols(3) = own;
    whole.bottomRightCorner(4, 4) = update;
    REQUIRE(whole == expected);
}

TEST_CASE("inner products of two groups of columns add up", "[solver][front_kernels]") {
    const RowMatrix a = random_matrix(37, 8), b = random_matrix(37, 16);
    RowMatrix g = RowMatrix::Ones(8, 16);
    add_inner_products(a.data(), 8, b.data(), 16, 37, g.data());
    REQUIRE((g - RowMatrix::Ones(8, 16) - a.transpose() * b).norm() < 1e-13 * 37);
}
