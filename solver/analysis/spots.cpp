// SPDX-License-Identifier: MIT
#include "solver/analysis/spots.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>
#include <utility>

namespace hollowtop {
namespace {

constexpr std::size_t most_numbers = 8'000'000; ///< kept in answers: 64 MB

/// The form in the reference surface's dofs.
void append_form(const Shell& shell, const Spot& spot, SparseColumns& forms) {
    if (spot.kind == Spot::Kind::movement) append_point_force(shell, spot.at, forms);
    else append_stress_form(shell, strain_mean(shell, spot.at), spot.kind == Spot::Kind::top ? Face::top : Face::bottom, spot.axis, forms);
}

/// The same for several in the dofs that are solved for, where u and v of held nodes mean movements at their levels: one dense column each,
/// and one of zeros beside a single one, which would be rounded in another way than many.
std::vector<double> forms_of(const Model& model, std::span<const Spot> spots) {
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    SparseColumns read;
    for (const Spot& spot : spots) append_form(model.shell, spot, read);
    std::vector<double> columns(n * std::max<size_t>(spots.size(), 2), 0);
    for (size_t k = 0; k < spots.size(); ++k) {
        double* const column = columns.data() + k * n;
        for (int e = read.start[k]; e < read.start[k + 1]; ++e) column[read.dof[static_cast<size_t>(e)]] += read.value[static_cast<size_t>(e)];
        for (const auto& [node, level] : model.shell.levels) {
            double* const at = column + static_cast<size_t>(node * dofs_per_node);
            at[3] -= level.zu * at[0];
            at[4] -= level.zv * at[1];
        }
    }
    return columns;
}

/// Force of the ties along each of TopColumns::forces.
std::vector<double> force_on_columns(const Model& model, const std::vector<double>& tie_force) {
    std::vector<double> total(static_cast<size_t>(model.columns->forces.count()), 0);
    for (size_t t = 0; t < tie_force.size(); ++t)
        for (const TieShare& share : model.ties.ties[t].top) total[static_cast<size_t>(share.column)] += share.share * tie_force[t];
    return total;
}

double dot(const std::vector<double>& a, const std::vector<double>& b) { return std::inner_product(a.begin(), a.end(), b.begin(), 0.0); }

} // namespace

bool Spot::operator<(const Spot& other) const { return std::tie(kind, axis, at.x, at.y) < std::tie(other.kind, other.axis, other.at.x, other.at.y); }

void SpotReader::learn(const Model& model, std::span<const Spot> spots) {
    std::vector<Spot> fresh;
    for (const Spot& spot : spots)
        if (forms_.count(spot) == 0) fresh.push_back(spot);
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    if (!fresh.empty() && (forms_.size() + fresh.size()) * n > most_numbers) {
        forms_.clear();
        fresh.assign(spots.begin(), spots.end());
    }
    std::sort(fresh.begin(), fresh.end());
    fresh.erase(std::unique(fresh.begin(), fresh.end(), [](const Spot& a, const Spot& b) { return !(a < b) && !(b < a); }), fresh.end());
    if (fresh.empty()) return;
    std::vector<double> columns = forms_of(model, fresh);
    std::vector<Form> forms(fresh.size());
    for (size_t k = 0; k < fresh.size(); ++k) {
        const double* const column = columns.data() + k * n;
        for (const std::vector<double>& moved : model.moved) forms[k].loads.push_back(std::inner_product(moved.begin(), moved.end(), column, 0.0));
        for (const std::vector<double>& mode : model.rigid) forms[k].rigid.push_back(std::inner_product(mode.begin(), mode.end(), column, 0.0));
    }
    model.factor->solve(columns, static_cast<int>(columns.size() / n));
    for (size_t k = 0; k < fresh.size(); ++k) {
        forms[k].answer.assign(columns.begin() + static_cast<std::ptrdiff_t>(k * n), columns.begin() + static_cast<std::ptrdiff_t>((k + 1) * n));
        forms_.emplace(fresh[k], std::move(forms[k]));
    }
}

std::vector<std::vector<double>> SpotReader::read_solved(const Model& model, std::span<const Spot> spots, std::span<const TiedSituation> tied) {
    std::vector<double> columns = tie_forces_of(model, tied);
    model.factor->solve(columns, static_cast<int>(tied.size()));
    add_moved_by_loads(model, tied, columns);
    const std::vector<SolvedSituation> solved = finish_situations(model, {tied.begin(), tied.end()}, columns);
    SparseColumns forms;
    for (const Spot& spot : spots) append_form(model.shell, spot, forms);
    std::vector<std::vector<double>> values(spots.size(), std::vector<double>(tied.size(), 0));
    for (size_t k = 0; k < spots.size(); ++k)
        for (size_t s = 0; s < tied.size(); ++s) {
            for (int e = forms.start[k]; e < forms.start[k + 1]; ++e) values[k][s] += forms.value[static_cast<size_t>(e)] * solved[s].dofs[static_cast<size_t>(forms.dof[static_cast<size_t>(e)])];
            if (spots[k].kind != Spot::Kind::movement) values[k][s] /= tied[s].plan.softening;
        }
    return values;
}

std::vector<std::vector<double>> SpotReader::read(const Model& model, std::span<const Spot> spots, std::span<const TiedSituation> tied) {
    if (model.bars.beams.empty()) return read_solved(model, spots, tied);
    learn(model, spots);
    std::vector<std::vector<double>> forces;
    for (const TiedSituation& s : tied) forces.push_back(force_on_columns(model, s.answer.force));
    std::vector<std::vector<double>> values;
    for (const Spot& spot : spots) {
        Form& form = forms_.at(spot);
        if (form.seen_at != model.columns) {
            form.seen_at = model.columns;
            form.at_columns = at_points(model.columns->forces, form.answer);
        }
        std::vector<double>& row = values.emplace_back();
        for (size_t s = 0; s < tied.size(); ++s) {
            double value = dot(form.at_columns, forces[s]);
            for (const ActingLoad& acting : tied[s].plan.loads) value += acting.factor * form.loads[static_cast<size_t>(acting.load)];
            value *= tied[s].plan.softening;
            for (size_t k = 0; k < form.rigid.size(); ++k) value += form.rigid[k] * tied[s].answer.rigid_motion[k];
            row.push_back(spot.kind == Spot::Kind::movement ? value : value / tied[s].plan.softening);
        }
    }
    return values;
}

} // namespace hollowtop
