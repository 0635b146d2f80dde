// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a check of a piece gives: numbers and verdicts, in N, mm, MPa, kg, Hz. The JSON result holds
/// just this.

#include "materials/duration.hpp"
#include "materials/message.hpp"
#include "solver/piece/piece.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

struct Mass {
    double solid_kg = 0, top_kg = 0, stiffeners_kg = 0, cover_kg = 0, total_kg = 0, saved_kg = 0,
           saved_percent = 0;
};

struct Reaction {
    std::string support;
    double force_N = 0; ///< upward on the top +
    bool lifts = false; ///< the top leaves this support altogether
};

struct ProbeReading {
    Point at;
    double w_mm = 0; ///< downward +, relative to the plane through the supports' own movements
    /// Along the grain, across it, shear in the plane; MPa; mean over a square one thickness wide.
    std::array<double, 3> stress_top_MPa{}, stress_bottom_MPa{};
    std::array<double, 3> moment_N{}; ///< Mx, My, Mxy per width about mid-thickness, sagging +
};

enum class Stage {
    at_once, ///< the standing loads when the top is new
    years,   ///< the standing loads after the years (creep)
    passing, ///< the standing loads and one medium, short or instantaneous load
};

/// Tension across the grain of a situation, summed up over the top (solver/shell/tension_across.hpp).
struct TensionAcross {
    double norm = 0; ///< ( integral of <s>^exponent dV )^(1/exponent), MPa mm^(3/exponent)
    int exponent = 1;
    Point at{};           ///< where a face is pulled most
    double thickness = 0; ///< there
    double peak = 0;      ///< and by how much, MPa
    Point mean_at{}; ///< where a face is pulled most as checks see stress, over a square one thickness wide
    double mean = 0; ///< and by how much, MPa; 0: not sought, or nowhere
};

struct SituationResult {
    Message name;
    Duration duration = Duration::short_term;
    Stage stage = Stage::passing;
    double sag_mm = 0;
    Point sag_at;
    double sag_limit_mm = 0; ///< 0 where the sag is told and not limited
    double span_mm = 0;      ///< the span where it sags most, or twice the overhang, whichever set the limit
    bool overhang_governs = false; ///< the limit is the overhang's
    std::optional<double> dish_mm; ///< absent where there is no recess
    Point dish_at;
    double applied_N = 0;
    std::optional<Point> load_at{}; ///< middle of the passing load, where it rests on a patch or a line
    std::vector<Reaction> reactions;
    double equilibrium_error = 0; ///< |loads - reactions| / loads, forces and moments
    std::optional<double>
        tipping_factor; ///< the passing load could be this many times greater before the top tips
    std::optional<double>
        buckling_factor; ///< absent where no skin is pressed in its plane, or every recess has a land
    std::vector<ProbeReading> probes;
    double residual = 0; ///< work of the forces left unbalanced, against the work of the loads
    std::optional<double> tipping_factor_solid{}; ///< the same, had the top not been hollowed
    std::optional<double>
        flatness_mm{}; ///< greatest distance, up or down, of the show face from a straightedge; of what stays
    Point flatness_at{};
    std::array<Point, 2> straightedge{};       ///< its ends
    std::optional<double> flatness_limit_mm{}; ///< absent where the use sets none
    LoadFor judged_for = LoadFor::everyday;
    std::optional<double> set_down{}; ///< share of what passes that acts here, where more of it tips the top
    std::optional<TensionAcross> tension_across{};
};

struct CheckResult {
    std::string check; ///< name in the table of checks, such as "bending across the grain"
    Message situation; ///< name of the situation it governs in
    double demand = 0, capacity = 0;
    std::string unit; ///< "mm", "MPa", "Hz", "1"
    double utilisation = 0, margin = 0;
    std::optional<Point> at;
    Message basis;       ///< where the capacity comes from, with its source
    bool advice = false; ///< reported, but never fails the piece
    /// What the maker can do about it, in the maker's words; empty where nothing is to be said.
    Message remedy;
    std::optional<double> error_percent; ///< mesh error of the demand
    std::string
        factors{}; ///< of the design loads that the demand comes from; empty where loads are as they are
    std::optional<double> demand_unfactored{}; ///< then: of the loads as they are
};

struct StiffenerResult {
    std::string name, section;
    double mass_kg = 0, max_stress_MPa = 0, composite_action = 0;
    Message not_judged{}; ///< why no strength is held against its stress; empty where one is
};
/// What the stiffeners are worth, in the situation with the greatest sag at once.
struct Stiffening {
    Message situation;
    double without_mm = 0, with_mm = 0, bonded_mm = 0; ///< sag
};
struct ScrewResult {
    std::string stiffener;
    Point at;
    double slip_mm = 0, shear_N = 0, withdrawal_N = 0;
    std::optional<double> utilisation; ///< absent where no strength is known
};

/// A push on the skin of a recess where it gives way most (solver/readout/skin_push.hpp).
struct SkinPush {
    std::string push, recess; ///< names
    double skin_mm = 0;
    Point at;
    double force_N = 0, size_mm = 0;     ///< on a square
    double dish_mm = 0;                  ///< downward +, of its middle against the rim around the recess
    std::optional<double> dish_limit_mm; ///< advice; absent where none is known
    Duration duration = Duration::short_term;
    /// Under its middle: along the grain, across it, shear in the plane; mean over a square one skin
    /// thickness wide.
    std::array<double, 3> stress_top_MPa{}, stress_bottom_MPa{};
    std::array<double, 2>
        shear_MPa{}; ///< through the thickness, half of it past its edges: along the grain, rolling; greatest
    double pressure_MPa = 0;
    std::optional<TensionAcross> tension_across{}; ///< of the push alone
    std::optional<double>
        strength_used{};   ///< greatest share of what the wood bears; absent where that is not known
    std::string used_by{}; ///< of which strength
    Message source;
    std::optional<double> clear_width_mm{}; ///< of the skin there, where the limit is a share of it
};

/// Where a load that travels does most harm, and how much it does elsewhere. Found on a coarse mesh: the
/// worst places are situations of their own, with the numbers that count.
struct Travel {
    std::string load;
    int n_places = 0;           ///< at which it was set down
    std::vector<double> xs, ys; ///< of the load's middle: the grid of the pictures
    struct Field {
        std::string check;
        double worst_utilisation = 0; ///< over all places, those between the grid's too
        Point worst_at;
        std::vector<std::optional<double>>
            utilisation; ///< row by row of `ys`; empty off the top, or where the top tips
    };
    std::vector<Field> fields; ///< in the order of the table of checks; lift-off last, in mm
};

/// Sag under the standing loads as it grows.
struct SagInTime {
    double years = 0;
    double sag_mm = 0;
};

/// The sag of a situation by another theory (solver/hand/hand_estimate.hpp), beside the computed one.
struct HandEstimate {
    Message situation;
    std::optional<double> sag_mm;             ///< absent where the estimate does not apply
    Message why_not;                          ///< then
    std::optional<double> computed_over_hand; ///< the computed sag over it
    bool agrees = true;                       ///< within what is expected of the two
};

/// A solid top of the same wood, outline, supports and loads that sags as little
/// (solver/hand/solid_equal.hpp).
struct SolidEqual {
    Message situation;                           ///< whose sag comes nearest to its limit
    double sag_mm = 0;                           ///< of the piece as drawn
    std::optional<double> thickness_mm, mass_kg; ///< absent where none is found
    Message why_not;                             ///< then
};

struct MeshReport {
    int elements = 0;
    int dofs = 0; ///< degrees of freedom of the finest solve
    double size_mm = 0;
    int order = 0;
    double sag_error_percent = 0, stress_error_percent = 0;
    bool reached = true; ///< both errors are under their targets (1 % and 3 %)
};

/// Something kept in a recess, and whether there is room for it (solver/capacity/in_recess.hpp). mm.
struct KeptResult {
    std::string name, hangs; ///< hangs: "skin", "runners" or "base"
    Point at;
    double size_x = 0, size_y = 0, height = 0, weight_N = 0;
    double sinks_mm = 0; ///< of the top over it, under what stays, after the years
    struct Way {
        std::string way; ///< "height", "x" or "y"
        double needed_mm = 0, there_mm = 0;
        Message basis; ///< the two sums in words
    };
    std::vector<Way> ways; ///< height first
};
/// The cover of a recess.
struct CoverResult {
    Message material;                                  ///< in words
    double thickness_mm = 0, mass_kg = 0, span_mm = 0; ///< mass with its trim
    std::string trim;
    double trim_below_mm = 0; ///< how far the trim hangs below the underside
    std::optional<double> sag_mm,
        sag_limit_mm; ///< under its own weight, after the years; absent where its stiffness is not known
    Message sag_basis;
    std::optional<double>
        moves_mm; ///< each way at its outermost screws; absent where no screws are named or no movement is known
    std::optional<double> play_mm; ///< each way in their holes; absent where the slots are made to fit
    Message play_basis;
    std::optional<double>
        gap_mm; ///< by which the recess grows narrower across the grain in the dry season: free beside the cover, both sides together
    std::vector<Message> not_judged;
};
/// What a recess holds, and its cover.
struct InRecess {
    std::string recess;
    std::vector<KeptResult> holds;
    std::optional<CoverResult> cover;
};

/// The least change of one kind that lets a piece meet its limits (solver/variants/remedies.hpp).
struct Remedy {
    /// skin, thickness, rim, land, screw_length, screw_diameter, screw_spacing, hold_down, pads, supports,
    /// supports_across, section, number, no_stiffener, solid, wood or loads
    std::string kind;
    /// Met the limits in a full check; else what follows is of the change that came nearest.
    bool helps = false;
    /// mm of the thinnest skin, of the narrowest rim, of the screws, of the largest pad, from the edge, of the
    /// solid top; lands; stiffeners; share of the loads.
    double from = 0, to = 0;
    std::string section{}; ///< of the stiffeners
    std::string wood{};
    int work = 0;           ///< how much it is beside its weight: 0 less routing, 9 another use
    double utilisation = 0; ///< of the check that then governs; 0 where no piece so changed can be computed
    double mass_kg = 0;
    std::string governing_check{};
    std::vector<Remedy> also{}; ///< the other change, where only two together were found to help: one at most
};

/// The same top without its recesses, where that fails as well.
struct SolidToo {
    std::string governing_check;
    double utilisation = 0;
};

struct Result {
    std::string version;
    std::string title;
    bool passes = false;
    bool to_spare = false; ///< passes, and the whole of `governing_band` lies under the limit
    std::array<double, 2>
        governing_band{}; ///< utilisation of the check that governs, from the least to the most that its own uncertainty leaves
    std::string governing_check;
    Message governing_situation;
    double governing_utilisation = 0;
    Mass mass;
    std::vector<SituationResult> situations;
    std::vector<CheckResult> checks;
    std::vector<StiffenerResult> stiffeners;
    std::vector<ScrewResult> screws;
    std::optional<Stiffening> stiffening; ///< absent without stiffeners
    std::vector<double> frequency_Hz;
    std::vector<SkinPush> pushes;       ///< empty without recesses
    std::vector<Travel> travels;        ///< one a load that travels
    std::vector<SagInTime> sag_in_time; ///< empty where nothing stays
    Message sag_in_time_basis;
    std::optional<SolidToo>
        solid_too{}; ///< of a piece with recesses that fails, where remedies were looked for
    std::optional<std::vector<Remedy>> remedies; ///< of a piece that fails, where they were looked for
    std::vector<HandEstimate> by_hand; ///< one a situation; none where only the essentials are asked for
    std::optional<SolidEqual>
        solid_equal; ///< absent for a solid top without stiffeners, and where only the essentials are asked for
    std::vector<InRecess> in_recesses{}; ///< of recesses that hold something or have a cover
    MeshReport mesh;
    std::vector<Message>
        assumptions; ///< what was taken for granted, with sources (wood constants, bearing, ...)
    std::vector<Message> warnings;
    std::vector<Message> cautions;
    Message
        pays{}; ///< does hollowing pay: one sentence; empty for a solid top, and where only the essentials are asked for
};

/// Values on a grid of points for a picture or a viewer: four-cornered cells, the top face seen from above.
struct Fields {
    struct Named {
        Message name;               ///< such as "movement_mm, books"
        std::vector<double> values; ///< one a point
    };
    std::vector<Point> points;
    std::vector<std::array<int, 4>> cells; ///< corner points, counter-clockwise
    std::vector<Named> point_values; ///< thickness, movement (downward +) and face stresses of each situation
};

} // namespace hollowtop
