// SPDX-License-Identifier: MIT
// Pushes on the skins of the recesses, and where loads that travel do most harm.
#include "cli/report/drawing/field_picture.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hollowtop::cli {
namespace {

TableRow push_row(const Sheet& sheet, std::size_t i) {
    const SkinPush& push = sheet.result().pushes[i];
    const auto key = [&](const char* name) { return at_index("/pushes", i, name); };
    Markup sinks = moved_finely(sheet, push.dish_mm, key("dish_mm"));
    if (push.dish_mm > push.skin_mm / 2)
        sinks += element("span", words(" (past what this theory holds for)"), {{"class", "long"}});
    Markup advised;
    if (push.dish_limit_mm) {
        advised = moved_finely(sheet, *push.dish_limit_mm, key("dish_limit_mm"));
        if (push.dish_mm > *push.dish_limit_mm) advised += element("strong", words(" over"));
    }
    Markup strength =
        push.strength_used ? used(*push.strength_used, key("strength_used")) : words("not known");
    if (push.strength_used && *push.strength_used > 1) strength += element("strong", words(" over"));
    return {{words(push.push), own(push.recess), forced(sheet, push.force_N, key("force_N")),
             number(push.size_mm, key("size_mm"), dimension_text(push.size_mm, sheet.units())), sinks,
             advised, strength, placed(sheet, push.at, key("at_mm"))}};
}

constexpr const char* lift_off = "lift-off"; ///< told in mm, not as a share of a limit

} // namespace

Markup pushes_part(const Sheet& sheet) {
    const auto& pushes = sheet.result().pushes;
    if (pushes.empty()) return {};
    std::vector<TableRow> rows;
    std::vector<std::pair<std::string, Markup>> sources;
    for (std::size_t i = 0; i < pushes.size(); ++i) {
        rows.push_back(push_row(sheet, i));
        const auto told = [&](const auto& source) { return source.first == pushes[i].push; };
        if (std::none_of(sources.begin(), sources.end(), told))
            sources.push_back({pushes[i].push, words(text_of(pushes[i].source) + ".")});
    }
    return element("h3", words("A push on the skin")) +
           para(words("Where each skin gives way most: how far it sinks there below the rim around it, and "
                      "how much of "
                      "the skin's strength that takes. Advice: none of these fails the top, and the forces, "
                      "sizes and "
                      "advised limits are common practice or estimates, no standard's.")) +
           table("A thumb, a sanding pad, a heel and a hand that leans",
                 {{"by"},
                  {"on"},
                  {"force", true},
                  {"on a square of", true},
                  {"sinks", true},
                  {"advised at most", true},
                  {"strength used", true},
                  {std::string("at x, y (") + place_unit(sheet.units()) + ")", true}},
                 rows) +
           facts(sources);
}

namespace {

std::vector<std::size_t> fields_told_of(const Travel& travel) {
    constexpr double least = 0.1;
    std::vector<std::size_t> fields;
    for (std::size_t k = 0; k < travel.fields.size(); ++k)
        if (travel.fields[k].check != lift_off && travel.fields[k].worst_utilisation >= least)
            fields.push_back(k);
    std::stable_sort(fields.begin(), fields.end(), [&](std::size_t a, std::size_t b) {
        return travel.fields[a].worst_utilisation > travel.fields[b].worst_utilisation;
    });
    return fields;
}

/// How much a check is used with the load's middle in each place.
Markup travel_picture(const Sheet& sheet, std::size_t t, std::size_t k) {
    const Travel& travel = sheet.result().travels[t];
    const Travel::Field& field = travel.fields[k];
    if (travel.xs.size() < 2 || travel.ys.size() < 2) return {};
    std::vector<Point> points;
    std::vector<double> values;
    double most = 0;
    for (std::size_t j = 0; j < travel.ys.size(); ++j)
        for (std::size_t i = 0; i < travel.xs.size(); ++i) {
            const auto& value = field.utilisation[j * travel.xs.size() + i];
            points.push_back({travel.xs[i], travel.ys[j]});
            values.push_back(value ? 100 * *value : std::numeric_limits<double>::quiet_NaN());
            if (value) most = std::max(most, 100 * *value);
        }
    if (!(most > 0)) return {};
    const std::string pointer = "/travels/" + std::to_string(t) + "/fields/" + std::to_string(k) + "/worst";
    const std::string label = utilisation_text(field.worst_utilisation);
    const auto levels = even_levels(0, most, 7);
    const double step = levels[1] - levels[0];
    const Units units = sheet.units();
    return figure(
        words("How much of " + field.check + " is used with the middle of \u201c") + own(travel.load) +
            words("\u201d in each place, seen from below as the plan is; the most, ") +
            used(field.worst_utilisation, pointer) + words(", is ringed."),
        [&](const std::string& end, double width) {
            return field_picture(
                sheet.plan, grid_of(points, values), width,
                {.id = "travel-" + std::to_string(t + 1) + end,
                 .title = "Where the load does most harm",
                 .description = "Contours of how much of " + field.check + " is used with the middle of " +
                                travel.load + " in each place. Most, " + label + ", at x, y " +
                                place_text(field.worst_at, units) + " " + place_unit(units) + ".",
                 .unit = "% of what is allowed",
                 .levels = levels,
                 .over = most > 100 ? 100.0 : 0.0,
                 .decimals = step >= 1 - 1e-9 && std::abs(step - std::round(step)) < 1e-6 ? 0 : 1,
                 .factor = 1,
                 .peak = Peak{.at = field.worst_at,
                              .label = label,
                              .attributes = number_attributes(field.worst_utilisation, pointer)},
                 .units = units});
        });
}

} // namespace

Markup travels_part(const Sheet& sheet) {
    Markup all;
    const auto& travels = sheet.result().travels;
    for (std::size_t t = 0; t < travels.size(); ++t) {
        const std::vector<std::size_t> fields = fields_told_of(travels[t]);
        Markup inner =
            element("h3", words("Where \u201c") + own(travels[t].load) + words("\u201d does most harm"));
        if (fields.empty()) {
            all += inner + para(words("Nowhere does it use a tenth of any limit."));
            continue;
        }
        std::vector<TableRow> rows;
        for (const std::size_t k : fields) {
            const std::string key = "/travels/" + std::to_string(t) + "/fields/" + std::to_string(k);
            rows.push_back({{words(travels[t].fields[k].check),
                             used(travels[t].fields[k].worst_utilisation, key + "/worst"),
                             placed(sheet, travels[t].fields[k].worst_at, key + "/worst_at_mm")},
                            travels[t].fields[k].worst_utilisation > 1 ? "over" : ""});
        }
        inner += para(words("It was set down in " + std::to_string(travels[t].n_places) +
                            " places, on a coarse mesh: so the pictures are drawn. The worst of them became "
                            "situations of their "
                            "own above, from which these numbers are."));
        inner += table("The worst place for each check that it brings near",
                       {{"for"},
                        {"used", true},
                        {std::string("its middle at x, y (") + place_unit(sheet.units()) + ")", true}},
                       rows);
        all += inner + travel_picture(sheet, t, fields.front());
    }
    return all;
}

} // namespace hollowtop::cli
