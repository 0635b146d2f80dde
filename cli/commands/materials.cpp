// SPDX-License-Identifier: MIT
// Woods, metals and sheets, each value with its source.
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/text/page.hpp"
#include "cli/words/format.hpp"
#include "cli/words/words.hpp"
#include "materials/bases_across.hpp"
#include "materials/error.hpp"
#include "materials/metal.hpp"
#include "materials/sheet.hpp"
#include "materials/weakest_link.hpp"
#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"

#include <array>
#include <optional>

namespace hollowtop::cli {
namespace {

using namespace materials;

constexpr std::array<Option, 3> options{units_option, no_color_option, help_option};

constexpr double reference_moisture_percent = 12;
constexpr const char* not_published = "not published";

std::string or_not_published(const std::optional<double>& value, const char* unit) {
    return value ? significant(*value, 4) + unit : not_published;
}

std::string stress_or_dash(const std::optional<double>& MPa, Units units) {
    return MPa ? stress_text(*MPa, units) : "-";
}

/// Stiffnesses are large: whole MPa, or psi to three digits.
std::string modulus_text(double MPa, Units units) {
    return units == Units::mm ? fixed(MPa, 0) + " MPa"
                              : significant(Pressure::from_MPa(MPa).psi(), 3) + " psi";
}

std::string modulus_or_dash(const std::optional<double>& MPa, Units units) {
    return MPa ? modulus_text(*MPa, units) : "-";
}

void put_woods(Page& page, Units units) {
    page.heading("Woods: means of small clear pieces at 12 % moisture, no allowable stresses");
    std::vector<Row> rows;
    for (const Wood& wood : woods())
        rows.push_back(
            {{wood.id, wood.common_name, fixed(wood.density_12_kg_m3, 0), modulus_or_dash(wood.moe, units),
              stress_or_dash(wood.mor, units), stress_or_dash(wood.tension_perp, units)},
             Tone::plain});
    page.table({{.heading = "name", .widest = 26},
                {.heading = "", .widest = 28},
                {.heading = "kg/m3", .to_the_right = true},
                {.heading = "E bending", .to_the_right = true},
                {.heading = "bending", .to_the_right = true},
                {.heading = "across", .to_the_right = true}},
               rows);
}

void put_metals(Page& page, Units units) {
    page.heading("Metals");
    std::vector<Row> rows;
    for (const Metal& metal : metals())
        rows.push_back({{metal.id, metal.name, fixed(metal.density_kg_m3, 0), modulus_text(metal.E, units),
                         stress_or_dash(metal.f_y, units)},
                        Tone::plain});
    page.table({{.heading = "name", .widest = 16},
                {.heading = "", .widest = 40},
                {.heading = "kg/m3", .to_the_right = true},
                {.heading = "E", .to_the_right = true},
                {.heading = "yield", .to_the_right = true}},
               rows);
}

void put_sheets(Page& page) {
    page.heading("Sheets");
    std::vector<Row> rows;
    for (const Sheet& sheet : sheets()) rows.push_back({{sheet.id, sheet.name}, Tone::plain});
    page.table({{.heading = "name", .widest = 26}, {.heading = "", .widest = 60}}, rows);
}

void put_source(Page& page, const std::string& source, const std::string& status, const std::string& note) {
    const bool is_said = status.empty() || source.ends_with('(' + status + ')');
    page.labelled("source", source + (is_said ? "" : " (" + status + ")"));
    if (!note.empty()) page.labelled("note", note);
}

/// Tension across the grain on both bases of strength, and why they differ.
void put_bases_across(Page& page, const Wood& wood, Units units) {
    const BasesAcross bases = bases_across(wood);
    page.paragraph(
        "Tension across the grain is told with the volume that bears it. Allowed for ten years on " +
        in_own_units(weakest_link().handbook_said) +
        ", clear and flat-sawn: " + stress_text(bases.handbook_MPa, units) + " on the handbook basis, " +
        stress_text(bases.class_MPa, units) + " on the basis of " + bases.strength_class +
        " or any class of " + (wood.softwood ? "softwoods" : "hardwoods") + ", " +
        significant(bases.ratio(), 3) +
        " times as much by the handbook: " + in_own_units(why_bases_differ(wood)) + ".");
}

void put(Page& page, const Wood& wood, Units units) {
    const auto stress = [&](const std::optional<double>& MPa) {
        return MPa ? stress_text(*MPa, units) : not_published;
    };
    page.heading(wood.common_name + " (" + wood.botanical_name + "), \"" + wood.id + "\"");
    page.paragraph("Means of small clear pieces at 12 % moisture content.");
    const std::vector<Row> rows{
        {{"density", fixed(wood.density_12_kg_m3, 0) + " kg/m3"}, Tone::plain},
        {{"stiffness in bending, along", wood.moe ? modulus_text(*wood.moe, units) : not_published},
         Tone::plain},
        {{"strength in bending, along", stress(wood.mor)}, Tone::plain},
        {{"compression along", stress(wood.comp_par)}, Tone::plain},
        {{"compression across, proportional limit", stress(wood.comp_perp_pl)}, Tone::plain},
        {{"tension across", stress(wood.tension_perp)}, Tone::plain},
        {{"shear along", stress(wood.shear_par)}, Tone::plain},
        {{"side hardness", wood.side_hardness_N ? force_text(*wood.side_hardness_N, units) : not_published},
         Tone::plain},
        {{"shrinkage to oven-dry, quarter-sawn width", or_not_published(wood.shrink_R_percent, " %")},
         Tone::plain},
        {{"shrinkage to oven-dry, flat-sawn width", or_not_published(wood.shrink_T_percent, " %")},
         Tone::plain},
        {{"movement a point of moisture, quarter-sawn",
          or_not_published(wood.coef_R_per_percent, " of the width")},
         Tone::plain},
        {{"movement a point of moisture, flat-sawn",
          or_not_published(wood.coef_T_per_percent, " of the width")},
         Tone::plain},
    };
    page.rows({{.heading = ""}, {.heading = ""}}, rows);
    put_bases_across(page, wood, units);
    put_source(page, wood.source, wood.status, wood.note);
    if (wood.moe_source != wood.source)
        page.labelled("stiffness", wood.moe_source + " (" + wood.moe_status + ")");
    const WoodConstants elastic = wood_constants(wood, reference_moisture_percent);
    page.blank();
    page.paragraph("Elastic constants at 12 % as a top takes them:");
    page.rows(
        {{.heading = ""}, {.heading = ""}},
        {{{"E_L, E_R, E_T", modulus_text(elastic.E_L, units) + ", " + modulus_text(elastic.E_R, units) +
                                ", " + modulus_text(elastic.E_T, units)},
          Tone::plain},
         {{"G_LR, G_LT, G_RT", modulus_text(elastic.G_LR, units) + ", " + modulus_text(elastic.G_LT, units) +
                                   ", " + modulus_text(elastic.G_RT, units)},
          Tone::plain},
         {{"nu_LR, nu_LT, nu_RT", significant(elastic.nu_LR, 3) + ", " + significant(elastic.nu_LT, 3) +
                                      ", " + significant(elastic.nu_RT, 3)},
          Tone::plain}});
    for (const Message& sentence : elastic.assumptions) page.paragraph(in_own_units(sentence) + ".");
    if (!wood.shrink_status.empty()) page.labelled("shrinkage", wood.shrink_status);
    if (!wood.coef_status.empty()) page.labelled("movement", wood.coef_status);
}

void put(Page& page, const Metal& metal, Units units) {
    const auto stress = [&](const std::optional<double>& MPa) {
        return MPa ? stress_text(*MPa, units) : not_published;
    };
    page.heading(metal.name + ", \"" + metal.id + "\"");
    page.rows({{.heading = ""}, {.heading = ""}},
              {{{"density", fixed(metal.density_kg_m3, 0) + " kg/m3"}, Tone::plain},
               {{"stiffness", modulus_text(metal.E, units)}, Tone::plain},
               {{"stiffness in shear", modulus_text(metal.G, units)}, Tone::plain},
               {{"yield", stress(metal.f_y)}, Tone::plain},
               {{"strength", stress(metal.f_u)}, Tone::plain}});
    put_source(page, metal.source, metal.status, metal.note);
}

template <class Find> auto found(Find find) -> decltype(&find()) {
    try {
        return &find();
    } catch (const Error&) {
        return nullptr;
    }
}

void put(Page& page, const Sheet& sheet) {
    const auto range = [](const std::optional<Range>& r, const char* unit) {
        if (!r || (!r->low && !r->high)) return std::string(not_published);
        if (!r->high) return "more than " + significant(*r->low, 4) + unit;
        if (!r->low) return "up to " + significant(*r->high, 4) + unit;
        if (*r->low == *r->high) return significant(*r->low, 4) + unit;
        return significant(*r->low, 4) + " to " + significant(*r->high, 4) + unit;
    };
    page.heading(sheet.name + ", \"" + sheet.id + "\"");
    page.rows({{.heading = ""}, {.heading = ""}},
              {{{"thickness", range(sheet.thickness, " mm")}, Tone::plain},
               {{"density", range(sheet.density_kg_m3, " kg/m3")}, Tone::plain},
               {{"stiffness along", range(sheet.E_along, " MPa")}, Tone::plain},
               {{"stiffness across", range(sheet.E_across, " MPa")}, Tone::plain},
               {{"strength in bending, along", range(sheet.bending_along, " MPa")}, Tone::plain},
               {{"strength in bending, across", range(sheet.bending_across, " MPa")}, Tone::plain}});
    put_source(page, sheet.source, sheet.status, sheet.note);
}

Status run(const Given& given) {
    const Settings settings = settings_of(given);
    const Units units = settings.units.value_or(Units::mm);
    Page page;
    if (given.names.empty()) {
        put_woods(page, units);
        page.blank();
        put_metals(page, units);
        page.blank();
        put_sheets(page);
        page.blank();
        page.paragraph("hollowtop materials NAME shows every value of one of them with its source.");
    } else {
        const std::string& name = given.names.front();
        // Metals and sheets by their exact name first, for the woods' search is the more forgiving one.
        const Metal* metal = found([&]() -> const Metal& { return find_metal(name); });
        const Sheet* sheet =
            metal == nullptr ? found([&]() -> const Sheet& { return find_sheet(name); }) : nullptr;
        if (metal == nullptr && sheet == nullptr && names_a_sheet(name))
            sheet = &find_sheet(name); // says what is missing
        if (metal != nullptr)
            put(page, *metal, units);
        else if (sheet != nullptr)
            put(page, *sheet);
        else
            put(page, find_wood(name), units);
    }
    print(page.text(settings.coloured));
    return Status::passes;
}

std::vector<std::string> ids() {
    std::vector<std::string> all;
    for (const Wood& wood : woods()) all.push_back(wood.id);
    for (const Metal& metal : metals()) all.push_back(metal.id);
    for (const Sheet& sheet : sheets()) all.push_back(sheet.id);
    return all;
}

} // namespace

extern const Command materials_command{
    .name = "materials",
    .one_line = "woods, metals and sheets, each value with its source",
    .names = "[NAME]",
    .least_names = 0,
    .most_names = 1,
    .text = "Without a name: the list. With a name, such as \"black cherry\" or S235: all its values and "
            "where they come from.",
    .example = "hollowtop materials\n"
               "hollowtop materials \"black cherry\"",
    .options = options,
    .run = run,
    .offered = ids,
};

} // namespace hollowtop::cli
