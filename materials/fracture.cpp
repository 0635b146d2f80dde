// SPDX-License-Identifier: MIT
#include "materials/fracture.hpp"

#include "materials/digits.hpp"
#include "materials/table.hpp"

#include <algorithm>
#include <optional>
#include <string>

namespace hollowtop::materials {
namespace {

struct MeanEnergy {
    double value = 0; ///< N/mm
    Message basis;
};

/// Where the source measured it: near 12 % moisture. A test of drier wood gave less, without a number to use.
const char* const reach = "; measured near 12 % moisture: wood drier than that has less (Forsman, "
                          "Fredriksson, Serrano, Danielsson, Holzforschung 75, "
                          "2021, abstract), by how much is not known";

/// Of the wood itself, where it was measured.
std::optional<MeanEnergy> measured_energy(const Wood& wood) {
    const Table& all = table("fracture_energies");
    for (const Table::Row& row : all.rows) {
        if (row.cells.front() != wood.id) continue;
        const Cells cells(all, row);
        const double value = cells.required("energy_N_per_m") / 1000;
        return MeanEnergy{value, "fracture energy measured on " + wood.common_name + ", " + digits(value) +
                                     " N/mm" + cited(cells.text("source"), cells.text("status")) + reach};
    }
    return std::nullopt;
}

MeanEnergy mean_energy(double density_kg_m3, const std::string& whose) {
    const Sourced slope = rule("wood_rules", "split_energy_slope"),
                  offset = rule("wood_rules", "split_energy_offset");
    const double low = rule("wood_rules", "split_energy_rho_low").value,
                 high = rule("wood_rules", "split_energy_rho_high").value;
    const double held = std::clamp(density_kg_m3, low, high);
    const double value = (slope.value * held + offset.value) / 1000;
    return {value, "fracture energy estimated from the density of " + digits(density_kg_m3) + " kg/m3 of " +
                       whose + (held == density_kg_m3 ? "" : " (held at " + digits(held) + ")") + ": " +
                       digits(slope.value) + " rho - " + digits(-offset.value) + " N/m" + cited(slope) +
                       " = " + digits(value) + " N/mm" + reach};
}

} // namespace

Allowable handbook_fracture_energy(const Wood& wood, Duration duration, Against against) {
    const std::optional<MeanEnergy> measured = measured_energy(wood);
    const MeanEnergy mean = measured ? *measured : mean_energy(wood.density_12_kg_m3, wood.common_name);
    const Sourced fractile = rule("wood_rules", "fractile_5"),
                  scatter = rule("wood_rules", "cov_tension_perp");
    const Sourced safety =
        rule("wood_rules", wood.softwood ? "d245_bending_strength_soft" : "d245_bending_strength_hard");
    const Sourced lasting = duration_factor(duration);
    const Sourced reserve = rule("wood_rules", "test_force_reserve"),
                  of_test = rule("wood_rules", "CD_10_minutes");
    const bool is_test = against == Against::test_force;
    const double weak = 1 - fractile.value * scatter.value / 100;
    const double divisor = is_test ? of_test.value * reserve.value : safety.value,
                 load = lasting.value / divisor;
    const double value = mean.value * weak * load * load;
    return {value,
            said("{}; x {} for the weakest 5 % (the scatter of tension across the grain stands in for its "
                 "own{}), x "
                 "({} / {})^2 for a load called {}{} = {} N/mm",
                 mean.basis, number(weak), cited(scatter), number(lasting.value), number(divisor),
                 to_word(duration),
                 is_test
                     ? said(" against the ten minutes of a strength test and for safety against its force{}",
                            cited(reserve))
                     : said(" and for ten years of load and safety{}", cited(safety)),
                 number(value))};
}

Allowable class_fracture_energy(const std::string& strength_class, int service_class, Duration duration) {
    const Cells row = row_of(table("strength_classes"), strength_class);
    const MeanEnergy mean = mean_energy(row.required("rho_k"), strength_class + " (characteristic)");
    const Sourced modification = k_mod(duration, service_class),
                  partial = rule("wood_rules", "gammaM_solid_timber");
    const double load = modification.value / partial.value, value = mean.value * load * load;
    return {value,
            said("{}; x ({} / {})^2, k_mod and gamma_M, as the load goes with the root of it{} = {} N/mm",
                 mean.basis, number(modification.value), number(partial.value), cited(modification),
                 number(value))};
}

} // namespace hollowtop::materials
