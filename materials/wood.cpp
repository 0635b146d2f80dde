// SPDX-License-Identifier: MIT
#include "materials/wood.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/moisture.hpp"
#include "materials/names.hpp"
#include "materials/table.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <sstream>

namespace hollowtop::materials {
namespace {

Wood read_wood(const Cells& row) {
    return {.id = row.text("id"),
            .common_name = row.text("common_name"),
            .botanical_name = row.text("botanical_name"),
            .softwood = row.text("group") == "softwood",
            .sg_12 = row.required("sg_12"),
            .density_12_kg_m3 = row.required("density_12_kg_m3"),
            .mor = row.number("mor_12_MPa"),
            .moe = row.number("moe_12_MPa"),
            .comp_par = row.number("comp_par_MPa"),
            .comp_perp_pl = row.number("comp_perp_pl_MPa"),
            .shear_par = row.number("shear_par_MPa"),
            .tension_perp = row.number("tension_perp_MPa"),
            .side_hardness_N = row.number("side_hardness_N"),
            .shrink_R_percent = row.number("shrink_R_pct"),
            .shrink_T_percent = row.number("shrink_T_pct"),
            .shrink_V_percent = row.number("shrink_V_pct"),
            .coef_R_per_percent = row.number("coef_R_per_pct"),
            .coef_T_per_percent = row.number("coef_T_per_pct"),
            .source = row.text("source"),
            .status = row.text("status"),
            .shrink_status = row.text("shrink_status"),
            .coef_status = row.text("coef_status"),
            .note = row.text("note")};
}

/// The words of a name in alphabetical order: "black cherry" and "cherry_black" are one.
std::vector<std::string> sorted_words(std::string_view name) {
    std::istringstream plain(plain_words(name));
    std::vector<std::string> words;
    for (std::string word; plain >> word;) words.push_back(word);
    std::sort(words.begin(), words.end());
    return words;
}

std::string joined(const std::vector<std::string>& words) {
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
    return text;
}

/// Every way of writing a wood that a slip of the pen may be near to, each with the name to show for it.
std::string nearest_woods(std::string_view name) {
    const std::vector<std::string> asked = sorted_words(name);
    const std::string asked_text = joined(asked);
    const std::size_t far = std::max<std::size_t>(1, asked_text.size() / 3);
    std::vector<std::pair<std::size_t, std::string>> near;
    for (const Wood& wood : woods()) {
        std::size_t distance = std::min(edit_distance(asked_text, joined(sorted_words(wood.id))),
                                        edit_distance(plain_words(name), plain_words(wood.common_name)));
        if (asked.size() == 1)
            for (const std::string& word : sorted_words(wood.common_name))
                distance = std::min(distance, edit_distance(asked_text, word));
        if (distance <= far) near.emplace_back(distance, wood.common_name);
    }
    std::stable_sort(near.begin(), near.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    if (near.size() > 3) near.resize(3);
    std::string text;
    for (std::size_t i = 0; i < near.size(); ++i)
        text += (i == 0 ? "did you mean \"" : i + 1 == near.size() ? "\" or \"" : "\", \"") + near[i].second;
    return text.empty() ? text : text + "\"?";
}

struct Ratios {
    double E_T = 0, E_R = 0, G_LR = 0, nu_LR = 0, nu_LT = 0, nu_RT = 0;
    std::optional<double> G_LT, G_RT;
    std::string species, source, status;
};

std::optional<Ratios> ratios_of(std::string_view id) {
    const Table& all = table("elastic_ratios");
    for (const Table::Row& row : all.rows) {
        if (row.cells.front() != id) continue;
        const Cells cells(all, row);
        return Ratios{.E_T = cells.required("E_T_over_E_L"),
                      .E_R = cells.required("E_R_over_E_L"),
                      .G_LR = cells.required("G_LR_over_E_L"),
                      .nu_LR = cells.required("nu_LR"),
                      .nu_LT = cells.required("nu_LT"),
                      .nu_RT = cells.required("nu_RT"),
                      .G_LT = cells.number("G_LT_over_E_L"),
                      .G_RT = cells.number("G_RT_over_E_L"),
                      .species = cells.text("species"),
                      .source = cells.text("source"),
                      .status = cells.text("status")};
    }
    return std::nullopt;
}

struct Kin {
    std::string id, why;
};

std::optional<Kin> kin_of(std::string_view id) {
    const Table& all = table("elastic_kin");
    for (const Table::Row& row : all.rows)
        if (row.cells.front() == id) {
            const Cells cells(all, row);
            return Kin{cells.text("kin"), cells.text("why")};
        }
    return std::nullopt;
}

/// The ratios to use for a wood, its own or its kin's, every gap filled and said.
Ratios complete_ratios(const Wood& wood, std::vector<std::string>& assumptions) {
    std::string owner = wood.id;
    std::optional<Ratios> ratios = ratios_of(owner);
    if (ratios) {
        assumptions.push_back("elastic ratios of " + wood.common_name +
                              cited(ratios->source, ratios->status));
    } else {
        const std::optional<Kin> kin = kin_of(owner);
        if (kin) ratios = ratios_of(owner = kin->id);
        if (!ratios)
            throw Error(ErrorKind::input,
                        Fault{"top.wood", "no elastic constants are published for " + wood.common_name,
                              "choose a related wood, or give \"elastic\""});
        assumptions.push_back("elastic ratios of " + ratios->species + " stand in for those of " +
                              wood.common_name + ", for which none are tabulated: " + kin->why +
                              cited(ratios->source, ratios->status));
    }
    if (!ratios->G_LT) {
        const std::optional<Kin> kin = kin_of(owner);
        const std::optional<Ratios> lender = kin ? ratios_of(kin->id) : std::nullopt;
        if (!lender || !lender->G_LT)
            throw Error(ErrorKind::not_computable,
                        Fault{"elastic_ratios.csv: " + owner, "no G_LT/E_L and no kin to lend it", ""});
        ratios->G_LT = lender->G_LT;
        assumptions.push_back("G_LT/E_L = " + digits(*ratios->G_LT) + " of " + lender->species +
                              " stands in: the table gives none for " + ratios->species +
                              cited(lender->source, lender->status));
    }
    if (!ratios->G_RT) {
        const Sourced share = rule("wood_rules", "G_RT_share_hardwood");
        ratios->G_RT = share.value;
        assumptions.push_back(
            "G_RT/E_L = " + digits(share.value) +
            " stands in, the mean of the six hardwoods for which it is tabulated: the table gives none for " +
            ratios->species + cited(share));
    }
    return *ratios;
}

} // namespace

const std::vector<Wood>& woods() {
    static const std::vector<Wood> all = [] {
        const Table& rows = table("woods");
        std::vector<Wood> read;
        read.reserve(rows.rows.size());
        for (const Table::Row& row : rows.rows) read.push_back(read_wood(Cells(rows, row)));
        return read;
    }();
    return all;
}

const Wood& find_wood(std::string_view name) {
    for (const Wood& wood : woods())
        if (wood.id == name) return wood;
    const std::vector<std::string> asked = sorted_words(name);
    std::vector<const Wood*> holding;
    for (const Wood& wood : woods()) {
        if (asked == sorted_words(wood.id) || asked == sorted_words(wood.common_name)) return wood;
        std::vector<std::string> words =
            sorted_words(wood.id + " " + wood.common_name + " " + wood.botanical_name);
        if (!asked.empty() && std::includes(words.begin(), words.end(), asked.begin(), asked.end()))
            holding.push_back(&wood);
    }
    if (holding.size() == 1) return *holding.front();
    const std::string shown = "\"" + std::string(name) + "\"";
    if (holding.empty()) {
        const std::string near = nearest_woods(name);
        throw Error(ErrorKind::input,
                    Fault{"", "no wood " + shown + " in the table of woods",
                          near.empty() ? "see the table of woods, or give \"elastic\" constants" : near});
    }
    std::string list;
    for (std::size_t i = 0; i < holding.size(); ++i)
        list += (i == 0                    ? ""
                 : i + 1 == holding.size() ? " or "
                                           : ", ") +
                ("\"" + holding[i]->common_name + "\"");
    throw Error(ErrorKind::input, Fault{"", shown + " may mean several woods", "give one of " + list});
}

WoodConstants wood_constants(const Wood& wood, double moisture_percent,
                             std::optional<double> measured_E_along,
                             std::optional<double> measured_density_kg_m3) {
    WoodConstants constants;
    std::vector<std::string>& said = constants.assumptions;
    const Sourced along = trend_factor(Trend::stiffness_along, moisture_percent);
    const Sourced across = trend_factor(Trend::stiffness_across, moisture_percent);
    const Sourced shear = trend_factor(Trend::shear_modulus, moisture_percent);
    const Sourced no_shear = rule("wood_rules", "E_L_rule");

    double bending_modulus_12 = 0;
    if (measured_E_along) {
        if (!(*measured_E_along > 0))
            throw Error(ErrorKind::input, Fault{"top.measured.E_along", "a modulus must be above zero", ""});
        bending_modulus_12 = *measured_E_along / along.value;
        said.push_back("bending modulus along the grain " + digits(*measured_E_along, 4) +
                       " MPa, measured on the boards");
    } else if (wood.moe) {
        bending_modulus_12 = *wood.moe;
        said.push_back("bending modulus along the grain " + digits(*wood.moe, 4) + " MPa, mean of " +
                       wood.common_name + " at 12 %" + cited(wood.source, wood.status));
    } else {
        throw Error(ErrorKind::input,
                    Fault{"top.wood", "no bending modulus is published for " + wood.common_name,
                          "give \"measured\": {\"E_along\": ...}"});
    }
    const double E_12 = no_shear.value * bending_modulus_12;
    said.push_back("E_L = " + digits(no_shear.value) +
                   " x the bending modulus, which holds shear deflection" + cited(no_shear));

    const Ratios ratios = complete_ratios(wood, said);
    constants.E_L = E_12 * along.value;
    constants.E_R = E_12 * ratios.E_R * across.value;
    constants.E_T = E_12 * ratios.E_T * across.value;
    constants.G_LR = E_12 * ratios.G_LR * shear.value;
    constants.G_LT = E_12 * *ratios.G_LT * shear.value;
    constants.G_RT = E_12 * *ratios.G_RT * shear.value;
    constants.nu_LR = ratios.nu_LR;
    constants.nu_LT = ratios.nu_LT;
    constants.nu_RT = ratios.nu_RT;
    said.push_back(
        "Poisson ratios made symmetric: nu_LR, nu_LT, nu_RT are kept, the others follow from the moduli");

    if (moisture_percent > 12)
        said.push_back("at " + digits(moisture_percent) + " % moisture content the moduli are x " +
                       digits(along.value) + " along, x " + digits(across.value) + " across, x " +
                       digits(shear.value) + " in shear of those at 12 %" + cited(along));
    else if (moisture_percent < 12)
        said.push_back("moduli of 12 % moisture content; the gain of the drier wood (" +
                       digits(moisture_percent) + " %) is not counted");

    if (measured_density_kg_m3) {
        if (!(*measured_density_kg_m3 > 0))
            throw Error(ErrorKind::input, Fault{"top.measured.density", "a density must be above zero", ""});
        constants.density_kg_m3 = *measured_density_kg_m3;
        said.push_back("density " + digits(*measured_density_kg_m3) + " kg/m3, measured on the boards");
    } else {
        constants.density_kg_m3 = density_kg_m3(wood, moisture_percent);
        said.push_back("density " + digits(constants.density_kg_m3) + " kg/m3 at " +
                       digits(moisture_percent) + " % moisture content, from the specific gravity " +
                       digits(wood.sg_12) +
                       " (Wood Handbook Eq. 4-11 and 4-14; the wood's row: " + wood.status + ")");
    }
    return constants;
}

PlaneConstants turned_by_rings(const WoodConstants& wood, double ring_angle_deg) {
    const double phi = ring_angle_deg * std::numbers::pi / 180;
    const double c2 = std::cos(phi) * std::cos(phi), s2 = std::sin(phi) * std::sin(phi);
    const double coupled = s2 * c2 * (1 / wood.G_RT - 2 * wood.nu_RT / wood.E_R);
    const double diagonal = 1 / wood.E_R + 1 / wood.E_T + 2 * wood.nu_RT / wood.E_R;
    const double cos2_2phi = (c2 - s2) * (c2 - s2), sin2_2phi = 4 * s2 * c2;
    PlaneConstants plane;
    plane.E1 = wood.E_L;
    plane.E2 = 1 / (c2 * c2 / wood.E_T + s2 * s2 / wood.E_R + coupled);
    plane.E3 = 1 / (s2 * s2 / wood.E_T + c2 * c2 / wood.E_R + coupled);
    plane.nu12 = c2 * wood.nu_LT + s2 * wood.nu_LR;
    plane.G12 = 1 / (c2 / wood.G_LT + s2 / wood.G_LR);
    plane.G13 = 1 / (c2 / wood.G_LR + s2 / wood.G_LT);
    plane.G23 = 1 / (cos2_2phi / wood.G_RT + sin2_2phi * diagonal);
    return plane;
}

} // namespace hollowtop::materials
