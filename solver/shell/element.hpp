// SPDX-License-Identifier: MIT
#pragma once
/// \file  The shell element on a cell of the tensor mesh: tensor-product Lagrange polynomials on
/// Gauss-Lobatto nodes, five dofs a node (u0, v0, w, bx, by), first-order shear, full integration. Orders 3
/// and 4 neither lock in shear nor in the coupling of bending and stretching.
/// Source: Mindlin 1951 (kinematics); Bathe, Finite Element Procedures, 1996, ch. 5 (isoparametric plates).
/// Shapes: element matrices are (5 (p+1)^2) squared, column-major; local node (a, b), a along x, is b (p+1) +
/// a; local dof is 5 node + component.

#include "solver/mesh/mesh.hpp"
#include "solver/section/section_stiffness.hpp"

#include <functional>
#include <span>
#include <vector>

namespace hollowtop {

inline constexpr int dofs_per_node = 5;

/// Stiffness in the void of a cell that an outline crosses, as a share of the wood's: keeps the factor
/// positive where a polynomial has almost all of its support outside. Its effect is below 1e-6 of any
/// movement.
inline constexpr double void_share = 1e-7;

using SectionOf = std::function<const Section&(SectionRegion)>;

/// Sections of an uneven skin: A, B, D, S and the masses are polynomials of the thickness h, of degree 3 at most and
/// nought with it, so that those at three thicknesses give all others, exactly: C(h) = sum share_k(h) C(h_k), with the
/// shares Lagrange's polynomials through 0 and the three. An element is then three sections over three sets of
/// integrals, h taken at every point. What yields beside a wall makes a section no polynomial: there h_k are the least,
/// the mean and the greatest h, and the shares those of a parabola through them.
struct UnevenSkin {
    double middle = 0; ///< h_k = 1 - spread, 1 and 1 + spread of it, mm
    double spread = 0.5;
    bool beside_wall = false;
    std::array<Section, 3> sections{};
    std::function<double(Point)> thickness;
};
std::array<double, 3> shares_at(double thickness, double middle);
/// Of a parabola through 1 - spread, 1 and 1 + spread of `middle`.
std::array<double, 3> parabola_shares_at(double thickness, double middle, double spread);
/// Of a place; null where it is even.
using UnevenOf = std::function<const UnevenSkin*(const SectionRegion&)>;

/// Integrals over a cell of products of the polynomials' values and slopes. kinds: 0 d/dx, 1 d/dy, 2 value.
/// `of[kind_i][kind_j]`, each (p+1)^2 squared, column-major.
struct ScalarMatrices {
    std::vector<double> of[3][3];
};
ScalarMatrices scalar_matrices(const Cell& cell, int order);
ScalarMatrices scalar_matrices(const Cell& cell, int order, std::span<const QuadraturePoint> points);

/// Adds the stiffness of one section over the given integrals to `matrix`.
void add_stiffness(const ScalarMatrices& integrals, const Section& section, double share, int order,
                   std::vector<double>& matrix);

/// Whole element matrix of a cell. `points` are cell_points(.., order + 1) of a cut cell, uneven_points() of an uneven
/// one, unused in a plain one; `stand_in` is the section used for void_share outside the outline.
std::vector<double> element_stiffness(const Cell& cell, int order, std::span<const QuadraturePoint> points,
                                      const SectionOf& section_of, const Section& stand_in,
                                      const UnevenOf& uneven_of = {});

/// y += M x on one element, x and y of size 5 (p+1)^2; mass of w, of u and v with the turning of the section.
/// kg.
/// `value_integrals` is ScalarMatrices::of[2][2] for each section in turn.
struct ElementMass {
    std::vector<std::vector<double>> value_integrals;
    std::vector<std::array<double, 3>> mass;
};
ElementMass element_mass(const Cell& cell, int order, std::span<const QuadraturePoint> points,
                         const SectionOf& section_of, const UnevenOf& uneven_of = {});
/// y += M x for `count` fields side by side: node by node the dofs_per_node values of each field in turn.
void apply_mass(const ElementMass& element, int order, int count, std::span<const double> x,
                std::span<double> y);

/// Values and slopes of all (p+1)^2 polynomials of the cell at a point in it: value, d/dx, d/dy.
struct BasisAt {
    std::vector<double> value, dx, dy;
};
void basis_at(const Cell& cell, int order, double x, double y, BasisAt& basis);

} // namespace hollowtop
