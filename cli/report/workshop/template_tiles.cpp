// SPDX-License-Identifier: MIT
#include "cli/report/workshop/template_tiles.hpp"

#include "cli/words/format.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

constexpr double tile_letters = 4, edge_room = 3; ///< mm; room about the drawing

std::string name_of(int column, int row) {
    std::string letters_of_column;
    for (int c = column; c >= 0; c = c / 26 - 1)
        letters_of_column.insert(letters_of_column.begin(), static_cast<char>('A' + c % 26));
    return letters_of_column + std::to_string(row + 1);
}

/// How many steps it takes to cover a length.
int count(double length, double usable) {
    return std::max(1,
                    static_cast<int>(std::ceil((length - sheet_overlap) / (usable - sheet_overlap) - 1e-9)));
}

/// In the drawing: from below, y downwards, the box of the top at 0, 0.
Point in_drawing(const Template& drawn, Point p) { return {p.x - drawn.bounds.x0, p.y - drawn.bounds.y0}; }

/// Where an edge turns, and the ends of its arcs.
std::vector<Point> corners_of(const Template& drawn) {
    std::vector<Point> corners;
    for (const Cut& cut : drawn.cuts)
        for (std::size_t i = 0; i < cut.edge.size(); ++i) {
            const EdgePiece &piece = cut.edge[i], &next = cut.edge[(i + 1) % cut.edge.size()];
            if (piece.is_arc) {
                for (const double share : {0.0, 0.5, 1.0})
                    corners.push_back(in_drawing(drawn, point_on(piece, share)));
                continue;
            }
            if (next.is_arc) continue;
            const Point d{piece.b.x - piece.a.x, piece.b.y - piece.a.y},
                e{next.b.x - next.a.x, next.b.y - next.a.y};
            constexpr double straight = 0.1; // rad: less is a curve's chords
            if (std::abs(std::atan2(d.x * e.y - d.y * e.x, d.x * e.x + d.y * e.y)) > straight)
                corners.push_back(in_drawing(drawn, piece.b));
        }
    return corners;
}

const Look thin{.stroke = "#26231f", .width = 0.25};

void draw_cross(Svg& svg, Point at) {
    svg.line({at.x - 4, at.y}, {at.x + 4, at.y}, thin);
    svg.line({at.x, at.y - 4}, {at.x, at.y + 4}, thin);
    svg.circle(at, 2, thin);
}

/// A bar of 100 mm in the margin, along x or along y.
void draw_bar(Svg& svg, Point from, bool along_x) {
    constexpr double length = 100;
    svg.open({{"class", along_x ? "SCALE_X" : "SCALE_Y"}});
    const Point to = along_x ? Point{from.x + length, from.y} : Point{from.x, from.y + length};
    svg.line(from, to, {.stroke = "#26231f", .width = 0.35});
    for (int k = 0; k <= 10; ++k) {
        const double tick = k % 5 == 0 ? 2.5 : 1.2, s = k * length / 10;
        if (along_x)
            svg.line({from.x + s, from.y - tick}, {from.x + s, from.y}, thin);
        else
            svg.line({from.x, from.y + s}, {from.x + tick, from.y + s}, thin);
    }
    svg.close();
    const Lettering lettering{.size = 3, .turn_deg = along_x ? 0.0 : -90.0};
    svg.text(along_x ? Point{to.x + 2, to.y} : Point{to.x + 2.5, to.y + 13}, "100 mm", lettering);
}

std::string millimetres(double value) { return coordinate(value) + "mm"; }

/// Where the last character that begins before that byte begins.
std::size_t character_before(const std::string& text, std::size_t end) {
    do --end;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80);
    return end;
}

/// How many bytes of the text, in whole characters and one at least, are as wide as the room at most.
std::size_t bytes_that_fit(const std::string& text, double size, double room) {
    std::size_t end = text.size();
    while (end > 0 && width_of_words(text.substr(0, end), size) > room) {
        const std::size_t shorter = character_before(text, end);
        if (shorter == 0) break;
        end = shorter;
    }
    return end;
}

/// The text in one line, with an ellipsis where it goes on; whole on the map.
std::string in_a_line(const std::string& text, double size, double room) {
    const double dots = width_of_words("...", size);
    return width_of_words(text, size) <= room
               ? text
               : text.substr(0, bytes_that_fit(text, size, room - dots)) + "\u2026";
}

/// A title is in whatever language its writer speaks.
const Attributes any_language{{"lang", ""}};

/// A sheet: margins, bars, its name, and what of the drawing lies in its window.
std::string sheet_markup(const Sheets& sheets, int column, int row, const std::string& title) {
    const Rectangle window = sheets.window(column, row);
    const double w = window.x1 - window.x0, h = window.y1 - window.y0;
    const std::string name = name_of(column, row);
    Svg frame("frame-" + name, sheets.sheet_width, sheets.sheet_height, name, title);
    frame.rectangle({sheet_margin, sheet_margin}, w, h, {.stroke = "#5f584e", .width = 0.2, .dash = "3 2"});
    draw_bar(frame, {sheet_margin, sheets.sheet_height - 6}, true);
    draw_bar(frame, {5, sheet_margin}, false);
    frame.text({sheets.sheet_width - sheet_margin, sheets.sheet_height - 5},
               name + " of " + name_of(sheets.columns - 1, sheets.rows - 1),
               {.size = tile_letters + 1, .anchor = Anchor::end, .bold = true});
    constexpr double small = 3;
    frame.text({sheet_margin, 8}, in_a_line(title, small, w), {.size = small}, any_language);
    Svg inside("marks-" + name, w, h, name, title);
    for (const Point& cross : sheets.crosses())
        if (cross.x > window.x0 && cross.x < window.x1 && cross.y > window.y0 && cross.y < window.y1)
            draw_cross(inside, cross);
    return "<div class=\"sheet\" data-name=\"" + name + "\"><svg width=\"" + millimetres(sheets.sheet_width) +
           "\" height=\"" + millimetres(sheets.sheet_height) + "\" viewBox=\"0 0 " +
           coordinate(sheets.sheet_width) + " " + coordinate(sheets.sheet_height) +
           "\" role=\"img\" aria-label=\"Sheet " + name + "\" font-family=\"sans-serif\">\n" + frame.inner() +
           "<svg class=\"window\" x=\"" + coordinate(sheet_margin) + "\" y=\"" + coordinate(sheet_margin) +
           "\" width=\"" + coordinate(w) + "\" height=\"" + coordinate(h) + "\" viewBox=\"" +
           coordinate(window.x0) + " " + coordinate(window.y0) + " " + coordinate(w) + " " + coordinate(h) +
           "\">\n<use href=\"#drawing\"/>\n<g class=\"CROSS\">\n" + inside.inner() +
           "</g>\n</svg>\n</svg></div>\n";
}

std::string map_markup(const Sheets& sheets, const Template& drawn, const std::string& title,
                       bool corners_only) {
    const double w = sheets.sheet_width, room = w - 2 * sheet_margin;
    const Rectangle last = sheets.window(sheets.columns - 1, sheets.rows - 1);
    const double scale = std::min(room / (last.x1 - sheets.drawing.x0),
                                  0.45 * sheets.sheet_height / (last.y1 - sheets.drawing.y0));
    Svg map("map", w, sheets.sheet_height, "Map", title);
    const double top = 24;
    const auto at = [&](Point p) {
        return Point{sheet_margin + scale * (p.x - sheets.drawing.x0),
                     top + scale * (p.y - sheets.drawing.y0)};
    };
    constexpr double large = 5, bold = 1.1;
    const std::string heading = in_a_line(title, bold * large, room);
    map.text({sheet_margin, 16}, heading, {.size = large, .bold = true}, any_language);
    for (int row = 0; row < sheets.rows; ++row)
        for (int column = 0; column < sheets.columns; ++column) {
            const Rectangle window = sheets.window(column, row);
            const Point a = at({window.x0, window.y0}), b = at({window.x1, window.y1});
            const bool wanted = sheets.wanted[static_cast<std::size_t>(row * sheets.columns + column)];
            map.rectangle(a, b.x - a.x, b.y - a.y,
                          {.fill = wanted ? "none" : "#e8e2d6", .stroke = "#26231f", .width = 0.2});
            map.text({(a.x + b.x) / 2, (a.y + b.y) / 2 + 1.5}, wanted ? name_of(column, row) : "\u2013",
                     {.size = tile_letters, .anchor = Anchor::middle, .bold = true, .halo = "#ffffff"});
        }
    double y = at({0, sheets.window(0, sheets.rows - 1).y1}).y + 8;
    std::vector<std::string> lines{
        "Print at 100 %, without fitting to the page. Measure both bars on every sheet: 100 mm each way.",
        "Lay cross upon cross: neighbours share " + coordinate(sheet_overlap) +
            " mm. Trim one of the two along its dashed line.",
        "Hold the sheets against a straightedge: the long edges of the template are straight from sheet to "
        "sheet."};
    if (corners_only)
        lines.insert(
            lines.begin() + 1,
            "Corners alone: grey sheets are not printed. Set the corners out by the sizes of the drawing, "
            "and join them with a straightedge.");
    if (heading != title) lines.insert(lines.begin(), title);
    const std::vector<std::string> all = lines_of(drawn, title);
    for (std::size_t i = 1; i < all.size(); ++i) // the title stands above; depths stand in their openings
        if (!all[i].ends_with(" deep.")) lines.push_back(all[i]);
    for (std::size_t i = 0; i < lines.size(); ++i) {
        // broken at words, and within a word that has no room: a sheet is narrower than the drawing
        std::string rest = lines[i];
        constexpr double size = 3.4;
        while (!rest.empty()) {
            std::size_t end = bytes_that_fit(rest, size, room), next = end;
            if (end < rest.size())
                if (const auto space = rest.rfind(' ', end); space != std::string::npos && space > 0)
                    end = space, next = space + 1;
            map.text({sheet_margin, y}, rest.substr(0, end), {.size = size},
                     i == 0 && heading != title ? any_language : Attributes{});
            rest.erase(0, next);
            y += 5;
        }
        y += 1.5;
    }
    return "<div class=\"sheet\" data-name=\"map\"><svg width=\"" + millimetres(w) + "\" height=\"" +
           millimetres(sheets.sheet_height) + "\" viewBox=\"0 0 " + coordinate(w) + " " +
           coordinate(sheets.sheet_height) +
           "\" role=\"img\" aria-label=\"Map of the sheets\" font-family=\"sans-serif\">\n<g "
           "transform=\"translate(" +
           coordinate(at({0, 0}).x) + " " + coordinate(at({0, 0}).y) + ") scale(" + coordinate(scale) +
           ")\"><use href=\"#drawing\"/></g>\n" + map.inner() + "</svg></div>\n";
}

} // namespace

Point size_of(PaperSize paper) { return paper == PaperSize::a4 ? Point{210, 297} : Point{215.9, 279.4}; }

Rectangle Sheets::window(int column, int row) const {
    const double x = drawing.x0 + column * step_x, y = drawing.y0 + row * step_y;
    return {.x0 = x, .x1 = x + step_x + sheet_overlap, .y0 = y, .y1 = y + step_y + sheet_overlap};
}

std::vector<Point> Sheets::crosses() const {
    std::vector<double> seams_x, seams_y, middles_x, middles_y;
    for (int c = 0; c < columns; ++c) {
        const Rectangle w = window(c, 0);
        middles_x.push_back((w.x0 + w.x1) / 2);
        if (c > 0) seams_x.push_back(w.x0 + sheet_overlap / 2);
    }
    for (int r = 0; r < rows; ++r) {
        const Rectangle w = window(0, r);
        middles_y.push_back((w.y0 + w.y1) / 2);
        if (r > 0) seams_y.push_back(w.y0 + sheet_overlap / 2);
    }
    std::vector<Point> all;
    for (const double x : seams_x) {
        for (const double y : seams_y) all.push_back({x, y});
        for (const double y : middles_y) // two a seam: one cross lets the sheets turn
            for (const double off : {-step_y / 4, step_y / 4}) all.push_back({x, y + off});
    }
    for (const double y : seams_y)
        for (const double x : middles_x)
            for (const double off : {-step_x / 4, step_x / 4}) all.push_back({x + off, y});
    return all;
}

Sheets sheets_of(const Template& drawn, PaperSize paper, bool corners_only) {
    Rectangle box = drawn.bounds;
    for (const Cut& cut : drawn.cuts) {
        const Rectangle edge = bounds_of(cut.edge);
        box = {.x0 = std::min(box.x0, edge.x0),
               .x1 = std::max(box.x1, edge.x1),
               .y0 = std::min(box.y0, edge.y0),
               .y1 = std::max(box.y1, edge.y1)};
    }
    const Point low = in_drawing(drawn, {box.x0, box.y0}), high = in_drawing(drawn, {box.x1, box.y1});
    const Point upright = size_of(paper);
    Sheets best;
    for (const Point& size : {upright, Point{upright.y, upright.x}}) {
        Sheets sheets{.sheet_width = size.x,
                      .sheet_height = size.y,
                      .drawing = {.x0 = low.x - edge_room,
                                  .x1 = high.x + edge_room,
                                  .y0 = low.y - edge_room,
                                  .y1 = high.y + edge_room},
                      .step_x = size.x - 2 * sheet_margin - sheet_overlap,
                      .step_y = size.y - 2 * sheet_margin - sheet_overlap,
                      .wanted = {}};
        sheets.columns = count(sheets.drawing.x1 - sheets.drawing.x0, size.x - 2 * sheet_margin);
        sheets.rows = count(sheets.drawing.y1 - sheets.drawing.y0, size.y - 2 * sheet_margin);
        if (best.columns == 0 || sheets.columns * sheets.rows < best.columns * best.rows) best = sheets;
    }
    best.wanted.assign(static_cast<std::size_t>(best.columns * best.rows), !corners_only);
    if (corners_only)
        for (int row = 0; row < best.rows; ++row)
            for (int column = 0; column < best.columns; ++column) {
                const Rectangle w = best.window(column, row);
                for (const Point& p : corners_of(drawn))
                    if (p.x >= w.x0 && p.x <= w.x1 && p.y >= w.y0 && p.y <= w.y1)
                        best.wanted[static_cast<std::size_t>(row * best.columns + column)] = true;
            }
    return best;
}

std::string template_tiles(const Template& drawn, const std::string& title, PaperSize paper,
                           bool corners_only) {
    const Sheets sheets = sheets_of(drawn, paper, corners_only);
    Svg drawing("drawing", drawn.bounds.x1 - drawn.bounds.x0, drawn.bounds.y1 - drawn.bounds.y0, "Template",
                title);
    draw_template(drawing, drawn, {0, 0});
    std::string page =
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>" + escaped(title) +
        ": template in sheets</title>\n<style>\n@page{size:" + millimetres(sheets.sheet_width) + " " +
        millimetres(sheets.sheet_height) +
        ";margin:0}\nbody{margin:0;background:#fff;color:#26231f}\n.sheet{width:" +
        millimetres(sheets.sheet_width) + ";height:" + millimetres(sheets.sheet_height - 0.5) +
        ";overflow:hidden;break-after:page}\n.sheet:last-of-type{break-after:auto}\nsvg{display:block}\n"
        ".store{position:absolute;width:0;height:0}\n"
        "@media screen{.sheet{border:1px solid #8a8174;margin:8px}}\n</style>\n</head>\n<body>\n<main>\n<h1 "
        "class=\"store\" lang=\"\" style=\"overflow:hidden\">" +
        escaped(title) +
        "</h1>\n<svg class=\"store\" aria-hidden=\"true\" font-family=\"sans-serif\"><defs><g "
        "id=\"drawing\">\n" +
        drawing.inner() + "</g></defs></svg>\n";
    page += map_markup(sheets, drawn, title, corners_only);
    for (int row = 0; row < sheets.rows; ++row)
        for (int column = 0; column < sheets.columns; ++column)
            if (sheets.wanted[static_cast<std::size_t>(row * sheets.columns + column)])
                page += sheet_markup(sheets, column, row, title);
    return page + "</main>\n</body>\n</html>\n";
}

} // namespace hollowtop::cli
