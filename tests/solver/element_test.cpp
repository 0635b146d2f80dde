// SPDX-License-Identifier: MIT
#include "solver/shell/element.hpp"

#include "solver/numeric/quadrature.hpp"
#include "solver/numeric/symmetric_eigen.hpp"
#include "tests/solver/shell_for_tests.hpp"

#include <Eigen/Core>
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <span>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const Elastic wood{
    .E1 = 12000, .E2 = 700, .nu12 = 0.4, .G12 = 800, .G13 = 800, .G23 = 150, .density_kg_m3 = 680};
const PlaneStiffness plane = plane_stiffness(wood, 30);

Cell cell_of(double x0, double x1, double y0, double y1) {
    return {.x0 = x0,
            .x1 = x1,
            .y0 = y0,
            .y1 = y1,
            .active = true,
            .cut = false,
            .place = {.region = full_thickness}};
}

Eigen::MatrixXd square(const std::vector<double>& m) {
    const auto n = static_cast<Eigen::Index>(std::lround(std::sqrt(static_cast<double>(m.size()))));
    return Eigen::Map<const Eigen::MatrixXd>(m.data(), n, n);
}

std::vector<QuadraturePoint> gauss_points(const Cell& cell, int n) {
    return cell_points(ThicknessField{}, cell, n);
}

} // namespace

TEST_CASE("integrals by products of lines are those by points all over the cell", "[solver][element]") {
    const Cell cell = cell_of(12, 97, -30, -11);
    for (const int order : {1, 2, 3, 4, 5}) {
        const ScalarMatrices lines = scalar_matrices(cell, order),
                             points = scalar_matrices(cell, order, gauss_points(cell, order + 1));
        for (int i = 0; i < 3; ++i)
            for (int j = 0; j < 3; ++j) {
                INFO("order " << order << ", kinds " << i << " and " << j);
                CHECK(largest_difference(lines.of[i][j], points.of[i][j]) <
                      1e-12 * largest_of(lines.of[i][j])); // rounding
            }
    }
}

TEST_CASE("the polynomials of a cell add up to one and give back place and slope", "[solver][element]") {
    const Cell cell = cell_of(100, 180, 40, 55);
    BasisAt basis;
    for (const int order : {1, 2, 3, 4}) {
        basis_at(cell, order, 133, 47, basis);
        const std::vector<double>& nodes = lobatto_rule(order + 1).points;
        double one = 0, x = 0, y = 0, xy_dx = 0, xy_dy = 0;
        std::size_t k = 0;
        for (int b = 0; b <= order; ++b)
            for (int a = 0; a <= order; ++a, ++k) {
                const double nx = 140 + 40 * nodes[static_cast<std::size_t>(a)],
                             ny = 47.5 + 7.5 * nodes[static_cast<std::size_t>(b)];
                one += basis.value[k];
                x += basis.value[k] * nx;
                y += basis.value[k] * ny;
                xy_dx += basis.dx[k] * nx * ny;
                xy_dy += basis.dy[k] * nx * ny;
            }
        CHECK_THAT(one, WithinRel(1, 1e-13)); // rounding
        CHECK_THAT(x, WithinRel(133, 1e-13));
        CHECK_THAT(y, WithinRel(47, 1e-13));
        CHECK_THAT(xy_dx, WithinRel(47, 1e-11)); // differences of numbers a hundred times as large
        CHECK_THAT(xy_dy, WithinRel(133, 1e-11));
    }
}

TEST_CASE("an element is symmetric and resists everything but its six rigid motions", "[solver][element]") {
    const Section section = plain_section(plane, 30, 0);
    const SectionOf section_of = [&](SectionRegion) -> const Section& { return section; };
    for (const int order : {2, 3, 4}) {
        const Eigen::MatrixXd K =
            square(element_stiffness(cell_of(0, 80, 0, 50), order, {}, section_of, section));
        CHECK(K == K.transpose());
        const std::vector<double> values =
            symmetric_eigen({K.data(), static_cast<std::size_t>(K.size())}, static_cast<int>(K.rows()))
                .values;
        const double greatest = values.back();
        // six zeros to rounding, then a gap: full integration leaves no false mode
        CHECK(std::abs(values[5]) < 1e-12 * greatest);
        CHECK(values[6] > 1e-9 * greatest);
    }
}

TEST_CASE("stretch and bending of a cell cost the energy of its section", "[solver][element]") {
    // w = (x^2 k)/2 with bx = -k x: curvature -k, no shear; u = e x
    const Section section = plain_section(plane, 24, 0);
    const SectionOf section_of = [&](SectionRegion) -> const Section& { return section; };
    const Cell cell = cell_of(0, 80, 0, 50);
    const double e = 3e-4, k = 2e-5;
    for (const int order : {2, 3, 4}) {
        const Eigen::MatrixXd K = square(element_stiffness(cell, order, {}, section_of, section));
        Eigen::VectorXd x(K.rows());
        const std::vector<double>& nodes = lobatto_rule(order + 1).points;
        Eigen::Index at = 0;
        for (int b = 0; b <= order; ++b)
            for (int a = 0; a <= order; ++a) {
                const double px = 40 + 40 * nodes[static_cast<std::size_t>(a)];
                x.segment<5>(at) << e * px, 0, k * px * px / 2, -k * px, 0;
                at += 5;
            }
        const double expected =
            80 * 50 * (section.C[0] * e * e + 2 * section.C[3] * e * -k + section.C[21] * k * k);
        CHECK_THAT(x.dot(K * x), WithinRel(expected, 1e-10)); // rounding, through some cancellation of shear
    }
}

TEST_CASE("an element matrix is the sum of its parts' shares", "[solver][element]") {
    // the same section over the two halves of a cell gives the whole
    const Cell cell = cell_of(0, 60, 0, 40);
    std::vector<QuadraturePoint> left, right;
    for (const QuadraturePoint& q : gauss_points(cell_of(0, 25, 0, 40), 5)) left.push_back(q);
    for (const QuadraturePoint& q : gauss_points(cell_of(25, 60, 0, 40), 5)) right.push_back(q);
    const Section section = plain_section(plane, 24, 0);
    const std::size_t size = 5 * 16;
    std::vector<double> whole(size * size, 0), parts(size * size, 0);
    add_stiffness(scalar_matrices(cell, 3), section, 1, 3, whole);
    add_stiffness(scalar_matrices(cell, 3, left), section, 0.5, 3, parts);
    add_stiffness(scalar_matrices(cell, 3, left), section, 0.5, 3, parts);
    add_stiffness(scalar_matrices(cell, 3, right), section, 1, 3, parts);
    CHECK(largest_difference(whole, parts) < 1e-12 * largest_of(whole)); // rounding
}

TEST_CASE("integrals over many points are the sums of those over a few of them at a time",
          "[solver][element]") {
    // a wedge in the corner of a cell, cut along a curve: some hundred points
    Piece piece = plain_piece(100, 60, 20);
    piece.top.outline = EllipseShape{.box = {0, 100, 0, 60}};
    const ThicknessField field = thickness_field(piece, plane);
    Cell cell = cell_of(0, 37, 0, 23);
    cell.cut = true;
    for (const int order : {2, 3, 4, 6}) {
        const std::vector<QuadraturePoint> points = cell_points(field, cell, order + 1);
        REQUIRE(points.size() > 100);
        const ScalarMatrices whole = scalar_matrices(cell, order, points);
        ScalarMatrices sum;
        constexpr std::size_t few = 8;
        for (std::size_t first = 0; first < points.size(); first += few) {
            const ScalarMatrices part = scalar_matrices(
                cell, order, std::span{points}.subspan(first, std::min(few, points.size() - first)));
            for (int i = 0; i < 3; ++i)
                for (int j = 0; j < 3; ++j) {
                    sum.of[i][j].resize(part.of[i][j].size(), 0);
                    for (std::size_t k = 0; k < part.of[i][j].size(); ++k)
                        sum.of[i][j][k] += part.of[i][j][k];
                }
        }
        for (int i = 0; i < 3; ++i)
            for (int j = 0; j < 3; ++j) {
                INFO("order " << order << ", kinds " << i << " and " << j);
                CHECK(largest_difference(whole.of[i][j], sum.of[i][j]) <
                      1e-12 * largest_of(sum.of[i][j])); // rounding
            }
    }
}

TEST_CASE("the void of a cut cell is all but free, and has no mass", "[solver][element]") {
    Piece piece = plain_piece(100, 100, 20);
    piece.top.outline = PolygonShape{.points = {{0, 0}, {100, 0}, {0, 100}}, .corner_radius = 0};
    const ThicknessField field = thickness_field(piece, plane);
    Cell cell = cell_of(0, 100, 0, 100);
    cell.cut = true;
    const auto points = cell_points(field, cell, 4);
    const Section section = plain_section(plane, 20, 0);
    const SectionOf section_of = [&](SectionRegion) -> const Section& { return section; };
    std::vector<double> moved(5 * 16, 0), force(moved.size(), 0);
    for (std::size_t node = 0; node < 16; ++node) moved[node * 5 + 2] = 1;
    const ElementMass mass = element_mass(cell, 3, points, section_of);
    apply_mass(mass, 3, 1, moved, force);
    double kg = 0;
    for (std::size_t node = 0; node < 16; ++node) kg += force[node * 5 + 2];
    CHECK_THAT(kg, WithinRel(680e-9 * 20 * 5000, 1e-12)); // a triangle, exactly
    // the far corner's own stiffness is between the void's share and a little wood
    const Eigen::MatrixXd K = square(element_stiffness(cell, 3, points, section_of, section));
    CHECK(K(15 * 5 + 2, 15 * 5 + 2) > 0);
    const double full = square(element_stiffness(cell_of(0, 100, 0, 100), 3, {}, section_of, section))(
        15 * 5 + 2, 15 * 5 + 2);
    CHECK(K(15 * 5 + 2, 15 * 5 + 2) < 0.01 * full);
}
