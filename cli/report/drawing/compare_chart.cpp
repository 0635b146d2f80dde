// SPDX-License-Identifier: MIT
#include "cli/report/drawing/compare_chart.hpp"

#include "cli/report/drawing/axis_frame.hpp"
#include "cli/report/drawing/colours.hpp"
#include "cli/report/drawing/svg.hpp"
#include "cli/words/format.hpp"
#include "cli/words/quantity.hpp"

#include <algorithm>
#include <limits>

namespace hollowtop::cli {
namespace {

constexpr double margin_left = 64, margin_right = 24, margin_top = 84, margin_bottom = 96;
constexpr double dot = 3.6, ring = 3.2;

struct Scales {
    Units units;
    double mass(double kg) const { return units == Units::mm ? kg : pounds_of_kg(kg); }
    double sag(double mm) const { return units == Units::mm ? mm : Length::from_mm(mm).inches(); }
    const char* mass_unit() const { return units == Units::mm ? "kg" : "lb"; }
    const char* sag_unit() const { return units == Units::mm ? "mm" : "in"; }
};

/// Where the picture ends upwards: variants that sag far more than the rest would press all others flat.
double highest_shown(const std::vector<Dot>& dots) {
    std::vector<double> sags;
    for (const Dot& one : dots) sags.push_back(one.sag_mm);
    std::sort(sags.begin(), sags.end());
    if (sags.empty()) return 1;
    const double middle = sags[sags.size() / 2];
    double highest = std::min(sags.back(), 4 * middle);
    for (const Dot& one : dots)
        if (one.passes) highest = std::max(highest, one.sag_mm);
    return highest;
}

std::string count_text(std::size_t n, const char* one, const char* several) {
    return std::to_string(n) + ' ' + (n == 1 ? one : several);
}

} // namespace

std::string compare_chart(const Tally& tally, const std::string& title, Units units, const ChartSize& size) {
    const Scales scale{units};
    const std::vector<Dot>& dots = tally.dots();
    const double top_sag = highest_shown(dots);
    double low = std::numeric_limits<double>::max(), high = 0, least_sag = top_sag;
    std::size_t above = 0;
    for (const Dot& one : dots) {
        low = std::min(low, one.mass_kg);
        high = std::max(high, one.mass_kg);
        least_sag = std::min(least_sag, one.sag_mm);
        above += one.sag_mm > top_sag ? 1 : 0;
    }
    if (dots.empty()) low = 0, high = 1;
    const double room = std::max(0.04 * (high - low), 0.01 * high + 1e-9);
    // from nothing where the sags differ much; else nearer, for the differences are what is looked at
    const double from_sag = least_sag < 0.4 * top_sag
                                ? 0
                                : std::max(0.0, least_sag - 0.3 * (top_sag - least_sag) - 0.02 * top_sag);
    const std::string counts = count_text(tally.all(), "variant", "variants") + ", " +
                               std::to_string(tally.passing()) + (tally.passing() == 1 ? " meets" : " meet") +
                               " the limits set";
    Svg svg("compare", size.width, size.height, "Weight against sag",
            counts + ". Each dot is a variant; further left is lighter, further down is stiffer. " +
                (tally.pareto().empty()
                     ? std::string()
                     : "The lightest that meets the limits weighs " +
                           mass_text(tally.pareto().front().row.mass_kg, units) + "; the stiffest sags " +
                           movement_text(tally.pareto().back().row.sag_mm, units) + "."));
    svg.rectangle({0, 0}, size.width, size.height, {.fill = ink::paper});
    svg.text({margin_left, 26}, title.empty() ? "Weight against sag" : title,
             {.size = 16, .fill = ink::text, .bold = true});
    svg.text({margin_left, 46},
             counts + (tally.dot_stride() > 1 ? "; one in " + std::to_string(tally.dot_stride()) + " is drawn"
                                              : ""),
             {.size = 12, .fill = ink::soft});
    const Box box{margin_left, margin_top, size.width - margin_right, size.height - margin_bottom};
    const AxisFrame frame(svg, box,
                          {scale.mass(std::max(low - room, 0.0)), scale.mass(high + room),
                           std::string("weight of top and stiffeners, ") + scale.mass_unit()},
                          {scale.sag(from_sag), scale.sag(top_sag + 0.06 * (top_sag - from_sag)),
                           std::string("greatest sag at once, ") + scale.sag_unit()});
    const auto place = [&](double kg, double mm) { return frame.at(scale.mass(kg), scale.sag(mm)); };
    const Look open{.fill = ink::paper, .stroke = ink::line, .width = 1},
        full{.fill = ink::steel, .stroke = ink::paper, .width = 0.6};
    for (const bool passing : {false, true})
        for (const Dot& one : dots)
            if (one.passes == passing && one.sag_mm <= top_sag)
                svg.circle(place(one.mass_kg, one.sag_mm), passing ? dot : ring, passing ? full : open);
    // what no other beats: a stepped line, for between two of them there is nothing
    std::vector<Point> steps;
    for (const RankedVariant& member : tally.pareto()) {
        const Point p = place(member.row.mass_kg, member.row.sag_mm);
        if (!steps.empty()) steps.push_back({p.x, steps.back().y});
        steps.push_back(p);
    }
    if (steps.size() > 1) svg.polyline(steps, {.stroke = ink::accent, .width = 1.6});
    std::vector<Box> taken;
    const Lettering label{
        .size = 11, .fill = ink::accent, .anchor = Anchor::end, .bold = true, .halo = ink::paper};
    for (const RankedVariant& member : tally.pareto()) {
        const Point p = place(member.row.mass_kg, member.row.sag_mm);
        constexpr double half = 4.2;
        svg.polygon({{p.x, p.y - half}, {p.x + half, p.y}, {p.x, p.y + half}, {p.x - half, p.y}},
                    {.fill = ink::accent, .stroke = ink::paper, .width = 0.6});
        const std::string words = "no. " + std::to_string(member.variant);
        const Point at{p.x - 7, p.y + 12};
        const Box words_box = box_of_words(at, words, label);
        if (words_box.x0 < box.x0 ||
            std::any_of(taken.begin(), taken.end(), [&](const Box& other) { return other.meets(words_box); }))
            continue;
        taken.push_back(words_box);
        svg.text(at, words, label);
    }
    // what the marks mean
    const double y = size.height - 22;
    double x = margin_left;
    const auto explain = [&](const std::string& words, const auto& draw) {
        draw(Point{x + 5, y - 4});
        svg.text({x + 15, y}, words, {.size = 12, .fill = ink::text});
        x += 15 + width_of_words(words, 12) + 18;
    };
    explain("meets the limits set", [&](Point p) { svg.circle(p, dot, full); });
    explain("does not", [&](Point p) { svg.circle(p, ring, open); });
    explain("none is lighter and sags less", [&](Point p) {
        svg.polygon({{p.x, p.y - 4.2}, {p.x + 4.2, p.y}, {p.x, p.y + 4.2}, {p.x - 4.2, p.y}},
                    {.fill = ink::accent});
    });
    if (above > 0)
        svg.text({box.x1, box.y0 - 12}, std::to_string(above) + " sag further than is shown",
                 {.size = 11, .fill = ink::soft, .anchor = Anchor::end});
    return svg.file();
}

} // namespace hollowtop::cli
