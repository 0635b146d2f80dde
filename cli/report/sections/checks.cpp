// SPDX-License-Identifier: MIT
// Each check with what was found, what is allowed, and where that comes from; supports, stiffeners and
// screws.
#include "solver/checks/checks.hpp"

#include "cli/report/drawing/plan_picture.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

std::string ended(std::string sentence) {
    if (!sentence.ends_with(".")) sentence += '.';
    return sentence;
}

/// Movements under a millimetre with two decimals: "0.1 mm against 0.1 mm" tells nothing.
Markup compared(const Sheet& sheet, const CheckResult& c, double value, const std::string& pointer) {
    if (c.unit == "mm" && c.capacity < 1 && c.demand < 10) return moved_finely(sheet, value, pointer);
    return amount(sheet, value, c.unit, pointer);
}

} // namespace

std::vector<std::size_t> nearest_checks(const Result& result) {
    std::vector<std::size_t> worst;
    for (std::size_t i = 0; i < result.checks.size(); ++i) {
        const auto same = std::find_if(worst.begin(), worst.end(), [&](std::size_t w) {
            return result.checks[w].check == result.checks[i].check;
        });
        if (same == worst.end())
            worst.push_back(i);
        else if (result.checks[i].utilisation > result.checks[*same].utilisation)
            *same = i;
    }
    // what fits or does not says nothing of a reserve: it comes after the others where it fits, advice last
    const auto rank = [](const CheckResult& check) {
        return check.advice ? 2 : check.utilisation <= 1 && is_of_geometry(check.check) ? 1 : 0;
    };
    std::stable_sort(worst.begin(), worst.end(), [&](std::size_t a, std::size_t b) {
        const CheckResult &x = result.checks[a], &y = result.checks[b];
        if (rank(x) != rank(y)) return rank(x) < rank(y);
        return x.utilisation > y.utilisation;
    });
    return worst;
}

std::vector<std::size_t> told_checks(const Result& result) {
    constexpr double worth_a_row = 0.1;
    constexpr std::size_t always = 4;
    std::vector<std::size_t> told = nearest_checks(result);
    std::size_t n = 0;
    bool has_strength = false;
    std::erase_if(told, [&](std::size_t i) {
        const CheckResult& check = result.checks[i];
        const bool is_first_strength = check.unit == "MPa" && !has_strength;
        has_strength = has_strength || is_first_strength;
        const bool kept = n < always || is_first_strength || check.utilisation >= worth_a_row;
        n += kept ? 1 : 0;
        return !kept;
    });
    return told;
}

namespace {

Markup used_with_bar(const CheckResult& c, std::size_t i) {
    const double share = std::min(c.utilisation, 1.0);
    const Markup bar = element("span", {},
                               {{"class", c.utilisation > 1 && !c.advice ? "bar full" : "bar"},
                                {"style", "--share:" + fixed(100 * share, 1) + "%"}});
    return used(c.utilisation, at_index("/checks", i, "utilisation")) + bar;
}

TableRow check_row(const Sheet& sheet, std::size_t i, bool with_margin) {
    const CheckResult& c = sheet.result().checks[i];
    const bool over = c.utilisation > 1 && !c.advice;
    Markup name = words(c.check);
    if (c.advice) name += words(" (advice)");
    if (over) name += element("strong", words(" over"), {{"class", "over"}});
    return {{name, own(text_of(c.situation)), found_of(sheet, i), allowed_of(sheet, i), used_with_bar(c, i),
             with_margin ? margin_number(sheet, i) : Markup{},
             c.at ? placed(sheet, *c.at, at_index("/checks", i, "at_mm")) : Markup{}},
            over ? "over" : ""};
}

/// Worth a word: what the hollowed top lost by its lightness.
bool solid_tips_later(const SituationResult& s) {
    return s.tipping_factor_solid && *s.tipping_factor_solid > 1.05 * *s.tipping_factor;
}

} // namespace

bool is_at_least(const CheckResult& check) {
    return check.unit == "Hz" || check.check == "points of the screws" ||
           check.check == "thread of the screws" || check.check == "wood at the screws";
}

Markup found_of(const Sheet& sheet, std::size_t i) {
    const CheckResult& c = sheet.result().checks[i];
    return is_at_least(c) ? compared(sheet, c, c.capacity, at_index("/checks", i, "capacity"))
                          : compared(sheet, c, c.demand, at_index("/checks", i, "demand"));
}

Markup allowed_of(const Sheet& sheet, std::size_t i) {
    const CheckResult& c = sheet.result().checks[i];
    return is_at_least(c)
               ? words("at least ") + compared(sheet, c, c.demand, at_index("/checks", i, "demand"))
               : compared(sheet, c, c.capacity, at_index("/checks", i, "capacity"));
}

/// Capacity over demand less one, rounded down: never more reserve than there is.
Markup margin_number(const Sheet& sheet, std::size_t check) {
    const CheckResult& c = sheet.result().checks[check];
    constexpr double far = 10;
    const std::string text =
        c.margin >= far ? "over 1000 %" : fixed(std::floor(100 * c.margin + 1e-9), 0) + " %";
    return number(c.margin, at_index("/checks", check, "margin"), text);
}

namespace {

std::vector<TableColumn> check_columns(const Sheet& sheet) {
    return {{"check"},
            {"in the situation"},
            {"found", true},
            {"allowed", true},
            {"used", true},
            {"margin", true},
            {std::string("at x, y (") + place_unit(sheet.units()) + ")", true}};
}

} // namespace

Markup checks_table(const Sheet& sheet) {
    std::vector<TableRow> rows;
    const std::vector<std::size_t> told = told_checks(sheet.result());
    for (const std::size_t i : told) rows.push_back(check_row(sheet, i, false));
    const std::size_t further = nearest_checks(sheet.result()).size() - told.size();
    Markup rest;
    if (further > 0)
        rest = para(words(std::to_string(further) + (further == 1 ? " more check uses" : " more checks use") +
                          " less than a tenth of " + (further == 1 ? "its limit: " : "their limits: ")) +
                    section_link(sheet, "checks") + words("."));
    const bool has_geometry = std::any_of(told.begin(), told.end(), [&](std::size_t i) {
        const CheckResult& check = sheet.result().checks[i];
        return !check.advice && is_of_geometry(check.check);
    });
    return para(words(
               std::string("Each check in the situation where it comes nearest to its limit. Used: demand "
                           "as a share of the capacity, rounded up.") +
               (has_geometry ? " What fits or does not stands after the others." : ""))) +
           table("Checks, the nearest to its limit first", check_columns(sheet), rows) + rest;
}

Markup checks_section(const Sheet& sheet) {
    const Result& result = sheet.result();
    std::vector<TableRow> all;
    std::vector<std::pair<std::string, Markup>> bases;
    for (const std::size_t i : nearest_checks(result)) {
        Markup basis = words(ended(text_of(result.checks[i].basis)));
        if (result.checks[i].error_percent)
            basis += words(" Computing error at most ") +
                     number(*result.checks[i].error_percent, at_index("/checks", i, "error_percent"),
                            error_text(*result.checks[i].error_percent)) +
                     words(".");
        bases.push_back({result.checks[i].check, basis});
    }
    for (std::size_t i = 0; i < result.checks.size(); ++i) all.push_back(check_row(sheet, i, true));
    Markup inner = element("h3", words("What each limit rests on")) + facts(bases);
    inner += pushes_part(sheet) + travels_part(sheet);
    inner += foldable("Every check in every situation", table("All comparisons", check_columns(sheet), all));
    return element("section", heading(sheet, "checks") + inner);
}

Markup supports_section(const Sheet& sheet) {
    const Result& result = sheet.result();
    std::vector<TableRow> rows;
    for (std::size_t k = 0; k < sheet.in.piece.supports.size(); ++k) {
        std::optional<std::size_t> least, most;
        std::vector<std::string> lifts;
        for (std::size_t s = 0; s < result.situations.size(); ++s) {
            const auto& reactions = result.situations[s].reactions;
            if (k >= reactions.size()) continue;
            const auto force = [&](std::size_t t) { return result.situations[t].reactions[k].force_N; };
            if (!least || force(s) < force(*least)) least = s;
            if (!most || force(s) > force(*most)) most = s;
            if (reactions[k].lifts) lifts.push_back(text_of(result.situations[s].name));
        }
        if (!least || !most) continue;
        const auto force = [&](std::size_t s) {
            return forced(sheet, result.situations[s].reactions[k].force_N,
                          "/situations/" + std::to_string(s) + "/reactions/" + std::to_string(k) +
                              "/force_N");
        };
        Markup note;
        for (const std::string& name : lifts)
            note += words(note.empty() ? "lifts off in \u201c" : ", \u201c") + own(name) + words("\u201d");
        rows.push_back({{words(support_letter(k)), own(sheet.in.piece.supports[k].name), force(*least),
                         force(*most), own(text_of(result.situations[*most].name)), note}});
    }
    Markup inner =
        table("Forces on the supports",
              {{"mark"}, {"support"}, {"least", true}, {"most", true}, {"most in"}, {"note"}}, rows);
    std::optional<std::size_t> nearest;
    for (std::size_t s = 0; s < result.situations.size(); ++s)
        if (result.situations[s].tipping_factor &&
            (!nearest || *result.situations[s].tipping_factor < *result.situations[*nearest].tipping_factor))
            nearest = s;
    if (nearest && *result.situations[*nearest].tipping_factor < 20)
        inner += para(
            words("At ") +
            number(*result.situations[*nearest].tipping_factor,
                   at_index("/situations", *nearest, "tipping_factor"),
                   fixed(std::floor(10 * *result.situations[*nearest].tipping_factor) / 10, 1)) +
            words(" times the load of \u201c") + own(text_of(result.situations[*nearest].name)) +
            words("\u201d the top would tip off its supports") +
            (solid_tips_later(result.situations[*nearest])
                 ? words("; solid, at ") +
                       number(*result.situations[*nearest].tipping_factor_solid,
                              at_index("/situations", *nearest, "tipping_factor_solid"),
                              fixed(std::floor(10 * *result.situations[*nearest].tipping_factor_solid) / 10,
                                    1)) +
                       words(" times")
                 : Markup{}) +
            words("."));
    return element("h3", words("What the supports carry")) + inner;
}

Markup stiffeners_section(const Sheet& sheet) {
    const Result& result = sheet.result();
    Markup inner;
    if (result.stiffeners.empty()) inner = para(words("No stiffeners: the wood carries alone."));
    std::vector<TableRow> rows;
    for (std::size_t i = 0; i < result.stiffeners.size(); ++i) {
        const StiffenerResult& s = result.stiffeners[i];
        const auto key = [&](const char* name) { return at_index("/stiffeners", i, name); };
        rows.push_back(
            {{words(std::to_string(i + 1)), own(s.name), words(s.section),
              massed(sheet, s.mass_kg, key("mass_kg")),
              amount(sheet, s.max_stress_MPa, "MPa", key("max_stress_MPa")),
              number(s.composite_action, key("composite_action"), percent_text(100 * s.composite_action))}});
    }
    if (!rows.empty())
        inner +=
            table("How each stiffener works",
                  {{"mark"},
                   {"name"},
                   {"section"},
                   {"weight", true},
                   {"greatest stress", true},
                   {"carries with", true}},
                  rows) +
            para(words(
                "\u201cCarries with\u201d: 0 % lies side by side with the wood, 100 % is as good as glued."));
    if (result.stiffening) {
        const Stiffening& s = *result.stiffening;
        inner += para(words("Without stiffeners the top would sag by ") +
                      moved(sheet, s.without_mm, "/stiffening/sag_without_mm") + words(", with them by ") +
                      moved(sheet, s.with_mm, "/stiffening/sag_with_mm") + words(", glued all along by ") +
                      moved(sheet, s.bonded_mm, "/stiffening/sag_bonded_mm") + words(", in \u201c") +
                      own(text_of(s.situation)) + words("\u201d."));
    }
    std::vector<TableRow> screws;
    for (std::size_t i = 0; i < result.screws.size(); ++i) {
        const ScrewResult& s = result.screws[i];
        const auto key = [&](const char* name) { return at_index("/screws", i, name); };
        screws.push_back(
            {{own(s.stiffener), placed(sheet, s.at, key("at_mm")), moved(sheet, s.slip_mm, key("slip_mm")),
              amount(sheet, s.shear_N, "N", key("shear_N")),
              amount(sheet, s.withdrawal_N, "N", key("withdrawal_N")),
              s.utilisation ? used(*s.utilisation, key("utilisation")) : words("not known")},
             s.utilisation && *s.utilisation > 1 ? "over" : ""});
    }
    if (!screws.empty())
        inner += foldable("Every screw: slip, shear and pull",
                          table("Screws, each in its worst situation",
                                {{"stiffener"},
                                 {std::string("at x, y (") + place_unit(sheet.units()) + ")", true},
                                 {"slip", true},
                                 {"shear", true},
                                 {"pull", true},
                                 {"used", true}},
                                screws));
    return element("section", heading(sheet, "stiffeners") + supports_section(sheet) +
                                  element("h3", words("Stiffeners")) + inner);
}

} // namespace hollowtop::cli
