// SPDX-License-Identifier: MIT
// The bench page, and what the seasons ask for.
#include "cli/report/drawing/plan_view.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
std::string holes_words(Holes holes) {
    switch (holes) {
    case Holes::round:
        return "round holes";
    case Holes::oversize:
        return "oversize holes";
    case Holes::slotted:
        return "slots";
    case Holes::bonded:
        return "glued";
    case Holes::dovetail:
        return "dovetailed into its groove";
    }
    return "";
}

std::string at_least_text(double mm, Units units) {
    constexpr double noise = 1e-9;
    if (units == Units::mm) return dimension_text(std::ceil(mm * 10 - noise) / 10, units);
    return sixteenths(std::ceil(Length::from_mm(mm).inches() * 16 - noise) / 16) + " in";
}

std::string drill_text(double mm, Units units) {
    return units == Units::mm ? fixed(mm, 1) + " mm" : fixed(Length::from_mm(mm).inches(), 3) + " in";
}

namespace {

std::string guide_text(double kg, Units units) {
    return units == Units::mm ? fixed(kg, 0) + " kg" : fixed(pounds_of_kg(kg), 0) + " lb";
}

Markup passes_markup(const Sheet& sheet) {
    const Units units = sheet.units();
    Markup inner;
    for (const RecessWork& work : sheet.bench.recesses) {
        std::vector<TableRow> rows;
        for (std::size_t k = 0; k < work.passes.size(); ++k) {
            const Pass& pass = work.passes[k];
            std::string note;
            if (pass.rest_before) note = "first let the top rest 24 to 48 hours on stickers";
            if (pass.last) note = "last pass: gauge at every mark, then seal the same day";
            rows.push_back({{words(std::to_string(k + 1)), words(dimension_text(pass.depth, units)),
                             words(dimension_text(pass.left, units)), words(note)}});
        }
        inner +=
            table("Passes of recess " + work.name + ", " + dimension_text(work.depth, units) + " deep, " +
                      dimension_text(work.skin, units) + " left",
                  {{"pass"}, {"depth", true}, {"wood left", true}, {"note"}}, rows, TableKind::short_rows);
    }
    if (!inner.empty())
        inner += para(words("With a cutter of " + dimension_text(sheet.bench.cutter, units) +
                            ": no pass deeper than half of that, nor than " +
                            dimension_text(pass_rule(units).deepest, units) +
                            " (common practice; a router's manual). Set the depth from the show face. The "
                            "cutter's radius stays in every inner corner."));
    return inner;
}

Markup lifting_markup(const Sheet& sheet) {
    const Bench& bench = sheet.bench;
    const Units units = sheet.units();
    const double total = sheet.result().mass.total_kg;
    std::vector<std::pair<std::string, Markup>> rows;
    if (bench.volume_l > 0) {
        const auto volume = [&](double litres) {
            const double value = units == Units::mm ? litres : litres / 28.316846592;
            return fixed(value, value >= 10 ? 0 : value >= 1 ? 1 : 2);
        };
        rows.push_back(
            {"Chips",
             words(volume(bench.volume_l) + (units == Units::mm ? " litres" : " cubic feet") +
                   " of solid wood, " + volume(chips_least * bench.volume_l) + " to " +
                   volume(chips_most * bench.volume_l) + " loose (three to five times, common practice)")});
    }
    rows.push_back(
        {"Lifting",
         massed(sheet, total, "/mass/total_kg") +
             words(" in all: " + mass_text(total / 2, units) +
                   " each for two people. Guide figures for one person at the best height are " +
                   guide_text(lift_strong_kg, units) + " (men) and " + guide_text(lift_weak_kg, units) +
                   " (women), from memory; by the lower one it takes " +
                   std::to_string(bench.people_by_guide) +
                   (bench.people_by_guide < 2 ? ", but a top is lifted by two." : "."))});
    return facts(rows);
}

/// The screws and holes of a stiffener, and how to drill for them.
std::string screw_words(const Bench& bench, const StiffenerWork& work, Units units) {
    std::string text = "Screws " + dimension_text(work.screw_diameter, units) + " by " +
                       dimension_text(work.screw_length, units) + ". Pilot " + drill_text(work.pilot, units) +
                       (bench.softwood ? ", 70 %" : ", 90 %") + " of the root of the thread (" +
                       work.root_source +
                       "; share: advice to engineers, common practice); hole in the stiffener " +
                       drill_text(work.hole, units) + " wide.";
    if (work.holes == Holes::slotted)
        text +=
            " Slots run across the grain of the top: " +
            (work.slot_to_length_deg < 0.5 ? std::string("along the stiffener")
             : work.slot_to_length_deg > 89.5
                 ? std::string("square to the stiffener")
                 : "at " + fixed(work.slot_to_length_deg, 0) + " degrees to the stiffener") +
            ". Their length: " +
            (work.slots_are_stated
                 ? "the piece file's"
                 : "the three screw diameters that the check counts on, or more where the seasons need it") +
            ". Washer under the head; tighten, then back off a quarter turn.";
    text += " Stop collar on the drill: point and pilot stay " + dimension_text(5, units) +
            " clear of the show face, " + dimension_text(3, units) + " at the very least (common practice).";
    return text;
}

Markup screws_markup(const Sheet& sheet) {
    const Bench& bench = sheet.bench;
    const Units units = sheet.units();
    Markup inner;
    std::vector<std::string> told; ///< marks of those whose screws are told together
    for (std::size_t i = 0; i < bench.stiffeners.size(); ++i) {
        const StiffenerWork& work = bench.stiffeners[i];
        if (work.screws.empty()) continue;
        std::vector<TableRow> rows;
        for (const ScrewWork& screw : work.screws) {
            const bool slot = work.holes == Holes::slotted && !screw.fixed && screw.slot_length > 0;
            std::string hole = work.holes == Holes::slotted && screw.fixed ? "round: the fixed one"
                               : slot ? (work.slots_are_stated ? "slot " : "slot at least ") +
                                            at_least_text(screw.slot_length, units) + " long"
                                      : holes_words(work.holes);
            rows.push_back(
                {{words(dimension_text(screw.from_start, units)),
                  words(drawn_length(screw.at.x, units) + ", " + drawn_length(screw.at.y, units)),
                  words(hole), words(dimension_text(screw.wood, units)),
                  words(dimension_text(screw.thread, units)), words(dimension_text(screw.left, units))},
                 screw.left < 3 ? "over" : ""});
        }
        inner += table("Stiffener " + std::to_string(i + 1) + ", " + work.name + ": screws from its start",
                       {{"at", true},
                        {std::string("x, y (") + place_unit(units) + ")", true},
                        {"hole in the stiffener"},
                        {"wood there", true},
                        {"screw in the wood", true},
                        {"left to the show face", true}},
                       rows);
        told.push_back(std::to_string(i + 1));
        const std::string text = screw_words(bench, work, units);
        std::size_t next = i + 1; // several stiffeners alike are told once, below the last of them
        while (next < bench.stiffeners.size() && bench.stiffeners[next].screws.empty()) ++next;
        if (next < bench.stiffeners.size() && screw_words(bench, bench.stiffeners[next], units) == text)
            continue;
        std::string marks;
        for (const std::string& mark : told) marks += (marks.empty() ? "" : ", ") + mark;
        inner += para(words((told.size() > 1 ? "Stiffeners " : "Stiffener ") + marks + ". " + text));
        told.clear();
    }
    return inner;
}

Markup parts_markup(const Sheet& sheet) {
    const Bench& bench = sheet.bench;
    const Units units = sheet.units();
    std::vector<TableRow> rows;
    const auto dimensions = dimension_text(sheet.plan.length, units) + " by " +
                            dimension_text(sheet.plan.width, units) + " by " +
                            dimension_text(sheet.plan.thickness, units);
    rows.push_back({{words("top, before hollowing"), words("1"), words(dimensions),
                     massed(sheet, sheet.result().mass.solid_kg, "/mass/solid_kg")}});
    struct Screws {
        double diameter, length;
        std::size_t n;
    };
    std::vector<Screws> screws;
    for (std::size_t i = 0; i < bench.stiffeners.size(); ++i) {
        const StiffenerWork& work = bench.stiffeners[i];
        rows.push_back(
            {{words("stiffener ") + own(work.name) + words(", " + work.section + ", " + work.material),
              words("1"), words(dimension_text(work.length, units) + " long"),
              massed(sheet, work.mass_kg, at_index("/stiffeners", i, "mass_kg"))}});
        if (work.screws.empty()) continue;
        const auto same = std::find_if(screws.begin(), screws.end(), [&](const Screws& s) {
            return s.diameter == work.screw_diameter && s.length == work.screw_length;
        });
        if (same == screws.end())
            screws.push_back({work.screw_diameter, work.screw_length, work.screws.size()});
        else
            same->n += work.screws.size();
    }
    for (const Screws& s : screws)
        rows.push_back({{words("screws with washers"), words(std::to_string(s.n)),
                         words(dimension_text(s.diameter, units) + " by " + dimension_text(s.length, units)),
                         Markup{}}});
    return table("What to get ready", {{"part"}, {"number", true}, {"size"}, {"weight", true}}, rows);
}

/// Why each place is gauged; where they are is drawn for the maker.
Markup gauges_table(const Sheet& sheet) {
    const Units units = sheet.units();
    std::vector<TableRow> rows;
    for (const Gauge& gauge : sheet.bench.gauges)
        rows.push_back({{words(gauge.label), words(place_text(gauge.at, units)),
                         words(dimension_text(gauge.thickness, units)), own(gauge.why)}});
    if (rows.empty()) return {};
    return table(
        "Why to gauge here",
        {{"mark"}, {std::string("x, y (") + place_unit(units) + ")", true}, {"must be left", true}, {"why"}},
        rows);
}

} // namespace

Markup bench_section(const Sheet& sheet) {
    Markup inner;
    if (!sheet.result().passes)
        inner += para(words("This top does not meet the limits set (") + section_link(sheet, "verdict") +
                          words(")."),
                      "lead warn");
    if (!sheet.bench.recesses.empty()) inner += element("h3", words("Routing")) + passes_markup(sheet);
    const Markup kept = kept_part(sheet);
    if (!kept.empty()) inner += element("h3", words("In the recess")) + kept;
    inner += element("h3", words("Chips and lifting")) + lifting_markup(sheet);
    const Markup screws = screws_markup(sheet);
    if (!screws.empty()) inner += element("h3", words("Screws")) + screws;
    inner += element("h3", words("Parts")) + parts_markup(sheet);
    const Markup gauges = gauges_table(sheet);
    if (!gauges.empty()) inner += element("h3", words("Gauging")) + gauges;
    return element("section", heading(sheet, "bench") + inner);
}

Markup seasons_section(const Sheet& sheet) {
    const Markup head = heading(sheet, "seasons");
    if (!sheet.in.seasons)
        return element("section", head + para(words("How a material of stated constants moves with its "
                                                    "moisture is not known: nothing is said here.")));
    const Seasons& s = *sheet.in.seasons;
    const Units units = sheet.units();
    const auto change = [&](double mm, const std::string& pointer) {
        return number(mm, pointer,
                      mm < 1e-9 ? (units == Units::mm ? "0 mm" : "0 in") : amount_text(mm, "mm", units),
                      Source::movement);
    };
    const auto at_most = [&](double mm, const std::string& pointer) {
        return number(mm, pointer, at_least_text(mm, units), Source::movement);
    };
    const auto percent = [](double value, const char* pointer) {
        return number(value, pointer, fixed(value, 1) + " %", Source::movement);
    };
    Markup inner = para(
        words("Wood comes to ") + percent(s.moisture.dry_percent, "/climate/dry/moisture_percent") +
        words(" in the dry season and ") + percent(s.moisture.wet_percent, "/climate/damp/moisture_percent") +
        words(" in the damp one; it is made at ") +
        percent(s.moisture.made_percent, "/climate/made_at_percent") +
        words(s.moisture.dry_is_usual || s.moisture.wet_is_usual
                  ? " (air of a heated room taken: the file names no climate)."
                  : "."));
    std::vector<TableRow> rows;
    const auto part = [&](const PartMovement& p, const std::string& pointer, bool gap) {
        rows.push_back(
            {{own(p.name),
              number(p.size, pointer + "/size_mm", dimension_text(p.size, units), Source::movement),
              change(p.swing.shrinks, pointer + "/shrinks_mm"), change(p.swing.grows, pointer + "/grows_mm"),
              gap ? at_most(p.swing.play(), pointer + "/gap_each_side_mm") : Markup{}}});
    };
    part(s.width, "/width", true);
    part(s.thickness, "/thickness", false);
    for (std::size_t i = 0; i < s.recesses.size(); ++i)
        part(s.recesses[i], "/recesses/" + std::to_string(i), true);
    inner += table(
        "Movement from the moisture it is made at",
        {{"across the grain"}, {"size", true}, {"shrinks", true}, {"grows", true}, {"gap each side", true}},
        rows);
    rows.clear();
    for (std::size_t i = 0; i < s.supports.size(); ++i) {
        const SupportTravel& t = s.supports[i];
        const auto key = [&](const char* name) { return at_index("/supports", i, name); };
        rows.push_back({{own(t.name), change(t.swing.shrinks, key("inwards_mm")),
                         change(t.swing.grows, key("outwards_mm")),
                         t.holds ? at_most(t.swing.play(), key("play_each_way_mm")) : words("lies loose")}});
    }
    if (!rows.empty())
        inner += table("What each support must let pass, across the grain",
                       {{"support"}, {"inwards", true}, {"outwards", true}, {"play each way", true}}, rows);
    rows.clear();
    for (std::size_t i = 0; i < s.checks.size(); ++i) {
        const SeasonCheck& c = s.checks[i];
        const auto key = [&](const char* name) { return at_index("/checks", i, name); };
        rows.push_back(
            {{own(text_of(c.what)), amount(sheet, c.demand, c.unit, key("demand"), Source::movement),
              amount(sheet, c.capacity, c.unit, key("capacity"), Source::movement),
              used(c.utilisation(), key("utilisation"), Source::movement), words(text_of(c.basis))},
             c.utilisation() > 1 ? "over" : ""});
    }
    if (!rows.empty())
        inner += table("Where it is held back",
                       {{"check"}, {"found", true}, {"allowed", true}, {"used", true}, {"basis"}}, rows);
    const auto cup = [&](const Rise& rise, const char* pointer) {
        if (std::abs(rise.value) < 0.005) return words("stays flat");
        return words(rise.value > 0 ? "crowns by " : "hollows by ") +
               number(rise.value, pointer, movement_text(std::abs(rise.value), units), Source::movement);
    };
    inner += para(words("Cupping, were it lying free: with the top face ") +
                  number(s.face_difference_percent, "/cupping/face_difference_percent",
                         fixed(s.face_difference_percent, 1), Source::movement) +
                  words(" point wetter than the underside it ") +
                  cup(s.gradient.across, "/cupping/uneven/across/rise_mm") +
                  words(" across the grain. A yardstick, not a forecast: finish both faces and the recess "
                        "alike, on the same day."));
    std::vector<Markup> warnings;
    for (const Message& warning : s.warnings) warnings.push_back(own(text_of(warning)));
    inner += bullets(warnings);
    std::vector<Markup> taken;
    for (const Message& a : s.assumptions) taken.push_back(own(text_of(a)));
    if (!taken.empty()) inner += element("h3", words("Taken for granted")) + bullets(taken);
    return element("section", head + inner);
}

} // namespace hollowtop::cli
