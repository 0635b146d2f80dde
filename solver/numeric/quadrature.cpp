// SPDX-License-Identifier: MIT
#include "solver/numeric/quadrature.hpp"

#include "materials/assert.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

/// Legendre polynomial of degree n and its slope at x, |x| < 1.
struct Legendre {
    double value, slope;
};
Legendre legendre(int n, double x) {
    double previous = 1, current = x;
    if (n == 0) return {1, 0};
    for (int k = 2; k <= n; ++k) {
        const double next = ((2 * k - 1) * x * current - (k - 1) * previous) / k;
        previous = current;
        current = next;
    }
    return {current, n * (x * current - previous) / (x * x - 1)};
}

Rule make_gauss(int n) {
    Rule rule;
    rule.points.resize(static_cast<size_t>(n));
    rule.weights.resize(static_cast<size_t>(n));
    for (int i = 0; i < (n + 1) / 2; ++i) {
        double x = std::cos(std::numbers::pi * (i + 0.75) / (n + 0.5));
        for (int k = 0; k < 100; ++k) {
            const Legendre p = legendre(n, x);
            const double step = p.value / p.slope;
            x -= step;
            if (std::abs(step) < 1e-16) break;
        }
        if (2 * i + 1 == n) x = 0;
        const Legendre p = legendre(n, x);
        const double weight = 2 / ((1 - x * x) * p.slope * p.slope);
        const auto low = static_cast<size_t>(i), high = static_cast<size_t>(n - 1 - i);
        rule.points[low] = -x;
        rule.points[high] = x;
        rule.weights[low] = rule.weights[high] = weight;
    }
    return rule;
}

/// Interior Lobatto points are the roots of P'_(n-1).
Rule make_lobatto(int n) {
    Rule rule;
    rule.points.assign(static_cast<size_t>(n), 0);
    rule.weights.assign(static_cast<size_t>(n), 0);
    const int m = n - 1;
    for (int i = 0; i <= m / 2; ++i) {
        double x = i == 0 ? 1.0 : std::cos(std::numbers::pi * i / m);
        if (i > 0) {
            for (int k = 0; k < 100; ++k) {
                const Legendre p = legendre(m, x);
                // P'' from Legendre's equation: (1 - x^2) P'' = 2 x P' - m (m + 1) P
                const double curvature = (2 * x * p.slope - m * (m + 1) * p.value) / (1 - x * x);
                const double step = p.slope / curvature;
                x -= step;
                if (std::abs(step) < 1e-16) break;
            }
            if (2 * i == m) x = 0;
        }
        const double value = i == 0 ? 1.0 : legendre(m, x).value;
        const double weight = 2.0 / (m * n * value * value);
        const auto low = static_cast<size_t>(i), high = static_cast<size_t>(m - i);
        rule.points[low] = -x;
        rule.points[high] = x;
        rule.weights[low] = rule.weights[high] = weight;
    }
    return rule;
}

constexpr int most_points = 40;

/// All rules up to most_points, made once.
std::array<Rule, most_points + 1> all_rules(int first, Rule (*make)(int)) {
    std::array<Rule, most_points + 1> rules;
    for (int n = first; n <= most_points; ++n) rules[static_cast<size_t>(n)] = make(n);
    return rules;
}

/// 1 over the product of the distances from each Lobatto node to the others.
std::array<std::array<double, max_order + 1>, max_order + 1> all_scales() {
    std::array<std::array<double, max_order + 1>, max_order + 1> scales{};
    for (int order = 1; order <= max_order; ++order) {
        const std::vector<double>& nodes = lobatto_rule(order + 1).points;
        for (size_t i = 0; i < nodes.size(); ++i) {
            double product = 1;
            for (size_t j = 0; j < nodes.size(); ++j)
                if (j != i) product *= nodes[i] - nodes[j];
            scales[static_cast<size_t>(order)][i] = 1 / product;
        }
    }
    return scales;
}

} // namespace

const Rule& gauss_rule(int n) {
    static const std::array<Rule, most_points + 1> rules = all_rules(1, make_gauss);
    HOLLOWTOP_ASSERT(n >= 1 && n <= most_points);
    return rules[static_cast<size_t>(n)];
}

const Rule& lobatto_rule(int n) {
    static const std::array<Rule, most_points + 1> rules = all_rules(2, make_lobatto);
    HOLLOWTOP_ASSERT(n >= 2 && n <= most_points);
    return rules[static_cast<size_t>(n)];
}

namespace {

/// The polynomials of an order as sums of powers, side by side: value[k] holds what each has of the power k.
constexpr size_t side_by_side = 8;
using Powers = std::array<std::array<double, side_by_side>, side_by_side>;

Powers powers_of(int order) {
    Powers powers{};
    const std::vector<double>& nodes = lobatto_rule(order + 1).points;
    for (size_t i = 0; i < nodes.size(); ++i) {
        std::vector<double> product{all_scales()[static_cast<size_t>(order)][i]};
        for (size_t j = 0; j < nodes.size(); ++j) {
            if (j == i) continue;
            product.push_back(0);
            for (size_t k = product.size(); k-- > 1;) product[k] = product[k - 1] - nodes[j] * product[k];
            product[0] *= -nodes[j];
        }
        for (size_t k = 0; k < product.size(); ++k) powers[k][i] = product[k];
    }
    return powers;
}

/// Horner's rule on all of them at once.
template <size_t n> void fill_by_powers(const Powers& powers, double xi, Basis1d& basis) {
    using All = Eigen::Array<double, side_by_side, 1>;
    const auto of_power = [&](size_t k) { return Eigen::Map<const All>(powers[k].data()); };
    All value = of_power(n - 1), slope = All::Zero();
    for (size_t k = n - 1; k-- > 0;) {
        slope = slope * xi + value;
        value = value * xi + of_power(k);
    }
    Eigen::Map<All>(basis.value.data()) = value; // what lies past the order's own is zero
    Eigen::Map<All>(basis.slope.data()) = slope;
}

} // namespace

Basis1d lagrange_basis(int order, double xi) {
    static const auto scales = all_scales();
    HOLLOWTOP_ASSERT(order >= 1 && order <= max_order);
    const std::vector<double>& nodes = lobatto_rule(order + 1).points;
    const auto& scale = scales[static_cast<size_t>(order)];
    const auto n = static_cast<size_t>(order + 1);
    Basis1d basis;
    for (size_t i = 0; i < n; ++i) {
        double value = 1, slope = 0;
        for (size_t j = 0; j < n; ++j) {
            if (j == i) continue;
            slope = slope * (xi - nodes[j]) + value;
            value *= xi - nodes[j];
        }
        basis.value[i] = value * scale[i];
        basis.slope[i] = slope * scale[i];
    }
    return basis;
}

Basis1d lagrange_basis_for_reading(int order, double xi) {
    static const Powers third = powers_of(3), fourth = powers_of(4);
    if (order != 3 && order != 4) return lagrange_basis(order, xi);
    Basis1d basis;
    if (order == 3)
        fill_by_powers<4>(third, xi, basis);
    else
        fill_by_powers<5>(fourth, xi, basis);
    return basis;
}

} // namespace hollowtop
