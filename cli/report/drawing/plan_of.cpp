// SPDX-License-Identifier: MIT
#include "cli/report/drawing/plan_of.hpp"

#include "materials/section.hpp"
#include "solver/interface/screw_places.hpp"
#include "solver/piece/skin.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {

double Hollow::area() const {
    double area = std::abs(area_of(loop));
    for (const Loop& land : lands) area -= std::abs(area_of(land));
    return area;
}

Plan plan_of(const Piece& piece) {
    Plan plan{.length = piece.top.length,
              .width = piece.top.width,
              .thickness = piece.top.thickness,
              .outline = {},
              .hollows = {}};
    plan.outline = std::visit([](const auto& shape) { return loop_of(shape); }, piece.top.outline);
    for (const Recess& recess : piece.recesses) {
        Hollow hollow{.name = recess.name,
                      .loop = {},
                      .lands = {},
                      .land_names = {},
                      .depth = recess.depth,
                      .skin = skin_of(recess, piece.top),
                      .root_radius = recess.root_radius};
        if (const auto* rim = std::get_if<RimShape>(&recess.shape))
            hollow.loop = inset(piece.top.outline, rim->rim, rim->corner_radius);
        else if (const auto* box = std::get_if<RectangleShape>(&recess.shape))
            hollow.loop = loop_of(*box);
        else
            hollow.loop = loop_of(std::get<PolygonShape>(recess.shape));
        for (const Land& land : recess.lands) {
            hollow.lands.push_back(std::visit([](const auto& shape) { return loop_of(shape); }, land.shape));
            hollow.land_names.push_back(land.name);
        }
        plan.hollows.push_back(std::move(hollow));
    }
    return plan;
}

double thickness_at(const Plan& plan, Point at) {
    if (!is_inside(plan.outline, at)) return 0;
    for (const Hollow& hollow : plan.hollows) {
        if (!is_inside(hollow.loop, at)) continue;
        const bool on_land = std::any_of(hollow.lands.begin(), hollow.lands.end(),
                                         [&](const Loop& land) { return is_inside(land, at); });
        return on_land ? plan.thickness : hollow.skin;
    }
    return plan.thickness;
}

std::vector<Stretch> section_along(const Plan& plan, bool along_x, double place) {
    std::vector<double> cuts;
    const auto take = [&](const Loop& loop) {
        for (const EdgePiece& piece : loop)
            if (const auto at = along_x ? x_at(piece, place) : y_at(piece, place)) cuts.push_back(*at);
    };
    take(plan.outline);
    for (const Hollow& hollow : plan.hollows) {
        take(hollow.loop);
        for (const Loop& land : hollow.lands) take(land);
    }
    std::sort(cuts.begin(), cuts.end());
    std::vector<Stretch> stretches;
    constexpr double nought = 1e-6;
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
        if (cuts[i + 1] - cuts[i] < nought) continue;
        const double middle = (cuts[i] + cuts[i + 1]) / 2;
        const double thickness = thickness_at(plan, along_x ? Point{middle, place} : Point{place, middle});
        if (thickness <= 0) continue;
        const bool goes_on = !stretches.empty() && stretches.back().thickness == thickness &&
                             cuts[i] - stretches.back().to < nought;
        if (goes_on)
            stretches.back().to = cuts[i + 1];
        else
            stretches.push_back({.from = cuts[i], .to = cuts[i + 1], .thickness = thickness});
    }
    return stretches;
}

std::vector<ScrewPlace> drilled_places(const Stiffener& stiffener) {
    const double length = std::hypot(stiffener.to.x - stiffener.from.x, stiffener.to.y - stiffener.from.y);
    const Point along{(stiffener.to.x - stiffener.from.x) / length,
                      (stiffener.to.y - stiffener.from.y) / length};
    const materials::Section section = materials::parse_section(stiffener.section);
    // The line from `from` to `to` is the middle of what lies against the wood; y points to its left.
    const double aside = section.screw_y - (section.contact_y0 + section.contact_y1) / 2;
    std::vector<ScrewPlace> places;
    for (const double s : screw_places(stiffener))
        places.push_back({.from_start = s,
                          .at = {stiffener.from.x + s * along.x - aside * along.y,
                                 stiffener.from.y + s * along.y + aside * along.x}});
    return places;
}

Rectangle bounds_of_plan(const Plan& plan) { return bounds_of(plan.outline); }

} // namespace hollowtop::cli
