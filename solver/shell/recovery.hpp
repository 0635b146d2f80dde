// SPDX-License-Identifier: MIT
#pragma once
/// \file  Movements, strains and stresses back from the shell's dofs.
///
/// Face stresses are means over a square as wide as the thickness there, as far as it stays on the same side
/// of a wall, so that no number depends on the mesh (mean-stress view of brittle wood: Serrano and
/// Gustafsson, Fracture mechanics in timber engineering, Materials and Structures 40, 2007, 87-96). A
/// polynomial's mean over a rectangle is the product of two one-dimensional integrals, so the means are
/// exact.
/// `dofs` are those of the reference surface (see to_reference_surface). Units: mm, MPa, N.

#include "solver/numeric/quadrature.hpp"
#include "solver/result/response.hpp"
#include "solver/shell/shell.hpp"

#include <array>
#include <memory>
#include <span>
#include <vector>

namespace hollowtop {

/// Integrals (or values) of the polynomials of one line of a cell, and of their slopes.
struct LineMean {
    std::array<double, max_order + 1> value{}, slope{};
};

/// Upward movement w at one point as a linear form in the dofs: a form along x times a form along y, in one
/// cell.
struct MovementForm {
    int cell = -1; ///< -1: there is no top
    std::array<double, max_order + 1> x{}, y{};
};
MovementForm movement_form(const Shell& shell, Point point);
double movement_of(const Shell& shell, const MovementForm& form, std::span<const double> dofs);
/// The same from the upward movement of each node alone.
double movement_at_nodes(const Shell& shell, const MovementForm& form, std::span<const double> w);

/// Upward movement w at a point of the top; 0 where there is no top.
double movement_at(const Shell& shell, std::span<const double> dofs, Point point);

/// Mean strains over a square as a linear form in the dofs; the same square serves every situation.
struct StrainMean {
    /// The square's part in one cell, already weighted by its share of the square. In a plain cell it is a
    /// product of a form along x and a form along y; in a cut cell there is a number for each node.
    struct Part {
        int cell = 0;
        SectionRegion place{};
        LineMean x{}, y{};
        std::vector<double>
            nodes; ///< values of all nodes, then slopes along x, then along y; empty in a plain cell
    };
    Point at{};
    int region = outside;
    double thickness = 0;
    std::vector<Part> parts;
};

/// The mean about `point`, over the square as wide as the thickness there. region == outside where there is
/// no top.
StrainMean strain_mean(const Shell& shell, Point point);

/// The mean over the square of side `side`; a side of 0 takes the point itself.
StrainMean strain_mean(const Shell& shell, Point point, double side);

/// Strains of the wood [e0; k] (6) and transverse shear strains (2), of a mean.
std::array<double, 8> strains_of(const Shell& shell, const StrainMean& mean, std::span<const double> dofs);

/// Face stresses in grain axes and shear through the thickness.
StressSample stress_of(const Shell& shell, const StrainMean& mean, std::span<const double> dofs);

/// Fields of movement that are read side by side, so many at a time. A field has the dofs of the shell.
class FieldsAbreast {
  public:
    static constexpr size_t group_size = 8;
    explicit FieldsAbreast(std::span<const std::span<const double>> fields);
    ~FieldsAbreast();
    FieldsAbreast(FieldsAbreast&&) noexcept;
    FieldsAbreast& operator=(FieldsAbreast&&) noexcept;
    size_t size() const;
    size_t n_groups() const;
    /// Fields of a group: group_size, fewer in the last.
    size_t size_of(size_t group) const;
    /// stress_of in each field of a group, in their order. What a field gives does not depend on those beside
    /// it.
    void stresses(const Shell& shell, const StrainMean& mean, size_t group,
                  std::span<StressSample> samples) const;

  private:
    struct Body;
    std::unique_ptr<Body> body_;
};

/// The same for many means: one row a field, in their order, each as long as `means`.
std::vector<std::vector<StressSample>> stresses_of(const Shell& shell, std::span<const StrainMean> means,
                                                   const FieldsAbreast& fields);

enum class Face { top, bottom };

/// A face stress as a linear form in the dofs, of the `axis` along (0) or across (1) the grain or of shear in
/// the plane (2): one column more. Empty where there is no top.
void append_stress_form(const Shell& shell, const StrainMean& mean, Face face, int axis,
                        SparseColumns& forms);

/// Bending moments Mx, My, Mxy per width about mid-thickness at the point itself, sagging +.
std::array<double, 3> moments_at(const Shell& shell, std::span<const double> dofs, Point point);

/// Means all over the top: nine a cell, one where the cell is smaller than `sparse` thicknesses.
std::vector<StrainMean> survey_means(const Shell& shell, double sparse = 1);

} // namespace hollowtop
