// SPDX-License-Identifier: MIT
#include "solver/numeric/symmetric_eigen.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("eigenvalues rise and their vectors turn the matrix into them", "[solver][eigen]") {
    const std::array<double, 9> A{4, 1, -2, 1, 3, 0.5, -2, 0.5, 6};
    const SymmetricEigen eigen = symmetric_eigen(A, 3);
    CHECK(eigen.values[0] < eigen.values[1]);
    CHECK(eigen.values[1] < eigen.values[2]);
    CHECK_THAT(eigen.values[0] + eigen.values[1] + eigen.values[2], WithinRel(13, 1e-14)); // trace; rounding
    for (std::size_t k = 0; k < 3; ++k)
        for (std::size_t i = 0; i < 3; ++i) {
            double turned = 0;
            for (std::size_t j = 0; j < 3; ++j) turned += A[3 * j + i] * eigen.vectors[3 * k + j];
            CHECK_THAT(turned, WithinAbs(eigen.values[k] * eigen.vectors[3 * k + i], 1e-13)); // rounding
        }
}

TEST_CASE("the pair of two matrices has the eigenvalues worked by hand", "[solver][eigen]") {
    // det(A - l B) = (2 - 2 l)(3 - l) - (1 - l/2)^2 = 1.75 l^2 - 7 l + 5
    const std::array<double, 4> A{2, 1, 1, 3}, B{2, 0.5, 0.5, 1};
    const std::vector<double> values = symmetric_eigenvalues(A, B, 2);
    const double root = std::sqrt(49 - 4 * 1.75 * 5);
    CHECK_THAT(values[0], WithinRel((7 - root) / 3.5, 1e-13)); // rounding
    CHECK_THAT(values[1], WithinRel((7 + root) / 3.5, 1e-13));
}

TEST_CASE("a plane is found again from its own heights, and no tilt where the places leave it open",
          "[solver][eigen]") {
    const auto at = [](double x, double y, double value, double weight) {
        return WeighedPoint{.x = x, .y = y, .value = value, .weight = weight};
    };
    const std::array<WeighedPoint, 4> four{at(0, 0, 1, 1), at(100, 0, 3, 2), at(0, 50, 0, 0.5),
                                           at(100, 50, 2, 1)};
    const FlatPlane plane = fitted_plane(four);
    CHECK_THAT(plane.at(30, 20), WithinRel(1 + 0.6 - 0.4, 1e-12)); // rounding
    const std::array<WeighedPoint, 3> line{at(0, 10, 1, 1), at(50, 10, 2, 1), at(100, 10, 3, 1)};
    CHECK_THAT(fitted_plane(line).at(25, 10), WithinRel(1.5, 1e-12));
    CHECK_THAT(fitted_plane(line).at(25, 500), WithinRel(1.5, 1e-9)); // across the line: level
    const std::array<WeighedPoint, 2> place{at(7, 7, 4, 1), at(7, 7, 6, 1)};
    CHECK_THAT(fitted_plane(place).at(100, -3), WithinRel(5, 1e-9));
    CHECK(fitted_plane({}).at(1, 1) == 0);
}

TEST_CASE("the greatest eigenvalue alone is the last of all", "[solver][eigen]") {
    for (const int n : {1, 2, 7, 64})
        for (const double shift : {-40.0, 0.0, 1e6}) {
            std::vector<double> values(static_cast<std::size_t>(n * n));
            for (int i = 0; i < n; ++i)
                for (int j = 0; j < n; ++j)
                    values[static_cast<std::size_t>(j * n + i)] =
                        std::sin(1.7 * (i + 1) * (j + 1)) + std::cos(0.3 * (i + j)) + (i == j ? shift : 0);
            const std::vector<double> all = symmetric_eigenvalues(values, n);
            REQUIRE(all.size() == static_cast<std::size_t>(n));
            CHECK_THAT(greatest_eigenvalue(values, n),
                       WithinAbs(all.back(), 1e-13 * std::max(std::abs(all.front()), std::abs(all.back()))));
        }
    const std::vector<double> nothing(9, 0), apart{3, 0, 0, 0, -5, 0, 0, 0, 3};
    CHECK(greatest_eigenvalue(nothing, 3) == 0);
    CHECK_THAT(greatest_eigenvalue(apart, 3), WithinAbs(3, 1e-15)); // twice
}
