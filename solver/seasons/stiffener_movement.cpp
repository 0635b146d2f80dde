// SPDX-License-Identifier: MIT
#include "solver/seasons/stiffener_movement.hpp"

#include "materials/digits.hpp"
#include "materials/metal.hpp"
#include "materials/screw.hpp"
#include "materials/section.hpp"
#include "materials/weakest_link.hpp"
#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"
#include "solver/capacity/screw_borne.hpp"
#include "solver/interface/screw_places.hpp"
#include "solver/piece/screw_holes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>
#include <utility>
#include <vector>

namespace hollowtop {
namespace {

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
              double strain, const Restraint& r, double screw_bears = 0) {
    const double E_top = modulus_along(g.plane, direction), divisor = g.relaxation.divisor();
    const double strip_area = r.strip_width * r.strip_thickness;
    const ScrewedBeamStrip strip{.screws = places,
                                 .screw_stiffness = r.screw_stiffness / divisor,
                                 .EA_top = E_top * strip_area / divisor,
                                 .EA_stiffener =
                                     modulus_of(stiffener) * materials::parse_section(stiffener.section).area,
                                 .free_strain = strain,
                                 .screw_bears = screw_bears};
    HeldBack held;
    double pull = 0;
    if (r.screw_stiffness > 0) {
        const ScrewedBeamStripResult solved = solve_screwed_beam_strip(strip);
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
    r.tension = r.tension_yielding = dry.stress;
    r.compression = wet.stress;
    for (size_t i = 0; i < dry.screw_force.size(); ++i) {
        row.screws[i].force = std::max(std::abs(dry.screw_force[i]), std::abs(wet.screw_force[i]));
        r.screw_force = std::max(r.screw_force, row.screws[i].force);
    }
    r.screw_force_yielding = r.screw_force;
    const double thread = std::min(stiffener.screws.length - section.grip, r.strip_thickness);
    const double bears = glued ? 0 : borne_by_screw(g.piece, stiffener, thread).shear_N;
    if (bears > 0) {
        const HeldBack yielding =
            hold(g, stiffener, places, direction, per_point * g.out.moisture.shrinking_points(), r, bears);
        r.tension_yielding = yielding.stress;
        r.screw_force_yielding = std::min(r.screw_force, bears);
    }
    row.restraint = r;
}

const char* loosening =
    "fix the middle screw and slot the other holes across the top's grain, or use buttons or clips";

} // namespace

void judge_held_wood(const Ground& g, const std::string& name, double tension, double compression,
                     double volume) {
    if (!g.allowed) return;
    const double less = materials::strength_ratio_of_volumes(volume, g.allowed->tension_across_volume_mm3);
    constexpr double mm3_per_cm3 = 1000;
    g.out.checks.push_back(
        {.what = name + ": tension across the grain in the dry season",
         .demand = tension,
         .capacity = g.allowed->tension_across.value * less,
         .unit = "MPa",
         .basis = said("{}; x {} for the {} that are held back (Weibull 1939, {})",
                       g.allowed->tension_across.basis, number(less), amount(volume / mm3_per_cm3, Unit::cm3),
                       materials::weakest_link().exponent_said),
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
    case Holes::slotted: {
        if (!stiffener.screws.slot_length || !(furthest > 0)) break;
        double needs = 0;
        for (const ScrewTravel& screw : row.screws) needs = std::max(needs, screw.slot_length);
        g.out.checks.push_back(
            {.what = stiffener.name + ": way of the screws in their slots",
             .demand = furthest,
             .capacity = screw_play(stiffener.screws),
             .unit = "mm",
             .basis = said("a slot of {} lets a screw of {} go {} each way from its middle",
                           amount(*stiffener.screws.slot_length, Unit::mm),
                           amount(stiffener.screws.diameter, Unit::mm),
                           amount(screw_play(stiffener.screws), Unit::mm)),
             .remedy = said("cut slots of {} at least, {} of play each way in it", amount(needs, Unit::mm),
                            amount(play_margin, Unit::mm))});
        break;
    }
    case Holes::dovetail:
        row.slides = g.across_swing(length / 2 * share);
        break;
    case Holes::oversize:
        g.out.checks.push_back(
            {.what = stiffener.name + ": way of the screws in their oversize holes",
             .demand = furthest,
             .capacity = screw_play(stiffener.screws),
             .unit = "mm",
             .basis = said("a hole drilled {} over the screw lets it go {} each way (common practice)",
                           amount(2 * oversize_hole_play, Unit::mm), amount(oversize_hole_play, Unit::mm)),
             .remedy = loosening});
        break;
    case Holes::round:
    case Holes::bonded:
        if (share == 0) break;
        restrain(g, stiffener, places, t, share, row);
        // of a stress along the stiffener the part across the grain is judged
        if (row.restraint)
            judge_held_wood(g, stiffener.name, share * row.restraint->tension.face,
                            share * row.restraint->compression.face,
                            row.restraint->strip_width * row.restraint->strip_thickness *
                                row.restraint->strip_length);
        break;
    }
    g.out.stiffeners.push_back(std::move(row));
}

} // namespace hollowtop
