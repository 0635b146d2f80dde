// SPDX-License-Identifier: MIT
#include "cli/text/year_text.hpp"

#include "cli/text/page.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

std::string capitalised(std::string_view word) {
    std::string text(word);
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

std::string month_text(int month) { return capitalised(month_words[static_cast<std::size_t>(month - 1)]); }

/// "day 19", "day 14 to 30 (most on day 19)": days are counted from one.
std::string days_text(const WorstDay& worst) {
    const std::string most = "day " + std::to_string(worst.day + 1);
    if (worst.to - worst.from < 2) return most;
    return "day " + std::to_string(worst.from + 1) + " to " + std::to_string(worst.to + 1) + ", most on " +
           most;
}

std::string bow_text(double rise, Units units) {
    if (std::abs(rise) < 0.05) return "keeps flat across";
    return std::string(rise > 0 ? "crowns " : "goes hollow ") + movement_text(std::abs(rise), units);
}

std::string worst_text(const WorstOfYear& worst, Units units) {
    std::string text = bow_text(worst.rise_across.value, units);
    if (std::abs(worst.rise_across.value) >= 0.05) text += " across (" + days_text(worst.rise_across) + ")";
    return text + ", " + movement_text(worst.out_of_flat.value, units) + " out of flat";
}

std::string lead_text(const YearOfTop& year) {
    const WorstDay& lead = year.first.lead;
    if (std::abs(lead.value) < 0.05) return "the skin keeps pace with the rim";
    return "the skin is " + fixed(std::abs(lead.value), 1) + " points " +
           (lead.value > 0 ? "drier" : "wetter") + " than the rim (" + days_text(lead) + ")";
}

std::string finish_text(const YearOfTop& year) {
    const auto name = [](const std::string& id) { return materials::find_finish(id).name; };
    const FaceFinishes& f = year.finish;
    const bool has_skin = year.zones.size() > 1;
    std::string text = "top face " + name(f.above) + ", underside " + name(f.below);
    if (has_skin) text += ", recess " + name(f.recess);
    if (f.above == f.below && (!has_skin || f.below == f.recess)) text = name(f.above) + " all over";
    return text + (year.finish_is_usual ? " (taken where the file does not say)" : "");
}

/// Over the ways with other coefficients: from the least to the greatest.
struct Range {
    double low = 0, high = 0;
};
template <class ValueOf> Range range_of(const std::vector<Otherwise>& ways, ValueOf value_of) {
    Range range{value_of(ways.front()), value_of(ways.front())};
    for (const Otherwise& way : ways) {
        range.low = std::min(range.low, value_of(way));
        range.high = std::max(range.high, value_of(way));
    }
    return range;
}

std::string doubled_text(const YearOfTop& year, Units units) {
    const Range day =
        range_of(year.doubled, [](const Otherwise& w) { return w.first.out_of_flat.day + 1.0; });
    const Range flat = range_of(year.doubled, [](const Otherwise& w) { return w.first.out_of_flat.value; });
    return "a factor of two either way: " + movement_text(flat.low, units) + " to " +
           movement_text(flat.high, units) + " out of flat, most on day " + fixed(day.low, 0) + " to " +
           fixed(day.high, 0);
}

void put_tension(Page& page, const YearOfTop& year, Units units) {
    const SeasonTension& t = year.tension;
    if (t.greatest.value < 0.005) {
        page.labelled("Pull", "none across the grain");
        return;
    }
    page.labelled("Pull", "across " + stress_text(t.greatest.value, units) + " at most (not judged), day " +
                              std::to_string(t.greatest.day + 1) + ", " +
                              (t.in_a_skin ? "skin" : "full thickness") + " at " + place_text(t.at, units) +
                              " " + place_unit(units));
}

/// By more than a tenth, and more than one sees: bars that cannot let go.
bool makes_worse(const HeldShape& with, const HeldShape& without) {
    constexpr double seen = 0.1; // mm
    const double a = with.shape.out_of_flat, b = without.shape.out_of_flat;
    return a > 1.1 * b && a > b + seen;
}

void put_standing(Page& page, const YearOfTop& year, const Piece& piece, Units units) {
    if (!year.standing) return;
    const Standing& st = *year.standing;
    const std::string bars = !piece.ends ? "bars" : piece.stiffeners.empty() ? "ends" : "bars and ends";
    const auto flat = [&](const HeldShape& held) { return movement_text(held.shape.out_of_flat, units); };
    std::string text = "on its supports" + (st.worst_without_bars ? " and " + bars : "") +
                       ", with its weight: " + bow_text(st.worst.shape.across.value, units) +
                       ", out of flat by " + flat(st.worst) + " on day " + std::to_string(st.worst_day + 1);
    const bool harms = st.worst_without_bars && makes_worse(st.worst, *st.worst_without_bars);
    if (st.worst_without_bars)
        text += " (without " + bars + " " + flat(*st.worst_without_bars) + (harms ? ": harmful)" : ")");
    const HeldShape& moved = st.moved;
    if (std::abs(moved.shape.out_of_flat - st.worst.shape.out_of_flat) >= 0.1) {
        text += "; " + flat(moved) + " on day " + std::to_string(st.moved_day + 1);
        if (st.moved_without_bars)
            text += ", most moved (" + flat(*st.moved_without_bars) + " without" +
                    (!harms && makes_worse(moved, *st.moved_without_bars) ? ": harmful)" : ")");
        else
            text += ", when most moved";
    }
    page.labelled("As it stands", text);
    constexpr double tail_length = 100; // mm
    const double pull = std::max(st.worst.greatest_pull, moved.greatest_pull),
                 shear = std::max(st.worst.greatest_shear, moved.greatest_shear);
    std::string forces;
    if (pull >= 0.5) forces = "screws pulled by " + force_text(pull, units);
    if (shear >= 0.5)
        forces += (forces.empty() ? "screws" : ",") + std::string(" sheared by ") + force_text(shear, units);
    const bool yields = st.worst.yields || moved.yields,
               drawn_out = st.worst.is_drawn_out || moved.is_drawn_out;
    if (yields) forces += ", all they bear: they yield";
    if (drawn_out) forces += "; some are drawn out: it bows as without bars";
    const HeldShape& on_tail = st.worst.greatest_on_tail >= moved.greatest_on_tail ? st.worst : moved;
    if (on_tail.greatest_on_tail >= 0.05)
        forces += (forces.empty() ? "" : "; ") + on_tail.tail + " holds the wood with up to " +
                  force_text(on_tail.greatest_on_tail * tail_length, units) + " on " +
                  dimension_text(tail_length, units) + " of its length (not judged)";
    std::vector<std::string> loose = st.worst.lets_go;
    for (const std::string& name : moved.lets_go)
        if (std::find(loose.begin(), loose.end(), name) == loose.end()) loose.push_back(name);
    for (const std::string& name : loose)
        forces += (forces.empty() ? "" : ", ") + std::string("it lifts off ") + name;
    if (!forces.empty()) page.labelled("", forces);
}

std::string table_movement(double mm, Units units) {
    return units == Units::mm ? fixed(mm, 1) : fixed(Length::from_mm(mm).inches(), 3);
}

void put_months(Page& page, const YearOfTop& year, Units units) {
    std::vector<Row> rows;
    const bool has_skin = year.zones.size() > 1;
    for (const YearMonth& m : year.months)
        rows.push_back(
            {{month_text(m.month), fixed(m.air_percent, 1), fixed(m.full_percent, 1),
              has_skin ? fixed(m.skin_percent, 1) : "", table_movement(m.width_change, units),
              table_movement(m.shape.across.value, units), table_movement(m.shape.along.value, units),
              table_movement(m.shape.out_of_flat, units), stress_text(m.tension, units)},
             Tone::plain});
    const std::string unit = units == Units::mm ? ", mm" : ", in";
    page.blank();
    page.table({{.heading = "end of"},
                {.heading = "air's %", .to_the_right = true},
                {.heading = has_skin ? "rim %" : "wood %", .to_the_right = true},
                {.heading = has_skin ? "skin %" : "", .to_the_right = true},
                {.heading = "width" + unit, .to_the_right = true},
                {.heading = "across" + unit, .to_the_right = true},
                {.heading = "along" + unit, .to_the_right = true},
                {.heading = "out of flat", .to_the_right = true},
                {.heading = "pull", .to_the_right = true}},
               rows);
}

void put_boards(Page& page, const RingsTold& r, bool has_bars, Units units) {
    if (!r.are_known) {
        page.labelled("Boards", "rings not said: all one way up, piths " + dimension_text(60, units) +
                                    " off, they bow a free panel by " +
                                    movement_text(r.near_pith_crown, units) + ", alternating by " +
                                    movement_text(r.near_pith_wave, units) +
                                    ". Write \"pith\" and \"bark\" of each.");
        return;
    }
    const auto bowed = [&](const PanelShape& panel) {
        return (panel.crown > 0 ? "crown " : "hollow ") + movement_text(std::abs(panel.crown), units);
    };
    page.labelled("Boards", "as laid, by their rings alone and lying free: " + bowed(r.dry) +
                                " in the dry season, " + bowed(r.damp) +
                                " in the damp one; highest above lowest " +
                                movement_text(std::max(r.dry.wave, r.damp.wave), units) + ". Board " +
                                std::to_string(r.worst_board + 1) +
                                " cups most of its own: " + movement_text(r.greatest_cup, units));
    if (r.stands_dry && r.stands_damp)
        page.labelled("", "on its supports, " + std::string(has_bars ? "over its bars, " : "") +
                              "with its weight: " + bow_text(r.stands_dry->shape.across.value, units) +
                              " in the dry season, " + bow_text(r.stands_damp->shape.across.value, units) +
                              " in the damp one; each board's own wave, up to " +
                              movement_text(r.greatest_scallop, units) + ", comes on top of it");
    page.labelled("", "all pith side up " + movement_text(r.wave_pith_up, units) + ", all bark up " +
                          movement_text(r.wave_bark_up, units) + ", alternating " +
                          movement_text(r.wave_alternating, units));
    if (!r.narrow.empty()) {
        std::string numbers;
        for (const std::size_t i : r.narrow) numbers += (numbers.empty() ? "" : ", ") + std::to_string(i + 1);
        page.labelled("", "narrower than four thicknesses: board " + numbers +
                              ". What is told of the rings is within 5 % for wider boards only");
    }
    if (r.turned.turned.empty()) return;
    std::vector<int> turned = r.turned.turned;
    std::sort(turned.begin(), turned.end());
    std::string numbers;
    for (const int i : turned) numbers += (numbers.empty() ? "" : ", ") + std::to_string(i + 1);
    page.labelled("",
                  "flattest with board " + numbers + " turned over: " + movement_text(r.turned.wave, units));
}

void put_helps(Page& page, const YearOfTop& year, Units units) {
    bool first = true;
    constexpr std::size_t most = 3;
    for (const Otherwise& way : std::span(year.helps).first(std::min(most, year.helps.size()))) {
        page.labelled(first ? "What helps" : "", in_words(way.what, units) + ": out of flat by " +
                                                     movement_text(way.first.out_of_flat.value, units));
        first = false;
    }
}

/// How far down the check still holds: steps that were computed, no step between.
void put_sanding(Page& page, std::span<const Sanded> sanding, Units units) {
    if (sanding.empty()) return;
    const Sanded* last = nullptr; // that passes, with all before it
    const Sanded* stops = nullptr;
    for (const Sanded& one : sanding) {
        if (!one.passes.value_or(false)) {
            stops = &one;
            break;
        }
        last = &one;
    }
    std::string text =
        last == nullptr
            ? "none: " + dimension_text(sanding.front().off, units) + " off the show face is too much"
            : dimension_text(last->off, units) + " may come off the show face by the check" +
                  (stops == nullptr ? ", more was not tried" : "");
    if (stops == nullptr)
        text += "; most used then: " + last->check + ", " + utilisation_text(last->utilisation);
    else if (stops->passes)
        text += "; " + dimension_text(stops->off, units) + " is stopped by " + stops->check + ", " +
                utilisation_text(stops->utilisation);
    else
        text += "; " + dimension_text(stops->off, units) + " cannot be: " + in_words(stops->problem, units);
    page.labelled("Sanding", text + ". A refinishing takes about half a millimetre (judgement)");
}

} // namespace

std::string year_strip(const YearOfTop& year, const TextStyle& style) {
    const Units units = style.units;
    Page page;
    page.blank();
    page.heading("The first two years, lying free (advice: known to a factor of two in time)");
    page.labelled("First year", worst_text(year.first, units));
    page.labelled("Second year", worst_text(year.second, units));
    put_months(page, year, units);
    page.paragraph(
        "Width: since it was made. Across, along: crown +, hollow -. Why, and what helps: seasons.", 0,
        Tone::faint);
    return page.text(style.coloured);
}

std::string year_text(const std::string& file, const Piece& piece, const YearOfTop& year,
                      std::span<const Sanded> sanding, std::span<const Message> cautions, bool full,
                      const TextStyle& style) {
    const Units units = style.units;
    Page page;
    page.heading(piece.title.empty() ? file : piece.title + "  (" + file + ")");
    page.paragraph("Its first year, lying free. Advice, no verdict: how quick moisture goes is known to a "
                   "factor of two.");
    for (const Message& warning : year.warnings) page.bullet(in_words(warning, units), Tone::bad);
    page.blank();
    page.labelled("Moves in", "first of " + month_text(year.month) + (year.month_is_usual ? " (taken)" : "") +
                                  " at " + fixed(year.start_percent, 1) +
                                  " %; wood in this air swings from " + fixed(year.range.dry_percent, 1) +
                                  " to " + fixed(year.range.wet_percent, 1) + " %");
    page.labelled("Finish", finish_text(year));
    if (year.zones.size() > 1) page.labelled("Moisture", lead_text(year));
    page.labelled("First year", worst_text(year.first, units));
    page.labelled("Second year", worst_text(year.second, units));
    put_standing(page, year, piece, units);
    put_tension(page, year, units);
    page.labelled("How sure", doubled_text(year, units));
    put_months(page, year, units);
    page.blank();
    if (year.rings) put_boards(page, *year.rings, !piece.stiffeners.empty(), units);
    put_helps(page, year, units);
    put_sanding(page, sanding, units);
    if (!full) {
        page.paragraph(
            "Width: since it was made. Across, along: crown +, hollow -. More, and all cautions: --full.", 0,
            Tone::faint);
        if (!cautions.empty()) page.bullet(in_words(cautions.front(), units));
        return page.text(style.coloured);
    }
    page.blank();
    page.heading("Taken for granted");
    for (const Message& taken : year.assumptions) page.bullet(in_words(taken, units));
    if (year.edges)
        page.bullet(
            "Where the rim dries through its edge and the wall of the recess too, the skin leads it by " +
            fixed(std::abs(year.edges->sides), 1) + " points along the grain and by " +
            fixed(std::abs(year.edges->ends), 1) +
            " at the ends, at most, in place of what is told above. Had all full thickness the moisture of "
            "that rim, it would be out of flat by " +
            movement_text(year.edges->out_of_flat, units) + " in the first year, not by " +
            movement_text(year.first.out_of_flat.value, units) + ".");
    page.bullet("The bow carries a computing error of about " + error_text(year.error_percent) + ".");
    page.blank();
    page.heading("Cautions");
    for (const Message& caution : cautions) page.bullet(in_words(caution, units));
    return page.text(style.coloured);
}

std::string year_csv(const YearOfTop& year) {
    std::string text =
        "month,air_percent,rim_percent,skin_percent,width_change_mm,rise_across_mm,rise_along_mm,"
        "out_of_flat_mm,tension_MPa\n";
    constexpr int digits = 6;
    for (const YearMonth& m : year.months) {
        text += month_words[static_cast<std::size_t>(m.month - 1)];
        for (const double value : {m.air_percent, m.full_percent, m.skin_percent, m.width_change,
                                   m.shape.across.value, m.shape.along.value, m.shape.out_of_flat, m.tension})
            text += "," + significant(value, digits);
        text += "\n";
    }
    return text;
}

std::string care_card(const Piece& piece, const YearOfTop& year, const TextStyle& style) {
    const Units units = style.units;
    Page page;
    page.heading("How to live with " + (piece.title.empty() ? "this top" : piece.title));
    page.blank();
    page.paragraph("It is solid wood: it grows wider in damp months and narrower in heated ones, whatever it "
                   "is finished "
                   "with. That is no fault, and nothing may stop it.");
    page.blank();
    page.heading("Where not to stand it");
    for (const char* line : {"Not against a radiator, a stove or over a heated floor, nor in the sun behind "
                             "a window: one face then dries "
                             "alone, and the top bows.",
                             "Not in a conservatory, a damp cellar or a room that stands unheated in winter "
                             "and is heated in a day.",
                             "Nothing wet left on it, and no cloth or mat over half of it for months."})
        page.bullet(line);
    page.blank();
    page.heading("Its first winter");
    page.bullet("Warm the room up over weeks, not in a day, and keep the air between " +
                fixed(std::min(year.range.dry_air.humidity_percent, year.range.wet_air.humidity_percent), 0) +
                " and " +
                fixed(std::max(year.range.dry_air.humidity_percent, year.range.wet_air.humidity_percent), 0) +
                " % relative humidity: it was reckoned for that.");
    page.bullet("It is farthest from flat about " + std::to_string((year.first.out_of_flat.day + 7) / 7) +
                " weeks after it moves in, by some " + movement_text(year.first.out_of_flat.value, units) +
                " (give or take: another house, another week). Wait a season before anyone planes it.");
    page.bullet("A crack, or a bow that is still there after a year: ask the maker.");
    page.blank();
    page.heading("How wide it is at the end of each month, against the day it was made");
    std::vector<Row> rows;
    for (const YearMonth& m : year.months)
        rows.push_back(
            {{month_text(m.month), (m.width_change >= 0 ? "+" : "") + table_movement(m.width_change, units) +
                                       (units == Units::mm ? " mm" : " in")},
             Tone::plain});
    page.rows({{.heading = ""}, {.heading = "", .to_the_right = true}}, rows);
    page.blank();
    page.paragraph("Reckoned, not measured: what a finish lets through is known to a factor of two, so weeks "
                   "may be twice or "
                   "half as many. Clean and refinish both faces alike.");
    return page.text(style.coloured);
}

} // namespace hollowtop::cli
