// SPDX-License-Identifier: MIT
#include "solver/readout/walls.hpp"

#include "solver/section/solid_stiffness.hpp"
#include "solver/section/wall_submodel.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hollowtop {
namespace {

/// Of an uneven skin in steps, as each thickness has a small solve of its own: a twentieth of a millimetre is a third
/// of one per cent of a skin of 15.
double skin_beside(const ThicknessField& field, const Wall& wall, Point foot) {
    constexpr double step = 0.1; // mm
    if (!is_uneven(field, wall.thin_region)) return wall.skin;
    return std::max(step, step * std::round(local_thickness(field, wall.thin_region, foot) / step));
}

} // namespace

std::vector<WallPoint> wall_points(const Shell& shell) {
    std::vector<WallPoint> points;
    for (const Wall& wall : shell.field.walls) {
        const double length = std::hypot(wall.piece.b.x - wall.piece.a.x, wall.piece.b.y - wall.piece.a.y);
        const int most = wall.straight ? 16 : 4;
        const int count = std::clamp(static_cast<int>(std::lround(length / (3 * wall.skin))), 1, most);
        for (int k = 0; k < count; ++k) {
            const Nearest nearest = nearest_on(wall.piece, point_on(wall.piece, (k + 0.5) / count));
            const double sense = wall.thick_is_outward ? 1 : -1, step = 1e-3 * wall.zone;
            // the direction that the zone beside a curved wall was given
            const Point inside{nearest.foot.x + sense * step * nearest.outward.x,
                               nearest.foot.y + sense * step * nearest.outward.y};
            const SectionRegion place = section_region_at(shell.field, inside);
            const Point outward =
                wall.straight || place.wall < 0 ? nearest.outward : wall_direction(wall, place.turn);
            const double skin = skin_beside(shell.field, wall, nearest.foot);
            WallPoint point{.at = nearest.foot,
                            .across = {sense * outward.x, sense * outward.y},
                            .skin = skin,
                            .thick = wall.thick,
                            .root_radius = wall.root_radius,
                            .straight = wall.straight,
                            .length = length / count,
                            .mean = {}};
            point.mean = strain_mean(
                shell, {point.at.x - point.across.x * skin / 2, point.at.y - point.across.y * skin / 2},
                skin);
            const bool reads_skin = is_uneven(shell.field, wall.thin_region)
                                        ? point.mean.region == wall.thin_region
                                        : std::abs(point.mean.thickness - wall.skin) <= 1e-6 * wall.skin;
            if (point.mean.parts.empty() || !reads_skin) continue;
            points.push_back(std::move(point));
        }
    }
    return points;
}

WallSample wall_sample(const Shell& shell, const WallPoint& point, std::span<const double> dofs,
                       double creep_factor) {
    const std::array<double, 8> e = strains_of(shell, point.mean, dofs);
    const Section skin = plain_section(shell.plane, point.skin, shell.reference_depth);
    std::array<double, 6> force{}; // N, M about the reference surface
    for (size_t i = 0; i < 6; ++i)
        for (size_t j = 0; j < 6; ++j) force[i] += skin.C[6 * i + j] * e[j] / creep_factor;
    const double axis = shell.reference_depth - point.skin / 2;
    const Point n = point.across;
    const auto across = [&](double x, double y, double xy) {
        return n.x * n.x * x + n.y * n.y * y + 2 * n.x * n.y * xy;
    };
    WallSample sample;
    sample.at = point.at;
    sample.across = n;
    sample.skin = point.skin;
    sample.thick = point.thick;
    sample.root_radius = point.root_radius;
    sample.straight = point.straight;
    sample.length = point.length;
    sample.pull = across(force[0], force[1], force[2]);
    const double Qx = skin.S[0] * e[6] + skin.S[1] * e[7], Qy = skin.S[2] * e[6] + skin.S[3] * e[7];
    sample.shear = (Qx * n.x + Qy * n.y) / creep_factor;
    sample.moment = across(force[3], force[4], force[5]) - axis * sample.pull + sample.shear * point.skin / 2;
    const auto face = [&](double z) {
        std::array<double, 3> s{};
        for (size_t i = 0; i < 3; ++i)
            for (size_t j = 0; j < 3; ++j)
                s[i] += shell.plane.Q[3 * i + j] * (e[j] + z * e[3 + j]) / creep_factor;
        return std::array<double, 2>{n.y * n.y * s[0] + n.x * n.x * s[1] - 2 * n.x * n.y * s[2],
                                     n.x * n.y * (s[1] - s[0]) + (n.x * n.x - n.y * n.y) * s[2]};
    };
    sample.top = face(shell.reference_depth);
    sample.bottom = face(shell.reference_depth - point.skin);
    return sample;
}

namespace {

/// Of a curved wall the nearest of the five directions that its compliance was made from.
Point cell_direction(const PlaneStiffness& plane, const WallSample& sample) {
    if (sample.straight) return sample.across;
    const double from = std::atan2(sample.across.y, sample.across.x) - plane.grain_rad,
                 step = std::acos(-1.0) / 8;
    const double turned = plane.grain_rad + step * std::round(from / step);
    return {std::cos(turned), std::sin(turned)};
}

double under(const PerLoad& unit, const WallSample& sample) {
    return unit[0] * sample.pull + unit[1] * sample.moment + unit[2] * sample.shear;
}

} // namespace

WallFaces wall_faces(const PlaneStiffness& plane, const WallSample& sample, double root_radius) {
    const auto cell =
        wall_submodel(plane, sample.thick, sample.skin, root_radius, cell_direction(plane, sample));
    const Point n = sample.across;
    const double a = plane.grain.x * n.x + plane.grain.y * n.y, b = plane.grain.y * n.x - plane.grain.x * n.y;
    const auto in_grain_axes = [&](double across, const std::array<double, 2>& along) {
        return std::array<double, 3>{a * a * across + b * b * along[0] + 2 * a * b * along[1],
                                     b * b * across + a * a * along[0] - 2 * a * b * along[1],
                                     a * b * (along[0] - across) + (a * a - b * b) * along[1]};
    };
    return {in_grain_axes(under(cell->top, sample), sample.top),
            in_grain_axes(under(cell->underside, sample), sample.bottom)};
}

Splitting splitting_at(const PlaneStiffness& plane, const WallSample& sample, double small) {
    const Point across = cell_direction(plane, sample);
    if (under(wall_submodel(plane, sample.thick, sample.skin, sample.root_radius, across)->peel, sample) <= 0)
        return {};
    const Point n{std::abs(across.x * plane.grain.x + across.y * plane.grain.y),
                  std::abs(across.y * plane.grain.x - across.x * plane.grain.y)};
    const Matrix3 C = section_law(plane.solid, n);
    // a bound from two beams, plane strain; the skin turns at the crack's tip as a double cantilever does
    const double det = C[0] * C[4] - C[1] * C[3], s11 = C[4] / det, s22 = C[0] / det, s12 = -C[1] / det,
                 s66 = 1 / C[8];
    const double r = (2 * s12 + s66) / 2 / std::sqrt(s11 * s22) - 1,
                 Y = 0.677 + 0.146 * r - 0.0178 * r * r + 0.00242 * r * r * r;
    const double s = sample.skin, t = sample.thick, N = sample.pull, V = sample.shear, crack = s;
    const double turning = std::max(0.0, Y) * s * std::pow(s22 / s11, 0.25);
    const double moment = std::abs(sample.moment) + std::abs(V) * (crack + turning);
    constexpr double spare = 1.2; // solved cracks release at most 1.02 times the beams' energy
    const double bound = spare * s11 * (N * N / s + 12 * moment * moment / (s * s * s)) / 2;
    if (bound <= small) return {bound, true};
    const auto cell = cracked_wall_submodel(plane, t, s, sample.root_radius, across, crack);
    const std::array<double, 3> f{N, sample.moment, V};
    double energy = 0;
    for (size_t i = 0; i < 3; ++i)
        for (size_t j = 0; j < 3; ++j) energy += f[i] * f[j] * cell->release[i][j];
    return {std::max(0.0, energy), false};
}

} // namespace hollowtop
