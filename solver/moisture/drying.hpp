// SPDX-License-Identifier: MIT
#pragma once
/// \file  Moisture on one line through the thickness, in air that changes.
///
///     air | S_above | cell 0 | cell 1 | ... | cell n-1 | S_below | air      u_rest(t): what wood in that air comes to
///                   z = 0, the top face             z = -thickness
///
///     du/dt = d/dz (D(u) du/dz),     -D du/dn = S (u - u_rest) at each face, n outward
///
/// Cells of finite volume, narrow at the faces; in time the diagonally implicit method of two stages that is
/// L-stable and of second order (Alexander, SIAM J. Numer. Anal. 14, 1977). What the wood gains is what went
/// through its faces, to rounding. Source of the equations: Crank, The Mathematics of Diffusion, 1975, ch. 4.
/// mm, s; moisture in percent of dry mass. Limits: nothing through the edges; one temperature; below fibre
/// saturation.

#include <functional>
#include <vector>

namespace hollowtop {

struct DryingLine {
    double thickness = 0;            ///< mm
    double S_above = 0, S_below = 0; ///< mm/s; 0: sealed
    double D_at_12 = 0;              ///< mm2/s at 12 %
    double D_growth_per_percent = 0; ///< D = D_at_12 exp(growth (u - 12))
    double D(double percent) const;
};

/// Means of the cells, from the top face down.
struct MoistureProfile {
    std::vector<double> width; ///< mm
    std::vector<double> percent;
};

inline constexpr int usual_cells = 64;

/// The same moisture in all cells; `cells` an even number.
MoistureProfile even_profile(double thickness, double percent, int cells = usual_cells);

/// A value at each face.
struct Faces {
    double above = 0, below = 0;
};

/// Moisture that wood comes to in the air over each face at a time, percent; time in s.
using RestMoisture = std::function<Faces(double)>;
/// The same air over both.
RestMoisture air_over_both(std::function<double(double)> rest);

/// One step from `from` to `from + step`: what went in through each face, percent x mm. Throws
/// Error(not_computable) where D(u) does not settle.
Faces dry(const DryingLine& line, MoistureProfile& profile, const RestMoisture& rest, double from,
          double step);

/// The wood right at each face, in air that wood comes to `rest` in.
Faces face_moisture(const DryingLine& line, const MoistureProfile& profile, Faces rest);

/// The straight line that fits a profile best: its mean, and how far the top face is above the underside.
struct StraightPart {
    double mean = 0, difference = 0;
    /// The line at a depth below the top face, a share of the thickness.
    double at(double share) const { return mean + difference * (0.5 - share); }
};
StraightPart straight_part(const MoistureProfile& profile);

} // namespace hollowtop
