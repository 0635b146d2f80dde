// SPDX-License-Identifier: MIT
// Is the error that a check prints true? The answer of a finer mesh is taken for the truth.
#include "materials/error.hpp"
#include "tests/properties/pieces_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace hollowtop;

namespace {

/// Lines aslant are held at points inside cells, which no polynomial can kink at: their error is not seen by
/// comparing two orders.
bool stands_on_slanting_line(const Piece& piece) {
    return std::any_of(piece.supports.begin(), piece.supports.end(), [](const Support& support) {
        const auto aslant = [](Point a, Point b) {
            return std::abs(a.x - b.x) > 1e-7 && std::abs(a.y - b.y) > 1e-7;
        };
        const auto* bearer = std::get_if<Bearer>(&support.kind);
        const auto* held = std::get_if<Held>(&support.kind);
        return (bearer && bearer->width <= 0 && aslant(bearer->from, bearer->to)) ||
               (held && aslant(held->from, held->to));
    });
}

struct True {
    double sag_percent = 0, stress_percent = 0;
};

/// How far the coarse answer is from the fine one: sag, and the greatest stresses at the places where the
/// coarse one finds them.
True true_error(const Answer& coarse_answer, const std::vector<StrainMean>& means,
                const Answer& fine_answer) {
    True error;
    for (std::size_t s = 0; s < coarse_answer.solved.size(); ++s) {
        const double sag = coarse_answer.response.situations[s].sag_mm,
                     fine_sag = fine_answer.response.situations[s].sag_mm;
        error.sag_percent = std::max(error.sag_percent, 100 * std::abs(sag - fine_sag) / sag);
        for (std::size_t axis = 0; axis < 2; ++axis) {
            const auto size = [axis](const StressSample& sample) {
                return std::max(std::abs(sample.top[axis]), std::abs(sample.bottom[axis]));
            };
            double most = 0;
            Point at{};
            for (const StrainMean& mean : means) {
                const double here =
                    size(stress_in(coarse_answer.model->shell, coarse_answer.solved[s], mean));
                if (here <= most) continue;
                most = here;
                at = mean.at;
            }
            const double fine = size(stress_in(fine_answer.model->shell, fine_answer.solved[s],
                                               strain_mean(fine_answer.model->shell, at)));
            error.stress_percent = std::max(error.stress_percent, 100 * std::abs(fine - most) / most);
        }
    }
    return error;
}

} // namespace

TEST_CASE("the printed mesh error holds for random pieces, nearly always", "[properties][mesh][slow]") {
    // Two orders on one mesh differ by the lower order's error. Where the answer is smooth the higher order's
    // own is much less; at the end of a support or a wall it is not, and twice the difference is printed
    // (solver/readout/mesh_error.cpp). That is an estimate, no
    // bound: when this was written 30 of 30 sags and 28 of 30 stresses lay inside.
    // Three of thirty may miss, none by more than twice or by more than a survey at some places of each cell
    // leaves open (a tenth of a per cent of sag, half a per cent of stress).
    int pieces = 0, sag_inside = 0, stress_inside = 0, sag_near = 0, stress_near = 0;
    for (std::uint32_t seed = 201; pieces < 30; ++seed) {
        const Piece piece = random_piece(seed);
        if (stands_on_slanting_line(piece)) continue;
        // slanting edges keep cells under a twelfth of the shorter side: the finer mesh must be finer than
        // that
        const double largest = std::max(piece.top.length, piece.top.width) / 7,
                     finest = std::min(largest / 2, std::min(piece.top.length, piece.top.width) / 24);
        const auto on_mesh = [&](double size, int order) {
            return answer_of(piece, {.shell = {.size = {.largest = size,
                                                        .at_walls = size / 6,
                                                        .at_edges = size / 2,
                                                        .growth = 0.7},
                                               .order = order},
                                     .threads = 1});
        };
        try {
            const Answer low = on_mesh(largest, 3), high = on_mesh(largest, 4), fine = on_mesh(finest, 4);
            const std::vector<StrainMean> means = survey_means(high.model->shell);
            const MeshError printed = error_between(piece, low, high);
            const True found = true_error(high, means, fine);
            ++pieces;
            sag_inside += found.sag_percent <= printed.sag_percent;
            stress_inside += found.stress_percent <= printed.stress_percent;
            sag_near += found.sag_percent <= std::max(2 * printed.sag_percent, 0.1);
            stress_near += found.stress_percent <= std::max(2 * printed.stress_percent, 0.5);
            UNSCOPED_INFO(outline_of_random(piece)
                          << ": sag " << found.sag_percent << " of " << printed.sag_percent << " %, stress "
                          << found.stress_percent << " of " << printed.stress_percent << " %");
        } catch (const Error&) { // it tips: another one
        }
    }
    CAPTURE(sag_inside, stress_inside, sag_near, stress_near);
    CHECK(sag_inside >= 27);
    CHECK(stress_inside >= 27);
    CHECK(sag_near == 30);
    CHECK(stress_near == 30);
}
