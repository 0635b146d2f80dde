// SPDX-License-Identifier: MIT
#include "cli/report/proof_sheet.hpp"

#include "cli/report/drawing/html.hpp"
#include "cli/report/drawing/plan_of.hpp"
#include "cli/report/drawing/plan_view.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "solver/shell/loads.hpp"

#include <algorithm>

namespace hollowtop::cli {
namespace {

Markup blank() { return element("span", words("\u00a0"), {{"class", "write"}}); }

/// The rectangle that a load covers.
Rectangle covered(const Load& load, const Top& top) {
    if (const auto* area = std::get_if<AreaLoad>(&load.kind))
        return area->over.value_or(Rectangle{0, top.length, 0, top.width});
    if (const auto* patch = std::get_if<PatchLoad>(&load.kind))
        return {patch->at.x - patch->size_x / 2, patch->at.x + patch->size_x / 2,
                patch->at.y - patch->size_y / 2, patch->at.y + patch->size_y / 2};
    if (const auto* line = std::get_if<LineLoad>(&load.kind))
        return {std::min(line->from.x, line->to.x), std::max(line->from.x, line->to.x),
                std::min(line->from.y, line->to.y), std::max(line->from.y, line->to.y)};
    const auto& clamp = std::get<ClampLoad>(load.kind);
    return {clamp.at.x, clamp.at.x, clamp.at.y, clamp.at.y};
}

Svg places(const ProofStory& story, const std::string& end, double width, Units units) {
    const Plan plan = plan_of(story.piece);
    const Rectangle bounds = bounds_of_plan(plan);
    constexpr double margin = 34;
    const double scale = (width - 2 * margin) / (bounds.x1 - bounds.x0),
                 height = (bounds.y1 - bounds.y0) * scale + 2 * margin;
    std::string told = "The top from above, the front edge below, with the load shaded and gauges";
    for (std::size_t g = 0; g < story.prediction.test.gauges.size(); ++g)
        told += " " + gauge_letter(g) + " at x, y " + place_text(story.prediction.test.gauges[g].at, units);
    Svg svg("proof" + end, width, height, "Where the load and the gauges go", told);
    const View view{.scale = scale, .origin = {margin, margin}, .bounds = bounds, .seen = Seen::from_above};
    SvgPath outline;
    add_to(outline, plan.outline, view);
    svg.path(outline, {.fill = "#fbf7ef", .stroke = "#26231f", .width = 1.5});
    for (const Hollow& hollow : plan.hollows)
        svg.path(path_of(hollow.loop, view), {.stroke = "#8a8172", .width = 1, .dash = "5 4"});
    const Box load = view.box(covered(story.prediction.test.load, story.piece.top));
    constexpr double least = 6; // so that a line can be seen
    svg.rectangle({load.x0, load.y0}, std::max(least, load.x1 - load.x0), std::max(least, load.y1 - load.y0),
                  {.fill = svg.hatch(6, 45, "#a5492e", 1.2), .stroke = "#a5492e", .width = 1.2});
    for (const Support& support : story.piece.supports) {
        if (const auto* pad = std::get_if<Pad>(&support.kind)) {
            const Box box = view.box({pad->at.x - pad->size_x / 2, pad->at.x + pad->size_x / 2,
                                      pad->at.y - pad->size_y / 2, pad->at.y + pad->size_y / 2});
            svg.rectangle({box.x0, box.y0}, box.x1 - box.x0, box.y1 - box.y0,
                          {.stroke = "#24566b", .width = 1.2, .dash = "3 2"});
        }
        const auto line = [&](Point from, Point to) {
            svg.line(view(from), view(to), {.stroke = "#24566b", .width = 2, .dash = "3 2"});
        };
        if (const auto* bearer = std::get_if<Bearer>(&support.kind)) line(bearer->from, bearer->to);
        if (const auto* rail = std::get_if<Rail>(&support.kind)) line(rail->from, rail->to);
        if (const auto* held = std::get_if<Held>(&support.kind)) line(held->from, held->to);
        if (const auto* built_in = std::get_if<BuiltIn>(&support.kind)) line(built_in->from, built_in->to);
    }
    for (std::size_t g = 0; g < story.prediction.test.gauges.size(); ++g) {
        const Point at = view(story.prediction.test.gauges[g].at);
        svg.circle(at, 4, {.fill = "#26231f"});
        svg.text({at.x + 8, at.y - 6}, gauge_letter(g), {.size = 15, .bold = true, .halo = "#ffffff"});
    }
    svg.text({margin, height - 10}, "front edge, y = 0; x runs to the right from this corner", {.size = 11});
    return svg;
}

} // namespace

std::string proof_sheet(const ProofStory& story, Units units) {
    const ProofPrediction& p = story.prediction;
    const std::string title = "Proof test: " + (story.title.empty() ? story.file : story.title);
    Markup body = element("h1", own(title));
    if (!story.passes)
        body +=
            para(words("As drawn this top does not meet the limits set: change it before anything is laid "
                       "on it."),
                 "lead warn");
    body += para(words("Lay on: ") + own(in_words(p.test.load_name, units)) +
                 words(", " + force_text(p.test.force_N, units) +
                       " in all, over the hatched place. A tenth of it on and off first, then gauges to "
                       "nought. Nobody under the top; blocks " +
                       dimension_text(20, units) +
                       " below it; weights lowered, never dropped. Stop at any noise, where a gauge goes on "
                       "moving, or where one passes \u201cstop\u201d."));
    body += figure(words("From above; dashed: recess and supports."),
                   [&](const std::string& end, double width) { return places(story, end, width, units); });
    std::vector<TableColumn> columns{{"step"}, {"load", true}};
    for (std::size_t g = 0; g < p.test.gauges.size(); ++g) {
        columns.push_back({gauge_letter(g) + ": 9 of 10", true});
        columns.push_back({gauge_letter(g) + " stop", true});
        columns.push_back({gauge_letter(g) + " read"});
    }
    columns.push_back({"noise"});
    std::vector<TableRow> rows;
    for (std::size_t s = 0; s < p.test.steps.size(); ++s) {
        TableRow row{{words(percent_text(100 * p.test.steps[s].share)),
                      words(mass_text(p.test.steps[s].force_N / standard_gravity, units))}};
        for (std::size_t g = 0; g < p.test.gauges.size(); ++g) {
            const auto bare = [&](double mm) {
                return units == Units::mm ? fixed(mm, 2) : fixed(Length::from_mm(mm).inches(), 3);
            };
            row.cells.push_back(words(bare(p.bands[s][g].low) + " to " + bare(p.bands[s][g].high)));
            row.cells.push_back(words(bare(stop_reading(p, s, g))));
            row.cells.push_back(blank());
        }
        row.cells.push_back(blank());
        rows.push_back(std::move(row));
    }
    for (const char* later : {"125 %, 15 min", "125 %, 60 min", "off, 5 min", "off, 24 h"}) {
        TableRow row{{words(later), {}}};
        for (std::size_t g = 0; g < p.test.gauges.size(); ++g)
            row.cells.insert(row.cells.end(), {Markup{}, Markup{}, blank()});
        row.cells.push_back(blank());
        rows.push_back(std::move(row));
    }
    body += table(std::string("Readings in ") + (units == Units::mm ? "mm" : "inches") +
                      ", less what the gauges at the supports show",
                  columns, rows);
    std::vector<std::pair<std::string, Markup>> record;
    for (const char* field : {"Date and place", "Air: temperature, humidity", "Weights used, how checked",
                              "Gauges at the supports", "Tester", "Witness"})
        record.push_back({field, blank()});
    body += facts(record);
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>" + escaped(title) +
           "</title>\n<style>\n" + style_sheet + "</style>\n</head>\n<body>\n<main>" + body.html +
           "</main>\n</body>\n</html>\n";
}

} // namespace hollowtop::cli
