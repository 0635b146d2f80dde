// SPDX-License-Identifier: MIT
#include "solver/section/wall_submodel.hpp"

#include "materials/error.hpp"
#include "materials/wood_constants.hpp"

#include <Eigen/Core>
#include <Eigen/LU>

#include <algorithm>
#include <cmath>
#include <map>
#include <mutex>
#include <numbers>
#include <utility>

namespace hollowtop {
namespace {

using Compliance = Eigen::Matrix<double, 6, 6>;

Matrix6 to_array(const Compliance& m) {
    Matrix6 a{};
    for (size_t i = 0; i < 6; ++i)
        for (size_t j = 0; j < 6; ++j)
            a[6 * i + j] = m(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j));
    return a;
}

/// Nine constants to a stiffness; nu_ij: stress along i, strain along j.
struct Nine {
    double E1, E2, E3, nu12, nu13, nu23, G12, G13, G23;
};
Matrix6 stiffness_of(const Nine& c) {
    Compliance S = Compliance::Zero();
    S(0, 0) = 1 / c.E1;
    S(1, 1) = 1 / c.E2;
    S(2, 2) = 1 / c.E3;
    S(0, 1) = S(1, 0) = -c.nu12 / c.E1;
    S(0, 2) = S(2, 0) = -c.nu13 / c.E1;
    S(1, 2) = S(2, 1) = -c.nu23 / c.E2;
    S(3, 3) = 1 / c.G23;
    S(4, 4) = 1 / c.G13;
    S(5, 5) = 1 / c.G12;
    return to_array(S.inverse());
}

constexpr size_t voigt[3][3] = {{0, 5, 4}, {5, 1, 3}, {4, 3, 2}};
constexpr size_t pairs[6][2] = {{0, 0}, {1, 1}, {2, 2}, {1, 2}, {0, 2}, {0, 1}};

/// Components of a stiffness in axes whose directions are the rows of `axes`, for the strain pairs i and j.
double turned(const Matrix6& C, const double (&axes)[3][3], size_t i, size_t j) {
    double sum = 0;
    for (size_t a = 0; a < 3; ++a)
        for (size_t b = 0; b < 3; ++b) {
            const double first = axes[pairs[i][0]][a] * axes[pairs[i][1]][b];
            if (first == 0) continue;
            for (size_t c = 0; c < 3; ++c)
                for (size_t d = 0; d < 3; ++d)
                    sum += first * axes[pairs[j][0]][c] * axes[pairs[j][1]][d] *
                           C[6 * voigt[a][b] + voigt[c][d]];
        }
    return sum;
}

/// Inputs to a billionth, so that rounding in a turned piece finds the same cell.
using Key = std::array<long long, 14>;
Key key_of(const SubmodelSection& step) {
    const auto to_key = [](double v, double scale) { return std::llround(v / scale * 1e9); };
    Key key{to_key(step.thick, 1), to_key(step.skin, 1), to_key(step.root_radius, 1), to_key(step.crack, 1)};
    if (step.moves_along) key[3] = -1;
    for (size_t k = 0; k < 9; ++k) key[4 + k] = to_key(step.C[k], step.C[0] + step.C[4]);
    key[13] = to_key(step.C[0] + step.C[4], 1e3);
    return key;
}

PerLoad mean_of(const PerLoad& a, const PerLoad& b) {
    PerLoad m{};
    for (size_t k = 0; k < m.size(); ++k) m[k] = (a[k] + b[k]) / 2;
    return m;
}

SubmodelAnswer solve_both_leans(SubmodelSection step) {
    SubmodelAnswer answer = solve_submodel(step);
    const double coupling = std::max(std::abs(step.C[2]), std::abs(step.C[5]));
    if (coupling < 1e-9 * step.C[4]) return answer;
    for (const size_t k : {size_t{2}, size_t{5}, size_t{6}, size_t{7}}) step.C[k] = -step.C[k];
    const SubmodelAnswer other = solve_submodel(step);
    for (size_t k = 0; k < 9; ++k) answer.extra[k] = (answer.extra[k] + other.extra[k]) / 2;
    for (PerLoad SubmodelAnswer::*member :
         {&SubmodelAnswer::underside, &SubmodelAnswer::top, &SubmodelAnswer::peel, &SubmodelAnswer::slip})
        answer.*member = mean_of(answer.*member, other.*member);
    for (size_t k = 0; k < answer.along_root.size(); ++k)
        answer.along_root[k] = mean_of(answer.along_root[k], other.along_root[k]);
    for (size_t k = 0; k < answer.release.size(); ++k)
        answer.release[k] = mean_of(answer.release[k], other.release[k]);
    return answer;
}

std::shared_ptr<const SubmodelAnswer> kept(const SubmodelSection& step) {
    static std::mutex mutex;
    static std::map<Key, std::shared_ptr<const SubmodelAnswer>> cells;
    const Key key = key_of(step);
    {
        const std::scoped_lock lock(mutex);
        if (const auto found = cells.find(key); found != cells.end()) return found->second;
    }
    auto solved = std::make_shared<const SubmodelAnswer>(solve_both_leans(step));
    const std::scoped_lock lock(mutex);
    constexpr size_t most_kept = 5000;
    if (cells.size() >= most_kept) cells.clear();
    return cells.emplace(key, std::move(solved)).first->second;
}

} // namespace

Matrix6 solid_stiffness(const materials::WoodConstants& w, double ring_angle_deg) {
    const Matrix6 lrt = stiffness_of({.E1 = w.E_L,
                                      .E2 = w.E_R,
                                      .E3 = w.E_T,
                                      .nu12 = w.nu_LR,
                                      .nu13 = w.nu_LT,
                                      .nu23 = w.nu_RT,
                                      .G12 = w.G_LR,
                                      .G13 = w.G_LT,
                                      .G23 = w.G_RT});
    const double c = std::cos(ring_angle_deg * std::numbers::pi / 180),
                 s = std::sin(ring_angle_deg * std::numbers::pi / 180);
    // 0: across the width T, through the thickness R
    const double axes[3][3] = {{1, 0, 0}, {0, -s, c}, {0, c, s}};
    Matrix6 solid{};
    for (size_t i = 0; i < 6; ++i)
        for (size_t j = 0; j < 6; ++j) solid[6 * i + j] = turned(lrt, axes, i, j);
    return solid;
}

Matrix6 solid_stiffness(const Elastic& e) {
    const double E3 = e.E3.value_or(e.E2);
    // a stiffer third direction takes smaller ratios: the energy stays positive where that of E3 = E2 is
    const double less = std::min(1.0, std::sqrt(e.E2 / E3));
    const double nu23 = less * std::clamp(e.E2 / (2 * e.G23) - 1, 0.1, 0.5), nu13 = less * e.nu12;
    return stiffness_of({.E1 = e.E1,
                         .E2 = e.E2,
                         .E3 = E3,
                         .nu12 = e.nu12,
                         .nu13 = nu13,
                         .nu23 = nu23,
                         .G12 = e.G12,
                         .G13 = e.G13,
                         .G23 = e.G23});
}

Matrix3 section_law(const Matrix6& solid, Point n) {
    const double axes[3][3] = {{n.x, n.y, 0}, {-n.y, n.x, 0}, {0, 0, 1}};
    constexpr size_t in_plane[3] = {0, 2, 4};
    Matrix3 C{};
    for (size_t i = 0; i < 3; ++i)
        for (size_t j = 0; j < 3; ++j) C[3 * i + j] = turned(solid, axes, in_plane[i], in_plane[j]);
    return C;
}

std::shared_ptr<const SubmodelAnswer> cracked_wall_submodel(const PlaneStiffness& plane, double thick,
                                                            double skin, double root_radius, Point across,
                                                            double crack) {
    // which way the wall faces along and across the grain does not matter: both leans are taken
    const Point n{std::abs(across.x * plane.grain.x + across.y * plane.grain.y),
                  std::abs(across.y * plane.grain.x - across.x * plane.grain.y)};
    SubmodelSection step{.thick = thick,
                         .skin = skin,
                         .root_radius = root_radius,
                         .C = section_law(plane.solid, n),
                         .crack = crack};
    return kept(step);
}

std::array<double, 2> shear_along(const PlaneStiffness& plane, Point across) {
    const Point n{std::abs(across.x * plane.grain.x + across.y * plane.grain.y),
                  std::abs(across.y * plane.grain.x - across.x * plane.grain.y)};
    const double axes[3][3] = {{n.x, n.y, 0}, {-n.y, n.x, 0}, {0, 0, 1}};
    return {turned(plane.solid, axes, 5, 5), turned(plane.solid, axes, 3, 3)};
}

std::array<double, 3> work_along_wall(double skin_share) {
    const auto answer =
        kept({.thick = 1, .skin = skin_share, .C = {1, 0, 0, 0, 1, 0, 0, 0, 1}, .moves_along = true});
    return {answer->extra[0], answer->extra[1], answer->extra[4]};
}

std::shared_ptr<const SubmodelAnswer> wall_submodel(const PlaneStiffness& plane, double thick, double skin,
                                                    double root_radius, Point across) {
    return cracked_wall_submodel(plane, thick, skin, root_radius, across, 0);
}

Matrix3 curved_wall_compliance(const PlaneStiffness& plane, double thick, double skin, double root_radius,
                               Point across) {
    const double along = across.x * plane.grain.x + across.y * plane.grain.y,
                 cos2 = std::clamp(2 * along * along - 1, -1.0, 1.0);
    constexpr size_t n = 5;
    const double half = std::numbers::sqrt2 / 2, eighth = std::cos(std::numbers::pi / 8),
                 three = std::sin(std::numbers::pi / 8);
    const std::array<double, n> c{1, eighth, half, three, 0},
        s{0, three, half, eighth, 1}; // cosines and sines of the directions
    std::array<double, n> place{};
    for (size_t k = 0; k < n; ++k) place[k] = 2 * c[k] * c[k] - 1;
    // the give goes as 1 / sqrt(E G) of the direction; what is left of it varies little
    const auto scale = [&](double cosine, double sine) {
        const Matrix3 C = section_law(plane.solid, {cosine, sine});
        return std::sqrt(C[0] * C[8]);
    };
    Matrix3 give{};
    for (size_t k = 0; k < n; ++k) {
        double share = scale(c[k], s[k]) / scale(along, std::sqrt(std::max(0.0, 1 - along * along)));
        for (size_t m = 0; m < n; ++m)
            if (m != k) share *= (cos2 - place[m]) / (place[k] - place[m]);
        if (share == 0) continue;
        const Point direction{plane.grain.x * c[k] - plane.grain.y * s[k],
                              plane.grain.y * c[k] + plane.grain.x * s[k]};
        const Matrix3& extra = wall_submodel(plane, thick, skin, root_radius, direction)->extra;
        for (size_t i = 0; i < 9; ++i) give[i] += share * extra[i];
    }
    return give;
}

} // namespace hollowtop
