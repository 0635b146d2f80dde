// SPDX-License-Identifier: MIT
// For a reviewing engineer: each limit with its factors, and one sag written out line by line.
#include "cli/report/drawing/plan_view.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "solver/capacity/limits.hpp"
#include "solver/hand/hand_rows.hpp"
#include "solver/section/top_material.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>
#include <string>
#include <variant>

namespace hollowtop::cli {
namespace {

// ---- limits and their factors
// -------------------------------------------------------------------------------------

/// Checks whose allowed value comes by the same factors from the same start.
struct FactorGroup {
    std::vector<std::size_t> checks;
};

bool are_alike(const Reckoned& a, const Reckoned& b) {
    const auto same = [](const Factor& x, const Factor& y) {
        return x.divides == y.divides && x.value == y.value && x.why == y.why && x.source == y.source;
    };
    return a.start == b.start && a.start_source == b.start_source && a.start_value == b.start_value &&
           std::equal(a.factors.begin(), a.factors.end(), b.factors.begin(), b.factors.end(), same);
}

/// In the order of the table of those nearest their limits.
std::vector<FactorGroup> groups_of(const Sheet& sheet) {
    std::vector<FactorGroup> groups;
    for (const std::size_t i : told_checks(sheet.result())) {
        if (!sheet.reckoned[i] || sheet.result().checks[i].advice) continue;
        const auto same = std::find_if(groups.begin(), groups.end(), [&](const FactorGroup& group) {
            return sheet.result().checks[group.checks.front()].unit == sheet.result().checks[i].unit &&
                   are_alike(*sheet.reckoned[group.checks.front()], *sheet.reckoned[i]);
        });
        if (same == groups.end())
            groups.push_back({{i}});
        else
            same->checks.push_back(i);
    }
    return groups;
}

std::string factor_text(const Factor& factor) {
    return (factor.divides ? "\u00f7 " : "\u00d7 ") + significant(factor.value, 4);
}

/// A head with what is allowed, then the published value and each factor.
void put_factors(const Sheet& sheet, const FactorGroup& group, std::vector<TableRow>& rows) {
    const std::size_t first = group.checks.front();
    const Reckoned& way = *sheet.reckoned[first];
    const std::string& unit = sheet.result().checks[first].unit;
    const auto comes_to = [&](double value) {
        constexpr double a_span = 50; // mm: what is longer is drawn, not moved
        return words(unit == "mm" && value > a_span ? dimension_text(value, sheet.units())
                                                    : amount_text(value, unit, sheet.units()));
    };
    const auto source = [&](const std::string& text) { return words(numbered(text, sheet.works)); };
    std::string names;
    for (const std::size_t i : group.checks)
        names += (names.empty() ? "" : "; ") + sheet.result().checks[i].check;
    names[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(names[0])));
    rows.push_back({{words(names), words("allowed"), allowed_of(sheet, first), {}}, "total"});
    rows.push_back({{words(way.start), {}, comes_to(way.start_value), source(way.start_source)}});
    double so_far = way.start_value;
    for (const Factor& factor : way.factors) {
        so_far *= factor.divides ? 1 / factor.value : factor.value;
        rows.push_back({{words(factor.why.empty() ? "divisor" : factor.why), words(factor_text(factor)),
                         comes_to(so_far), source(factor.source)}});
    }
}

/// Limits that are a length, a share or a ratio as they stand.
Markup plain_limits(const Sheet& sheet) {
    std::vector<TableRow> rows;
    for (const std::size_t i : told_checks(sheet.result())) {
        const CheckResult& check = sheet.result().checks[i];
        if (sheet.reckoned[i] || check.advice) continue;
        const bool over = check.utilisation > 1;
        rows.push_back(
            {{words(check.check), allowed_of(sheet, i), words(numbered(text_of(check.basis), sheet.works))},
             over ? "over" : ""});
    }
    if (rows.empty()) return {};
    return table("Limits that no factors make", {{"check"}, {"allowed", true}, {"rests on"}}, rows);
}

} // namespace

Markup judged_section(const Sheet& sheet) {
    std::vector<TableRow> rows;
    for (const FactorGroup& group : groups_of(sheet)) put_factors(sheet, group, rows);
    Markup inner = checks_table(sheet);
    if (!rows.empty())
        inner += table("From the published value to what is allowed",
                       {{"from, and by what"}, {"factor", true}, {"comes to", true}, {"source"}}, rows,
                       TableKind::short_rows);
    inner +=
        plain_limits(sheet) + para(words("Numbers in square brackets: ") + section_link(sheet, "references") +
                                   words("; \u2020: from memory. The rest, advice and computing errors: ") +
                                   section_link(sheet, "checks") + words("."));
    return element("section", heading(sheet, "judged") + inner);
}

// ---- one sag, line by line
// --------------------------------------------------------------------------------------

namespace {

TableRow line(const std::string& what, const Markup& value, const std::string& how = {}) {
    return {{words(what), words(how), value}};
}

/// The section at mid-length as one: its second moment about its own axis.
struct MiddleSection {
    std::string sizes;
    double area = 0, axis = 0, moment = 0; ///< mm2, mm below the show face, mm4
};
MiddleSection middle_section(const Sheet& sheet) {
    MiddleSection section;
    const auto stretches = section_along(sheet.plan, false, sheet.plan.length / 2);
    double first = 0;
    for (const Stretch& s : stretches) {
        const double width = s.to - s.from, h = s.thickness;
        section.sizes += (section.sizes.empty() ? "" : " + ") + drawn_length(width, sheet.units()) +
                         " \u00d7 " + drawn_length(h, sheet.units());
        section.area += width * h;
        first += width * h * h / 2;
    }
    if (!(section.area > 0)) return section;
    section.axis = first / section.area;
    for (const Stretch& s : stretches) {
        const double width = s.to - s.from, h = s.thickness, off = h / 2 - section.axis;
        section.moment += width * (h * h * h / 12 + h * off * off);
    }
    section.sizes += std::string(" ") + place_unit(sheet.units());
    return section;
}

/// What a simple beam along the top would sag under an even load: for a pocket calculator, beside the stepped strip.
void put_simple_beam(const Sheet& sheet, const SituationResult& s, std::vector<TableRow>& rows) {
    const Piece& piece = sheet.in.piece;
    const std::optional<Rectangle> feet = box_of_supports(piece);
    constexpr double near = 1; // mm
    if (!piece.stiffeners.empty() || !feet || std::abs(feet->x1 - feet->x0 - s.span_mm) > near) return;
    if (piece.top.wood.empty() || piece.top.elastic || std::abs(std::remainder(piece.top.grain_deg, 180)) > 1)
        return;
    const MiddleSection section = middle_section(sheet);
    if (!(section.moment > 0)) return;
    const double E = wood_constants_of(piece.top).E_L; // MPa
    constexpr double mm4_per_in4 = 25.4 * 25.4 * 25.4 * 25.4;
    const bool metric = sheet.units() == Units::mm;
    rows.push_back(line("second moment of the section at mid-length",
                        words(significant(metric ? section.moment : section.moment / mm4_per_in4, 4) +
                              (metric ? " mm\u2074" : " in\u2074")),
                        "I = \u03a3 b (h\u00b3/12 + h e\u00b2) of " + section.sizes));
    rows.push_back(
        line("modulus along the grain", words(amount_text(E, "MPa", sheet.units())), "E, without shear"));
    const double even = 5 * s.applied_N * std::pow(s.span_mm, 3) / (384 * E * section.moment);
    rows.push_back(line("a simple beam under an even load", words(reading_text(even, sheet.units())),
                        "5 W L\u00b3 / (384 E I): ends past the supports and lands left out"));
}

/// The face of a support that presses on the underside, as drawn; none of a line.
struct Face {
    double a = 0, b = 0; ///< mm
};
std::optional<Face> face_of(const Support& support) {
    if (const auto* pad = std::get_if<Pad>(&support.kind); pad && pad->size_x > 0 && pad->size_y > 0)
        return Face{pad->size_x, pad->size_y};
    if (const auto* bearer = std::get_if<Bearer>(&support.kind); bearer && bearer->width > 0)
        return Face{std::hypot(bearer->to.x - bearer->from.x, bearer->to.y - bearer->from.y), bearer->width};
    return std::nullopt;
}

/// Where the sag has no estimate by hand: the pressure of the support that gives most on each mm2 of its face.
Markup pressed_by_hand(const Sheet& sheet) {
    const Result& result = sheet.result();
    struct Most {
        std::size_t situation = 0, support = 0;
        Face face;
        double force = 0;
    };
    std::optional<Most> most;
    for (std::size_t i = 0; i < result.situations.size(); ++i) {
        const std::vector<Reaction>& reactions = result.situations[i].reactions;
        for (std::size_t k = 0; k < std::min(reactions.size(), sheet.in.piece.supports.size()); ++k) {
            const std::optional<Face> face = face_of(sheet.in.piece.supports[k]);
            const double force = reactions[k].force_N;
            if (!face || !(force > 0)) continue;
            if (!most || force / (face->a * face->b) > most->force / (most->face.a * most->face.b))
                most = Most{i, k, *face, force};
        }
    }
    if (!most) return {};
    const SituationResult& s = result.situations[most->situation];
    const double mean = most->force / (most->face.a * most->face.b);
    double given = 0;
    for (const Reaction& reaction : s.reactions) given += reaction.force_N;
    std::vector<TableRow> rows;
    rows.push_back(
        line("all that the supports give", words(amount_text(given, "N", sheet.units())),
             "the sum of what each gives; the load is " + amount_text(s.applied_N, "N", sheet.units())));
    rows.push_back(line("of that the hardest pressed one",
                        forced(sheet, most->force,
                               "/situations/" + std::to_string(most->situation) + "/reactions/" +
                                   std::to_string(most->support) + "/force_N"),
                        "R"));
    rows.push_back(line("its face",
                        words(dimension_text(most->face.a, sheet.units()) + " \u00d7 " +
                              dimension_text(most->face.b, sheet.units())),
                        "a \u00d7 b, as drawn"));
    rows.push_back({{words("mean pressure by hand"), words("R \u00f7 (a b)"),
                     words(amount_text(mean, "MPa", sheet.units()))},
                    "total"});
    for (std::size_t i = 0; i < result.checks.size(); ++i) {
        const CheckResult& check = result.checks[i];
        if (check.check != "bearing at the supports" || text_of(check.situation) != text_of(s.name)) continue;
        rows.push_back(line("pressure found", words(amount_text(check.demand, check.unit, sheet.units())),
                            "the greatest mean over what presses there, at most " +
                                dimension_text(30, sheet.units()) +
                                " deep: more, where the top turns on an edge or a corner of it"));
        rows.push_back(line("allowed", allowed_of(sheet, i), "in this situation"));
    }
    return para(words("What can be checked by hand here is the pressure on the wood, of ") +
                own(sheet.in.piece.supports[most->support].name) + words(" in \u201c") +
                own(text_of(s.name)) + words("\u201d.")) +
           table("The pressure, line by line", {{"line"}, {"how"}, {"comes to", true}}, rows,
                 TableKind::short_rows);
}

} // namespace

Markup written_section(const Sheet& sheet) {
    const Result& result = sheet.result();
    const auto& hand = sheet.in.by_hand;
    std::vector<TableRow> rows;
    std::optional<std::size_t> chosen;
    if (hand) chosen = hand->situation;
    for (std::size_t i = 0; !hand && i < result.situations.size(); ++i) {
        const SituationResult& s = result.situations[i];
        if (!(s.sag_limit_mm > 0) || !(s.span_mm > 0)) continue;
        if (!chosen || s.sag_mm / s.sag_limit_mm >
                           result.situations[*chosen].sag_mm / result.situations[*chosen].sag_limit_mm)
            chosen = i;
    }
    if (!chosen)
        return element("section", heading(sheet, "written") +
                                      para(words("No sag of this piece is limited by a share of its span.")) +
                                      pressed_by_hand(sheet));
    const SituationResult& s = result.situations[*chosen];
    const auto key = [&](const char* name) { return at_index("/situations", *chosen, name); };
    const auto fine = [&](double mm) { return words(reading_text(mm, sheet.units())); };
    rows.push_back(line("load", forced(sheet, s.applied_N, key("applied_N")), "W, all that acts"));
    rows.push_back(line(s.overhang_governs ? "twice the overhang" : "span",
                        words(dimension_text(s.span_mm, sheet.units())), "L"));
    if (hand) {
        put_simple_beam(sheet, s, rows);
        rows.push_back(line("strip along the top, stepped", fine(hand->sag.along_mm),
                            "f, exact, with the hold of the supports and the ends past them"));
        rows.push_back(line("strip across it, stepped", fine(hand->sag.across_mm), "g, likewise"));
        rows.push_back(line("turning under an uneven load", fine(hand->sag.turning_mm), "t, a half wave"));
        rows.push_back(line("dish of the skin", fine(hand->sag.dish_mm), "d, a plate on the rim"));
        rows.push_back({{words("sag by hand"), words("f + g + t + d"),
                         moved_finely(sheet, hand->sag.sag_mm, at_index("/by_hand/rows", *chosen, "sag_mm"))},
                        "total"});
    }
    rows.push_back(line("sag computed", moved_finely(sheet, s.sag_mm, key("sag_mm")), "finite elements"));
    if (hand)
        rows.push_back(line("computed \u00f7 by hand", words(fixed(s.sag_mm / hand->sag.sag_mm, 2)),
                            "expected: " + fixed(least_over_hand, 2) + " to " + fixed(most_over_hand, 2)));
    if (s.sag_limit_mm > 0) {
        rows.push_back(line("allowed", moved_finely(sheet, s.sag_limit_mm, key("sag_limit_mm")),
                            s.span_mm > 0 ? "L \u00f7 " + fixed(s.span_mm / s.sag_limit_mm, 0) : ""));
        rows.push_back(line("found \u00f7 allowed", words(utilisation_text(s.sag_mm / s.sag_limit_mm)), ""));
    }
    Markup inner = para(words(hand ? "The sag of this top by hand, in \u201c"
                                   : "The sag that comes nearest to its limit, in \u201c") +
                        own(text_of(s.name)) + words("\u201d") +
                        (hand ? words(", at x, y " + place_text(hand->sag.at, sheet.units()) + " " +
                                      place_unit(sheet.units()) + ": another theory than the computed one.")
                              : words(".")));
    if (!hand && !result.by_hand.empty() && !result.by_hand.front().why_not.empty())
        inner +=
            para(words("No estimate by hand was made: " + text_of(result.by_hand.front().why_not) + "."));
    inner += table("Line by line", {{"line"}, {"how"}, {"comes to", true}}, rows, TableKind::short_rows);
    if (!hand) inner += pressed_by_hand(sheet);
    return element("section", heading(sheet, "written") + inner);
}

} // namespace hollowtop::cli
