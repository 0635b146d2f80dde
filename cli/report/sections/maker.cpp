// SPDX-License-Identifier: MIT
// For the maker, on two pages: the drawing with its dimensions, the order of work with boxes to tick, cutters,
// depths and passes, what to cut to length, and where to gauge.
#include "cli/report/drawing/clamp_picture.hpp"
#include "cli/report/drawing/kept_picture.hpp"
#include "cli/report/drawing/plan_picture.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

std::string lengths(const std::vector<double>& all, Units units) {
    std::string text;
    for (const double mm : all) text += (text.empty() ? "" : ", ") + drawn_length(mm, units);
    return text + " " + place_unit(units);
}

/// The radius of a shape's corners; nought where they are sharp.
template <class Shape> double corner_radius_of(const Shape& shape) {
    if constexpr (requires { shape.corner_radius; })
        return shape.corner_radius;
    else
        return 0;
}

std::string radius_text(double mm, Units units) {
    return mm > 0 ? "R " + dimension_text(mm, units) : "sharp";
}

std::string cutter_words(const Sheet& sheet, double root_radius, double corner_radius) {
    const Units units = sheet.units();
    std::string text =
        corner_radius > 0 ? "up to " + dimension_text(2 * corner_radius, units) : "corners squared by hand";
    if (root_radius > 0)
        text += ", round-nosed, R " + dimension_text(root_radius, units);
    else
        text += ", square-nosed";
    return text;
}

Markup sizes_table(const Sheet& sheet) {
    const Piece& piece = sheet.in.piece;
    const Units units = sheet.units();
    std::vector<TableRow> rows;
    const auto row = [&](const Markup& what, const Rectangle& box, const std::string& corners,
                         const std::string& deep, const std::string& left, const std::string& cutter) {
        const auto range = [&](double from, double to) {
            return element("span", words(drawn_length(from, units) + " to " + drawn_length(to, units)),
                           {{"class", "keep"}});
        };
        const auto kept = [](const std::string& text) {
            return text.empty() ? Markup{} : element("span", words(text), {{"class", "keep"}});
        };
        rows.push_back({{what, range(box.x0, box.x1), range(box.y0, box.y1), kept(corners), kept(deep),
                         kept(left), words(cutter)}});
    };
    row(words("top"), bounds_of_plan(sheet.plan),
        std::holds_alternative<EllipseShape>(piece.top.outline)
            ? "an oval"
            : radius_text(std::visit([](const auto& s) { return corner_radius_of(s); }, piece.top.outline),
                          units),
        "", dimension_text(piece.top.thickness, units), "");
    for (std::size_t i = 0; i < piece.recesses.size(); ++i) {
        const Recess& recess = piece.recesses[i];
        const Hollow& hollow = sheet.plan.hollows[i];
        const double radius = std::visit([](const auto& s) { return corner_radius_of(s); }, recess.shape);
        row(words("recess ") + own(recess.name), bounds_of(hollow.loop), radius_text(radius, units),
            dimension_text(hollow.depth, units), dimension_text(hollow.skin, units),
            cutter_words(sheet, recess.root_radius, radius));
        for (std::size_t k = 0; k < recess.lands.size(); ++k)
            row(words("land ") + own(recess.lands[k].name), bounds_of(hollow.lands[k]),
                radius_text(
                    std::visit([](const auto& s) { return corner_radius_of(s); }, recess.lands[k].shape),
                    units),
                "", dimension_text(piece.top.thickness, units), "stays");
    }
    for (std::size_t i = 0; i < piece.supports.size(); ++i)
        if (const auto* pad = std::get_if<Pad>(&piece.supports[i].kind))
            row(words((piece.supports[i].name.starts_with("pad") ? "" : "pad ") + support_letter(i) + " ") +
                    own(piece.supports[i].name),
                {pad->at.x - pad->size_x / 2, pad->at.x + pad->size_x / 2, pad->at.y - pad->size_y / 2,
                 pad->at.y + pad->size_y / 2},
                "", "", "", pad->hold_down ? "held down" : "");
    return table(
        "Sizes, from the corner of the dot (" + std::string(place_unit(units)) + ")",
        {{"what"}, {"along x"}, {"along y"}, {"corners"}, {"depth"}, {"wood left"}, {"cutter, note"}}, rows,
        TableKind::short_rows);
}

Markup boards_table(const Sheet& sheet) {
    const Top& top = sheet.in.piece.top;
    const Units units = sheet.units();
    std::vector<TableRow> rows;
    const std::string wood = top_material_words(sheet.in.piece);
    const auto row = [&](const Markup& part, std::size_t n, const std::string& size,
                         const std::string& note) {
        rows.push_back({{part, words(std::to_string(n)), words(size), words(note)}});
    };
    const std::string by_thick = dimension_text(top.thickness, units) + " thick";
    if (!top.each_board.empty()) {
        for (std::size_t k = 0; k < top.each_board.size(); ++k)
            row(words("board " + std::to_string(k + 1) + ", " + wood), 1,
                dimension_text(top.length, units) + " by " + dimension_text(top.each_board[k].width, units) +
                    ", " + by_thick,
                k == 0 ? "from the front edge on; finished sizes" : "");
    } else if (top.boards > 1) {
        const bool along = std::abs(std::remainder(top.grain_deg, 180)) < 45;
        row(words("board, " + wood), static_cast<std::size_t>(top.boards),
            dimension_text(along ? top.length : top.width, units) + " by " +
                dimension_text((along ? top.width : top.length) / top.boards, units) + ", " + by_thick,
            "finished, were all alike; add for jointing and planing");
    } else {
        row(words("top, " + wood), 1,
            dimension_text(top.length, units) + " by " + dimension_text(top.width, units) + ", " + by_thick,
            "finished size");
    }
    for (const StiffenerWork& work : sheet.bench.stiffeners)
        row(words("stiffener ") + own(work.name) + words(", " + work.section + ", " + work.material), 1,
            dimension_text(work.length, units) + " long", "");
    std::size_t n_screws = 0;
    for (const StiffenerWork& work : sheet.bench.stiffeners) n_screws += work.screws.size();
    if (n_screws > 0) {
        const StiffenerWork& first = sheet.bench.stiffeners.front();
        const bool alike = std::all_of(
            sheet.bench.stiffeners.begin(), sheet.bench.stiffeners.end(), [&](const StiffenerWork& w) {
                return w.screws.empty() ||
                       (w.screw_diameter == first.screw_diameter && w.screw_length == first.screw_length);
            });
        row(words("screws with washers"), n_screws,
            alike ? dimension_text(first.screw_diameter, units) + " by " +
                        dimension_text(first.screw_length, units)
                  : "by the table of the stiffeners",
            "");
    }
    return table("What to cut and get ready", {{"part"}, {"number", true}, {"size"}, {"note"}}, rows,
                 TableKind::short_rows);
}

Markup stiffeners_table(const Sheet& sheet) {
    const Units units = sheet.units();
    std::vector<TableRow> rows;
    for (std::size_t i = 0; i < sheet.bench.stiffeners.size(); ++i) {
        const StiffenerWork& work = sheet.bench.stiffeners[i];
        const Stiffener& drawn = sheet.in.piece.stiffeners[i];
        std::vector<double> at;
        double longest = 0;
        std::string fixed_at;
        for (const ScrewWork& screw : work.screws) {
            at.push_back(screw.from_start);
            longest = std::max(longest, screw.slot_length);
            if (screw.fixed)
                fixed_at += (fixed_at.empty() ? "" : ", ") + drawn_length(screw.from_start, units);
        }
        std::string holes;
        if (at.empty())
            holes = holes_words(work.holes);
        else if (work.holes == Holes::slotted && longest > 0)
            holes = "slots " + drill_text(work.hole, units) + " wide, " + at_least_text(longest, units) +
                    " long" + (fixed_at.empty() ? "" : "; round at " + fixed_at);
        else
            holes = holes_words(work.holes) + " " + drill_text(work.hole, units);
        rows.push_back({{words(std::to_string(i + 1)),
                         words(place_text(drawn.from, units) + " to " + place_text(drawn.to, units)),
                         words(at.empty() ? "no screws" : lengths(at, units)), words(holes),
                         words(at.empty() ? "" : drill_text(work.pilot, units))}});
    }
    if (rows.empty()) return {};
    return table("Stiffeners: where they lie, and their holes from the start",
                 {{"mark"}, {"from, to (x, y)"}, {"holes at"}, {"kind of hole"}, {"pilot"}}, rows,
                 TableKind::short_rows);
}

std::string passes_text(const RecessWork& work, Units units) {
    std::string text;
    for (const Pass& pass : work.passes) {
        if (pass.rest_before) text += " | rest |";
        text += (text.empty() || text.ends_with("|") ? "" : ",");
        text += (text.empty() ? "" : " ") + drawn_length(pass.depth, units);
    }
    return text + " " + place_unit(units);
}

Markup order_of_work(const Sheet& sheet) {
    const Piece& piece = sheet.in.piece;
    const Units units = sheet.units();
    std::vector<Markup> steps;
    if (!piece.top.wood.empty())
        steps.push_back(words("Boards at " + significant(piece.top.moisture_percent, 3) +
                              " % moisture; glue up and plane to " +
                              dimension_text(piece.top.thickness, units) + ". Mark the show face."));
    else
        steps.push_back(words("Cut the sheet to size; mark the show face."));
    if (!piece.recesses.empty()) {
        steps.push_back(words("Lay it on its face. Mark out from the corner with the dot; make the template "
                              "(hollowtop template) and try it on an offcut."));
        // recesses of the same passes together
        std::vector<std::pair<std::string, Markup>> alike;
        for (const RecessWork& work : sheet.bench.recesses) {
            const std::string passes = passes_text(work, units);
            const auto same = std::find_if(alike.begin(), alike.end(),
                                           [&](const auto& other) { return other.first == passes; });
            if (same == alike.end())
                alike.push_back({passes, own(work.name)});
            else
                same->second += words(", ") + own(work.name);
        }
        for (const auto& [passes, names] : alike)
            steps.push_back(
                words("Rout ") + names +
                words(", depth after each pass: " + passes + ". Set the depth from the show face."));
        steps.push_back(
            words("At \u201crest\u201d: 24 to 48 hours on stickers, then gauge again. At the last "
                  "pass gauge at every mark below; no pass deeper than half the cutter."));
        steps.push_back(words("Seal the recess the same day, and like the show face."));
    }
    bool screwed = false;
    for (const StiffenerWork& work : sheet.bench.stiffeners) screwed = screwed || !work.screws.empty();
    if (!piece.stiffeners.empty())
        steps.push_back(
            words("Cut the stiffeners, drill and slot them by the table, break and file every edge; "
                  "bare steel stains oak: paint or wax it."));
    if (screwed)
        steps.push_back(words("Pilot holes with a stop collar: " + dimension_text(5, units) +
                              " clear of the show face, " + dimension_text(3, units) +
                              " at the very least (common practice)."));
    if (screwed)
        steps.push_back(words("Screw on with washers; in slots tighten, then back off a quarter turn."));
    for (const Recess& recess : piece.recesses)
        if (recess.cover) {
            steps.push_back(words("Fit the cover of ") + own(recess.name) + words("; its play is in ") +
                            section_link(sheet, "bench") + words("."));
            break;
        }
    steps.push_back(words("Finish both faces alike, on the same day."));
    steps.push_back(words("Fasten it so that it can move across the grain: play at each support in ") +
                    section_link(sheet, "seasons") + words("."));
    steps.push_back(words("Load it with known weights before it is handed over: ") +
                    section_link(sheet, "test") + words("."));
    Markup items;
    for (const Markup& step : steps)
        items += element("li", element("span", {}, {{"class", "box"}}) + step) + Markup{"\n"};
    return element("h3", words("Order of work")) + element("ol", items, {{"class", "work"}});
}

Markup gauge_part(const Sheet& sheet) {
    const Bench& bench = sheet.bench;
    if (bench.gauges.empty()) return {};
    const Units units = sheet.units();
    PlanContent content{.dimensions = false,
                        .depths = true,
                        .supports = false,
                        .sections = false,
                        .stiffeners = false,
                        .clamps = false,
                        .gauges = true,
                        .spots = {},
                        .kept = false};
    Markup items;
    for (const Gauge& gauge : bench.gauges) {
        content.spots.push_back({gauge.at, gauge.label});
        items += element("li", element("b", words(gauge.label)) +
                                   words(" x, y " + place_text(gauge.at, units) + ": " +
                                         drawn_length(gauge.thickness, units)) +
                                   element("span", words("\u00a0"), {{"class", "write"}})) +
                 Markup{"\n"};
    }
    return figure(
               words(
                   "Where to gauge the thickness while routing, seen from below, the front edge at the top; "
                   "below, what must be left, in ") +
                   words(units == Units::mm ? "millimetres" : "inches") +
                   words(", and a line for what is read."),
               [&](const std::string& end, double width) {
                   return plan_picture("gauges" + end, sheet.in.piece, sheet.plan, width, units, content);
               }) +
           element("ul", items, {{"class", units == Units::mm ? "gauges" : "gauges inches"}});
}

} // namespace

Markup maker_part(const Sheet& sheet) {
    const Piece& piece = sheet.in.piece;
    const Units units = sheet.units();
    Markup inner;
    if (!sheet.result().passes)
        inner += para(words("This top does not meet the limits set (") + section_link(sheet, "verdict") +
                          words("): change it before it is made."),
                      "lead warn");
    if (!sheet.result().warnings.empty())
        inner +=
            para(words("Read the warnings first: ") + section_link(sheet, "verdict") + words("."), "lead");
    inner +=
        figure(words("The top from below, turned over about its length: the front edge lies at the top, the "
                     "corner of the piece file\u2019s origin is dotted." +
                     std::string(piece.supports.empty() ? "" : " Letters: supports (dashed).") +
                     (piece.stiffeners.empty() ? "" : " Figures: stiffeners, dots their screws.") +
                     kept_caption(piece) + clamp_caption(piece) + " Dimensions in " +
                     (units == Units::mm ? "millimetres" : "inches") + "."),
               [&](const std::string& end, double width) {
                   return plan_picture("plan" + end, piece, sheet.plan, width, units, {});
               });
    inner += figure(words("Section 2, across the length, seen from the right end, to scale; figures give the "
                          "thickness left."),
                    [&](const std::string& end, double width) {
                        return section_picture("section2" + end, piece, sheet.plan, width, units, false);
                    });
    return inner + order_of_work(sheet) + sizes_table(sheet) + boards_table(sheet) + stiffeners_table(sheet) +
           gauge_part(sheet);
}

} // namespace hollowtop::cli
