// SPDX-License-Identifier: MIT
#include "solver/capacity/in_recess.hpp"

#include "materials/digits.hpp"
#include "materials/moisture.hpp"
#include "materials/section.hpp"
#include "materials/wood.hpp"
#include "solver/piece/kept_region.hpp"
#include "solver/piece/moisture_range.hpp"
#include "solver/piece/screw_holes.hpp"
#include "solver/piece/skin.hpp"
#include "solver/piece/wording.hpp"
#include "solver/shell/loads.hpp"
#include "solver/situations/recess_loads.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

using materials::digits;

/// To hundredths, as sums in sentences are told.
Amounts mm(double length) { return amount(length, Unit::mm, decimals(2)); }

/// What takes room below a footprint: a stiffener that lies in the recess, with the screw heads under it.
struct Iron {
    double height = 0;
    Message name;
};

/// All that a stiffener covers in plan.
std::vector<Point> footprint_of(const Stiffener& stiffener, const materials::Section& section) {
    const double length = std::hypot(stiffener.to.x - stiffener.from.x, stiffener.to.y - stiffener.from.y);
    const Point t{(stiffener.to.x - stiffener.from.x) / length, (stiffener.to.y - stiffener.from.y) / length};
    const double middle = (section.contact_y0 + section.contact_y1) / 2; // the line of the piece file
    const double right = std::min(0.0, section.contact_y0) - middle,
                 left = std::max(section.width, section.contact_y1) - middle;
    const auto at = [&](Point p, double side) { return Point{p.x - side * t.y, p.y + side * t.x}; };
    return {at(stiffener.from, right), at(stiffener.to, right), at(stiffener.to, left),
            at(stiffener.from, left)};
}

/// Do a stiffener's footprint and a box overlap? If not, they are parted along a side of one of them.
bool overlap(const std::vector<Point>& footprint, const Rectangle& box) {
    const std::vector<Point> corners = corners_of(box);
    const Point along{footprint[1].x - footprint[0].x, footprint[1].y - footprint[0].y};
    const double length = std::hypot(along.x, along.y);
    const Point t{along.x / length, along.y / length};
    for (const Point axis : {Point{1, 0}, Point{0, 1}, t, Point{-t.y, t.x}}) {
        const auto reach = [&](const std::vector<Point>& points) {
            std::pair<double, double> ends{1e300, -1e300};
            for (const Point& p : points) {
                const double at = p.x * axis.x + p.y * axis.y;
                ends = {std::min(ends.first, at), std::max(ends.second, at)};
            }
            return ends;
        };
        const auto [a0, a1] = reach(footprint);
        const auto [b0, b1] = reach(corners);
        if (a0 >= b1 - touching || b0 >= a1 - touching) return false;
    }
    return true;
}

Iron iron_under(const Piece& piece, const Rectangle& box) {
    Iron most;
    for (const Stiffener& stiffener : piece.stiffeners) {
        const materials::Section section = materials::parse_section(stiffener.section);
        if (!overlap(footprint_of(stiffener, section), box)) continue;
        double height = section.height;
        Message name = said("stiffener \"{}\" {}", stiffener.name, mm(section.height));
        const double under_head = section.grip + head_per_diameter * stiffener.screws.diameter;
        if (is_screwed(stiffener.screws.holes) && under_head > height) {
            height = under_head;
            name = said("stiffener \"{}\" with its screw heads (0.6 of the diameter, common practice, from "
                        "memory) {}",
                        stiffener.name, mm(height));
        }
        if (height > most.height) most = {height, name};
    }
    return most;
}

/// What the root of the wall takes from the height at the edge of a footprint.
double lost_at_root(const Recess& recess, const Rectangle& box, const RecessTraces& traces) {
    if (!(recess.root_radius > 0)) return 0;
    double nearest = 1e300;
    for (const Point& corner : corners_of(box)) {
        nearest = std::min(nearest, depth_inside(traces.recess, corner));
        for (const Trace& land : traces.lands) nearest = std::min(nearest, -depth_inside(land, corner));
    }
    const double r = recess.root_radius, d = std::clamp(nearest, 0.0, r);
    return r - std::sqrt(r * r - (r - d) * (r - d));
}

KeptResult::Way height_of(const Piece& piece, const Recess& recess, const Kept& kept,
                          const RecessTraces& traces, double sinks,
                          const std::optional<Shrinking>& shrinking) {
    const double depth = piece.top.thickness - skin_range(recess, piece.top).thickest; // least
    KeptResult::Way way{.way = "height",
                        .needed_mm = kept.height + working_clearance + sinks,
                        .there_mm = depth,
                        .basis = ""};
    way.basis =
        said("needed: its own {} + {} to work with (common practice) + {}{} under what stays, after the "
             "years; there: depth {}",
             mm(kept.height), mm(working_clearance), mm(sinks),
             kept.hangs_on == HangsOn::base ? " that the top comes down on it" : " that the skin sinks",
             mm(depth));
    const auto less = [&](double by, const Message& what) {
        if (!(by > 0)) return;
        way.there_mm -= by;
        way.basis += said(" - {}", what);
    };
    const Rectangle box = footprint_of(kept, traces);
    if (recess.cover) less(recess.cover->thickness, said("cover {}", mm(recess.cover->thickness)));
    const Iron iron = iron_under(piece, box);
    less(iron.height, iron.name);
    const double root = lost_at_root(recess, box, traces);
    less(root, said("{} at the rounded root of the wall", mm(root)));
    if (shrinking)
        less(depth * shrinking->through,
             said("{} that the rim shrinks ({})", mm(depth * shrinking->through), shrinking->basis));
    return way;
}

KeptResult::Way width_of(bool along_x, const Kept& kept, const RecessTraces& traces,
                         const std::vector<Neighbour>& others, const std::optional<Shrinking>& shrinking) {
    const double own = along_x ? kept.size_x : kept.size_y;
    const FreeStretch free = free_along(along_x, footprint_of(kept, traces), traces, others);
    KeptResult::Way way{.way = along_x ? "x" : "y",
                        .needed_mm = own + 2 * working_clearance,
                        .there_mm = free.size(),
                        .basis = ""};
    way.basis =
        said("needed: its own {} + {} on each side to work with (common practice); there: {} from {} to {}",
             mm(own), mm(working_clearance), mm(free.size()), free.low_is, free.high_is);
    const double share = shrinking ? (along_x ? shrinking->in_x : shrinking->in_y) : 0;
    if (const double shrinks = free.size() * share; shrinks > 0.005) {
        way.there_mm -= shrinks;
        way.basis += said(" - {} that the top shrinks ({})", mm(shrinks), shrinking->basis);
    }
    return way;
}

KeptResult told_of(const Piece& piece, const Recess& recess, const Kept& kept, const RecessTraces& traces,
                   double sinks, const std::optional<Shrinking>& shrinking) {
    KeptResult told{.name = kept.name,
                    .hangs = to_word(kept.hangs_on),
                    .at = place_of(kept, traces),
                    .size_x = kept.size_x,
                    .size_y = kept.size_y,
                    .height = kept.height,
                    .weight_N = kept.weight_N,
                    .sinks_mm = sinks,
                    .ways = {}};
    std::vector<Neighbour> others;
    for (const Kept& other : recess.holds)
        if (&other != &kept)
            others.push_back({"\"" + other.name + "\"", corners_of(footprint_of(other, traces))});
    for (const Stiffener& stiffener :
         piece.stiffeners) { // one over the thing takes its height, one beside it its width
        std::vector<Point> footprint = footprint_of(stiffener, materials::parse_section(stiffener.section));
        if (!overlap(footprint, footprint_of(kept, traces)))
            others.push_back({"stiffener \"" + stiffener.name + "\"", std::move(footprint)});
    }
    told.ways = {height_of(piece, recess, kept, traces, sinks, shrinking),
                 width_of(true, kept, traces, others, shrinking),
                 width_of(false, kept, traces, others, shrinking)};
    return told;
}

// ---- the cover
// ------------------------------------------------------------------------------------------------

void fill_cover_sag(const Cover& cover, const CoverStuff& stuff, CoverResult& told) {
    if (!(stuff.E > 0) || !stuff.creep || !(stuff.density_kg_m3 > 0)) {
        told.not_judged.push_back(!(stuff.E > 0) ? "its sag: no stiffness is published for this sheet"
                                  : !stuff.creep
                                      ? "its sag: no creep factor is published for it in this service class"
                                      : "its sag: no density is published for it");
        return;
    }
    // a footprint that rests on the rim at both ends: q = rho g t, I = t^3 / 12 of a footprint 1 mm wide; the
    // two other edges only help
    const double q = stuff.density_kg_m3 * 1e-9 * standard_gravity * cover.thickness,
                 I = cover.thickness * cover.thickness * cover.thickness / 12;
    const double span = told.span_mm;
    told.sag_mm = 5 * q * span * span * span * span / (384 * stuff.E * I) * (1 + stuff.creep->value);
    told.sag_limit_mm = span / cover_sag_divisor;
    told.sag_basis = said(
        "a strip across the shorter side, {}, resting at its ends (the other edges only help), under its own "
        "weight after the years (k_def {}{}; modulus {}: {}); against a two-hundredth of that width "
        "(judgement)",
        mm(span), number(stuff.creep->value), materials::cited(*stuff.creep),
        amount(stuff.E, Unit::MPa, significant(4)), stuff.material);
}

void fill_cover_movement(const Cover& cover, const RecessTraces& traces,
                         const std::optional<Shrinking>& shrinking, const Piece& piece, CoverResult& told) {
    if (!shrinking) {
        told.not_judged.push_back("its play: how the top moves with the seasons is not known");
        return;
    }
    // the outermost screws lie across the grain as far apart as the recess is wide; the little that they lie
    // beyond its walls is left out
    const double grain = piece.top.grain_deg * std::numbers::pi / 180;
    double low = 1e300, high = -1e300;
    for (const Point& p : traces.recess.points) {
        const double at = -p.x * std::sin(grain) + p.y * std::cos(grain);
        low = std::min(low, at);
        high = std::max(high, at);
    }
    told.gap_mm = (high - low) * shrinking->across;
    if (!cover.screw_diameter) {
        told.not_judged.push_back("its fixing: no screws are named; let the top move past it");
        return;
    }
    told.moves_mm = (high - low) / 2 * std::max(shrinking->across, shrinking->swells_across);
    told.play_basis =
        said("half of what the top moves across the grain over {} between the outermost screws, fixed in the "
             "middle ({}{}); ",
             mm(high - low), shrinking->basis,
             cover.sheet.empty()
                 ? "; a cover of wood is taken to lie crosswise, so that it does not move with the top"
                 : "; a sheet is taken to keep its size");
    switch (cover.holes) {
    case Holes::round:
        told.play_mm = clearance_hole_play;
        told.play_basis += "round holes half a millimetre wider than the screw (common practice)";
        break;
    case Holes::oversize:
        told.play_mm = oversize_hole_play;
        told.play_basis += "holes two millimetres wider than the screw (common practice)";
        break;
    case Holes::slotted:
        told.play_basis +=
            said("slots across the grain of the top, made that much longer each way than the screw, and {} "
                 "more (common practice)",
                 mm(1));
        break;
    case Holes::bonded:
    case Holes::dovetail:
        told.play_mm = 0;
        told.play_basis += "glued on it cannot give way";
        break;
    }
}

CoverResult told_of_cover(const Piece& piece, const Recess& recess, const RecessTraces& traces,
                          const std::optional<Shrinking>& shrinking) {
    const Cover& cover = *recess.cover;
    const CoverStuff stuff = stuff_of_cover(piece, recess);
    CoverResult told;
    told.material = stuff.material;
    told.thickness_mm = cover.thickness;
    told.mass_kg = stuff.mass_kg;
    told.span_mm = span_of_cover(traces);
    told.trim = cover.trim;
    if (!cover.trim.empty()) told.trim_below_mm = materials::parse_section(cover.trim).height;
    fill_cover_sag(cover, stuff, told);
    fill_cover_movement(cover, traces, shrinking, piece, told);
    told.not_judged.push_back("what pushes up against it or is laid on it");
    return told;
}

} // namespace

std::optional<Shrinking> shrinking_of(const Piece& piece) {
    if (piece.top.wood.empty()) return std::nullopt;
    const materials::Wood& wood = materials::find_wood(piece.top.wood);
    const MoistureRange range = moisture_range(piece);
    const materials::Sourced across = materials::movement_per_percent(wood, piece.top.ring_angle_deg);
    const materials::Sourced through = materials::movement_per_percent(wood, 90 - piece.top.ring_angle_deg);
    const double grain = piece.top.grain_deg * std::numbers::pi / 180, dry = range.shrinking_points();
    const double sine = std::sin(grain), cosine = std::cos(grain);
    return Shrinking{.in_x = across.value * dry * sine * sine,
                     .in_y = across.value * dry * cosine * cosine,
                     .through = through.value * dry,
                     .across = across.value * dry,
                     .swells_across = across.value * range.growing_points(),
                     .basis = said("from {} to {} % moisture{}; {} % a point across the grain{}",
                                   number(range.made_percent), number(range.dry_percent),
                                   range.dry_is_usual ? ", air of a heated room taken, common practice" : "",
                                   number(100 * across.value), materials::cited(across))};
}

const SituationResponse* told_situation(const Response& response) {
    for (const SituationResponse& s : response.situations)
        if (s.stage == Stage::years) return &s;
    return response.situations.empty() ? nullptr : &response.situations.front();
}

std::vector<Message> assumptions_in_recesses(const Piece& piece) {
    bool holds = false, covers = false;
    for (const Recess& recess : piece.recesses) {
        holds = holds || std::any_of(recess.holds.begin(), recess.holds.end(),
                                     [](const Kept& kept) { return kept.hangs_on != HangsOn::base; });
        covers = covers || recess.cover;
    }
    std::vector<Message> told;
    if (holds)
        told.push_back("What hangs in a recess stays for good: on runners half its weight on each wall "
                       "beside its longer side, on the skin spread over its footprint. It is taken to keep "
                       "its size through the seasons.");
    if (covers)
        told.push_back(
            std::string("A cover lies in the mouth of its recess, flush with the underside") +
            (piece.self_weight
                 ? ", and hangs on the rim all round; of a density that is a range the greater end counts."
                 : "; its weight is left out."));
    return told;
}

std::vector<Message> warnings_in_recesses(const Piece& piece) {
    std::vector<Message> told;
    for (const Recess& recess : piece.recesses) {
        if (recess.holds.empty()) continue;
        const RecessTraces traces = traces_of(recess, piece.top.outline);
        for (const Kept& kept : recess.holds) {
            if (kept.hangs_on != HangsOn::runners) continue;
            const Rectangle box = footprint_of(kept, traces);
            const Runners runners = runners_of(box, traces);
            const auto across = [&](Point p) { return runners.along_x ? p.y : p.x; };
            const double low = runners.along_x ? box.y0 : box.x0, high = runners.along_x ? box.y1 : box.x1;
            const double reach =
                std::max({low - across(runners.lines[0].from), low - across(runners.lines[0].to),
                          across(runners.lines[1].from) - high, across(runners.lines[1].to) - high});
            if (reach > longest_reach)
                told.push_back(said(
                    "The runners of \"{}\" reach {} from the wall: how they bend, and turn the rim, is not "
                    "judged. Keep it within {} of the walls (judgement), or hang it on the skin.",
                    kept.name, mm(reach), mm(longest_reach)));
        }
    }
    return told;
}

std::vector<InRecess> in_recesses(const Piece& piece, const std::vector<double>& sinks) {
    std::vector<InRecess> told;
    std::optional<Shrinking> shrinking;
    std::size_t next = 0;
    for (const Recess& recess : piece.recesses) {
        if (recess.holds.empty() && !recess.cover) continue;
        if (told.empty()) shrinking = shrinking_of(piece);
        const RecessTraces traces = traces_of(recess, piece.top.outline);
        InRecess& one = told.emplace_back(InRecess{.recess = recess.name, .holds = {}, .cover = {}});
        for (const Kept& kept : recess.holds) {
            one.holds.push_back(
                told_of(piece, recess, kept, traces, next < sinks.size() ? sinks[next] : 0, shrinking));
            ++next;
        }
        if (recess.cover) one.cover = told_of_cover(piece, recess, traces, shrinking);
    }
    return told;
}

std::vector<InRecess> in_recesses(const Piece& piece, const Response& response) {
    const SituationResponse* const situation = told_situation(response);
    const bool stays_long = situation && situation->stage == Stage::years;
    return in_recesses(piece, stays_long ? situation->kept_sink_mm : std::vector<double>{});
}

} // namespace hollowtop
