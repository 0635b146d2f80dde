// SPDX-License-Identifier: MIT
// Stiffener sections and their properties.
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/text/page.hpp"
#include "cli/words/format.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"
#include "materials/section.hpp"

#include <algorithm>
#include <array>
#include <cctype>

namespace hollowtop::cli {
namespace {

using namespace materials;

constexpr std::array<Option, 2> options{no_color_option, help_option};

std::string lower(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

/// One section as somebody would write it in a piece file, with what it does when it hangs under a top.
void put_section(Page& page, const Section& section) {
    constexpr double steel_kg_m3 = 7850; // EN 1991-1-1 table A.4 gives 77.0 to 78.5 kN/m3
    page.heading(section.text);
    page.rows(
        {{.heading = ""}, {.heading = ""}},
        {{{"hangs down", significant(section.height, 4) + " mm"}, Tone::plain},
         {{"width", significant(section.width, 4) + " mm"}, Tone::plain},
         {{"area", significant(section.area, 4) + " mm2"}, Tone::plain},
         {{"middle below the wood", significant(-section.z_c, 4) + " mm"}, Tone::plain},
         {{"I, bending up and down", significant(section.I_yy, 4) + " mm4"}, Tone::plain},
         {{"I, sideways", significant(section.I_zz, 4) + " mm4"}, Tone::plain},
         {{"J, twisting", significant(section.J, 4) + " mm4"}, Tone::plain},
         {{"in steel", significant(mass_per_metre_kg(section, steel_kg_m3), 3) + " kg/m"}, Tone::plain}});
    page.labelled("source", in_own_units(section.basis));
}

void put_table(Page& page, const std::string& filter) {
    std::vector<Row> rows;
    const std::string wanted = lower(filter);
    for (const SectionRow& row : tabulated_sections()) {
        if (!wanted.empty() && lower(row.id + " " + row.kind).find(wanted) == std::string::npos) continue;
        rows.push_back(
            {{row.id, row.kind, significant(row.mass_kg_m, 3), significant(row.A_cm2, 3),
              significant(row.Ix_cm4, 3), significant(row.Iy_cm4, 3), row.source + " (" + row.status + ")"},
             Tone::plain});
    }
    if (rows.empty())
        throw Error(
            ErrorKind::input,
            Fault{
                in_quotes(filter), "no section is called so",
                R"(give a part of a name such as "L30" or "channel", or a section such as "angle 30x30x3")"});
    page.table({{.heading = "name", .widest = 14},
                {.heading = "kind", .widest = 14},
                {.heading = "kg/m", .to_the_right = true},
                {.heading = "A cm2", .to_the_right = true},
                {.heading = "Ix cm4", .to_the_right = true},
                {.heading = "Iy cm4", .to_the_right = true},
                {.heading = "source", .widest = 32}},
               rows);
}

bool is_written_section(const std::string& text) {
    const std::size_t space = text.find(' ');
    return space != std::string::npos && text.find_first_of("0123456789", space) != std::string::npos;
}

Status run(const Given& given) {
    const Settings settings = settings_of(given);
    Page page;
    const std::string filter = given.names.empty() ? std::string() : given.names.front();
    if (is_written_section(filter))
        put_section(page, parse_section(filter));
    else
        put_table(page, filter);
    print(page.text(settings.coloured));
    return Status::passes;
}

} // namespace

extern const Command sections_command{
    .name = "sections",
    .one_line = "stiffener sections and their properties",
    .names = "[FILTER]",
    .least_names = 0,
    .most_names = 1,
    .text = "Without a filter: the table. With a part of a name or kind: those rows. With a section as a "
            "piece file writes it, "
            "such as \"angle 30x30x3\" or \"flat 40x6\": its properties as it hangs under a top.",
    .example = "hollowtop sections channel\n"
               "hollowtop sections \"angle 30x30x3\"",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
