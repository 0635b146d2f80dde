// SPDX-License-Identifier: MIT
#include "solver/check/kept_bytes.hpp"

#include <algorithm>
#include <span>

namespace hollowtop {
namespace {

template <class T> std::size_t bytes(const std::vector<T>& values) { return values.capacity() * sizeof(T); }

template <class T> std::size_t bytes(const std::vector<std::vector<T>>& rows) {
    std::size_t sum = rows.capacity() * sizeof(std::vector<T>);
    for (const std::vector<T>& row : rows) sum += bytes(row);
    return sum;
}

std::size_t bytes(std::span<const StrainMean> means) {
    std::size_t sum = means.size_bytes();
    for (const StrainMean& mean : means) sum += bytes_of_parts(mean);
    return sum;
}

std::size_t bytes(const Shell& shell) {
    return bytes(shell.mesh.cells) + bytes(shell.cut_points) + bytes(shell.stiffness.classes) +
           shell.sections.size() * sizeof(*shell.sections.begin());
}

std::size_t bytes(const TopColumns& columns) {
    return bytes(columns.of) + bytes(columns.forces.dof) + bytes(columns.forces.value) +
           bytes(columns.compliance) + bytes(columns.rigid_at) + bytes(columns.moved_at);
}

std::size_t bytes(const ConnectionSet& set) { return bytes(set.all); }

/// Numbers stored in the factor, and for each dof its place in the order of elimination: position, dof, block,
/// and its share of the borders of the fronts.
std::size_t bytes(const Factor& factor) {
    constexpr std::size_t of_a_dof = 40; // three indices, and about seven in borders
    return static_cast<std::size_t>(factor.cost().factor_entries) * sizeof(double) +
           static_cast<std::size_t>(factor.n_dofs()) * of_a_dof;
}

} // namespace

std::size_t bytes_of(const Model& model) {
    std::size_t sum = bytes(model.shell) + bytes(*model.factor) + bytes(model.rigid) + bytes(model.moved) +
                      bytes(model.points) + bytes(model.support_compliance) + bytes(model.connections) +
                      bytes(model.bonded);
    for (const LoadColumn& load : model.loads) sum += bytes(load.forces) + bytes(load.points);
    if (!model.support_compliance.empty()) // at most: a column has rows only where it has reached
        sum += static_cast<std::size_t>(model.support_columns.count()) *
               static_cast<std::size_t>(model.factor->n_dofs()) * sizeof(double);
    for (const auto& columns : model.known_columns) sum += bytes(*columns);
    for (const KnownConnections& known : model.known_connections)
        sum += bytes(known.set) + known.set.between->size() * sizeof(double);
    return sum;
}

std::size_t bytes_of(const Readings& readings) {
    std::size_t sum =
        bytes(std::span{readings.survey}) + bytes(readings.dish.places) + bytes(readings.dish.points);
    for (const WallPoint& wall : readings.walls) sum += sizeof(wall) + bytes_of_parts(wall.mean);
    for (const SkinPoints& skin : readings.skins) sum += sizeof(skin) + bytes(std::span{skin.means});
    return sum;
}

std::size_t bytes_of(const TopModes& modes) {
    return bytes(modes.shapes) + bytes(modes.yields) + bytes(modes.shapes_seen) + bytes(modes.yields_seen);
}

} // namespace hollowtop
