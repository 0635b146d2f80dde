// SPDX-License-Identifier: MIT
// The template as SVG and as DXF, at 1:1, seen from below: x to the right, the front edge at the top.
#include "cli/report/drawing/svg.hpp"
#include "cli/report/workshop/dxf.hpp"
#include "cli/report/workshop/template_plan.hpp"
#include "cli/words/format.hpp"
#include "solver/piece/trace.hpp"
#include "solver/piece/wording.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop::cli {
namespace {

constexpr double margin = 20, line_height = 7, letters = 5, scale_bar = 100;

} // namespace

std::vector<std::string> lines_of(const Template& drawn, const std::string& title) {
    const RouterSetup& s = drawn.setup;
    std::vector<std::string> lines{
        title,
        "Seen from below: the front edge (y = 0) lies at the top. 1:1 in "
        "millimetres; measure the 100 mm bar before use.",
        in_own_units(
            s.offset() > 0
                ? said("Cutter {}, guide bush {}: the template's edge lies {} beside the wall.",
                       in_mm(s.cutter), in_mm(s.bush), in_mm(s.offset()))
                : said("Cutter {}, its bearing as wide: the template's edge is the wall.", in_mm(s.cutter)))};
    for (const Cut& cut : drawn.cuts)
        if (!cut.island) lines.push_back(in_own_units(said("{}: {} deep.", cut.name, in_mm(cut.depth))));
    for (const Message& note : drawn.notes) lines.push_back(in_own_units(note));
    lines.emplace_back("Set the depth from the show face and try the template on an offcut.");
    return lines;
}

namespace {

/// Sheet of the drawing: the turned-over top with a margin, notes and scale below it.
struct Layout {
    const Template& drawn;
    std::vector<std::string> lines;
    double width() const { return std::max(drawn.bounds.x1 - drawn.bounds.x0, 200.0) + 2 * margin; }
    double top_height() const { return drawn.bounds.y1 - drawn.bounds.y0; }
    double height() const {
        return 2 * margin + top_height() + 2 * line_height +
               line_height * static_cast<double>(lines.size() + 1);
    }
};

/// Words in the drawing, in the piece's own frame: each at its middle.
struct Note {
    Point at{};
    std::string words;
};
/// Which way it lies, and in each opening how deep it goes: a drawing is cut into sheets and its notes lost.
std::vector<Note> notes_in(const Template& drawn) {
    const double middle = (drawn.bounds.x0 + drawn.bounds.x1) / 2;
    std::vector<Note> notes{{{middle, drawn.bounds.y0 + 2 * letters}, "front edge (y = 0)"}};
    for (const Cut& cut : drawn.cuts) {
        if (cut.island) continue;
        const Rectangle box = bounds_of(cut.edge);
        notes.push_back({{(box.x0 + box.x1) / 2, box.y1 - 2 * letters},
                         in_own_units(said("{}: {} deep", cut.name, in_mm(cut.depth)))});
    }
    return notes;
}

/// Ends and middle line of a slot's straight part.
struct SlotEnds {
    Point a{}, b{};
};
SlotEnds ends_of(const Slot& slot) {
    const double angle = slot.angle_deg * std::numbers::pi / 180,
                 half = std::max(slot.length - slot.width, 0.0) / 2;
    const Point t{half * std::cos(angle), half * std::sin(angle)};
    return {{slot.at.x - t.x, slot.at.y - t.y}, {slot.at.x + t.x, slot.at.y + t.y}};
}

Point beside(Point p, const Slot& slot, double side) {
    const double angle = slot.angle_deg * std::numbers::pi / 180, half = side * slot.width / 2;
    return {p.x - half * std::sin(angle), p.y + half * std::cos(angle)};
}

} // namespace

void draw_template(Svg& svg, const Template& drawn, Point corner) {
    const auto at = [&](Point p) {
        return Point{corner.x + p.x - drawn.bounds.x0, corner.y + p.y - drawn.bounds.y0};
    };
    const auto path_of_loop = [&](const Loop& loop) {
        SvgPath path;
        path.move(at(loop.front().a));
        for (const EdgePiece& piece : loop) {
            if (piece.is_arc) // counter-clockwise seen from above is clockwise from below
                path.arc(at(piece.b), piece.rx, piece.ry, piece.hollow_side_is_centre);
            else
                path.line(at(piece.b));
        }
        return path.close();
    };
    const auto group = [&](const char* layer, const std::string& name) {
        svg.open({{"class", layer}, {"data-name", name}});
    };
    group("OUTLINE", "top");
    svg.path(path_of_loop(drawn.outline), {.stroke = "#26231f", .width = 0.35});
    svg.close();
    for (const Cut& cut : drawn.cuts) {
        group("WALL", cut.name);
        svg.path(path_of_loop(cut.wanted), {.stroke = "#5f584e", .width = 0.25, .dash = "4 2"});
        svg.close();
        group(cut.island ? "ISLAND" : "OPENING", cut.name);
        svg.path(path_of_loop(cut.edge), {.stroke = "#1d5a73", .width = 0.5});
        svg.close();
    }
    for (const Hole& hole : drawn.pilots) {
        group("PILOT", "screw");
        const Point c = at(hole.at);
        svg.circle(c, hole.diameter / 2, {.stroke = "#26231f", .width = 0.2});
        svg.line({c.x - 4, c.y}, {c.x + 4, c.y}, {.stroke = "#26231f", .width = 0.12});
        svg.line({c.x, c.y - 4}, {c.x, c.y + 4}, {.stroke = "#26231f", .width = 0.12});
        svg.close();
    }
    for (const Slot& slot : drawn.slots) {
        group("SLOT", "slot in the stiffener");
        const SlotEnds ends = ends_of(slot);
        const double r = slot.width / 2;
        SvgPath path;
        path.move(at(beside(ends.a, slot, -1)))
            .line(at(beside(ends.b, slot, -1)))
            .arc(at(beside(ends.b, slot, 1)), r, r, true);
        path.line(at(beside(ends.a, slot, 1))).arc(at(beside(ends.a, slot, -1)), r, r, true).close();
        svg.path(path, {.stroke = "#3c5566", .width = 0.25});
        svg.close();
    }
    for (const Hole& hole : drawn.holes) {
        group("HOLE", "hole in the stiffener");
        svg.circle(at(hole.at), hole.diameter / 2, {.stroke = "#3c5566", .width = 0.25});
        svg.close();
    }
    const auto footprints = [&](const char* layer, const std::vector<Footprint>& all, const char* dash) {
        for (const Footprint& one : all) {
            group(layer, one.name);
            std::vector<Point> corners;
            for (const Point& p : one.corners) corners.push_back(at(p));
            svg.path(SvgPath().polygon(corners), {.stroke = "#5f584e", .width = 0.2, .dash = dash});
            svg.close();
        }
    };
    footprints("STIFFENER", drawn.stiffeners, "6 1.5 1 1.5");
    footprints("PAD", drawn.pads, "2 1.5");
    group("NOTES", "notes");
    for (const Note& note : notes_in(drawn))
        svg.text(at(note.at), note.words, {.size = letters, .anchor = Anchor::middle});
    svg.close();
}

std::string template_svg(const Template& drawn, const std::string& title) {
    const Layout layout{drawn, lines_of(drawn, title)};
    Svg svg("template", layout.width(), layout.height(), "Template at 1:1",
            "The template of " + title + " seen from below, in millimetres.");
    draw_template(svg, drawn, {margin, margin});
    const auto group = [&](const char* layer, const std::string& name) {
        svg.open({{"class", layer}, {"data-name", name}});
    };
    const double bar_y = margin + layout.top_height() + margin;
    group("SCALE", "100 mm");
    svg.line({margin, bar_y}, {margin + scale_bar, bar_y}, {.stroke = "#26231f", .width = 0.4});
    for (int k = 0; k <= 10; ++k) {
        const double tick = k % 5 == 0 ? 4 : 2, x = margin + k * scale_bar / 10;
        svg.line({x, bar_y - tick}, {x, bar_y}, {.stroke = "#26231f", .width = 0.3});
    }
    svg.close();
    svg.text({margin + scale_bar + 4, bar_y}, "100 mm", {.size = letters});
    double y = bar_y + 2 * line_height;
    for (const std::string& line : layout.lines) {
        svg.text({margin, y}, line, {.size = letters});
        y += line_height;
    }
    return svg.file(coordinate(layout.width()) + "mm", coordinate(layout.height()) + "mm");
}

std::string template_dxf(const Template& drawn, const std::string& title) {
    Dxf dxf;
    dxf.layer("OUTLINE", 7);
    dxf.layer("WALL", 8);
    dxf.layer("OPENING", 1);
    dxf.layer("ISLAND", 1);
    dxf.layer("PILOT", 7);
    dxf.layer("SLOT", 5);
    dxf.layer("HOLE", 5);
    dxf.layer("STIFFENER", 4);
    dxf.layer("PAD", 6);
    dxf.layer("SCALE", 3);
    dxf.layer("NOTES", 3);
    // Seen from below with y upwards: the front edge at the top.
    const auto at = [&](Point p) { return Point{p.x - drawn.bounds.x0, drawn.bounds.y1 - p.y}; };
    const auto vertices_of = [&](const Loop& loop) {
        std::vector<DxfVertex> vertices;
        for (const EdgePiece& piece : loop) {
            double bulge = 0;
            if (piece.is_arc) {
                const double chord = std::hypot(piece.b.x - piece.a.x, piece.b.y - piece.a.y),
                             radius = piece.rx;
                // tan of a quarter of the angle, from chord = 2 r sin(angle / 2); turned over, left turns
                // become right ones
                bulge = std::tan(std::asin(std::min(1.0, chord / (2 * radius))) / 2) *
                        (piece.hollow_side_is_centre ? -1 : 1);
            }
            vertices.push_back({at(piece.a), bulge});
        }
        return vertices;
    };
    const auto outline = [&] {
        const bool is_round = std::any_of(drawn.outline.begin(), drawn.outline.end(),
                                          [](const EdgePiece& p) { return p.is_arc && p.rx != p.ry; });
        if (!is_round) return vertices_of(drawn.outline);
        std::vector<DxfVertex> vertices; // release 12 has no ellipse: chords within 0.001 mm
        for (const Point& p : trace_of(drawn.outline).points) vertices.push_back({at(p), 0});
        return vertices;
    };
    dxf.closed("OUTLINE", outline());
    for (const Cut& cut : drawn.cuts) {
        dxf.closed("WALL", vertices_of(cut.wanted));
        dxf.closed(cut.island ? "ISLAND" : "OPENING", vertices_of(cut.edge));
    }
    for (const Hole& hole : drawn.pilots) dxf.circle("PILOT", at(hole.at), hole.diameter / 2);
    for (const Slot& slot : drawn.slots) {
        const SlotEnds ends = ends_of(slot);
        // half circles: the tangent of a quarter of 180 degrees is 1; turned over they run clockwise
        dxf.closed("SLOT", {{at(beside(ends.a, slot, -1)), 0},
                            {at(beside(ends.b, slot, -1)), -1},
                            {at(beside(ends.b, slot, 1)), 0},
                            {at(beside(ends.a, slot, 1)), -1}});
    }
    for (const Hole& hole : drawn.holes) dxf.circle("HOLE", at(hole.at), hole.diameter / 2);
    const auto footprints = [&](const char* layer, const std::vector<Footprint>& all) {
        for (const Footprint& one : all) {
            std::vector<DxfVertex> vertices;
            for (const Point& p : one.corners) vertices.push_back({at(p), 0});
            dxf.closed(layer, vertices);
        }
    };
    footprints("STIFFENER", drawn.stiffeners);
    footprints("PAD", drawn.pads);
    for (const Note& note : notes_in(drawn)) {
        const Point middle = at(note.at); // release 12 texts start at the left
        dxf.text("NOTES", {middle.x - width_of_words(note.words, letters) / 2, middle.y}, letters,
                 note.words);
    }
    const double bar_y = -margin;
    dxf.line("SCALE", {0, bar_y}, {scale_bar, bar_y});
    for (const double x : {0.0, scale_bar / 2, scale_bar}) dxf.line("SCALE", {x, bar_y}, {x, bar_y + 4});
    dxf.text("SCALE", {scale_bar + 4, bar_y}, letters, "100 mm");
    double y = bar_y - 2 * line_height;
    for (const std::string& line : lines_of(drawn, title)) {
        dxf.text("NOTES", {0, y}, letters, line);
        y -= line_height;
    }
    return dxf.file();
}

} // namespace hollowtop::cli
