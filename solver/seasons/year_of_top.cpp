// SPDX-License-Identifier: MIT
#include "solver/seasons/year_of_top.hpp"

#include "materials/digits.hpp"
#include "materials/duration.hpp"
#include "materials/error.hpp"
#include "materials/moisture.hpp"
#include "materials/wood.hpp"
#include "solver/piece/boards.hpp"
#include "solver/piece/moisture_range.hpp"
#include "solver/seasons/restraint.hpp"
#include "solver/seasons/season_holds.hpp"
#include "solver/seasons/season_tension.hpp"
#include "solver/seasons/seasons.hpp"
#include "solver/seasons/year_ways.hpp"
#include "solver/seasons/zone_drying.hpp"
#include "solver/section/top_material.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <span>
#include <string>
#include <utility>

namespace hollowtop {
namespace {

using materials::cited;
using materials::digits;

constexpr int one_year = days_per_year, two_years = 2 * days_per_year;

void add_months(const Setting& s, const Way& way, const ZoneDays& days, YearOfTop& year) {
    const double width = extent_across(s.piece.top);
    for (int i = 0; i < 12; ++i) {
        const int month = (way.month - 1 + i) % 12 + 1;
        const int start = first_day_of(way.month),
                  end = first_day_of(month) + (month < way.month ? one_year : 0) +
                        (first_day_of(month + 1) - first_day_of(month)) - start - 1;
        const ZoneDay& day = days.days[static_cast<std::size_t>(end)];
        year.months.push_back(
            {.month = month,
             .air_percent = day.air_percent,
             .full_percent = day.straight.front().mean,
             .skin_percent = day.straight[s.thinnest].mean,
             .width_change = width * s.movement * (day.straight.front().mean - s.piece.top.moisture_percent),
             .shape = shape_of(s.fields, strains_on(s, way, day)),
             .tension = 0});
    }
}

void add_days(const Setting& s, const Way& way, const ZoneDays& days, YearOfTop& year) {
    const DryingLine full = lines_of(s.fields.zones, way.finish, way.drinking).front();
    for (std::size_t i = 0; i < days.days.size(); ++i) {
        const ZoneDay& day = days.days[i];
        const Cup shape = shape_of(s.fields, strains_on(s, way, day));
        const Faces rests{day.air_percent, day.air_percent};
        year.days.push_back({.air_percent = day.air_percent,
                             .full_percent = day.straight.front().mean,
                             .skin_percent = day.straight[s.thinnest].mean,
                             .show_face_percent = face_moisture(full, days.profiles[i].front(), rests).above,
                             .rise_across = shape.across.value,
                             .out_of_flat = shape.out_of_flat});
    }
}

/// Days on which the tension is summed up: each of the first eight, then one a week.
bool is_looked_at(int day) { return day < 8 || day % 7 == 0; }

struct LookedAt {
    int day = 0;
    TensionOfDay tension;
};

std::vector<LookedAt> tensions_of(const Setting& s, const Way& way, const ZoneDays& days, double give,
                                  double divisor) {
    std::vector<LookedAt> looked;
    HeldState state = unstressed(s.fields, way.start_percent);
    for (int day = 0; day < static_cast<int>(days.profiles.size()); ++day) {
        follow(state, s.fields, days.profiles[static_cast<std::size_t>(day)], s.movement, give);
        if (is_looked_at(day)) looked.push_back({day, tension_of(s.fields, state, divisor)});
    }
    return looked;
}

double hardest(const std::vector<LookedAt>& days) {
    double most = 0;
    for (const LookedAt& look : days) most = std::max(most, look.tension.greatest);
    return most;
}

void add_tension(const Setting& s, const Way& way, const ZoneDays& days, YearOfTop& year) {
    const Relaxation relaxation{.creep = materials::k_def(s.piece.allowables.service_class).value};
    const double divisor = relaxation.divisor();
    year.tension.divisor = divisor;
    const std::vector<LookedAt> looked =
        tensions_of(s, way, days, materials::give_with_moisture().value, divisor);
    year.tension.without_give = hardest(tensions_of(s, way, days, 0, divisor));
    const TensionOfDay* worst = &looked.front().tension;
    for (const LookedAt& look : looked) {
        if (look.tension.greatest > worst->greatest) worst = &look.tension;
        if (look.day >= one_year) continue;
        const int month = month_of(first_day_of(way.month) + look.day);
        for (YearMonth& row : year.months)
            if (row.month == month) row.tension = std::max(row.tension, look.tension.greatest);
    }
    year.tension.greatest = worst_of(0, static_cast<int>(looked.size()), [&](int i) {
        return looked[static_cast<std::size_t>(i)].tension.greatest;
    });
    for (int* day : {&year.tension.greatest.day, &year.tension.greatest.from, &year.tension.greatest.to})
        *day = looked[static_cast<std::size_t>(*day)].day;
    year.tension.at = worst->at;
    year.tension.in_a_skin = worst->zone > 0;
}

void say_what_is_taken(const Piece& piece, YearOfTop& year) {
    const materials::Diffusion& d = materials::diffusion_across();
    std::string through;
    for (const std::string* id : {&year.finish.above, &year.finish.below, &year.finish.recess}) {
        const materials::Finish& f = materials::find_finish(*id);
        const std::string one = f.name + " " + digits(f.exchange_mm_s.value * 1e5) + "e-8 m/s";
        if (through.find(one) == std::string::npos) through += (through.empty() ? "" : ", ") + one;
    }
    year.assumptions.push_back(
        "Moisture goes straight through the thickness; from the edges and the walls of a recess none goes, "
        "so that the rim is "
        "told slower, and the lead of the skin greater, by up to a third, than it is.");
    year.assumptions.push_back("Diffusion " + digits(d.at_12_mm2_s.value * 1e4) +
                               "e-10 m2/s at 12 %, growing by " + digits(100 * d.growth_per_percent.value) +
                               " % a point, the same for every wood" + cited(d.at_12_mm2_s) +
                               "; surfaces let through: " + through + " (order of magnitude, from memory).");
    year.assumptions.push_back(
        "The air swings as a sine, driest in the middle of January (common practice for the north of "
        "the world), or as climate.months says. A stove, sun, a floor that is heated or a covered "
        "recess are not in it.");
    year.assumptions.push_back(
        "By the month the top lies free: no weight, support or stiffener holds it; "
        "creep lessens only the stress. As it "
        "stands it is solved on two days, on its supports and bars with its weight "
        "alone, slots three screw diameters long, without friction. "
        "A screw bears what Johansen's yielding gives (EN 1995-1-1 8.2, with the wood's mean "
        "density, f_u 600 MPa and the rope effect) and slips on at that, or its ultimate "
        "withdrawal (Wood Handbook Eq. 8-10); hardened ones may bear a third more.");
    if (year.finish_is_usual)
        year.assumptions.push_back(
            "A finish is not said for every face: thin oil is taken there (judgement). Write "
            "top.finish.");
    if (year.month_is_usual)
        year.assumptions.push_back(
            "The month of moving in is not said: November is taken (judgement). Write climate.move_in.");
    if (piece.climate && piece.climate->shop &&
        std::abs(year.start_percent - piece.top.moisture_percent) > 0.5)
        year.warnings.push_back(
            "Wood rests at " + digits(year.start_percent) + " % in climate.shop, and top.moisture says " +
            digits(piece.top.moisture_percent) + " %: seasons start from the first, widths from the second.");
    constexpr double movement_known_from = 6, movement_known_to = 14;
    for (const YearMonth& row : year.months)
        if (row.air_percent < movement_known_from || row.air_percent > movement_known_to) {
            year.warnings.push_back(
                "Movement a point is known from 6 to 14 % (Wood Handbook ch. 13); this air goes beyond.");
            break;
        }
    year.assumptions.push_back(said("Wood under stress across the grain gives {} of its elastic strain a "
                                    "point of moisture change{}, and creeps "
                                    "by k_def besides: stress / {} (as movement takes it). Did it not give "
                                    "with its moisture, the pull would "
                                    "come to {}.",
                                    number(materials::give_with_moisture().value),
                                    cited(materials::give_with_moisture()), number(year.tension.divisor),
                                    amount(year.tension.without_give, Unit::MPa)));
    year.assumptions.push_back(
        "The pull is for comparing ways alone and held against no strength: by the same reckoning thick "
        "solid tops, which live, would crack.");
}

void add_standing(const Setting& s, const Way& way, const ZoneDays& days, const YearOptions& options,
                  YearOfTop& year) {
    if (s.piece.supports.empty() || !s.piece.self_weight) return;
    Standing standing;
    standing.worst_day = year.first.out_of_flat.day;
    const auto change = [&](int day) {
        return std::abs(days.days[static_cast<std::size_t>(day)].straight.front().mean - way.start_percent);
    };
    for (int day = 0; day < static_cast<int>(days.days.size()); ++day)
        if (change(day) > change(standing.moved_day)) standing.moved_day = day;
    std::vector<std::vector<ZoneStrain>> strains;
    for (const int day : {standing.worst_day, standing.moved_day})
        strains.push_back(strains_on(s, way, days.days[static_cast<std::size_t>(day)]));
    const std::vector<HeldShape> held = held_shapes(s.piece, s.fields.zones, strains, options.threads);
    standing.worst = held[0];
    standing.moved = held[1];
    if ((!s.piece.stiffeners.empty() || s.piece.ends) && !options.briefly) {
        Piece without = s.piece;
        without.stiffeners.clear();
        without.ends.reset();
        const std::vector<HeldShape> bare = held_shapes(without, s.fields.zones, strains, options.threads);
        standing.worst_without_bars = bare[0];
        standing.moved_without_bars = bare[1];
    }
    year.standing = std::move(standing);
}

void add_standing_rings(const Piece& piece, int threads, YearOfTop& year) {
    if (!year.rings || !year.rings->are_known || piece.supports.empty() || !piece.self_weight) return;
    const std::vector<RingBoard> boards = ring_boards_of(piece.top);
    const std::array<double, 2> seasons{year.rings->k_dry, year.rings->k_damp};
    const std::vector<HeldShape> held = held_rings(piece, boards, seasons, threads);
    year.rings->stands_dry = held[0];
    year.rings->stands_damp = held[1];
}

/// The first year's greatest departure from flat, the mean of the full thickness each day that of the rim's section.
double out_of_flat_with_edges(const Setting& s, const Way& way, const ZoneDays& days, const RimLead& edges) {
    double most = 0;
    for (std::size_t day = 0; day < edges.rim_percent.size(); ++day) {
        std::vector<ZoneStrain> strains = strains_on(s, way, days.days[day]);
        for (std::size_t zone = 0; zone < strains.size(); ++zone)
            if (s.fields.zones[zone].is_full)
                strains[zone].mean = s.movement * (edges.rim_percent[day] - way.start_percent);
        most = std::max(most, shape_of(s.fields, strains).out_of_flat);
    }
    return most;
}

/// Bars that cannot let the wood go: said before anything else.
void warn_of_bars(const Piece& piece, YearOfTop& year) {
    const double grain = piece.top.grain_deg * std::numbers::pi / 180;
    std::string names;
    int n = 0;
    for (const Stiffener& bar : piece.stiffeners) {
        const bool holds = bar.screws.holes == Holes::round || bar.screws.holes == Holes::bonded;
        const double length = std::hypot(bar.to.x - bar.from.x, bar.to.y - bar.from.y);
        const double share =
            std::abs((bar.to.y - bar.from.y) * std::cos(grain) - (bar.to.x - bar.from.x) * std::sin(grain)) /
            length;
        constexpr double along = 0.17; // ten degrees to the grain
        if (!holds || !(share > along)) continue;
        names += (n++ == 0 ? "" : ", ") + bar.name;
    }
    if (n == 0) return;
    year.warnings.push_back(
        names + (n == 1 ? " is" : " are") +
        " fast to the wood across the grain (round holes or glue): as it dries the two bend as layers do "
        "(Timoshenko 1925), and the wood may split. Slots first: movement.");
}

/// A skin that bows by more than its thickness is stretched as well, and that is not in the shell.
void warn_of_great_bow(const ZoneFields& fields, YearOfTop& year) {
    double thinnest = fields.zones.front().thickness;
    for (const auto& zone : fields.zones) thinnest = std::min(thinnest, zone.thickness);
    const double most = std::max(year.first.out_of_flat.value, year.second.out_of_flat.value);
    if (most <= thinnest) return;
    year.warnings.push_back(
        said("Out of flat by {}, where the thinnest wood is {}: beyond small bows (Timoshenko and "
             "Woinowsky-Krieger, Theory of Plates and Shells, ch. 13, from memory). Trust that it "
             "bows far, not how far.",
             amount(most, Unit::mm), amount(thinnest, Unit::mm)));
}

/// Thin oil where nothing is said.
FaceFinishes whole_finish(FaceFinishes finish, bool has_recess, bool& is_usual) {
    for (std::string* id : {&finish.above, &finish.below, &finish.recess}) {
        if (!id->empty()) continue;
        is_usual = is_usual || has_recess || id != &finish.recess;
        *id = "oil";
    }
    return finish;
}

} // namespace

YearOfTop year_of_top(const Piece& piece, const YearOptions& options) {
    refuse_what_is_no_wood(piece);
    YearOfTop year;
    year.range = moisture_range(piece);
    const RoomAir air(piece);
    Way way{.finish = whole_finish(piece.top.finish, !piece.recesses.empty(), year.finish_is_usual),
            .month = moves_in_month(piece),
            .start_percent = moves_in_at_percent(piece),
            .drinking = {}};
    year.finish = way.finish;
    year.month = way.month;
    year.month_is_usual = !piece.climate || piece.climate->move_in == 0;
    year.start_percent = way.start_percent;
    year.across =
        materials::movement_per_percent(materials::find_wood(piece.top.wood), piece.top.ring_angle_deg);
    const ZoneFields fields = zone_fields(piece, options.threads);
    year.zones = fields.zones;
    year.error_percent = fields.error_percent;
    const Setting setting{.piece = piece,
                          .fields = fields,
                          .air = air,
                          .movement = year.across.value,
                          .thinnest = thinnest_of(fields.zones)};
    const ZoneDays days = dry_zones(lines_of(fields.zones, way.finish, way.drinking), air, way.month,
                                    way.start_percent, two_years, true);
    year.first = worst_of_days(setting, way, days, 0, one_year);
    year.second = worst_of_days(setting, way, days, one_year, two_years);
    add_months(setting, way, days, year);
    add_days(setting, way, days, year);
    add_tension(setting, way, days, year);
    if (!options.briefly) {
        if (fields.zones.size() > 1)
            year.edges =
                rim_lead(piece, way.finish, air, way.month, way.start_percent, days, setting.thinnest);
        if (year.edges) year.edges->out_of_flat = out_of_flat_with_edges(setting, way, days, *year.edges);
        year.doubled = doubled_ways(setting, way);
        year.helps = helpful_ways(setting, way, year.first.out_of_flat.value, options.threads);
    }
    add_standing(setting, way, days, options, year);
    year.rings = rings_of(piece, year.range);
    if (!options.briefly) add_standing_rings(piece, options.threads, year);
    warn_of_bars(piece, year);
    if (Message slots = told_of_short_slots(piece); !slots.empty()) year.warnings.push_back(std::move(slots));
    warn_of_great_bow(fields, year);
    say_what_is_taken(piece, year);
    return year;
}

} // namespace hollowtop
