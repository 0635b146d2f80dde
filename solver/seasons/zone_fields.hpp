// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a top does when the wood of one thickness alone wants to move: shape and tension across the grain as
/// linear forms of what each thickness wants. Solved once; a day of the year is then a sum.
///
/// A zone is all wood of one thickness: the full thickness, or the skins of equal thickness. Its free strain across
/// the grain has a mean and a difference, the top face above the underside, straight between; both bend the shell.
/// What of the strain is not straight stays in the section as a stress that holds itself in balance,
/// -Q (e - straight part), Q = E / (1 - nu nu') across the grain held straight along it.
/// N, mm, MPa; strains as fractions. Limits: small movements; lying free, no weight, no stiffener.

#include "solver/piece/piece.hpp"
#include "solver/seasons/cupping.hpp"
#include "solver/seasons/free_top.hpp"

#include <array>
#include <vector>

namespace hollowtop {

struct Zone {
    double thickness = 0;
    bool is_full = false; ///< full thickness: its underside is the top's, not the floor of a recess
};

/// Free strain of a zone.
struct ZoneStrain {
    double mean = 0, difference = 0;
};

struct ZoneFields {
    struct Line {
        TopLine line{};
        std::vector<std::size_t>
            points; ///< the line's own, from its first end to its last, evenly; in `height`
    };
    struct Place {
        Point at{};
        std::size_t zone = 0;
        double stiffness_share = 1; ///< of its board
    };
    std::vector<Zone> zones; ///< full thickness first
    std::vector<Line> across, along;
    std::vector<Point> points;
    std::vector<std::vector<double>> height; ///< [2 zone + (0 mean, 1 difference)][point], a unit of strain
    std::vector<Place> places;
    std::vector<std::vector<std::array<double, 2>>>
        tension;              ///< [as height][place], top and bottom face, MPa elastic
    double Q_across = 0;      ///< MPa
    double error_percent = 0; ///< computing error of the rise across the grain: two orders of one mesh
};

/// Throws Error(not_computable) where the top cannot be solved or has more thicknesses than are computed.
ZoneFields zone_fields(const Piece& piece, int threads);

/// The zones of a top alone.
std::vector<Zone> zones_of(const Piece& piece);
/// Which of them a region lies in; outside as the full thickness.
std::size_t zone_of(const std::vector<Zone>& zones, const ThicknessField& field, int region);

/// Shape under what each zone wants, in their order.
Cup shape_of(const ZoneFields& fields, std::span<const ZoneStrain> strains);

} // namespace hollowtop
