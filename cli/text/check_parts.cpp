// SPDX-License-Identifier: MIT
#include "cli/text/check_parts.hpp"

#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

namespace hollowtop::cli {

/// The row of each check that comes nearest to its limit, in the order of the checks.
std::vector<const CheckResult*> worst_of_each(const Result& result) {
    std::vector<const CheckResult*> worst;
    for (const CheckResult& check : result.checks) {
        const auto same =
            std::find_if(worst.begin(), worst.end(), [&](const auto* w) { return w->check == check.check; });
        if (same == worst.end())
            worst.push_back(&check);
        else if (check.utilisation > (*same)->utilisation)
            *same = &check;
    }
    return worst;
}

const CheckResult* governing(const Result& result) {
    for (const CheckResult& check : result.checks)
        if (check.check == result.governing_check && check.situation == result.governing_situation)
            return &check;
    return nullptr;
}

Compared compared(const CheckResult& check, Units units) {
    const std::string demand = amount_text(check.demand, check.unit, units);
    const std::string capacity = amount_text(check.capacity, check.unit, units);
    constexpr std::array<std::string_view, 3> at_least{"thread of the screws", "wood at the screws",
                                                       "points of the screws"};
    if (check.unit == "Hz" || std::find(at_least.begin(), at_least.end(), check.check) != at_least.end())
        return {.found = capacity, .allowed = "from " + demand};
    return {.found = demand, .allowed = capacity};
}

/// Of a top given by its elastic constants alone no strength is known: nothing may be said of it.
bool strength_was_judged(const Result& result) {
    return std::any_of(result.checks.begin(), result.checks.end(),
                       [](const auto& check) { return check.unit == "MPa"; });
}

void put_verdict(Page& page, const Result& result) {
    const std::string spare = result.to_spare ? "" : ", with little to spare";
    if (result.passes && strength_was_judged(result))
        page.paragraph("This top meets the limits set" + spare + ".", 0, Tone::good);
    else if (result.passes)
        page.paragraph("The movements of this top meet the limits set" + spare +
                           "; its strength is not known and was not judged.",
                       0, Tone::good);
    else if (result.governing_utilisation > 1)
        page.paragraph("This top does not meet the limits set.", 0, Tone::bad);
    else
        page.paragraph("This top does not meet the limits set: see the warnings.", 0, Tone::bad);
}

void put_weight(Page& page, const Mass& mass, Units units) {
    if (std::abs(mass.total_kg - mass.solid_kg) <= 1e-9 * mass.solid_kg) {
        page.labelled("Weight", mass_text(mass.solid_kg, units) + ", not hollowed");
        return;
    }
    std::string text =
        mass_text(mass.solid_kg, units) + " solid, " + mass_text(mass.total_kg, units) + " as drawn: ";
    if (mass.saved_kg > -1e-9 * mass.solid_kg) // a solid top's difference is rounding
        text += mass_text(std::abs(mass.saved_kg), units) + " saved (" +
                percent_text(std::max(0.0, mass.saved_percent)) + ")";
    else
        text += mass_text(-mass.saved_kg, units) + " more than solid";
    if (mass.stiffeners_kg > 0) text += ", with " + mass_text(mass.stiffeners_kg, units) + " of stiffeners";
    if (mass.cover_kg > 0) text += ", with " + mass_text(mass.cover_kg, units) + " of cover";
    page.labelled("Weight", text);
}

/// The situation that comes nearest to its sag limit among those wanted.
const SituationResult* deepest(const Result& result,
                               const std::function<bool(const SituationResult&)>& wanted) {
    const SituationResult* worst = nullptr;
    const auto share = [](const SituationResult& s) {
        return s.sag_limit_mm > 0 ? s.sag_mm / s.sag_limit_mm : s.sag_mm;
    };
    for (const SituationResult& s : result.situations)
        if (s.judged_for == LoadFor::everyday && !s.set_down && wanted(s) &&
            (worst == nullptr || share(s) > share(*worst)))
            worst = &s;
    return worst;
}

std::string sag_sentence(const SituationResult& s, Units units) {
    std::string text = movement_text(s.sag_mm, units);
    if (s.sag_limit_mm > 0) text += " of " + movement_text(s.sag_limit_mm, units) + " allowed";
    return text + ", in \"" + text_of(s.name) + "\", at " + place_text(s.sag_at, units) + " " +
           place_unit(units) +
           (s.overhang_governs ? "; the overhang sets this limit"
            : s.span_mm > 0    ? "; span " + dimension_text(s.span_mm, units)
                               : "");
}

std::vector<SupportRange> ranges_of(const Result& result) {
    std::vector<SupportRange> ranges;
    // Supports come in the same order in every situation, so the place in the list tells two of one name
    // apart.
    for (const SituationResult& s : result.situations)
        for (std::size_t i = 0; i < s.reactions.size(); ++i) {
            const Reaction& r = s.reactions[i];
            if (i >= ranges.size())
                ranges.push_back({.name = r.support,
                                  .most = r.force_N,
                                  .least = r.force_N,
                                  .most_in = text_of(s.name),
                                  .lifts_in = {}});
            SupportRange& range = ranges[i];
            if (r.force_N > range.most) {
                range.most = r.force_N;
                range.most_in = text_of(s.name);
            }
            range.least = std::min(range.least, r.force_N);
            if (r.lifts) range.lifts_in.push_back(text_of(s.name));
        }
    return ranges;
}

std::string computed_to(const Result& result, double least_used) {
    const MeshReport& mesh = result.mesh;
    std::string text = error_text(mesh.sag_error_percent) + " in sag and " +
                       error_text(mesh.stress_error_percent) + " in bending";
    const CheckResult* roughest = nullptr;
    for (const CheckResult* row : worst_of_each(result))
        if (!row->advice && row->error_percent && row->utilisation >= least_used &&
            (!roughest || *row->error_percent > *roughest->error_percent))
            roughest = row;
    constexpr double wanted = 3; // %, of a stress
    if (roughest &&
        *roughest->error_percent > std::max({wanted, mesh.sag_error_percent, mesh.stress_error_percent}))
        text += ", to " + error_text(*roughest->error_percent) + " in \"" + roughest->check + "\"";
    return text;
}

std::string accuracy_sentence(const Result& result) {
    std::string text = "The numbers carry a computing error of at most " + computed_to(result, 0);
    if (!result.mesh.reached)
        text += ", more than is wanted (1 % and 3 %): a finer mesh (--mesh fine) may help";
    return text + ". How far your boards differ from the handbook is not in that.";
}

} // namespace hollowtop::cli
