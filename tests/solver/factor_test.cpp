// SPDX-License-Identifier: MIT
// Every answer is compared with the same matrix assembled dense and solved by the matrix library's own
// Cholesky. The element matrices are random and positive definite, so nothing holds by the symmetry of a real
// shell.

#include "solver/numeric/factor.hpp"

#include "solver/numeric/arena.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <catch2/catch.hpp>

#include <algorithm>
#include <cstring>
#include <limits>
#include <random>
#include <utility>
#include <vector>

using namespace hollowtop;

namespace {

/// Condition of the random matrices is under 1e5 (each element is shifted by the unit matrix), so thirteen
/// digits less five are left, and some room.
constexpr double tolerance = 1e-9;

GridStiffness random_stiffness(int nx, int ny, int order, int n_classes, int dofs_per_node = 5) {
    GridStiffness stiffness;
    stiffness.grid = {.nx = nx, .ny = ny, .order = order, .dofs_per_node = dofs_per_node, .active = {}};
    stiffness.grid.active.assign(static_cast<std::size_t>(nx) * ny, 1);
    const int n = stiffness.grid.element_size();
    std::mt19937 random(7);
    std::uniform_real_distribution<double> entry(-1, 1);
    for (int c = 0; c < n_classes; ++c) {
        Eigen::MatrixXd a(n, n);
        for (double& value : a.reshaped()) value = entry(random);
        Eigen::MatrixXd k = a * a.transpose() + Eigen::MatrixXd::Identity(n, n);
        k = 0.5 * (k + k.transpose()).eval();
        stiffness.classes.emplace_back(k.data(), k.data() + k.size());
    }
    for (int cell = 0; cell < nx * ny; ++cell) stiffness.cell_class.push_back(cell % n_classes);
    return stiffness;
}

/// The grid's matrix written out in full, and which dofs are neither held nor out of every active cell.
struct Dense {
    Eigen::MatrixXd k;
    std::vector<char> is_free;

    explicit Dense(const GridStiffness& stiffness) {
        const CellGrid& grid = stiffness.grid;
        const int p = grid.order, m = grid.dofs_per_node, size = grid.element_size();
        k.setZero(grid.n_dofs(), grid.n_dofs());
        is_free.assign(static_cast<std::size_t>(grid.n_dofs()), 0);
        for (int cell = 0; cell < grid.nx * grid.ny; ++cell) {
            if (!grid.active[cell]) continue;
            std::vector<int> dofs;
            for (int b = 0; b <= p; ++b)
                for (int a = 0; a <= p; ++a)
                    for (int c = 0; c < m; ++c)
                        dofs.push_back(
                            ((cell / grid.nx * p + b) * grid.nodes_x() + cell % grid.nx * p + a) * m + c);
            const std::vector<double>& element = stiffness.classes[stiffness.cell_class[cell]];
            for (int j = 0; j < size; ++j) {
                is_free[dofs[j]] = 1;
                for (int i = 0; i < size; ++i) k(dofs[i], dofs[j]) += element[j * size + i];
            }
        }
        for (int dof : stiffness.held) is_free[dof] = 0;
        for (int dof = 0; dof < grid.n_dofs(); ++dof) {
            if (is_free[dof]) continue;
            k.row(dof).setZero();
            k.col(dof).setZero();
        }
    }

    /// Right-hand sides as the factor sees them: nothing on dofs that are not free.
    Eigen::MatrixXd masked(Eigen::MatrixXd f) const {
        for (int dof = 0; dof < f.rows(); ++dof)
            if (!is_free[dof]) f.row(dof).setZero();
        return f;
    }

    Eigen::MatrixXd solve(const Eigen::MatrixXd& f) const {
        Eigen::MatrixXd with_unit = k;
        for (int dof = 0; dof < k.rows(); ++dof)
            if (!is_free[dof]) with_unit(dof, dof) = 1;
        return with_unit.llt().solve(masked(f));
    }
};

Eigen::MatrixXd random_columns(int rows, int columns) {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> entry(-1, 1);
    Eigen::MatrixXd f(rows, columns);
    for (double& value : f.reshaped()) value = entry(random);
    return f;
}

Eigen::MatrixXd solved(const Factor& factor, Eigen::MatrixXd f) {
    factor.solve({f.data(), static_cast<std::size_t>(f.size())}, static_cast<int>(f.cols()));
    return f;
}

/// Columns with a few entries each: some twice at one dof, some at dofs that are held or out of the top, one
/// empty.
SparseColumns scattered_columns(int n_dofs, int count) {
    SparseColumns columns;
    std::mt19937 random(13);
    for (int c = 0; c < count; ++c) {
        for (int e = 0; c != count / 2 && e < 1 + c % 4; ++e) {
            columns.dof.push_back(static_cast<int>(random() % static_cast<unsigned>(n_dofs)));
            columns.value.push_back(1.0 + 0.25 * e);
            if (e == 2) {
                columns.dof.push_back(columns.dof.back());
                columns.value.push_back(-0.5);
            }
        }
        columns.start.push_back(static_cast<int>(columns.dof.size()));
    }
    return columns;
}

Eigen::MatrixXd written_out(const SparseColumns& columns, int n_dofs) {
    Eigen::MatrixXd b = Eigen::MatrixXd::Zero(n_dofs, columns.count());
    for (int c = 0; c < columns.count(); ++c)
        for (int e = columns.start[c]; e < columns.start[c + 1]; ++e)
            b(columns.dof[e], c) += columns.value[e];
    return b;
}

double relative_error(const Eigen::MatrixXd& a, const Eigen::MatrixXd& reference) {
    REQUIRE(a.rows() == reference.rows());
    REQUIRE(a.cols() == reference.cols());
    return a.size() == 0 ? 0 : (a - reference).norm() / std::max(reference.norm(), 1e-300);
}

void require_agreement_with_dense(const GridStiffness& stiffness, int threads = 1) {
    const int n = stiffness.grid.n_dofs();
    const Dense dense(stiffness);
    const Factor factor(stiffness, threads);
    REQUIRE(factor.n_dofs() == n);
    for (int count : {1, 3}) {
        const Eigen::MatrixXd f = random_columns(n, count), x = solved(factor, f);
        REQUIRE(relative_error(x, dense.solve(f)) < tolerance);
        for (int dof = 0; dof < n; ++dof)
            if (!dense.is_free[dof]) REQUIRE(x.row(dof).isZero(0));
    }
    const SparseColumns columns = scattered_columns(n, 9);
    const std::vector<double> values = factor.compliance(columns);
    const Eigen::MatrixXd b = dense.masked(written_out(columns, n));
    REQUIRE(relative_error(Eigen::Map<const Eigen::MatrixXd>(values.data(), 9, 9),
                           b.transpose() * dense.solve(b)) < tolerance);
    const Eigen::MatrixXd x = random_columns(n, 1);
    Eigen::VectorXd y = Eigen::VectorXd::Constant(n, 99);
    multiply(stiffness, {x.data(), static_cast<std::size_t>(n)}, {y.data(), static_cast<std::size_t>(n)});
    REQUIRE(relative_error(y, dense.k * dense.masked(x)) < tolerance);
}

/// Cuts the middle third out of the grid.
void cut_hole(CellGrid& grid) {
    for (int j = grid.ny / 3; j < 2 * grid.ny / 3; ++j)
        for (int i = grid.nx / 3; i < 2 * grid.nx / 3; ++i) grid.active[j * grid.nx + i] = 0;
}

/// Leaves an L: the upper right quarter is gone.
void cut_corner(CellGrid& grid) {
    for (int j = grid.ny / 2; j < grid.ny; ++j)
        for (int i = grid.nx / 2; i < grid.nx; ++i) grid.active[j * grid.nx + i] = 0;
}

template <class T> bool same_bits(const T& a, const T& b) {
    return a.size() == b.size() &&
           std::memcmp(a.data(), b.data(), static_cast<std::size_t>(a.size()) * sizeof(a.data()[0])) == 0;
}

} // namespace

TEST_CASE("the factor solves what the dense matrix solves, for every order", "[solver][factor]") {
    const int order = GENERATE(1, 2, 3, 4, 5, 6);
    const int n = order < 3 ? 7 : order < 5 ? 4 : 3;
    require_agreement_with_dense(random_stiffness(n, n + 1, order, 3));
}

TEST_CASE("the factor solves grids of any shape, down to one cell", "[solver][factor]") {
    const auto [nx, ny] =
        GENERATE(table<int, int>({{1, 1}, {1, 2}, {2, 1}, {1, 9}, {13, 1}, {2, 7}, {3, 3}, {5, 6}}));
    require_agreement_with_dense(random_stiffness(nx, ny, 3, 2));
    require_agreement_with_dense(random_stiffness(nx, ny, 1, nx * ny));
}

TEST_CASE("the number of dofs a node is free to choose", "[solver][factor]") {
    const int dofs_per_node = GENERATE(1, 2, 3, 6);
    require_agreement_with_dense(random_stiffness(5, 4, 3, 4, dofs_per_node));
}

TEST_CASE("cells outside the outline take no part", "[solver][factor]") {
    GridStiffness stiffness = random_stiffness(7, 6, 2, 4);
    SECTION("a hole in the middle") { cut_hole(stiffness.grid); }
    SECTION("an L") { cut_corner(stiffness.grid); }
    SECTION("a checkerboard, where cells meet in corners only") {
        for (std::size_t c = 0; c < stiffness.grid.active.size(); ++c)
            stiffness.grid.active[c] = (c % 7 + c / 7) % 2 == 0;
    }
    SECTION("two pieces that do not touch") {
        for (int j = 0; j < 6; ++j) stiffness.grid.active[j * 7 + 3] = 0;
    }
    SECTION("a single cell") {
        stiffness.grid.active.assign(stiffness.grid.active.size(), 0);
        stiffness.grid.active[23] = 1;
    }
    require_agreement_with_dense(stiffness, 1);
    require_agreement_with_dense(stiffness, 2);
}

TEST_CASE("held dofs stay at zero and the rest is solved without them", "[solver][factor]") {
    GridStiffness stiffness = random_stiffness(5, 4, 3, 3);
    const CellGrid& grid = stiffness.grid;
    SECTION("single dofs, on edges and inside cells") {
        stiffness.held = {0, 7, 333, 334, 808, grid.n_dofs() - 1};
    }
    SECTION("a dof named twice") { stiffness.held = {55, 55}; }
    SECTION("a whole line across the grid, which is also a cut") {
        for (int iy = 0; iy < grid.nodes_y(); ++iy)
            for (int c = 0; c < 5; ++c) stiffness.held.push_back((iy * grid.nodes_x() + 6) * 5 + c);
    }
    SECTION("all nodes on the edges of a cell") {
        for (int b = 0; b <= 3; ++b)
            for (int a = 0; a <= 3; ++a)
                if (a == 0 || a == 3 || b == 0 || b == 3)
                    for (int c = 0; c < 5; ++c)
                        stiffness.held.push_back(((3 + b) * grid.nodes_x() + 3 + a) * 5 + c);
    }
    SECTION("every edge of every cell: only the insides are left") {
        for (int iy = 0; iy < grid.nodes_y(); ++iy)
            for (int ix = 0; ix < grid.nodes_x(); ++ix)
                if (ix % 3 == 0 || iy % 3 == 0)
                    for (int c = 0; c < 5; ++c) stiffness.held.push_back((iy * grid.nodes_x() + ix) * 5 + c);
    }
    SECTION("the whole inside of a cell") {
        for (int b = 1; b < 3; ++b)
            for (int a = 1; a < 3; ++a)
                for (int c = 0; c < 5; ++c) stiffness.held.push_back((b * grid.nodes_x() + a) * 5 + c);
    }
    SECTION("everything") {
        for (int dof = 0; dof < grid.n_dofs(); ++dof) stiffness.held.push_back(dof);
    }
    SECTION("holes and held dofs together") {
        cut_hole(stiffness.grid);
        for (int dof = 0; dof < grid.n_dofs(); dof += 17) stiffness.held.push_back(dof);
    }
    require_agreement_with_dense(stiffness, 1);
    require_agreement_with_dense(stiffness, 3);
}

TEST_CASE("a grid without an active cell has nothing to solve", "[solver][factor]") {
    GridStiffness stiffness = random_stiffness(3, 3, 2, 1);
    stiffness.grid.active.assign(9, 0);
    const Factor factor(stiffness, 2);
    const Eigen::MatrixXd x = solved(factor, random_columns(stiffness.grid.n_dofs(), 2));
    REQUIRE(x.isZero(0));
}

TEST_CASE("cells may share an element matrix or each bring their own", "[solver][factor]") {
    GridStiffness shared = random_stiffness(6, 5, 3, 2), apart = shared;
    apart.classes.clear();
    for (int cell = 0; cell < 30; ++cell) {
        apart.classes.push_back(shared.classes[shared.cell_class[cell]]);
        apart.cell_class[cell] = cell;
    }
    const Eigen::MatrixXd f = random_columns(shared.grid.n_dofs(), 2);
    REQUIRE(same_bits(solved(Factor(shared, 1), f), solved(Factor(apart, 1), f)));
    REQUIRE(Factor(shared, 1).cost().factor_entries < Factor(apart, 1).cost().factor_entries);
}

TEST_CASE("every number of threads gives the same bits", "[solver][factor]") {
    GridStiffness stiffness = random_stiffness(17, 13, 3, 5);
    cut_hole(stiffness.grid);
    for (int dof = 3; dof < stiffness.grid.n_dofs(); dof += 97) stiffness.held.push_back(dof);
    const int n = stiffness.grid.n_dofs();
    const Factor one(stiffness, 1);
    const SparseColumns columns = scattered_columns(n, 75);
    for (int threads : {2, 3, 8}) {
        const Factor several(stiffness, threads);
        for (int count : {1, 2, 40, 70}) {
            const Eigen::MatrixXd f = random_columns(n, count);
            REQUIRE(same_bits(solved(one, f), solved(several, f)));
        }
        REQUIRE(same_bits(one.compliance(columns), several.compliance(columns)));
    }
}

TEST_CASE("many columns are solved as well as one", "[solver][factor]") {
    const GridStiffness stiffness = random_stiffness(6, 6, 3, 4);
    const Factor factor(stiffness, 2);
    const Eigen::MatrixXd f = random_columns(stiffness.grid.n_dofs(), 67), x = solved(factor, f);
    REQUIRE(relative_error(x, Dense(stiffness).solve(f)) < tolerance);
    REQUIRE(solved(factor, Eigen::MatrixXd(stiffness.grid.n_dofs(), 0)).size() == 0);
}

TEST_CASE("the flexibility is B' K^-1 B, symmetric to the last bit", "[solver][factor]") {
    GridStiffness stiffness = random_stiffness(9, 8, 2, 4);
    cut_corner(stiffness.grid);
    stiffness.held = {5, 6, 7, 205};
    const int n = stiffness.grid.n_dofs(), count = GENERATE(1, 2, 31, 32, 33, 100);
    const Factor factor(stiffness, 1);
    const SparseColumns columns = scattered_columns(n, count);
    const std::vector<double> values = factor.compliance(columns);
    const Eigen::Map<const Eigen::MatrixXd> compliance(values.data(), count, count);
    const Dense dense(stiffness);
    const Eigen::MatrixXd b = dense.masked(written_out(columns, n));
    REQUIRE(relative_error(compliance, b.transpose() * dense.solve(b)) < tolerance);
    const Eigen::MatrixXd as_is = compliance, turned = compliance.transpose();
    REQUIRE(same_bits(as_is, turned));
}

TEST_CASE("columns kept from before have the same flexibility with others, to the last bit",
          "[solver][factor]") {
    GridStiffness stiffness = random_stiffness(9, 8, 2, 4);
    stiffness.held = {5, 6, 7, 205};
    const int threads = GENERATE(1, 2), count = 90, first = GENERATE(1, 30, 64);
    const Factor factor(stiffness, threads);
    const SparseColumns all = scattered_columns(stiffness.grid.n_dofs(), count);
    const auto part = [&](int from, int to) {
        SparseColumns some{.start = {}, .dof = {}, .value = {}};
        for (int c = from; c <= to; ++c) some.start.push_back(all.start[c] - all.start[from]);
        some.dof.assign(all.dof.begin() + all.start[from], all.dof.begin() + all.start[to]);
        some.value.assign(all.value.begin() + all.start[from], all.value.begin() + all.start[to]);
        return some;
    };
    const ForwardColumns kept = factor.forward(part(0, first)), others = factor.forward(part(first, count));
    CHECK(kept.count() == first);
    const std::vector<double> whole = factor.compliance(all), own = factor.compliance(kept, kept),
                              between = factor.compliance(kept, others);
    REQUIRE(between.size() == static_cast<std::size_t>(first * (count - first)));
    const auto alike = [](double a, double b) {
        return std::abs(a - b) <= 1e-13 * (std::abs(a) + std::abs(b)) + 1e-14;
    };
    for (int i = 0; i < first; ++i) {
        for (int j = 0; j < first; ++j)
            REQUIRE(alike(own[static_cast<std::size_t>(j * first + i)],
                          whole[static_cast<std::size_t>(j * count + i)]));
        for (int j = first; j < count; ++j)
            REQUIRE(alike(between[static_cast<std::size_t>((j - first) * first + i)],
                          whole[static_cast<std::size_t>(j * count + i)]));
    }
}

TEST_CASE("what no column reaches is passed over, and changes nothing", "[solver][factor]") {
    const GridStiffness stiffness = random_stiffness(7, 6, 3, 4);
    const int n = stiffness.grid.n_dofs();
    const Factor factor(stiffness, 1);
    Eigen::MatrixXd few = Eigen::MatrixXd::Zero(n, 3); // two columns of one entry each, and one of none
    few(n / 3, 0) = 1;
    few(n - 2, 1) = -2;
    Eigen::MatrixXd full = random_columns(n, 9);
    full.leftCols(3) = few;
    const Eigen::MatrixXd x = solved(factor, few), beside = solved(factor, full);
    REQUIRE(relative_error(x.leftCols(2), Dense(stiffness).solve(few.leftCols(2))) < tolerance);
    CHECK(x.col(2).cwiseAbs().maxCoeff() == 0);
    const Eigen::MatrixXd same = beside.leftCols(3);
    CHECK(same_bits(x, same)); // beside columns that reach everything
}

TEST_CASE("a factor in memory that was used before is the same to the last bit", "[solver][factor]") {
    const GridStiffness stiffness = random_stiffness(12, 11, 4, 5);
    const Eigen::MatrixXd f = random_columns(stiffness.grid.n_dofs(), 8);
    const Eigen::MatrixXd fresh = solved(Factor(stiffness, 1), f);
    for (int k = 0; k < 3; ++k) {
        Arena dirty(400'000 << k); // what is given back is given to the next
        std::fill_n(dirty.take(400'000 << k), 400'000 << k, std::numeric_limits<double>::quiet_NaN());
    }
    CHECK(same_bits(fresh, solved(Factor(stiffness, 1), f)));
    CHECK(same_bits(fresh, solved(Factor(stiffness, 2), f)));
}

TEST_CASE("empty columns have no flexibility", "[solver][factor]") {
    const Factor factor(random_stiffness(3, 2, 3, 1), 1);
    REQUIRE(factor.compliance(SparseColumns{}).empty());
    const std::vector<double> values =
        factor.compliance(SparseColumns{.start = {0, 0, 0}, .dof = {}, .value = {}});
    REQUIRE(values == std::vector<double>(4, 0.0));
}

TEST_CASE("a pivot that is not positive is named by its global dof", "[solver][factor]") {
    // Elements without any coupling: each dof is its own pivot, so the one made negative is the one to name.
    GridStiffness stiffness = random_stiffness(6, 5, 3, 1);
    const int size = stiffness.grid.element_size();
    std::fill(stiffness.classes[0].begin(), stiffness.classes[0].end(), 0.0);
    for (int i = 0; i < size; ++i) stiffness.classes[0][i * size + i] = 1.0;
    stiffness.classes.push_back(stiffness.classes[0]);
    const auto [b, a] = GENERATE(table<int, int>({{0, 0}, {0, 2}, {3, 3}, {1, 2}, {2, 2}}));
    const double pivot =
        GENERATE(-7.0, std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity());
    const int local = (b * 4 + a) * 5 + 3, cell = 2 * 6 + 3;
    stiffness.classes[1][local * size + local] = pivot;
    stiffness.cell_class[cell] = 1;
    const int dof = ((2 * 3 + b) * stiffness.grid.nodes_x() + 3 * 3 + a) * 5 + 3;
    for (int threads : {1, 2, 3}) {
        try {
            const Factor factor(stiffness, threads);
            FAIL("the factor took a matrix that is not positive definite");
        } catch (const PivotFailure& failure) {
            CHECK(failure.dof == dof);
        }
    }
}

TEST_CASE("of several bad pivots every number of threads names the same", "[solver][factor]") {
    GridStiffness stiffness = random_stiffness(12, 12, 2, 3);
    for (double& value : stiffness.classes[1]) value = -value;
    std::vector<int> named;
    for (int threads : {1, 2, 5}) {
        try {
            const Factor factor(stiffness, threads);
        } catch (const PivotFailure& failure) {
            named.push_back(failure.dof);
        }
    }
    REQUIRE(named.size() == 3);
    REQUIRE(named[0] == named[1]);
    REQUIRE(named[0] == named[2]);
}

TEST_CASE("a factor can be moved", "[solver][factor]") {
    const GridStiffness stiffness = random_stiffness(3, 3, 2, 2);
    Factor first(stiffness, 1);
    const Eigen::MatrixXd f = random_columns(stiffness.grid.n_dofs(), 1), x = solved(first, f);
    Factor second(std::move(first));
    REQUIRE(same_bits(solved(second, f), x));
    Factor third(random_stiffness(2, 2, 1, 1), 1);
    third = std::move(second);
    REQUIRE(same_bits(solved(third, f), x));
}
