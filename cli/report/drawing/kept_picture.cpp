// SPDX-License-Identifier: MIT
#include "cli/report/drawing/kept_picture.hpp"

#include "cli/report/drawing/colours.hpp"
#include "cli/report/drawing/plan_marks.hpp"
#include "materials/section.hpp"
#include "solver/capacity/in_recess.hpp"
#include "solver/piece/kept_region.hpp"
#include "solver/piece/skin.hpp"

#include <algorithm>

namespace hollowtop::cli {
namespace {

const Look kept_look{.stroke = ink::accent, .width = 1, .dash = "5 3"};
const Look cover_look{.stroke = ink::steel, .width = 1, .dash = "10 3 2 3"};
const Look cover_cut{.fill = "#d9c9a8", .stroke = ink::steel, .width = 0.8};

double top_of(const Recess& recess, const Kept& kept, const Top& top) {
    return skin_of(recess, top) + (kept.hangs_on == HangsOn::skin ? 0 : working_clearance);
}

} // namespace

void draw_kept(Svg& svg, const Piece& piece, const View& view) {
    for (const Recess& recess : piece.recesses) {
        if (recess.holds.empty() && !recess.cover) continue;
        const RecessTraces traces = traces_of(recess, piece.top.outline);
        if (recess.cover) {
            constexpr double inside = 3; // units of the picture
            const std::vector<Point> corners = moved_inwards(traces.recess.points, inside / view.scale);
            svg.polygon(seen(corners.empty() ? traces.recess.points : corners, view), cover_look);
        }
        for (const Kept& kept : recess.holds)
            svg.polygon(seen(corners_of(footprint_of(kept, traces)), view), kept_look);
    }
}

void put_kept_names(Svg& svg, Placer& placer, const Piece& piece, const View& view, double size) {
    const Lettering lettering{.size = size, .fill = ink::accent, .anchor = Anchor::middle, .halo = ink::skin};
    for (const Recess& recess : piece.recesses) {
        if (recess.holds.empty()) continue;
        const RecessTraces traces = traces_of(recess, piece.top.outline);
        for (const Kept& kept : recess.holds) {
            const Box box = view.box(footprint_of(kept, traces));
            const double half = width_of_words(kept.name, lettering.size) / 2 + 3;
            if (2 * half > box.x1 - box.x0) continue; // the table names it
            std::vector<Point> places;
            for (const double fy : {0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9})
                for (const double fx : {0.5, 0.35, 0.65, 0.2, 0.8})
                    places.push_back(
                        {std::clamp(box.x0 + fx * (box.x1 - box.x0), box.x0 + half, box.x1 - half),
                         box.y0 + fy * (box.y1 - box.y0) + 0.35 * size});
            if (const auto place = placer.place(kept.name, lettering, places))
                svg.text(*place, kept.name, lettering);
        }
    }
}

double kept_reach(const Piece& piece) {
    double reach = 0;
    for (const Recess& recess : piece.recesses) {
        for (const Kept& kept : recess.holds)
            reach = std::max(reach, top_of(recess, kept, piece.top) + kept.height);
        if (recess.cover && !recess.cover->trim.empty())
            reach =
                std::max(reach, piece.top.thickness + materials::parse_section(recess.cover->trim).height);
    }
    return reach;
}

void draw_kept_section(Svg& svg, const Piece& piece, const Plan& plan, bool along_x, double line,
                       const std::function<Point(double along, double depth)>& at) {
    const double thickness = piece.top.thickness;
    const auto box = [&](double from, double to, double upper, double lower) {
        return std::vector<Point>{at(from, upper), at(to, upper), at(to, lower), at(from, lower)};
    };
    const std::vector<Stretch> stretches = section_along(plan, along_x, line);
    for (std::size_t i = 0; i < piece.recesses.size(); ++i) {
        const Recess& recess = piece.recesses[i];
        if (recess.holds.empty() && !recess.cover) continue;
        for (const Stretch& s : stretches) {
            const double middle = (s.from + s.to) / 2;
            if (!recess.cover || !(s.thickness < thickness) ||
                !is_inside(plan.hollows[i].loop, along_x ? Point{middle, line} : Point{line, middle}))
                continue;
            svg.polygon(box(s.from, s.to, thickness - recess.cover->thickness, thickness), cover_cut);
            if (recess.cover->trim.empty()) continue;
            const materials::Section trim = materials::parse_section(recess.cover->trim);
            for (const double wall : {s.from, s.to}) // half on the rim, half under the cover
                svg.polygon(
                    box(wall - trim.width / 2, wall + trim.width / 2, thickness, thickness + trim.height),
                    cover_cut);
        }
        const RecessTraces traces = traces_of(recess, piece.top.outline);
        for (const Kept& kept : recess.holds) {
            const Rectangle print = footprint_of(kept, traces);
            if (along_x ? line < print.y0 || line > print.y1 : line < print.x0 || line > print.x1) continue;
            const double upper = top_of(recess, kept, piece.top);
            svg.polygon(
                box(along_x ? print.x0 : print.y0, along_x ? print.x1 : print.y1, upper, upper + kept.height),
                kept_look);
        }
    }
}

std::string kept_caption(const Piece& piece) {
    bool holds = false, covers = false;
    for (const Recess& recess : piece.recesses) {
        holds = holds || !recess.holds.empty();
        covers = covers || recess.cover;
    }
    return std::string(holds ? " Dashed, by name: what a recess holds." : "") +
           (covers ? " Dash and dot: the edge of its cover." : "");
}

} // namespace hollowtop::cli
