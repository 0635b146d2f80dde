// SPDX-License-Identifier: MIT
#include "solver/analysis/skin_buckling.hpp"

#include "solver/shell/quadrature.hpp"
#include "solver/shell/symmetric_eigen.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

constexpr int n_terms = 8, n_points = 12;

/// (1 - x^2)^e P_k(x) on [-1, 1] with two derivatives.
struct Shape {
    std::array<double, n_terms> value{}, slope{}, bend{};
};
Shape shape_at(double x, int e) {
    std::array<double, n_terms> p{}, d{}, dd{}; // Legendre
    p[0] = 1;
    p[1] = x;
    d[1] = 1;
    for (size_t k = 1; k + 1 < n_terms; ++k) {
        const double m = static_cast<double>(k);
        p[k + 1] = ((2 * m + 1) * x * p[k] - m * p[k - 1]) / (m + 1);
        d[k + 1] = d[k - 1] + (2 * m + 1) * p[k];
        dd[k + 1] = dd[k - 1] + (2 * m + 1) * d[k];
    }
    const double b = 1 - x * x;
    const double f = e == 1 ? b : b * b, f1 = e == 1 ? -2 * x : -4 * x * b, f2 = e == 1 ? -2 : -4 + 12 * x * x;
    Shape s;
    for (size_t k = 0; k < n_terms; ++k) {
        s.value[k] = f * p[k];
        s.slope[k] = f1 * p[k] + f * d[k];
        s.bend[k] = f2 * p[k] + 2 * f1 * d[k] + f * dd[k];
    }
    return s;
}

} // namespace

std::optional<double> plate_buckling(const Matrix3& Q, double thickness, const Rectangle& plate, PlateEdges edges, const PlaneForces& forces) {
    constexpr int n = n_terms * n_terms;
    const double a = (plate.x1 - plate.x0) / 2, b = (plate.y1 - plate.y0) / 2, inertia = thickness * thickness * thickness / 12;
    const int e = edges == PlateEdges::clamped ? 2 : 1;
    const Rule& rule = gauss_rule(n_points);
    Eigen::MatrixXd K = Eigen::MatrixXd::Zero(n, n), Kg = Eigen::MatrixXd::Zero(n, n);
    Eigen::MatrixXd B(3, n), G(2, n);
    const Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>> law(Q.data());
    for (size_t j = 0; j < rule.points.size(); ++j)
        for (size_t i = 0; i < rule.points.size(); ++i) {
            const Shape x = shape_at(rule.points[i], e), y = shape_at(rule.points[j], e);
            const std::array<double, 3> N = forces({plate.x0 + a * (1 + rule.points[i]), plate.y0 + b * (1 + rule.points[j])});
            for (size_t l = 0; l < n_terms; ++l)
                for (size_t k = 0; k < n_terms; ++k) {
                    const auto at = static_cast<Eigen::Index>(l * n_terms + k);
                    B(0, at) = x.bend[k] * y.value[l] / (a * a);
                    B(1, at) = x.value[k] * y.bend[l] / (b * b);
                    B(2, at) = 2 * x.slope[k] * y.slope[l] / (a * b);
                    G(0, at) = x.slope[k] * y.value[l] / a;
                    G(1, at) = x.value[k] * y.slope[l] / b;
                }
            const double weight = rule.weights[i] * rule.weights[j] * a * b;
            K.noalias() += B.transpose() * ((weight * inertia) * law * B);
            Eigen::Matrix2d pressing;
            pressing << -N[0], -N[2], -N[2], -N[1];
            Kg.noalias() += G.transpose() * (weight * pressing * G);
        }
    const auto values = [](const Eigen::MatrixXd& m) { return std::span<const double>{m.data(), static_cast<size_t>(m.size())}; };
    const double greatest = symmetric_eigenvalues(values(Kg), values(K), n).back();
    if (!(greatest > 0)) return std::nullopt;
    return 1 / greatest;
}

std::vector<SkinPoints> skin_points(const Shell& shell) {
    std::vector<SkinPoints> skins;
    const Rule& rule = gauss_rule(n_points);
    for (size_t r = 0; r < shell.field.recesses.size(); ++r) {
        const RecessPlan& plan = shell.field.recesses[r];
        if (!plan.lands.empty() || plan.loop.empty()) continue;
        SkinPoints skin{.recess = static_cast<int>(r), .box = bounds_of(plan.loop.front()), .n = n_points, .means = {}};
        for (const EdgePiece& piece : plan.loop) {
            const Rectangle box = bounds_of(piece);
            skin.box = {std::min(skin.box.x0, box.x0), std::max(skin.box.x1, box.x1), std::min(skin.box.y0, box.y0), std::max(skin.box.y1, box.y1)};
        }
        const double a = (skin.box.x1 - skin.box.x0) / 2, b = (skin.box.y1 - skin.box.y0) / 2;
        for (const double eta : rule.points)
            for (const double xi : rule.points) {
                const Point p{skin.box.x0 + a * (1 + xi), skin.box.y0 + b * (1 + eta)};
                const bool inside = region_at(shell.field, p) == static_cast<int>(r) + 1;
                skin.means.push_back(inside ? strain_mean(shell, p, plan.skin) : StrainMean{});
            }
        skins.push_back(std::move(skin));
    }
    return skins;
}

std::optional<double> skin_buckling(const Shell& shell, const std::vector<SkinPoints>& skins, const SolvedSituation& situation) {
    std::optional<double> lowest;
    for (const SkinPoints& skin : skins) {
        const double thickness = shell.field.recesses[static_cast<size_t>(skin.recess)].skin;
        const Section section = plain_section(shell.plane, thickness, shell.reference_depth);
        std::vector<std::array<double, 3>> forces(skin.means.size());
        double pressing = 0;
        for (size_t k = 0; k < skin.means.size(); ++k) {
            if (skin.means[k].parts.empty()) continue;
            const std::array<double, 8> e = strains_of(shell, skin.means[k], situation.dofs);
            for (size_t i = 0; i < 3; ++i)
                for (size_t j = 0; j < 6; ++j) forces[k][i] += section.C[6 * i + j] * e[j] / situation.plan.softening;
            pressing = std::max({pressing, -forces[k][0], -forces[k][1], std::abs(forces[k][2])});
        }
        if (!(pressing > 0)) continue;
        size_t next = 0; // plate_buckling asks in the order of the points
        Matrix3 Q = shell.plane.Q;
        for (double& q : Q) q /= situation.plan.softening;
        const auto factor = plate_buckling(Q, thickness, skin.box, PlateEdges::simply_supported, [&](Point) { return forces[next++]; });
        if (factor && (!lowest || *factor < *lowest)) lowest = factor;
    }
    return lowest;
}

} // namespace hollowtop
