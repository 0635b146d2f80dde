// SPDX-License-Identifier: MIT
#pragma once
/// \file  How the top answers one situation, in the form the checks read: movements, support forces and face
/// stresses.

#include "materials/message.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

/// Stresses at one place, each the mean over a square as wide as the thickness there (one-sided at a wall).
/// Grain axes, MPa.
struct StressSample {
    Point at;
    double thickness = 0;
    std::array<double, 3> top{};    ///< along, across, shear in the plane; tension +
    std::array<double, 3> bottom{}; ///< the same on the underside (the recess floor inside a recess)
    std::array<double, 2>
        shear{}; ///< greatest shear through the thickness: along the grain (1-3), across it (2-3); 1.5 Q/h
};

struct StressField {
    std::vector<StressSample> survey; ///< all over the top, dense enough to find every peak
    /// The same at any point; null off the top. What is shown stays where it is as long as the field lives.
    std::function<const StressSample*(Point)> at;
};

/// The skin's resultants at a point of a recess wall, which load the step's cross-section
/// (solver/section/wall_submodel.hpp).
struct WallSample {
    Point at;
    Point across; ///< unit normal, from the skin into the rim
    double skin = 0, thick = 0, root_radius = 0;
    bool straight = true;
    double length = 0; ///< of the wall that it stands for
    double pull = 0;   ///< across the wall, about the skin's own axis, N/mm; tension +
    double moment = 0; ///< N; tension at the top face +, so a sagging skin has less than 0
    double shear = 0;  ///< growth of the moment towards the rim, N/mm
    std::array<double, 2> top{},
        bottom{}; ///< face stresses along the wall, and in shear with the way across it, MPa
};

/// One support in one situation.
struct SupportForce {
    std::string support;
    Point centre;
    double force_N = 0; ///< upward on the top +
    bool lifts = false;
    double pressure_MPa =
        0; ///< greatest pressure on the underside, mean within one thickness; 0 for knife edges and held lines
    Point pressure_at;
    double bearing_area_mm2 = 0;
    double pull_N = 0; ///< with which it holds the top down, summed along it; 0 where it only presses
};

/// What one load presses on, in one situation.
struct LoadBearing {
    Message what; ///< the load, and which part of it
    Point at{};
    Point size{}; ///< as drawn
    double force_N = 0;
    double pressure_MPa =
        0; ///< greatest mean over 30 mm from an edge; 0 for points and lines, which have no area
};

/// Shear of the glue between a bar and the wood, the mean over a stretch as long as the bar is high. Axes of
/// the bar, MPa.
struct GlueStress {
    Point at;
    double along = 0, across = 0;
};

/// One stiffener in one situation.
struct StiffenerForce {
    double stress_MPa = 0;   ///< greatest in size, of bending and axial force together; tension +
    Point at;                ///< where
    double axial_N = 0;      ///< greatest in size; tension +
    double pressure_MPa = 0; ///< greatest on the wood
    Point pressure_at;
    double shear_MPa =
        0; ///< greatest of the cross force over the section's shear area, times 1.25 (1.5 of a rectangle's whole area)
    Point shear_at{};
    std::vector<GlueStress> glue{}; ///< all along a glued bar
};

/// One screw in one situation.
struct ScrewForce {
    int stiffener = 0;
    Point at;
    double thread = 0, wood = 0; ///< length in the wood, thickness of the wood there, mm
    double slip_mm = 0, shear_N = 0, withdrawal_N = 0;
    Point pushes{}; ///< the same shear as a force of the screw on the top, N
};

/// The span that the sag limits speak of, and how far past the supports a place lies (span.hpp).
struct Span {
    double span_mm = 0;     ///< between the supports, in the direction in which the top spans there
    double overhang_mm = 0; ///< 0 between the supports
};

/// How far the show face is from flat: the greatest distance between it and the chord that joins the ends of
/// a straightedge.
struct Flatness {
    double value_mm = 0; ///< hollow under the straightedge +, a hump -
    Point at{};
    Point from{}, to{}; ///< ends of the straightedge
};

/// What a situation needs against tipping, and what it has.
struct TippingReserve {
    double needed = 1, reached = 0;
    bool stands = false; ///< nothing passes: what holds against what harms
};

struct SituationResponse {
    Message name;
    Duration duration = Duration::short_term; ///< of the shortest load in it: it sets the strength
    Stage stage = Stage::passing;
    LoadFor judged_for = LoadFor::everyday;
    double set_down = 1;   ///< share of what passes that acts: less than 1 where the top tips at it
    int design_of = -1;    ///< of a design situation: which of Response::situations it belongs to
    std::string factors{}; ///< of a design situation, such as "1.35 G + 1.5 books"
    double sag_mm = 0;
    Point sag_at;
    Span span{};                        ///< at that place
    std::optional<Flatness> flatness{}; ///< of what stays
    std::optional<double> dish_mm;
    Point dish_at;
    double dish_skin_mm = 0; ///< skin thickness of the recess that dishes most
    double applied_N = 0;
    std::vector<SupportForce> supports;
    double equilibrium_error = 0;
    double residual = 0;
    std::optional<double> tipping_factor, tipping_factor_solid;
    std::optional<TippingReserve> tipping{}; ///< where it counts
    std::vector<ProbeReading> probes;
    StressField stress;
    std::optional<TensionAcross> tension_across{};
    std::vector<WallSample> walls; ///< along every recess wall
    std::optional<double>
        buckling_factor; ///< all loads could be this many times greater before a skin buckles (skin_buckling.hpp)
    std::vector<StiffenerForce> stiffeners; ///< one a stiffener of the piece
    std::vector<ScrewForce> screws;         ///< in the same order in every situation
    std::vector<LoadBearing> load_bearings{};
    std::vector<double>
        kept_sink_mm{}; ///< how far the top sinks over each thing kept, recess by recess (kept_sink.hpp)
};

/// A place of a load that travels in which the top tips, so that nothing else can be said of it.
struct TippedPosition {
    Message situation; ///< the load and the place
    Point at;
    double factor = 0; ///< the share of the load at which it tips, under 1
    double needed = 1; ///< the multiple that it has to stand
};

struct Response {
    std::vector<SituationResponse> situations;
    std::vector<SituationResponse> designs{}; ///< on a strength class: their movements are not read
    std::vector<TippedPosition> tipped;       ///< the worst of each load that travels
    std::vector<double> frequency_Hz;
    std::vector<SkinPush> pushes; ///< their strength_used is the checks' to fill
};

} // namespace hollowtop
