// SPDX-License-Identifier: MIT
// How the numbers are made and from what: the method in a paragraph, the data with their sources, and the
// main numbers in both systems of units.
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

std::string density_text(double kg_m3, Units units) {
    constexpr double pounds_per_cubic_foot = 0.062427960576145; // 0.45359237 kg and 0.3048 m, exact
    return units == Units::mm ? fixed(kg_m3, 0) + " kg/m\u00b3"
                              : fixed(kg_m3 * pounds_per_cubic_foot, 1) + " lb/ft\u00b3";
}

std::string modulus_text(double MPa, Units units) {
    if (units == Units::mm) return fixed(MPa, MPa < 10 ? 2 : 0) + " MPa";
    constexpr double psi_per_ksi = 1000;
    return fixed(Pressure::from_MPa(MPa).psi() / psi_per_ksi, 0) + " ksi";
}

std::string datum_text(const Datum& d, Units units) {
    if (d.unit == "MPa") return modulus_text(d.value, units);
    if (d.unit == "kg/m3") return density_text(d.value, units);
    if (d.unit == "%") return significant(d.value, 4) + " %";
    return fixed(d.value, 2);
}

} // namespace

std::string method_sentences(const Piece& piece) {
    std::string method =
        "The top is a plate of one wood whose thickness steps at the walls of the recesses; "
        "it bends, shears through its thickness "
        "(first-order shear deformation) and stretches in its plane, each place about its "
        "own mid-thickness, so that rim and skin work "
        "together as they lie. Small movements, straight grain, elastic wood; what stays is "
        "counted with creep. It is solved by finite "
        "elements of two orders on one mesh, made finer where they differ too much. Supports press "
        "and do not pull unless the piece holds the top down.";
    if (!piece.stiffeners.empty())
        method += " Stiffeners are beams under the wood, joined to it by screws that slip by their "
                  "stiffness; they press where they touch.";
    method += " Strains in the thin layer beside a wall, knots and joints are not in it. Formulas with their "
              "sources: docs/method.md of the program.";
    return method;
}

Markup method_section(const Sheet& sheet) {
    std::vector<TableRow> rows;
    for (std::size_t i = 0; i < sheet.in.data.size(); ++i) {
        const Datum& d = sheet.in.data[i];
        rows.push_back(
            {{words(d.what), number(d.value, at_index("/data", i, "value"), datum_text(d, sheet.units())),
              d.variation_percent ? number(*d.variation_percent, at_index("/data", i, "variation_percent"),
                                           significant(*d.variation_percent, 3) + " %")
                                  : Markup{},
              words(text_of(d.source))}});
    }
    Markup inner = table("What the computation starts from",
                         {{"value of"}, {"value", true}, {"varies by", true}, {"source"}}, rows);
    inner += para(
        words("Varies by: coefficient of variation between pieces of clear wood, Wood Handbook FPL-GTR-190 "
              "Table 5-6. Strengths and what is "
              "allowed of them: ") +
        section_link(sheet, "checks") +
        words(". Exact: g = 9.80665 m/s\u00b2, 1 in = " + significant(Length::from_inches(1).mm(), 3) +
              " mm, 1 lb = 0.45359237 kg, 1 lbf = 4.4482216 N. Numbers have a decimal point."));
    return element("section", heading(sheet, "method") + inner);
}

Markup both_units_part(const Sheet& sheet) {
    const Piece& piece = sheet.in.piece;
    const Result& result = sheet.result();
    std::vector<TableRow> sizes, numbers;
    const auto size = [&](const Markup& what, double mm) {
        const double inches = Length::from_mm(mm).inches();
        sizes.push_back({{what, words(fixed(mm, 1) + " mm"), words(sixty_fourths(inches) + " in"),
                          words(fixed(inches, 3) + " in")}});
    };
    size(words("length"), piece.top.length);
    size(words("width"), piece.top.width);
    size(words("thickness"), piece.top.thickness);
    for (const RecessWork& work : sheet.bench.recesses) {
        const Markup of = words(" of ") + own(work.name);
        size(words("from the left end to the wall") + of, work.box.x0);
        size(words("from the front edge to the wall") + of, work.box.y0);
        size(words("length") + of, work.box.x1 - work.box.x0);
        size(words("width") + of, work.box.y1 - work.box.y0);
        size(words("depth") + of, work.depth);
        size(words("skin left") + of, work.skin);
    }
    for (const StiffenerWork& work : sheet.bench.stiffeners)
        size(words("length of ") + own(work.name), work.length);
    const auto both = [&](const Markup& what, double value, const std::string& pointer, auto&& shown) {
        numbers.push_back({{what, number(value, pointer, shown(value, Units::mm)),
                            number(value, pointer, shown(value, Units::inch))}});
    };
    both(words("weight, solid"), result.mass.solid_kg, "/mass/solid_kg", mass_text);
    both(words("weight, in all, after"), result.mass.total_kg, "/mass/total_kg", mass_text);
    for (std::size_t i = 0; i < result.situations.size(); ++i) {
        const SituationResult& s = result.situations[i];
        const Markup of = words(" in \u201c") + own(text_of(s.name)) + words("\u201d");
        both(words("load") + of, s.applied_N, at_index("/situations", i, "applied_N"), force_text);
        both(words("sag") + of, s.sag_mm, at_index("/situations", i, "sag_mm"), reading_text);
        if (s.sag_limit_mm > 0)
            both(words("sag allowed") + of, s.sag_limit_mm, at_index("/situations", i, "sag_limit_mm"),
                 reading_text);
    }
    Markup inner = para(words("The computation is in millimetres, newtons and kilograms; each number is "
                              "turned into the other system by itself and rounded once. "
                              "Work to one column and keep to it: rounded sizes of the other need not add "
                              "up. Sixty-fourths are the nearest; "
                              "+ or - behind one says that the size is more than 0.1 mm over or under it."));
    inner += table(
        "Sizes", {{"what"}, {"mm", true}, {"inches, nearest 1/64", true}, {"inches, decimal", true}}, sizes);
    inner += table("Weights, loads and movements", {{"what"}, {"metric", true}, {"inch and pound", true}},
                   numbers);
    return element("h3", words("The main numbers in both systems of units")) + inner;
}

} // namespace hollowtop::cli
