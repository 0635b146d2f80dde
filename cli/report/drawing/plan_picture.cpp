// SPDX-License-Identifier: MIT
#include "cli/report/drawing/plan_picture.hpp"

#include "cli/report/drawing/clamp_picture.hpp"
#include "cli/report/drawing/colours.hpp"
#include "cli/report/drawing/dimensions.hpp"
#include "cli/report/drawing/kept_picture.hpp"
#include "cli/report/drawing/plan_marks.hpp"
#include "cli/words/format.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop::cli {
namespace {

const Look outline_look{.fill = ink::wood, .stroke = ink::text, .width = 1.2};
const Look recess_look{.fill = ink::skin, .stroke = ink::text, .width = 0.9};
/// Places for a letter about a point, `far` times the size away.
std::vector<Point> around(Point p, double size, double far) {
    std::vector<Point> places;
    for (const auto& [dx, dy] : {std::pair{1.0, 0.0},
                                 {0.0, -1.0},
                                 {-1.0, 0.0},
                                 {0.0, 1.0},
                                 {0.8, -0.8},
                                 {-0.8, -0.8},
                                 {0.8, 0.8},
                                 {-0.8, 0.8}})
        places.push_back({p.x + far * dx * size, p.y + far * dy * size + 0.35 * size});
    return places;
}

/// Where a short label goes: near what it names before it keeps off edges, where `near_first`.
std::optional<Point> place_near(Placer& placer, const std::string& label, const Lettering& lettering,
                                const std::vector<std::vector<Point>>& rings, bool near_first) {
    std::vector<Point> all;
    for (const auto& ring : rings) {
        all.insert(all.end(), ring.begin(), ring.end());
        if (near_first) {
            if (const auto at = placer.place(label, lettering, ring)) return at;
        } else {
            for (const Over over : {Over::nothing, Over::lines})
                if (const auto at = placer.place_lines({label}, lettering, ring, over)) return at;
        }
    }
    return placer.place(label, lettering, all);
}

/// Places along a loop, `step` units of the picture apart or less.
std::vector<Point> places_along(const Loop& loop, const View& view, double step) {
    std::vector<Point> places;
    for (const EdgePiece& edge : loop) {
        double length = 0; // of a few chords
        constexpr int chords = 8;
        for (int k = 0; k < chords; ++k) {
            const Point a = point_on(edge, static_cast<double>(k) / chords),
                        b = point_on(edge, static_cast<double>(k + 1) / chords);
            length += view.scale * std::hypot(b.x - a.x, b.y - a.y);
        }
        const int n = std::max(1, static_cast<int>(std::ceil(length / step)));
        for (int k = 0; k < n; ++k) places.push_back(view(point_on(edge, static_cast<double>(k) / n)));
    }
    return places;
}

/// Labels keep off the edge where they can.
void keep_off(Placer& placer, const Loop& loop, const View& view) {
    constexpr double step = 4, clear = 2;
    for (const Point& p : places_along(loop, view, step))
        placer.keep_off({p.x - clear, p.y - clear, p.x + clear, p.y + clear}, Over::edges);
}

void keep_off(Placer& placer, const Support& support, const View& view) {
    const std::vector<Point> corners = corners_of(support);
    Loop loop;
    for (std::size_t i = 0; i < corners.size(); ++i)
        loop.push_back({.a = corners[i], .b = corners[(i + 1) % corners.size()]});
    keep_off(placer, loop, view);
}

/// Whether the skin of the hollow lies under the whole box: neither its rim nor a land.
bool is_on_skin(const Plan& plan, const Hollow& hollow, const Box& box, const View& view) {
    for (const double x : {box.x0, (box.x0 + box.x1) / 2, box.x1})
        for (const double y : {box.y0, (box.y0 + box.y1) / 2, box.y1})
            if (const Point at = view.place_of({x, y});
                !is_inside(hollow.loop, at) || thickness_at(plan, at) != hollow.skin)
                return false;
    return true;
}

/// A line of small boxes along the stiffener, so that no label covers it.
void keep_clear(Placer& placer, const Stiffener& stiffener, const View& view) {
    constexpr int n = 40;
    for (int k = 0; k <= n; ++k) {
        const double share = static_cast<double>(k) / n;
        const Point p = view({stiffener.from.x + share * (stiffener.to.x - stiffener.from.x),
                              stiffener.from.y + share * (stiffener.to.y - stiffener.from.y)});
        placer.take({p.x - 3, p.y - 3, p.x + 3, p.y + 3});
    }
}

/// How deep the hollow is and what it leaves: in one line, or where that does not fit in two; left out where
/// both would lie on more than `worst`. Of several hollows the name above it, where it has room.
void put_depth(Svg& svg, Placer& placer, const Plan& plan, const Hollow& hollow, const View& view,
               double size, Units units, Over worst) {
    const Lettering strong{.size = size, .anchor = Anchor::middle, .bold = true, .halo = ink::skin};
    const Box box = view.box(bounds_of(hollow.loop));
    const double w = box.x1 - box.x0, h = box.y1 - box.y0;
    const auto put = [&](const std::vector<std::string>& lines, Over over) {
        double half = 0; // with a gap to the walls
        for (const std::string& line : lines)
            half = std::max(half, width_of_words(line, strong.size) * 0.55 + 6); // bold
        const double tall = static_cast<double>(lines.size() - 1) * line_height(strong);
        constexpr std::size_t many = 4; // among so many a label beyond its own says little
        if (plan.hollows.size() > many && (2 * (half - 5) > w || tall + size > h)) return false;
        std::vector<Point> places;
        for (const double fy : {0.28, 0.72, 0.2, 0.8, 0.4, 0.6, 0.12, 0.88})
            for (const double fx : {0.27, 0.73, 0.5, 0.2, 0.8, 0.35, 0.65}) {
                const double x = box.x0 + fx * w;
                places.push_back(
                    {2 * half < w ? std::clamp(x, box.x0 + half, box.x1 - half) : (box.x0 + box.x1) / 2,
                     box.y0 + fy * h - tall / 2});
            }
        std::stable_partition(places.begin(), places.end(), [&](Point at) {
            const Box first = box_of_words(at, lines.front(), strong);
            return is_on_skin(plan, hollow, {at.x - half, first.y0, at.x + half, first.y1 + tall}, view);
        });
        const auto at = placer.place_lines(lines, strong, places, over);
        if (!at) return false;
        for (std::size_t i = 0; i < lines.size(); ++i)
            svg.text({at->x, at->y + static_cast<double>(i) * line_height(strong)}, lines[i], strong);
        return true;
    };
    const std::string deep = drawn_length(hollow.depth, units) + " deep";
    const std::string leaves = "leaves " + drawn_length(hollow.skin, units);
    const bool named = plan.hollows.size() > 1 && !hollow.name.empty() &&
                       1.1 * width_of_words(hollow.name, strong.size) + 12 <= w; // as bold, with a gap
    for (const Over over : {Over::nothing, Over::lines}) { // rather with its name on a line than without it
        if (!named || over > worst) break;
        if (put({hollow.name, deep + ", " + leaves}, over)) return;
        if (put({hollow.name, deep, leaves}, over)) return;
    }
    for (const Over over : from_the_best) {
        if (over > worst) break;
        if (named && put({hollow.name, deep, leaves}, over)) return;
        if (over != Over::edges && put({deep + ", " + leaves}, over)) return;
        if (put({deep, leaves}, over)) return;
    }
    if (named) put({hollow.name}, Over::lines);
}

/// An arrow along the grain in a free place of the plan, else above its left end.
void draw_grain(Svg& svg, const Piece& piece, const View& view, double size, Placer& placer) {
    const double angle = piece.top.grain_deg * std::numbers::pi / 180;
    const Point a = view({0, 0}), b = view({std::cos(angle), std::sin(angle)});
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    const Point t{(b.x - a.x) / length, (b.y - a.y) / length};
    const auto arrow = [&](Point c, double half) {
        const Point from{c.x - half * t.x, c.y - half * t.y}, to{c.x + half * t.x, c.y + half * t.y};
        const Look look{.stroke = ink::soft, .width = 1.2};
        svg.line(from, to, look);
        for (const double end : {1.0, -1.0}) {
            const Point tip = end > 0 ? to : from;
            for (const double side : {1.0, -1.0})
                svg.line(tip,
                         {tip.x - end * 6 * t.x - side * 3 * t.y, tip.y - end * 6 * t.y + side * 3 * t.x},
                         look);
        }
    };
    const Lettering lettering{.size = size, .fill = ink::soft, .anchor = Anchor::middle};
    const Rectangle& r = view.bounds;
    const double half = 17;
    const double wx = std::max(half * std::abs(t.x), width_of_words("grain", size) / 2) + 3;
    const double up = half * std::abs(t.y) + 4, down = half * std::abs(t.y) + size + 4;
    for (const Over over : {Over::nothing, Over::lines})
        for (const double fy : {0.8, 0.7, 0.2, 0.3, 0.5, 0.6, 0.4, 0.9, 0.1})
            for (const double fx :
                 {0.5, 0.35, 0.65, 0.3, 0.7, 0.22, 0.78, 0.42, 0.58, 0.12, 0.88, 0.83, 0.17}) {
                const Point c = view({r.x0 + fx * (r.x1 - r.x0), r.y0 + fy * (r.y1 - r.y0)});
                const Box box{c.x - wx, c.y - up, c.x + wx, c.y + down};
                if (!placer.is_free(box, over)) continue;
                placer.take(box);
                arrow(c, half);
                svg.text({c.x, c.y + half * std::abs(t.y) + size + 1}, "grain", lettering);
                return;
            }
    const Box top = view.box(r);
    arrow({top.x0 + 16, top.y0 - 13}, 10);
    svg.text({top.x0 + 44, top.y0 - 9.5}, "grain", lettering);
}

/// "P1", "P2", ... beside the loads that are drawn, by their place in the list of the piece.
void put_load_marks(Svg& svg, Placer& placer, const Piece& piece, const View& view, double size) {
    const Lettering lettering{
        .size = size, .fill = ink::accent, .anchor = Anchor::middle, .bold = true, .halo = ink::paper};
    for (std::size_t k = 0; k < piece.loads.size(); ++k) {
        const auto at = place_of_load(piece.loads[k]);
        if (!at) continue;
        const std::string mark = load_letter(k);
        std::vector<std::vector<Point>> rings;
        for (const double far : {1.6, 2.4, 3.4}) rings.push_back(around(view(*at), size, far));
        if (const auto place = place_near(placer, mark, lettering, rings, false))
            svg.text(*place, mark, lettering);
    }
}

} // namespace

Svg plan_picture(const std::string& id, const Piece& piece, const Plan& plan, double width, Units units,
                 const PlanContent& content) {
    const bool narrow = width < 500;
    const double size = narrow ? 11 : 13;
    const Rectangle bounds = bounds_of_plan(plan);
    // at the left two rows of figures, upright: dimension_chains
    const double left = content.dimensions ? 2 * (size + 8) + 1.02 * size + 6 : 6;
    const double right = 16, above = size + 16;
    const double below = content.dimensions ? 2 * (size + 12) + 4 : size + 12;
    // no taller than fits on paper unscaled, where labels would be too small to read
    const double tallest = narrow ? 240 : content.dimensions ? 330 : 560;
    const double scale =
        std::min((width - left - right) / (bounds.x1 - bounds.x0), tallest / (bounds.y1 - bounds.y0));
    const double spare = width - left - right - scale * (bounds.x1 - bounds.x0);
    const double height = above + below + scale * (bounds.y1 - bounds.y0);
    const View view{
        .scale = scale, .origin = {left + spare / 2, above}, .bounds = bounds, .seen = content.seen};
    const bool from_below = content.seen == Seen::from_below;
    std::string description = std::string("The top seen from ") + (from_below ? "below, " : "above, ") +
                              dimension_text(plan.length, units) + " by " +
                              dimension_text(plan.width, units) + ", " +
                              dimension_text(plan.thickness, units) + " thick.";
    for (const Hollow& hollow : plan.hollows) {
        const Rectangle b = bounds_of(hollow.loop);
        description += " Recess " + hollow.name + ": from " + place_text({b.x0, b.y0}, units) + " to " +
                       place_text({b.x1, b.y1}, units) + " " + place_unit(units) + ", " +
                       dimension_text(hollow.depth, units) + " deep.";
    }
    if (content.clamps) description += clamps_told(piece, units);
    Svg svg(id, width, height, from_below ? "Plan from below" : "Plan from above", description);
    Placer placer(width, height);

    svg.path(path_of(plan.outline, view), outline_look);
    for (const Hollow& hollow : plan.hollows) {
        svg.path(path_of(hollow.loop, view), recess_look);
        for (const Loop& land : hollow.lands)
            svg.path(path_of(land, view), {.fill = ink::wood, .stroke = ink::text, .width = 0.9});
    }
    if (content.kept) draw_kept(svg, piece, view);
    if (content.supports)
        for (const Support& support : piece.supports) draw_support(svg, support, view);
    if (content.stiffeners)
        for (const Stiffener& stiffener : piece.stiffeners) draw_stiffener(svg, stiffener, view);
    if (content.clamps) draw_clamps(svg, piece, view);
    if (content.loads) draw_loads(svg, piece, view);

    keep_off(placer, plan.outline, view);
    for (const Hollow& hollow : plan.hollows) {
        keep_off(placer, hollow.loop, view);
        for (const Loop& land : hollow.lands) keep_off(placer, land, view);
    }
    if (content.supports)
        for (const Support& support : piece.supports) keep_off(placer, support, view);

    const Box top = view.box(bounds);
    const double front = from_below ? top.y0 - 6 : top.y1 + size + 1;
    svg.text({(top.x0 + top.x1) / 2, front}, "front edge (y = 0)",
             {.size = size, .fill = ink::soft, .anchor = Anchor::middle});
    placer.take({(top.x0 + top.x1) / 2 - 60, front - 1 - size, (top.x0 + top.x1) / 2 + 60, front + 5});
    svg.circle(view({bounds.x0, bounds.y0}), 2.5, {.fill = ink::accent});
    const Point origin = view({bounds.x0, bounds.y0});
    placer.take({origin.x - 4, origin.y - 4, origin.x + 4, origin.y + 4});

    if (content.sections) {
        const SectionLines lines = section_lines(plan);
        const Look look{.stroke = ink::accent, .width = 0.9, .dash = "9 3 2 3"};
        const Point a = view({bounds.x0, lines.y}), b = view({bounds.x1, lines.y});
        const Point c = view({lines.x, bounds.y0}), d = view({lines.x, bounds.y1});
        svg.line({a.x - 6, a.y}, {b.x + 6, b.y}, look);
        svg.line({c.x, c.y - 3}, {d.x, d.y + 6}, look);
        const Lettering letter{
            .size = size, .fill = ink::accent, .anchor = Anchor::middle, .bold = true, .halo = ink::paper};
        const auto put = [&](Point at, const char* name) {
            svg.text(at, name, letter);
            placer.take(box_of_words(at, name, letter));
        };
        put({b.x + 10, b.y + 4}, "1");
        put({c.x + 7, c.y + size + 1}, "2");
        placer.keep_off({a.x, a.y - 1, b.x, b.y + 1}, Over::lines);
        placer.keep_off({c.x - 1, c.y, c.x + 1, d.y}, Over::lines);
    }
    if (content.stiffeners)
        for (const Stiffener& s : piece.stiffeners) keep_clear(placer, s, view);
    if (content.gauges)
        for (const Mark& spot : content.spots) {
            const Point at = view(spot.at);
            svg.line({at.x - 3, at.y}, {at.x + 3, at.y}, {.stroke = ink::accent, .width = 1.2});
            svg.line({at.x, at.y - 3}, {at.x, at.y + 3}, {.stroke = ink::accent, .width = 1.2});
            placer.take({at.x - 3, at.y - 3, at.x + 3, at.y + 3});
        }
    if (content.worst) {
        const Point at = view(*content.worst);
        svg.circle(at, 5, {.stroke = ink::text, .width = 1.6});
        svg.circle(at, 1.5, {.fill = ink::text});
        placer.take({at.x - 6, at.y - 6, at.x + 6, at.y + 6});
    }
    if (content.dimensions) {
        std::vector<double> xs{bounds.x0, bounds.x1}, ys{bounds.y0, bounds.y1};
        for (const Hollow& hollow : plan.hollows) {
            const Rectangle b = bounds_of(hollow.loop);
            xs.insert(xs.end(), {b.x0, b.x1});
            ys.insert(ys.end(), {b.y0, b.y1});
        }
        const DimensionStyle style{.size = size, .units = units};
        dimension_chains(svg, placer, view, xs, ys, style);
    }
    // labels, those that matter most first
    const auto on_top = [&](std::vector<Point> places) {
        std::erase_if(places, [&](Point p) {
            return p.x < top.x0 || p.x > top.x1 || p.y - size < top.y0 || p.y > top.y1;
        });
        return places;
    };
    const auto put_depths = [&] {
        for (const Hollow& hollow : plan.hollows)
            put_depth(svg, placer, plan, hollow, view, size + 0.5, units,
                      content.gauges ? Over::lines : Over::edges); // beside each mark the table tells it
    };
    if (content.depths && !content.gauges) put_depths();
    const Lettering name{.size = size, .anchor = Anchor::middle, .bold = true, .halo = ink::paper};
    if (content.supports)
        for (std::size_t i = 0; i < piece.supports.size(); ++i) {
            const Point at = view(middle_of(piece.supports[i]));
            std::vector<std::vector<Point>> rings{{{at.x, at.y + 0.35 * size}}};
            for (const double far : {1.0, 1.7, 2.6}) rings.push_back(on_top(around(at, size, far)));
            // beside it; what is long may be covered a little, a foot not
            if (!std::holds_alternative<Pad>(piece.supports[i].kind)) rings.resize(2);
            if (const auto place = place_near(placer, support_letter(i), name, rings, false))
                svg.text(*place, support_letter(i), name);
        }
    for (std::size_t i = 0; content.stiffeners && i < piece.stiffeners.size(); ++i) {
        const Stiffener& s = piece.stiffeners[i];
        std::vector<std::vector<Point>> rings;
        for (const double far : {1.0, 1.7, 2.6}) {
            rings.emplace_back();
            for (const double share : {0.5, 0.25, 0.75, 0.1, 0.9})
                for (const Point& p : on_top(around(view({s.from.x + share * (s.to.x - s.from.x),
                                                          s.from.y + share * (s.to.y - s.from.y)}),
                                                    1.1 * size, far)))
                    rings.back().push_back(p);
        }
        Lettering lettering = name;
        lettering.fill = ink::steel;
        if (const auto place = place_near(placer, std::to_string(i + 1), lettering, rings, false))
            svg.text(*place, std::to_string(i + 1), lettering);
    }
    if (content.loads) put_load_marks(svg, placer, piece, view, size);
    if (content.worst) {
        const Lettering bold{.size = size, .anchor = Anchor::middle, .bold = true, .halo = ink::paper};
        std::vector<std::vector<Point>> rings;
        for (const double far : {2.4, 3.2, 4.2})
            rings.push_back(on_top(around(view(*content.worst), size, far)));
        if (const auto place = place_near(placer, "worst", bold, rings, true))
            svg.text(*place, "worst", bold);
    }
    if (content.clamps) put_clamp_names(svg, placer, piece, view, size);
    if (content.gauges)
        for (const Mark& spot : content.spots) {
            const Lettering lettering{
                .size = size, .fill = ink::accent, .anchor = Anchor::middle, .halo = ink::paper};
            std::vector<std::vector<Point>> rings;
            for (const double far : {1.0, 1.7, 2.6}) rings.push_back(around(view(spot.at), size + 1, far));
            const auto hollow = std::find_if(plan.hollows.begin(), plan.hollows.end(), [&](const Hollow& h) {
                const Rectangle b = bounds_of(h.loop);
                return b.x0 <= spot.at.x && spot.at.x <= b.x1 && b.y0 <= spot.at.y && spot.at.y <= b.y1;
            });
            const Rectangle room = hollow == plan.hollows.end() ? bounds : bounds_of(hollow->loop);
            if (spot.at.x > (room.x0 + room.x1) / 2) // away from the wall on that side
                for (auto& ring : rings)
                    for (Point& p : ring) p.x = 2 * view(spot.at).x - p.x;
            if (const auto place = place_near(placer, spot.label, lettering, rings, true))
                svg.text(*place, spot.label, lettering);
        }
    if (content.kept) put_kept_names(svg, placer, piece, view, size);
    if (content.depths && content.gauges) put_depths();
    for (std::size_t k = 0; content.loads && k < piece.loads.size(); ++k)
        if (const auto* patch = std::get_if<PatchLoad>(&piece.loads[k].kind); patch && !patch->travels)
            placer.take(view.box({patch->at.x - patch->size_x / 2, patch->at.x + patch->size_x / 2,
                                  patch->at.y - patch->size_y / 2, patch->at.y + patch->size_y / 2}));
    draw_grain(svg, piece, view, size, placer);
    return svg;
}

} // namespace hollowtop::cli
