// SPDX-License-Identifier: MIT
#include "solver/section/submodel_loads.hpp"

namespace hollowtop {
namespace {

enum Load { pull, moment, shear, low_shear };

/// Normal and shear traction of a section of height h about its axis, by unit pull, moment and shear: [xx;
/// xz] at z.
std::array<std::array<double, 3>, 2> beam_stress(double h, double axis, double z) {
    const double y = z - axis;
    return {{{1 / h, 12 * y / (h * h * h), 0}, {0, 0, 1.5 / h * (1 - 4 * y * y / (h * h))}}};
}

/// Movement along the wall: a unit flow of shear, and a unit twist a unit length. With the movement taken as
/// what it is beyond
/// -twist x z, the twist is a flow through every edge that runs through the thickness: 2 z at the wall's
/// face, and what a plate twisted about its own axis leaves at the two ends.
std::vector<EdgeTraction> loads_along(const SubmodelMesh& g, const SubmodelSection& section) {
    const auto flow = [G = section.C[0]](double even, double twist) {
        std::array<PerLoad, 2> t{};
        t[0][pull] = even;
        t[0][moment] = G * twist;
        return t;
    };
    const double skin = section.skin, thick = section.thick;
    return {{0, false, 0, [=](double) { return flow(-1 / skin, skin); }},
            {g.columns() - 1, true, 0, [=](double) { return flow(1 / thick, -thick); }},
            {g.skin_columns, false, g.low_rows, [=](double z) { return flow(0, -2 * z); }}};
}

/// Half a bar bent about its middle, the top face.
std::vector<EdgeTraction> loads_of_bent_bar(const SubmodelMesh& g, const SubmodelSection& section) {
    const auto bent = [](double h, double sense) {
        return [=](double z) {
            std::array<PerLoad, 2> t{};
            t[0][moment] = sense * 3 * -z / (h * h * h);
            return t;
        };
    };
    return {{0, false, 0, bent(section.skin, 1)}, {g.columns() - 1, true, 0, bent(section.thick, -1)}};
}

std::vector<EdgeTraction> loads_at_ends(const SubmodelMesh& g, const SubmodelSection& section) {
    const double skin = section.skin, thick = section.thick, depth = thick - skin, skin_end = g.skin_end,
                 rim_end = g.rim_end;
    const double skin_axis = -skin / 2, rim_axis = -thick / 2;
    std::vector<EdgeTraction> loads{{0, false, 0, [=](double z) {
                                         const auto unit = beam_stress(skin, skin_axis, z);
                                         std::array<PerLoad, 2> t{};
                                         for (size_t k = 0; k < 2; ++k) {
                                             t[k][pull] = -unit[k][0];
                                             t[k][moment] = -unit[k][1];
                                             t[k][shear] = -(unit[k][2] + skin_end * unit[k][1]); // M = V x
                                         }
                                         return t;
                                     }}};
    if (section.rim_end_held) return loads;
    const double lever = section.top != TopFace::free ? 0 : skin_axis - rim_axis;
    const bool cracked = g.crack_columns > 0;
    loads.push_back({g.columns() - 1, true, 0, [=](double z) {
                         const auto unit = beam_stress(thick, rim_axis, z);
                         std::array<PerLoad, 2> t{};
                         for (size_t k = 0; k < 2; ++k) {
                             t[k][pull] = unit[k][0] + lever * unit[k][1];
                             t[k][moment] = unit[k][1];
                             t[k][shear] = unit[k][2] + rim_end * unit[k][1];
                             if (cracked) t[k][low_shear] = unit[k][2] + rim_end * unit[k][1];
                         }
                         return t;
                     }});
    if (!cracked) return loads;
    loads.push_back({g.skin_columns, false, g.low_rows, [=](double z) {
                         const auto unit = beam_stress(depth, -skin - depth / 2, z);
                         std::array<PerLoad, 2> t{};
                         for (size_t k = 0; k < 2; ++k) t[k][low_shear] = -unit[k][2];
                         return t;
                     }});
    return loads;
}

} // namespace

std::vector<EdgeTraction> submodel_loads(const SubmodelMesh& g, const SubmodelSection& section) {
    if (section.moves_along) return loads_along(g, section);
    return section.top == TopFace::bent_bar ? loads_of_bent_bar(g, section) : loads_at_ends(g, section);
}

} // namespace hollowtop
