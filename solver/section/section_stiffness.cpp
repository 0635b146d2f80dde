// SPDX-License-Identifier: MIT
#include "solver/section/section_stiffness.hpp"

#include "solver/numeric/symmetric_eigen.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

constexpr double shear_correction = 5.0 / 6.0; // homogeneous section: Reissner 1945

constexpr size_t at6(size_t i, size_t j) { return 6 * i + j; }
constexpr size_t at8(size_t i, size_t j) { return 8 * i + j; }

/// Is a + b positive definite, with a tenth of a to spare?
bool is_positive(const Matrix3& a, const Matrix3& b) {
    Matrix3 m{};
    for (size_t k = 0; k < 9; ++k) m[k] = 0.9 * a[k] + b[k];
    const double second = m[0] * m[4] - m[1] * m[3];
    const double det = m[0] * (m[4] * m[8] - m[5] * m[7]) - m[1] * (m[3] * m[8] - m[5] * m[6]) +
                       m[2] * (m[3] * m[7] - m[4] * m[6]);
    return m[0] > 0 && second > 0 && det > 0;
}

/// F where it takes away no more than nine tenths of the wood's own compliance S in any mix of pull, moment
/// and shear. The mixes are those of F against S, so it does not matter where the reference surface lies.
Matrix3 held_up(const Matrix3& S, Matrix3 F) {
    Matrix3 L{}; // S = L L'
    for (size_t i = 0; i < 3; ++i)
        for (size_t j = 0; j <= i; ++j) {
            double rest = S[3 * i + j];
            for (size_t k = 0; k < j; ++k) rest -= L[3 * i + k] * L[3 * j + k];
            L[3 * i + j] = i == j ? std::sqrt(rest) : rest / L[3 * j + j];
        }
    const Matrix3 to = inverse3(L);
    Matrix3 reduced{}; // L^-1 F L^-T
    for (size_t i = 0; i < 3; ++i)
        for (size_t j = 0; j < 3; ++j)
            for (size_t k = 0; k < 3; ++k)
                for (size_t l = 0; l < 3; ++l)
                    reduced[3 * i + j] += to[3 * i + k] * F[3 * k + l] * to[3 * j + l];
    const SymmetricEigen mixes = symmetric_eigen(reduced, 3);
    for (size_t m = 0; m < 3; ++m) {
        const double lifted = std::max(0.0, -0.9 - mixes.values[m]);
        std::array<double, 3> v{};
        for (size_t i = 0; i < 3; ++i)
            for (size_t k = 0; k <= i; ++k) v[i] += L[3 * i + k] * mixes.vectors[3 * m + k];
        for (size_t i = 0; i < 3; ++i)
            for (size_t j = 0; j < 3; ++j) F[3 * i + j] += lifted * v[i] * v[j];
    }
    return F;
}

Matrix8 product8(const Matrix8& a, const Matrix8& b) {
    Matrix8 m{};
    for (size_t i = 0; i < 8; ++i)
        for (size_t k = 0; k < 8; ++k) {
            if (a[at8(i, k)] == 0) continue;
            for (size_t j = 0; j < 8; ++j) m[at8(i, j)] += a[at8(i, k)] * b[at8(k, j)];
        }
    return m;
}

/// Strains of n unit openings.
template <size_t n> using Openings = std::array<std::array<double, 8>, n>;

/// P'C P.
template <size_t n> std::array<double, n * n> stiffness_to(const Matrix8& C, const Openings<n>& P) {
    std::array<double, n * n> m{};
    for (size_t a = 0; a < n; ++a)
        for (size_t b = 0; b < n; ++b)
            for (size_t i = 0; i < 8; ++i)
                for (size_t j = 0; j < 8; ++j) m[n * a + b] += P[a][i] * C[at8(i, j)] * P[b][j];
    return m;
}

std::array<double, 9> inverse_of(const std::array<double, 9>& m) { return inverse3(m); }
std::array<double, 4> inverse_of(const std::array<double, 4>& m) {
    const double det = m[0] * m[3] - m[1] * m[2];
    return {m[3] / det, -m[1] / det, -m[2] / det, m[0] / det};
}

/// Strains of the wood itself by those of wood and openings together. The openings j follow the resultants in
/// the wood, e = e_wood + P j with j = F P'C e_wood, so e_wood = (1 - P (1 + F P'C P)^-1 F P'C) e.
template <size_t n>
Matrix8 wood_share(const Matrix8& C, const Openings<n>& P, const std::array<double, n * n>& F) {
    const std::array<double, n* n> own = stiffness_to<n>(C, P);
    std::array<double, n * n> one{}, H{};
    for (size_t a = 0; a < n; ++a)
        for (size_t b = 0; b < n; ++b) {
            one[n * a + b] = a == b ? 1 : 0;
            for (size_t k = 0; k < n; ++k) one[n * a + b] += F[n * a + k] * own[n * k + b];
        }
    one = inverse_of(one);
    for (size_t a = 0; a < n; ++a)
        for (size_t b = 0; b < n; ++b)
            for (size_t k = 0; k < n; ++k) H[n * a + b] += one[n * a + k] * F[n * k + b];
    std::array<std::array<double, 8>, n> PC{};
    for (size_t a = 0; a < n; ++a)
        for (size_t i = 0; i < 8; ++i)
            for (size_t j = 0; j < 8; ++j) PC[a][j] += P[a][i] * C[at8(i, j)];
    Matrix8 wood{};
    for (size_t i = 0; i < 8; ++i) {
        wood[at8(i, i)] = 1;
        for (size_t a = 0; a < n; ++a)
            for (size_t b = 0; b < n; ++b)
                for (size_t j = 0; j < 8; ++j) wood[at8(i, j)] -= P[a][i] * H[n * a + b] * PC[b][j];
    }
    return wood;
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

Section plain_section(const PlaneStiffness& plane, double thickness, double reference_depth) {
    const std::array<double, 3> z = z_moments(thickness, reference_depth);
    Section section;
    section.thickness = thickness;
    section.C = membrane_and_bending(plane.Q, z);
    for (size_t i = 0; i < 4; ++i) section.S[i] = shear_correction * thickness * plane.G[i];
    for (size_t i = 0; i < 8; ++i) section.wood[at8(i, i)] = 1;
    for (size_t i = 0; i < 3; ++i) section.mass[i] = plane.density * z[i];
    return section;
}

Section wall_section(const PlaneStiffness& plane, double thickness, const WallCompliance& compliance, Point n,
                     double reference_depth) {
    Section section = plain_section(plane, thickness, reference_depth);
    Matrix8 C{}; // strains e0, k, gamma
    for (size_t i = 0; i < 6; ++i)
        for (size_t j = 0; j < 6; ++j) C[at8(i, j)] = section.C[at6(i, j)];
    for (size_t i = 0; i < 2; ++i)
        for (size_t j = 0; j < 2; ++j) C[at8(6 + i, 6 + j)] = section.S[2 * i + j];
    // the strains of a unit stretch, curvature and shear across the wall
    Openings<3> across{};
    const std::array<double, 3> p{n.x * n.x, n.y * n.y, 2 * n.x * n.y};
    for (size_t i = 0; i < 3; ++i) across[0][i] = across[1][3 + i] = p[i];
    across[2][6] = n.x;
    across[2][7] = n.y;
    // Extra compliance may be negative: in shear, and beside a large round, which stiffens the skin. The
    // zone's own must stay positive: what the zone of rim cannot compliance back of the round's stiffness is
    // left out.
    const Matrix3 own_compliance = inverse3(stiffness_to<3>(C, across));
    const Matrix3 F = is_positive(own_compliance, compliance.across)
                          ? compliance.across
                          : held_up(own_compliance, compliance.across);
    const Matrix8 first = wood_share<3>(C, across, F);
    // shear and twist along the wall, on the section just reduced
    Openings<2> along{};
    const std::array<double, 3> s{-n.x * n.y, n.x * n.y, n.x * n.x - n.y * n.y};
    for (size_t i = 0; i < 3; ++i) along[0][i] = along[1][3 + i] = s[i];
    const Matrix8 reduced = product8(C, first);
    const std::array<double, 4> stiff = stiffness_to<2>(reduced, along);
    std::array<double, 4> f = compliance.along;
    const double det = stiff[0] * stiff[3] - stiff[1] * stiff[2];
    const std::array<double, 4> own{0.9 * stiff[3] / det + f[0], -0.9 * stiff[1] / det + f[1],
                                    -0.9 * stiff[2] / det + f[2], 0.9 * stiff[0] / det + f[3]};
    if (!(own[0] > 0 && own[0] * own[3] - own[1] * own[2] > 0)) f = {};
    section.wood = product8(first, wood_share<2>(reduced, along, f));
    const Matrix8 soft = product8(C, section.wood);
    const auto even = [&](size_t i, size_t j) { return (soft[at8(i, j)] + soft[at8(j, i)]) / 2; };
    for (size_t i = 0; i < 6; ++i) {
        for (size_t j = 0; j < 6; ++j) section.C[at6(i, j)] = even(i, j);
        for (size_t j = 0; j < 2; ++j) section.cross[2 * i + j] = even(i, 6 + j);
    }
    for (size_t i = 0; i < 2; ++i)
        for (size_t j = 0; j < 2; ++j) section.S[2 * i + j] = even(6 + i, 6 + j);
    return section;
}

double wall_zone_width(const PlaneStiffness& plane, double thickness, Point across) {
    return thickness *
           std::max(0.1, 0.04 * std::sqrt(modulus_along(plane, across) / shear_modulus_along(plane, across)));
}

} // namespace hollowtop
