// SPDX-License-Identifier: MIT
/// \file  The stiffness of a piece's top and one load case for another solver, and how long this one takes.
/// Writes into FOLDER rows.i32, columns.i32, values.f64 (entries of the same place are to be added; both halves), force.f64
/// and moved.f64, over the free dofs alone: the top with its own weight, floating but for the dofs that stop its rigid
/// motions. Prints one line of JSON: unknowns, and seconds (by the clock, and of processor) of assembling, factor and solve.
///
///     benchmark_stiffness PIECE FOLDER [threads] [order] [largest cell, mm]

#include "cli/read/piece_file.hpp"
#include "solver/model/make_model.hpp"
#include "solver/model/rigid_motions.hpp"
#include "solver/shell/loads.hpp"

#include <algorithm>
#include <chrono>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <fstream>
#include <memory>
#include <string>
#include <vector>

namespace {

using namespace hollowtop;

struct Time {
    double wall = 1e30, processor = 1e30; ///< seconds
};

/// Shortest of some runs: the one least disturbed by others.
template <class Work> Time shortest(Work&& work) {
    Time best;
    for (int r = 0; r < 5; ++r) {
        const std::clock_t processor = std::clock();
        const auto begin = std::chrono::steady_clock::now();
        work();
        const std::chrono::duration<double> wall = std::chrono::steady_clock::now() - begin;
        best.wall = std::min(best.wall, wall.count());
        best.processor =
            std::min(best.processor, static_cast<double>(std::clock() - processor) / CLOCKS_PER_SEC);
    }
    return best;
}

template <class T> void write(const std::string& file, const std::vector<T>& values) {
    std::ofstream out(file, std::ios::binary);
    out.write(reinterpret_cast<const char*>(values.data()),
              static_cast<std::streamsize>(values.size() * sizeof(T)));
    if (!out) std::exit(1);
}

} // namespace

int main(int argc, char** argv) {
    if (argc < 3) return 2;
    const std::string folder = std::string(argv[2]) + "/";
    const int threads = argc > 3 ? std::atoi(argv[3]) : 1, order = argc > 4 ? std::atoi(argv[4]) : 4;
    const Piece piece = cli::load_piece(argv[1]);
    const double side = std::max(piece.top.length, piece.top.width),
                 largest = argc > 5 ? std::atof(argv[5]) : side / 14;
    const ModelOptions options{.shell = {.size = {.largest = largest,
                                                  .at_walls = largest / 6,
                                                  .at_edges = largest / 1.5,
                                                  .growth = 1},
                                         .order = order},
                               .threads = threads};
    std::unique_ptr<Model> model;
    const Time assembling =
        shortest([&] { model = std::make_unique<Model>(make_unfactored_model(piece, options)); });
    GridStiffness pinned = model->shell.stiffness;
    for (const int pin : pins_for(model->shell, free_rigid_motions(model->shell))) pinned.held.push_back(pin);
    std::sort(pinned.held.begin(), pinned.held.end());
    std::unique_ptr<Factor> factor;
    const Time factoring = shortest([&] { factor = std::make_unique<Factor>(pinned, threads); });
    const std::vector<double> force = weight_forces(model->shell);
    std::vector<double> moved;
    const Time solving = shortest([&] {
        moved = force;
        factor->solve(moved, 1);
    });

    const CellGrid& grid = pinned.grid;
    std::vector<std::int32_t> number(static_cast<std::size_t>(grid.n_dofs()), -1);
    const int size = grid.element_size();
    for (int cell = 0; cell < grid.nx * grid.ny; ++cell)
        if (grid.active[static_cast<std::size_t>(cell)])
            for (int local = 0; local < size; ++local)
                number[static_cast<std::size_t>(global_dof(grid, cell, local))] = 0;
    for (const int dof : pinned.held) number[static_cast<std::size_t>(dof)] = -1;
    std::int32_t n = 0;
    std::vector<double> free_force, free_moved;
    for (std::size_t dof = 0; dof < number.size(); ++dof) {
        if (number[dof] < 0) continue;
        number[dof] = n++;
        free_force.push_back(force[dof]);
        free_moved.push_back(moved[dof]);
    }
    std::vector<std::int32_t> rows, columns;
    std::vector<double> values;
    for (int cell = 0; cell < grid.nx * grid.ny; ++cell) {
        const auto c = static_cast<std::size_t>(cell);
        if (!grid.active[c]) continue;
        const std::vector<double>& element = pinned.classes[static_cast<std::size_t>(pinned.cell_class[c])];
        for (int j = 0; j < size; ++j)
            for (int i = 0; i < size; ++i) {
                const std::int32_t row = number[static_cast<std::size_t>(global_dof(grid, cell, i))],
                                   column = number[static_cast<std::size_t>(global_dof(grid, cell, j))];
                const double value = element[static_cast<std::size_t>(j * size + i)];
                if (row < 0 || column < 0 || value == 0) continue;
                rows.push_back(row);
                columns.push_back(column);
                values.push_back(value);
            }
    }
    write(folder + "rows.i32", rows);
    write(folder + "columns.i32", columns);
    write(folder + "values.f64", values);
    write(folder + "force.f64", free_force);
    write(folder + "moved.f64", free_moved);
    std::printf("{\"unknowns\": %d, \"assembling\": [%.6f, %.6f], \"factor\": [%.6f, %.6f], \"solve\": "
                "[%.6f, %.6f]}\n",
                n, assembling.wall, assembling.processor, factoring.wall, factoring.processor, solving.wall,
                solving.processor);
}
