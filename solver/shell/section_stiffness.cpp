// SPDX-License-Identifier: MIT
#include "solver/shell/section_stiffness.hpp"

#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

constexpr double shear_correction = 5.0 / 6.0; // homogeneous section: Reissner 1945

constexpr size_t at6(size_t i, size_t j) { return 6 * i + j; }

using Matrix2 = std::array<double, 4>;

Matrix2 inverse2(const Matrix2& m) {
    const double det = m[0] * m[3] - m[1] * m[2];
    return {m[3] / det, -m[1] / det, -m[2] / det, m[0] / det};
}
Matrix2 product2(const Matrix2& a, const Matrix2& b) {
    return {a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3], a[2] * b[0] + a[3] * b[2], a[2] * b[1] + a[3] * b[3]};
}

/// z-moments of the thickness about the reference surface: integral of 1, z, z^2.
std::array<double, 3> z_moments(double thickness, double reference_depth) {
    const double high = reference_depth, low = reference_depth - thickness;
    return {thickness, (high * high - low * low) / 2, (high * high * high - low * low * low) / 3};
}

Matrix6 membrane_and_bending(const Matrix3& Q, const std::array<double, 3>& z) {
    Matrix6 C{};
    for (size_t i = 0; i < 3; ++i) {
        for (size_t j = 0; j < 3; ++j) {
            const double q = Q[3 * i + j];
            C[at6(i, j)] = q * z[0];
            C[at6(i, j + 3)] = C[at6(i + 3, j)] = q * z[1];
            C[at6(i + 3, j + 3)] = q * z[2];
        }
    }
    return C;
}

} // namespace

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
    const double c00 = Q[4] * Q[8] - Q[5] * Q[7], c01 = Q[5] * Q[6] - Q[3] * Q[8], c02 = Q[3] * Q[7] - Q[4] * Q[6];
    const double det = Q[0] * c00 + Q[1] * c01 + Q[2] * c02;
    const Matrix3 inverse{c00 / det,
                          (Q[2] * Q[7] - Q[1] * Q[8]) / det,
                          (Q[1] * Q[5] - Q[2] * Q[4]) / det,
                          c01 / det,
                          (Q[0] * Q[8] - Q[2] * Q[6]) / det,
                          (Q[2] * Q[3] - Q[0] * Q[5]) / det,
                          c02 / det,
                          (Q[1] * Q[6] - Q[0] * Q[7]) / det,
                          (Q[0] * Q[4] - Q[1] * Q[3]) / det};
    const std::array<double, 3> t{n.x * n.x, n.y * n.y, n.x * n.y};
    double compliance = 0;
    for (size_t i = 0; i < 3; ++i)
        for (size_t j = 0; j < 3; ++j) compliance += t[i] * inverse[3 * i + j] * t[j];
    return 1 / compliance;
}

double shear_modulus_along(const PlaneStiffness& plane, Point n) {
    return n.x * n.x * plane.G[0] + 2 * n.x * n.y * plane.G[1] + n.y * n.y * plane.G[3];
}

Section plain_section(const PlaneStiffness& plane, double thickness, double reference_depth) {
    const std::array<double, 3> z = z_moments(thickness, reference_depth);
    Section section;
    section.thickness = thickness;
    section.C = membrane_and_bending(plane.Q, z);
    for (size_t i = 0; i < 4; ++i) section.S[i] = shear_correction * thickness * plane.G[i];
    for (size_t i = 0; i < 6; ++i) section.wood[at6(i, i)] = 1;
    for (size_t i = 0; i < 3; ++i) section.mass[i] = plane.density * z[i];
    return section;
}

Section wall_section(const PlaneStiffness& plane, double thickness, double skin, Point n, double reference_depth) {
    Section section = plain_section(plane, thickness, reference_depth);
    const Matrix6 thin = membrane_and_bending(plane.Q, z_moments(skin, reference_depth));
    // p: the strains of a unit stretch (or curvature) across the wall, in x y xy
    const std::array<double, 3> p{n.x * n.x, n.y * n.y, 2 * n.x * n.y};
    const auto across = [&](const Matrix6& C) {
        Matrix2 m{};
        for (size_t a = 0; a < 2; ++a)
            for (size_t b = 0; b < 2; ++b)
                for (size_t i = 0; i < 3; ++i)
                    for (size_t j = 0; j < 3; ++j) m[2 * a + b] += p[i] * C[at6(3 * a + i, 3 * b + j)] * p[j];
        return m;
    };
    // opening j across the wall: e = e_wood + P j, with compliance F = (P'C_thin P)^-1 - (P'C P)^-1.
    // j = F P'C e_wood, so e_wood = (1 - P (1 + F P'C P)^-1 F P'C) e.
    const Matrix2 full = across(section.C);
    const Matrix2 soft = inverse2(across(thin)), stiff = inverse2(full);
    const Matrix2 F{soft[0] - stiff[0], soft[1] - stiff[1], soft[2] - stiff[2], soft[3] - stiff[3]};
    Matrix2 one = product2(F, full);
    one[0] += 1;
    one[3] += 1;
    const Matrix2 H = product2(inverse2(one), F);
    std::array<double, 12> PC{}; // P'C, 2 x 6
    for (size_t a = 0; a < 2; ++a)
        for (size_t j = 0; j < 6; ++j)
            for (size_t i = 0; i < 3; ++i) PC[6 * a + j] += p[i] * section.C[at6(3 * a + i, j)];
    const Matrix6 full_C = section.C;
    for (size_t i = 0; i < 6; ++i) {
        for (size_t j = 0; j < 6; ++j) {
            const double opening = H[2 * (i / 3)] * PC[j] + H[2 * (i / 3) + 1] * PC[6 + j];
            section.wood[at6(i, j)] -= p[i % 3] * opening;
        }
    }
    section.C.fill(0);
    for (size_t i = 0; i < 6; ++i)
        for (size_t j = 0; j < 6; ++j)
            for (size_t k = 0; k < 6; ++k) section.C[at6(i, j)] += full_C[at6(i, k)] * section.wood[at6(k, j)];
    for (size_t i = 0; i < 6; ++i)
        for (size_t j = 0; j < i; ++j)
            section.C[at6(i, j)] = section.C[at6(j, i)] = (section.C[at6(i, j)] + section.C[at6(j, i)]) / 2;
    return section;
}

double wall_strip_width(const PlaneStiffness& plane, double thickness, Point across) {
    return 0.14 * thickness * std::sqrt(modulus_along(plane, across) / shear_modulus_along(plane, across));
}

} // namespace hollowtop
