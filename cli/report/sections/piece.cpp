// SPDX-License-Identifier: MIT
// What is to be built: drawings to scale, and its weight.
#include "cli/report/drawing/plan_picture.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "materials/sheet.hpp"
#include "materials/wood.hpp"

#include <cmath>

namespace hollowtop::cli {
namespace {} // namespace

std::string top_material_words(const Piece& piece) {
    if (!piece.top.sheet.empty()) return materials::find_sheet(piece.top.sheet).name;
    if (piece.top.wood.empty()) return "a material of stated elastic constants";
    return materials::find_wood(piece.top.wood).common_name;
}

namespace {

std::string rings_words(double deg) {
    if (deg == 0) return "flat-sawn";
    if (deg == 45) return "rift-sawn";
    if (deg == 90) return "quarter-sawn";
    return "rings at " + significant(deg, 4) + " degrees to the face";
}

std::string support_kind(const Support& support, Units units) {
    const auto place = [&](Point p) { return place_text(p, units) + " " + place_unit(units); };
    const auto held = [](bool down) { return down ? ", held down" : ""; };
    if (const auto* pad = std::get_if<Pad>(&support.kind))
        return "pad " + dimension_text(pad->size_x, units) + " by " + dimension_text(pad->size_y, units) +
               " at " + place(pad->at) + held(pad->hold_down);
    if (const auto* bearer = std::get_if<Bearer>(&support.kind))
        return (bearer->width > 0 ? "bearer " + dimension_text(bearer->width, units) + " wide"
                                  : "knife edge") +
               " from " + place(bearer->from) + " to " + place(bearer->to) + held(bearer->hold_down);
    if (const auto* rail = std::get_if<Rail>(&support.kind))
        return "rail " + rail->section + " from " + place(rail->from) + " to " + place(rail->to) +
               held(rail->hold_down);
    if (const auto* line = std::get_if<Held>(&support.kind))
        return "held line from " + place(line->from) + " to " + place(line->to);
    const auto& built_in = std::get<BuiltIn>(support.kind);
    return "built in from " + place(built_in.from) + " to " + place(built_in.to);
}

} // namespace

Markup piece_facts(const Sheet& sheet) {
    const Piece& piece = sheet.in.piece;
    const Units units = sheet.units();
    const auto length = [&](double mm) { return words(dimension_text(mm, units)); };
    std::string boards;
    if (piece.top.boards > 0) boards = std::to_string(piece.top.boards);
    std::vector<std::pair<std::string, Markup>> rows{
        {"Size", length(piece.top.length) + words(" by ") + length(piece.top.width) + words(", ") +
                     length(piece.top.thickness) + words(" thick")},
        {piece.top.sheet.empty() ? "Wood" : "Sheet",
         words(top_material_words(piece) +
               (piece.top.wood.empty() ? "" : ", " + rings_words(piece.top.ring_angle_deg)) + ", grain at " +
               significant(piece.top.grain_deg, 4) + " degrees to the length")},
        {"Boards", words(boards)},
        {"Made at", piece.top.wood.empty()
                        ? Markup{}
                        : words(significant(piece.top.moisture_percent, 4) + " % moisture content")}};
    if (piece.top.measured.E_along)
        rows.push_back(
            {"Measured stiffness along the grain",
             words(units == Units::mm
                       ? fixed(*piece.top.measured.E_along, 0) + " MPa"
                       : fixed(Pressure::from_MPa(*piece.top.measured.E_along).psi(), 0) + " psi")});
    if (piece.top.measured.density_kg_m3)
        rows.push_back(
            {"Measured density", words(fixed(*piece.top.measured.density_kg_m3, 0) + " kg/m\u00b3")});
    return facts(rows);
}

Markup piece_section(const Sheet& sheet) {
    const Piece& piece = sheet.in.piece;
    const Units units = sheet.units();
    Markup inner = figure(
        words(std::string("Section 1, along the length, seen from the front, to scale; figures give the "
                          "thickness left. Hatched ") +
              (runs_along_grain(piece, true) ? "along the grain." : "aslant: cut across the grain.")),
        [&](const std::string& end, double width) {
            return section_picture("section1" + end, piece, sheet.plan, width, units, true);
        });
    std::vector<TableRow> recesses;
    for (const RecessWork& work : sheet.bench.recesses) {
        const auto size = [&](double mm) { return words(dimension_text(mm, units)); };
        recesses.push_back({{own(work.name),
                             words(place_text({work.box.x0, work.box.y0}, units) + " to " +
                                   place_text({work.box.x1, work.box.y1}, units)),
                             size(work.depth), size(work.skin),
                             work.root_radius > 0 ? size(work.root_radius) : words("sharp")}});
    }
    if (!recesses.empty())
        inner += table("Recesses, cut from below",
                       {{"recess"},
                        {std::string("x, y from corner to corner, ") + place_unit(units)},
                        {"depth", true},
                        {"skin left", true},
                        {"radius at the floor", true}},
                       recesses);
    std::vector<TableRow> supports;
    for (std::size_t i = 0; i < piece.supports.size(); ++i)
        supports.push_back({{words(support_letter(i)), own(piece.supports[i].name),
                             words(support_kind(piece.supports[i], units))}});
    inner += table("Supports", {{"mark"}, {"name"}, {"what it is"}}, supports);
    for (const Embedded& photograph : sheet.in.photographs)
        inner += element("figure",
                         Markup{"<img alt=\"" + escaped(photograph.caption) +
                                "\" src=\"data:" + photograph.type + ";base64," + photograph.base64 + "\">"} +
                             element("figcaption", element("b", Markup{std::string(figure_number)}) +
                                                       own(photograph.caption))) +
                 Markup{"\n"};
    return element("section", heading(sheet, "piece") + inner);
}

Markup weight_section(const Sheet& sheet) {
    const Mass& mass = sheet.result().mass;
    std::vector<TableRow> rows{{{words("solid, before"), massed(sheet, mass.solid_kg, "/mass/solid_kg")}},
                               {{words("top, hollowed"), massed(sheet, mass.top_kg, "/mass/top_kg")}}};
    if (mass.stiffeners_kg > 0)
        rows.push_back({{words("stiffeners"), massed(sheet, mass.stiffeners_kg, "/mass/stiffeners_kg")}});
    if (mass.cover_kg > 0) rows.push_back({{words("cover"), massed(sheet, mass.cover_kg, "/mass/cover_kg")}});
    rows.push_back({{words("in all, after"), massed(sheet, mass.total_kg, "/mass/total_kg")}, "total"});
    if (mass.saved_kg >= 0)
        rows.push_back({{words("saved"), massed(sheet, mass.saved_kg, "/mass/saved_kg") + words(" (") +
                                             number(mass.saved_percent, "/mass/saved_percent",
                                                    percent_text(mass.saved_percent)) +
                                             words(")")}});
    else
        rows.push_back({{words("heavier than solid by"),
                         number(mass.saved_kg, "/mass/saved_kg", mass_text(-mass.saved_kg, sheet.units()))}});
    return element("section", heading(sheet, "weight") +
                                  table("What the top weighs", {{"what"}, {"weight", true}}, rows) +
                                  solid_equal_part(sheet));
}

} // namespace hollowtop::cli
