// SPDX-License-Identifier: MIT
#pragma once
/// \file  By how much a skin leads its rim where the rim dries through its edges and walls too, and not through its two
/// faces alone (solver/moisture/rim_section.hpp): what the line through the thickness makes too much of the lead.
/// mm, percent. Limits: a rectangular recess in a rectangular top, grain along one of its sides; one section of the
/// narrowest rim along the grain and one of the narrowest across it, at whose edge the grain ends; edges finished as the
/// show face is (judgement), walls as the recess.

#include "solver/moisture/room_air.hpp"
#include "solver/seasons/zone_drying.hpp"

#include <optional>
#include <vector>

namespace hollowtop {

struct RimLead {
    double sides = 0,
           ends = 0; ///< points by which the skin is drier (+) or wetter (-), at most in the first year
    std::vector<double>
        rim_percent{}; ///< mean of the rim along the grain at the end of each day of the first year
    double out_of_flat =
        0; ///< mm, at most in the first year, had all full thickness that mean; filled by year_of_top
};

/// `zone`: that of the skin in `days`, of which the first year is gone through. Nothing where the shapes are others.
std::optional<RimLead> rim_lead(const Piece& piece, const FaceFinishes& finish, const RoomAir& air, int month,
                                double start_percent, const ZoneDays& days, std::size_t zone);

} // namespace hollowtop
