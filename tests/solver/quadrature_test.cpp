// SPDX-License-Identifier: MIT
#include "solver/numeric/quadrature.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// Sums of at most a dozen terms of size one: a few units in the last of sixteen digits.
constexpr double rounding = 1e-14;

double integral_of_power(const Rule& rule, int power) {
    double sum = 0;
    for (std::size_t i = 0; i < rule.points.size(); ++i)
        sum += rule.weights[i] * std::pow(rule.points[i], power);
    return sum;
}

double exact(int power) { return power % 2 == 1 ? 0 : 2.0 / (power + 1); }

double factorial(int n) { return n < 2 ? 1 : n * factorial(n - 1); }

} // namespace

TEST_CASE("n Gauss points integrate every polynomial of degree 2n - 1 exactly", "[solver][quadrature]") {
    for (int n = 1; n <= 12; ++n)
        for (int power = 0; power <= 2 * n - 1; ++power) {
            INFO(n << " points, degree " << power);
            CHECK_THAT(integral_of_power(gauss_rule(n), power), WithinAbs(exact(power), rounding));
        }
}

TEST_CASE("one degree further Gauss errs by its published remainder", "[solver][quadrature][published]") {
    // Abramowitz and Stegun, Handbook of Mathematical Functions, 25.4.29:
    // R_n = 2^(2n+1) (n!)^4 / ((2n+1) [(2n)!]^3) f^(2n)
    for (int n = 1; n <= 8; ++n) {
        const double remainder = std::pow(2, 2 * n + 1) * std::pow(factorial(n), 4) /
                                 ((2 * n + 1) * std::pow(factorial(2 * n), 3)) * factorial(2 * n);
        INFO(n << " points");
        CHECK_THAT(exact(2 * n) - integral_of_power(gauss_rule(n), 2 * n), WithinAbs(remainder, rounding));
    }
}

TEST_CASE("n Lobatto points integrate every polynomial of degree 2n - 3 exactly", "[solver][quadrature]") {
    for (int n = 2; n <= 9; ++n)
        for (int power = 0; power <= 2 * n - 3; ++power) {
            INFO(n << " points, degree " << power);
            CHECK_THAT(integral_of_power(lobatto_rule(n), power), WithinAbs(exact(power), rounding));
        }
}

TEST_CASE("one degree further Lobatto errs by its published remainder", "[solver][quadrature][published]") {
    // Abramowitz and Stegun, Handbook of Mathematical Functions, 25.4.32:
    // R_n = - n (n-1)^3 2^(2n-1) [(n-2)!]^4 / ((2n-1) [(2n-2)!]^3) f^(2n-2)
    for (int n = 2; n <= 8; ++n) {
        const double remainder = -n * std::pow(n - 1, 3) * std::pow(2, 2 * n - 1) *
                                 std::pow(factorial(n - 2), 4) /
                                 ((2 * n - 1) * std::pow(factorial(2 * n - 2), 3)) * factorial(2 * n - 2);
        INFO(n << " points");
        CHECK_THAT(exact(2 * n - 2) - integral_of_power(lobatto_rule(n), 2 * n - 2),
                   WithinAbs(remainder, rounding));
    }
}

TEST_CASE("the rules hold their tabled points and weights", "[solver][quadrature][published]") {
    // Abramowitz and Stegun, tables 25.4 and 25.6, in their closed forms
    const Rule& gauss = gauss_rule(3);
    CHECK_THAT(gauss.points[2], WithinRel(std::sqrt(0.6), rounding));
    CHECK(gauss.points[1] == 0);
    CHECK_THAT(gauss.weights[1], WithinRel(8.0 / 9, rounding));
    CHECK_THAT(gauss.weights[0], WithinRel(5.0 / 9, rounding));
    const Rule &four = lobatto_rule(4), &five = lobatto_rule(5);
    CHECK(four.points.front() == -1);
    CHECK(four.points.back() == 1);
    CHECK_THAT(four.points[2], WithinRel(std::sqrt(0.2), rounding));
    CHECK_THAT(four.weights[0], WithinRel(1.0 / 6, rounding));
    CHECK_THAT(four.weights[1], WithinRel(5.0 / 6, rounding));
    CHECK_THAT(five.points[3], WithinRel(std::sqrt(3.0 / 7), rounding));
    CHECK_THAT(five.weights[0], WithinRel(0.1, rounding));
    CHECK_THAT(five.weights[1], WithinRel(49.0 / 90, rounding));
    CHECK_THAT(five.weights[2], WithinRel(32.0 / 45, rounding));
}

TEST_CASE("points and weights are the same from the left as from the right", "[solver][quadrature]") {
    // to the last bit: a mirrored piece must give the same numbers
    for (int n = 2; n <= 9; ++n)
        for (const Rule* rule : {&gauss_rule(n), &lobatto_rule(n)})
            for (std::size_t i = 0; i < rule->points.size(); ++i) {
                const std::size_t other = rule->points.size() - 1 - i;
                CHECK(rule->points[i] == -rule->points[other]);
                CHECK(rule->weights[i] == rule->weights[other]);
            }
}

TEST_CASE("each polynomial is one at its own node and nothing at the others", "[solver][quadrature]") {
    for (int order = 1; order <= max_order; ++order) {
        const Rule& nodes = lobatto_rule(order + 1);
        for (std::size_t k = 0; k < nodes.points.size(); ++k) {
            const Basis1d basis = lagrange_basis(order, nodes.points[k]);
            for (std::size_t i = 0; i < nodes.points.size(); ++i)
                CHECK_THAT(basis.value[i], WithinAbs(i == k ? 1 : 0, rounding));
        }
    }
}

TEST_CASE("the polynomials give back any polynomial of their order, and its slope", "[solver][quadrature]") {
    for (int order = 1; order <= max_order; ++order) {
        const Rule& nodes = lobatto_rule(order + 1);
        for (int power = 0; power <= order; ++power)
            for (const double xi : {-1.0, -0.83, -0.2, 0.0, 0.41, 0.999, 1.0}) {
                const Basis1d basis = lagrange_basis(order, xi);
                double value = 0, slope = 0;
                for (std::size_t i = 0; i < nodes.points.size(); ++i) {
                    value += basis.value[i] * std::pow(nodes.points[i], power);
                    slope += basis.slope[i] * std::pow(nodes.points[i], power);
                }
                INFO("order " << order << ", x^" << power << " at " << xi);
                // slopes of order 8 reach some 30 at the ends, so a digit more is lost there
                CHECK_THAT(value, WithinAbs(std::pow(xi, power), 10 * rounding));
                CHECK_THAT(slope,
                           WithinAbs(power == 0 ? 0 : power * std::pow(xi, power - 1), 100 * rounding));
            }
    }
}

TEST_CASE("for reading the polynomials are the same to fifteen digits", "[solver][quadrature]") {
    for (int order = 1; order <= max_order; ++order)
        for (const double xi : {-1.0, -0.83, -0.2, 0.0, 0.41, 0.999, 1.0}) {
            const Basis1d exact = lagrange_basis(order, xi), quick = lagrange_basis_for_reading(order, xi);
            INFO("order " << order << " at " << xi);
            for (std::size_t i = 0; i < exact.value.size(); ++i) {
                CHECK_THAT(quick.value[i], WithinAbs(exact.value[i], 2e-15));
                CHECK_THAT(quick.slope[i], WithinAbs(exact.slope[i], 2e-14));
            }
        }
}
