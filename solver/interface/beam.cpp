// SPDX-License-Identifier: MIT
#include "solver/interface/beam.hpp"

#include "materials/metal.hpp"
#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"
#include "solver/shell/loads.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

/// Where a cross force bends without twisting, from the centroid: thin open sections, Timoshenko 1955 art.
/// 52.
std::array<double, 2> shear_centre_of(const materials::Section& s) {
    const double t = s.thickness;
    switch (s.kind) {
    case materials::SectionKind::angle:
        return {t / 2 - s.y_c, -t / 2 - s.z_c}; // where the legs' middle lines meet
    case materials::SectionKind::tee:
        return {0, -t / 2 - s.z_c};
    case materials::SectionKind::channel: {
        const double b = s.width - t / 2, h = s.height - s.grip; // middle lines; behind the web by e
        const double e = 3 * b * b * s.grip / (h * t + 6 * b * s.grip);
        return {t / 2 - e - s.y_c, 0};
    }
    default:
        return {0, 0};
    }
}

struct Made {
    double E = 0, G = 0, GJ = 0, density_kg_m3 = 0;
    bool creeps = false;
    double E_across = 0;
};

/// Where only constants along a wooden bar are stated: a softwood's E_T and E_R are 0.04 to 0.1 of E_L (Wood
/// Handbook Table 5-1).
constexpr double across_over_along = 0.05;

Made made_of(const materials::Section& section, const std::string& metal, const std::string& wood,
             const std::optional<BarElastic>& elastic, double moisture_percent) {
    if (elastic) {
        const bool wooden = elastic->E < stiffest_wood;
        return {.E = elastic->E,
                .G = elastic->G,
                .GJ = elastic->G * section.J,
                .density_kg_m3 = elastic->density_kg_m3,
                .creeps = wooden,
                .E_across = wooden ? across_over_along * elastic->E : elastic->E};
    }
    if (!wood.empty()) {
        // grain along the bar; which face is radial is not said: the mean of the two shear moduli
        const materials::WoodConstants c =
            materials::wood_constants(materials::find_wood(wood), moisture_percent);
        const double G = (c.G_LR + c.G_LT) / 2;
        return {.E = c.E_L,
                .G = G,
                .GJ = G * section.J,
                .density_kg_m3 = c.density_kg_m3,
                .creeps = true,
                .E_across = (c.E_R + c.E_T) / 2};
    }
    const materials::Metal& m = materials::find_metal(metal);
    return {.E = m.E,
            .G = m.G,
            .GJ = m.G * section.J,
            .density_kg_m3 = m.density_kg_m3,
            .creeps = false,
            .E_across = m.E};
}

Beam make_beam(const std::string& name, const std::string& section_text, Point from, Point to,
               const std::string& metal, const std::string& wood, const std::optional<BarElastic>& elastic,
               double moisture_percent) {
    Beam beam;
    beam.name = name;
    beam.section = materials::parse_section(section_text);
    const Made made = made_of(beam.section, metal, wood, elastic, moisture_percent);
    beam.length = std::hypot(to.x - from.x, to.y - from.y);
    beam.along = {(to.x - from.x) / beam.length, (to.y - from.y) / beam.length};
    beam.middle = {(from.x + to.x) / 2, (from.y + to.y) / 2};
    beam.E = made.E;
    beam.GJ = made.GJ;
    beam.GA_y = made.G * beam.section.A_sy;
    beam.GA_z = made.G * beam.section.A_sz;
    beam.density_kg_m3 = made.density_kg_m3;
    beam.weight = materials::mass_per_metre_kg(beam.section, made.density_kg_m3) / 1000 * standard_gravity;
    beam.creeps = made.creeps;
    beam.E_across = made.E_across;
    beam.y_line = (beam.section.contact_y0 + beam.section.contact_y1) / 2;
    beam.shear_centre = shear_centre_of(beam.section);
    return beam;
}

/// Curvatures (ty', tz') of the moments (M_y, M_z).
std::array<double, 2> curvatures(const Beam& beam, double M_y, double M_z) {
    const materials::Section& s = beam.section;
    const double determinant = beam.E * (s.I_yy * s.I_zz - s.I_yz * s.I_yz);
    return {(s.I_zz * M_y + s.I_yz * M_z) / determinant, (s.I_yz * M_y + s.I_yy * M_z) / determinant};
}

/// Torque about the shear centre of forces about the centroid.
double torque(const Beam& beam, const std::array<double, 6>& f) {
    return f[3] - f[2] * beam.shear_centre[0] + f[1] * beam.shear_centre[1];
}

/// Internal virtual work over x = 0..end (either way) of moments p + x d and constant N, V, T.
struct Carried {
    std::array<double, 6> f;
    double p_y, p_z, d_y, d_z, T;
    Carried(const Beam& beam, const BeamForce& force)
        : f(force.f), p_y(f[4] - f[2] * force.s), p_z(f[5] + f[1] * force.s), d_y(f[2]), d_z(-f[1]),
          T(torque(beam, f)) {}
};

} // namespace

bool is_of_wood(const Stiffener& stiffener) {
    return !stiffener.wood.empty() || (stiffener.elastic && stiffener.elastic->E < stiffest_wood);
}

Beam beam_of(const Stiffener& s, double moisture_percent) {
    return make_beam(s.name, s.section, s.from, s.to, s.metal, s.wood, s.elastic, moisture_percent);
}

Beam beam_of(const Rail& rail, const std::string& name, double moisture_percent) {
    Beam beam = make_beam(name, rail.section, rail.from, rail.to, rail.metal, rail.wood, rail.elastic,
                          moisture_percent);
    beam.weight = 0; // its legs carry it before the top lies on it
    return beam;
}

BeamForce force_on(const Beam& beam, double s, double y, double z, std::array<double, 3> force) {
    const double dy = beam.y_line + y - beam.section.y_c, dz = z - beam.section.z_c;
    return {
        .s = s,
        .f = {force[0], force[1], force[2], dy * force[2] - dz * force[1], dz * force[0], -dy * force[0]}};
}

double compliance_between(const Beam& beam, std::span<const BeamForce> a, std::span<const BeamForce> b) {
    double total = 0;
    const double EA = beam.E * beam.section.area;
    for (const BeamForce& fa : a) {
        const Carried ca(beam, fa);
        for (const BeamForce& fb : b) {
            if (fa.s * fb.s <= 0) continue; // the middle stands still
            const Carried cb(beam, fb);
            const double X = std::min(std::abs(fa.s), std::abs(fb.s)), way = fa.s > 0 ? 1 : -1;
            const auto kp = curvatures(beam, cb.p_y, cb.p_z), kd = curvatures(beam, cb.d_y, cb.d_z);
            const double pp = ca.p_y * kp[0] + ca.p_z * kp[1];
            const double pd = ca.p_y * kd[0] + ca.p_z * kd[1] + ca.d_y * kp[0] + ca.d_z * kp[1];
            const double dd = ca.d_y * kd[0] + ca.d_z * kd[1];
            total += X * (ca.f[0] * cb.f[0] / EA + ca.f[1] * cb.f[1] / beam.GA_y +
                          ca.f[2] * cb.f[2] / beam.GA_z + ca.T * cb.T / beam.GJ + pp) +
                     way * pd * X * X / 2 + dd * X * X * X / 3;
        }
    }
    return total;
}

double moved_by_weight(const Beam& beam, std::span<const BeamForce> a) {
    if (beam.weight == 0) return 0;
    double total = 0;
    constexpr std::array<double, 3> at{-0.7745966692414834, 0, 0.7745966692414834},
        share{5.0 / 18, 8.0 / 18, 5.0 / 18}; // Gauss
    for (const BeamForce& force : a) {
        const Carried c(beam, force);
        const double X = std::abs(force.s), way = force.s > 0 ? 1 : -1;
        for (size_t q = 0; q < at.size(); ++q) {
            const double x = X * (1 + at[q]) / 2, left = beam.length / 2 - x;
            const double V = -beam.weight * left, M_y = way * beam.weight * left * left / 2;
            const auto k = curvatures(beam, M_y, 0);
            total += X * share[q] *
                     (c.f[2] * V / beam.GA_z + c.T * (-V * beam.shear_centre[0]) / beam.GJ +
                      (c.p_y + way * x * c.d_y) * k[0] + (c.p_z + way * x * c.d_z) * k[1]);
        }
    }
    return total;
}

std::array<double, 6> rigid_work(const Beam& beam, std::span<const BeamForce> forces) {
    std::array<double, 6> work{};
    const double size = beam.length / 2;
    for (const BeamForce& force : forces) {
        const auto& f = force.f;
        for (size_t k = 0; k < 3; ++k) work[k] += f[k];
        work[3] += f[3] / size;
        work[4] += (f[4] - force.s * f[2]) / size;
        work[5] += (f[5] + force.s * f[1]) / size;
    }
    return work;
}

std::array<double, 6> rigid_work_of_weight(const Beam& beam) {
    return {0, 0, -beam.weight * beam.length, 0, 0, 0};
}

SectionForces section_forces(const Beam& beam, double s, std::span<const BeamForce> forces) {
    std::array<double, 6> f{};
    const bool ahead = s >= 0; // the shorter sum
    for (const BeamForce& force : forces) {
        if (ahead ? force.s < s : force.s >= s) continue;
        for (size_t k = 0; k < 6; ++k) f[k] += force.f[k];
        f[4] -= force.f[2] * (force.s - s);
        f[5] += force.f[1] * (force.s - s);
    }
    const double left = ahead ? beam.length / 2 - s : -beam.length / 2 - s, W = -beam.weight * std::abs(left);
    f[2] += W;
    f[4] -= W * left / 2;
    const double sign = ahead ? 1 : -1;
    return {.N = sign * f[0],
            .V_y = sign * f[1],
            .V_z = sign * f[2],
            .T = sign * torque(beam, f),
            .M_y = sign * f[4],
            .M_z = sign * f[5]};
}

double stress_at(const Beam& beam, const SectionForces& forces, double y, double z) {
    const auto k = curvatures(beam, forces.M_y, forces.M_z);
    return forces.N / beam.section.area + beam.E * (z * k[0] - y * k[1]);
}

double greatest_stress(const Beam& beam, const SectionForces& forces) {
    double most = 0;
    for (const auto& [y, z] : beam.section.corners) {
        const double stress = stress_at(beam, forces, y, z);
        if (std::abs(stress) > std::abs(most)) most = stress;
    }
    return most;
}

} // namespace hollowtop
