// SPDX-License-Identifier: MIT
#include "solver/model/model.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace hollowtop {

std::shared_ptr<const std::vector<double>> ConnectionCompliance::after_creep(double creep_factor) const {
    const std::lock_guard lock(guard_);
    for (const auto& [known, together] : known_)
        if (known == creep_factor) return together;
    std::vector<double> together(stiff_);
    for (size_t i = 0; i < together.size(); ++i) together[i] += creep_factor * soft_[i];
    constexpr size_t most = 2; // now, and after the years
    if (known_.size() == most) known_.pop_back();
    known_.emplace_back(creep_factor, std::make_shared<const std::vector<double>>(std::move(together)));
    return known_.back().second;
}

std::vector<double> at_points(const SparseColumns& columns, const std::vector<double>& dofs) {
    std::vector<double> values(static_cast<size_t>(columns.count()), 0);
    for (size_t c = 0; c < values.size(); ++c)
        for (int k = columns.start[c]; k < columns.start[c + 1]; ++k)
            values[c] += columns.value[static_cast<size_t>(k)] *
                         dofs[static_cast<size_t>(columns.dof[static_cast<size_t>(k)])];
    return values;
}

double greatest_movement(std::span<const double> dofs) {
    double most = 0;
    for (size_t i = 2; i < dofs.size(); i += dofs_per_node) most = std::max(most, std::abs(dofs[i]));
    return most;
}

std::vector<double> work_on_rigid(const Model& model, std::span<const double> nodal) {
    std::vector<double> works(model.rigid.size(), 0);
    for (size_t i = 0; i < nodal.size(); ++i) {
        if (nodal[i] == 0) continue; // of most loads nearly all are
        for (size_t mode = 0; mode < works.size(); ++mode) works[mode] += model.rigid[mode][i] * nodal[i];
    }
    return works;
}

ConnectionMovement movement_from_columns(const Model& model, const ConnectionSet& set,
                                         const std::vector<double>& at, double weight) {
    ConnectionMovement movement;
    for (const Connection& connection : set.all) {
        double top = 0, bar = 0;
        for (const ConnectionShare& share : connection.top)
            top += share.share * at[static_cast<size_t>(share.column)];
        if (weight != 0 && connection.beam >= 0)
            bar = weight * moved_by_weight(bar_of(model, connection), connection.on_beam);
        const bool creeps = connection.beam >= 0 && bar_of(model, connection).creeps;
        movement.soft.push_back(top + (creeps ? bar : 0));
        movement.stiff.push_back((creeps ? 0 : bar) + connection.clearance);
    }
    return movement;
}

std::vector<double> rigid_at_connections(const Model& model, const ConnectionSet& set) {
    std::vector<double> columns;
    for (const std::vector<double>& at : model.columns->rigid_at) {
        for (const Connection& connection : set.all) {
            double top = 0;
            for (const ConnectionShare& share : connection.top)
                top += share.share * at[static_cast<size_t>(share.column)];
            columns.push_back(top);
        }
    }
    const size_t n = set.all.size(), first = columns.size();
    columns.resize(first + 6 * static_cast<size_t>(set.n_bars) * n, 0);
    for (size_t i = 0; i < n; ++i) {
        if (set.all[i].beam < 0) continue;
        const std::array<double, 6> work = rigid_work(bar_of(model, set.all[i]), set.all[i].on_beam);
        for (size_t k = 0; k < 6; ++k)
            columns[first + (6 * static_cast<size_t>(set.all[i].beam) + k) * n + i] = work[k];
    }
    return columns;
}

Resultant weight_of_bars(const Model& model) {
    Resultant total;
    for (const Beam& bar : model.bars.beams) {
        const double weight = bar.weight * bar.length;
        const Point at = bar.at(0, bar.section.y_c - bar.y_line);
        total.force += weight;
        total.x_moment += weight * at.x;
        total.y_moment += weight * at.y;
    }
    return total;
}

} // namespace hollowtop
