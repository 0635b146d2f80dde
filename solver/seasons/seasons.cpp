// SPDX-License-Identifier: MIT
#include "solver/seasons/seasons.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/metal.hpp"
#include "materials/moisture.hpp"
#include "materials/screw.hpp"
#include "materials/section.hpp"
#include "materials/weakest_link.hpp"
#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"
#include "solver/checks/checks.hpp"
#include "solver/interface/screw_places.hpp"
#include "solver/piece/kept_region.hpp"
#include "solver/shell/shell.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace hollowtop {
namespace {

using materials::cited;
using materials::digits;

/// Directions of the piece, and how much a point of moisture does.
struct Ground {
    const Piece& piece;
    Seasons& out;
    ThicknessField field;
    PlaneStiffness plane;
    Elastic elastic;
    Point along, across;
    Relaxation relaxation;
    std::optional<materials::AllowableStresses> allowed;

    double coordinate(Point p) const { return p.x * across.x + p.y * across.y; }
    Swing swing(double size, double per_point) const {
        return {.shrinks = std::abs(size) * per_point * out.moisture.shrinking_points(),
                .grows = std::abs(size) * per_point * out.moisture.growing_points()};
    }
    Swing across_swing(double size) const { return swing(size, out.across.value); }
};

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

// ---- stiffeners
// -----------------------------------------------------------------------------------------------

double modulus_of(const Stiffener& stiffener) {
    if (stiffener.elastic) return stiffener.elastic->E;
    if (!stiffener.metal.empty()) return materials::find_metal(stiffener.metal).E;
    return materials::wood_constants(materials::find_wood(stiffener.wood), 12).E_L;
}

double wood_density(const Ground& g) { return g.elastic.density_kg_m3.value_or(0); }

double slip_stiffness(const Ground& g, const Stiffener& stiffener) {
    if (stiffener.screws.stiffness) return *stiffener.screws.stiffness;
    return materials::slip_stiffness(stiffener.screws.diameter, wood_density(g), stiffener.wood.empty())
        .value;
}

/// The pull between the top and the stiffener, and what it does to the wood. `strain` the wood would take
/// along the stiffener.
struct HeldBack {
    StressInSeason stress;
    std::vector<double> screw_force;
};
HeldBack hold(const Ground& g, const Stiffener& stiffener, std::span<const double> places, Point direction,
              double strain, const Restraint& r) {
    const double E_top = modulus_along(g.plane, direction), divisor = g.relaxation.divisor();
    const double strip_area = r.strip_width * r.strip_thickness;
    const ScrewedStrip strip{.screws = places,
                             .screw_stiffness = r.screw_stiffness / divisor,
                             .EA_top = E_top * strip_area / divisor,
                             .EA_stiffener =
                                 modulus_of(stiffener) * materials::parse_section(stiffener.section).area,
                             .free_strain = strain};
    HeldBack held;
    double pull = 0;
    if (r.screw_stiffness > 0) {
        const ScrewedStripResult solved = solve_screwed_strip(strip);
        pull = solved.greatest_pull;
        held.screw_force = solved.screw_force;
    } else {
        pull = strain / (1 / strip.EA_top + 1 / strip.EA_stiffener); // glued: no slip at all
    }
    held.stress.held = held_stress(E_top, strain, g.relaxation);
    held.stress.mean = pull / strip_area;
    // The pull lies at the underside of the strip: free to bend it stresses that face four times as much as
    // on the average (N/A + 6 N (h/2) / (b h^2)), but never more than wood held fast.
    held.stress.face = std::min(4 * held.stress.mean, held.stress.held);
    return held;
}

void restrain(const Ground& g, const Stiffener& stiffener, std::span<const double> places, Point direction,
              double share, StiffenerMovement& row) {
    Restraint r;
    const bool glued = stiffener.screws.holes == Holes::bonded;
    const materials::Section section = materials::parse_section(stiffener.section);
    const Point middle{(stiffener.from.x + stiffener.to.x) / 2, (stiffener.from.y + stiffener.to.y) / 2};
    r.strip_thickness = thickness_of(g.field, std::max(region_at(g.field, middle), full_thickness));
    if (glued) {
        r.strip_width = section.contact_y1 - section.contact_y0 + 2 * r.strip_thickness;
        r.strip_length = std::hypot(stiffener.to.x - stiffener.from.x, stiffener.to.y - stiffener.from.y);
    } else {
        if (places.size() < 2) return;
        r.strip_length = places.back() - places.front();
        r.strip_width = r.strip_length / static_cast<double>(places.size() - 1);
        r.screw_stiffness = slip_stiffness(g, stiffener);
        if (!(r.screw_stiffness > 0)) {
            g.out.warnings.push_back(
                stiffener.name +
                ": the stiffness of its screws is not known, so what its round holes do is not computed.");
            return;
        }
        if (!g.piece.top.wood.empty()) {
            const materials::Wood& wood = materials::find_wood(g.piece.top.wood);
            r.screw_limit = materials::lateral_handbook(wood.sg_12, wood.softwood, stiffener.screws.diameter);
        }
    }
    const double per_point = g.out.across.value * share;
    const HeldBack dry =
        hold(g, stiffener, places, direction, per_point * g.out.moisture.shrinking_points(), r);
    const HeldBack wet =
        hold(g, stiffener, places, direction, per_point * g.out.moisture.growing_points(), r);
    r.tension = dry.stress;
    r.compression = wet.stress;
    for (size_t i = 0; i < dry.screw_force.size(); ++i) {
        row.screws[i].force = std::max(std::abs(dry.screw_force[i]), std::abs(wet.screw_force[i]));
        r.screw_force = std::max(r.screw_force, row.screws[i].force);
    }
    row.restraint = r;
}

const char* loosening =
    "fix the middle screw and slot the other holes across the top's grain, or use buttons or clips";

/// `volume`: of the wood that is held back. The more it is, the less it bears: even tension, by the greatest,
/// all through it.
void judge_stress(const Ground& g, const std::string& name, double tension, double compression,
                  double volume) {
    if (!g.allowed) return;
    const double less = materials::strength_ratio_of_volumes(volume, g.allowed->tension_across_volume_mm3);
    constexpr double mm3_per_cm3 = 1000;
    g.out.checks.push_back({.what = name + ": tension across the grain in the dry season",
                            .demand = tension,
                            .capacity = g.allowed->tension_across.value * less,
                            .unit = "MPa",
                            .basis = g.allowed->tension_across.basis + "; x " + materials::digits(less) +
                                     " for the " + materials::digits(volume / mm3_per_cm3) +
                                     " cm3 that are held back (Weibull 1939, " +
                                     materials::weakest_link().exponent_said + ")",
                            .remedy = loosening});
    g.out.checks.push_back({.what = name + ": pressure across the grain in the damp season",
                            .demand = compression,
                            .capacity = g.allowed->compression_across.value,
                            .unit = "MPa",
                            .basis = g.allowed->compression_across.basis,
                            .remedy = loosening});
}

void look_at_stiffener(const Ground& g, const Stiffener& stiffener) {
    const double length = std::hypot(stiffener.to.x - stiffener.from.x, stiffener.to.y - stiffener.from.y);
    const Point t{(stiffener.to.x - stiffener.from.x) / length, (stiffener.to.y - stiffener.from.y) / length};
    const double cos_across =
        t.x * g.across.x + t.y * g.across.y; // of the stiffener against the direction across the grain
    const double sin_across = -t.y * g.across.x + t.x * g.across.y; // of its normal
    const double share = cos_across * cos_across < 1e-24 ? 0 : cos_across * cos_across;
    StiffenerMovement row{.name = stiffener.name,
                          .holes = stiffener.screws.holes,
                          .to_the_grain_deg =
                              std::asin(std::min(1.0, std::abs(cos_across))) * 180 / std::numbers::pi,
                          .screws = {},
                          .restraint = {}};
    const std::vector<double> places = screw_places(stiffener);
    size_t fixed = 0;
    for (size_t i = 0; i < places.size(); ++i)
        if (std::abs(places[i] - length / 2) < std::abs(places[fixed] - length / 2) - 1e-9) fixed = i;
    double furthest = 0;
    for (size_t i = 0; i < places.size(); ++i) {
        const double distance = places[i] - places[fixed];
        // movement m (n . d) n of the wood against the fixed screw, split along the stiffener and square to
        // it
        ScrewTravel screw{.at = places[i],
                          .place = {stiffener.from.x + places[i] * t.x, stiffener.from.y + places[i] * t.y},
                          .is_fixed = i == fixed,
                          .along = g.across_swing(distance * share),
                          .sideways = g.across_swing(distance * cos_across * sin_across),
                          .slot_length = 0,
                          .force = 0};
        if (!screw.is_fixed) screw.slot_length = stiffener.screws.diameter + 2 * screw.along.play();
        furthest = std::max(furthest, screw.along.greater());
        row.screws.push_back(screw);
    }
    switch (stiffener.screws.holes) {
    case Holes::slotted:
        break;
    case Holes::oversize:
        g.out.checks.push_back(
            {.what = stiffener.name + ": way of the screws in their oversize holes",
             .demand = furthest,
             .capacity = oversize_play,
             .unit = "mm",
             .basis = "a hole drilled 2 mm over the screw lets it go 1 mm each way (common practice)",
             .remedy = loosening});
        break;
    case Holes::round:
    case Holes::bonded:
        if (share == 0) break;
        restrain(g, stiffener, places, t, share, row);
        // of a stress along the stiffener the part across the grain is judged
        if (row.restraint)
            judge_stress(g, stiffener.name, share * row.restraint->tension.face,
                         share * row.restraint->compression.face,
                         row.restraint->strip_width * row.restraint->strip_thickness *
                             row.restraint->strip_length);
        break;
    }
    g.out.stiffeners.push_back(std::move(row));
}

// ---- supports
// -------------------------------------------------------------------------------------------------

/// Where a support stands, and whether the top is fastened to it.
struct Standing {
    Point from{}, to{};
    bool holds = false;
};
struct StandingOf {
    Standing operator()(const Pad& pad) const { return {pad.at, pad.at, pad.hold_down}; }
    Standing operator()(const Bearer& bearer) const { return {bearer.from, bearer.to, bearer.hold_down}; }
    Standing operator()(const Rail& rail) const { return {rail.from, rail.to, rail.hold_down}; }
    Standing operator()(const Held& held) const {
        return {held.from, held.to, held.down || held.along || held.across};
    }
    Standing operator()(const BuiltIn& built_in) const { return {built_in.from, built_in.to, true}; }
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
        const Standing s = std::visit(StandingOf{}, support.kind);
        for (const Point p : {s.from, s.to}) {
            all.add(g.coordinate(p));
            if (pins_width(g, support)) pinned.add(g.coordinate(p));
        }
    }
    const double middle = (all.low + all.high) / 2;
    for (const Support& support : g.piece.supports) {
        const Standing s = std::visit(StandingOf{}, support.kind);
        const double furthest =
            std::max(std::abs(g.coordinate(s.from) - middle), std::abs(g.coordinate(s.to) - middle));
        g.out.supports.push_back({.name = support.name,
                                  .holds = s.holds,
                                  .from_middle = furthest,
                                  .swing = g.across_swing(furthest)});
    }
    if (pinned.size() > 1) { // two places across the grain that are both held fast in the plane
        const double E = modulus_along(g.plane, g.across);
        judge_stress(g, "lines held in the plane",
                     held_stress(E, g.out.across.value * g.out.moisture.shrinking_points(), g.relaxation),
                     held_stress(E, g.out.across.value * g.out.moisture.growing_points(), g.relaxation),
                     area_of(g.field.outline) * g.field.thickness);
        g.out.warnings.push_back("Lines of the top are held in the plane at two places across the grain: the "
                                 "wood between them cannot move. "
                                 "Let go of one, or mean it only for the bending.");
    }
}

// ---- words
// ----------------------------------------------------------------------------------------------------

void say_what_is_taken(const Ground& g) {
    Seasons& out = g.out;
    const MoistureRange& m = out.moisture;
    if (m.dry_is_usual || m.wet_is_usual)
        out.assumptions.push_back(
            "No climate is given" +
            std::string(m.dry_is_usual && m.wet_is_usual ? "" : " for one of the seasons") +
            ": air of 20 C and 30 % in the heating season, 60 % in the damp one, is taken (common practice "
            "for a "
            "heated room). Measure yours and write it under \"climate\".");
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
    out.assumptions.push_back("Play each side is the greater of growing and shrinking plus 1 mm: made "
                              "halfway between the seasons that is the "
                              "rule of the trade, half the movement plus 1 mm (common practice). Metal's own "
                              "growth with warmth is left out.");
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

Seasons seasons_of(const Piece& piece, const SeasonOptions& options) {
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
    Seasons out;
    out.moisture = moisture_range(piece);
    const materials::Wood& wood = materials::find_wood(piece.top.wood);
    out.across = materials::movement_per_percent(wood, piece.top.ring_angle_deg);
    out.through = materials::movement_per_percent(wood, 90 - piece.top.ring_angle_deg);
    const Elastic elastic = elastic_of(piece);
    const PlaneStiffness plane = plane_stiffness(elastic, piece.top.grain_deg);
    const double grain = plane.grain_rad;
    Ground g{.piece = piece,
             .out = out,
             .field = thickness_field(piece, plane, false),
             .plane = plane,
             .elastic = elastic,
             .along = {std::cos(grain), std::sin(grain)},
             .across = {-std::sin(grain), std::cos(grain)},
             .relaxation = {.creep = materials::k_def(piece.allowables.service_class).value},
             .allowed = allowables_of(piece, Duration::long_term)};
    measure_parts(g);
    for (const Stiffener& stiffener : piece.stiffeners) look_at_stiffener(g, stiffener);
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
