// SPDX-License-Identifier: MIT
/// \file  How long the factor of the stiffness takes, and how near it comes to what the machine can do.
/// Elements are random positive definite matrices on a square grid, with sixteen distinct ones. The yardstick is the
/// rate of the matrix library's own dense product, measured in the same run.
///
///     benchmark_factor [threads] [order] [largest number of dofs]

#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic ignored "-Wuninitialized"
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"
#endif

#include "solver/shell/factor.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <random>
#include <sys/resource.h>
#include <vector>

namespace {

using namespace hollowtop;

/// Shortest of `repeats` runs, in seconds: the one least disturbed by others.
template <class Work> double seconds(int repeats, Work&& work) {
    double best = 1e30;
    for (int r = 0; r < repeats; ++r) {
        const auto begin = std::chrono::steady_clock::now();
        work();
        best =
            std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count());
    }
    return best;
}

double product_rate() {
    const int n = 1000;
    const Eigen::MatrixXd a = Eigen::MatrixXd::Random(n, n), b = Eigen::MatrixXd::Random(n, n);
    Eigen::MatrixXd c = Eigen::MatrixXd::Zero(n, n);
    return 2.0 * n * n * n / seconds(5, [&] { c.noalias() += a * b; });
}

GridStiffness random_stiffness(int cells, int order) {
    GridStiffness stiffness;
    stiffness.grid = {.nx = cells, .ny = cells, .order = order, .active = {}};
    stiffness.grid.active.assign(static_cast<std::size_t>(cells) * cells, 1);
    const int n = stiffness.grid.element_size(), n_classes = 16;
    std::mt19937 random(1);
    std::uniform_real_distribution<double> entry(-1, 1);
    for (int c = 0; c < n_classes; ++c) {
        Eigen::MatrixXd a(n, n);
        for (double& value : a.reshaped()) value = entry(random);
        const Eigen::MatrixXd k = a * a.transpose() + Eigen::MatrixXd::Identity(n, n);
        stiffness.classes.emplace_back(k.data(), k.data() + k.size());
    }
    for (int cell = 0; cell < cells * cells; ++cell)
        stiffness.cell_class.push_back(static_cast<int>(random() % n_classes));
    return stiffness;
}

/// Unit forces across the reference surface at points spread over the grid.
SparseColumns point_forces(const CellGrid& grid, int count) {
    SparseColumns columns;
    std::mt19937 random(2);
    for (int c = 0; c < count; ++c) {
        const int cell = static_cast<int>(random() % static_cast<unsigned>(grid.nx * grid.ny)),
                  p = grid.order;
        for (int b = 0; b <= p; ++b)
            for (int a = 0; a <= p; ++a) {
                const int node = (cell / grid.nx * p + b) * grid.nodes_x() + cell % grid.nx * p + a;
                columns.dof.push_back(node * grid.dofs_per_node + 2);
                columns.value.push_back(1.0 / ((p + 1) * (p + 1)));
            }
        columns.start.push_back(static_cast<int>(columns.dof.size()));
    }
    return columns;
}

double peak_memory_MiB() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_maxrss) / 1024;
}

} // namespace

int main(int argc, char** argv) {
    const int threads = argc > 1 ? std::atoi(argv[1]) : 1, order = argc > 2 ? std::atoi(argv[2]) : 4;
    const double largest = argc > 3 ? std::atof(argv[3]) : 300000;
    const double product = product_rate();
    std::printf("order %d, %d thread(s); dense product %.1f GFlop/s on one\n", order, threads,
                product * 1e-9);
    std::printf("   dofs  factor s  GFlop/s  share  solve 1 ms  solve 64 ms  flex 64 ms  flex 256 ms  factor "
                "MiB  peak "
                "MiB  residual\n");
    std::vector<double> log_dofs, log_time;
    for (const double wanted : {5000., 15000., 40000., 100000., 300000.}) {
        if (wanted > largest) break;
        const int cells = static_cast<int>(std::lround((std::sqrt(wanted / 5) - 1) / order));
        const GridStiffness stiffness = random_stiffness(cells, order);
        const int n = stiffness.grid.n_dofs(), repeats = n < 150000 ? 7 : 2;
        const double factor_s = seconds(repeats, [&] { Factor again(stiffness, threads); });
        const Factor factor(stiffness, threads);
        std::vector<double> f(static_cast<std::size_t>(n) * 64, 1.0), x = f, y(f.size() / 64);
        const double solve_1 = seconds(repeats, [&] { factor.solve({x.data(), y.size()}, 1); });
        const double solve_64 = seconds(repeats, [&] { factor.solve(x, 64); });
        std::fill(x.begin(), x.end(), 1.0);
        factor.solve({x.data(), y.size()}, 1);
        multiply(stiffness, {x.data(), y.size()}, y);
        double residual = 0;
        for (std::size_t i = 0; i < y.size(); ++i) residual = std::max(residual, std::abs(y[i] - f[i]));
        const SparseColumns few = point_forces(stiffness.grid, 64), many = point_forces(stiffness.grid, 256);
        const double flex_64 = seconds(repeats, [&] { factor.flexibility(few); });
        const double flex_256 = seconds(repeats, [&] { factor.flexibility(many); });
        const double rate = factor.cost().factor_flops / factor_s;
        std::printf("%7d  %8.4f  %7.1f  %4.0f%%  %10.2f  %11.1f  %10.2f  %11.1f  %10.0f  %8.0f  %.1e\n", n,
                    factor_s, rate * 1e-9, 100 * rate / product, solve_1 * 1e3, solve_64 * 1e3, flex_64 * 1e3,
                    flex_256 * 1e3, factor.cost().factor_entries * 8 / 1048576, peak_memory_MiB(), residual);
        log_dofs.push_back(std::log(n));
        log_time.push_back(std::log(factor_s));
    }
    double sx = 0, sy = 0, sxx = 0, sxy = 0;
    const double m = static_cast<double>(log_dofs.size());
    for (std::size_t i = 0; i < log_dofs.size(); ++i) {
        sx += log_dofs[i];
        sy += log_time[i];
        sxx += log_dofs[i] * log_dofs[i];
        sxy += log_dofs[i] * log_time[i];
    }
    if (m > 1)
        std::printf("factor time grows as dofs^%.2f (dense 3, banded 2, nested dissection 1.5 in the end)\n",
                    (m * sxy - sx * sy) / (m * sxx - sx * sx));
}
