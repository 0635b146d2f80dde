// SPDX-License-Identifier: MIT
#include "cli/report/workshop/template_plan.hpp"

#include "materials/error.hpp"
#include "materials/section.hpp"
#include "solver/piece/screw_holes.hpp"
#include "solver/piece/trace.hpp"
#include "solver/piece/wording.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop::cli {
namespace {

constexpr double spare_radius =
    0.5; ///< beyond the cutter's own, so that it sweeps a corner (common practice)

/// What goes on while the template is made: faults are collected, so that all are told in one run.
class Maker {
  public:
    Maker(const RouterSetup& setup, Template& out) : setup_(setup), out_(out) {}

    void recess(const Hollow& hollow, const std::string& place) {
        const std::size_t before = faults_.size();
        check_corners(hollow.loop, true, place + ".corner_radius", in_quotes(hollow.name));
        for (std::size_t k = 0; k < hollow.lands.size(); ++k) {
            const std::string land_place = place + ".lands[" + std::to_string(k) + "]";
            check_corners(hollow.lands[k], false, land_place + ".corner_radius",
                          "the land " + in_quotes(hollow.land_names[k]));
        }
        if (faults_.size() > before) return;
        const double reach = setup_.cutter / 2;
        const auto way = moved_outwards(hollow.loop, -reach); // where the cutter's centre may go
        if (!way) {
            fault(place,
                  said("{} is narrower than the cutter, {}", in_quotes(hollow.name), in_mm(setup_.cutter)),
                  "take a smaller cutter or widen the recess");
            return;
        }
        add(hollow.name, hollow.loop, setup_.offset(), false, hollow.depth, place);
        note_rounded(hollow.loop, false, in_quotes(hollow.name));
        std::vector<Loop> kept_off;
        for (std::size_t k = 0; k < hollow.lands.size(); ++k) {
            const std::string land_place = place + ".lands[" + std::to_string(k) + "]";
            const auto off = moved_outwards(hollow.lands[k], reach);
            if (!off) continue; // its own hollow corners were checked
            if (reaches_out(trace_of(*off), trace_of(*way)))
                fault(land_place,
                      said("the gap between the land {} and the wall is narrower than the cutter, {}",
                           in_quotes(hollow.land_names[k]), in_mm(setup_.cutter)),
                      "take a smaller cutter or move the land");
            for (const Loop& other : kept_off)
                if (common_place(trace_of(*off), trace_of(other)))
                    fault(land_place,
                          said("the gap between this land and another is narrower than the cutter, {}",
                               in_mm(setup_.cutter)),
                          "take a smaller cutter or move the land");
            kept_off.push_back(*off);
            add(hollow.land_names[k], hollow.lands[k], -setup_.offset(), true, hollow.depth, land_place);
            note_rounded(hollow.lands[k], true, "the land " + in_quotes(hollow.land_names[k]));
        }
    }

    void compare_openings(const std::vector<std::string>& places) {
        std::vector<const Cut*> openings;
        for (const Cut& cut : out_.cuts)
            if (!cut.island) openings.push_back(&cut);
        if (openings.size() != places.size()) return; // another fault stands in the way
        for (std::size_t i = 0; i < openings.size(); ++i)
            for (std::size_t k = 0; k < i; ++k)
                if (common_place(trace_of(openings[i]->edge), trace_of(openings[k]->edge)))
                    fault(places[i],
                          "the openings for " + in_quotes(openings[k]->name) + " and " +
                              in_quotes(openings[i]->name) + " run into one another",
                          said("leave more than {} between the recesses, or take a bush nearer to the "
                               "cutter's size",
                               in_mm(setup_.bush - setup_.cutter)));
        for (const Cut* opening : openings)
            if (reaches_out(trace_of(opening->edge), trace_of(out_.outline)))
                out_.notes.push_back(
                    "The opening for " + in_quotes(opening->name) +
                    " reaches over the edge of the top: make the template larger than the top.");
    }

    void tell() const {
        if (!faults_.empty()) throw Error(ErrorKind::input, faults_);
    }

  private:
    static std::string in_quotes(const std::string& name) { return "\"" + name + "\""; }

    void fault(std::string place, Message what, Message remedy) {
        faults_.push_back({std::move(place), std::move(what), std::move(remedy)});
    }

    void check_corners(const Loop& loop, bool convex, const std::string& place, const std::string& what) {
        const auto corner = tightest_corner(loop, convex);
        const double reach = setup_.cutter / 2;
        if (!corner) return;
        if (corner->radius < reach - 1e-9)
            fault(place,
                  said("a cutter of {} leaves a radius of {} in the corner of {} at {}, which asks for {}",
                       in_mm(setup_.cutter), in_mm(reach), what, place_text(corner->at),
                       in_mm(corner->radius)),
                  said("give a radius of at least {}, or a smaller cutter", in_mm(reach + spare_radius)));
        else if (corner->radius < reach + spare_radius - 1e-9)
            out_.notes.push_back(said("The cutter just fits the corners of {}: a radius of {} lets it sweep "
                                      "round (common practice).",
                                      what, in_mm(reach + spare_radius)));
    }

    /// Corners that jut out come out with at least the offset as their radius: the bush rolls round them.
    void note_rounded(const Loop& loop, bool convex, const std::string& what) {
        const auto corner = tightest_corner(loop, convex);
        if (corner && corner->radius < setup_.offset() - 1e-9)
            out_.notes.push_back(
                said("Corners of {} that jut out come out with a radius of {}: the bush rolls round them.",
                     what, in_mm(setup_.offset())));
    }

    void add(const std::string& name, const Loop& wanted, double by, bool island, double depth,
             const std::string& place) {
        const auto edge = moved_outwards(wanted, by);
        if (!edge) {
            fault(place,
                  said("the template's edge for {} closes: its offset is {}", in_quotes(name),
                       in_mm(setup_.offset())),
                  "take a bush nearer to the cutter's size");
            return;
        }
        out_.cuts.push_back(
            {.name = name, .wanted = wanted, .edge = *edge, .island = island, .depth = depth});
    }

    const RouterSetup& setup_;
    Template& out_;
    std::vector<Fault> faults_;
};

std::vector<Footprint> footprints_of_stiffeners(const Piece& piece) {
    std::vector<Footprint> all;
    for (const Stiffener& stiffener : piece.stiffeners) {
        const materials::Section section = materials::parse_section(stiffener.section);
        const double half = (section.contact_y1 - section.contact_y0) / 2;
        const Trace band = band_along(stiffener.from, stiffener.to, 2 * half);
        all.push_back({stiffener.name, band.points});
    }
    return all;
}

std::vector<Footprint> footprints_of_pads(const Piece& piece) {
    std::vector<Footprint> all;
    for (const Support& support : piece.supports)
        if (const auto* pad = std::get_if<Pad>(&support.kind)) {
            const double x = pad->size_x / 2, y = pad->size_y / 2;
            all.push_back({support.name,
                           {{pad->at.x - x, pad->at.y - y},
                            {pad->at.x + x, pad->at.y - y},
                            {pad->at.x + x, pad->at.y + y},
                            {pad->at.x - x, pad->at.y + y}}});
        }
    return all;
}

/// A groove: a recess just as large as the bar in it.
bool is_filled_by_a_bar(const Hollow& hollow, const std::vector<Footprint>& bars) {
    constexpr double near = 0.01;
    const Rectangle a = bounds_of(hollow.loop);
    return std::any_of(bars.begin(), bars.end(), [&](const Footprint& bar) {
        Rectangle b{bar.corners.front().x, bar.corners.front().x, bar.corners.front().y,
                    bar.corners.front().y};
        for (const Point& p : bar.corners)
            b = {std::min(b.x0, p.x), std::max(b.x1, p.x), std::min(b.y0, p.y), std::max(b.y1, p.y)};
        return std::abs(a.x0 - b.x0) < near && std::abs(a.x1 - b.x1) < near && std::abs(a.y0 - b.y0) < near &&
               std::abs(a.y1 - b.y1) < near;
    });
}

/// An island's part of the template hangs together with nothing.
void note_islands(Template& out) {
    for (const Cut& island : out.cuts) {
        if (!island.island) continue;
        const Rectangle box = bounds_of(island.edge);
        out.notes.push_back(
            said("The island \"{}\" lies loose: set it by x {} to {}, y {} to {} from the corner, and "
                 "hold it with double-sided tape on a clean face, or with two screws into the land "
                 "where wood stays, shorter than template and wood together.",
                 island.name, in_mm(box.x0), in_mm(box.x1), in_mm(box.y0), in_mm(box.y1)));
    }
}

} // namespace

Template template_of(const Piece& piece, const Plan& plan, const Bench& bench, const RouterSetup& setup) {
    if (setup.bush < setup.cutter)
        throw Error(ErrorKind::input, Fault{"--bush",
                                            said("a guide bush of {} does not let a cutter of {} through",
                                                 in_mm(setup.bush), in_mm(setup.cutter)),
                                            "give the bush's outer diameter, greater than the cutter's"});
    if (plan.hollows.empty() && piece.stiffeners.empty())
        throw Error(ErrorKind::input, Fault{"recesses", "this piece has neither a recess nor a stiffener",
                                            "a template needs one"});
    Template out{.setup = setup,
                 .bounds = bounds_of_plan(plan),
                 .outline = plan.outline,
                 .cuts = {},
                 .pilots = {},
                 .slots = {},
                 .holes = {},
                 .stiffeners = footprints_of_stiffeners(piece),
                 .pads = footprints_of_pads(piece),
                 .notes = {}};
    Maker maker(setup, out);
    std::vector<std::string> places;
    for (std::size_t i = 0; i < plan.hollows.size(); ++i) {
        if (is_filled_by_a_bar(plan.hollows[i], out.stiffeners)) {
            out.notes.push_back(said("\"{}\" has no opening here: its bar fills it. Cut it {} deep along the "
                                     "bar's outline, with a fence.",
                                     plan.hollows[i].name, in_mm(plan.hollows[i].depth)));
            continue;
        }
        places.push_back("recesses[" + std::to_string(i) + "]");
        maker.recess(plan.hollows[i], places.back());
    }
    maker.compare_openings(places);
    maker.tell();
    note_islands(out);
    for (std::size_t i = 0; i < bench.stiffeners.size(); ++i) {
        const StiffenerWork& work = bench.stiffeners[i];
        for (const ScrewWork& screw : work.screws) {
            out.pilots.push_back({screw.at, work.pilot});
            if (work.holes == Holes::slotted && !screw.fixed) {
                // where no season is known, the length that the check counts on
                const double length =
                    screw.slot_length > 0 ? screw.slot_length : slot_diameters * work.screw_diameter;
                out.slots.push_back({screw.at, length, work.hole, piece.top.grain_deg + 90});
            } else {
                out.holes.push_back({screw.at, work.hole});
            }
        }
    }
    return out;
}

} // namespace hollowtop::cli
