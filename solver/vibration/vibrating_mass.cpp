// SPDX-License-Identifier: MIT
#include "solver/vibration/vibrating_mass.hpp"

#include <Eigen/Core>

#include <algorithm>

namespace hollowtop {

VibratingMass::VibratingMass(const Model& model)
    : n_(static_cast<size_t>(model.factor->n_dofs())), top_(model.shell) {
    BasisAt basis;
    for (const LoadColumn& load : model.loads) {
        if (!stays(load.duration)) continue;
        double down = 0,
               all = 0; // a clamp's upper pad presses with more than hangs on it, and its lower one lifts
        for (const LoadPoint& point : load.points) all += point.force, down += std::max(point.force, 0.0);
        for (const LoadPoint& point : load.points) {
            if (point.force <= 0 || all <= 0) continue; // lifts
            basis_at(model.shell, point.cell, point.at, basis);
            const size_t n = basis.value.size();
            OnCell& here = carried_[point.cell];
            if (here.dofs.empty()) {
                const std::vector<int> dofs = cell_dofs(model.shell, point.cell);
                for (size_t k = 2; k < dofs.size(); k += dofs_per_node) here.dofs.push_back(dofs[k]);
                here.mass.assign(n * n, 0);
            }
            for (size_t b = 0; b < n; ++b)
                for (size_t a = 0; a < n; ++a)
                    here.mass[b * n + a] +=
                        all / down * point.force / standard_gravity * basis.value[a] * basis.value[b];
        }
    }
}

void VibratingMass::apply(const double* in, double* out, int count) const {
    const auto columns = static_cast<size_t>(count);
    top_.apply({in, n_ * columns}, {out, n_ * columns}, count);
    Eigen::MatrixXd moved, forced;
    for (const auto& [cell, here] : carried_) {
        const auto n = static_cast<Eigen::Index>(here.dofs.size());
        moved.resize(n, count);
        for (Eigen::Index c = 0; c < count; ++c)
            for (Eigen::Index a = 0; a < n; ++a)
                moved(a, c) =
                    in[static_cast<size_t>(c) * n_ + static_cast<size_t>(here.dofs[static_cast<size_t>(a)])];
        forced.noalias() = Eigen::Map<const Eigen::MatrixXd>(here.mass.data(), n, n) * moved;
        for (Eigen::Index c = 0; c < count; ++c)
            for (Eigen::Index a = 0; a < n; ++a)
                out[static_cast<size_t>(c) * n_ + static_cast<size_t>(here.dofs[static_cast<size_t>(a)])] +=
                    forced(a, c);
    }
}

} // namespace hollowtop
