// SPDX-License-Identifier: MIT
#include "solver/readout/output_points.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>
#include <utility>

namespace hollowtop {
namespace {

constexpr std::size_t most_numbers = 8'000'000; ///< kept in answers: 64 MB

/// The form in the reference surface's dofs.
void append_form(const Shell& shell, const OutputPoint& output_point, SparseColumns& forms) {
    if (output_point.kind == OutputPoint::Kind::movement)
        append_point_force(shell, output_point.at, forms);
    else
        append_stress_form(shell, strain_mean(shell, output_point.at),
                           output_point.kind == OutputPoint::Kind::top ? Face::top : Face::bottom,
                           output_point.axis, forms);
}

/// The same for several in the dofs that are solved for, where u and v of held nodes mean movements at their
/// levels: one dense column each, and one of zeros beside a single one, which would be rounded in another way
/// than many.
std::vector<double> forms_of(const Model& model, std::span<const OutputPoint> output_points) {
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    SparseColumns read;
    for (const OutputPoint& output_point : output_points) append_form(model.shell, output_point, read);
    std::vector<double> columns(n * std::max<size_t>(output_points.size(), 2), 0);
    for (size_t k = 0; k < output_points.size(); ++k) {
        double* const column = columns.data() + k * n;
        for (int e = read.start[k]; e < read.start[k + 1]; ++e)
            column[read.dof[static_cast<size_t>(e)]] += read.value[static_cast<size_t>(e)];
        for (const auto& [node, level] : model.shell.levels) {
            double* const at = column + static_cast<size_t>(node * dofs_per_node);
            at[3] -= level.zu * at[0];
            at[4] -= level.zv * at[1];
        }
    }
    return columns;
}

/// Force of the connections along each of TopColumns::forces.
std::vector<double> force_on_columns(const Model& model, const std::vector<double>& connection_force) {
    std::vector<double> total(static_cast<size_t>(model.columns->forces.count()), 0);
    for (size_t t = 0; t < connection_force.size(); ++t)
        for (const ConnectionShare& share : model.connections.all[t].top)
            total[static_cast<size_t>(share.column)] += share.share * connection_force[t];
    return total;
}

double dot(const std::vector<double>& a, const std::vector<double>& b) {
    return std::inner_product(a.begin(), a.end(), b.begin(), 0.0);
}

} // namespace

bool OutputPoint::operator<(const OutputPoint& other) const {
    return std::tie(kind, axis, at.x, at.y) < std::tie(other.kind, other.axis, other.at.x, other.at.y);
}

std::size_t OutputReader::bytes() const {
    std::size_t numbers = 0;
    for (const auto& [output_point, form] : forms_)
        numbers += form.answer.capacity() + form.loads.capacity() + form.rigid.capacity() +
                   form.at_columns.capacity();
    return numbers * sizeof(double) + forms_.size() * sizeof(Form);
}

void OutputReader::learn(const Model& model, std::span<const OutputPoint> output_points) {
    std::vector<OutputPoint> fresh;
    for (const OutputPoint& output_point : output_points)
        if (forms_.count(output_point) == 0) fresh.push_back(output_point);
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    if (!fresh.empty() && (forms_.size() + fresh.size()) * n > most_numbers) {
        forms_.clear();
        fresh.assign(output_points.begin(), output_points.end());
    }
    std::sort(fresh.begin(), fresh.end());
    fresh.erase(std::unique(fresh.begin(), fresh.end(),
                            [](const OutputPoint& a, const OutputPoint& b) { return !(a < b) && !(b < a); }),
                fresh.end());
    if (fresh.empty()) return;
    std::vector<double> columns = forms_of(model, fresh);
    std::vector<Form> forms(fresh.size());
    for (size_t k = 0; k < fresh.size(); ++k) {
        const double* const column = columns.data() + k * n;
        for (const std::vector<double>& moved : model.moved)
            forms[k].loads.push_back(std::inner_product(moved.begin(), moved.end(), column, 0.0));
        for (const std::vector<double>& mode : model.rigid)
            forms[k].rigid.push_back(std::inner_product(mode.begin(), mode.end(), column, 0.0));
    }
    model.factor->solve(columns, static_cast<int>(columns.size() / n));
    for (size_t k = 0; k < fresh.size(); ++k) {
        forms[k].answer.assign(columns.begin() + static_cast<std::ptrdiff_t>(k * n),
                               columns.begin() + static_cast<std::ptrdiff_t>((k + 1) * n));
        forms_.emplace(fresh[k], std::move(forms[k]));
    }
}

std::vector<std::vector<double>> read_solved(const Model& model, std::span<const OutputPoint> output_points,
                                             std::span<const SolvedSituation> solved) {
    SparseColumns forms;
    for (const OutputPoint& output_point : output_points) append_form(model.shell, output_point, forms);
    std::vector<std::vector<double>> values(output_points.size(), std::vector<double>(solved.size(), 0));
    for (size_t k = 0; k < output_points.size(); ++k)
        for (size_t s = 0; s < solved.size(); ++s) {
            for (int e = forms.start[k]; e < forms.start[k + 1]; ++e)
                values[k][s] += forms.value[static_cast<size_t>(e)] *
                                solved[s].dofs[static_cast<size_t>(forms.dof[static_cast<size_t>(e)])];
            if (output_points[k].kind != OutputPoint::Kind::movement)
                values[k][s] /= solved[s].plan.creep_factor;
        }
    return values;
}

std::vector<std::vector<double>> OutputReader::read(const Model& model,
                                                    std::span<const OutputPoint> output_points,
                                                    std::span<const ConnectedSituation> connected) {
    if (model.bars.beams.empty())
        return read_solved(model, output_points,
                           solve_connected(model, {connected.begin(), connected.end()}));
    learn(model, output_points);
    std::vector<std::vector<double>> forces;
    for (const ConnectedSituation& s : connected) forces.push_back(force_on_columns(model, s.answer.force));
    std::vector<std::vector<double>> values;
    for (const OutputPoint& output_point : output_points) {
        Form& form = forms_.at(output_point);
        if (form.seen_at != model.columns) {
            form.seen_at = model.columns;
            form.at_columns = at_points(model.columns->forces, form.answer);
        }
        std::vector<double>& row = values.emplace_back();
        for (size_t s = 0; s < connected.size(); ++s) {
            double value = dot(form.at_columns, forces[s]);
            for (const ActingLoad& acting : connected[s].plan.loads)
                value += acting.factor * form.loads[static_cast<size_t>(acting.load)];
            value *= connected[s].plan.creep_factor;
            for (size_t k = 0; k < form.rigid.size(); ++k)
                value += form.rigid[k] * connected[s].answer.rigid_motion[k];
            row.push_back(output_point.kind == OutputPoint::Kind::movement
                              ? value
                              : value / connected[s].plan.creep_factor);
        }
    }
    return values;
}

} // namespace hollowtop
