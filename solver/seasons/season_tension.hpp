// SPDX-License-Identifier: MIT
#pragma once
/// \file  Tension across the grain from day to day: what holds zones to one another, bent and stretched, and what holds
/// itself in balance within each section.
///
///     stress = Q (what the section takes - C du - give)      d give = share |du| stress / Q
///
/// Wood under stress gives while its moisture changes, whichever way (mechano-sorption), as a share of its elastic
/// strain a point of change. So stress forgets: drying leaves the faces pressed once all is even again, the set that
/// makers know as casehardening. A share of 0 is elastic. One implicit step a day. MPa, mm, percent. Limits: what zones do
/// to one another is lessened by the change of a zone's mean; shape is not changed by the give.

#include "solver/moisture/drying.hpp"
#include "solver/seasons/zone_fields.hpp"

#include <span>
#include <vector>

namespace hollowtop {

struct HeldState {
    std::vector<MoistureProfile> profiles; ///< of each zone
    std::vector<std::vector<double>> own;  ///< [zone][cell] stress that holds itself in balance, MPa
    std::vector<std::vector<double>>
        strains; ///< [zone][unit of the fields] what is left of the zones' strains there
};

/// Wood without stress, each zone even at that moisture.
HeldState unstressed(const ZoneFields& fields, double percent);

/// On to the next profiles. `movement_per_percent`: free strain across the grain a point; `give_per_percent`: share of
/// the elastic strain that a point of change adds.
void follow(HeldState& state, const ZoneFields& fields, const std::vector<MoistureProfile>& next,
            double movement_per_percent, double give_per_percent);

struct TensionOfDay {
    double greatest = 0; ///< anywhere through the thickness
    Point at{};
    std::size_t zone = 0;
};

/// `divisor` by which creep under a stress that stays lessens all of it.
TensionOfDay tension_of(const ZoneFields& fields, const HeldState& state, double divisor);

} // namespace hollowtop
