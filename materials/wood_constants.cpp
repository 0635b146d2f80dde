// SPDX-License-Identifier: MIT
#include "materials/wood_constants.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/moisture.hpp"
#include "materials/own_moduli.hpp"
#include "materials/table.hpp"
#include "materials/trend.hpp"

#include <cmath>
#include <numbers>

namespace hollowtop::materials {
namespace {

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

/// The Poisson ratios alone, the wood's own or its kin's.
Ratios poisson_ratios(const Wood& wood, std::vector<Message>& assumptions) {
    std::optional<Ratios> ratios = ratios_of(wood.id);
    const std::optional<Kin> kin = kin_of(wood.id);
    if (!ratios && kin) ratios = ratios_of(kin->id);
    if (!ratios)
        throw Error(ErrorKind::not_computable,
                    Fault{"elastic_ratios.csv: " + wood.id, "no Poisson ratios and no kin to lend them", ""});
    assumptions.push_back("Poisson ratios of " + ratios->species +
                          (ratios->species == wood.common_name ? "" : " stand in: " + (kin ? kin->why : "")) +
                          cited(ratios->source, ratios->status));
    return *ratios;
}

/// The ratios to use for a wood, its own or its kin's, every gap filled and said.
Ratios complete_ratios(const Wood& wood, std::vector<Message>& assumptions) {
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

WoodConstants wood_constants(const Wood& wood, double moisture_percent,
                             std::optional<double> measured_E_along,
                             std::optional<double> measured_density_kg_m3) {
    WoodConstants constants;
    std::vector<Message>& assumptions = constants.assumptions;
    const Sourced along = trend_factor(Trend::stiffness_along, moisture_percent);
    const Sourced across = trend_factor(Trend::stiffness_across, moisture_percent);
    const Sourced shear = trend_factor(Trend::shear_modulus, moisture_percent);
    const Sourced no_shear = rule("wood_rules", "E_L_rule");

    double bending_modulus_12 = 0;
    if (measured_E_along) {
        if (!(*measured_E_along > 0))
            throw Error(ErrorKind::input, Fault{"top.measured.E_along", "a modulus must be above zero", ""});
        bending_modulus_12 = *measured_E_along / along.value;
        assumptions.push_back(said("bending modulus along the grain {}, measured on the boards",
                                   amount(*measured_E_along, Unit::MPa, significant(4))));
    } else if (wood.moe) {
        bending_modulus_12 = *wood.moe;
        assumptions.push_back(said("bending modulus along the grain {}, mean of {} at 12 %{}",
                                   amount(*wood.moe, Unit::MPa, significant(4)), wood.common_name,
                                   cited(wood.moe_source, wood.moe_status)));
    } else {
        throw Error(ErrorKind::input,
                    Fault{"top.wood", "no bending modulus is published for " + wood.common_name,
                          "give \"measured\": {\"E_along\": ...}"});
    }
    const double E_12 = no_shear.value * bending_modulus_12;
    assumptions.push_back("E_L = " + digits(no_shear.value) +
                          " x the bending modulus, which holds shear deflection" + cited(no_shear));

    constants.E_L = E_12 * along.value;
    const std::optional<OwnModuli> own = own_moduli_of(wood.id);
    if (own && own->E_R) {
        // As the source gives them; where boards were measured, they keep their proportion to the bending
        // modulus.
        const double follow = bending_modulus_12 / own->moe;
        constants.E_R = *own->E_R * follow * across.value;
        constants.E_T = own->E_T.value() * follow * across.value;
        constants.G_LR = own->G_LR.value() * follow * shear.value;
        constants.G_LT = own->G_LT.value() * follow * shear.value;
        constants.G_RT = own->G_RT.value() * follow * shear.value;
        assumptions.push_back(
            said("E_R {}, E_T {}, G_LR {}, G_LT {} and G_RT {} belong together and are taken as their source "
                 "gives them; E_L alone comes from the bending modulus{}",
                 number(*own->E_R), number(*own->E_T), number(*own->G_LR), number(*own->G_LT),
                 amount(*own->G_RT, Unit::MPa), cited(own->source, own->status)));
        if (measured_E_along)
            assumptions.push_back("those moduli follow the measured one in proportion (judgement)");
        const Ratios poisson = poisson_ratios(wood, assumptions);
        constants.nu_LR = poisson.nu_LR;
        constants.nu_LT = poisson.nu_LT;
        constants.nu_RT = poisson.nu_RT;
    } else {
        const Ratios ratios = complete_ratios(wood, assumptions);
        constants.E_R = E_12 * ratios.E_R * across.value;
        constants.E_T = E_12 * ratios.E_T * across.value;
        constants.G_LR = E_12 * ratios.G_LR * shear.value;
        constants.G_LT = E_12 * *ratios.G_LT * shear.value;
        constants.G_RT = E_12 * *ratios.G_RT * shear.value;
        constants.nu_LR = ratios.nu_LR;
        constants.nu_LT = ratios.nu_LT;
        constants.nu_RT = ratios.nu_RT;
    }
    assumptions.push_back(
        "Poisson ratios made symmetric: nu_LR, nu_LT, nu_RT are kept, the others follow from the moduli");

    if (moisture_percent > 12)
        assumptions.push_back("at " + digits(moisture_percent) + " % moisture content the moduli are x " +
                              digits(along.value) + " along, x " + digits(across.value) + " across, x " +
                              digits(shear.value) + " in shear of those at 12 %" + cited(along));
    else if (moisture_percent < 12)
        assumptions.push_back("moduli of 12 % moisture content; the gain of the drier wood (" +
                              digits(moisture_percent) + " %) is not counted");

    if (measured_density_kg_m3) {
        if (!(*measured_density_kg_m3 > 0))
            throw Error(ErrorKind::input, Fault{"top.measured.density", "a density must be above zero", ""});
        constants.density_kg_m3 = *measured_density_kg_m3;
        assumptions.push_back("density " + digits(*measured_density_kg_m3) +
                              " kg/m3, measured on the boards");
    } else {
        constants.density_kg_m3 = density_kg_m3(wood, moisture_percent);
        assumptions.push_back("density " + digits(constants.density_kg_m3) + " kg/m3 at " +
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
