// SPDX-License-Identifier: MIT
#include "solver/piece/sense.hpp"

#include "materials/panel.hpp"
#include "materials/strength.hpp"
#include "materials/uses.hpp"
#include "solver/piece/fault_list.hpp"
#include "solver/piece/skin.hpp"
#include "solver/piece/wording.hpp"

#include <cmath>

namespace hollowtop {

bool FaultList::expect_positive(double value, std::string place, std::string_view what, Unit unit,
                                std::string_view unit_word) {
    return expect(value > 0 && std::isfinite(value), std::move(place),
                  said("{}{} is not {}", amount(value, unit, decimals(3)), unit_word, what),
                  said("give more than {}{}", amount(0, unit), unit_word));
}

bool FaultList::expect_not_negative(double value, std::string place, const Message& remedy_note) {
    return expect(value >= 0 && std::isfinite(value), std::move(place),
                  said("{} is less than nothing", in_mm(value)),
                  said("give {}{} or more", in_mm(0), remedy_note));
}

bool FaultList::expect_within(double value, const SizeBounds& bounds, std::string place) {
    if (!(value > 0) || !std::isfinite(value)) return true; // said elsewhere
    const Message least = amount(bounds.least, bounds.unit, significant(3)),
                  most = amount(bounds.most, bounds.unit, significant(3));
    return expect(value >= bounds.least, place,
                  said("is less than {}, the least {} that is computed", least, bounds.what),
                  said("give {} to {}", least, most)) &&
           expect(value <= bounds.most, place,
                  said("is more than {}, the greatest {} that is computed", most, bounds.what),
                  said("give {} to {}", least, most));
}

bool FaultList::expect_at_most(std::size_t count, const MostParts& limit, std::string place) {
    return expect(count <= limit.most, std::move(place), too_many(limit, count), at_most(limit));
}

void look_at_counts(const Piece& piece, FaultList& list) {
    list.expect_at_most(piece.recesses.size(), most_recesses, "recesses");
    list.expect_at_most(piece.stiffeners.size(), most_stiffeners, "stiffeners");
    list.expect_at_most(piece.supports.size(), most_supports, "supports");
    list.expect_at_most(piece.loads.size(), most_loads, "loads");
    list.expect_at_most(piece.probes.size(), most_probes, "probe");
    list.expect_at_most(piece.top.each_board.size(), most_boards, "top.boards");
    const auto look_at_corners = [&](const auto& shape, const std::string& place) {
        if (const auto* polygon = std::get_if<PolygonShape>(&shape))
            list.expect_at_most(polygon->points.size(), most_vertices, place);
    };
    look_at_corners(piece.top.outline, "top.outline.points");
    for (std::size_t i = 0; i < piece.recesses.size() && !list.is_full(); ++i) {
        const Recess& recess = piece.recesses[i];
        const std::string place = item("recesses", i);
        list.expect_at_most(recess.lands.size(), most_lands, place + ".lands");
        list.expect_at_most(recess.holds.size(), most_holds, place + ".holds");
        look_at_corners(recess.shape, place + ".polygon");
        for (std::size_t k = 0; k < recess.lands.size() && !list.is_full(); ++k)
            look_at_corners(recess.lands[k].shape, place + "." + item("lands", k) + ".polygon");
    }
    for (std::size_t i = 0; i < piece.stiffeners.size() && !list.is_full(); ++i)
        list.expect_at_most(piece.stiffeners[i].screws.at.size(), most_screws,
                            item("stiffeners", i) + ".screws.at");
}

std::string item(std::string_view list, std::size_t index) {
    return std::string(list) + "[" + std::to_string(index) + "]";
}

double thickness_at(const Piece& piece, const Plan& plan, Point at) {
    for (std::size_t i = 0; i < plan.recesses.size(); ++i) {
        if (!plan.recesses[i] || depth_inside(*plan.recesses[i], at) < 0) continue;
        for (const std::optional<Trace>& land : plan.lands[i]) {
            if (land && depth_inside(*land, at) >= 0) return piece.top.thickness;
        }
        return skin_of(piece.recesses[i], piece.top);
    }
    return piece.top.thickness;
}

void expect_on_top(const Plan& plan, Point from, Point to, const std::string& place, FaultList& list) {
    if (!plan.outline) return;
    if (const auto outside = reaches_out(from, to, *plan.outline)) {
        list.add(place,
                 said("reaches {} past the outline at {}", in_mm(outside->by), place_text(outside->at)),
                 "keep the whole line on the top");
    }
}

void expect_on_top(const Plan& plan, Point at, const std::string& place, FaultList& list) {
    if (!plan.outline || !reaches_out(at, at, *plan.outline)) return;
    const Point turned{at.y, at.x};
    list.add(place, said("{} lies outside the outline", place_text(at)),
             reaches_out(turned, turned, *plan.outline)
                 ? Message("give a point on the top")
                 : said("give a point on the top; did x and y change places? They are written [x, y], and {} "
                        "lies on it",
                        place_text(turned)));
}

namespace {

void look_at_limit(const MovementLimit& limit, const std::string& place, FaultList& list) {
    if (limit.is_share_of_span) {
        list.expect(limit.divisor > 0 && std::isfinite(limit.divisor), place,
                    "span/" + plain(limit.divisor) + " is not a limit", "give \"span/N\" with N above 0");
    } else {
        list.expect_positive(limit.length, place, "a limit");
    }
}

void look_at_limits(const Limits& limits, FaultList& list) {
    look_at_limit(limits.sag, "limits.sag", list);
    look_at_limit(limits.sag_years, "limits.sag_years", list);
    if (limits.dish.is_stated) look_at_limit(limits.dish, "limits.dish", list);
    if (limits.flatness) list.expect_positive(*limits.flatness, "limits.flatness", "a limit");
    if (limits.flatness_years)
        list.expect_positive(*limits.flatness_years, "limits.flatness_years", "a limit");
    if (limits.frequency_Hz)
        list.expect_positive(*limits.frequency_Hz, "limits.frequency", "a limit", Unit::none, " Hz");
}

void look_at_allowables(const Allowables& allowables, const Top& top, FaultList& list) {
    list.expect(allowables.grade_ratio > 0 && allowables.grade_ratio <= 1, "allowables.grade_ratio",
                plain(allowables.grade_ratio) + " is not a share of the strength",
                "give more than 0 and at most 1");
    const bool is_class = list.expect(
        allowables.service_class >= 1 && allowables.service_class <= 3, "allowables.service_class",
        std::to_string(allowables.service_class) + " is not a service class", "give 1, 2 or 3");
    if (allowables.basis != AllowablesBasis::strength_class || !is_class) return;
    if (!top.sheet.empty()) {
        list.expect(allowables.strength_class.empty(), "allowables.class",
                    "is a class of solid timber, and the top is a sheet",
                    "leave it out: a sheet has strengths of its own");
        list.look_up("allowables.service_class", [&] {
            materials::panel_k_def(materials::find_sheet(top.sheet), allowables.service_class);
        });
        return;
    }
    list.look_up("allowables.class", [&] {
        materials::class_allowables(allowables.strength_class, allowables.service_class,
                                    Duration::short_term);
    });
}

void look_at_air(const Air& air, const std::string& place, FaultList& list) {
    constexpr double coldest = -40, hottest = 60;
    list.expect(air.humidity_percent >= 0 && air.humidity_percent <= 100, place + ".humidity",
                plain(air.humidity_percent) + " % is not a relative humidity", "give 0 to 100");
    list.expect(
        air.temperature_C >= coldest && air.temperature_C <= hottest, place + ".temperature",
        said("{} is not the air of a room or a shed", amount(air.temperature_C, Unit::C, decimals(3))),
        said("give {} to {}", amount(coldest, Unit::C), amount(hottest, Unit::C)));
}

void look_at_climate(const Climate& climate, FaultList& list) {
    if (climate.low) look_at_air(*climate.low, "climate.low", list);
    if (climate.high) look_at_air(*climate.high, "climate.high", list);
    if (climate.shop) look_at_air(*climate.shop, "climate.shop", list);
    for (std::size_t i = 0; i < climate.months.size(); ++i)
        look_at_air(climate.months[i], item("climate.months", i), list);
    constexpr std::size_t in_a_year = 12;
    list.expect(climate.months.empty() || climate.months.size() == in_a_year, "climate.months",
                std::to_string(climate.months.size()) + " is not the number of months in a year",
                "give the air of each, from January on");
    list.expect(climate.move_in >= 0 && climate.move_in <= 12, "climate.move_in",
                std::to_string(climate.move_in) + " is no month", "give 1 for January to 12, or 0");
    list.expect(climate.years >= 0 && std::isfinite(climate.years), "climate.years",
                plain(climate.years) + " is not a number of years", "give 0 or more");
}

} // namespace

std::vector<Fault> faults_of(const Piece& piece) {
    FaultList list;
    Plan plan;
    look_at_counts(piece, list);
    if (!list.faults.empty()) return list.faults; // how they lie to one another takes as long as their square
    look_at_top(piece, plan, list);
    look_at_recesses(piece, plan, list);
    if (list.is_full()) return list.faults; // the plan is not whole
    look_at_holds(piece, plan, list);
    look_at_stiffeners(piece, plan, list);
    look_at_ends(piece, plan, list);
    look_at_supports(piece, plan, list);
    look_at_loads(piece, plan, list);
    look_at_collisions(piece, plan, list);
    if (!piece.use.empty()) list.look_up("use", [&] { materials::find_use(piece.use); });
    look_at_limits(piece.limits, list);
    look_at_allowables(piece.allowables, piece.top, list);
    if (piece.climate) look_at_climate(*piece.climate, list);
    for (std::size_t i = 0; i < piece.probes.size(); ++i) {
        expect_on_top(plan, piece.probes[i], item("probe", i), list);
    }
    return list.faults;
}

std::vector<Fault> not_computed(const Piece& piece) {
    FaultList list;
    for (std::size_t i = 0; i < piece.loads.size(); ++i) {
        const auto* patch = std::get_if<PatchLoad>(&piece.loads[i].kind);
        const auto* line = std::get_if<LineLoad>(&piece.loads[i].kind);
        if (!(patch && patch->travels) && !(line && line->travels)) continue;
        if (!stays(piece.loads[i].duration)) continue;
        list.add(item("loads", i) + ".at", "the worst place of a load that stays is not searched for",
                 "give the place; try several");
    }
    return list.faults;
}

} // namespace hollowtop
