// SPDX-License-Identifier: MIT
// How the top moves and how hard its wood works: pictures and the numbers of each situation.
#include "cli/report/drawing/colours.hpp"
#include "cli/report/drawing/field_picture.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "solver/checks/checks.hpp"
#include "solver/checks/judges.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hollowtop::cli {
namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

/// The field of that name, points off the top left out; empty where there is none.
std::vector<double> field(const Fields& fields, const std::string& name) {
    const auto find = [&](const std::string& wanted) -> const std::vector<double>* {
        for (const auto& named : fields.point_values)
            if (named.name == wanted) return &named.values;
        return nullptr;
    };
    const auto* values = find(name);
    const auto* thickness = find("thickness_mm");
    if (values == nullptr || thickness == nullptr) return {};
    std::vector<double> out = *values;
    for (std::size_t k = 0; k < out.size(); ++k)
        if (!((*thickness)[k] > 0)) out[k] = nothing;
    return out;
}

struct Range {
    double least = std::numeric_limits<double>::infinity(), most = -std::numeric_limits<double>::infinity();
};
Range range_of(const std::vector<double>& values) {
    Range range;
    for (const double v : values) {
        if (std::isnan(v)) continue;
        range.least = std::min(range.least, v);
        range.most = std::max(range.most, v);
    }
    return range;
}

/// Decimals that tell the levels apart.
int decimals_of(const std::vector<double>& levels) {
    const double step = levels[1] - levels[0];
    for (int decimals = 0; decimals < 4; ++decimals) {
        const double scaled = step * std::pow(10.0, decimals);
        if (std::abs(scaled - std::round(scaled)) < 1e-6) return decimals;
    }
    return 4;
}

const SituationResult* deepest(const Result& result, bool years, std::size_t& index) {
    const SituationResult* worst = nullptr;
    for (std::size_t i = 0; i < result.situations.size(); ++i) {
        const SituationResult& s = result.situations[i];
        if ((s.stage == Stage::years) != years) continue;
        const auto share = [](const SituationResult& t) {
            return t.sag_limit_mm > 0 ? t.sag_mm / t.sag_limit_mm : t.sag_mm;
        };
        if (worst == nullptr || share(s) > share(*worst)) worst = &s, index = i;
    }
    return worst;
}

Markup movement_picture(const Sheet& sheet, bool years) {
    std::size_t index = 0;
    const SituationResult* s = deepest(sheet.result(), years, index);
    if (s == nullptr) return {};
    const std::vector<double> values = field(sheet.in.fields, "movement_mm, " + text_of(s->name));
    const Units units = sheet.units();
    const double factor = units == Units::mm ? 1 : Length::from_mm(1).inches();
    const Range range = range_of(values);
    if (values.empty() || !(range.most > range.least)) return {};
    const ValueGrid grid = grid_of(sheet.in.fields.points, values);
    Range whole = range; // one scale for both pictures
    std::size_t other_index = 0;
    if (const SituationResult* other = deepest(sheet.result(), !years, other_index)) {
        const Range also = range_of(field(sheet.in.fields, "movement_mm, " + text_of(other->name)));
        whole = {std::min(range.least, also.least), std::max(range.most, also.most)};
    }
    const auto levels =
        even_levels(factor * std::min(whole.least, 0.0), factor * std::max(whole.most, 0.0), 7);
    const std::string pointer = at_index("/situations", index, "sag_mm");
    const std::string label = amount_text(s->sag_mm, "mm", units);
    const std::string unit = units == Units::mm ? "mm" : "in";
    Markup caption = words("Downward movement in \u201c") + own(text_of(s->name)) +
                     words("\u201d, seen from below as the plan is; the greatest is ") +
                     moved(sheet, s->sag_mm, pointer) + words(" at ") +
                     placed_in_words(sheet, s->sag_at, at_index("/situations", index, "sag_at_mm")) +
                     words(" (ringed).");
    if (!sheet.in.piece.recesses.empty()) caption += words(" Dashed: walls of recesses and lands.");
    if (range.least < -0.01)
        caption += words(" Aslant lines: there the top rises, by " + reading_text(-range.least, units) +
                         " at most; the thick line is nought.");
    caption += words(" Patches: loads; thin dashes: supports.");
    return figure(caption, [&](const std::string& end, double width) {
        return field_picture(sheet.plan, grid, width,
                             {.id = (years ? "years" : "movement") + end,
                              .title = "Downward movement",
                              .description = "Contours of downward movement in " + text_of(s->name) +
                                             ". Greatest " + label + " at x, y " +
                                             place_text(s->sag_at, units) + " " + place_unit(units) +
                                             "; it falls off towards the supports.",
                              .unit = unit,
                              .levels = levels,
                              .decimals = decimals_of(levels),
                              .factor = factor,
                              .peak = Peak{.at = s->sag_at,
                                           .label = label,
                                           .attributes = number_attributes(s->sag_mm, pointer),
                                           .value = factor * s->sag_mm},
                              .piece = &sheet.in.piece,
                              .units = units});
    });
}

/// Share of what is allowed that the worse face takes, in percent.
std::vector<double> shares(const Sheet& sheet, const CheckResult& check, const SituationResult& situation,
                           bool along) {
    const auto allowables = allowables_of(sheet.in.piece, situation.duration, situation.judged_for);
    if (!allowables) return {};
    const double tension_across = tension_strength_at_a_place(situation.tension_across, *allowables);
    const std::string direction = along ? "along" : "across";
    const auto top = field(sheet.in.fields, "stress_top_" + direction + "_MPa, " + text_of(check.situation));
    const auto bottom =
        field(sheet.in.fields, "stress_bottom_" + direction + "_MPa, " + text_of(check.situation));
    if (top.empty() || bottom.empty()) return {};
    const auto share = [&](double stress) {
        if (along) return std::abs(stress) / allowables->bending_along.value;
        return stress >= 0 ? stress / tension_across : -stress / allowables->compression_across.value;
    };
    std::vector<double> out(top.size());
    for (std::size_t k = 0; k < out.size(); ++k)
        out[k] = std::isnan(top[k]) ? nothing : 100 * std::max(share(top[k]), share(bottom[k]));
    return out;
}

Markup use_picture(const Sheet& sheet, bool along) {
    const std::string name = along ? "bending along the grain" : "bending across the grain";
    const Result& result = sheet.result();
    std::optional<std::size_t> worst;
    for (std::size_t i = 0; i < result.checks.size(); ++i)
        if (result.checks[i].check == name &&
            (!worst || result.checks[i].utilisation > result.checks[*worst].utilisation))
            worst = i;
    if (!worst) return {};
    const CheckResult& check = result.checks[*worst];
    const auto situation = std::find_if(result.situations.begin(), result.situations.end(),
                                        [&](const auto& s) { return s.name == check.situation; });
    if (situation == result.situations.end()) return {};
    const std::vector<double> values = shares(sheet, check, *situation, along);
    if (values.empty()) return {};
    const Range range = range_of(values);
    const ValueGrid grid = grid_of(sheet.in.fields.points, values);
    const auto levels = even_levels(0, std::max(range.most, 1.0), 7);
    const std::string pointer = at_index("/checks", *worst, "utilisation");
    const std::string label = utilisation_text(check.utilisation);
    const Units units = sheet.units();
    Markup caption = words(std::string("Stress at the worse face ") + (along ? "along" : "across") +
                           " the grain as a share of what is allowed, in \u201c") +
                     own(text_of(check.situation)) + words("\u201d; the greatest is ") +
                     used(check.utilisation, pointer);
    if (check.at)
        caption += words(" at ") + placed_in_words(sheet, *check.at, at_index("/checks", *worst, "at_mm"));
    caption += words(check.utilisation > 1 ? ". Hatched: over what is allowed." : ".");
    return figure(caption, [&](const std::string& end, double width) {
        FieldContent content{
            .id = (along ? "along" : "across") + end,
            .title = std::string("Use of the strength ") + (along ? "along" : "across") + " the grain",
            .description = "Contours of the stress " + std::string(along ? "along" : "across") +
                           " the grain as a share of what is allowed, in " + text_of(check.situation) +
                           ". Greatest " + label +
                           (check.at ? " at x, y " + place_text(*check.at, units) + " " + place_unit(units)
                                     : std::string()) +
                           ".",
            .unit = "% of what is allowed",
            .levels = levels,
            .over = range.most > 100 ? 100.0 : 0.0,
            .decimals = decimals_of(levels),
            .factor = 1,
            .peak = {},
            .piece = &sheet.in.piece,
            .units = units};
        if (check.at)
            content.peak = Peak{.at = *check.at,
                                .label = label,
                                .attributes = number_attributes(check.utilisation, pointer),
                                .value = 100 * check.utilisation};
        return field_picture(sheet.plan, grid, width, content);
    });
}

} // namespace

Markup movement_section(const Sheet& sheet) {
    const Result& result = sheet.result();
    std::vector<TableRow> rows;
    for (std::size_t i = 0; i < result.situations.size(); ++i) {
        const SituationResult& s = result.situations[i];
        const auto key = [&](const char* name) { return at_index("/situations", i, name); };
        Markup limit = s.sag_limit_mm > 0 ? moved(sheet, s.sag_limit_mm, key("sag_limit_mm"))
                                          : words("told, not limited");
        if (s.overhang_governs) limit += words(" (overhang)");
        rows.push_back({{own(text_of(s.name)), forced(sheet, s.applied_N, key("applied_N")),
                         moved(sheet, s.sag_mm, key("sag_mm")), limit, by_hand_cell(sheet, i),
                         placed(sheet, s.sag_at, key("sag_at_mm")),
                         s.flatness_mm ? moved(sheet, *s.flatness_mm, key("flatness_mm")) : Markup{},
                         s.dish_mm ? moved(sheet, *s.dish_mm, key("dish_mm")) : Markup{}},
                        s.sag_limit_mm > 0 && s.sag_mm > s.sag_limit_mm ? "over" : ""});
    }
    Markup intro = words("Sag is the greatest downward movement against the plane through the supports' "
                         "own movements; flatness is the greatest distance of the show face from a "
                         "straightedge under what stays; dish is how far the skin of "
                         "a recess sinks below the rim around it. \u201cAfter the years\u201d counts "
                         "the creep of the wood under what stays.");
    if (std::any_of(result.by_hand.begin(), result.by_hand.end(),
                    [](const HandEstimate& h) { return h.sag_mm.has_value(); }))
        intro += words(" \u201cBy hand\u201d is the sag by another, coarser theory (") +
                 section_link(sheet, "scatter") + words(").");
    Markup inner = para(intro);
    inner += table("Movement in each situation",
                   {{"situation"},
                    {"load", true},
                    {"sag", true},
                    {"allowed", true},
                    {"by hand", true},
                    {std::string("at x, y (") + place_unit(sheet.units()) + ")", true},
                    {"flatness", true},
                    {"dish", true}},
                   rows);
    inner += movement_picture(sheet, true) + years_part(sheet);
    if (!result.frequency_Hz.empty())
        inner += para(words("On its supports, with the loads that stay, the top swings at ") +
                      number(result.frequency_Hz.front(), "/frequency_Hz/0",
                             frequency_text(result.frequency_Hz.front())) +
                      words("."));
    return element("section", heading(sheet, "movement") + inner);
}

Markup worst_section(const Sheet& sheet) {
    const Markup pictures = movement_picture(sheet, false) + use_picture(sheet, false);
    const Markup inner = pictures.empty() ? Markup{} : element("div", pictures, {{"class", "pair"}});
    return element("section",
                   heading(sheet, "worst") +
                       (inner.empty() ? para(words("Nothing moves that could be drawn.")) : inner));
}

Markup stress_section(const Sheet& sheet) {
    Markup pictures = use_picture(sheet, true);
    if (pictures.empty())
        pictures = para(words("The strength of this material is not known: no stress was judged."));
    if (!sheet.plan.hollows.empty())
        pictures += figure(words(std::string("Thickness, seen from below as the plan is, in ") +
                                 (sheet.units() == Units::mm ? "millimetres" : "inches") +
                                 ": the thinner, the darker."),
                           [&](const std::string& end, double width) {
                               return thickness_picture(sheet.plan, width, "thickness" + end, sheet.units());
                           });
    Markup inner = para(words("Each number is the mean over a square as wide as the wood is thick there, so "
                              "that it does not hang on the fineness of the computation. "
                              "Wood bears little across the grain: that is where a thin skin usually ends."));
    return element("section", heading(sheet, "stress") + inner + pictures);
}

} // namespace hollowtop::cli
