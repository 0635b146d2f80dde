// SPDX-License-Identifier: MIT
#include "solver/seasons/year_ways.hpp"

#include "materials/digits.hpp"
#include "materials/finish.hpp"

#include <algorithm>
#include <string>
#include <utility>

namespace hollowtop {

std::size_t thinnest_of(const std::vector<Zone>& zones) {
    std::size_t thinnest = 0;
    for (std::size_t i = 0; i < zones.size(); ++i)
        if (zones[i].thickness < zones[thinnest].thickness) thinnest = i;
    return thinnest;
}

std::vector<ZoneStrain> strains_on(const Setting& s, const Way& way, const ZoneDay& day) {
    std::vector<ZoneStrain> strains;
    for (const StraightPart& line : day.straight)
        strains.push_back({.mean = s.movement * (line.mean - way.start_percent),
                           .difference = s.movement * line.difference});
    return strains;
}

WorstOfYear worst_of_days(const Setting& s, const Way& way, const ZoneDays& days, int from, int to) {
    std::vector<Cup> shapes;
    for (int day = from; day < to; ++day)
        shapes.push_back(shape_of(s.fields, strains_on(s, way, days.days[static_cast<std::size_t>(day)])));
    const auto shape = [&](int day) -> const Cup& { return shapes[static_cast<std::size_t>(day - from)]; };
    return {.lead = worst_of(from, to,
                             [&](int day) {
                                 const auto& straight = days.days[static_cast<std::size_t>(day)].straight;
                                 return straight.front().mean - straight[s.thinnest].mean;
                             }),
            .rise_across = worst_of(from, to, [&](int day) { return shape(day).across.value; }),
            .out_of_flat = worst_of(from, to, [&](int day) { return shape(day).out_of_flat; })};
}

namespace {

WorstOfYear first_year(const Setting& s, const Way& way) {
    const ZoneDays days = dry_zones(lines_of(s.fields.zones, way.finish, way.drinking), s.air, way.month,
                                    way.start_percent, days_per_year, false);
    return worst_of_days(s, way, days, 0, days_per_year);
}

std::string name_of_month(int month) {
    std::string name(month_words[static_cast<std::size_t>(month - 1)]);
    name[0] = static_cast<char>(name[0] - 'a' + 'A');
    return name;
}

struct CutOtherwise {
    Message what;
    Piece piece;
};

/// Less taken out of it, and no land to hold a skin where it is wide.
std::vector<CutOtherwise> cut_otherwise(const Piece& piece) {
    constexpr double less = 4; // mm: what a maker would give for it (judgement)
    std::vector<CutOtherwise> ways;
    const auto is_deep = [](const Recess& recess) { return recess.depth > 2 * less && !recess.surveyed; };
    if (!piece.recesses.empty() && std::all_of(piece.recesses.begin(), piece.recesses.end(), is_deep)) {
        ways.push_back({said("recesses {} less deep", amount(less, Unit::mm)), piece});
        for (Recess& recess : ways.back().piece.recesses) recess.depth -= less;
    }
    const auto has_lands = [](const Recess& recess) { return !recess.lands.empty(); };
    if (std::any_of(piece.recesses.begin(), piece.recesses.end(), has_lands)) {
        ways.push_back({"without lands", piece});
        for (Recess& recess : ways.back().piece.recesses) recess.lands.clear();
    }
    return ways;
}

} // namespace

std::vector<Otherwise> doubled_ways(const Setting& s, const Way& way) {
    std::vector<Otherwise> doubled;
    const auto add = [&](Message what, Drinking drinking) {
        Way other = way;
        other.drinking = drinking;
        doubled.push_back({std::move(what), first_year(s, other)});
    };
    add("diffusion twice as quick", {.diffusion = 2});
    add("diffusion half as quick", {.diffusion = 0.5});
    add("finishes letting through twice as much", {.exchange = 2});
    add("finishes letting through half as much", {.exchange = 0.5});
    return doubled;
}

std::vector<Otherwise> helpful_ways(const Setting& s, const Way& way, double out_of_flat, int threads) {
    std::vector<Otherwise> helps;
    constexpr double worth = 0.9, flat_enough = 0.05; // mm: nothing that an eye or a straightedge finds
    if (out_of_flat < flat_enough) return helps;
    const auto try_one = [&](Message what, const Way& other) {
        WorstOfYear first = first_year(s, other);
        if (first.out_of_flat.value < worth * out_of_flat) helps.push_back({std::move(what), first});
    };
    for (const materials::Finish& finish : materials::finishes()) {
        Way other = way;
        other.finish = {.above = finish.id, .below = finish.id, .recess = finish.id};
        if (finish.id == "bare" || other.finish == way.finish) continue;
        try_one("both faces and the recess alike, with " + finish.name, other);
    }
    int best = way.month;
    double least = out_of_flat;
    for (int month = 1; month <= 12; ++month) {
        Way other = way;
        other.month = month;
        const double flat = first_year(s, other).out_of_flat.value;
        if (flat >= least) continue;
        least = flat;
        best = month;
    }
    Way other = way;
    other.month = best;
    if (best != way.month) try_one("moving in on the first of " + name_of_month(best), other);
    other = way;
    other.start_percent = s.air.rest_percent(first_day_of(way.month) * seconds_per_day);
    if (std::abs(other.start_percent - way.start_percent) > 0.25)
        try_one("made at " + materials::digits(other.start_percent, 2) +
                    " %, what the room gives on moving in",
                other);
    for (CutOtherwise& cut : cut_otherwise(s.piece)) {
        const ZoneFields fields = zone_fields(cut.piece, threads);
        const Setting there{.piece = cut.piece,
                            .fields = fields,
                            .air = s.air,
                            .movement = s.movement,
                            .thinnest = thinnest_of(fields.zones)};
        WorstOfYear first = first_year(there, way);
        if (first.out_of_flat.value < worth * out_of_flat) helps.push_back({std::move(cut.what), first});
    }
    std::stable_sort(helps.begin(), helps.end(), [](const Otherwise& a, const Otherwise& b) {
        return a.first.out_of_flat.value < b.first.out_of_flat.value;
    });
    return helps;
}

} // namespace hollowtop
