// SPDX-License-Identifier: MIT
#pragma once
/// \file  The router's template of a piece: openings for a guide bush and a cutter, islands, drill holes and
/// slots.
/// Everything here in the piece's own coordinates, seen from above; the drawings turn it over, for the
/// template lies on the underside. mm.

#include "cli/report/drawing/svg.hpp"
#include "cli/report/workshop/bench.hpp"
#include "cli/report/workshop/offset.hpp"
#include "solver/piece/piece.hpp"

#include <string>
#include <vector>

namespace hollowtop::cli {

struct RouterSetup {
    double cutter = 12; ///< diameter
    double bush = 0;    ///< outer diameter of the guide bush; equal to the cutter: a bearing on the cutter
    double offset() const { return (bush - cutter) / 2; }
};

struct Cut {
    std::string name;
    Loop wanted;         ///< the wall as it shall be
    Loop edge;           ///< the template's edge
    bool island = false; ///< wood stays inside
    double depth = 0;
};

struct Slot {
    Point at{};
    double length = 0, width = 0;
    double angle_deg = 0; ///< of its length from x
};
struct Hole {
    Point at{};
    double diameter = 0;
};

/// What lies under the top, for marking out: corners in order.
struct Footprint {
    std::string name;
    std::vector<Point> corners;
};

struct Template {
    RouterSetup setup;
    Rectangle bounds{};
    Loop outline;
    std::vector<Cut> cuts;
    std::vector<Hole> pilots; ///< in the wood
    std::vector<Slot> slots;  ///< in the stiffener, about the same places
    std::vector<Hole> holes;  ///< in the stiffener, round
    std::vector<Footprint> stiffeners, pads;
    std::vector<Message> notes;
};

/// Throws Error(input) with the recess as its place where the cutter cannot reach a corner, where a recess or
/// a gap beside a land is narrower than the cutter, and where openings run into one another; and with --bush
/// where the bush is smaller than the cutter.
Template template_of(const Piece& piece, const Plan& plan, const Bench& bench, const RouterSetup& setup);

/// Lines, holes and the words that stand in openings, drawn from below: 1 unit a millimetre, the corner of the
/// top's box that is nearest the origin at `corner`.
void draw_template(Svg& svg, const Template& drawn, Point corner);
/// The sentences below the drawing: how it lies, cutter and bush, depths, notes.
std::vector<std::string> lines_of(const Template& drawn, const std::string& title);

/// The drawing at 1:1, seen from below, in millimetres.
std::string template_svg(const Template& drawn, const std::string& title);
std::string template_dxf(const Template& drawn, const std::string& title);

} // namespace hollowtop::cli
