// SPDX-License-Identifier: MIT
#include "cli/text/answer_text.hpp"

#include "cli/text/check_parts.hpp"
#include "cli/text/page.hpp"
#include "cli/text/remedy_words.hpp"
#include "cli/text/uncertainty_text.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "solver/checks/checks.hpp"
#include "solver/piece/plausible.hpp"

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {
namespace {

/// The worst row of each check, the hardest used first; rules of geometry that are kept, which have no margin, and
/// advice last.
std::vector<const CheckResult*> hardest_first(const Result& result) {
    std::vector<const CheckResult*> rows = worst_of_each(result);
    const auto rank = [](const CheckResult* row) {
        return row->advice ? 2 : is_of_geometry(row->check) && row->utilisation <= 1 ? 1 : 0;
    };
    std::stable_sort(rows.begin(), rows.end(), [&](const CheckResult* a, const CheckResult* b) {
        return rank(a) != rank(b) ? rank(a) < rank(b) : a->utilisation > b->utilisation;
    });
    return rows;
}

/// What fails, in words; the rest of them is counted.
void put_failing(Page& page, const Result& result, Units units) {
    std::vector<const CheckResult*> failing = hardest_first(result);
    std::erase_if(failing, [](const CheckResult* row) { return row->advice || row->utilisation <= 1; });
    constexpr std::size_t most = 3;
    for (std::size_t i = 0; i < std::min(most, failing.size()); ++i) {
        const CheckResult& row = *failing[i];
        const Compared pair = compared(row, units);
        page.labelled(i == 0 ? "Fails" : "",
                      row.check + " at " + utilisation_text(row.utilisation) + " (" + pair.found +
                          " against " + pair.allowed + "), in \"" + text_of(row.situation) + "\"" +
                          (row.at ? ", at " + place_text(*row.at, units) + " " + place_unit(units) : ""),
                      Tone::bad);
    }
    if (failing.size() > most)
        page.labelled("", "and " + std::to_string(failing.size() - most) +
                              (failing.size() - most == 1 ? " more check" : " more checks"));
}

/// What helps, the best first; else why nothing was found.
void put_ways(Page& page, const Piece& piece, const Result& result, Units units) {
    if (result.solid_too)
        page.labelled("Solid",
                      solid_too_words(*result.solid_too, piece.top.thickness, units) + ": solid too, " +
                          result.solid_too->governing_check + " is at " +
                          utilisation_text(result.solid_too->utilisation),
                      Tone::bad);
    const CheckResult* row = governing(result);
    const std::string advice = row == nullptr ? std::string() : text_of(row->remedy);
    if (!result.remedies) {
        if (!advice.empty()) page.labelled("To change", advice);
        return;
    }
    constexpr std::size_t most = 3;
    std::size_t told = 0;
    for (const Remedy& change : *result.remedies) {
        if (!change.helps || told == most) break;
        page.labelled(told++ == 0 ? "Enough is" : "or",
                      change_words(change, units) + ": " + mass_text(change.mass_kg, units) + "; " +
                          change.governing_check + " then at " + utilisation_text(change.utilisation));
    }
    if (told > 0) return;
    const auto nearest = std::find_if(result.remedies->begin(), result.remedies->end(),
                                      [](const Remedy& change) { return change.utilisation > 0; });
    page.labelled("No way found",
                  "of " + std::to_string(result.remedies->size()) +
                      " changes, by themselves and two together, none is enough" +
                      (nearest == result.remedies->end()
                           ? std::string()
                           : "; nearest comes " + change_words(*nearest, units) + ", with " +
                                 nearest->governing_check + " at " + utilisation_text(nearest->utilisation)));
    if (!advice.empty()) page.labelled("To change", advice);
}

void put_movement(Page& page, const Result& result, Units units) {
    const auto* now = deepest(result, [](const auto& s) { return s.stage != Stage::years; });
    const auto* years = deepest(result, [](const auto& s) { return s.stage == Stage::years; });
    if (now != nullptr) page.labelled("Sag at once", sag_sentence(*now, units));
    if (years != nullptr)
        page.labelled("After years",
                      movement_text(years->sag_mm, units) +
                          (years->sag_limit_mm > 0
                               ? " of " + movement_text(years->sag_limit_mm, units) + " allowed"
                               : std::string()));
    const SituationResult* bent = nullptr;
    for (const SituationResult& s : result.situations)
        if (s.flatness_mm && (bent == nullptr || *s.flatness_mm > *bent->flatness_mm)) bent = &s;
    if (bent != nullptr)
        page.labelled("Flatness",
                      movement_text(*bent->flatness_mm, units) +
                          (bent->flatness_limit_mm
                               ? " of " + movement_text(*bent->flatness_limit_mm, units) + " allowed"
                               : std::string()) +
                          " under a straightedge" + (bent->stage == Stage::years ? ", after the years" : ""));
}

void put_hardest(Page& page, const Result& result, Units units) {
    std::vector<const CheckResult*> rows = hardest_first(result);
    std::erase_if(rows, [](const CheckResult* row) { return row->advice; });
    constexpr std::size_t most = 5;
    if (rows.empty()) return;
    std::vector<Row> table;
    for (std::size_t i = 0; i < std::min(most, rows.size()); ++i) {
        const Compared pair = compared(*rows[i], units);
        const bool over = rows[i]->utilisation > 1;
        table.push_back({{rows[i]->check, pair.found, pair.allowed, utilisation_text(rows[i]->utilisation),
                          rows[i]->at ? place_text(*rows[i]->at, units) : "", over ? "over" : ""},
                         over ? Tone::bad : Tone::plain});
    }
    page.blank();
    page.table({{.heading = "used most of what is allowed"},
                {.heading = "found", .to_the_right = true},
                {.heading = "allowed", .to_the_right = true},
                {.heading = "used", .to_the_right = true},
                {.heading = std::string("at x, y ") + place_unit(units), .to_the_right = true},
                {.heading = ""}},
               table);
}

/// Supports that the top leaves in some situation.
void put_lifting(Page& page, const Result& result, Units units) {
    std::string names;
    std::size_t count = 0;
    constexpr std::size_t most = 4;
    for (const SupportRange& range : ranges_of(result)) {
        if (range.lifts_in.empty()) continue;
        if (++count <= most)
            names += (names.empty() ? "" : "; ") + range.name + " (it carries " +
                     force_text(range.most, units) + " at most)";
    }
    if (count == 0) return;
    page.labelled("Lifts off",
                  names + (count > most ? " and " + std::to_string(count - most) + " more" : ""));
}

/// Of several that say the same of other parts the first; `patterns` are those of `result`'s warnings.
void put_warnings(Page& page, const Result& result, const std::vector<std::string_view>& patterns,
                  const std::vector<std::size_t>& told_above) {
    constexpr std::size_t most = 3;
    std::vector<std::size_t> told;
    for (std::size_t i = 0; i < result.warnings.size(); ++i)
        if (std::find(told_above.begin(), told_above.end(), i) != told_above.end())
            continue;
        else if (patterns[i].empty() ||
                 std::find(patterns.begin(), patterns.begin() + static_cast<std::ptrdiff_t>(i),
                           patterns[i]) == patterns.begin() + static_cast<std::ptrdiff_t>(i))
            told.push_back(i);
    if (told.empty()) return;
    page.blank();
    for (std::size_t k = 0; k < std::min(most, told.size()); ++k) {
        const std::string_view pattern = patterns[told[k]];
        const auto alike = pattern.empty() ? 1 : std::count(patterns.begin(), patterns.end(), pattern);
        page.labelled(k == 0 ? "Warning" : "",
                      text_of(result.warnings[told[k]]) +
                          (alike > 1 ? " And " + std::to_string(alike - 1) + " more like it: --full." : ""),
                      Tone::bad);
    }
    if (told.size() > most)
        page.labelled("",
                      std::to_string(told.size() - most) +
                          (told.size() - most == 1 ? " more warning" : " more warnings") + ": --full",
                      Tone::bad);
}

} // namespace

std::string answer_text(const std::string& file, const Piece& piece, const Result& computed,
                        const TextStyle& style, const Uncertainty* band) {
    const Result result = in_words(computed, style.units);
    Page page;
    page.heading(piece.title.empty() ? file : piece.title + "  (" + file + ")");
    put_verdict(page, result);
    const std::vector<Message> doubts = doubts_of(piece);
    for (std::size_t i = 0; i < doubts.size(); ++i)
        page.labelled(i == 0 ? "Meant so?" : "", text_of(in_words(doubts[i], style.units)), Tone::bad);
    if (result.passes) {
        if (const CheckResult* row = governing(result))
            page.labelled("Nearest", row->check + " at " + utilisation_text(row->utilisation) +
                                         " of what is allowed, in \"" + text_of(row->situation) + "\"");
    } else {
        put_failing(page, result, style.units);
        put_ways(page, piece, result, style.units);
    }
    if (!result.pays.empty() && result.passes) page.labelled("Hollow?", text_of(result.pays));
    put_weight(page, result.mass, style.units);
    put_movement(page, result, style.units);
    put_hardest(page, result, style.units);
    put_lifting(page, result, style.units);
    std::vector<std::string_view> patterns;
    std::vector<std::size_t> told_above;
    for (const Message& warning : computed.warnings) patterns.push_back(warning.pattern);
    for (const Message& doubt : doubts) { // told above
        const auto same = std::find(computed.warnings.begin(), computed.warnings.end(), doubt);
        if (same == computed.warnings.end()) continue;
        const auto at = same - computed.warnings.begin();
        told_above.push_back(static_cast<std::size_t>(at));
    }
    put_warnings(page, result, patterns, told_above);
    page.blank();
    constexpr double worth_telling = 0.1; // of its limit: the digits of what is used less matter to nobody
    page.labelled("How sure", "computed to " + computed_to(result, worth_telling) + "; " +
                                  (band ? band_sentence(*band, style.units)
                                        : "boards differ from the handbook by far more (see --band)") +
                                  (result.mesh.reached ? "" : " (a finer mesh may help: --mesh fine)"));
    if (band) {
        if (const std::string causes = causes_sentence(*band); !causes.empty()) page.labelled("", causes);
        if (const std::string boards = boards_sentence(*band, style.units); !boards.empty())
            page.labelled("", boards);
    }
    page.paragraph(
        "A calculation for furniture, not a test: load the finished top with known weights before it is "
        "delivered; where a code applies, it and a licensed engineer decide. The whole, with all "
        "cautions: --full.",
        0, Tone::faint);
    return page.text(style.coloured);
}

} // namespace hollowtop::cli
