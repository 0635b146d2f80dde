// SPDX-License-Identifier: MIT
#include "solver/analysis/swing_mass.hpp"

namespace hollowtop {

SwingMass::SwingMass(const Model& model) : n_(static_cast<size_t>(model.factor->n_dofs())), top_(model.shell) {
    BasisAt basis;
    for (const LoadColumn& load : model.loads) {
        if (!stays(load.duration)) continue;
        for (const LoadPoint& point : load.points) {
            if (point.force <= 0) continue; // lifts
            basis_at(model.shell.mesh.cells[static_cast<size_t>(point.cell)], model.shell.order, point.at.x, point.at.y, basis);
            const size_t n = basis.value.size();
            OnCell& here = carried_[point.cell];
            if (here.dofs.empty()) {
                const std::vector<int> dofs = cell_dofs(model.shell, point.cell);
                for (size_t k = 2; k < dofs.size(); k += dofs_per_node) here.dofs.push_back(dofs[k]);
                here.mass.assign(n * n, 0);
            }
            for (size_t b = 0; b < n; ++b)
                for (size_t a = 0; a < n; ++a) here.mass[b * n + a] += point.force / standard_gravity * basis.value[a] * basis.value[b];
        }
    }
}

void SwingMass::apply(const double* in, double* out, int count) const {
    const auto columns = static_cast<size_t>(count);
    top_.apply({in, n_ * columns}, {out, n_ * columns}, count);
    for (size_t c = 0; c < columns; ++c)
        for (const auto& [cell, here] : carried_) {
            const size_t n = here.dofs.size();
            for (size_t b = 0; b < n; ++b) {
                const double w = in[c * n_ + static_cast<size_t>(here.dofs[b])];
                for (size_t a = 0; a < n; ++a) out[c * n_ + static_cast<size_t>(here.dofs[a])] += here.mass[b * n + a] * w;
            }
        }
}

} // namespace hollowtop
