// SPDX-License-Identifier: MIT
// How many variants a second does `compare` judge, and how many separate checks would be done in the same
// time?
//   benchmark_compare [THREADS] [STIFFENER_VARIANTS] [PLACE_VARIANTS] [GLUED_VARIANTS] [DEPTH_VARIANTS]
// The top is the bench top of docs/examples, 1900 x 850 mm. Stiffener variants share its mesh and factor:
// sections, spacings, holes and screws, the screws often in the same places; numbers of stiffeners and
// spacings, the screws nearly always elsewhere; sections that are glued, each a contact problem of a thousand
// connections. Depth and rim variants (without stiffeners) each need their own mesh. Each is judged by every
// check, on the normal mesh.
#include "cli/read/piece_file.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/variants/edits.hpp"
#include "solver/variants/judge_each.hpp"
#include "solver/variants/row.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <malloc.h>
#include <sys/resource.h>

namespace {

using namespace hollowtop;

struct Clock {
    std::chrono::steady_clock::time_point wall = std::chrono::steady_clock::now();
    std::clock_t processor = std::clock();
    double wall_s() const {
        return std::chrono::duration<double>(std::chrono::steady_clock::now() - wall).count();
    }
    double processor_s() const { return static_cast<double>(std::clock() - processor) / CLOCKS_PER_SEC; }
};

double peak_MiB() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_maxrss) / 1024;
}

void measure(const char* what, std::size_t count, int threads,
             const std::function<Piece(std::size_t)>& piece_of) {
    JudgeEachOptions options;
    options.check.threads = threads;
    std::vector<double> sags(count, -1);
    const double before = peak_MiB();
    double half_way = 0;
    const Clock together;
    judge_each(count, piece_of, options, [&](const Judged& one) {
        if (one.result) sags[one.index] = row_of(*one.piece, *one.result, {}).sag_mm;
        if (one.index == count / 2) half_way = peak_MiB();
    });
    const double wall = together.wall_s(), processor = together.processor_s();
    const auto n = static_cast<double>(count);
    std::printf("%-20s %6zu variants, %d thread(s): %7.2f s wall, %6.1f ms of processor each, %6.1f variants "
                "a second\n",
                what, count, threads, wall, 1e3 * processor / n, n / wall);
    // as many separate checks would take: a few, evenly chosen
    const std::size_t few = std::min<std::size_t>(count, 8);
    double worst = 0;
    CheckOptions alone;
    alone.threads = threads;
    const Clock apart;
    for (std::size_t k = 0; k < few; ++k) {
        const std::size_t index = k * (count - 1) / std::max<std::size_t>(few - 1, 1);
        const Piece piece = piece_of(index);
        const double sag = row_of(piece, check_piece(piece, alone).result, {}).sag_mm;
        worst = std::max(worst, std::abs(sag - sags[index]) / sag);
    }
    std::printf(
        "%-20s separate checks: %6.1f ms wall, %6.1f ms of processor each; greatest difference in sag %.1e\n",
        "", 1e3 * apart.wall_s() / static_cast<double>(few),
        1e3 * apart.processor_s() / static_cast<double>(few), worst);
    std::printf("%-20s peak memory before %.0f, half way %.0f, at the end %.0f MiB\n", "", before, half_way,
                peak_MiB());
}

} // namespace

int main(int n_words, char** words) {
    mallopt(M_MMAP_THRESHOLD, 32 << 20); // memory is kept, as the program keeps it
    mallopt(M_TRIM_THRESHOLD, 1 << 30);
    mallopt(M_TOP_PAD, 16 << 20);
    const auto number = [&](int i, int usual) { return n_words > i ? std::atoi(words[i]) : usual; };
    const int threads = number(1, 2);
    const Piece bench = cli::load_piece("docs/examples/bench_top.json");
    double load = 0;
    getloadavg(&load, 1);
    std::printf("%.1f programs were waiting to run at the start\n", load);

    const std::array sections{"angle 20x20x3", "angle 25x25x3", "angle 25x25x4", "angle 30x30x3",
                              "angle 30x30x4", "angle 35x35x4", "angle 35x35x5", "bar 5x25",
                              "flat 40x5",     "tube 20x20x2"};
    const std::array<double, 5> spacings{100, 125, 150, 175, 200};
    const std::array<Holes, 3> holes{Holes::slotted, Holes::round, Holes::oversize};
    const std::array<double, 5> diameters{3.5, 4, 4.5, 5, 6};
    measure("stiffeners", static_cast<std::size_t>(number(2, 1000)), threads, [&](std::size_t i) {
        Piece piece = bench;
        set_section(piece, "", sections[i / 75 % sections.size()]);
        set_spacing(piece, "", spacings[i / 15 % spacings.size()]);
        set_holes(piece, "", holes[i / 5 % holes.size()]);
        set_screw(piece, "", diameters[i % diameters.size()] + 0.1 * static_cast<double>(i / 750), 18);
        return piece;
    });
    measure("stiffeners' places", static_cast<std::size_t>(number(3, 200)), threads, [&](std::size_t i) {
        Piece piece = bench;
        set_section(piece, "", sections[i % sections.size()]);
        set_number(piece, 1 + static_cast<int>(i / sections.size() % 5));
        set_spacing(piece, "", 100 + 5 * static_cast<double>(i / (5 * sections.size())));
        return piece;
    });
    measure("glued stiffeners", static_cast<std::size_t>(number(4, 10)), threads, [&](std::size_t i) {
        Piece piece = bench;
        set_section(piece, "", sections[i % sections.size()]);
        set_holes(piece, "", Holes::bonded);
        return piece;
    });
    Piece bare = bench;
    bare.stiffeners.clear();
    measure("depths and rims", static_cast<std::size_t>(number(5, 200)), threads, [&](std::size_t i) {
        Piece piece = bare;
        set_rim(piece, "", 110 + 5 * static_cast<double>(i / 20));
        set_depth(piece, "", 8 + static_cast<double>(i % 20));
        return piece;
    });
    return 0;
}
