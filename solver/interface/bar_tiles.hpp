// SPDX-License-Identifier: MIT
#pragma once
/// \file  A bar's contact with the wood, cut into tiles along it, and what a tile holds: pressure, or glue.
/// Units: N, mm, MPa.

#include "solver/interface/connection_plan.hpp"
#include "solver/mesh/thickness_field.hpp"

#include <array>
#include <vector>

namespace hollowtop {

/// A stretch of a bar: one tile long.
struct BarStretch {
    double from = 0, to = 0; ///< from the middle of the bar
    int screw = -1;          ///< index into the bar's own screws
    double middle() const { return (from + to) / 2; }
    double half() const { return (to - from) / 2; }
};

/// As few equal stretches as are not longer than `longest`.
std::vector<BarStretch> cut_evenly(double from, double to, double longest);
/// A short stretch about each of the screws (from the bar's middle, in order), and the rest in pieces of at most 100 mm.
std::vector<BarStretch> cut_at_screws(double length, const std::vector<double>& screws, double longest,
                                      double widest_seat);

/// Adds the tiles of one bar to a plan.
struct BarTiles {
    ConnectionPlan& plan;
    const ThicknessField& field;
    double modulus; ///< of the top through its thickness, MPa
    int beam_index; ///< in ConnectionPlan::beams

    const Beam& beam() const { return plan.beams[static_cast<size_t>(beam_index)]; }
    /// Of what touches the wood.
    double width() const { return beam().section.contact_y1 - beam().section.contact_y0; }
    /// Of the wood over the bar, `s` from its middle.
    double thickness_at(double s) const;
    /// A unit force on the top over a tile; `y` to the left of the bar's line. Returns its index in the plan.
    int add_column(const BarStretch& stretch, double y, double half_across,
                   std::array<double, 3> direction) const;
    /// An even force over the stretch, as seen by the bar: two Gauss points.
    InlineVector<BeamForce, 2> spread(const BarStretch& stretch, double y, std::array<double, 3> force) const;
    /// Of the wood over an area of it, compressed through its thickness: h / (E3 A), mm/N.
    double compliance_of(const BarStretch& stretch, double area) const;

    /// The bar presses on the wood, and only presses.
    Connection contact(const BarStretch& stretch, int column, double y, double area) const;
    /// Glue holds it there, `on_bar` the force on the bar.
    Connection bond(const BarStretch& stretch, int column, double y, double area,
                    std::array<double, 3> on_bar) const;
};

} // namespace hollowtop
