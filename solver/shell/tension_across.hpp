// SPDX-License-Identifier: MIT
#pragma once
/// \file  Tension across the grain, summed up over the whole top as a chain of weakest links sees it.
///
///     norm = ( integral of <s>^m dV )^(1/m)
///
/// <s>: tension across the grain in the plane at each point of the wood, of membrane and bending together,
/// nought where it is pressed. Of pieces whose links break independently and whose strengths scatter as
/// Weibull's law says (A statistical theory of the strength of materials, 1939), two bear their loads alike
/// that have the same norm; norm / V^(1/m) is the even tension that is as hard on a volume V.
/// s is linear through the thickness, so that integral is exact:
///     integral of <s>^m dz = h sum of t^i b^(m-i), i = 0..m, / (m + 1)         faces t and b both pulled
///                          = h p^(m+1) / ((m + 1)(p + q))                      one pulled by p, the other pressed by q
/// In the plane Gauss points of each cell, cut along the edges of what is left out (left_out.hpp). N, mm,
/// MPa.

#include "solver/mesh/left_out.hpp"
#include "solver/result/response.hpp"
#include "solver/shell/shell.hpp"

#include <array>
#include <map>
#include <span>
#include <utility>
#include <vector>

namespace hollowtop {

/// Mean over the thickness of <s>^m between what the two faces bear.
double mean_through_thickness(double top, double bottom, int m);

/// Where the integral is taken on one mesh: the same for every field of movements.
class TensionPoints {
  public:
    TensionPoints() = default;
    /// `line_ends` as in left_out. `brief`: fewer points, for the many fields of a search on a coarse mesh.
    TensionPoints(const Shell& shell, std::span<const Point> line_ends, bool brief = false);

    /// Of each field of dofs of the reference surface, in their order. What a field gives does not depend on
    /// those beside it.
    std::vector<TensionAcross> of(const Shell& shell, int exponent,
                                  std::span<const std::span<const double>> fields) const;

    /// Of the wood that is not left out, mm3.
    double volume() const { return volume_; }

    /// Is the wood at that point of the top summed up? No: it is left out, or there is none.
    bool holds(const Shell& shell, Point at) const;

  private:
    /// Tension across the grain on both faces as linear forms in the strains of the section.
    struct Form {
        double thickness = 0;
        std::array<double, 8> top{}, bottom{};
        bool plain = true; ///< of strains in the plane alone
    };
    /// Points of one cell that stand in rows and columns: a pair of polynomials' values and slopes each.
    struct Block {
        int cell = 0, leaf = -1;
        size_t form = 0;
        size_t first_x = 0, n_x = 0, first_y = 0, n_y = 0; ///< lines
        size_t first_weight = 0;
    };
    void add_fields(const Shell& shell, int exponent, std::span<const std::span<const double>> fields,
                    std::span<TensionAcross> sums) const;
    size_t form_of(const Shell& shell, const SectionRegion& place, Point at);
    void add_whole(const Shell& shell, int index, const SectionRegion& place, int n);
    void add_cut(const Shell& shell, int index, std::span<const QuadraturePoint> points);

    std::vector<Form> forms_{};
    std::map<std::pair<SectionRegion, double>, size_t> known_forms_{}; ///< by place and thickness
    std::vector<Block> blocks_{};
    std::vector<double> at_{}; ///< coordinate of each line
    std::vector<double> weights_{};
    LeftOut left_{};
    double volume_ = 0;
};

} // namespace hollowtop
