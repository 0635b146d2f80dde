// SPDX-License-Identifier: MIT
/// \file  Where the time of a check goes, step by step, against the number of unknowns.
/// An invented table with a recess, four pads and three loads, on ever finer meshes of order 4; then whole
/// checks at the three mesh settings of the program. The yardstick of the factor is the rate of the matrix
/// library's own dense product, measured in the same run. Wall time and processor time are told apart: on a
/// busy machine only the second means something.
///
///     benchmark_check [threads] [largest number of dofs]

#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic ignored "-Wuninitialized"
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"
#endif

#include "cli/read/piece_file.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/checks/checks.hpp"
#include "solver/model/make_model.hpp"
#include "solver/model/rigid_motions.hpp"
#include "solver/readout/gather.hpp"
#include "solver/vibration/frequencies.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <string>
#include <sys/resource.h>
#include <vector>

namespace {

using namespace hollowtop;

const char* const table = R"json({
  "hollowtop": 1, "title": "table (invented)", "units": "mm",
  "top": {"length": 1900, "width": 850, "thickness": 42, "wood": "black cherry", "rings": "flatsawn", "moisture": 8},
  "recesses": [{"name": "well", "x": [120, 1780], "y": [110, 740], "depth": 16}],
  "supports": [
    {"kind": "pad", "at": [80, 80], "size": [70, 70], "hold_down": true}, {"kind": "pad", "at": [1820, 80], "size": [70, 70], "hold_down": true},
    {"kind": "pad", "at": [80, 770], "size": [70, 70], "hold_down": true}, {"kind": "pad", "at": [1820, 770], "size": [70, 70], "hold_down": true}],
  "loads": [
    {"name": "books", "kind": "area", "pressure": "0.25 kPa", "duration": "long"},
    {"name": "edge", "kind": "patch", "force": "50 kg", "at": [950, 60], "size": [200, 100]},
    {"name": "box", "kind": "patch", "force": "20 kg", "at": [950, 425], "size": [300, 250]}]
})json";

struct Seconds {
    double wall = 0, processor = 0;
};

Seconds now() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    const auto seconds = [](const timeval& t) {
        return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
    };
    return {.wall =
                std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count(),
            .processor = seconds(usage.ru_utime) + seconds(usage.ru_stime)};
}

/// The run of least processor time among `repeats`: the one least disturbed.
template <class Work> Seconds timed(int repeats, Work&& work) {
    Seconds best{1e30, 1e30};
    for (int r = 0; r < repeats; ++r) {
        const Seconds begin = now();
        work();
        const Seconds end = now();
        if (end.processor - begin.processor < best.processor)
            best = {end.wall - begin.wall, end.processor - begin.processor};
    }
    return best;
}

double product_rate() {
    const int n = 1000;
    const Eigen::MatrixXd a = Eigen::MatrixXd::Random(n, n), b = Eigen::MatrixXd::Random(n, n);
    Eigen::MatrixXd c = Eigen::MatrixXd::Zero(n, n);
    return 2.0 * n * n * n / timed(5, [&] { c.noalias() += a * b; }).processor;
}

double peak_memory_MiB() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_maxrss) / 1024;
}

/// Slope of the line through (log x, log y).
double exponent(const std::vector<double>& x, const std::vector<double>& y) {
    double sx = 0, sy = 0, sxx = 0, sxy = 0;
    const auto n = static_cast<double>(x.size());
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double a = std::log(x[i]), b = std::log(std::max(y[i], 1e-6));
        sx += a;
        sy += b;
        sxx += a * a;
        sxy += a * b;
    }
    return (n * sxy - sx * sy) / (n * sxx - sx * sx);
}

enum Step { mesh, factor, compliance, solve, recovery, frequencies, judgement, n_steps };
constexpr const char* step_names[n_steps] = {"mesh+element", "factor",      "flexibility", "solve",
                                             "recovery",     "frequencies", "judgement"};

struct Row {
    double dofs = 0;
    Seconds steps[n_steps];
    double factor_flops = 0, peak_MiB = 0;
};

Row measure(const Piece& piece, double largest, int threads, int repeats) {
    Row row;
    const ModelOptions options{.shell = {.size = {.largest = largest,
                                                  .at_walls = largest / 8,
                                                  .at_edges = largest / 2,
                                                  .growth = 0.6},
                                         .order = 4},
                               .threads = threads};
    std::shared_ptr<Model> model;
    row.steps[mesh] =
        timed(repeats, [&] { model = std::make_shared<Model>(make_unfactored_model(piece, options)); });
    GridStiffness pinned = model->shell.stiffness;
    for (const int pin : pins_for(model->shell, free_rigid_motions(model->shell))) pinned.held.push_back(pin);
    std::sort(pinned.held.begin(), pinned.held.end());
    std::unique_ptr<Factor> body;
    row.steps[factor] = timed(repeats, [&] { body = std::make_unique<Factor>(pinned, threads); });
    row.factor_flops = body->cost().factor_flops;
    row.steps[compliance] = timed(repeats, [&] { (void)body->compliance(model->columns->forces); });
    row.dofs = body->n_dofs();
    body.reset();
    model = std::make_shared<Model>(make_model(piece, options));
    std::vector<SolvedSituation> solved;
    row.steps[solve] = timed(repeats, [&] { solved = solve_situations(piece, *model); });
    Response response;
    row.steps[recovery] =
        timed(repeats, [&] { response = gather_response(piece, model, solved, readings_of(model->shell)); });
    row.steps[frequencies] = timed(1, [&] { response.frequency_Hz = first_frequencies(*model, solved); });
    row.steps[judgement] = timed(repeats, [&] {
        Result result;
        result.situations.resize(response.situations.size());
        judge(piece, response, result);
    });
    row.peak_MiB = peak_memory_MiB();
    return row;
}

} // namespace

int main(int argc, char** argv) {
    const int threads = argc > 1 ? std::atoi(argv[1]) : 1;
    const double most_dofs = argc > 2 ? std::atof(argv[2]) : 300000;
    const double product = product_rate();
    double load[1] = {0};
    if (getloadavg(load, 1) != 1) load[0] = -1;
    std::printf("order 4, %d thread(s); dense product %.1f GFlop/s on one; %.1f programs were waiting to run "
                "at the start\n",
                threads, product * 1e-9, load[0]);
    Piece piece;
    const Seconds reading = timed(50, [&] { piece = cli::piece_of_json(table); });
    std::printf("reading the piece: %.3f ms\n\nmilliseconds, wall (processor)\n%8s", reading.wall * 1e3,
                "dofs");
    for (const char* name : step_names) std::printf("  %17s", name);
    std::printf("  %9s  %5s  %8s\n", "GFlop/s", "share", "peak MiB");
    std::vector<double> dofs, times[n_steps];
    double last = 250;
    for (const double largest : {250.0, 136.0, 85.0, 55.0, 36.0, 29.0, 24.0}) {
        if (!dofs.empty() && dofs.back() * std::pow(last / largest, 2) > 1.1 * most_dofs) break;
        last = largest;
        const Row row = measure(piece, largest, threads, dofs.empty() || dofs.back() < 60000 ? 3 : 1);
        std::printf("%8.0f", row.dofs);
        for (int s = 0; s < n_steps; ++s) {
            std::printf("  %7.1f (%7.1f)", row.steps[s].wall * 1e3, row.steps[s].processor * 1e3);
            times[s].push_back(row.steps[s].processor);
        }
        const double rate = row.factor_flops / row.steps[factor].processor;
        std::printf("  %9.1f  %4.0f%%  %8.0f\n", rate * 1e-9, 100 * rate / product, row.peak_MiB);
        std::fflush(stdout);
        dofs.push_back(row.dofs);
    }
    if (dofs.size() > 1) {
        std::printf("%8s", "grows as");
        for (int s = 0; s < n_steps; ++s) std::printf("  %9s^%-8.2f", "dofs", exponent(dofs, times[s]));
        std::printf("\n");
    }
    std::printf("\nwhole checks (two orders, refined until they agree)\n");
    for (const auto& [name, setting] : {std::pair{"coarse", CheckOptions::Mesh::coarse},
                                        {"normal", CheckOptions::Mesh::normal},
                                        {"fine", CheckOptions::Mesh::fine}}) {
        Result result;
        const Seconds time = timed(3, [&] {
            result =
                check_piece(piece, {.mesh = setting, .mesh_size = {}, .threads = threads, .progress = {}})
                    .result;
        });
        std::printf("%-7s %7d dofs  %7.3f s wall  %7.3f s processor  sag +-%.2f %%  stress +-%.2f %%\n", name,
                    result.mesh.dofs, time.wall, time.processor, result.mesh.sag_error_percent,
                    result.mesh.stress_error_percent);
    }
    std::printf("peak memory %.0f MiB\n", peak_memory_MiB());
}
