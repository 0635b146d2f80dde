// SPDX-License-Identifier: MIT
/// \file  How long the factor of the stiffness takes, and how near it comes to what the machine can do.
/// Elements are random positive definite matrices on a square grid, with sixteen distinct ones. The yardstick
/// is the rate of the matrix library's own dense product, measured in the same run.
///
///     benchmark_factor [threads] [order] [largest number of dofs]

#include "solver/numeric/factor.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <random>
#include <span>
#include <sys/resource.h>
#include <utility>
#include <vector>

namespace {

using namespace hollowtop;

struct Time {
    double wall = 1e30, processor = 1e30; ///< seconds; the second leaves out what others on the machine take
};

double processor_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

/// Shortest of `repeats` runs: the one least disturbed by others.
template <class Work> Time shortest(int repeats, Work&& work) {
    Time best;
    for (int r = 0; r < repeats; ++r) {
        const double processor = processor_seconds();
        const auto begin = std::chrono::steady_clock::now();
        work();
        const std::chrono::duration<double> wall = std::chrono::steady_clock::now() - begin;
        best.wall = std::min(best.wall, wall.count());
        best.processor = std::min(best.processor, processor_seconds() - processor);
    }
    return best;
}

double product_rate() {
    const int n = 1000;
    const Eigen::MatrixXd a = Eigen::MatrixXd::Random(n, n), b = Eigen::MatrixXd::Random(n, n);
    Eigen::MatrixXd c = Eigen::MatrixXd::Zero(n, n);
    return 2.0 * n * n * n / shortest(9, [&] { c.noalias() += a * b; }).processor;
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

/// Measures one size, prints a line of the table, returns {log of dofs, log of the processor time of the
/// factor}.
std::pair<double, double> measure(int cells, int order, int threads, double product) {
    const GridStiffness stiffness = random_stiffness(cells, order);
    const int n = stiffness.grid.n_dofs(), repeats = n < 150000 ? 7 : 2;
    const Time time = shortest(repeats, [&] { Factor again(stiffness, threads); });
    const Factor factor(stiffness, threads);

    std::vector<double> x(static_cast<std::size_t>(n) * 64, 1.0), y(static_cast<std::size_t>(n));
    const std::span<double> one(x.data(), y.size());
    factor.solve(one, 1);
    multiply(stiffness, one, y);
    double residual = 0;
    for (const double value : y) residual = std::max(residual, std::abs(value - 1));

    const double solve_1 = shortest(repeats, [&] { factor.solve(one, 1); }).wall;
    const double solve_64 = shortest(repeats, [&] { factor.solve(x, 64); }).wall;
    const double product_1 = shortest(repeats, [&] { multiply(stiffness, one, y); }).wall;
    const SparseColumns few = point_forces(stiffness.grid, 64), many = point_forces(stiffness.grid, 256);
    const double compliance_64 = shortest(repeats, [&] { factor.compliance(few); }).wall;
    const double compliance_256 = shortest(repeats, [&] { factor.compliance(many); }).wall;

    const double rate = factor.cost().factor_flops / time.processor;
    std::printf("%7d %9.4f %9.4f %6.1f %5.0f%% %8.2f %8.1f %8.2f %8.1f %8.2f %6.0f %6.0f %9.1e\n", n,
                time.wall, time.processor, rate * 1e-9, 100 * rate / product, solve_1 * 1e3, solve_64 * 1e3,
                compliance_64 * 1e3, compliance_256 * 1e3, product_1 * 1e3,
                factor.cost().factor_entries * 8 / 1048576, peak_memory_MiB(), residual);
    return {std::log(n), std::log(time.processor)};
}

/// Slope of the line through the points that fits best.
double slope(const std::vector<std::pair<double, double>>& points) {
    double x_mean = 0, y_mean = 0, xy = 0, xx = 0;
    for (const auto& [x, y] : points) {
        x_mean += x / static_cast<double>(points.size());
        y_mean += y / static_cast<double>(points.size());
    }
    for (const auto& [x, y] : points) {
        xy += (x - x_mean) * (y - y_mean);
        xx += (x - x_mean) * (x - x_mean);
    }
    return xy / xx;
}

} // namespace

int main(int argc, char** argv) {
    const int threads = argc > 1 ? std::atoi(argv[1]) : 1, order = argc > 2 ? std::atoi(argv[2]) : 4;
    const double largest = argc > 3 ? std::atof(argv[3]) : 300000;
    const double product = product_rate();
    std::printf("order %d, %d thread(s); dense product of the matrix library: %.1f GFlop/s on one\n", order,
                threads, product * 1e-9);
    std::printf(
        "rates and shares are by processor time; the others are wall time, shortest of several runs\n");
    std::printf(
        "   dofs  factor s     cpu s  GF/s  share  solve 1 solve 64  flex 64 flex 256  product factor   peak"
        "  residual\n"
        "                                              ms       ms       ms       ms       ms    MiB    "
        "MiB\n");
    std::vector<std::pair<double, double>> points;
    for (const double wanted : {5000., 15000., 40000., 100000., 300000.})
        if (wanted <= largest)
            points.push_back(measure(static_cast<int>(std::lround((std::sqrt(wanted / 5) - 1) / order)),
                                     order, threads, product));
    if (points.size() > 1)
        std::printf("factor time grows as dofs^%.2f (dense 3, banded 2, nested dissection 1.5 in the end)\n",
                    slope(points));
}
