// SPDX-License-Identifier: MIT
#pragma once
/// \file  What is told of a top in its seasons. mm, N, MPa; moisture in percent.

#include "materials/duration.hpp"
#include "materials/message.hpp"
#include "solver/piece/moisture_range.hpp"
#include "solver/piece/piece.hpp"
#include "solver/seasons/cupping.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

/// Left free beyond the movement itself, each way: common practice.
inline constexpr double play_margin = 1;

/// Change of a length from the moisture at which it is made; both at least 0.
struct Swing {
    double shrinks = 0, grows = 0;
    double greater() const { return shrinks > grows ? shrinks : grows; }
    /// Free way each side: the greater of the two and the margin. Made halfway between the seasons it is the
    /// rule of the trade, half the movement + 1 mm.
    double play() const { return greater() + play_margin; }
};

struct PartMovement {
    std::string name;
    double size = 0; ///< across the grain, or through the thickness
    Swing swing;
};

struct ScrewTravel {
    double at = 0; ///< from the stiffener's start
    Point place{};
    bool is_fixed = false;
    Swing along, sideways;  ///< against the fixed screw, along the stiffener and square to it
    double slot_length = 0; ///< screw diameter + play on both sides; 0 at the fixed screw
    double force = 0;       ///< where it holds the wood, greatest in size
};

struct StressInSeason {
    double held = 0; ///< were the wood held fast
    double mean = 0; ///< over the strip that the stiffener holds
    double face = 0; ///< at the stiffener, at most: judged
};

/// Wood that round holes or glue hold back.
struct Restraint {
    double strip_width = 0, strip_thickness = 0, screw_stiffness = 0; ///< 0: glued
    double strip_length = 0;    ///< between the outermost screws, or of the glue line
    StressInSeason tension;     ///< in the dry season
    StressInSeason compression; ///< in the wet one
    double screw_force = 0;
    StressInSeason tension_yielding{}; ///< of `tension`, were screws to slip on at what they bear at most
    double screw_force_yielding = 0;   ///< in the dry season
    std::optional<materials::Sourced> screw_limit; ///< load at which such a screw begins to yield
};

struct StiffenerMovement {
    std::string name;
    Holes holes = Holes::slotted;
    double to_the_grain_deg = 0; ///< 0 along the grain, 90 across
    std::vector<ScrewTravel> screws;
    std::optional<Restraint> restraint;
    std::optional<Swing> slides{}; ///< of a dovetail: how far each end of its groove moves along it
};

/// Pegs of a breadboard end in round holes, which hold the wood.
struct TightPegs {
    double force_N = 0;                   ///< greatest on one of them
    double tension_MPa = 0;               ///< of the wood across the grain in the dry season, at most
    std::optional<double> strength_MPa{}; ///< what it bears for long; none where not known
};

/// What breadboard ends must let pass.
struct EndsMovement {
    Swing step;                ///< of each corner of the top against the end's own: it stands back, or out
    std::vector<double> pegs;  ///< from the middle of the end, mm
    std::vector<double> slots; ///< lengths, peg and play each side; 0: fixed, or no diameter is said
    std::optional<TightPegs>
        tight{}; ///< were no slots cut; none for one peg, or where its diameter is not said
};

struct SupportTravel {
    std::string name;
    bool holds = false;     ///< screwed or held down: it must let the top travel
    double from_middle = 0; ///< of its furthest place, across the grain, from the middle of all supports
    Swing swing;
};

/// A demand that meets a capacity: what decides the exit status.
struct SeasonCheck {
    Message what;
    double demand = 0, capacity = 0;
    std::string unit; ///< "mm" or "MPa"
    Message basis, remedy;
    double utilisation() const { return capacity > 0 ? demand / capacity : (demand > 0 ? 999 : 0); }
};

struct Seasons {
    MoistureRange moisture;
    materials::Sourced across, through; ///< change a point of moisture, as a fraction
    PartMovement width, thickness;
    double length_at_most = 0; ///< that the length could change; not counted
    std::vector<PartMovement> recesses;
    std::vector<StiffenerMovement> stiffeners;
    std::vector<SupportTravel> supports;
    std::optional<EndsMovement> ends{};
    double face_difference_percent = 0;
    Cup gradient; ///< the top face wetter than the underside by that
    Cup even;     ///< wetter by one point through and through
    std::vector<SeasonCheck> checks;
    std::vector<Message> assumptions, warnings;
    bool passes = true;
};

} // namespace hollowtop
