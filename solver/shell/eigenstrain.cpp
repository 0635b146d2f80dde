// SPDX-License-Identifier: MIT
#include "solver/shell/eigenstrain.hpp"

#include "solver/shell/strip_strain.hpp"

#include <map>
#include <utility>

namespace hollowtop {

StraightStrain free_strain(std::span<const FreeLayer> layers) {
    // [A B; B D] [at_top; slope] = [N; M], the layers' own z running down from the top face
    double A = 0, B = 0, D = 0, N = 0, M = 0, high = 0;
    for (const FreeLayer& layer : layers) {
        const double t = layer.thickness, low = high - t, middle = (high + low) / 2;
        const double mean = (layer.strain_above + layer.strain_below) / 2;
        const double rise = (layer.strain_above - layer.strain_below) / t;
        const double a = layer.modulus * t, own = layer.modulus * t * t * t / 12;
        A += a;
        B += a * middle;
        D += a * middle * middle + own;
        N += a * mean;
        M += a * mean * middle + own * rise;
        high = low;
    }
    const double det = A * D - B * B;
    return {.at_top = (D * N - B * M) / det, .slope = (A * M - B * N) / det};
}

std::array<double, 6> strain_in_direction(const StraightStrain& strain, Point along, double reference_depth) {
    const double stretch = strain.at_top - reference_depth * strain.slope;
    const std::array<double, 3> form{along.x * along.x, along.y * along.y, 2 * along.x * along.y};
    std::array<double, 6> e{};
    for (size_t i = 0; i < 3; ++i) {
        e[i] = stretch * form[i];
        e[i + 3] = strain.slope * form[i];
    }
    return e;
}

namespace {

/// [N; M] and, in a wall zone, the shear forces that go with them.
std::array<double, 8> resultants(const Section& section, const std::array<double, 6>& e, double share) {
    std::array<double, 8> n{};
    for (size_t j = 0; j < 6; ++j) {
        for (size_t i = 0; i < 6; ++i) n[i] += share * section.C[6 * i + j] * e[j];
        for (size_t i = 0; i < 2; ++i) n[6 + i] += share * section.cross[2 * j + i] * e[j];
    }
    return n;
}

} // namespace

std::vector<double> eigenstrain_forces(const Shell& shell, const FreeStrainOf& free_strain_of) {
    return eigenstrain_forces_of_strips(shell, {},
                                        [&](SectionRegion place, int) { return free_strain_of(place); });
}

std::vector<double> eigenstrain_forces_of_strips(const Shell& shell, const StripAt& strip_at,
                                                 const FreeStrainOfStrip& free_strain_of) {
    std::vector<double> forces(static_cast<size_t>(shell.stiffness.grid.n_dofs()), 0);
    std::map<std::pair<SectionRegion, int>, std::array<double, 8>>
        known; // [N*; M*; Q*] of each kind of place
    const auto resultants_of = [&](SectionRegion place, int strip) -> const std::array<double, 8>& {
        const auto found = known.find({place, strip});
        if (found != known.end()) return found->second;
        const bool is_void = place.region == outside;
        const Section void_section =
            is_void ? plain_section(shell.plane, shell.field.thickness, shell.reference_depth) : Section{};
        const bool uneven = shell.uneven.contains(place); // as its mean does
        const Section& section = is_void  ? void_section
                                 : uneven ? shell.uneven.at(place).sections[1]
                                          : shell.sections.at(place);
        const SectionRegion as_if = is_void ? SectionRegion{.region = full_thickness} : place;
        return known
            .emplace(std::pair{place, strip},
                     resultants(section, free_strain_of(as_if, strip), is_void ? void_share : 1))
            .first->second;
    };
    BasisAt basis;
    for (size_t c = 0; c < shell.mesh.cells.size(); ++c) {
        const Cell& cell = shell.mesh.cells[c];
        if (!cell.active) continue;
        const std::vector<int> dofs = cell_dofs(shell, static_cast<int>(c));
        // the points that the stiffness is integrated with, so that the two agree to the last digits
        std::vector<QuadraturePoint> plain;
        const bool kept = cell.cut || cell.uneven;
        if (!kept) plain = cell_points(shell.field, cell, shell.order + 1);
        for (const QuadraturePoint& q : kept ? shell.cut_points[c] : plain) {
            const auto& n =
                resultants_of(cell.cut ? q.place : cell.place, strip_at ? strip_at({q.x, q.y}) : 0);
            basis_at(shell, static_cast<int>(c), {q.x, q.y}, basis);
            for (size_t k = 0; k < basis.value.size(); ++k) {
                const double dx = q.weight * basis.dx[k], dy = q.weight * basis.dy[k];
                const size_t at = k * dofs_per_node;
                forces[static_cast<size_t>(dofs[at])] += dx * n[0] + dy * n[2];
                forces[static_cast<size_t>(dofs[at + 1])] += dy * n[1] + dx * n[2];
                const double value = q.weight * basis.value[k];
                forces[static_cast<size_t>(dofs[at + 2])] += dx * n[6] + dy * n[7];
                forces[static_cast<size_t>(dofs[at + 3])] += dx * n[3] + dy * n[5] + value * n[6];
                forces[static_cast<size_t>(dofs[at + 4])] += dy * n[4] + dx * n[5] + value * n[7];
            }
        }
    }
    for (const auto& [node, level] : shell.levels) { // where u means the movement at another height
        const auto base = static_cast<size_t>(node * dofs_per_node);
        forces[base + 3] -= level.zu * forces[base];
        forces[base + 4] -= level.zv * forces[base + 1];
    }
    return forces;
}

} // namespace hollowtop
