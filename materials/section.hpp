// SPDX-License-Identifier: MIT
#pragma once
/// \file  Stiffener sections: what `angle 30x30x3` and its kin are, in mm.
///
///      z ^          <- the wood's surface, z = 0; the section hangs below it, z < 0
///        +==========+---> y
///        | angle AxBxT: A hangs down at y = 0..T, B lies against the wood at y = 0..B
///        |             flat WxT: laid flat, W against the wood      bar BxH: on edge, H vertical
///        A             channel HxBxT: web H vertical at y = 0..T, flanges B at top and bottom
///                      tee BxHxT: flange B against the wood, H its whole height     tube BxHxT: B wide, H high
///
/// Seen along the stiffener from its start to its end, z up, y points to the left.
/// Sizes in data/sections.csv take its values (root radii, tapered flanges), others a formula; `basis` says
/// which.
/// Formulas: Timoshenko, Strength of Materials Part I (1955); torsion of a rectangle: Timoshenko and Goodier,
/// Theory of
/// Elasticity (1970) art. 109; of two shear moduli: Lekhnitskii (1963); of a closed tube: Bredt (1896).

#include "materials/message.hpp"

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::materials {

enum class SectionKind { angle, flat, bar, channel, tee, tube };

const char* to_word(SectionKind kind);

struct Section {
    SectionKind kind = SectionKind::flat;
    std::string text;                      ///< as written
    double height = 0;                     ///< how far it hangs below the wood
    double width = 0;                      ///< greatest extent along y
    double thickness = 0;                  ///< 0 for flat and bar
    double contact_y0 = 0, contact_y1 = 0; ///< what lies against the wood
    double screw_y =
        0; ///< where a screw goes through: the middle of the free part of what lies against the wood
    double grip = 0; ///< thickness that a screw goes through there
    double area = 0;
    double y_c = 0, z_c = 0;                    ///< centroid; z_c < 0
    double I_yy = 0, I_zz = 0, I_yz = 0;        ///< about the centroid: integrals of z z, y y, y z
    double J = 0;                               ///< torsion constant, one shear modulus
    double A_sy = 0, A_sz = 0;                  ///< shear areas along y and z
    std::vector<std::array<double, 2>> corners; ///< y, z from the centroid, where the stress may be greatest
    Message basis;                              ///< "table ..." with its source and status, or "formula ..."
    bool operator==(const Section&) const = default;
};

/// Reads "angle 30x30x3" (numbers in mm). Throws Error(input) for an unknown kind (with the nearest), a
/// missing, extra or impossible size.
Section parse_section(std::string_view text);

/// Sizes that a section may have, mm: beyond them somebody slipped, and values overflow.
inline constexpr double least_section_size = 0.01, greatest_section_size = 1e4;

double mass_per_metre_kg(const Section& section, double density_kg_m3);

/// Torsion constant of a rectangle (the series, to the last digit).
double torsion_constant_of_rectangle(double a, double b);

/// Torsion stiffness G J of a rectangular bar of two shear moduli: `G_b` in planes that hold the side b and
/// the axis, `G_h` h.
double torsion_stiffness_of_rectangle(double b, double h, double G_b, double G_h);

/// One row of data/sections.csv, for showing.
struct SectionRow {
    std::string id, kind, source, status, note;
    double h = 0, b = 0, t = 0, mass_kg_m = 0, A_cm2 = 0, Ix_cm4 = 0, Iy_cm4 = 0;
};
const std::vector<SectionRow>& tabulated_sections();

/// As a piece file writes it, such as "angle 30x30x3"; empty for sizes in inches.
std::string text_of_section(const SectionRow& row);

} // namespace hollowtop::materials
