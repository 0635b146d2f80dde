// SPDX-License-Identifier: MIT
#include "solver/seasons/free_top.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "solver/model/make_model.hpp"
#include "solver/model/rigid_motions.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace hollowtop {
namespace {

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

double norm(const std::vector<double>& v) {
    double sum = 0;
    for (const double x : v) sum += x * x;
    return std::sqrt(sum);
}

} // namespace

MeshSize season_mesh(const Piece& piece) {
    const double largest = std::max(piece.top.length, piece.top.width) / 14;
    return {.largest = largest, .at_walls = largest / 6, .at_edges = largest / 1.5, .growth = 1};
}

FreeTop free_top(const Piece& drawn, int order, std::span<const SwellingOf> swellings, int threads) {
    const Piece piece = bare(drawn);
    const MeshSize size = season_mesh(piece);
    FreeTop top{
        .model = make_unfactored_model(piece, {.shell = {.size = size, .order = order}, .threads = threads}),
        .answers = {}};
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
            const std::vector<FreeLayer> layers =
                swelling(place.region, thickness_of(shell.field, place.region));
            return strain_in_direction(free_strain(layers), across, shell.reference_depth);
        };
        const std::vector<double> forces = eigenstrain_forces(shell, strain_of);
        FreeAnswer answer{.dofs = forces, .residual = 0};
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
        top.answers.push_back(std::move(answer));
    }
    return top;
}

bool is_on_top(const Shell& shell, Point p) {
    const Mesh& mesh = shell.mesh;
    if (p.x < mesh.xs.front() || p.x > mesh.xs.back() || p.y < mesh.ys.front() || p.y > mesh.ys.back())
        return false;
    return region_at(shell.field, p) != outside;
}

namespace {

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

} // namespace

std::vector<TopLine> lines_over(const Shell& shell, Point direction, int count) {
    const Mesh& mesh = shell.mesh;
    const Point centre{(mesh.xs.front() + mesh.xs.back()) / 2, (mesh.ys.front() + mesh.ys.back()) / 2};
    const Point aside{-direction.y, direction.x};
    std::vector<TopLine> lines;
    if (!is_on_top(shell, centre)) return lines;
    const double back = reach(shell, centre, {-aside.x, -aside.y}), ahead = reach(shell, centre, aside);
    for (int i = 0; i < count; ++i) {
        const double s = -back + (back + ahead) * (i + 0.5) / count;
        const Point p{centre.x + s * aside.x, centre.y + s * aside.y};
        if (!is_on_top(shell, p)) continue;
        const double before = reach(shell, p, {-direction.x, -direction.y}),
                     after = reach(shell, p, direction);
        lines.push_back({{p.x - before * direction.x, p.y - before * direction.y},
                         {p.x + after * direction.x, p.y + after * direction.y}});
    }
    return lines;
}

} // namespace hollowtop
