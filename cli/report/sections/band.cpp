// SPDX-License-Identifier: MIT
// How far tops made to this drawing scatter, drawn against what is allowed.
#include "cli/report/drawing/colours.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/text/uncertainty_text.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

#include <algorithm>
#include <cctype>
#include <numeric>

namespace hollowtop::cli {
namespace {

/// The rows that come nearest to their limits, by the end of their band: indices into Uncertainty::rows.
std::vector<std::size_t> nearest_rows(const Uncertainty& told) {
    constexpr std::size_t most = 6;
    std::vector<std::size_t> order(told.rows.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return told.rows[a].utilisation.high > told.rows[b].utilisation.high;
    });
    order.resize(std::min(most, order.size()));
    return order;
}

Svg band_picture(const Uncertainty& told, const std::string& end, double width) {
    constexpr double row_height = 34, top = 26, bottom = 26, size = 12;
    const std::vector<std::size_t> rows = nearest_rows(told);
    double greatest = 1.15;
    for (const std::size_t k : rows) greatest = std::max(greatest, 1.05 * told.rows[k].utilisation.high);
    const double left = 6, right = width - 12;
    const auto x = [&](double share) { return left + (right - left) * share / greatest; };
    const double height = top + row_height * static_cast<double>(rows.size()) + bottom;
    std::string words = "Share of what is allowed, nine tops of ten between the ends of each bar: ";
    for (const std::size_t k : rows)
        words += told.rows[k].check + " " + utilisation_text(told.rows[k].utilisation.low) + " to " +
                 utilisation_text(told.rows[k].utilisation.high) + "; ";
    Svg svg("band" + end, width, height, "Bands against their limits", words);
    svg.rectangle({x(1), top - 8}, x(greatest) - x(1), height - top - bottom + 8,
                  {.fill = svg.hatch(6, 45, ink::hair, 1)});
    svg.line({x(1), top - 8}, {x(1), height - bottom}, {.stroke = ink::text, .width = 1.5});
    svg.text({x(1) - 4, top - 12}, "what is allowed",
             {.size = size, .fill = ink::text, .anchor = Anchor::end});
    for (std::size_t r = 0; r < rows.size(); ++r) {
        const std::size_t k = rows[r];
        const UncertainRow& row = told.rows[k];
        const double y = top + row_height * static_cast<double>(r) + 20;
        svg.text({left, y - 6}, row.check, {.size = size, .fill = ink::text, .halo = ink::paper});
        svg.rectangle({x(row.utilisation.low), y}, x(row.utilisation.high) - x(row.utilisation.low), 7,
                      {.fill = row.utilisation.high > 1 ? ink::mark : ink::steel, .opacity = 0.75});
        svg.line({x(row.utilisation.middle), y - 2}, {x(row.utilisation.middle), y + 9},
                 {.stroke = ink::text, .width = 2});
        const double drawn = row.limit > 0 ? row.drawn / row.limit : row.utilisation.middle;
        svg.circle({x(drawn), y + 3.5}, 2.6, {.fill = ink::paper, .stroke = ink::text});
    }
    for (const double share : {0.0, 0.5, 1.0})
        svg.text({x(share), height - 8}, fixed(100 * share, 0) + " %",
                 {.size = 11, .fill = ink::soft, .anchor = share > 0 ? Anchor::middle : Anchor::start});
    return svg;
}

} // namespace

Markup band_part(const Sheet& sheet) {
    if (!sheet.in.band || sheet.in.band->rows.empty()) return {};
    const Uncertainty& told = *sheet.in.band;
    const Units units = sheet.units();
    Markup inner = element("h3", words("Tops made to this drawing"));
    if (std::string sentence = band_sentence(told, units); !sentence.empty()) {
        sentence.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(sentence.front())));
        inner += para(words(sentence + "."));
    }
    inner += figure(words("Bars: nine of ten tops; the line in each: half of them; ring: as drawn."),
                    [&](const std::string& end, double width) { return band_picture(told, end, width); });
    std::vector<TableRow> rows;
    for (const std::size_t k : nearest_rows(told)) {
        const UncertainRow& row = told.rows[k];
        const std::string pointer = "/uncertainty/checks/" + std::to_string(k) + "/";
        const auto at = [&](double value, const char* key) {
            return amount(sheet, value, row.unit, pointer + "demand/" + key);
        };
        rows.push_back({{words(row.check), at(row.demand.low, "p5"), at(row.demand.middle, "p50"),
                         at(row.demand.high, "p95"), amount(sheet, row.limit, row.unit, pointer + "limit"),
                         words(chance_text(row.exceeds))},
                        row.utilisation.high > 1 ? "over" : ""});
    }
    inner += table(
        "Bands",
        {{"check"}, {"5 %", true}, {"half", true}, {"95 %", true}, {"allowed", true}, {"chance of more"}},
        rows);
    std::vector<TableRow> causes;
    for (std::size_t s = 0; s < told.shares.size(); ++s) {
        const CauseShare& share = told.shares[s];
        const Cause& cause = told.causes[share.cause];
        const std::string pointer = "/uncertainty/causes/" + std::to_string(s) + "/";
        causes.push_back({{words(text_of(cause.name)),
                           number(cause.deviation, pointer + "deviation",
                                  cause.in_mm ? reading_text(cause.deviation, units)
                                              : percent_text(100 * cause.deviation)),
                           number(share.of_governing, pointer + "share_of_governing",
                                  percent_text(100 * share.of_governing)),
                           words(text_of(cause.basis))}});
    }
    inner +=
        table("What scatters",
              {{"what"}, {"deviation", true}, {"its share of the nearest check's", true}, {"on whose word"}},
              causes);
    inner += para(words(how_found(told) +
                        ". What is allowed stays as it is in that: it stands on the weakest wood of twenty. "
                        "Faults of wood and work are not in it."));
    if (const std::string strength = strength_sentence(told); !strength.empty())
        inner += para(words(strength));
    if (const std::string boards = boards_sentence(told, units); !boards.empty())
        inner += para(words(boards));
    return inner;
}

} // namespace hollowtop::cli
