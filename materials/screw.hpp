// SPDX-License-Identifier: MIT
#pragma once
/// \file  Wood screws: how stiff and how strong one is, in shear and pulled out. N, mm, MPa, kg/m3.
/// Sources: EN 1995-1-1:2004+A1:2008 (eq. in each comment), Wood Handbook ch. 8, Huebner (2013).
/// Characteristic values (EC5) are multiplied by k_mod / gamma_M for design; the handbook's are ultimate or
/// proportional-limit loads as said.

#include "materials/duration.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::materials {

/// One row of data/screws.csv. `d`: shank of inch gauges, outer thread of metric screws. Empty root: the
/// source gives none.
struct ScrewSize {
    std::string id, size;
    double d = 0;
    std::optional<double> root;
    std::string source, status, note;
};
const std::vector<ScrewSize>& screw_sizes();

/// Thread root of a screw of diameter d: tabulated, else 0.7 d.
Sourced root_diameter(double d);

/// Effective diameter of the thread in the shear plane: 1.1 x the root (EC5 8.7.1).
Sourced effective_diameter(double d);

/// Slip stiffness of a screw, N/mm a shear plane: rho_mean^1.5 d / 23 (EC5 Table 7.1), twice that from steel
/// to timber (7.1(3)).
Sourced slip_stiffness(double d, double mean_density_kg_m3, bool steel_to_timber);

// ---- pulled out
// -------------------------------------------------------------------------------------------------

/// Ultimate withdrawal from side grain: 108.25 G^2 D L; G specific gravity at 12 %, D shank, L threaded
/// length in the wood.
/// Wood Handbook Eq. 8-10.
Sourced withdrawal_handbook(double G, double D, double L);
/// The same for lag screws: 125.4 G^1.5 D^0.75 L. Wood Handbook Eq. 8-14.
Sourced withdrawal_lag_handbook(double G, double D, double L);
/// A fifth of the ultimate, for design.
Sourced withdrawal_handbook_design(double G, double D, double L);
/// What the weakest 5 % of such screws bear at most: 1 - 1.645 x 20 % of the ultimate.
Sourced withdrawal_handbook_weakest(double G, double D, double L);

/// Characteristic withdrawal of one screw (EC5 Eq. 8.38 to 8.40). `angle_deg` of the screw to the grain, 30
/// or more.
/// Empty outside 6 <= d <= 12 mm: thinner screws need the declared value of their maker.
std::optional<Sourced> withdrawal_ec5(double d, double l_ef, double rho_k, double angle_deg = 90);

/// Characteristic withdrawal strength f_ax,k of EC5 Eq. 8.39; empty outside its range.
std::optional<double> withdrawal_strength_ec5(double d, double l_ef, double rho_k);

/// Characteristic withdrawal in hardwoods, 7e-4 rho_k^1.6 d^-0.34 pi d l_ef with l_ef = inserted thread - 1.1
/// d.
/// Huebner (2013). Empty outside 4 <= d <= 12 mm and where the thread is too short.
std::optional<Sourced> withdrawal_hardwood(double d, double inserted_thread, double rho_k);

// ---- in shear
// ---------------------------------------------------------------------------------------------------

/// Lateral load at the proportional limit, K D^2, threaded 7 D deep (Wood Handbook Eq. 8-13, Table 8-4);
/// empty outside the table's specific gravities G.
std::optional<Sourced> lateral_handbook(double G, bool softwood, double D);
/// The same for ten years of load: over 1.33, as the older design loads were. Wood denser than the table
/// takes its densest group.
std::optional<Sourced> lateral_handbook_design(double G, bool softwood, double D);

/// Embedment strength f_h,k (EC5 Eq. 8.15, 8.16).
double embedment_strength(double d, double rho_k, bool predrilled);
/// Yield moment M_y,Rk = 0.3 f_u d^2.6 (EC5 Eq. 8.14).
double yield_moment(double d, double f_u);

/// One screw in single shear; `d` is the effective diameter, `axial` F_ax,Rk for the rope effect (0: none
/// counted).
struct Shear {
    double d = 0;
    double f_u = 600;
    double axial = 0;
    bool predrilled = true;
};

/// Steel plate to timber, `t1` into the timber: thin plate (t <= d/2, EC5 Eq. 8.9) and thick plate (t >= d,
/// Eq. 8.10).
double shear_thin_plate(const Shear& screw, double t1, double rho_k);
double shear_thick_plate(const Shear& screw, double t1, double rho_k);
/// Between the two by the plate's thickness (EC5 8.2.3(1)).
double shear_steel_plate(const Shear& screw, double plate_thickness, double t1, double rho_k);

/// Timber to timber (EC5 Eq. 8.6): the six modes and the least of them.
struct TimberShear {
    double modes[6] = {}; ///< (a) to (f)
    double least = 0;
};
TimberShear shear_timber(const Shear& screw, double t1, double rho_k1, double t2, double rho_k2);

// ---- where it may sit
// -------------------------------------------------------------------------------------------

/// Least distances of screws that are sheared, mm: EN 1995-1-1 Table 8.2 with holes predrilled, for effective
/// diameters up to 6 mm;
/// Table 8.4, of bolts, above. `a3`, `a4` to a loaded and to an unloaded end and edge.
struct Distances {
    double a1 = 0, a2 = 0, a3_loaded = 0, a3_free = 0, a4_loaded = 0, a4_free = 0;
    const char* table = "";
};
/// `cosine`, `sine`: of the angle between the screw's force and the grain, in size. `through_steel`: spacings
/// are 0.7 of wood's.
Distances shear_distances(double d, double cosine, double sine, bool through_steel);
/// The same of screws that are pulled out, EN 1995-1-1 Table 8.6: a loaded end or edge is none.
Distances withdrawal_distances(double d);

/// Threaded length in the wood, in diameters: what the code's values ask, the handbook's full lateral load,
/// and the least that counts.
Sourced code_thread();
Sourced handbook_thread();
Sourced least_thread();
/// Thickness of the wood, in diameters, that the code's withdrawal asks (EN 1995-1-1 Table 8.6).
Sourced code_thickness();

} // namespace hollowtop::materials
