// SPDX-License-Identifier: MIT
#include "solver/readout/skin_buckling.hpp"

#include "solver/numeric/quadrature.hpp"
#include "solver/numeric/symmetric_eigen.hpp"
#include "solver/piece/plane.hpp"

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

LeaningBox smallest_box(const Loop& loop) {
    const auto about = [&](Point along) {
        Rectangle box{1e300, -1e300, 1e300, -1e300};
        for (const EdgePiece& piece : loop) {
            const int samples = piece.is_arc ? 64 : 1; // the ends are in it
            for (int k = 0; k <= samples; ++k) {
                const Point p = point_on(piece, static_cast<double>(k) / samples);
                const double x = dot(p, along), y = dot(p, left_of(along));
                box = {std::min(box.x0, x), std::max(box.x1, x), std::min(box.y0, y), std::max(box.y1, y)};
            }
        }
        return box;
    };
    const auto area = [](const Rectangle& box) { return (box.x1 - box.x0) * (box.y1 - box.y0); };
    LeaningBox best{.along = {1, 0}, .box = bounds_of(loop)};
    constexpr double surely = 1 - 1e-6;
    for (const EdgePiece& piece : loop) {
        if (piece.is_arc || runs_along_x_or_y(piece)) continue;
        Point along = 1 / length_of(piece.b - piece.a) * (piece.b - piece.a);
        if (along.x < 0 || (along.x == 0 && along.y < 0)) along = -1.0 * along;
        const Rectangle box = about(along);
        if (area(box) < surely * area(best.box)) best = {.along = along, .box = box};
    }
    return best;
}

namespace {
/// Stress in the turned axes from that in x and y: [along, across, shear].
Matrix3 turning(Point along) {
    const double c = along.x, s = along.y;
    return {c * c, s * s, 2 * s * c, s * s, c * c, -2 * s * c, -s * c, s * c, c * c - s * s};
}
} // namespace

Matrix3 in_axes(const Matrix3& Q, Point along) {
    const Matrix3 T = turning(along);
    Matrix3 turned{};
    for (size_t i = 0; i < 3; ++i)
        for (size_t j = 0; j < 3; ++j)
            for (size_t k = 0; k < 3; ++k)
                for (size_t l = 0; l < 3; ++l)
                    turned[3 * i + j] += T[3 * i + k] * Q[3 * k + l] * T[3 * j + l];
    return turned;
}

PlaneForces in_axes(const PlaneForces& forces, Point along) {
    const Matrix3 T = turning(along);
    PlaneForces turned{};
    for (size_t i = 0; i < 3; ++i)
        for (size_t j = 0; j < 3; ++j) turned[i] += T[3 * i + j] * forces[j];
    return turned;
}

std::vector<SkinPoints> skin_points(const Shell& shell) {
    std::vector<SkinPoints> skins;
    std::map<std::array<long long, 5>, std::shared_ptr<const PressedPlate>>
        known; // by sides and thickness in nm, and the axis
    const auto key = [](double mm) { return std::llround(mm * 1e6); };
    for (size_t r = 0; r < shell.field.recesses.size(); ++r) {
        const RecessPlan& plan = shell.field.recesses[r];
        if (!plan.lands.empty() || plan.loop.empty()) continue;
        // an uneven skin is held to buckle where one as thin as its thinnest place all over would: it buckles later
        const LeaningBox about = smallest_box(plan.loop);
        const Rectangle& box = about.box;
        const double thickness = thinnest_of(plan), wide = box.x1 - box.x0, deep = box.y1 - box.y0;
        std::shared_ptr<const PressedPlate>& plate =
            known[{key(wide), key(deep), key(thickness), key(about.along.x), key(about.along.y)}];
        if (!plate)
            plate = std::make_shared<const PressedPlate>(in_axes(shell.plane.Q, about.along), thickness,
                                                         Rectangle{0, wide, 0, deep},
                                                         PlateEdges::simply_supported);
        SkinPoints skin{.recess = static_cast<int>(r), .along = about.along, .plate = plate, .means = {}};
        for (const Point& from_corner : plate->points()) {
            const Point p =
                (box.x0 + from_corner.x) * about.along + (box.y0 + from_corner.y) * left_of(about.along);
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
            forces[k] = in_axes(forces[k], skin.along);
            pressing = std::max({pressing, -forces[k][0], -forces[k][1], std::abs(forces[k][2])});
        }
        if (!(pressing > 0)) continue;
        const auto factor = skin.plate->buckling(forces);
        if (factor && (!lowest || *factor < *lowest)) lowest = factor;
    }
    return lowest;
}

} // namespace hollowtop
