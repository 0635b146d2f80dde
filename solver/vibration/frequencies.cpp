// SPDX-License-Identifier: MIT
#include "solver/vibration/frequencies.hpp"

#include "materials/error.hpp"
#include "solver/interface/tile_forces.hpp"
#include "solver/model/rigid_motions.hpp"
#include "solver/numeric/symmetric_eigen.hpp"
#include "solver/vibration/modes.hpp"
#include "solver/vibration/vibrating_mass.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace hollowtop {
namespace {

/// The supports that press in the situation of the standing loads hold the swinging top; where nothing stands
/// on it, all.
std::vector<size_t> active_points(const Model& model, const std::vector<SolvedSituation>& solved) {
    const auto resting = std::find_if(solved.begin(), solved.end(), [](const SolvedSituation& s) {
        return s.plan.stage == Stage::at_once;
    });
    std::vector<size_t> pressing;
    for (size_t k = 0; k < model.points.size(); ++k)
        if (resting == solved.end() ? model.points[k].gap <= 0 : resting->point_presses[k] != 0)
            pressing.push_back(k);
    return pressing;
}

/// How a tile's spring stands under it: spread as its pressure is, which changes its sign within some tiles and with those
/// beside them makes an even bed, if all press; or where its force acts.
enum class SpringsOf { pressure, force };

/// The stiffness with the springs of the supports in contact inside the element matrices.
GridStiffness on_springs(const Model& model, const std::vector<size_t>& pressing, SpringsOf springs_of) {
    GridStiffness stiffness = model.shell.stiffness;
    for (const auto& [dof, support] : model.shell.held_dof_support) stiffness.held.push_back(dof);
    struct Spring {
        Point at{};
        double stiffness = 0;
    };
    std::map<int, std::vector<Spring>> in_cell;
    for (const size_t k : pressing) {
        const ContactPoint& point = model.points[k];
        if (point.half_along <= 0 || springs_of == SpringsOf::force) {
            in_cell[cell_at(model.shell, point.at)].push_back({point.at, 1 / point.compliance});
            continue;
        }
        for (const QuadraturePoint& q : tile_points(model.shell, point))
            in_cell[cell_at(model.shell, {q.x, q.y})].push_back(
                {{q.x, q.y}, q.weight / point.area / point.compliance});
    }
    in_cell.erase(-1);
    BasisAt basis;
    for (const auto& [cell_index, springs] : in_cell) {
        const auto c = static_cast<size_t>(cell_index);
        std::vector<double> matrix = stiffness.classes[static_cast<size_t>(stiffness.cell_class[c])];
        const auto size = static_cast<size_t>(stiffness.grid.element_size(cell_index));
        for (const Spring& spring : springs) {
            basis_at(model.shell, cell_index, spring.at, basis);
            for (size_t b = 0; b < basis.value.size(); ++b)
                for (size_t a = 0; a < basis.value.size(); ++a)
                    matrix[(b * dofs_per_node + 2) * size + a * dofs_per_node + 2] +=
                        basis.value[a] * basis.value[b] * spring.stiffness;
        }
        stiffness.cell_class[c] = static_cast<int>(stiffness.classes.size());
        stiffness.classes.push_back(std::move(matrix));
    }
    return stiffness;
}

/// Rigid motions that neither held lines nor supports in contact feel.
std::vector<std::vector<double>> motions_not_pressed(const Model& model,
                                                     const std::vector<size_t>& pressing) {
    const auto m = static_cast<Eigen::Index>(model.rigid.size());
    if (m == 0) return {};
    Eigen::MatrixXd gram = Eigen::MatrixXd::Zero(m, m);
    std::vector<std::vector<double>> at;
    for (const std::vector<double>& mode : model.rigid) at.push_back(at_points(model.columns->forces, mode));
    for (const size_t k : pressing) {
        Eigen::VectorXd row(m);
        for (Eigen::Index i = 0; i < m; ++i) row[i] = at[static_cast<size_t>(i)][k];
        gram += row * row.transpose();
    }
    const SymmetricEigen eigen =
        symmetric_eigen({gram.data(), static_cast<size_t>(m * m)}, static_cast<int>(m));
    std::vector<std::vector<double>> loose;
    for (Eigen::Index i = 0; i < m; ++i) {
        if (eigen.values[static_cast<size_t>(i)] > 1e-9 * std::max(1.0, eigen.values.back())) continue;
        std::vector<double> motion(model.rigid.front().size(), 0);
        for (Eigen::Index k = 0; k < m; ++k)
            for (size_t d = 0; d < motion.size(); ++d)
                motion[d] +=
                    eigen.vectors[static_cast<size_t>(i * m + k)] * model.rigid[static_cast<size_t>(k)][d];
        loose.push_back(std::move(motion));
    }
    return loose;
}

/// Smooth movements up and down, a column each: products of Legendre's polynomials along and across. The lowest shapes
/// hold little else.
std::vector<double> smooth_movements(const Shell& shell, size_t n_dofs) {
    const Rectangle box = bounds_of(shell.field.outline);
    const auto legendre = [](int k, double s) {
        return k == 0 ? 1 : k == 1 ? s : k == 2 ? (3 * s * s - 1) / 2 : (5 * s * s - 3) * s / 2;
    };
    static constexpr std::array<std::pair<int, int>, 8> degrees{
        {{0, 0}, {1, 0}, {0, 1}, {1, 1}, {2, 0}, {0, 2}, {3, 0}, {2, 1}}};
    const bool is_long = box.x1 - box.x0 >= box.y1 - box.y0;
    std::vector<double> columns(degrees.size() * n_dofs, 0);
    for (size_t node = 0; node < n_dofs / dofs_per_node; ++node) {
        const Point p = shell.node_point(static_cast<int>(node));
        const double x = 2 * (p.x - box.x0) / (box.x1 - box.x0) - 1,
                     y = 2 * (p.y - box.y0) / (box.y1 - box.y0) - 1;
        for (size_t k = 0; k < degrees.size(); ++k)
            columns[k * n_dofs + node * dofs_per_node + 2] =
                legendre(degrees[k].first, is_long ? x : y) * legendre(degrees[k].second, is_long ? y : x);
    }
    return columns;
}

[[noreturn]] void refuse_frequencies() {
    throw Error(ErrorKind::not_computable,
                {.place = "top",
                 .what = "the top's natural frequencies could not be found to enough digits",
                 .remedy = "try another --mesh"});
}

Factor factor_with_pins(const Model& model, GridStiffness stiffness,
                        const std::vector<std::vector<double>>& free_rigid_modes) {
    Shell held = Shell{.plane = model.shell.plane,
                       .mesh = model.shell.mesh,
                       .order = model.shell.order,
                       .reference_depth = model.shell.reference_depth};
    held.stiffness.grid = stiffness.grid;
    held.stiffness.held = stiffness.held;
    for (const int pin : pins_for(held, free_rigid_modes)) stiffness.held.push_back(pin);
    std::sort(stiffness.held.begin(), stiffness.held.end());
    return Factor(stiffness, 1);
}

/// Where some tiles of a bed do not press, what the others' pressures take away is not made good: their springs are then
/// gathered, which turns a little more easily.
Factor factor_on_supports(const Model& model, const std::vector<size_t>& pressing,
                          const std::vector<std::vector<double>>& free_rigid_modes) {
    for (const SpringsOf springs_of : {SpringsOf::pressure, SpringsOf::force}) try {
            return factor_with_pins(model, on_springs(model, pressing, springs_of), free_rigid_modes);
        } catch (const PivotFailure&) {
        }
    refuse_frequencies();
}

} // namespace

std::vector<double> first_frequencies(const Model& model, const std::vector<SolvedSituation>& solved,
                                      int count, std::optional<TopModes>* kept) {
    if (model.shell.plane.density <= 0) return {};
    if (!model.bars.beams.empty()) {
        std::optional<TopModes> own;
        std::optional<TopModes>& modes = kept ? *kept : own;
        if (!modes) modes = top_modes(model);
        return frequencies_on_bars(model, *modes, solved, count);
    }
    const std::vector<size_t> pressing = active_points(model, solved);
    ModeProblem problem;
    problem.free_rigid_modes = motions_not_pressed(model, pressing);
    const Factor on_supports = factor_on_supports(model, pressing, problem.free_rigid_modes);
    const VibratingMass mass(model);
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    problem.n = static_cast<int>(n);
    problem.count = count;
    problem.sharp_shapes = false;
    problem.start = smooth_movements(model.shell, n);
    problem.apply_stiffness_inverse = [&](double* columns, int n_columns) {
        on_supports.solve({columns, n * static_cast<size_t>(n_columns)}, n_columns);
    };
    problem.apply_mass = [&](const double* in, double* out, int n_columns) {
        mass.apply(in, out, n_columns);
    };
    const Modes modes = natural_modes(problem);
    if (!modes.converged) refuse_frequencies();
    return modes.frequency_Hz;
}

} // namespace hollowtop
