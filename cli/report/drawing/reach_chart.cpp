// SPDX-License-Identifier: MIT
#include "cli/report/drawing/reach_chart.hpp"

#include "cli/report/drawing/axis_frame.hpp"
#include "cli/report/drawing/colours.hpp"
#include "cli/report/drawing/svg.hpp"
#include "cli/words/format.hpp"
#include "cli/words/quantity.hpp"
#include "solver/checks/checks.hpp"

#include <algorithm>
#include <array>

namespace hollowtop::cli {
namespace {

constexpr double width = 760, height = 480, left = 64, right = 190, top = 84, bottom = 60;
constexpr double most_percent = 200; // what is used more is cut off: it fails by far
constexpr std::size_t most_lines = 5;

struct Line {
    std::size_t check = 0;
    double greatest = 0;
};

/// The checks that come nearest to their limit, the hardest used first.
std::vector<Line> lines_of(const std::vector<ReachPoint>& curve) {
    std::vector<Line> lines;
    for (std::size_t i = 0; i < table_of_checks().size(); ++i) {
        Line line{i, 0};
        for (const ReachPoint& point : curve)
            if (point.row) line.greatest = std::max(line.greatest, point.row->uses[i]);
        if (line.greatest > 0.1) lines.push_back(line);
    }
    std::stable_sort(lines.begin(), lines.end(),
                     [](const Line& a, const Line& b) { return a.greatest > b.greatest; });
    if (lines.size() > most_lines) lines.resize(most_lines);
    return lines;
}

} // namespace

std::string reach_chart(const Farthest& answer, const ReachStory& story, Units units) {
    const auto across = [&](double measure) {
        const double mm = story.shown(measure);
        return units == Units::mm ? mm : Length::from_mm(mm).inches();
    };
    const std::vector<Line> lines = lines_of(answer.curve);
    double low = 1e300, high = -1e300, greatest = 110;
    for (const ReachPoint& point : answer.curve) {
        if (!point.row) continue;
        low = std::min(low, across(point.measure));
        high = std::max(high, across(point.measure));
        for (const Line& line : lines) greatest = std::max(greatest, 100 * point.row->uses[line.check]);
    }
    if (low > high) low = 0, high = 1;
    greatest = std::min(greatest, most_percent);
    std::string said = answer.passing ? "meets the limits up to a " + story.measure + " of " +
                                            dimension_text(story.shown(answer.passing->measure), units)
                                      : "no " + story.measure + " that was looked at meets the limits";
    Svg svg("reach", width, height, "How hard each check is used", said);
    svg.rectangle({0, 0}, width, height, {.fill = ink::paper});
    svg.text({left, 26}, story.title.empty() ? "How hard each check is used" : story.title,
             {.size = 16, .fill = ink::text, .bold = true});
    svg.text({left, 46}, said, {.size = 12, .fill = ink::soft});
    const Box box{left, top, width - right, height - bottom};
    const AxisFrame frame(svg, box, {low, high, story.measure + (units == Units::mm ? ", mm" : ", in")},
                          {0, greatest, "used of what is allowed, percent"});
    svg.line(frame.at(low, 100), frame.at(high, 100), {.stroke = ink::text, .width = 2.4});
    svg.text({box.x0 + 6, frame.at(low, 100).y - 5}, "limit",
             {.size = 11, .fill = ink::text, .halo = ink::paper});
    static constexpr std::array<const char*, most_lines> dashes{"", "9 4", "3 3", "12 3 3 3", "1.5 4"};
    static constexpr std::array<const char*, most_lines> colours{ink::accent, ink::steel, "#7a5a00",
                                                                 ink::text, ink::soft};
    std::vector<double> taken; // heights of the names
    const auto inside =
        svg.clip(SvgPath().polygon({{box.x0, box.y0}, {box.x1, box.y0}, {box.x1, box.y1}, {box.x0, box.y1}}));
    for (std::size_t i = 0; i < lines.size(); ++i) {
        std::vector<Point> points;
        for (const ReachPoint& point : answer.curve) {
            if (!point.row || point.row->uses[lines[i].check] < 0) continue;
            const double percent = 100 * point.row->uses[lines[i].check];
            points.push_back(frame.at(across(point.measure), percent));
        }
        if (points.size() < 2) continue;
        svg.open({inside});
        svg.polyline(points, {.stroke = colours[i], .width = 1.8, .dash = dashes[i]});
        svg.close();
        const auto rightmost =
            std::max_element(points.begin(), points.end(), [](Point a, Point b) { return a.x < b.x; });
        double y = std::max(rightmost->y, box.y0) + 4;
        while (
            std::any_of(taken.begin(), taken.end(), [&](double other) { return std::abs(other - y) < 14; }))
            y += 1;
        taken.push_back(y);
        svg.line({box.x1 + 6, y - 4}, {box.x1 + 28, y - 4},
                 {.stroke = colours[i], .width = 1.8, .dash = dashes[i]});
        svg.text({box.x1 + 33, y}, table_of_checks()[lines[i].check].name, {.size = 11, .fill = colours[i]});
    }
    if (answer.passing) {
        const double x = frame.at(across(answer.passing->measure), 0).x;
        svg.line({x, box.y0}, {x, box.y1}, {.stroke = ink::text, .width = 1, .dash = "2 3"});
        const bool on_the_left = x > (box.x0 + box.x1) / 2;
        svg.text({x + (on_the_left ? -5 : 5), box.y1 - 8},
                 dimension_text(story.shown(answer.passing->measure), units),
                 {.size = 12,
                  .fill = ink::text,
                  .anchor = on_the_left ? Anchor::end : Anchor::start,
                  .bold = true,
                  .halo = ink::paper});
    }
    return svg.file();
}

} // namespace hollowtop::cli
