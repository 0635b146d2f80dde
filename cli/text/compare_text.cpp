// SPDX-License-Identifier: MIT
#include "cli/text/compare_text.hpp"

#include "cli/text/page.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"

#include <algorithm>

namespace hollowtop::cli {
namespace {

std::vector<Message> labels_of(const VariantSpace& space, std::uint64_t variant) {
    std::vector<Message> labels;
    const std::vector<std::size_t> choices = choices_of(space, variant);
    for (std::size_t a = 0; a < choices.size(); ++a)
        labels.push_back(space.axes[a].choices[choices[a]].label);
    return labels;
}

void put_table(Page& page, const VariantSpace& space, const std::vector<RankedVariant>& list,
               const CompareStory& story, const TextStyle& style) {
    std::vector<Column> columns{{.heading = "no.", .to_the_right = true}};
    for (const Axis& axis : space.axes)
        if (axis.choices.size() > 1) columns.push_back({.heading = axis.name, .shrinks = true});
    const bool has_cost = std::any_of(list.begin(), list.end(),
                                      [](const RankedVariant& one) { return one.row.cost.has_value(); });
    const bool has_years = std::any_of(
        list.begin(), list.end(), [](const RankedVariant& one) { return one.row.sag_years_mm.has_value(); });
    columns.push_back({.heading = "weight", .to_the_right = true});
    columns.push_back({.heading = "sag", .to_the_right = true});
    if (has_years) columns.push_back({.heading = "years", .to_the_right = true});
    if (has_cost) columns.push_back({.heading = "cost", .to_the_right = true});
    const auto season_of = [&](const RankedVariant& one) {
        const auto known = story.seasons.find(one.variant);
        return known == story.seasons.end() ? std::optional<SeasonNumbers>() : known->second;
    };
    const auto any_season = [&](const auto& has) {
        return std::any_of(list.begin(), list.end(), [&](const RankedVariant& one) {
            const auto known = season_of(one);
            return known && has(*known);
        });
    };
    const bool has_seasons = any_season([](const SeasonNumbers&) { return true; }),
               has_held = any_season([](const SeasonNumbers&s) { return s.held_mm.has_value(); }),
               has_boards = any_season([](const SeasonNumbers&s) { return s.boards_mm.has_value(); });
    if (has_seasons) columns.push_back({.heading = "free", .to_the_right = true});
    if (has_held) columns.push_back({.heading = "stands", .to_the_right = true});
    if (has_boards) columns.push_back({.heading = "boards", .to_the_right = true});
    if (has_seasons) columns.push_back({.heading = "pull", .to_the_right = true});
    columns.push_back({.heading = "used", .to_the_right = true});
    columns.push_back({.heading = "governs", .shrinks = true});
    std::vector<Row> rows;
    for (const RankedVariant& one : list) {
        Row row{.cells = {std::to_string(one.variant)}, .tone = one.row.passes ? Tone::plain : Tone::bad};
        const std::vector<Message> labels = labels_of(space, one.variant);
        for (std::size_t a = 0; a < labels.size(); ++a)
            if (space.axes[a].choices.size() > 1) row.cells.push_back(in_words(labels[a], style.units));
        const auto moved = [&](double mm) {
            return style.units == Units::mm ? fixed(mm, 2) + " mm"
                                            : fixed(Length::from_mm(mm).inches(), 3) + " in";
        };
        row.cells.push_back(style.units == Units::mm ? fixed(one.row.mass_kg, 2) + " kg"
                                                     : mass_text(one.row.mass_kg, style.units));
        row.cells.push_back(moved(one.row.sag_mm));
        if (has_years) row.cells.push_back(one.row.sag_years_mm ? moved(*one.row.sag_years_mm) : "");
        if (has_cost) row.cells.push_back(one.row.cost ? fixed(*one.row.cost, 2) : "");
        const bool known = season_of(one).has_value();
        const SeasonNumbers seasons = season_of(one).value_or(SeasonNumbers{});
        if (has_seasons) row.cells.push_back(known ? moved(seasons.free_mm) : "");
        if (has_held) row.cells.push_back(seasons.held_mm ? moved(*seasons.held_mm) : "");
        if (has_boards) row.cells.push_back(seasons.boards_mm ? moved(*seasons.boards_mm) : "");
        if (has_seasons) row.cells.push_back(known ? stress_text(seasons.tension_MPa, style.units) : "");
        row.cells.push_back(utilisation_text(one.row.utilisation));
        row.cells.push_back(one.row.governing_check);
        rows.push_back(std::move(row));
    }
    page.table(columns, rows);
}

/// "dish 12, sag at once 3": the most frequent first.
std::string counted(const std::map<std::string, std::size_t>& governs) {
    std::vector<std::pair<std::string, std::size_t>> list(governs.begin(), governs.end());
    std::stable_sort(list.begin(), list.end(),
                     [](const auto& a, const auto& b) { return a.second > b.second; });
    std::string text;
    for (const auto& [check, count] : list)
        text += (text.empty() ? "" : ", ") + check + " " + std::to_string(count);
    return text;
}

const char* heading_of(Preference wish) {
    switch (wish) {
    case Preference::lightest:
        return "Lightest that meet the limits set";
    case Preference::stiffest:
        return "Stiffest that meet the limits set";
    case Preference::cheapest:
        break;
    }
    return "Cheapest that meet the limits set";
}

/// Why variants cannot be made, and which ones.
void put_impossible(Page& page, const Tally& tally, Units units) {
    const std::vector<Impossible> reasons = tally.impossible_because();
    if (reasons.empty()) return;
    constexpr std::size_t most = 8;
    page.blank();
    page.heading("Cannot be made or computed");
    for (std::size_t i = 0; i < std::min(most, reasons.size()); ++i) {
        const Impossible& one = reasons[i];
        std::string text = one.variants.size() == 1 ? "no. " : "nos. ";
        for (std::size_t k = 0; k < one.variants.size(); ++k)
            text += (k > 0 ? ", " : "") + std::to_string(one.variants[k]);
        if (one.count > one.variants.size())
            text += " and " + std::to_string(one.count - one.variants.size()) + " more";
        page.bullet(text + ": " + in_words(one.why, units));
    }
    if (reasons.size() > most)
        page.paragraph(std::to_string(reasons.size() - most) + " more reasons: see the file of --csv.");
}

/// Not all of a long set: its ends and evenly between.
std::vector<RankedVariant> thinned(const std::vector<RankedVariant>& all, std::size_t most) {
    if (all.size() <= most) return all;
    std::vector<RankedVariant> some;
    for (std::size_t k = 0; k < most; ++k) some.push_back(all[k * (all.size() - 1) / (most - 1)]);
    return some;
}

} // namespace

std::string compare_text(const std::string& file, const VariantSpace& space, const Tally& tally,
                         const CompareStory& story, const TextStyle& style) {
    Page page;
    page.heading(file + ": " + std::to_string(tally.all()) + (tally.all() == 1 ? " variant" : " variants") +
                 (story.of_all > tally.all() ? " of " + std::to_string(story.of_all) : ""));
    const std::size_t failing = tally.all() - tally.passing() - tally.impossible();
    std::string sentence = std::to_string(tally.passing()) + (tally.passing() == 1 ? " meets" : " meet") +
                           " the limits set, " + std::to_string(failing) +
                           (failing == 1 ? " does not" : " do not");
    if (tally.impossible() > 0)
        sentence += ", " + std::to_string(tally.impossible()) + " cannot be made or could not be computed";
    page.paragraph(sentence + ".", 0, tally.passing() > 0 ? Tone::good : Tone::bad);
    page.blank();
    if (!tally.best().empty()) {
        page.heading(heading_of(story.wish) + (story.most_kg
                                                   ? ", of at most " + mass_text(*story.most_kg, style.units)
                                                   : std::string()));
        put_table(page, space, tally.best(), story, style);
        page.blank();
    } else if (tally.passing() > 0) {
        page.paragraph("None of those that meet the limits weighs " + mass_text(*story.most_kg, style.units) +
                           " or less.",
                       0, Tone::bad);
        page.blank();
    }
    if (tally.pareto().size() > 1) {
        constexpr std::size_t most = 10;
        page.heading("Worth choosing from: of what meets the limits, none is lighter and sags less");
        put_table(page, space, thinned(tally.pareto(), most), story, style);
        if (tally.pareto().size() > most)
            page.paragraph(std::to_string(most) + " of " + std::to_string(tally.pareto().size()) +
                               " are shown.",
                           0, Tone::faint);
        page.blank();
    }
    if (tally.passing() == 0 && !tally.nearest().empty()) {
        page.heading("Nearest to meeting the limits");
        put_table(page, space, tally.nearest(), story, style);
        page.blank();
    }
    if (!tally.governs_passing().empty()) page.labelled("governs", counted(tally.governs_passing()));
    if (!tally.governs_failing().empty()) page.labelled("stopped by", counted(tally.governs_failing()));
    put_impossible(page, tally, style.units);
    if (!story.seasons.empty())
        page.paragraph(
            "Seasons, by the first two years: free, most out of flat lying free; stands, on its supports and "
            "bars; boards, by their rings alone; pull, across the grain, for comparing. Advice, known to a "
            "factor of two in time; it ranks nothing.",
            0, Tone::faint);
    page.blank();
    for (const Message& caution : story.cautions) page.bullet(in_words(caution, style.units), Tone::faint);
    return page.text(style.coloured);
}

} // namespace hollowtop::cli
