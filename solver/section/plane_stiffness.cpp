// SPDX-License-Identifier: MIT
#include "solver/section/plane_stiffness.hpp"

#include "solver/section/solid_stiffness.hpp"

#include <cmath>
#include <numbers>

namespace hollowtop {

PlaneStiffness plane_stiffness(const Elastic& e, double grain_deg) {
    const double nu21 = e.nu12 * e.E2 / e.E1, d = 1 - e.nu12 * nu21;
    const double q11 = e.E1 / d, q22 = e.E2 / d, q12 = e.nu12 * e.E2 / d, q66 = e.G12;
    const double angle = grain_deg * std::numbers::pi / 180;
    double c = std::cos(angle), s = std::sin(angle);
    // quarter turns exactly, so that a turned piece gives the same bits
    const double turns = std::round(grain_deg / 90);
    if (std::abs(grain_deg - 90 * turns) < 1e-12) {
        const auto quarter = static_cast<int>(std::fmod(std::fmod(turns, 4) + 4, 4));
        c = quarter == 0 ? 1 : quarter == 2 ? -1 : 0;
        s = quarter == 1 ? 1 : quarter == 3 ? -1 : 0;
    }
    const double c2 = c * c, s2 = s * s, cs = c * s;
    PlaneStiffness plane;
    plane.grain_rad = angle;
    plane.grain = {c, s};
    plane.solid = solid_stiffness(e);
    plane.density = e.density_kg_m3.value_or(0) * 1e-9;
    // Jones 1975, eq. 2.80: stiffness of a lamina turned in its plane
    const double Q11 = q11 * c2 * c2 + 2 * (q12 + 2 * q66) * s2 * c2 + q22 * s2 * s2;
    const double Q22 = q11 * s2 * s2 + 2 * (q12 + 2 * q66) * s2 * c2 + q22 * c2 * c2;
    const double Q12 = (q11 + q22 - 4 * q66) * s2 * c2 + q12 * (s2 * s2 + c2 * c2);
    const double Q66 = (q11 + q22 - 2 * q12 - 2 * q66) * s2 * c2 + q66 * (s2 * s2 + c2 * c2);
    const double Q16 = (q11 - q12 - 2 * q66) * cs * c2 + (q12 - q22 + 2 * q66) * cs * s2;
    const double Q26 = (q11 - q12 - 2 * q66) * cs * s2 + (q12 - q22 + 2 * q66) * cs * c2;
    plane.Q = {Q11, Q12, Q16, Q12, Q22, Q26, Q16, Q26, Q66};
    plane.G = {e.G13 * c2 + e.G23 * s2, (e.G13 - e.G23) * cs, (e.G13 - e.G23) * cs, e.G13 * s2 + e.G23 * c2};
    return plane;
}

double modulus_along(const PlaneStiffness& plane, Point n) {
    // 1/E = t' Q^-1 t with the stress t of a unit pull along n
    const Matrix3& Q = plane.Q;
    const Matrix3 inverse = inverse3(Q);
    const std::array<double, 3> t{n.x * n.x, n.y * n.y, n.x * n.y};
    double compliance = 0;
    for (size_t i = 0; i < 3; ++i)
        for (size_t j = 0; j < 3; ++j) compliance += t[i] * inverse[3 * i + j] * t[j];
    return 1 / compliance;
}

double shear_modulus_along(const PlaneStiffness& plane, Point n) {
    return n.x * n.x * plane.G[0] + 2 * n.x * n.y * plane.G[1] + n.y * n.y * plane.G[3];
}

} // namespace hollowtop
