// SPDX-License-Identifier: MIT
#include "materials/sheet.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/names.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <sstream>

namespace hollowtop::materials {
namespace {

/// Rows that are one kind in several thicknesses, and what people call it.
struct Family {
    std::string_view start; ///< of the ids
    std::array<std::string_view, 5> names;
};
constexpr std::array<Family, 5> families{{
    {"birch_ply_",
     {"birch plywood", "birch ply", "baltic birch plywood", "baltic birch ply", "baltic birch"}},
    {"mdf_en_", {"mdf", "medium density fibreboard", "medium density fiberboard"}},
    {"p2_", {"particleboard", "chipboard", "particle board", "chip board", "particleboard p2"}},
    {"hb_en_", {"hardboard", "hard board"}},
    {"osb_range", {"osb", "oriented strandboard", "oriented strand board"}},
}};

struct Asked {
    std::string kind;                ///< its words but the thickness
    std::optional<double> thickness; ///< mm
};

/// "Birch plywood 18 mm", "18mm MDF", "birch plywood 6.5": what is a number, with or without mm, is the
/// thickness.
Asked taken_apart(std::string_view name) {
    Asked asked;
    std::string rest;
    for (std::size_t i = 0; i < name.size();) {
        const bool starts_a_word = i == 0 || name[i - 1] == ' ' || name[i - 1] == '_' || name[i - 1] == '-';
        double number = 0;
        const auto [stop, fault] = std::from_chars(name.data() + i, name.data() + name.size(), number);
        if (starts_a_word && fault == std::errc{} && number > 0) {
            asked.thickness = number;
            i = static_cast<std::size_t>(stop - name.data());
            continue;
        }
        rest += name[i++];
    }
    std::istringstream words(plain_words(rest));
    for (std::string word; words >> word;)
        if (word != "mm") asked.kind += (asked.kind.empty() ? "" : " ") + word;
    return asked;
}

} // namespace

const std::vector<Sheet>& sheets() {
    static const std::vector<Sheet> all = [] {
        std::vector<Sheet> read;
        const Table& rows = table("sheets");
        for (const Table::Row& row : rows.rows) {
            const Cells cells(rows, row);
            read.push_back({.id = cells.text("id"),
                            .name = cells.text("name"),
                            .thickness = cells.range("thickness_mm"),
                            .density_kg_m3 = cells.range("density_kg_m3"),
                            .E_along = cells.range("E_along_MPa"),
                            .E_across = cells.range("E_across_MPa"),
                            .bending_along = cells.range("f_m_along_MPa"),
                            .bending_across = cells.range("f_m_across_MPa"),
                            .thickness_tolerance = cells.number("thickness_tol_mm"),
                            .source = cells.text("source"),
                            .status = cells.text("status"),
                            .note = cells.text("note"),
                            .kind = cells.text("kind"),
                            .values = cells.text("values")});
        }
        return read;
    }();
    return all;
}

bool is_made_so_thick(const Sheet& sheet, double thickness) {
    if (!sheet.thickness) return true;
    const auto& [low, high] = *sheet.thickness;
    constexpr double slack = 0.5; // a nominal size is not measured
    if (low && high && *low == *high) return std::abs(thickness - *low) <= slack;
    return thickness > low.value_or(0) && thickness <= high.value_or(thickness);
}

bool names_a_sheet(std::string_view name) {
    static constexpr std::array<std::string_view, 13> sheets_words{
        "plywood",   "ply",        "mdf",        "hdf",        "osb",       "particleboard", "chipboard",
        "hardboard", "fibreboard", "fiberboard", "blockboard", "multiplex", "melamine"};
    std::istringstream words(plain_words(name));
    for (std::string word; words >> word;)
        if (std::find(sheets_words.begin(), sheets_words.end(), word) != sheets_words.end()) return true;
    return false;
}

const Sheet& find_sheet(std::string_view name, std::optional<double> thickness) {
    for (const Sheet& sheet : sheets())
        if (plain_words(sheet.id) == plain_words(name)) return sheet;
    const Asked asked = taken_apart(name);
    const std::string shown = "\"" + std::string(name) + "\"";
    for (const Family& family : families) {
        if (std::find(family.names.begin(), family.names.end(), asked.kind) == family.names.end()) continue;
        const std::optional<double> wanted = asked.thickness ? asked.thickness : thickness;
        std::string made;
        for (const Sheet& sheet : sheets()) {
            if (!sheet.id.starts_with(family.start)) continue;
            if (wanted && is_made_so_thick(sheet, *wanted)) return sheet;
            made += (made.empty() ? "" : ", ") + sheet.id;
        }
        throw Error(ErrorKind::input, Fault{"",
                                            wanted ? said("{} of {} is not in the table of sheets", shown,
                                                          amount(*wanted, Unit::mm))
                                                   : said("{} is made in several thicknesses", shown),
                                            "give one of " + made});
    }
    if (asked.kind == "plywood" || asked.kind == "ply")
        throw Error(ErrorKind::input,
                    Fault{"", shown + " does not say of which wood",
                          "give \"birch plywood\" with its thickness, such as \"birch plywood 18\""});
    std::vector<std::string> ids;
    for (const Sheet& sheet : sheets()) ids.push_back(sheet.id);
    const std::string near = did_you_mean(name, ids);
    throw Error(ErrorKind::input, Fault{"", "no sheet " + shown + " in the table of sheets",
                                        near.empty() ? "see the table of sheets" : near});
}

} // namespace hollowtop::materials
