// SPDX-License-Identifier: MIT
#include "cli/report/workshop/parts_drawing.hpp"

#include "cli/report/workshop/dxf.hpp"
#include "cli/words/format.hpp"
#include "materials/error.hpp"
#include "materials/section.hpp"
#include "solver/piece/screw_holes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop::cli {

std::string parts_dxf(const Piece& piece, const Bench& bench, const std::string& title) {
    if (piece.stiffeners.empty())
        throw Error(ErrorKind::input,
                    Fault{"stiffeners", "this piece has no stiffener", "leave --parts out"});
    constexpr double letters = 4, gap = 12;
    Dxf dxf;
    dxf.layer("PART", 7);
    dxf.layer("HOLE", 5);
    dxf.layer("SLOT", 5);
    dxf.layer("NOTES", 3);
    double y = 0; // of the upper edge of the next part
    for (std::size_t i = 0; i < piece.stiffeners.size(); ++i) {
        const StiffenerWork& work = bench.stiffeners[i];
        const Stiffener& stiffener = piece.stiffeners[i];
        const materials::Section section = materials::parse_section(work.section);
        const double width = section.contact_y1 - section.contact_y0, low = y - width;
        dxf.closed("PART", {{{0, low}, 0}, {{work.length, low}, 0}, {{work.length, y}, 0}, {{0, y}, 0}});
        // seen from the wood: the part's left edge, seen along it from above, lies at the top
        const double line = low + (section.screw_y - section.contact_y0);
        const double along = std::atan2(stiffener.to.y - stiffener.from.y, stiffener.to.x - stiffener.from.x);
        const double turn = (piece.top.grain_deg + 90) * std::numbers::pi / 180 - along;
        std::string kinds;
        for (const ScrewWork& screw : work.screws) {
            const Point at{screw.from_start, line};
            if (work.holes != Holes::slotted || screw.fixed) {
                dxf.circle("HOLE", at, work.hole / 2);
                continue;
            }
            const double length =
                             screw.slot_length > 0 ? screw.slot_length : slot_diameters * work.screw_diameter,
                         half = std::max(length - work.hole, 0.0) / 2, r = work.hole / 2;
            const Point t{std::cos(turn), std::sin(turn)}, n{-t.y, t.x};
            const auto corner = [&](double s, double side) {
                return Point{at.x + s * half * t.x + side * r * n.x, at.y + s * half * t.y + side * r * n.y};
            };
            dxf.closed("SLOT",
                       {{corner(-1, -1), 0}, {corner(1, -1), 1}, {corner(1, 1), 0}, {corner(-1, 1), 1}});
        }
        dxf.text("NOTES", {0, low - letters - 2}, letters,
                 std::to_string(i + 1) + " " + work.name + ": " + work.section + ", " + work.material + ", " +
                     fixed(work.length, 1) + " mm long; the side against the wood, its start at the left");
        y = low - letters - gap;
    }
    dxf.text("NOTES", {0, y - letters}, letters, title + ", 1:1 in millimetres");
    return dxf.file();
}

} // namespace hollowtop::cli
