// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the maker needs at the bench: passes of the router, chips, lifting, screws, parts, and where
/// to gauge.
/// Figures of the trade, each common practice unless said otherwise:
/// - a pass is at most half the cutter's diameter (rule in router guides) and 3 mm (an instruction manual of
/// a router)
/// - rough to 3 mm over the depth, let it rest a day or two, then finish, the last pass 1 mm
/// - loose chips take three to five times the room of the wood
/// - pilot hole: 70 % of the thread's root in softwood, 90 % in hardwood (advice of a wood council to
/// engineers)
/// - a slot is a millimetre wider than the screw
/// - one person lifts 25 kg (men) or 16 kg (women) at the best height: guide figures, from memory; no law
/// sets them mm, kg.

#include "cli/report/drawing/plan_of.hpp"
#include "solver/result/result.hpp"
#include "solver/seasons/seasons.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

/// In steps that a depth stop can be set to: millimetres, or sixteenths of an inch.
struct PassRule {
    double deepest = 3, finishing = 3, last = 1;
};
PassRule pass_rule(Units units);
inline constexpr double chips_least = 3, chips_most = 5;
inline constexpr double lift_strong_kg = 25, lift_weak_kg = 16;
inline constexpr double slot_clearance = 1;

struct Pass {
    double depth = 0, left = 0; ///< of the recess after it, and of the skin
    bool rest_before = false;   ///< let the top rest before this pass
    bool last = false;
};
/// Depths of a recess pass by pass, with a cutter of that diameter.
std::vector<Pass> passes_of(double depth, double thickness, double cutter, const PassRule& rule);

struct RecessWork {
    std::string name;
    Rectangle box{};
    double depth = 0, skin = 0, root_radius = 0, volume_l = 0;
    std::vector<Pass> passes;
};

struct ScrewWork {
    double from_start = 0;
    Point at{};
    double wood = 0;   ///< thickness of the wood there
    double thread = 0; ///< that goes into it
    double left = 0;   ///< wood over the point
    bool fixed = false;
    double slot_length =
        0; ///< at least: what the seasons need, and the three diameters that the check counts on; 0: no slot
};

struct StiffenerWork {
    std::string name, section, material;
    double length = 0, mass_kg = 0;
    double screw_diameter = 0, screw_length = 0, pilot = 0, hole = 0;
    std::string root_source = {};
    Holes holes = Holes::slotted;
    bool slots_are_stated = false; ///< their length is the file's, whatever the seasons ask
    double slot_to_length_deg =
        0; ///< direction of the slots against the stiffener, 0 along it, 90 across: along the movement
    std::vector<ScrewWork> screws = {};
};

struct Gauge {
    std::string label, why;
    Point at{};
    double thickness = 0;
};

struct Bench {
    double cutter = 0;
    std::vector<RecessWork> recesses = {};
    double volume_l = 0;     ///< of solid wood cut away
    int people = 2;          ///< who lift it, never fewer than two
    int people_by_guide = 1; ///< as many as the guide figures ask for
    double each_kg = 0;
    bool softwood = false, wood_known = false;
    std::vector<StiffenerWork> stiffeners = {};
    std::vector<Gauge> gauges = {};
};

/// `seasons` gives the length of slots; without it none is given.
Bench bench_of(const Piece& piece, const Plan& plan, const Result& result,
               const std::optional<Seasons>& seasons, double cutter, Units units = Units::mm);

} // namespace hollowtop::cli
