// SPDX-License-Identifier: MIT
#pragma once
/// \file  Strains and stresses back from the shell's dofs.
///
/// Face stresses are means (strain_mean.hpp): sigma = Q (e0 + z k) on each face, turned to the grain; shear through the
/// thickness is parabolic. docs/method.md, "Stresses".
/// `dofs` are those of the reference surface (see to_reference_surface). Units: mm, MPa, N.

#include "solver/result/response.hpp"
#include "solver/shell/shell.hpp"
#include "solver/shell/strain_mean.hpp"

#include <array>
#include <memory>
#include <span>
#include <vector>

namespace hollowtop {

/// Strains of the wood [e0; k] (6; -, 1/mm) and transverse shear strains (2), of a mean. On a board of another
/// stiffness than the mean of all, that many times as much: with the top's constants they give the stress.
std::array<double, 8> strains_of(const Shell& shell, const StrainMean& mean, std::span<const double> dofs);

/// Face stresses in grain axes and shear through the thickness, MPa; zeros where there is no top.
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

/// Bending moments Mx, My, Mxy per width, N mm/mm, about mid-thickness at the point itself, sagging +.
std::array<double, 3> moments_at(const Shell& shell, std::span<const double> dofs, Point point);

} // namespace hollowtop
