// SPDX-License-Identifier: MIT
#include "solver/seasons/cupping.hpp"

#include "solver/numeric/symmetric_eigen.hpp"
#include "solver/seasons/free_top.hpp"
#include "solver/shell/movement_form.hpp"
#include "solver/shell/recovery.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hollowtop {
namespace {

constexpr int n_samples = 41;

Rise rise_over(const Shell& shell, const std::vector<double>& dofs, const std::vector<TopLine>& lines) {
    Rise greatest;
    for (const TopLine& line : lines) {
        const double from = movement_at(shell, dofs, line.from), to = movement_at(shell, dofs, line.to);
        for (int i = 1; i + 1 < n_samples; ++i) {
            const double s = static_cast<double>(i) / (n_samples - 1);
            const Point p = line.at(s);
            if (!is_on_top(shell, p)) continue;
            const double rise = movement_at(shell, dofs, p) - (1 - s) * from - s * to;
            if (std::abs(rise) > std::abs(greatest.value)) greatest = {rise, line.from, line.to};
        }
    }
    return greatest;
}

double out_of_flat(const Shell& shell, const std::vector<double>& dofs, const std::vector<TopLine>& lines) {
    std::vector<WeighedPoint> places;
    for (const TopLine& line : lines)
        for (int i = 0; i < n_samples; ++i) {
            const double s = static_cast<double>(i) / (n_samples - 1);
            const Point p = line.at(s);
            if (is_on_top(shell, p))
                places.push_back({.x = p.x, .y = p.y, .value = movement_at(shell, dofs, p), .weight = 1});
        }
    if (places.size() < 3) return 0;
    const FlatPlane plane = fitted_plane(places);
    double least = std::numeric_limits<double>::max(), most = -least;
    for (const WeighedPoint& place : places) {
        const double above = place.value - plane.at(place.x, place.y);
        least = std::min(least, above);
        most = std::max(most, above);
    }
    return most - least;
}

constexpr int n_lines = 15; // odd: one through the middle

std::vector<TopLine> lines_along(const Shell& shell) {
    const double grain = shell.plane.grain_rad;
    return lines_over(shell, {std::cos(grain), std::sin(grain)}, n_lines);
}
std::vector<TopLine> lines_across(const Shell& shell) {
    const double grain = shell.plane.grain_rad;
    return lines_over(shell, {-std::sin(grain), std::cos(grain)}, n_lines);
}

} // namespace

Cup cup_on(const Shell& shell, const std::vector<double>& dofs) {
    const std::vector<TopLine> across = lines_across(shell);
    return {.across = rise_over(shell, dofs, across),
            .along = rise_over(shell, dofs, lines_along(shell)),
            .out_of_flat = out_of_flat(shell, dofs, across),
            .error_percent = 0,
            .residual = 0};
}

std::vector<Cup> cups_of(const Piece& piece, std::span<const SwellingOf> swellings, int threads) {
    const FreeTop low = free_top(piece, low_order, swellings, threads),
                  high = free_top(piece, high_order, swellings, threads);
    std::vector<Cup> cups;
    for (size_t i = 0; i < swellings.size(); ++i) {
        Cup cup = cup_on(high.model.shell, high.answers[i].dofs);
        cup.residual = std::max(low.answers[i].residual, high.answers[i].residual);
        const double other =
            rise_over(low.model.shell, low.answers[i].dofs, lines_across(high.model.shell)).value;
        if (std::abs(cup.across.value) > 1e-6)
            cup.error_percent = 100 * std::abs(other / cup.across.value - 1);
        cups.push_back(cup);
    }
    return cups;
}

SwellingOf even_swelling(double strain) { return face_to_face_swelling(strain, strain); }

SwellingOf face_to_face_swelling(double above, double below) {
    return [=](int, double thickness) {
        return std::vector<FreeLayer>{
            {.thickness = thickness, .modulus = 1, .strain_above = above, .strain_below = below}};
    };
}

} // namespace hollowtop
