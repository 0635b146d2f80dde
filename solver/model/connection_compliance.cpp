// SPDX-License-Identifier: MIT
#include "solver/model/connection_compliance.hpp"

#include "solver/interface/tile_forces.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace hollowtop {
namespace {

/// Of lists kept for later, the ones used last stay: so many numbers at most.
constexpr size_t most_numbers_known = 1'500'000;

/// What one connection sees of a unit force of another, of all: through the top, and through the bar they
/// share.
std::shared_ptr<const ConnectionCompliance> compliance_of(const Model& model,
                                                          const std::vector<Connection>& connections) {
    const size_t n = connections.size(), columns = static_cast<size_t>(model.columns->forces.count());
    std::vector<double> all_soft(n * n, 0), all_stiff(n * n, 0);
    for (size_t j = 0; j < n; ++j) {
        const Connection& b = connections[j];
        for (size_t i = 0; i <= j; ++i) {
            const Connection& a = connections[i];
            double soft = 0, stiff = 0;
            for (const ConnectionShare& sb : b.top)
                for (const ConnectionShare& sa : a.top)
                    soft += sa.share * sb.share *
                            model.columns->compliance[static_cast<size_t>(sb.column) * columns +
                                                      static_cast<size_t>(sa.column)];
            if (a.beam >= 0 && a.beam == b.beam) {
                const Beam& bar = bar_of(model, a);
                (bar.creeps ? soft : stiff) += compliance_between(bar, a.on_beam, b.on_beam);
            }
            all_soft[j * n + i] = all_soft[i * n + j] = soft;
            all_stiff[j * n + i] = all_stiff[i * n + j] = stiff;
        }
    }
    return std::make_shared<const ConnectionCompliance>(std::move(all_soft), std::move(all_stiff));
}

/// Do two connections touch top and bar alike, whatever their own compliance?
bool touch_alike(const Connection& a, const Connection& b) {
    return a.beam == b.beam && a.top == b.top && a.on_beam == b.on_beam;
}

/// The columns from `first` on, before `end`.
SparseColumns some_of(const SparseColumns& all, size_t first, size_t end) {
    SparseColumns some;
    const int from = all.start[first], to = all.start[end];
    some.start.clear();
    for (size_t c = first; c <= end; ++c) some.start.push_back(all.start[c] - from);
    some.dof.assign(all.dof.begin() + from, all.dof.begin() + to);
    some.value.assign(all.value.begin() + from, all.value.begin() + to);
    return some;
}

/// Compliance of the top at all columns: the supports', which are always the first, are kept.
std::vector<double> compliance_at(Model& model, const SparseColumns& forces) {
    const size_t n = static_cast<size_t>(forces.count()), n_points = model.points.size();
    if (model.support_compliance.empty() && n_points > 0) {
        model.support_columns = model.factor->forward(some_of(forces, 0, n_points));
        model.support_compliance = model.factor->compliance(model.support_columns, model.support_columns);
    }
    if (n_points == 0) return model.factor->compliance(forces);
    if (n == n_points) return model.support_compliance;
    const ForwardColumns others = model.factor->forward(some_of(forces, n_points, n));
    const std::vector<double> own = model.factor->compliance(others, others),
                              between = model.factor->compliance(model.support_columns, others);
    std::vector<double> all(n * n);
    for (size_t j = 0; j < n_points; ++j)
        for (size_t i = 0; i < n_points; ++i) all[j * n + i] = model.support_compliance[j * n_points + i];
    for (size_t j = n_points; j < n; ++j) {
        for (size_t i = 0; i < n_points; ++i)
            all[j * n + i] = all[i * n + j] = between[(j - n_points) * n_points + i];
        for (size_t i = n_points; i < n; ++i)
            all[j * n + i] = own[(j - n_points) * (n - n_points) + i - n_points];
    }
    return all;
}

/// How the factored model answers its columns, once `moved` is known too.
std::shared_ptr<const TopColumns> answered(Model& model, SparseColumns forces) {
    const auto each = [&](const std::vector<std::vector<double>>& fields) {
        std::vector<std::vector<double>> at;
        at.reserve(fields.size());
        for (const std::vector<double>& field : fields) at.push_back(at_points(forces, field));
        return at;
    };
    TopColumns columns; // by assignment: see TopColumns
    columns.of = model.bars.columns;
    columns.compliance = compliance_at(model, forces);
    columns.rigid_at = each(model.rigid);
    columns.moved_at = each(model.moved);
    columns.forces = std::move(forces);
    return std::make_shared<const TopColumns>(std::move(columns));
}

} // namespace

SparseColumns forces_on_columns(const Model& model) {
    SparseColumns columns;
    for (const ContactPoint& point : model.points) append_tile_force(model.shell, point, columns);
    for (const TopColumn& column : model.bars.columns) {
        if (column.turn != 0)
            append_tile_turn(model.shell, column.tile,
                             {column.turn * column.direction[0], column.turn * column.direction[1]}, columns);
        else
            append_tile_force(model.shell, column.tile, column.direction, column.z, columns);
    }
    return columns;
}

void answer_columns(Model& model) {
    auto& known = model.known_columns;
    const auto found =
        std::find_if(known.begin(), known.end(), [&](const auto& k) { return k->of == model.bars.columns; });
    if (found != known.end()) {
        known.splice(known.begin(), known, found);
    } else {
        known.push_front(answered(model, forces_on_columns(model)));
        size_t numbers = 0;
        const auto first_old = std::find_if(known.begin(), known.end(), [&](const auto& k) {
            return (numbers += k->compliance.size()) > most_numbers_known;
        });
        known.erase(first_old == known.begin() ? std::next(first_old) : first_old, known.end());
    }
    model.columns = known.front();
}

void fill_compliance(Model& model, ConnectionSet& set) {
    std::list<KnownConnections>& known = model.known_connections;
    const auto found = std::find_if(known.begin(), known.end(), [&](const KnownConnections& k) {
        return k.columns == model.columns && k.set.n_bars == set.n_bars && k.beams == model.bars.beams &&
               std::equal(k.set.all.begin(), k.set.all.end(), set.all.begin(), set.all.end(), touch_alike);
    });
    if (found != known.end()) {
        known.splice(known.begin(), known, found);
    } else {
        set.between = compliance_of(model, set.all);
        known.push_front({.columns = model.columns, .beams = model.bars.beams, .set = set});
        size_t numbers = 0;
        const auto first_old = std::find_if(known.begin(), known.end(), [&](const KnownConnections& k) {
            return (numbers += k.set.between->size()) > most_numbers_known;
        });
        known.erase(first_old == known.begin() ? std::next(first_old) : first_old, known.end());
    }
    set.between = known.front().set.between;
}

} // namespace hollowtop
