// SPDX-License-Identifier: MIT
// What stands under the top and on it: stiffeners, supports, loads.
#include "materials/metal.hpp"
#include "materials/section.hpp"
#include "materials/wood.hpp"
#include "solver/piece/ends.hpp"
#include "solver/piece/fault_list.hpp"
#include "solver/piece/kept_region.hpp"
#include "solver/piece/wording.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

bool expect_length(Point from, Point to, const std::string& place, FaultList& list) {
    const double length = std::hypot(to.x - from.x, to.y - from.y);
    return list.expect(length > touching, place + ".to", "is the same point as \"from\"",
                       "give a line with a length") &&
           list.expect_within(length, line_length, place + ".to");
}

void expect_one_material(const std::string& metal, const std::string& wood, bool has_elastic,
                         const std::string& place, FaultList& list) {
    const int n_given = (metal.empty() ? 0 : 1) + (wood.empty() ? 0 : 1) + (has_elastic ? 1 : 0);
    list.expect(n_given != 0, place, "does not say what it is made of",
                "give \"metal\", \"wood\" or \"elastic\"");
    list.expect(n_given <= 1, place, "is made of more than one thing",
                "give only one of \"metal\", \"wood\", \"elastic\"");
    if (!metal.empty()) list.look_up(place + ".metal", [&] { materials::find_metal(metal); });
    if (!wood.empty()) list.look_up(place + ".wood", [&] { materials::find_wood(wood); });
}

void expect_elastic(const std::optional<BarElastic>& elastic, const std::string& place, FaultList& list) {
    if (!elastic) return;
    list.expect_positive(elastic->E, place + ".elastic.E", "a stiffness", Unit::MPa);
    list.expect_positive(elastic->G, place + ".elastic.G", "a stiffness", Unit::MPa);
    list.expect(elastic->density_kg_m3 >= 0, place + ".elastic.density",
                plain(elastic->density_kg_m3) + " kg/m3 is not a density", "give 0 kg/m3 or more");
}

void expect_stiffness(const std::optional<double>& stiffness, const std::string& place, FaultList& list) {
    if (stiffness) list.expect_positive(*stiffness, place + ".stiffness", "a stiffness", Unit::none);
}

/// The axis stays on one level: adds a fault at the first place where the wood above changes its thickness.
bool expect_one_level(const Stiffener& stiffener, const Piece& piece, const Plan& plan,
                      const std::string& place, FaultList& list) {
    std::vector<double> shares{0, 1};
    const auto add_meetings = [&](const std::optional<Trace>& trace) {
        if (!trace) return;
        const std::vector<double> here = meetings(stiffener.from, stiffener.to, *trace);
        shares.insert(shares.end(), here.begin(), here.end());
    };
    for (const auto& recess : plan.recesses) add_meetings(recess);
    for (const auto& lands : plan.lands) std::for_each(lands.begin(), lands.end(), add_meetings);
    std::sort(shares.begin(), shares.end());
    const auto at = [&](double share) {
        return Point{stiffener.from.x + share * (stiffener.to.x - stiffener.from.x),
                     stiffener.from.y + share * (stiffener.to.y - stiffener.from.y)};
    };
    const double length = std::hypot(stiffener.to.x - stiffener.from.x, stiffener.to.y - stiffener.from.y);
    std::optional<double> level;
    for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
        if ((shares[i + 1] - shares[i]) * length < 2 * largest_stray) continue;
        const double here = thickness_at(piece, plan, at((shares[i] + shares[i + 1]) / 2));
        if (level && std::abs(*level - here) > touching) {
            list.add(place,
                     said("crosses from {} of wood to {} at {}", in_mm(*level), in_mm(here),
                          place_text(at(shares[i]))),
                     "end it there, or keep it on one level");
            return false;
        }
        level = here;
    }
    return true;
}

/// `grip`: what a screw goes through before it enters the wood above; empty where the section is not known.
void look_at_screws(const Stiffener& stiffener, double length, std::optional<double> grip, const Piece& piece,
                    const Plan& plan, bool one_level, const std::string& stiffener_place, FaultList& list) {
    const Screws& screws = stiffener.screws;
    const std::string place = stiffener_place + ".screws";
    expect_stiffness(screws.stiffness, place, list);
    if (screws.slot_length && screws.holes == Holes::slotted) {
        list.expect(*screws.slot_length > screws.diameter, place + ".slot_length",
                    said("a slot of {} lets a screw of {} go nowhere", in_mm(*screws.slot_length),
                         in_mm(screws.diameter)),
                    "give its length over all, more than the screw's diameter");
        list.expect(*screws.slot_length <= length + touching, place + ".slot_length",
                    said("{} is longer than the stiffener ({})", in_mm(*screws.slot_length), in_mm(length)),
                    "give less");
    }
    if (screws.holes == Holes::dovetail && one_level) {
        const Point middle{(stiffener.from.x + stiffener.to.x) / 2, (stiffener.from.y + stiffener.to.y) / 2};
        list.expect(thickness_at(piece, plan, middle) < piece.top.thickness - touching, stiffener_place,
                    "slides in no groove: all the wood is there",
                    R"(give its "groove", how deep it is let in)");
    }
    if (!is_screwed(screws.holes)) return;
    list.expect_positive(screws.diameter, place + ".diameter", "a screw");
    list.expect_within(screws.diameter, screw_diameter, place + ".diameter");
    list.expect_within(screws.length, screw_length, place + ".length");
    if (screws.at.empty() && list.expect_within(screws.spacing, screw_spacing, place + ".spacing") &&
        screws.spacing > 0)
        list.expect_at_most(static_cast<std::size_t>(std::min(length / screws.spacing, 1e9)) + 1, most_screws,
                            place + ".spacing");
    const bool has_length = list.expect_positive(screws.length, place + ".length", "a screw");
    if (screws.at.empty() && list.expect_positive(screws.spacing, place + ".spacing", "a spacing")) {
        list.expect(screws.spacing <= length + touching, place + ".spacing",
                    said("{} is longer than the stiffener ({})", in_mm(screws.spacing), in_mm(length)),
                    "give less, or the places in \"at\"");
    }
    for (std::size_t i = 0; i < screws.at.size(); ++i) {
        list.expect(screws.at[i] >= -touching && screws.at[i] <= length + touching, item(place + ".at", i),
                    said("{} lies beyond the stiffener ({})", in_mm(screws.at[i]), in_mm(length)),
                    said("give {} to {} from its start", in_mm(0), in_mm(length)));
    }
    if (!grip || !has_length || !one_level) return;
    const Point middle{(stiffener.from.x + stiffener.to.x) / 2, (stiffener.from.y + stiffener.to.y) / 2};
    const double wood = thickness_at(piece, plan, middle);
    list.expect(screws.length < *grip + wood, place + ".length",
                said("{} comes out of the top: {} of the section and {} of wood are there",
                     in_mm(screws.length), in_mm(*grip), in_mm(wood)),
                said("give less than {}", in_mm(*grip + wood)));
}

/// `x` and `y` of "over".
void look_at_part(const std::optional<Rectangle>& over, const Plan& plan, const std::string& place,
                  FaultList& list) {
    if (!over) return;
    const auto expect_side = [&](double low, double high, const char* key, const char* what) {
        return list.expect(low < high, place + ".over" + key,
                           said("from {} to {} there is no {}", in_mm(low), in_mm(high), what),
                           "give the smaller number first, then the larger");
    };
    const bool has_length = expect_side(over->x0, over->x1, ".x", "length");
    const bool has_width = expect_side(over->y0, over->y1, ".y", "width");
    if (!has_length || !has_width || !plan.outline) return;
    list.expect(common_place(trace_of(RectangleShape{*over, 0}), *plan.outline).has_value(), place + ".over",
                "lies off the top", "give a part of the top");
}

struct SupportFaults {
    const Piece& piece;
    const Plan& plan;
    const std::string& place;
    FaultList& list;

    /// `at`: its middle, where it has one: the same with x and y changed about may lie on the top.
    void expect_within(const Trace& trace, const char* what, std::optional<Point> at = {}) const {
        if (!plan.outline) return;
        if (const auto outside = reaches_out(trace, *plan.outline)) {
            const bool is_turned = at && reaches_out(*at, *at, *plan.outline) &&
                                   !reaches_out({at->y, at->x}, {at->y, at->x}, *plan.outline);
            list.add(
                place, said("reaches {} past the outline at {}", in_mm(outside->by), place_text(outside->at)),
                is_turned
                    ? said("keep the whole {} on the top; did x and y change places? They are written [x, y]",
                           what)
                    : said("keep the whole {} on the top", what));
        }
    }
    /// Screws up from below must end in the wood.
    void expect_screws(const HoldDown& held) const {
        constexpr double least = 3; // mm of wood over the point, common practice
        if (held.screws > 0)
            list.expect(held.length <= piece.top.thickness - least, place + ".hold_down.length",
                        said("{} of screw in a top of {} comes within {} of its face", in_mm(held.length),
                             in_mm(piece.top.thickness), in_mm(least)),
                        "take shorter screws; the length is that in the top's wood");
    }
    void expect_height(const std::optional<double>& height) const {
        if (height) list.expect_positive(*height, place + ".height", "a height");
    }
    void operator()(const Pad& pad) const {
        expect_screws(pad.held_by);
        expect_stiffness(pad.stiffness, place, list);
        expect_height(pad.height);
        // A point support has no finite answer in a plate with shear.
        const bool has_area = list.expect(pad.size_x > 0 && pad.size_y > 0, place + ".size",
                                          said("{} is no area to stand on", sizes(pad.size_x, pad.size_y)),
                                          said("give two lengths above {}", in_mm(0)));
        if (!has_area || !list.expect_within(pad.size_x, pad_sides, place + ".size") ||
            !list.expect_within(pad.size_y, pad_sides, place + ".size"))
            return;
        expect_within(trace_of(RectangleShape{{pad.at.x - pad.size_x / 2, pad.at.x + pad.size_x / 2,
                                               pad.at.y - pad.size_y / 2, pad.at.y + pad.size_y / 2},
                                              0}),
                      "pad", pad.at);
    }
    void operator()(const Bearer& bearer) const {
        expect_screws(bearer.held_by);
        expect_stiffness(bearer.stiffness, place, list);
        expect_height(bearer.height);
        const bool has_width = list.expect_not_negative(bearer.width, place + ".width", " (a knife edge)") &&
                               list.expect_within(bearer.width, bearer_width, place + ".width");
        if (!expect_length(bearer.from, bearer.to, place, list) || !has_width) return;
        if (bearer.width > 0)
            expect_within(band_along(bearer.from, bearer.to, bearer.width), "bearer");
        else
            expect_on_top(plan, bearer.from, bearer.to, place, list);
    }
    void operator()(const Rail& rail) const {
        expect_screws(rail.held_by);
        list.look_up(place + ".section", [&] { materials::parse_section(rail.section); });
        expect_one_material(rail.metal, rail.wood, rail.elastic.has_value(), place, list);
        expect_elastic(rail.elastic, place, list);
        expect_line(rail.from, rail.to);
    }
    void operator()(const Held& held) const {
        list.expect(held.down || held.tilt || held.twist || held.along || held.across, place + ".holds",
                    "holds nothing",
                    "name at least one of \"down\", \"tilt\", \"twist\", \"along\", \"across\"");
        expect_line(held.from, held.to);
    }
    void operator()(const BuiltIn& built_in) const { expect_line(built_in.from, built_in.to); }

    void expect_line(Point from, Point to) const {
        if (expect_length(from, to, place, list)) expect_on_top(plan, from, to, place, list);
    }
};

struct LoadFaults {
    const Plan& plan;
    const std::string& place;
    FaultList& list;

    void expect_amount(double amount, const char* key, const SizeBounds& bounds) const {
        list.expect(std::isfinite(amount), place + key, plain(amount) + " is not an amount",
                    "give a finite number");
        list.expect_within(std::abs(amount), bounds, place + key);
    }
    void operator()(const AreaLoad& load) const {
        expect_amount(load.pressure, ".pressure", load_pressure);
        look_at_part(load.over, plan, place, list);
    }
    void operator()(const PatchLoad& load) const {
        expect_amount(load.force, ".force", load_force);
        list.expect(load.size_x >= 0 && load.size_y >= 0, place + ".size",
                    said("{} is no size", sizes(load.size_x, load.size_y)),
                    said("give two lengths of {} or more", in_mm(0)));
        if (!load.travels) expect_on_top(plan, load.at, place + ".at", list);
        look_at_part(load.over, plan, place, list);
    }
    void operator()(const LineLoad& load) const {
        expect_amount(load.force, ".force", load_force);
        if (expect_length(load.from, load.to, place, list) && !load.travels) {
            expect_on_top(plan, load.from, load.to, place, list);
        }
        look_at_part(load.over, plan, place, list);
    }
    void operator()(const ClampLoad& load) const {
        list.expect_positive(load.force, place + ".force", "a weight that hangs", Unit::N);
        const auto look_at_pad = [&](double size_x, double size_y, const char* key) {
            if (!list.expect(size_x > 0 && size_y > 0, place + key,
                             said("{} is no area to press on", sizes(size_x, size_y)),
                             said("give two lengths above {}", in_mm(0))))
                return;
            if (!plan.outline) return;
            const Trace pad = trace_of(RectangleShape{{load.at.x - size_x / 2, load.at.x + size_x / 2,
                                                       load.at.y - size_y / 2, load.at.y + size_y / 2},
                                                      0});
            if (const auto outside = reaches_out(pad, *plan.outline))
                list.add(
                    place + key,
                    said("reaches {} past the outline at {}", in_mm(outside->by), place_text(outside->at)),
                    "keep the whole pad on the top");
        };
        look_at_pad(load.above_x, load.above_y, ".above");
        look_at_pad(load.below_x, load.below_y, ".below");
    }
};

} // namespace

void look_at_stiffeners(const Piece& piece, const Plan& plan, FaultList& list) {
    for (std::size_t i = 0; i < piece.stiffeners.size(); ++i) {
        const Stiffener& stiffener = piece.stiffeners[i];
        const std::string place = item("stiffeners", i);
        expect_one_material(stiffener.metal, stiffener.wood, stiffener.elastic.has_value(), place, list);
        expect_elastic(stiffener.elastic, place, list);
        std::optional<double> grip;
        double width = 0; // of what lies against the wood
        list.look_up(place + ".section", [&] {
            const materials::Section section = materials::parse_section(stiffener.section);
            grip = section.grip;
            width = section.contact_y1 - section.contact_y0;
        });
        bool one_level = false;
        if (!expect_length(stiffener.from, stiffener.to, place, list)) continue;
        if (plan.outline) {
            expect_on_top(plan, stiffener.from, stiffener.to, place, list);
            const bool line_is_on = !reaches_out(stiffener.from, stiffener.to, *plan.outline);
            if (line_is_on && width > 0)
                if (const auto outside =
                        reaches_out(band_along(stiffener.from, stiffener.to, width), *plan.outline))
                    list.add(place,
                             said("reaches {} past the outline at {}", in_mm(outside->by),
                                  place_text(outside->at)),
                             "keep all that lies against the wood on the top");
            one_level = expect_one_level(stiffener, piece, plan, place, list);
        }
        const double length =
            std::hypot(stiffener.to.x - stiffener.from.x, stiffener.to.y - stiffener.from.y);
        look_at_screws(stiffener, length, grip, piece, plan, one_level, place, list);
    }
}

void look_at_ends(const Piece& piece, const Plan& plan, FaultList& list) {
    if (!piece.ends) return;
    const Ends& ends = *piece.ends;
    const bool wooden = list.expect(!ends.wood.empty() && !piece.top.wood.empty(), "ends.wood",
                                    "the ends, and the top between them, are to be of wood",
                                    R"(name a "wood" here and under "top")");
    if (wooden) list.look_up("ends.wood", [&] { materials::find_wood(ends.wood); });
    if (!list.expect(may_have_ends(piece.top), "ends",
                     "this needs a rectangular top whose grain runs along one of its sides",
                     "leave the ends out, or draw the top so"))
        return;
    const bool grain_along_x = std::abs(std::remainder(piece.top.grain_deg, 180.0)) < 1;
    const double long_way = grain_along_x ? piece.top.length : piece.top.width;
    if (!list.expect(ends.width > 0 && ends.width <= long_way / 4, "ends.width",
                     said("ends of {} on a top of {} along its grain", in_mm(ends.width), in_mm(long_way)),
                     said("give up to {}: a quarter; the top's length counts them in", in_mm(long_way / 4))))
        return;
    list.expect(ends.tongue > 0 && ends.tongue < ends.width, "ends.tongue",
                said("a tongue of {} in an end of {}", in_mm(ends.tongue), in_mm(ends.width)),
                "give less than the end's width");
    list.expect(ends.pegs >= 1 && ends.peg >= 0 && ends.peg < ends.width, "ends.peg",
                "this is no peg of such an end", "give one peg at least, thinner than the end is wide");
    for (const EndBoard& board : end_boards(piece)) {
        const Trace band = trace_of(RectangleShape{board.band, 0});
        for (std::size_t i = 0; i < plan.recesses.size(); ++i)
            if (plan.recesses[i])
                if (const auto common = common_place(band, *plan.recesses[i]))
                    list.add(item("recesses", i),
                             said("reaches into a breadboard end at {}", place_text(*common)),
                             "keep the recess between the ends");
    }
}

void look_at_supports(const Piece& piece, const Plan& plan, FaultList& list) {
    for (std::size_t i = 0; i < piece.supports.size(); ++i) {
        const std::string place = item("supports", i);
        std::visit(SupportFaults{piece, plan, place, list}, piece.supports[i].kind);
    }
}

void look_at_loads(const Piece& piece, const Plan& plan, FaultList& list) {
    for (std::size_t i = 0; i < piece.loads.size(); ++i) {
        const std::string place = item("loads", i);
        std::visit(LoadFaults{plan, place, list}, piece.loads[i].kind);
        // a force of a test comes and goes: what stays, or comes for weeks, must not slip past the limits of
        // sag
        const bool passes = !stays(piece.loads[i].duration) && piece.loads[i].duration != Duration::medium;
        list.expect(piece.loads[i].judged_for == LoadFor::everyday || passes, place + ".for",
                    std::string("a load of duration \"") + to_word(piece.loads[i].duration) +
                        "\" is judged for everything",
                    "leave \"for\" out, or give a duration of \"short\" or less");
    }
}

} // namespace hollowtop
