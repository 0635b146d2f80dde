// SPDX-License-Identifier: MIT
#pragma once
/// \file  The sections of the report, each a piece of page; report.cpp puts them in order. Used by
/// report*.cpp only.

#include "cli/report/drawing/plan_of.hpp"
#include "cli/report/sections/factors.hpp"
#include "cli/report/sections/report_input.hpp"
#include "cli/report/sections/sources.hpp"
#include "cli/report/workshop/bench.hpp"

#include <functional>
#include <string_view>

namespace hollowtop::cli {

/// What every section needs.
struct Sheet {
    const ReportInput& in;
    const Plan& plan;
    const Bench& bench;
    const std::vector<std::optional<Reckoned>>&
        reckoned; ///< one a check: its capacity's way, where it has one
    const std::vector<std::vector<std::string>>& acting; ///< loads of each situation; empty where not known
    const std::vector<Work>& works;                      ///< in the order of their numbers
    const Result& result() const { return in.result; }
    Units units() const { return in.units; }
};

/// The heading of the section of that id, with its number.
Markup heading(const Sheet& sheet, std::string_view id);
/// Where the section is, as a link to it: "section 2", "annex 5"; in words alone where this paper does not
/// hold it.
Markup section_link(const Sheet& sheet, std::string_view id);

/// How far tops made to this drawing scatter; empty where that was not computed.
Markup band_part(const Sheet& sheet);
// ---- the papers of client and maker, without their headings
Markup client_part(const Sheet& sheet);
Markup maker_part(const Sheet& sheet);

// ---- sections of the engineer's paper
Markup verdict_section(const Sheet& sheet);
Markup drawn_section(const Sheet& sheet);    ///< sizes, and a plan with loads and the worst place
Markup assumed_section(const Sheet& sheet);  ///< theory, and what was taken for granted
Markup together_section(const Sheet& sheet); ///< which loads act together, against what the supports give
Markup judged_section(const Sheet& sheet);   ///< each check where it is nearest to its limit, and its factors
Markup written_section(const Sheet& sheet);  ///< one check line by line
Markup worst_section(const Sheet& sheet);    ///< the pictures of what governs
Markup sure_section(const Sheet& sheet);
Markup validation_section(const Sheet& sheet);
Markup references_section(const Sheet& sheet);

// ---- sections of the annex
Markup asked_section(const Sheet& sheet);
Markup piece_section(const Sheet& sheet);
Markup weight_section(const Sheet& sheet);
Markup movement_section(const Sheet& sheet);
Markup stress_section(const Sheet& sheet);
Markup checks_section(const Sheet& sheet);
Markup supports_section(const Sheet& sheet);
Markup stiffeners_section(const Sheet& sheet);
Markup seasons_section(const Sheet& sheet);
Markup compare_section(const Sheet& sheet); ///< empty where nothing was varied
Markup bench_section(const Sheet& sheet);
Markup changes_section(const Sheet& sheet);
Markup method_section(const Sheet& sheet);
Markup scatter_section(const Sheet& sheet); ///< how far such tops scatter, and the sag by hand
Markup cases_section(const Sheet& sheet);
Markup test_section(const Sheet& sheet);
Markup care_section(const Sheet& sheet);
Markup risks_section(const Sheet& sheet);
Markup limits_section(const Sheet& sheet);
Markup cautions_section(const Sheet& sheet);
Markup signatures_section(const Sheet& sheet);
Markup both_units_part(const Sheet& sheet);
Markup inputs_section(const Sheet& sheet);

// ---- parts of sections; each empty where there is nothing to say
// -------------------------------------------------
Markup remedies_part(const Sheet& sheet); ///< what would make a failing piece meet its limits, the best of it
Markup tried_part(const Sheet& sheet);    ///< the rest of what was tried for that
Markup pushes_part(const Sheet& sheet); ///< a thumb, a sanding pad, a heel and a hand that leans on the skins
Markup travels_part(const Sheet& sheet); ///< where loads that travel do most harm
Markup by_hand_part(const Sheet& sheet); ///< the sag by another theory, situation by situation
Markup by_hand_cell(const Sheet& sheet, std::size_t situation);
Markup solid_equal_part(const Sheet& sheet); ///< the solid top that sags as little
Markup kept_part(const Sheet& sheet);        ///< what the recesses hold, and their covers
Markup years_part(const Sheet& sheet);       ///< sag as the years go by

Markup checks_table(const Sheet& sheet); ///< each check in the situation where it comes nearest to its limit
Markup piece_facts(const Sheet& sheet);  ///< size, wood, moisture, what was measured

/// The checks, each once, in the situation where it comes nearest to its limit: the nearest first.
std::vector<std::size_t> nearest_checks(const Result& result);
/// Of these, those that the engineer's part tells: all that use a tenth of their limit or more, the four nearest, and
/// the strength that is nearest to its limit.
std::vector<std::size_t> told_checks(const Result& result);
std::optional<std::size_t> governing_index(const Result& result);
/// What the marks of the loads in a plan mean, and its ring: ". P1 someone leans; ...", with its full stop.
Markup load_caption(const Sheet& sheet);
/// Where the check that governs is nearest to its limit; empty where it has no place.
std::optional<Point> governing_place(const Result& result);

/// "black cherry", "birch plywood", "a material of stated elastic constants".
std::string top_material_words(const Piece& piece);
/// The theory in a paragraph.
std::string method_sentences(const Piece& piece);
/// "30 % at 20 °C".
std::string air_text(const Air& air, Units units);
std::string holes_words(Holes holes);
/// Rounded up to what is marked out: a tenth of a millimetre or a sixteenth of an inch.
std::string at_least_text(double mm, Units units);
std::string drill_text(double mm, Units units);
/// At most so many characters, with an ellipsis where it was longer.
std::string short_text(const std::string& text, std::size_t most);

/// A sentence on the range of the sag, without its full stop; empty where it is not known.
Markup band_words(const Sheet& sheet);

/// What "meets the limits" in the verdict may say.
std::string verdict_sentence(const Result& result);

// ---- numbers of the result, each with its place in the JSON
// -------------------------------------------------------

/// A movement: "3.4 mm".
Markup moved(const Sheet& sheet, double mm, const std::string& pointer, Source source = Source::check);
/// As a dial gauge shows it: "3.42 mm"; "under 0.01 mm", never nought for what is not.
Markup moved_finely(const Sheet& sheet, double mm, const std::string& pointer);
Markup massed(const Sheet& sheet, double kg, const std::string& pointer);
Markup forced(const Sheet& sheet, double newtons, const std::string& pointer, Source source = Source::check);
/// In the unit that the check names.
Markup amount(const Sheet& sheet, double value, const std::string& unit, const std::string& pointer,
              Source source = Source::check);
/// What must be at least its limit, not at most: there demand is the limit and capacity what was found.
bool is_at_least(const CheckResult& check);
/// What a check found, and what it allows: "5.8 mm"; "at least 8.0 Hz".
Markup found_of(const Sheet& sheet, std::size_t check);
Markup allowed_of(const Sheet& sheet, std::size_t check);
/// Margin of a check: capacity over demand less one, rounded down.
Markup margin_number(const Sheet& sheet, std::size_t check);
Markup used(double utilisation, const std::string& pointer, Source source = Source::check);
/// "850, 425" with both coordinates tied to the JSON; `pointer` is the point's.
Markup placed(const Sheet& sheet, Point at, const std::string& pointer, Source source = Source::check);

/// The same in a sentence: "x, y 850, 425 mm".
Markup placed_in_words(const Sheet& sheet, Point at, const std::string& pointer);

/// Where a caption takes the number of its figure, once the page is whole.
inline constexpr std::string_view figure_number = "<!--figure-->";
/// The figure with the picture in two sizes, for wide and for narrow pages and paper, and its caption.
Markup figure(const Markup& caption, const std::function<Svg(const std::string& id_end, double width)>& draw);

/// Sizes: "/checks/3/demand".
std::string at_index(std::string_view list, std::size_t index, std::string_view key);

extern const char* const style_sheet;

} // namespace hollowtop::cli
