// SPDX-License-Identifier: MIT
#include "cli/text/uncertainty_text.hpp"

#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

std::string share_text(double share) { return fixed(100 * share, share < 0.1 ? 1 : 0) + " %"; }

std::string whole_percent(double share) { return fixed(100 * share, 0) + " %"; }

/// The demand in a unit that a reader knows; of a share the utilisation is told instead.
std::string range_text(const UncertainRow& row, Units units) {
    return row.unit == "1" ? utilisation_text(row.utilisation.low) + " and " +
                                 utilisation_text(row.utilisation.high) + " of what is allowed"
                           : amount_text(row.demand.low, row.unit, units) + " and " +
                                 amount_text(row.demand.high, row.unit, units) + " (" +
                                 amount_text(row.limit, row.unit, units) + " allowed)";
}

} // namespace

std::string chance_text(const Chance& chance) {
    if (!chance.share) return "under one in a thousand";
    if (*chance.share > 1 - least_chance) return "over 999 in a thousand";
    return share_text(*chance.share) + " (give or take " +
           fixed(100 * chance.error, chance.error < 0.001 ? 2 : 1) + ")";
}

std::string band_sentence(const Uncertainty& told, Units units) {
    const auto scatters = [](const UncertainRow& row) {
        return row.utilisation.high > 1.001 * row.utilisation.low;
    };
    const UncertainRow* row = find_row(told, told.governing);
    if (row == nullptr) return {};
    std::string lead;
    if (!scatters(*row)) { // a distance, a thread: as drawn or not; the nearest that does is told
        lead = told.governing + " is the same in all such tops; ";
        row = nullptr;
        for (const UncertainRow& other : told.rows)
            if (scatters(other) && (!row || other.utilisation.high > row->utilisation.high)) row = &other;
        if (row == nullptr) return lead + "and so is all else";
    }
    return lead + "of ten tops made to this drawing nine have " + row->check + " between " +
           range_text(*row, units) + "; chance of more than is allowed: " + chance_text(row->exceeds);
}

std::string causes_sentence(const Uncertainty& told) {
    constexpr std::size_t most = 3;
    constexpr double least = 0.03;
    std::string text;
    std::size_t count = 0;
    for (const CauseShare& share : told.shares) {
        if (share.of_governing < least || count == most) break;
        text += (count++ == 0 ? "" : ", ") + text_of(told.causes[share.cause].name) + " (" +
                whole_percent(share.of_governing) + ")";
    }
    return text.empty() ? text : "what of that scatter comes from where: " + text;
}

std::string boards_sentence(const Uncertainty& told, Units units) {
    if (!told.boards) return {};
    const BoardOrder& boards = *told.boards;
    if (!boards.order.empty()) {
        std::string order;
        for (const std::size_t board : boards.order)
            order += (order.empty() ? "" : ", ") + std::to_string(board + 1);
        return "Glue the boards up in the order " + order + ": " + boards.check + " " +
               amount_text(boards.demand_after, "mm", units) + " in place of " +
               amount_text(boards.demand_before, "mm", units) + ".";
    }
    if (boards.demand_before > 0)
        return "No other order of the boards that was tried helps " + boards.check + " by more than 1 %.";
    const auto heaviest = std::max_element(boards.places.begin(), boards.places.end(),
                                           [](auto& a, auto& b) { return a.weight < b.weight; });
    const double share = heaviest->weight, even = 1.0 / static_cast<double>(boards.places.size());
    if (share < 1.2 * even) return "All boards count alike: their order does not matter.";
    std::string places;
    std::size_t count = 0;
    for (std::size_t k = 0; k < boards.places.size(); ++k) {
        constexpr double as_heavy = 0.95;
        if (boards.places[k].weight < as_heavy * share) continue;
        places += (count++ == 0 ? "" : " and ") + std::to_string(k + 1);
    }
    return "Put the stiffest " + std::string(count == 1 ? "board" : "boards") +
           " (tap or bend them) where they count: " + (count == 1 ? "place " : "places ") + places + " of " +
           std::to_string(boards.places.size()) + " from the edge nearest the origin" +
           (count == 1 ? " decides " : " decide ") + whole_percent(share) + (count == 1 ? "" : " each") +
           " of " + boards.check + ".";
}

std::string strength_sentence(const Uncertainty& told) {
    const UncertainRow* row = find_row(told, told.governing);
    if (row == nullptr || !row->strength) {
        row = nullptr;
        for (const UncertainRow& other : told.rows)
            if (other.strength && (row == nullptr || other.strength->used.high > row->strength->used.high))
                row = &other;
    }
    if (row == nullptr) return {};
    const UncertainRow::Strength& strength = *row->strength;
    return "The wood's strength scatters too (coefficient of variation " +
           whole_percent(strength.coefficient_of_variation) + ", " + text_of(strength.source) + "): in " +
           row->check + " nine of ten such tops work at " + utilisation_text(strength.used.low) + " to " +
           utilisation_text(strength.used.high) +
           " of what their own wood bears, were what is allowed the weakest of twenty with nothing to spare; "
           "chance of more than it bears: " +
           chance_text(strength.breaks) + ".";
}

std::string how_found(const Uncertainty& told) {
    return std::to_string(told.samples) + " tops drawn by chance, on a surface laid through " +
           std::to_string(told.n_solves) + " solves" +
           (told.error_percent ? ", which at the hard end of the governing check's band was off by " +
                                     error_text(*told.error_percent) + " in that check, against a whole solve"
                               : std::string(" (hollowtop check --band tries it against a whole one)"));
}

void put_uncertainty(Page& page, const Uncertainty& told, Units units) {
    page.heading("How sure: the same drawing, made many times");
    std::vector<Row> rows;
    for (const UncertainRow& row : told.rows)
        rows.push_back(
            {{row.check, amount_text(row.demand.low, row.unit, units),
              amount_text(row.demand.middle, row.unit, units), amount_text(row.demand.high, row.unit, units),
              amount_text(row.limit, row.unit, units), chance_text(row.exceeds)},
             Tone::plain});
    page.table({{"check"},
                {"5 %", true},
                {"half", true},
                {"95 %", true},
                {"allowed", true},
                {"chance of more", false, 23, true}},
               rows);
    page.paragraph(how_found(told) + ". Chance that any limit is exceeded: " + chance_text(told.any_exceeds) +
                   ". What is allowed stays as it is in that: it stands on the weakest wood of twenty.");
    if (const std::string strength = strength_sentence(told); !strength.empty()) page.paragraph(strength);
    page.paragraph("What scatters, and how much of the governing check's scatter is its own:");
    std::vector<Row> causes;
    for (const CauseShare& share : told.shares) {
        const Cause& cause = told.causes[share.cause];
        causes.push_back(
            {{text_of(cause.name),
              cause.in_mm ? reading_text(cause.deviation, units) : fixed(100 * cause.deviation, 1) + " %",
              whole_percent(std::max(0.0, share.of_governing)), text_of(cause.basis)},
             Tone::plain});
    }
    page.table(
        {{"what", false, 34}, {"deviation", true}, {"share", true}, {"on whose word", false, 42, true}},
        causes);
    for (const Message& note : told.notes) page.bullet(text_of(note));
    if (const std::string boards = boards_sentence(told, units); !boards.empty()) page.paragraph(boards);
    page.blank();
}

} // namespace hollowtop::cli
