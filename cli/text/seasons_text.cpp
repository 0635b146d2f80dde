// SPDX-License-Identifier: MIT
#include "cli/text/seasons_text.hpp"

#include "cli/text/page.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

bool any_stress_judged(const Seasons& seasons) {
    return std::any_of(seasons.checks.begin(), seasons.checks.end(),
                       [](const SeasonCheck& check) { return check.unit == "MPa"; });
}

void put_verdict(Page& page, const Seasons& seasons) {
    if (!seasons.passes)
        page.paragraph("The top is held where it wants to move: more than the limits set allow.", 0,
                       Tone::bad);
    else if (seasons.checks.empty())
        page.paragraph("Nothing in this file holds the top back, if the play below is cut.", 0, Tone::good);
    else if (any_stress_judged(seasons))
        page.paragraph("Where it is held back, the top meets the limits set.", 0, Tone::good);
    else
        page.paragraph("The ways drawn for the screws meet the movement.", 0, Tone::good);
}

std::string air_text(const Air& air, Units units) {
    const double temperature = units == Units::mm ? air.temperature_C : air.temperature_C * 9 / 5 + 32;
    return fixed(temperature, 0) + (units == Units::mm ? " C" : " F") + " and " +
           fixed(air.humidity_percent, 0) + " %";
}

void put_moisture(Page& page, const Seasons& seasons, Units units) {
    const MoistureRange& m = seasons.moisture;
    const bool usual = m.dry_is_usual || m.wet_is_usual;
    page.labelled("Air", "dry season " + air_text(m.dry_air, units) + ", damp season " +
                             air_text(m.wet_air, units) + " relative humidity" +
                             (usual ? (m.dry_is_usual && m.wet_is_usual
                                           ? " (taken: the file names no climate)"
                                           : " (one of them taken: the file does not name it)")
                                    : ""));
    page.labelled("Moisture", fixed(m.dry_percent, 1) + " % in the dry season, " + fixed(m.wet_percent, 1) +
                                  " % in the damp one; made at " + fixed(m.made_percent, 1) + " %");
}

/// What moves, in a table: decimals alone; "0" rather than "under 0.1 mm" for what does not move at all.
std::string moved(double mm, Units units) {
    if (mm < 1e-9) return units == Units::mm ? "0 mm" : "0 in";
    return amount_text(mm, "mm", units);
}

/// A length to be marked out, in a table.
std::string marked(double mm, Units units) {
    return units == Units::mm ? dimension_text(mm, units) : sixteenths(Length::from_mm(mm).inches()) + " in";
}

/// What has to be left free: rounded up, to what is marked out (1/16 in) or to `step` mm.
std::string at_least(double mm, double step, Units units) {
    constexpr double noise = 1e-9;
    if (units == Units::mm) return dimension_text(std::ceil(mm / step - noise) * step, units);
    constexpr double parts = 16;
    return sixteenths(std::ceil(Length::from_mm(mm).inches() * parts - noise) / parts) + " in";
}

void put_parts(Page& page, const Seasons& seasons, Units units) {
    std::vector<Row> rows;
    const auto add = [&](const PartMovement& part, bool with_gap) {
        rows.push_back(
            {{part.name, marked(part.size, units), moved(part.swing.shrinks, units),
              moved(part.swing.grows, units), with_gap ? at_least(part.swing.play(), 0.1, units) : ""},
             Tone::plain});
    };
    add(seasons.width, true);
    add(seasons.thickness, false);
    for (const PartMovement& recess : seasons.recesses) add(recess, true);
    page.blank();
    page.heading("How far it moves, from the moisture it is made at");
    page.table({{.heading = "across the grain", .shrinks = true},
                {.heading = "size", .to_the_right = true},
                {.heading = "shrinks", .to_the_right = true},
                {.heading = "grows", .to_the_right = true},
                {.heading = "gap each side", .to_the_right = true}},
               rows);
    page.paragraph(
        "Gap each side: what a frame around the top, or a cover or plate let into a recess, must "
        "leave free across the grain. Along the grain the top keeps its length (it could change by " +
        movement_text(seasons.length_at_most, units) + " at the most).");
}

std::string angle_sentence(const StiffenerMovement& s) {
    if (s.to_the_grain_deg < 0.5) return "along the grain";
    if (s.to_the_grain_deg > 89.5) return "across the grain";
    return fixed(s.to_the_grain_deg, 0) + " degrees to the grain";
}

/// Screws of one stiffener whose numbers read alike.
struct LikeScrews {
    std::vector<std::size_t> screws; ///< from 0
    std::vector<std::string> cells;  ///< what is told of each
};

std::vector<LikeScrews> grouped(const StiffenerMovement& s, bool slots, Units units) {
    std::vector<LikeScrews> groups;
    for (std::size_t i = 0; i < s.screws.size(); ++i) {
        const ScrewTravel& screw = s.screws[i];
        const std::string slot = screw.is_fixed ? "fixed" : at_least(screw.slot_length, 1, units);
        std::vector<std::string> cells{screw.is_fixed ? "" : moved(screw.along.shrinks, units),
                                       screw.is_fixed ? "" : moved(screw.along.grows, units),
                                       screw.is_fixed ? "" : at_least(screw.along.play(), 0.1, units),
                                       slots ? slot : "",
                                       screw.force >= 0.5 ? force_text(screw.force, units) : ""};
        const auto same = [&](const LikeScrews& group) { return group.cells == cells; };
        const auto known = std::find_if(groups.begin(), groups.end(), same);
        if (known != groups.end())
            known->screws.push_back(i);
        else
            groups.push_back({.screws = {i}, .cells = std::move(cells)});
    }
    return groups;
}

/// "1 to 4, 6, 8 to 9": numbers from 1.
std::string numbers_of(const std::vector<std::size_t>& screws) {
    std::string text;
    for (std::size_t i = 0; i < screws.size();) {
        std::size_t end = i;
        while (end + 1 < screws.size() && screws[end + 1] == screws[end] + 1) ++end;
        text += (text.empty() ? "" : ", ") + std::to_string(screws[i] + 1);
        if (end > i) text += (end > i + 1 ? " to " : ", ") + std::to_string(screws[end] + 1);
        i = end + 1;
    }
    return text;
}

void put_screws(Page& page, const StiffenerMovement& s, Units units) {
    const bool holds_back = s.restraint.has_value();
    const bool slots = s.holes == Holes::slotted || holds_back;
    const std::vector<LikeScrews> groups = grouped(s, slots, units);
    const bool is_fixed_alone =
        groups.size() == 2 && (groups[0].screws.size() == 1 || groups[1].screws.size() == 1);
    if (s.screws.size() > 2 && slots && (groups.size() == 1 || is_fixed_alone)) {
        const LikeScrews& many = groups.size() == 1 || groups[0].screws.size() > 1 ? groups[0] : groups[1];
        const LikeScrews& one = &many == &groups[0] ? groups.back() : groups[0];
        const bool one_is_fixed = groups.size() == 1 || s.screws[one.screws.front()].is_fixed;
        if (one_is_fixed && !s.screws[many.screws.front()].is_fixed) {
            const std::string text = std::to_string(s.screws.size()) + " screws: slots of " + many.cells[3] +
                                     (holds_back ? " needed" : "") + ", play of " + many.cells[2] +
                                     " each side; all alike";
            const std::string but = groups.size() == 1
                                        ? "."
                                        : " but no. " + numbers_of(one.screws) + ", which is fixed, at " +
                                              marked(s.screws[one.screws.front()].at, units) + ".";
            page.paragraph(text + but, 2);
            return;
        }
    }
    std::vector<Row> rows;
    for (const LikeScrews& group : groups) {
        const std::string first = marked(s.screws[group.screws.front()].at, units),
                          last = marked(s.screws[group.screws.back()].at, units);
        std::vector<std::string> cells{numbers_of(group.screws),
                                       group.screws.size() > 1 ? first + " ... " + last : first};
        cells.insert(cells.end(), group.cells.begin(), group.cells.end());
        rows.push_back({cells, Tone::plain});
    }
    page.table(
        {{.heading = "screw no.", .shrinks = true},
         {.heading = "at", .to_the_right = true},
         {.heading = "shrinks", .to_the_right = true},
         {.heading = "grows", .to_the_right = true},
         {.heading = "play each side", .to_the_right = true},
         {.heading = slots ? (holds_back ? "slot it needs" : "slot length") : "", .to_the_right = true},
         {.heading = holds_back && s.restraint->screw_force > 0 ? "force, unyielding" : "",
          .to_the_right = true}},
        rows);
}

void put_restraint(Page& page, const Restraint& r, Units units) {
    const auto season = [&](const char* name, const StressInSeason& stress) {
        return std::string(name) + " " + stress_text(stress.face, units) + " at the stiffener, " +
               stress_text(stress.mean, units) + " on average (held fast it would be " +
               stress_text(stress.held, units) + ")";
    };
    page.paragraph(
        "Held back, the wood bears across the grain: " + season("in the dry season a pull of", r.tension) +
            "; " + season("in the damp one a pressure of", r.compression) + ".",
        2);
    if (!r.screw_limit || !(r.screw_force > 0)) return;
    const bool gives = r.screw_force > r.screw_limit->value;
    page.paragraph(
        "Were nothing to give, the most loaded screw would bear " + force_text(r.screw_force, units) +
            "; such a screw begins to give at about " + force_text(r.screw_limit->value, units) + " (" +
            text_of(r.screw_limit->source) + ")" +
            (gives ? ": it bends or widens its hole long before, and works loose season by season." : "."),
        2);
}

void put_stiffeners(Page& page, const Seasons& seasons, Units units) {
    for (const StiffenerMovement& s : seasons.stiffeners) {
        page.blank();
        page.heading("Stiffener \"" + s.name + "\": " + angle_sentence(s) + ", " + to_word(s.holes) +
                     (is_screwed(s.holes) ? " holes" : ""));
        if (!s.screws.empty()) put_screws(page, s, units);
        if (s.slides)
            page.paragraph("Slides in its groove, fixed in the middle: at each end the groove draws in by " +
                               movement_text(s.slides->shrinks, units) + " and grows by " +
                               movement_text(s.slides->grows, units) +
                               ". No glue but in the middle; leave its ends " +
                               at_least(s.slides->play(), 0.1, units) + " short of the edges and of a stop.",
                           2);
        double sideways = 0;
        for (const ScrewTravel& screw : s.screws) sideways = std::max(sideways, screw.sideways.greater());
        if (sideways > 0.05)
            page.paragraph("Askew to the grain, it turns with the wood: " + movement_text(sideways, units) +
                               " sideways at its end. Let it turn about its fixed screw.",
                           2);
        if (s.restraint) put_restraint(page, *s.restraint, units);
    }
}

void put_ends(Page& page, const Seasons& seasons, Units units) {
    if (!seasons.ends) return;
    const EndsMovement& e = *seasons.ends;
    page.blank();
    page.heading("Breadboard ends");
    page.paragraph("Made flush, each edge of the top stands " + movement_text(e.step.shrinks, units) +
                       " back from the end's in the dry season and " + movement_text(e.step.grows, units) +
                       " out in the damp one. Glue only the middle of the tongue.",
                   2);
    std::string slots;
    for (std::size_t i = 0; i < e.pegs.size(); ++i) {
        slots += (slots.empty() ? "" : ", ") + marked(std::abs(e.pegs[i]), units) +
                 (std::abs(e.pegs[i]) < 1e-6 ? ""
                  : e.pegs[i] < 0            ? " left"
                                             : " right") +
                 ": ";
        slots += e.slots[i] > 0
                     ? "slot " + at_least(e.slots[i], 1, units)
                     : std::string(i == e.pegs.size() / 2 || e.pegs.size() == 1 ? "fixed" : "slotted");
    }
    page.paragraph("Pegs in the tongue, from its middle: " + slots + ".", 2);
    if (e.tight) {
        const std::string wood = stress_text(e.tight->tension_MPa, units) + " across the grain";
        const std::string bears =
            e.tight->strength_MPa
                ? ", where the wood bears " + stress_text(*e.tight->strength_MPa, units) + " for long" +
                      (e.tight->tension_MPa > *e.tight->strength_MPa ? ": it splits, or crushes its pegs"
                                                                     : "")
                : std::string();
        page.paragraph("In round holes they would hold the wood: were nothing to give, " + wood + bears +
                           "; and " + force_text(e.tight->force_N, units) +
                           " on the outermost peg in the worse season. The tongue itself is not judged.",
                       2);
    }
}

void put_supports(Page& page, const Seasons& seasons, Units units) {
    if (seasons.supports.empty()) return;
    std::vector<Row> rows;
    bool any_holds = false;
    for (const SupportTravel& support : seasons.supports) {
        any_holds = any_holds || support.holds;
        rows.push_back({{support.name, marked(support.from_middle, units),
                         moved(support.swing.shrinks, units), moved(support.swing.grows, units),
                         support.holds ? at_least(support.swing.play(), 0.1, units) : "lies loose"},
                        Tone::plain});
    }
    page.blank();
    page.heading("What each support must let pass, across the grain");
    page.table({{.heading = "support", .shrinks = true},
                {.heading = "from the middle", .to_the_right = true},
                {.heading = "inwards", .to_the_right = true},
                {.heading = "outwards", .to_the_right = true},
                {.heading = "play each way", .to_the_right = true}},
               rows);
    if (any_holds)
        page.paragraph("Fasten these with buttons, clips or screws in slots: a tight screw through a round "
                       "hole splits tops "
                       "(common practice).");
}

std::string rise_text(const Rise& rise, Units units) {
    if (std::abs(rise.value) < 0.005) return "stays flat";
    return std::string(rise.value > 0 ? "crowns by " : "hollows by ") +
           movement_text(std::abs(rise.value), units);
}

void put_cupping(Page& page, const Seasons& seasons, Units units) {
    const double points = seasons.face_difference_percent;
    page.blank();
    page.heading("Cupping, were it lying free");
    page.labelled("Uneven",
                  "top face " + fixed(std::abs(points), 1) + (std::abs(points) == 1 ? " point" : " points") +
                      (points < 0 ? " drier" : " wetter") + " than the underside: across the grain it " +
                      rise_text(seasons.gradient.across, units) + ", along the grain it " +
                      rise_text(seasons.gradient.along, units) + "; out of flat by " +
                      movement_text(seasons.gradient.out_of_flat, units) + " in all");
    page.labelled("Even", "one point wetter through and through: across the grain it " +
                              rise_text(seasons.even.across, units));
    page.paragraph(
        "The uneven number is a yardstick, not a forecast: twice the difference cups twice as far, the "
        "other way round the other way. Finish both faces and the recess alike, on the same day.");
}

void put_checks(Page& page, const Seasons& seasons, Units units) {
    if (seasons.checks.empty()) return;
    std::vector<Row> rows;
    std::vector<std::string> remedies, bases;
    const auto add_once = [](std::vector<std::string>& list, const std::string& text) {
        if (!text.empty() && std::find(list.begin(), list.end(), text) == list.end()) list.push_back(text);
    };
    for (const SeasonCheck& check : seasons.checks) {
        const bool over = check.utilisation() > 1;
        rows.push_back({{text_of(check.what), amount_text(check.demand, check.unit, units),
                         amount_text(check.capacity, check.unit, units),
                         utilisation_text(check.utilisation()), over ? "over" : ""},
                        over ? Tone::bad : Tone::plain});
        add_once(bases, text_of(check.basis));
        if (over) add_once(remedies, text_of(check.remedy));
    }
    page.blank();
    page.heading("Checks");
    page.table({{.heading = "check", .shrinks = true},
                {.heading = "found", .to_the_right = true},
                {.heading = "allowed", .to_the_right = true},
                {.heading = "used", .to_the_right = true},
                {.heading = ""}},
               rows);
    for (const std::string& remedy : remedies) page.labelled("To change", remedy);
    for (const std::string& basis : bases) page.labelled("Allowed", basis);
}

void put_sentences(Page& page, const char* heading, std::span<const std::string> sentences,
                   Tone tone = Tone::plain) {
    if (sentences.empty()) return;
    page.blank();
    page.heading(heading);
    for (const std::string& sentence : sentences) page.bullet(sentence, tone);
}

} // namespace

std::string seasons_text(const std::string& file, const Piece& piece, const Seasons& computed,
                         std::span<const Message> cautions, const TextStyle& style) {
    const Seasons seasons = in_words(computed, style.units);
    Page page;
    page.heading(piece.title.empty() ? file : piece.title + "  (" + file + ")");
    put_verdict(page, seasons);
    page.blank();
    put_moisture(page, seasons, style.units);
    put_parts(page, seasons, style.units);
    put_stiffeners(page, seasons, style.units);
    put_ends(page, seasons, style.units);
    put_supports(page, seasons, style.units);
    put_cupping(page, seasons, style.units);
    put_checks(page, seasons, style.units);
    put_sentences(page, "Warnings", texts_of(seasons.warnings), Tone::bad);
    page.blank();
    page.heading("How sure");
    page.paragraph("The cup carries a computing error of about " +
                   error_text(seasons.gradient.error_percent) +
                   "; how much your boards drink and what your finish lets through is not in that.");
    put_sentences(page, "Taken for granted", texts_of(seasons.assumptions));
    put_sentences(page, "Cautions",
                  in_words(std::vector<Message>(cautions.begin(), cautions.end()), style.units));
    return page.text(style.coloured);
}

} // namespace hollowtop::cli
