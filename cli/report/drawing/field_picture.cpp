// SPDX-License-Identifier: MIT
#include "cli/report/drawing/field_picture.hpp"

#include "cli/report/drawing/colours.hpp"
#include "cli/words/format.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

/// The parts of a loop that are contour, not edge of the grid, as open runs in the picture.
std::vector<std::vector<Point>> lines_of(const ContourLoop& loop, const View& view) {
    const std::size_t n = loop.points.size();
    std::size_t start = 0;
    while (start < n && !loop.on_edge[start]) ++start;
    std::vector<std::vector<Point>> lines;
    if (start == n) { // closed
        std::vector<Point> line;
        for (const Point& p : loop.points) line.push_back(view(p));
        line.push_back(line.front());
        return {thinned(line, 0.12)};
    }
    std::vector<Point> line;
    for (std::size_t k = 0; k < n; ++k) {
        const std::size_t i = (start + 1 + k) % n;
        if (!loop.on_edge[i]) {
            if (line.empty()) line.push_back(view(loop.points[i]));
            line.push_back(view(loop.points[(i + 1) % n]));
        } else if (!line.empty()) {
            lines.push_back(thinned(line, 0.12));
            line.clear();
        }
    }
    if (!line.empty()) lines.push_back(thinned(line, 0.12));
    return lines;
}

double length_of(const std::vector<Point>& line) {
    double length = 0;
    for (std::size_t k = 1; k < line.size(); ++k)
        length += std::hypot(line[k].x - line[k - 1].x, line[k].y - line[k - 1].y);
    return length;
}

/// Places along a line for its figure, from the middle outwards.
std::vector<Point> places_on(const std::vector<Point>& line) {
    const double length = length_of(line);
    std::vector<Point> places;
    for (const double share : {0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92}) {
        double left = share * length;
        for (std::size_t k = 1; k < line.size(); ++k) {
            const double step = std::hypot(line[k].x - line[k - 1].x, line[k].y - line[k - 1].y);
            if (left > step) {
                left -= step;
                continue;
            }
            const double t = step > 0 ? left / step : 0;
            places.push_back({line[k - 1].x + t * (line[k].x - line[k - 1].x),
                              line[k - 1].y + t * (line[k].y - line[k - 1].y)});
            break;
        }
    }
    return places;
}

/// A ground for words on a busy picture.
void put_ground(Svg& svg, const Box& box, const std::string& colour) {
    svg.rectangle({box.x0 - 1, box.y0 + 1.5}, box.x1 - box.x0 + 2, box.y1 - box.y0 - 2.5, {.fill = colour},
                  2);
}

std::string figure(double level, int decimals) { return fixed(level, decimals); }

/// A bar of a round length, a fifth of the top or less, at the right end of the picture.
void draw_length_bar(Svg& svg, const View& view, double right, double y, double size, Units units) {
    const double longest = (view.bounds.x1 - view.bounds.x0) / 4;
    const double unit = units == Units::mm ? 1 : Length::from_inches(1).mm();
    double round = unit;
    for (const double next : units == Units::mm ? std::vector<double>{10, 20, 50, 100, 200, 500, 1000, 2000}
                                                : std::vector<double>{1, 2, 4, 6, 12, 24, 36, 60})
        if (next * unit <= longest) round = next * unit;
    const double left = right - view.scale * round;
    svg.line({left, y}, {right, y}, {.stroke = ink::text, .width = 1.2});
    for (const double x : {left, right})
        svg.line({x, y - 4}, {x, y + 4}, {.stroke = ink::text, .width = 1.2});
    svg.text({left - 5, y + 0.35 * size}, dimension_text(round, units),
             {.size = size, .anchor = Anchor::end});
}

/// The scale: a bar of the bands' colours with the levels between them.
void draw_scale(Svg& svg, const FieldContent& content, double left, double right, double y, double size) {
    const std::size_t n = content.levels.size() - 1;
    const double step = (right - left) / static_cast<double>(n);
    const auto share = [&](std::size_t band) {
        return (static_cast<double>(band) + 0.5) / static_cast<double>(n);
    };
    double free_from = left - 100;
    const auto place = [&](double level) {
        return left + (right - left) * (level - content.levels.front()) /
                          (content.levels.back() - content.levels.front());
    };
    for (std::size_t band = 0; band < n; ++band)
        svg.rectangle({left + step * static_cast<double>(band), y}, step, 9,
                      {.fill = to_hex(scale_colour(share(band))), .stroke = ink::text, .width = 0.4});
    for (std::size_t k = 0; k <= n; ++k) {
        const std::string text = figure(content.levels[k], content.decimals);
        const double x = left + step * static_cast<double>(k), half = width_of_words(text, size) / 2;
        if (x - half < free_from) continue;
        svg.text({x, y + 10 + size}, text, {.size = size, .anchor = Anchor::middle});
        free_from = x + half + 4;
    }
    if (content.peak && content.peak->value > content.levels.front() &&
        content.peak->value <= content.levels.back())
        svg.circle({place(content.peak->value), y + 4.5}, 4.2,
                   {.fill = ink::paper, .stroke = ink::text, .width = 1.4});
}

constexpr double noise = 1e-9;

} // namespace

Svg field_picture(const Plan& plan, const ValueGrid& given, double width, const FieldContent& content) {
    const bool narrow = width < 500;
    const double size = narrow ? 11 : 13, side = 16;
    const Rectangle bounds = bounds_of_plan(plan);
    const double scale = std::min((width - 2 * side) / (bounds.x1 - bounds.x0),
                                  (narrow ? 240 : 560) / (bounds.y1 - bounds.y0));
    const double spare = width - 2 * side - scale * (bounds.x1 - bounds.x0);
    const double above = size + 8, plan_height = scale * (bounds.y1 - bounds.y0);
    const double bar_y = above + plan_height + 16, scale_y = bar_y + 16;
    Svg svg(content.id, width, scale_y + size + 16, content.title, content.description);
    const View view{
        .scale = scale, .origin = {side + spare / 2, above}, .bounds = bounds, .seen = Seen::from_below};
    const Box frame = view.box(bounds);
    constexpr double clear = 3; // of the outline: figures stand on grounds a little greater than they are
    Placer placer({frame.x0 + clear, frame.y0 + clear, frame.x1 - clear, frame.y1 - clear});

    ValueGrid grid = given;
    for (double& v : grid.value) v *= content.factor;
    const std::size_t n_bands = content.levels.size() - 1;
    const auto colour_of = [&](std::size_t band) {
        return to_hex(scale_colour((static_cast<double>(band) + 0.5) / static_cast<double>(n_bands)));
    };
    const SvgPath outline = path_of(plan.outline, view);
    svg.open({svg.clip(outline)});
    svg.path(outline, {.fill = colour_of(0)});
    struct Line {
        std::vector<Point> points;
        double level;
    };
    std::vector<Line> lines;
    for (std::size_t band = 1; band < n_bands; ++band) {
        SvgPath region;
        for (const ContourLoop& loop : region_at_or_above(grid, content.levels[band])) {
            std::vector<Point> points;
            for (const Point& p : loop.points) points.push_back(view(p));
            points.push_back(points.front());
            points = thinned(points, 0.12);
            points.pop_back();
            if (points.size() > 2) region.polygon(points);
            for (auto& line : lines_of(loop, view))
                if (length_of(line) > 3) lines.push_back({std::move(line), content.levels[band]});
        }
        svg.path(region, {.fill = colour_of(band)});
    }
    if (content.over > 0) {
        SvgPath over;
        for (const ContourLoop& loop : region_at_or_above(grid, content.over)) {
            std::vector<Point> points;
            for (const Point& p : loop.points) points.push_back(view(p));
            over.polygon(points);
        }
        svg.path(over, {.fill = svg.hatch(6, 45, ink::paper, 1.6), .stroke = ink::mark, .width = 1.6});
    }
    const bool rises = content.levels.front() < -noise && content.levels.back() > noise;
    if (rises) { // what lies under nought: hatched all over, but for what is at or above it
        SvgPath below = outline;
        for (const ContourLoop& loop : region_at_or_above(grid, 0)) {
            std::vector<Point> points;
            for (const Point& p : loop.points) points.push_back(view(p));
            if (points.size() > 2) below.polygon(points);
        }
        svg.path(below, {.fill = svg.hatch(7, 60, ink::text, 0.7), .opacity = 0.6, .even_odd = true});
    }
    for (const Line& line : lines) {
        const bool is_nought = rises && std::abs(line.level) < noise;
        svg.polyline(
            line.points,
            {.stroke = ink::text, .width = is_nought ? 2.0 : 0.6, .opacity = is_nought ? 1.0 : 0.75});
    }
    svg.close();
    for (const Hollow& hollow : plan.hollows) {
        SvgPath path = path_of(hollow.loop, view);
        for (const Loop& land : hollow.lands) add_to(path, land, view);
        svg.path(path, {.stroke = ink::text, .width = 0.8, .dash = "5 3"});
    }
    svg.path(outline, {.stroke = ink::text, .width = 1.2});
    if (content.piece != nullptr) {
        for (const Support& support : content.piece->supports) draw_support(svg, support, view);
        draw_loads(svg, *content.piece, view);
    }

    if (content.peak) {
        const Point at = view(content.peak->at);
        svg.circle(at, 3.6, {.fill = ink::paper, .stroke = ink::text, .width = 1.4});
        placer.take({at.x - 5, at.y - 5, at.x + 5, at.y + 5});
        const Lettering bold{.size = size + 1, .anchor = Anchor::middle, .bold = true};
        const double half = width_of_words(content.peak->label, size + 1) / 2;
        std::vector<Point> places;
        for (const double far : {1.0, 1.8})
            for (const auto& [dx, dy] : {std::pair{0.0, -10.0},
                                         {0.0, 12.0 + size},
                                         {half + 9, 4.0},
                                         {-half - 9, 4.0},
                                         {half, -10.0},
                                         {-half, -10.0},
                                         {half, 12.0 + size},
                                         {-half, 12.0 + size}})
                places.push_back({at.x + far * dx, at.y + far * dy});
        if (const auto place = placer.place(content.peak->label, bold, places)) {
            put_ground(svg, box_of_words(*place, content.peak->label, bold), ink::paper);
            svg.text(*place, content.peak->label, bold, content.peak->attributes);
        }
    }
    Lettering plain{.size = size, .anchor = Anchor::middle};
    std::stable_sort(lines.begin(), lines.end(),
                     [](const Line& a, const Line& b) { return length_of(a.points) > length_of(b.points); });
    std::vector<std::pair<double, int>> put; // how often a level has its figure
    for (const Line& line : lines) {
        if (length_of(line.points) < 30) continue;
        auto found =
            std::find_if(put.begin(), put.end(), [&](const auto& p) { return p.first == line.level; });
        if (found == put.end()) found = put.insert(put.end(), {line.level, 0});
        if (found->second >= content.figures) continue;
        const std::string text = figure(line.level, content.decimals);
        std::vector<Point> places = places_on(line.points);
        for (Point& p : places) p.y += 0.35 * size;
        if (const auto place = placer.place(text, plain, places)) {
            const auto band = static_cast<std::size_t>(
                std::find(content.levels.begin(), content.levels.end(), line.level) - content.levels.begin());
            put_ground(svg, box_of_words(*place, text, plain), colour_of(band));
            plain.fill =
                ink_on(scale_colour((static_cast<double>(band) + 0.5) / static_cast<double>(n_bands)));
            svg.text(*place, text, plain);
            ++found->second;
        }
    }
    svg.text({(view({bounds.x0, 0}).x + view({bounds.x1, 0}).x) / 2, above - 6}, "front edge (y = 0)",
             {.size = size, .fill = ink::soft, .anchor = Anchor::middle});
    draw_length_bar(svg, view, view({bounds.x1, 0}).x, bar_y, size, content.units);
    const double scale_right = std::min(width - side, side + 420),
                 unit_width = width_of_words(content.unit, size) + 10;
    draw_scale(svg, content, side + 6, scale_right - unit_width, scale_y, size);
    svg.text({scale_right - unit_width + 14, scale_y + 9}, content.unit, {.size = size});
    return svg;
}

Svg thickness_picture(const Plan& plan, double width, const std::string& id, Units units) {
    const bool narrow = width < 500;
    const double size = narrow ? 11 : 13, side = 16, above = size + 8;
    const Rectangle bounds = bounds_of_plan(plan);
    const double scale = std::min((width - 2 * side) / (bounds.x1 - bounds.x0),
                                  (narrow ? 240 : 560) / (bounds.y1 - bounds.y0));
    const double spare = width - 2 * side - scale * (bounds.x1 - bounds.x0);
    const double plan_height = scale * (bounds.y1 - bounds.y0);
    std::string description =
        "Thickness seen from below: " + dimension_text(plan.thickness, units) + " at the rim";
    for (const Hollow& hollow : plan.hollows)
        description += ", " + dimension_text(hollow.skin, units) + " in " + hollow.name;
    Svg svg(id, width, above + plan_height + size + 16, "Thickness", description + ".");
    const View view{
        .scale = scale, .origin = {side + spare / 2, above}, .bounds = bounds, .seen = Seen::from_below};
    Placer placer(width, above + plan_height);
    // the thinner, the darker: what asks for care stands out
    const auto colour_of = [&](double thickness) {
        return scale_colour(0.85 * (1 - thickness / plan.thickness));
    };
    const Look rim{.fill = to_hex(colour_of(plan.thickness)), .stroke = ink::text, .width = 1.2};
    svg.path(path_of(plan.outline, view), rim);
    for (const Hollow& hollow : plan.hollows) {
        const Colour colour = colour_of(hollow.skin);
        svg.path(path_of(hollow.loop, view), {.fill = to_hex(colour), .stroke = ink::text, .width = 0.9});
        for (const Loop& land : hollow.lands)
            svg.path(path_of(land, view), {.fill = rim.fill, .stroke = ink::text, .width = 0.9});
    }
    const auto label = [&](Point at, double thickness) {
        const Point p = view(at);
        const Lettering lettering{
            .size = size + 1, .fill = ink_on(colour_of(thickness)), .anchor = Anchor::middle, .bold = true};
        const std::string words = drawn_length(thickness, units);
        if (const auto place =
                placer.place(words, lettering, {{p.x, p.y + 4}, {p.x, p.y - 14}, {p.x, p.y + 22}}))
            svg.text(*place, words, lettering);
    };
    for (const Hollow& hollow : plan.hollows) {
        const Rectangle b = bounds_of(hollow.loop);
        for (const double share : {0.5, 0.3, 0.7, 0.15}) {
            const Point at{b.x0 + share * (b.x1 - b.x0), (b.y0 + b.y1) / 2};
            if (std::abs(thickness_at(plan, at) - hollow.skin) > 1e-9) continue;
            label(at, hollow.skin);
            break;
        }
    }
    const Point edge{(bounds.x0 + bounds.x1) / 2, bounds.y1 - 0.06 * (bounds.y1 - bounds.y0)};
    if (thickness_at(plan, edge) > 0) label(edge, thickness_at(plan, edge));
    svg.text({(view({bounds.x0, 0}).x + view({bounds.x1, 0}).x) / 2, above - 6}, "front edge (y = 0)",
             {.size = size, .fill = ink::soft, .anchor = Anchor::middle});
    draw_length_bar(svg, view, view({bounds.x1, 0}).x, above + plan_height + 14, size, units);
    return svg;
}

} // namespace hollowtop::cli
