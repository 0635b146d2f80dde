// SPDX-License-Identifier: MIT
#include "solver/section/wall_submodel.hpp"

#include "solver/section/solid_stiffness.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <mutex>
#include <numbers>
#include <utility>

namespace hollowtop {
namespace {

/// Inputs to a billionth, so that rounding in a turned piece finds the same cell.
using Key = std::array<long long, 14>;
Key key_of(const SubmodelSection& section) {
    const auto to_key = [](double v, double scale) { return std::llround(v / scale * 1e9); };
    Key key{to_key(section.thick, 1), to_key(section.skin, 1), to_key(section.root_radius, 1),
            to_key(section.crack, 1)};
    if (section.moves_along) key[3] = -1;
    for (size_t k = 0; k < 9; ++k) key[4 + k] = to_key(section.C[k], section.C[0] + section.C[4]);
    key[13] = to_key(section.C[0] + section.C[4], 1e3);
    return key;
}

PerLoad mean_of(const PerLoad& a, const PerLoad& b) {
    PerLoad m{};
    for (size_t k = 0; k < m.size(); ++k) m[k] = (a[k] + b[k]) / 2;
    return m;
}

SubmodelAnswer solve_both_leans(SubmodelSection section) {
    SubmodelAnswer answer = solve_submodel(section);
    const double coupling = std::max(std::abs(section.C[2]), std::abs(section.C[5]));
    if (coupling < 1e-9 * section.C[4]) return answer;
    for (const size_t k : {size_t{2}, size_t{5}, size_t{6}, size_t{7}}) section.C[k] = -section.C[k];
    const SubmodelAnswer other = solve_submodel(section);
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

std::shared_ptr<const SubmodelAnswer> kept(const SubmodelSection& section) {
    static std::mutex mutex;
    static std::map<Key, std::shared_ptr<const SubmodelAnswer>> cells;
    const Key key = key_of(section);
    {
        const std::scoped_lock lock(mutex);
        if (const auto found = cells.find(key); found != cells.end()) return found->second;
    }
    auto solved = std::make_shared<const SubmodelAnswer>(solve_both_leans(section));
    const std::scoped_lock lock(mutex);
    constexpr size_t most_kept = 5000;
    if (cells.size() >= most_kept) cells.clear();
    return cells.emplace(key, std::move(solved)).first->second;
}

} // namespace

std::shared_ptr<const SubmodelAnswer> cracked_wall_submodel(const PlaneStiffness& plane, double thick,
                                                            double skin, double root_radius, Point across,
                                                            double crack) {
    // which way the wall faces along and across the grain does not matter: both leans are taken
    const Point n{std::abs(across.x * plane.grain.x + across.y * plane.grain.y),
                  std::abs(across.y * plane.grain.x - across.x * plane.grain.y)};
    SubmodelSection section{.thick = thick,
                            .skin = skin,
                            .root_radius = root_radius,
                            .C = section_law(plane.solid, n),
                            .crack = crack};
    return kept(section);
}

std::array<double, 2> shear_along(const PlaneStiffness& plane, Point across) {
    const Point n{std::abs(across.x * plane.grain.x + across.y * plane.grain.y),
                  std::abs(across.y * plane.grain.x - across.x * plane.grain.y)};
    return section_shear_moduli(plane.solid, n);
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
    // the compliance goes as 1 / sqrt(E G) of the direction; what is left of it varies little
    const auto scale = [&](double cosine, double sine) {
        const Matrix3 C = section_law(plane.solid, {cosine, sine});
        return std::sqrt(C[0] * C[8]);
    };
    Matrix3 compliance{};
    for (size_t k = 0; k < n; ++k) {
        double share = scale(c[k], s[k]) / scale(along, std::sqrt(std::max(0.0, 1 - along * along)));
        for (size_t m = 0; m < n; ++m)
            if (m != k) share *= (cos2 - place[m]) / (place[k] - place[m]);
        if (share == 0) continue;
        const Point direction{plane.grain.x * c[k] - plane.grain.y * s[k],
                              plane.grain.y * c[k] + plane.grain.x * s[k]};
        const Matrix3& extra = wall_submodel(plane, thick, skin, root_radius, direction)->extra;
        for (size_t i = 0; i < 9; ++i) compliance[i] += share * extra[i];
    }
    return compliance;
}

} // namespace hollowtop
