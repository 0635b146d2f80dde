// SPDX-License-Identifier: MIT
#include "solver/seasons/cupping.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "solver/model/make_model.hpp"
#include "solver/model/model.hpp"
#include "solver/model/rigid_motions.hpp"
#include "solver/numeric/symmetric_eigen.hpp"
#include "solver/shell/movement_form.hpp"
#include "solver/shell/recovery.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

namespace hollowtop {
namespace {

constexpr int low_order = 3, high_order = 4;

/// The bare top: nothing under it, nothing on it.
Piece bare(const Piece& piece) {
    Piece top = piece;
    top.stiffeners.clear();
    top.supports.clear();
    top.loads.clear();
    top.self_weight = false;
    top.probes.clear();
    return top;
}

struct Solved {
    std::vector<double> dofs;
    double residual = 0;
};

struct FreeTop {
    Model model;
    std::vector<Solved> solved;
};

double norm(const std::vector<double>& v) {
    double sum = 0;
    for (const double x : v) sum += x * x;
    return std::sqrt(sum);
}

FreeTop solve(const Piece& piece, const MeshSize& size, int order, std::span<const SwellingOf> swellings,
              int threads) {
    FreeTop top{
        .model = make_unfactored_model(piece, {.shell = {.size = size, .order = order}, .threads = threads}),
        .solved = {}};
    Shell& shell = top.model.shell;
    shell.stiffness.held = pins_for(shell, free_rigid_motions(shell));
    std::sort(shell.stiffness.held.begin(), shell.stiffness.held.end());
    std::optional<Factor> factor;
    try {
        factor.emplace(shell.stiffness, threads);
    } catch (const PivotFailure&) {
        throw Error(ErrorKind::not_computable, {.place = "top",
                                                .what = "the stiffness of the top is not positive definite",
                                                .remedy = "check thicknesses and elastic constants"});
    }
    shell.stiffness.held.clear(); // from here on products show what the pins carry: it must be nothing
    const double grain = shell.plane.grain_rad;
    const Point across{-std::sin(grain), std::cos(grain)};
    for (const SwellingOf& swelling : swellings) {
        const auto strain_of = [&](SectionRegion place) {
            const std::vector<FreeLayer> layers = swelling(thickness_of(shell.field, place.region));
            return strain_in_direction(free_strain(layers), across, shell.reference_depth);
        };
        const std::vector<double> forces = eigenstrain_forces(shell, strain_of);
        Solved answer{.dofs = forces, .residual = 0};
        factor->solve(answer.dofs, 1);
        std::vector<double> left(forces.size(), 0);
        multiply(shell.stiffness, answer.dofs, left);
        for (size_t i = 0; i < left.size(); ++i) left[i] -= forces[i];
        const double size_of_forces = norm(forces);
        answer.residual = size_of_forces > 0 ? norm(left) / size_of_forces : 0;
        constexpr double largest_residual = 1e-6;
        if (!(answer.residual <= largest_residual))
            throw Error(ErrorKind::not_computable,
                        {.place = "top",
                         .what = "the cupping could not be solved: the forces left unbalanced are " +
                                 materials::digits(answer.residual) + " of the whole",
                         .remedy = "please report the piece"});
        top.solved.push_back(std::move(answer));
    }
    return top;
}

bool is_on_top(const Shell& shell, Point p) {
    const Mesh& mesh = shell.mesh;
    if (p.x < mesh.xs.front() || p.x > mesh.xs.back() || p.y < mesh.ys.front() || p.y > mesh.ys.back())
        return false;
    return region_at(shell.field, p) != outside;
}

/// How far one may go from `start`, which lies on the top, in the direction before the top ends.
double reach(const Shell& shell, Point start, Point direction) {
    const Mesh& mesh = shell.mesh;
    const double step = std::hypot(mesh.xs.back() - mesh.xs.front(), mesh.ys.back() - mesh.ys.front()) / 300;
    const auto at = [&](double s) { return Point{start.x + s * direction.x, start.y + s * direction.y}; };
    double on = 0;
    while (is_on_top(shell, at(on + step))) on += step;
    double off = on + step;
    while (off - on > 1e-6) {
        const double middle = (on + off) / 2;
        (is_on_top(shell, at(middle)) ? on : off) = middle;
    }
    return on;
}

struct Line {
    Point from, to;
};

/// Lines in the direction, side by side over the whole top.
std::vector<Line> lines_over(const Shell& shell, Point direction) {
    const Mesh& mesh = shell.mesh;
    const Point centre{(mesh.xs.front() + mesh.xs.back()) / 2, (mesh.ys.front() + mesh.ys.back()) / 2};
    const Point aside{-direction.y, direction.x};
    std::vector<Line> lines;
    if (!is_on_top(shell, centre)) return lines;
    const double back = reach(shell, centre, {-aside.x, -aside.y}), ahead = reach(shell, centre, aside);
    constexpr int n = 15; // odd: one through the middle
    for (int i = 0; i < n; ++i) {
        const double s = -back + (back + ahead) * (i + 0.5) / n;
        const Point p{centre.x + s * aside.x, centre.y + s * aside.y};
        if (!is_on_top(shell, p)) continue;
        const double before = reach(shell, p, {-direction.x, -direction.y}),
                     after = reach(shell, p, direction);
        lines.push_back({{p.x - before * direction.x, p.y - before * direction.y},
                         {p.x + after * direction.x, p.y + after * direction.y}});
    }
    return lines;
}

constexpr int n_samples = 41;

Rise rise_over(const Shell& shell, const std::vector<double>& dofs, const std::vector<Line>& lines) {
    Rise greatest;
    for (const Line& line : lines) {
        const double from = movement_at(shell, dofs, line.from), to = movement_at(shell, dofs, line.to);
        for (int i = 1; i + 1 < n_samples; ++i) {
            const double s = static_cast<double>(i) / (n_samples - 1);
            const Point p{line.from.x + s * (line.to.x - line.from.x),
                          line.from.y + s * (line.to.y - line.from.y)};
            if (!is_on_top(shell, p)) continue;
            const double rise = movement_at(shell, dofs, p) - (1 - s) * from - s * to;
            if (std::abs(rise) > std::abs(greatest.value)) greatest = {rise, line.from, line.to};
        }
    }
    return greatest;
}

double out_of_flat(const Shell& shell, const std::vector<double>& dofs, const std::vector<Line>& lines) {
    std::vector<WeighedPoint> places;
    for (const Line& line : lines)
        for (int i = 0; i < n_samples; ++i) {
            const double s = static_cast<double>(i) / (n_samples - 1);
            const Point p{line.from.x + s * (line.to.x - line.from.x),
                          line.from.y + s * (line.to.y - line.from.y)};
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

} // namespace

std::vector<Cup> cups_of(const Piece& piece, std::span<const SwellingOf> swellings, int threads) {
    const Piece top = bare(piece);
    const double largest =
        std::max(top.top.length, top.top.width) / 14; // as a check's (solver/check/check_piece.cpp)
    const MeshSize size{.largest = largest, .at_walls = largest / 6, .at_edges = largest / 1.5, .growth = 1};
    const FreeTop low = solve(top, size, low_order, swellings, threads),
                  high = solve(top, size, high_order, swellings, threads);
    const double grain = high.model.shell.plane.grain_rad;
    const Point along{std::cos(grain), std::sin(grain)}, across{-along.y, along.x};
    const std::vector<Line> lines_across = lines_over(high.model.shell, across),
                            lines_along = lines_over(high.model.shell, along);
    std::vector<Cup> cups;
    for (size_t i = 0; i < swellings.size(); ++i) {
        const Shell& shell = high.model.shell;
        const std::vector<double>& dofs = high.solved[i].dofs;
        Cup cup{.across = rise_over(shell, dofs, lines_across),
                .along = rise_over(shell, dofs, lines_along),
                .out_of_flat = out_of_flat(shell, dofs, lines_across),
                .error_percent = 0,
                .residual = std::max(low.solved[i].residual, high.solved[i].residual)};
        const double other = rise_over(low.model.shell, low.solved[i].dofs, lines_across).value;
        if (std::abs(cup.across.value) > 1e-6)
            cup.error_percent = 100 * std::abs(other / cup.across.value - 1);
        cups.push_back(cup);
    }
    return cups;
}

SwellingOf even_swelling(double strain) { return face_to_face_swelling(strain, strain); }

SwellingOf face_to_face_swelling(double above, double below) {
    return [=](double thickness) {
        return std::vector<FreeLayer>{
            {.thickness = thickness, .modulus = 1, .strain_above = above, .strain_below = below}};
    };
}

} // namespace hollowtop
