// SPDX-License-Identifier: MIT
#include "solver/readout/fields.hpp"

#include "solver/readout/gather.hpp"

namespace hollowtop {

Fields sample_fields(const Model& model, const std::vector<SolvedSituation>& solved) {
    const Shell& shell = model.shell;
    const Mesh& mesh = shell.mesh;
    constexpr int cuts = 3; // a side of each cell
    Fields fields;
    std::vector<StrainMean> means;
    for (const Cell& cell : mesh.cells) {
        if (!cell.active) continue;
        // points of their own for each cell: thickness and stress jump at walls
        const auto first = static_cast<int>(fields.points.size());
        std::vector<char> on_top;
        for (int b = 0; b <= cuts; ++b) {
            for (int a = 0; a <= cuts; ++a) {
                constexpr double inset = 1e-6; // the side of a wall that the cell lies on
                const auto place = [&](double low, double high, int k) {
                    const double share = inset + (1 - 2 * inset) * k / cuts;
                    return low + (high - low) * share;
                };
                const Point p{place(cell.x0, cell.x1, a), place(cell.y0, cell.y1, b)};
                fields.points.push_back(p);
                on_top.push_back(!cell.cut || region_at(shell.field, p) != outside);
                means.push_back(strain_mean(shell, p));
            }
        }
        for (int b = 0; b < cuts; ++b) {
            for (int a = 0; a < cuts; ++a) {
                const int corner = b * (cuts + 1) + a;
                const std::array<int, 4> quad{corner, corner + 1, corner + cuts + 2, corner + cuts + 1};
                bool whole = true;
                for (const int k : quad) whole = whole && on_top[static_cast<size_t>(k)];
                if (whole)
                    fields.cells.push_back(
                        {first + quad[0], first + quad[1], first + quad[2], first + quad[3]});
            }
        }
    }
    Fields::Named thickness{.name = "thickness_mm", .values = {}};
    for (const StrainMean& mean : means) thickness.values.push_back(mean.thickness);
    fields.point_values.push_back(std::move(thickness));
    for (const SolvedSituation& s : solved) {
        if (s.plan.design_of >= 0) continue;
        const SupportPlane plane = support_plane(model, s);
        Fields::Named movement{.name = "movement_mm, " + s.plan.name, .values = {}};
        std::vector<Fields::Named> stress;
        for (const char* name : {"stress_top_along_MPa", "stress_top_across_MPa", "stress_bottom_along_MPa",
                                 "stress_bottom_across_MPa"})
            stress.push_back({.name = std::string(name) + ", " + s.plan.name, .values = {}});
        for (size_t k = 0; k < means.size(); ++k) {
            movement.values.push_back(-movement_at(shell, s.dofs, fields.points[k]) -
                                      plane.at(fields.points[k]));
            const StressSample sample = stress_in(shell, s, means[k]);
            stress[0].values.push_back(sample.top[0]);
            stress[1].values.push_back(sample.top[1]);
            stress[2].values.push_back(sample.bottom[0]);
            stress[3].values.push_back(sample.bottom[1]);
        }
        fields.point_values.push_back(std::move(movement));
        for (Fields::Named& named : stress) fields.point_values.push_back(std::move(named));
    }
    return fields;
}

} // namespace hollowtop
