// SPDX-License-Identifier: MIT
#include "solver/readout/skin_buckling.hpp"

#include "solver/numeric/quadrature.hpp"
#include "solver/numeric/symmetric_eigen.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

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
    const double f = e == 1 ? b : b * b, f1 = e == 1 ? -2 * x : -4 * x * b,
                 f2 = e == 1 ? -2 : -4 + 12 * x * x;
    Shape s;
    for (size_t k = 0; k < n_terms; ++k) {
        s.value[k] = f * p[k];
        s.slope[k] = f1 * p[k] + f * d[k];
        s.bend[k] = f2 * p[k] + 2 * f1 * d[k] + f * dd[k];
    }
    return s;
}

} // namespace

PressedPlate::PressedPlate(const Matrix3& Q, double thickness, const Rectangle& plate, PlateEdges edges) {
    constexpr int n = n_terms * n_terms;
    const double a = (plate.x1 - plate.x0) / 2, b = (plate.y1 - plate.y0) / 2,
                 inertia = thickness * thickness * thickness / 12;
    const int e = edges == PlateEdges::clamped ? 2 : 1;
    const Rule& rule = gauss_rule(n_points);
    Eigen::MatrixXd K = Eigen::MatrixXd::Zero(n, n), B(3, n), slopes(2 * n_points * n_points, n);
    const Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>> law(Q.data());
    for (size_t j = 0; j < rule.points.size(); ++j)
        for (size_t i = 0; i < rule.points.size(); ++i) {
            const Shape x = shape_at(rule.points[i], e), y = shape_at(rule.points[j], e);
            const double weight = rule.weights[i] * rule.weights[j] * a * b;
            const auto row = static_cast<Eigen::Index>(2 * points_.size());
            points_.push_back({plate.x0 + a * (1 + rule.points[i]), plate.y0 + b * (1 + rule.points[j])});
            for (size_t l = 0; l < n_terms; ++l)
                for (size_t k = 0; k < n_terms; ++k) {
                    const auto at = static_cast<Eigen::Index>(l * n_terms + k);
                    B(0, at) = x.bend[k] * y.value[l] / (a * a);
                    B(1, at) = x.value[k] * y.bend[l] / (b * b);
                    B(2, at) = 2 * x.slope[k] * y.slope[l] / (a * b);
                    slopes(row, at) = std::sqrt(weight) * x.slope[k] * y.value[l] / a;
                    slopes(row + 1, at) = std::sqrt(weight) * x.value[k] * y.slope[l] / b;
                }
            K.noalias() += B.transpose() * ((weight * inertia) * law * B);
        }
    K.llt().matrixU().solveInPlace<Eigen::OnTheRight>(slopes);
    slopes_.assign(slopes.data(), slopes.data() + slopes.size());
}

std::optional<double> PressedPlate::buckling(std::span<const PlaneForces> forces) const {
    constexpr int n = n_terms * n_terms, n_rows = 2 * n_points * n_points;
    const Eigen::Map<const Eigen::MatrixXd> slopes(slopes_.data(), n_rows, n);
    Eigen::MatrixXd pressed(slopes.rows(), n);
    for (Eigen::Index k = 0; k < n; ++k)
        for (size_t q = 0; q < forces.size(); ++q) {
            const auto row = static_cast<Eigen::Index>(2 * q);
            const double x = slopes(row, k), y = slopes(row + 1, k);
            pressed(row, k) = -(forces[q][0] * x + forces[q][2] * y);
            pressed(row + 1, k) = -(forces[q][2] * x + forces[q][1] * y);
        }
    Eigen::MatrixXd Kg(n, n);
    Kg.noalias() = slopes.transpose() * pressed;
    const double greatest = greatest_eigenvalue({Kg.data(), static_cast<size_t>(Kg.size())}, n);
    if (!(greatest > 0)) return std::nullopt;
    return 1 / greatest;
}

std::vector<SkinPoints> skin_points(const Shell& shell) {
    std::vector<SkinPoints> skins;
    std::map<std::array<long long, 3>, std::shared_ptr<const PressedPlate>>
        known; // by sides and thickness, in nm
    for (size_t r = 0; r < shell.field.recesses.size(); ++r) {
        const RecessPlan& plan = shell.field.recesses[r];
        if (!plan.lands.empty() || plan.loop.empty()) continue;
        // an uneven skin is held to buckle where one as thin as its thinnest place all over would: it buckles later
        const Rectangle box = bounds_of(plan.loop);
        const double thickness = thinnest_of(plan), wide = box.x1 - box.x0, deep = box.y1 - box.y0;
        const auto key = [](double mm) { return std::llround(mm * 1e6); };
        std::shared_ptr<const PressedPlate>& plate = known[{key(wide), key(deep), key(thickness)}];
        if (!plate)
            plate = std::make_shared<const PressedPlate>(
                shell.plane.Q, thickness, Rectangle{0, wide, 0, deep}, PlateEdges::simply_supported);
        SkinPoints skin{.recess = static_cast<int>(r), .plate = plate, .means = {}};
        for (const Point& from_corner : plate->points()) {
            const Point p{box.x0 + from_corner.x, box.y0 + from_corner.y};
            const bool inside = region_at(shell.field, p) == static_cast<int>(r) + 1;
            skin.means.push_back(inside ? strain_mean(shell, p, plan.skin) : StrainMean{});
        }
        skins.push_back(std::move(skin));
    }
    return skins;
}

std::optional<double> skin_buckling(const Shell& shell, const std::vector<SkinPoints>& skins,
                                    const SolvedSituation& situation) {
    std::optional<double> lowest;
    for (const SkinPoints& skin : skins) {
        const int region = skin.recess + 1;
        Section section =
            plain_section(shell.plane, thickness_of(shell.field, region), shell.reference_depth);
        std::vector<PlaneForces> forces(
            skin.means
                .size()); // the reduced modulus after the years lessens them and the plate's stiffness alike
        double pressing = 0;
        for (size_t k = 0; k < skin.means.size(); ++k) {
            if (skin.means[k].parts.empty()) continue;
            const std::array<double, 8> e = strains_of(shell, skin.means[k], situation.dofs);
            if (is_uneven(shell.field, region))
                section = plain_section(shell.plane, skin.means[k].thickness, shell.reference_depth);
            for (size_t i = 0; i < 3; ++i)
                for (size_t j = 0; j < 6; ++j) forces[k][i] += section.C[6 * i + j] * e[j];
            pressing = std::max({pressing, -forces[k][0], -forces[k][1], std::abs(forces[k][2])});
        }
        if (!(pressing > 0)) continue;
        const auto factor = skin.plate->buckling(forces);
        if (factor && (!lowest || *factor < *lowest)) lowest = factor;
    }
    return lowest;
}

} // namespace hollowtop
