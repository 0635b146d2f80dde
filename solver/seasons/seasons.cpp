// SPDX-License-Identifier: MIT
#include "solver/seasons/seasons.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/moisture.hpp"
#include "materials/screw.hpp"
#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"
#include "solver/capacity/allowables.hpp"
#include "solver/piece/ends.hpp"
#include "solver/piece/kept_region.hpp"
#include "solver/seasons/stiffener_movement.hpp"
#include "solver/shell/shell.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

namespace hollowtop {
namespace {

using materials::cited;
using materials::digits;

struct Extent {
    double low = std::numeric_limits<double>::infinity(), high = -std::numeric_limits<double>::infinity();
    void add(double v) {
        low = std::min(low, v);
        high = std::max(high, v);
    }
    double size() const { return high - low; }
};

/// How far a shape reaches across the grain.
double reach_across(const Ground& g, const Trace& trace) {
    Extent extent;
    for (const Point& p : trace.points) extent.add(g.coordinate(p));
    return extent.size();
}

void measure_parts(const Ground& g) {
    Seasons& out = g.out;
    const double wide = reach_across(g, trace_of(g.piece.top.outline));
    out.width = {.name = "width across the grain", .size = wide, .swing = g.across_swing(wide)};
    out.thickness = {.name = "thickness",
                     .size = g.piece.top.thickness,
                     .swing = g.swing(g.piece.top.thickness, out.through.value)};
    // 0.2 % from green to dry over 30 points at most: Wood Handbook ch. 4, "Longitudinal shrinkage", from
    // memory
    constexpr double most_along_per_point = 0.002 / 30;
    Extent length;
    for (const Point& p : trace_of(g.piece.top.outline).points) length.add(p.x * g.along.x + p.y * g.along.y);
    out.length_at_most = length.size() * most_along_per_point *
                         (out.moisture.shrinking_points() + out.moisture.growing_points());
    for (const Recess& recess : g.piece.recesses) {
        const double size = reach_across(g, trace_of(recess, g.piece.top.outline));
        out.recesses.push_back({.name = recess.name, .size = size, .swing = g.across_swing(size)});
    }
}

/// Where a support stands, and whether the top is fastened to it.
struct Footing {
    Point from{}, to{};
    bool holds = false;
};
struct FootingOf {
    Footing operator()(const Pad& pad) const { return {pad.at, pad.at, pad.hold_down}; }
    Footing operator()(const Bearer& bearer) const { return {bearer.from, bearer.to, bearer.hold_down}; }
    Footing operator()(const Rail& rail) const { return {rail.from, rail.to, rail.hold_down}; }
    Footing operator()(const Held& held) const {
        return {held.from, held.to, held.down || held.along || held.across};
    }
    Footing operator()(const BuiltIn& built_in) const { return {built_in.from, built_in.to, true}; }
};

/// Does the support hold the top's movement across the grain in the plane?
bool pins_width(const Ground& g, const Support& support) {
    if (std::holds_alternative<BuiltIn>(support.kind)) return true;
    const auto* held = std::get_if<Held>(&support.kind);
    if (!held) return false;
    const double length = std::hypot(held->to.x - held->from.x, held->to.y - held->from.y);
    const Point t{(held->to.x - held->from.x) / length, (held->to.y - held->from.y) / length};
    const double along = std::abs(t.x * g.across.x + t.y * g.across.y),
                 square = std::abs(t.x * g.across.y - t.y * g.across.x);
    constexpr double some = 1e-6;
    return (held->along && along > some) || (held->across && square > some);
}

void look_at_supports(const Ground& g) {
    Extent all, pinned;
    for (const Support& support : g.piece.supports) {
        const Footing s = std::visit(FootingOf{}, support.kind);
        for (const Point p : {s.from, s.to}) {
            all.add(g.coordinate(p));
            if (pins_width(g, support)) pinned.add(g.coordinate(p));
        }
    }
    const double middle = (all.low + all.high) / 2;
    for (const Support& support : g.piece.supports) {
        const Footing s = std::visit(FootingOf{}, support.kind);
        const double furthest =
            std::max(std::abs(g.coordinate(s.from) - middle), std::abs(g.coordinate(s.to) - middle));
        g.out.supports.push_back({.name = support.name,
                                  .holds = s.holds,
                                  .from_middle = furthest,
                                  .swing = g.across_swing(furthest)});
    }
    if (pinned.size() > 1) { // two places across the grain that are both held fast in the plane
        const double E = modulus_along(g.plane, g.across);
        judge_held_wood(g, "lines held in the plane",
                        held_stress(E, g.out.across.value * g.out.moisture.shrinking_points(), g.relaxation),
                        held_stress(E, g.out.across.value * g.out.moisture.growing_points(), g.relaxation),
                        area_of(g.field.outline) * g.field.thickness);
        g.out.warnings.push_back("Lines of the top are held in the plane at two places across the grain: the "
                                 "wood between them cannot move. "
                                 "Let go of one, or mean it only for the bending.");
    }
}

/// The end as a bar that round holes hold to the top, each peg sheared on both faces of the tongue.
std::optional<TightPegs> tight_pegs(const Ground& g, const std::vector<double>& pegs) {
    const Ends& ends = *g.piece.ends;
    const double density = g.elastic.density_kg_m3.value_or(0);
    if (!(ends.peg > 0) || !(density > 0) || pegs.size() < 2) return std::nullopt;
    const EndBoard board = end_boards(g.piece).front();
    const materials::WoodConstants wood =
        materials::wood_constants(materials::find_wood(ends.wood), g.piece.top.moisture_percent);
    Stiffener bar{.name = "breadboard end",
                  .section = "bar " + digits(ends.width, 12) + "x" + digits(g.piece.top.thickness, 12),
                  .metal = {},
                  .wood = {},
                  .elastic = BarElastic{.E = wood.E_L, .G = wood.G_LT, .density_kg_m3 = 0},
                  .from = board.from,
                  .to = board.to,
                  .screws = {}};
    const double half = std::hypot(board.to.x - board.from.x, board.to.y - board.from.y) / 2;
    bar.screws.holes = Holes::round;
    bar.screws.diameter = ends.peg;
    for (const double peg : pegs) bar.screws.at.push_back(half + peg);
    constexpr double planes = 2;
    bar.screws.stiffness = planes * materials::slip_stiffness(ends.peg, density, false).value;
    Seasons scratch;
    const Ground alone = ground_of(g.piece, scratch);
    look_at_stiffener(alone, bar);
    const std::optional<Restraint>& held = scratch.stiffeners.front().restraint;
    if (!held) return std::nullopt;
    TightPegs tight{.force_N = held->screw_force, .tension_MPa = held->tension.face, .strength_MPa = {}};
    if (!scratch.checks.empty()) tight.strength_MPa = scratch.checks.front().capacity;
    return tight;
}

void look_at_ends(const Ground& g) {
    const Ends& ends = *g.piece.ends;
    const double wide = reach_across(g, trace_of(g.piece.top.outline));
    EndsMovement moves{
        .step = g.across_swing(wide / 2), .pegs = peg_places(ends, wide), .slots = {}, .tight = {}};
    std::size_t fixed = 0;
    for (std::size_t i = 0; i < moves.pegs.size(); ++i)
        if (std::abs(moves.pegs[i]) < std::abs(moves.pegs[fixed]) - 1e-9) fixed = i;
    for (std::size_t i = 0; i < moves.pegs.size(); ++i)
        moves.slots.push_back(i == fixed || !(ends.peg > 0)
                                  ? 0
                                  : ends.peg + 2 * g.across_swing(moves.pegs[i] - moves.pegs[fixed]).play());
    moves.tight = tight_pegs(g, moves.pegs);
    g.out.ends = std::move(moves);
}

void say_what_is_taken(const Ground& g) {
    Seasons& out = g.out;
    const MoistureRange& m = out.moisture;
    if (m.dry_is_usual || m.wet_is_usual)
        out.assumptions.push_back(said(
            "No climate is given{}: air of {} and {} % in the heating season, {} % in the damp one, is taken "
            "(common practice for a heated room). Measure yours and write it under \"climate\".",
            m.dry_is_usual && m.wet_is_usual ? "" : " for one of the seasons",
            amount(usual_dry_air.temperature_C, Unit::C), number(usual_dry_air.humidity_percent),
            number(usual_wet_air.humidity_percent)));
    out.assumptions.push_back("The wood comes to rest in each air (Wood Handbook FPL-GTR-190 Eq. 4-5). A "
                              "finish and the thickness slow it, so it "
                              "seldom moves as far as this.");
    out.assumptions.push_back(
        "Movement across the grain, a point of moisture: " + digits(100 * out.across.value) + " %" +
        cited(out.across) + ", turned by the ring angle as a strain turns; through the thickness " +
        digits(100 * out.through.value) +
        " %. Between pieces it varies by about 15 % (Wood Handbook ch. 4, from memory).");
    out.assumptions.push_back("Along the grain the wood is taken to keep its length. It could change by 0.2 "
                              "% from green to dry at the most "
                              "(Wood Handbook ch. 4, from memory).");
    out.assumptions.push_back(said(
        "Play each side is the greater of growing and shrinking plus {}: made halfway between the seasons "
        "that is the rule of the trade, half the movement plus {} (common practice). "
        "Metal's own growth with warmth is left out.",
        amount(play_margin, Unit::mm), amount(play_margin, Unit::mm)));
    const bool any_held = std::any_of(out.stiffeners.begin(), out.stiffeners.end(),
                                      [](const auto& s) { return s.restraint.has_value(); });
    if (any_held)
        out.assumptions.push_back("Wood held for a season relaxes: its modulus is divided by 1 + chi phi = " +
                                  digits(g.relaxation.divisor()) +
                                  " (Bazant, ACI Journal 69, 1972, chi 0.8; phi = k_def" +
                                  cited(materials::k_def(g.piece.allowables.service_class)) +
                                  "). Each screw holds a strip as wide as the screws' spacing, glue one as "
                                  "wide as its contact and twice the "
                                  "thickness. Splitting that starts at a screw hole is not seen.");
    out.assumptions.push_back("Cupping is that of the bare top lying free, each face at its own moisture and "
                              "the wood between in a straight line "
                              "from one to the other. It grows in proportion to the difference. Boards that "
                              "cup one by one, by the turn of "
                              "their rings, are not counted.");
}

void warn(const Ground& g) {
    Seasons& out = g.out;
    const MoistureRange& m = out.moisture;
    constexpr double some = 0.05; // points: no meter reads finer
    if (m.made_percent > m.wet_percent + some || m.made_percent < m.dry_percent - some)
        out.warnings.push_back(
            "The top is made at " + digits(m.made_percent) + " % moisture, outside what the seasons bring (" +
            digits(m.dry_percent) + " to " + digits(m.wet_percent) +
            " %): let the boards come to rest where the piece will stand, and give \"moisture\" as "
            "measured.");
    if (m.dry_percent < 6 - some || m.wet_percent > 14 + some)
        out.warnings.push_back("The movement is known from 6 to 14 % moisture (Wood Handbook ch. 13); this "
                               "climate reaches from " +
                               digits(m.dry_percent) + " to " + digits(m.wet_percent) + " %.");
    if (!g.allowed && std::any_of(out.stiffeners.begin(), out.stiffeners.end(),
                                  [](const auto& s) { return s.restraint.has_value(); }))
        out.warnings.push_back(
            "The strength of this wood is not known: the stresses of held wood are not judged.");
}

} // namespace

void refuse_what_is_no_wood(const Piece& piece) {
    if (!piece.top.sheet.empty())
        throw Error(ErrorKind::input, {.place = "top.sheet",
                                       .what = "how far a sheet moves with its moisture is not known here",
                                       .remedy = "leave the seasons out: sheets move far less than solid "
                                                 "wood across the grain (common practice)"});
    if (piece.top.wood.empty())
        throw Error(ErrorKind::input,
                    {.place = "top.elastic",
                     .what = "how far a material of stated constants moves with its moisture is not known",
                     .remedy = "name a wood under \"top\""});
}

Seasons seasons_of(const Piece& piece, const SeasonOptions& options) {
    refuse_what_is_no_wood(piece);
    Seasons out;
    const Ground g = ground_of(piece, out);
    measure_parts(g);
    for (const Stiffener& stiffener : piece.stiffeners) look_at_stiffener(g, stiffener);
    if (piece.ends) look_at_ends(g);
    if (!piece.supports.empty()) look_at_supports(g);
    out.face_difference_percent = options.face_difference_percent;
    const std::array<SwellingOf, 2> swellings{
        face_to_face_swelling(out.across.value * options.face_difference_percent, 0),
        even_swelling(out.across.value)};
    const std::vector<Cup> cups = cups_of(piece, swellings, options.threads);
    out.gradient = cups[0];
    out.even = cups[1];
    say_what_is_taken(g);
    warn(g);
    for (const SeasonCheck& check : out.checks) out.passes = out.passes && check.utilisation() <= 1;
    return out;
}

} // namespace hollowtop
