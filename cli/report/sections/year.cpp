// SPDX-License-Identifier: MIT
// The first two years, for a piece that says something of them: how far it bows and how wet it is, as curves, and what
// its owner should know.
#include "cli/report/sections/year.hpp"

#include "cli/report/drawing/axis_frame.hpp"
#include "cli/report/drawing/colours.hpp"
#include "cli/words/format.hpp"
#include "solver/seasons/year_of_top.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

/// A curve over the days, drawn in its own ink and stroke; its name stands beside its last point.
struct Curve {
    const char* name;
    double YearDay::*value;
    const char* ink;
    const char* dash;
};

struct Story {
    std::string id, title, description, axis;
    std::vector<Curve> curves;
    double factor = 1;
};

Svg chart(const YearOfTop& year, const Story& story, const std::string& id_end, double width) {
    const bool narrow = width < 500;
    const double height = 0.42 * width + 60, right = narrow ? 66 : 92;
    double low = 0, high = 0;
    bool first = true;
    for (const Curve& curve : story.curves)
        for (const YearDay& day : year.days) {
            const double value = story.factor * (day.*curve.value);
            low = first ? value : std::min(low, value);
            high = first ? value : std::max(high, value);
            first = false;
        }
    const double room = std::max(0.08 * (high - low), 1e-3);
    Svg svg(story.id + id_end, width, height, story.title, story.description);
    const Box box{48, 34, width - right, height - 50};
    const double months = 24; // of two years
    const AxisFrame frame(svg, box, {0, months, "months since moving in"},
                          {low - room, high + room, story.axis});
    std::vector<double> taken;
    for (const Curve& curve : story.curves) {
        std::vector<Point> points;
        for (std::size_t i = 0; i < year.days.size(); i += 2)
            points.push_back(
                frame.at(months * static_cast<double>(i + 1) / static_cast<double>(year.days.size()),
                         story.factor * (year.days[i].*curve.value)));
        svg.polyline(points, {.stroke = curve.ink, .width = 1.6, .dash = curve.dash});
        double y = points.back().y + 4;
        while (
            std::any_of(taken.begin(), taken.end(), [&](double other) { return std::abs(other - y) < 14; }))
            y += 1;
        taken.push_back(y);
        svg.text({box.x1 + 6, y}, curve.name, {.size = 12, .fill = curve.ink});
    }
    return svg;
}

Markup bow_picture(const Sheet& sheet, const YearOfTop& year) {
    const bool metric = sheet.units() == Units::mm;
    const Story story{.id = "bow",
                      .title = "Bow over two years",
                      .description =
                          "How far the top stands out of flat and how far its middle rises or sinks between "
                          "its long edges, day by day.",
                      .axis = metric ? "mm" : "in",
                      .curves = {{"out of flat", &YearDay::out_of_flat, ink::text, ""},
                                 {"across", &YearDay::rise_across, ink::accent, "6 3"}},
                      .factor = metric ? 1 : Length::from_mm(1).inches()};
    return figure(words("How far it is out of flat, lying free (full line), and how far the middle stands "
                        "above (crown) or "
                        "below (hollow, under nought) the chord across the grain (dashed)."),
                  [&](const std::string& end, double width) { return chart(year, story, end, width); });
}

Markup moisture_picture(const YearOfTop& year) {
    const bool has_skin = year.zones.size() > 1;
    Story story{.id = "moisture",
                .title = "Moisture over two years",
                .description =
                    "What wood in the air of the day would come to, and how wet the show face, the full "
                    "thickness and the skin are, day by day.",
                .axis = "moisture, % of dry mass",
                .curves = {{"air", &YearDay::air_percent, ink::line, "2 3"},
                           {"show face", &YearDay::show_face_percent, ink::steel, "8 3 2 3"},
                           {has_skin ? "rim" : "wood", &YearDay::full_percent, ink::text, ""}},
                .factor = 1};
    if (has_skin) story.curves.push_back({"skin", &YearDay::skin_percent, ink::accent, "6 3"});
    return figure(words("What wood in the air of the day comes to (dotted), the show face over the full "
                        "thickness, and the "
                        "means of the full thickness") +
                      words(has_skin ? " and of the skin." : "."),
                  [&](const std::string& end, double width) { return chart(year, story, end, width); });
}

Markup told(const Sheet& sheet, double mm, const std::string& pointer) {
    return moved(sheet, mm, pointer, Source::movement);
}

Markup day_of(const WorstDay& worst, const std::string& pointer) {
    return words("day ") + number(worst.day + 1, pointer, std::to_string(worst.day + 1), Source::movement);
}

} // namespace

bool says_of_its_years(const Piece& piece) {
    const bool moves = piece.climate &&
                       (piece.climate->shop || piece.climate->move_in > 0 || !piece.climate->months.empty());
    const bool has_rings = std::any_of(piece.top.each_board.begin(), piece.top.each_board.end(),
                                       [](const Board& board) { return board.rings.has_value(); });
    return !piece.top.wood.empty() && (moves || has_rings || !(piece.top.finish == FaceFinishes{}));
}

Markup year_section(const Sheet& sheet) {
    const YearOfTop year = year_of_top(sheet.in.piece, {.threads = 1, .briefly = true});
    Markup inner = heading(sheet, "year");
    inner += para(
        words("Advice, held against no limit: how quick moisture goes through wood and finish is known to a "
              "factor of two, which moves the days and hardly the size. Numbers and assumptions: hollowtop "
              "seasons, and movement --year."));
    inner += para(words("Lying free it is farthest from flat by ") +
                  told(sheet, year.first.out_of_flat.value, "/year/first_year/out_of_flat/mm") +
                  words(" on ") + day_of(year.first.out_of_flat, "/year/first_year/out_of_flat/day") +
                  words(" of its first year, and by ") +
                  told(sheet, year.second.out_of_flat.value, "/year/second_year/out_of_flat/mm") +
                  words(" in its second."));
    inner += bow_picture(sheet, year) + moisture_picture(year);
    std::vector<TableRow> rows;
    for (std::size_t i = 0; i < year.months.size(); ++i) {
        const YearMonth& m = year.months[i];
        std::string name(month_words[static_cast<std::size_t>(m.month - 1)]);
        name[0] = static_cast<char>(name[0] - 'a' + 'A');
        const auto cell = [&](double mm, const char* key) {
            const std::string text = sheet.units() == Units::mm
                                         ? fixed(mm, 1) + " mm"
                                         : fixed(Length::from_mm(mm).inches(), 3) + " in";
            return number(mm, at_index("/year/months", i, key), text, Source::movement);
        };
        rows.push_back(
            {{words(name), cell(m.width_change, "width_change_mm"),
              cell(m.shape.across.value, "rise_across_mm"), cell(m.shape.out_of_flat, "out_of_flat_mm")}});
    }
    inner += table("At the end of each month of the first year",
                   {{"month"}, {"width", true}, {"across", true}, {"out of flat", true}}, rows,
                   TableKind::short_rows);
    inner += element("h3", words("For its owner"));
    inner += bullets(
        {words("Not against a radiator, a stove or over a heated floor, nor in the sun behind a window: one "
               "face then dries alone, and the top bows."),
         words("Warm the room up over weeks, and keep its air between ") +
             words(fixed(std::min(year.range.dry_air.humidity_percent, year.range.wet_air.humidity_percent),
                         0) +
                   " and " +
                   fixed(std::max(year.range.dry_air.humidity_percent, year.range.wet_air.humidity_percent),
                         0) +
                   " % relative humidity: it was reckoned for that."),
         words(
             "Wait a season before anyone planes it. A crack, or a bow that is still there after a year: ask "
             "the maker."),
         words("Clean and refinish both faces alike.")});
    return element("section", inner);
}

} // namespace hollowtop::cli
