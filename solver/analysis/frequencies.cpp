// SPDX-License-Identifier: MIT
#include "solver/analysis/frequencies.hpp"

#include "materials/error.hpp"
#include "solver/analysis/modes.hpp"
#include "solver/interface/complementarity.hpp"
#include "solver/shell/symmetric_eigen.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <map>

namespace hollowtop {
namespace {

/// The supports that press in the situation of the standing loads hold the swinging top; where nothing stands on it, all.
std::vector<size_t> pressing_points(const Model& model, const std::vector<SolvedSituation>& solved) {
    const auto resting = std::find_if(solved.begin(), solved.end(), [](const SolvedSituation& s) { return s.plan.stage == Stage::at_once; });
    std::vector<size_t> pressing;
    for (size_t k = 0; k < model.points.size(); ++k)
        if (resting == solved.end() || resting->point_presses[k]) pressing.push_back(k);
    return pressing;
}

/// The stiffness with the pressing supports' springs inside the element matrices.
GridStiffness on_springs(const Model& model, const std::vector<size_t>& pressing) {
    GridStiffness stiffness = model.shell.stiffness;
    for (const auto& [dof, support] : model.shell.held_dof_support) stiffness.held.push_back(dof);
    struct Spring {
        Point at{};
        double stiffness = 0;
    };
    std::map<int, std::vector<Spring>> in_cell;
    for (const size_t k : pressing) {
        const ContactPoint& point = model.points[k];
        if (point.half_along <= 0) {
            in_cell[cell_at(model.shell, point.at)].push_back({point.at, 1 / point.compliance});
            continue;
        }
        for (const QuadraturePoint& q : tile_points(model.shell, point))
            in_cell[cell_at(model.shell, {q.x, q.y})].push_back({{q.x, q.y}, q.weight / point.area / point.compliance});
    }
    in_cell.erase(-1);
    BasisAt basis;
    for (const auto& [cell_index, springs] : in_cell) {
        const auto c = static_cast<size_t>(cell_index);
        std::vector<double> matrix = stiffness.classes[static_cast<size_t>(stiffness.cell_class[c])];
        const auto size = static_cast<size_t>(stiffness.grid.element_size());
        for (const Spring& spring : springs) {
            basis_at(model.shell.mesh.cells[c], model.shell.order, spring.at.x, spring.at.y, basis);
            for (size_t b = 0; b < basis.value.size(); ++b)
                for (size_t a = 0; a < basis.value.size(); ++a)
                    matrix[(b * dofs_per_node + 2) * size + a * dofs_per_node + 2] += basis.value[a] * basis.value[b] * spring.stiffness;
        }
        stiffness.cell_class[c] = static_cast<int>(stiffness.classes.size());
        stiffness.classes.push_back(std::move(matrix));
    }
    return stiffness;
}

/// Rigid motions that neither held lines nor pressing supports feel.
std::vector<std::vector<double>> loose_motions(const Model& model, const std::vector<size_t>& pressing) {
    const auto m = static_cast<Eigen::Index>(model.rigid.size());
    if (m == 0) return {};
    Eigen::MatrixXd gram = Eigen::MatrixXd::Zero(m, m);
    std::vector<std::vector<double>> at;
    for (const std::vector<double>& mode : model.rigid) at.push_back(at_points(model.point_columns, mode));
    for (const size_t k : pressing) {
        Eigen::VectorXd row(m);
        for (Eigen::Index i = 0; i < m; ++i) row[i] = at[static_cast<size_t>(i)][k];
        gram += row * row.transpose();
    }
    const SymmetricEigen eigen = symmetric_eigen({gram.data(), static_cast<size_t>(m * m)}, static_cast<int>(m));
    std::vector<std::vector<double>> loose;
    for (Eigen::Index i = 0; i < m; ++i) {
        if (eigen.values[static_cast<size_t>(i)] > 1e-9 * std::max(1.0, eigen.values.back())) continue;
        std::vector<double> motion(model.rigid.front().size(), 0);
        for (Eigen::Index k = 0; k < m; ++k)
            for (size_t d = 0; d < motion.size(); ++d) motion[d] += eigen.vectors[static_cast<size_t>(i * m + k)] * model.rigid[static_cast<size_t>(k)][d];
        loose.push_back(std::move(motion));
    }
    return loose;
}

/// A top on bars: what presses or pulls at rest holds both ways while it swings, and the bars bend with it. Their mass counts
/// where they touch the wood; how they twist and stretch by themselves does not.
class SwingOnBars {
  public:
    SwingOnBars(const Model& model, const std::vector<SolvedSituation>& solved) : model_(model) {
        const auto resting = std::find_if(solved.begin(), solved.end(), [](const SolvedSituation& s) { return s.plan.stage == Stage::at_once; });
        const size_t all = model.ties.ties.size();
        for (size_t i = 0; i < all; ++i)
            if (model.ties.ties[i].two_sided || resting == solved.end() || resting->tie_presses[i]) ties_.push_back(i);
        ContactProblem problem{.n_points = static_cast<int>(ties_.size()),
                               .n_rigid = static_cast<int>(model.rigid.size()) + 6 * model.ties.n_bars,
                               .flexibility = {}, .approach = {}, .rigid = {}, .unbalanced = {},
                               .two_sided = std::vector<char>(ties_.size(), 1)};
        for (const size_t j : ties_)
            for (const size_t i : ties_) problem.flexibility.push_back(model.ties.soft[j * all + i] + model.ties.stiff[j * all + i]);
        rigid_ = rigid_at_ties(model, model.ties);
        for (int k = 0; k < problem.n_rigid; ++k)
            for (const size_t i : ties_) problem.rigid.push_back(rigid_[static_cast<size_t>(k) * all + i]);
        solver_.emplace(problem);
        for (size_t c = 0; c < model.bars.columns.size(); ++c) mass_.push_back(0);
        std::vector<double> area(model.bars.beams.size(), 0);
        const auto each_touch = [&](const auto& see) { // every upward column once, by the bonded ties
            for (const Tie& tie : model.bars.bonded_ties)
                if (model.bars.columns[static_cast<size_t>(tie.top.front().column)].direction[2] != 0) see(tie);
        };
        each_touch([&](const Tie& tie) { area[static_cast<size_t>(tie.beam)] += tie.area; });
        each_touch([&](const Tie& tie) {
            const Beam& bar = model.bars.beams[static_cast<size_t>(tie.beam)];
            mass_[static_cast<size_t>(tie.top.front().column)] = bar.weight * bar.length / standard_gravity * tie.area / area[static_cast<size_t>(tie.beam)];
        });
    }

    /// Motions of the top that no support and no rail feels.
    std::vector<std::vector<double>> loose() const {
        const auto m = static_cast<Eigen::Index>(model_.rigid.size());
        if (m == 0) return {};
        const size_t all = model_.ties.ties.size();
        Eigen::MatrixXd gram = Eigen::MatrixXd::Zero(m, m);
        for (const size_t i : ties_) {
            if (i >= static_cast<size_t>(model_.n_bare)) continue;
            Eigen::VectorXd row(m);
            for (Eigen::Index k = 0; k < m; ++k) row[k] = rigid_[static_cast<size_t>(k) * all + i];
            gram += row * row.transpose();
        }
        const SymmetricEigen eigen = symmetric_eigen({gram.data(), static_cast<size_t>(m * m)}, static_cast<int>(m));
        std::vector<std::vector<double>> motions;
        for (Eigen::Index i = 0; i < m; ++i) {
            if (eigen.values[static_cast<size_t>(i)] > 1e-9 * std::max(1.0, eigen.values.back())) continue;
            std::vector<double> motion(model_.rigid.front().size(), 0);
            for (Eigen::Index k = 0; k < m; ++k)
                for (size_t d = 0; d < motion.size(); ++d) motion[d] += eigen.vectors[static_cast<size_t>(i * m + k)] * model_.rigid[static_cast<size_t>(k)][d];
            motions.push_back(std::move(motion));
        }
        return motions;
    }

    /// Forces on the top become its movement, column by column, in place.
    void move(double* columns, int count) const {
        const auto n = static_cast<size_t>(model_.factor->n_dofs()), all = static_cast<size_t>(count);
        const size_t n_rigid = model_.rigid.size();
        std::vector<double> unbalanced(all * n_rigid, 0);
        for (size_t c = 0; c < all; ++c)
            for (size_t k = 0; k < n_rigid; ++k)
                for (size_t i = 0; i < n; ++i) unbalanced[c * n_rigid + k] += model_.rigid[k][i] * columns[c * n + i];
        model_.factor->solve({columns, n * all}, count);
        const SparseColumns& points = model_.point_columns;
        const auto at = [&](size_t c, int column) {
            double moved = 0;
            for (int k = points.start[static_cast<size_t>(column)]; k < points.start[static_cast<size_t>(column) + 1]; ++k)
                moved += points.value[static_cast<size_t>(k)] * columns[c * n + static_cast<size_t>(points.dof[static_cast<size_t>(k)])];
            return moved;
        };
        std::vector<double> forces(n * all, 0), motion(all * n_rigid, 0);
        for (size_t c = 0; c < all; ++c) {
            std::vector<double> approach, loose(unbalanced.begin() + static_cast<std::ptrdiff_t>(c * n_rigid), unbalanced.begin() + static_cast<std::ptrdiff_t>((c + 1) * n_rigid));
            loose.resize(n_rigid + 6 * static_cast<size_t>(model_.ties.n_bars), 0);
            for (const size_t i : ties_) {
                double top = 0;
                for (const TieShare& share : model_.ties.ties[i].top) top += share.share * at(c, share.column);
                approach.push_back(top);
            }
            const ContactAnswer answer = solver_->solve(approach, loose);
            std::copy_n(answer.rigid_motion.begin(), n_rigid, motion.begin() + static_cast<std::ptrdiff_t>(c * n_rigid));
            for (size_t t = 0; t < ties_.size(); ++t)
                for (const TieShare& share : model_.ties.ties[ties_[t]].top)
                    for (int k = points.start[static_cast<size_t>(share.column)]; k < points.start[static_cast<size_t>(share.column) + 1]; ++k)
                        forces[c * n + static_cast<size_t>(points.dof[static_cast<size_t>(k)])] += answer.force[t] * share.share * points.value[static_cast<size_t>(k)];
        }
        model_.factor->solve(forces, count);
        for (size_t c = 0; c < all; ++c)
            for (size_t i = 0; i < n; ++i) {
                columns[c * n + i] += forces[c * n + i];
                for (size_t k = 0; k < n_rigid; ++k) columns[c * n + i] += motion[c * n_rigid + k] * model_.rigid[k][i];
            }
    }

    void add_mass(const double* in, double* out) const {
        const SparseColumns& columns = model_.point_columns;
        const size_t first = model_.points.size();
        for (size_t c = 0; c < mass_.size(); ++c) {
            if (mass_[c] == 0) continue;
            double w = 0;
            for (int k = columns.start[first + c]; k < columns.start[first + c + 1]; ++k) w += columns.value[static_cast<size_t>(k)] * in[columns.dof[static_cast<size_t>(k)]];
            for (int k = columns.start[first + c]; k < columns.start[first + c + 1]; ++k) out[columns.dof[static_cast<size_t>(k)]] += mass_[c] * w * columns.value[static_cast<size_t>(k)];
        }
    }

  private:
    const Model& model_;
    std::vector<size_t> ties_;
    std::vector<double> rigid_, mass_;
    std::optional<ContactSolver> solver_;
};

/// The mass of the loads that stay, cell by cell. Spread as the shell's own: as a diagonal of nodal forces it would be
/// negative at some nodes of a cell that the load covers in part, and the top would have tones without end.
struct CarriedMass {
    struct OnCell {
        std::vector<int> dofs; ///< of w
        Eigen::MatrixXd mass;  ///< kg
    };
    std::map<int, OnCell> cells;

    explicit CarriedMass(const Model& model) {
        BasisAt basis;
        for (const LoadColumn& load : model.loads) {
            if (!stays(load.duration)) continue;
            for (const LoadPoint& point : load.points) {
                if (point.force <= 0) continue; // lifts
                basis_at(model.shell.mesh.cells[static_cast<size_t>(point.cell)], model.shell.order, point.at.x, point.at.y, basis);
                const auto n = static_cast<Eigen::Index>(basis.value.size());
                OnCell& here = cells[point.cell];
                if (here.dofs.empty()) {
                    const std::vector<int> dofs = cell_dofs(model.shell, point.cell);
                    for (size_t k = 2; k < dofs.size(); k += dofs_per_node) here.dofs.push_back(dofs[k]);
                    here.mass.setZero(n, n);
                }
                const Eigen::Map<const Eigen::VectorXd> value(basis.value.data(), n);
                here.mass += point.force / standard_gravity * value * value.transpose();
            }
        }
    }
    void apply(const double* in, double* out) const {
        for (const auto& [cell, here] : cells) {
            Eigen::VectorXd w(here.mass.rows());
            for (size_t k = 0; k < here.dofs.size(); ++k) w[static_cast<Eigen::Index>(k)] = in[here.dofs[k]];
            const Eigen::VectorXd inertia = here.mass * w;
            for (size_t k = 0; k < here.dofs.size(); ++k) out[here.dofs[k]] += inertia[static_cast<Eigen::Index>(k)];
        }
    }
};

} // namespace

std::vector<double> first_frequencies(const Model& model, const std::vector<SolvedSituation>& solved, int count) {
    if (model.shell.plane.density <= 0) return {};
    ModeProblem problem;
    std::optional<SwingOnBars> on_bars;
    std::optional<Factor> on_supports;
    if (model.bars.beams.empty()) {
        const std::vector<size_t> pressing = pressing_points(model, solved);
        GridStiffness stiffness = on_springs(model, pressing);
        problem.free_rigid_modes = loose_motions(model, pressing);
        Shell held = Shell{.plane = model.shell.plane, .mesh = model.shell.mesh, .order = model.shell.order, .reference_depth = model.shell.reference_depth};
        held.stiffness.grid = stiffness.grid;
        held.stiffness.held = stiffness.held;
        for (const int pin : pins_for(held, problem.free_rigid_modes)) stiffness.held.push_back(pin);
        std::sort(stiffness.held.begin(), stiffness.held.end());
        on_supports.emplace(stiffness, 1);
    } else {
        on_bars.emplace(model, solved);
        problem.free_rigid_modes = on_bars->loose();
    }
    const MassOperator mass(model.shell);
    const CarriedMass carried(model);
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    problem.n = static_cast<int>(n);
    problem.count = count;
    problem.apply_stiffness_inverse = [&](double* columns, int n_columns) {
        if (on_bars) on_bars->move(columns, n_columns);
        else on_supports->solve({columns, n * static_cast<size_t>(n_columns)}, n_columns);
    };
    problem.apply_mass = [&](const double* in, double* out, int n_columns) {
        const auto columns = static_cast<size_t>(n_columns);
        mass.apply({in, n * columns}, {out, n * columns}, n_columns);
        for (size_t c = 0; c < columns; ++c) {
            carried.apply(in + c * n, out + c * n);
            if (on_bars) on_bars->add_mass(in + c * n, out + c * n);
        }
    };
    const Modes modes = natural_modes(problem);
    if (!modes.converged)
        throw Error(ErrorKind::not_computable, {.place = "top", .what = "the top's tones could not be found to enough digits", .remedy = "try another --mesh"});
    return modes.frequency_Hz;
}

} // namespace hollowtop
