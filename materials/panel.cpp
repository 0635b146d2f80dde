// SPDX-License-Identifier: MIT
#include "materials/panel.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"

#include <cmath>
#include <utility>

namespace hollowtop::materials {
namespace {

bool has_plies(const Sheet& sheet) { return sheet.kind == "plywood" || sheet.kind == "OSB"; }

Sourced panel_rule(const std::string& id) { return rule("panel_rules", id); }

[[noreturn]] void not_known(const Sheet& sheet, const std::string& what) {
    throw Error(
        ErrorKind::input,
        Fault{
            "top.sheet", "the table of sheets gives " + sheet.name + " no " + what,
            "choose a sheet that has one, such as \"birch plywood 18\" or \"MDF 19\", or give \"elastic\""});
}

/// The low end; a single number is both ends.
std::optional<double> low_of(const std::optional<Range>& range) { return range ? range->low : std::nullopt; }

const char* what_values(const Sheet& sheet) {
    if (sheet.values == "limit") return "the lower 5 % limit that a batch must pass, so sag is told high";
    if (sheet.values == "design") return "the mean of the kind";
    return "the low end of the family's range";
}

/// The rows of EN 1995-1-1 tables 3.1 and 3.2 for this kind.
void require_dry(const Sheet& sheet, int service_class) {
    if (sheet.kind == "plywood" || service_class == 1) return;
    throw Error(ErrorKind::input,
                Fault{"allowables.service_class",
                      sheet.name + " is for dry rooms, and no factors are known for class " +
                          std::to_string(service_class),
                      "give 1, or a plywood"});
}

Sourced panel_k_mod(const Sheet& sheet, int service_class, Duration duration) {
    if (sheet.kind == "plywood") return k_mod(duration, service_class); // the table has one row for both
    require_dry(sheet, service_class);
    const Duration in_table = duration == Duration::hour      ? Duration::short_term
                              : duration == Duration::minutes ? Duration::instantaneous
                                                              : duration;
    const std::string row = sheet.kind == "OSB"             ? "OSB3_OSB4"
                            : sheet.kind == "particleboard" ? "particleboard_P4_P5"
                                                            : sheet.kind;
    return rule("wood_rules", "kmod_" + row + "_SC1_" + to_word(in_table));
}

Allowable bending_of(const Sheet& sheet, double strength, const char* way, const PanelFormat& format) {
    double value = strength;
    Message basis =
        said("bending of the sheet{}: {} of {}{}{}", way, amount(strength, Unit::MPa), sheet.name,
             sheet.values == "range" ? ", the low end of the family's means" : ", the weakest 5 %",
             cited(sheet.source, sheet.status));
    const auto times = [&](double factor, const Message& why) {
        value *= factor;
        basis += said(" x {} {}", number(factor), why);
    };
    const auto over = [&](double divisor, const Message& why) {
        value /= divisor;
        basis += said(" / {} {}", number(divisor), why);
    };
    if (sheet.values == "range") {
        const Sourced scatter = panel_rule("cov_bending"), fractile = rule("wood_rules", "fractile_5");
        times(1 - fractile.value * scatter.value / 100, "for the weakest 5 %" + cited(scatter));
    }
    const Sourced lasting = panel_k_mod(sheet, format.by_class ? format.service_class : 1, format.duration);
    const std::string named = std::string("for a load called ") + to_word(format.duration);
    if (format.by_class) {
        times(lasting.value,
              "k_mod " + named + ", service class " + std::to_string(format.service_class) + cited(lasting));
        const Sourced partial = rule("wood_rules", has_plies(sheet) ? "gammaM_LVL" : "gammaM_particleboard");
        over(partial.value, "gamma_M" + cited(partial));
    } else {
        const double at_once = panel_k_mod(sheet, 1, Duration::instantaneous).value;
        times(lasting.value / at_once, named + ", k_mod over that of an instant" + cited(lasting));
        const Sourced safety = panel_rule(format.is_test ? "safety_test" : "safety");
        over(safety.value, "for safety" + cited(safety));
    }
    return {value, said("{} = {}", basis, amount(value, Unit::MPa))};
}

} // namespace

PanelConstants panel_constants(const Sheet& sheet, std::optional<double> measured_E_along,
                               std::optional<double> measured_density_kg_m3) {
    const std::optional<double> along = low_of(sheet.E_along);
    if (!along) not_known(sheet, "modulus in bending");
    if (sheet.kind == "hardboard") not_known(sheet, "modulus through its thickness");
    if (has_plies(sheet) && !low_of(sheet.E_across)) not_known(sheet, "modulus across its face grain");
    const double across = low_of(sheet.E_across).value_or(*along),
                 follow = measured_E_along.value_or(*along) / *along;
    if (!(follow > 0))
        throw Error(ErrorKind::input, Fault{"top.measured.E_along", "a modulus must be above zero", ""});
    PanelConstants panel;
    std::vector<Message>& assumptions = panel.assumptions;
    panel.same_both_ways = !has_plies(sheet);
    panel.E1 = *along * follow;
    panel.E2 = across * follow;
    if (measured_E_along)
        assumptions.push_back(
            said("modulus along {}, measured on the sheet; the others follow it in proportion (judgement)",
                 amount(*measured_E_along, Unit::MPa, significant(4))));
    else
        assumptions.push_back(said("moduli of {} in bending: along {}, across {}, {}{}", sheet.name,
                                   amount(panel.E1, Unit::MPa, significant(5)),
                                   amount(panel.E2, Unit::MPa, significant(5)), what_values(sheet),
                                   cited(sheet.source, sheet.status)));
    const Sourced nu = panel_rule("nu_" + sheet.kind), planar = panel_rule("Gplanar_" + sheet.kind),
                  through = panel_rule("E3_" + sheet.kind);
    panel.nu12 = nu.value;
    if (panel.same_both_ways) {
        panel.G12 = panel.E1 / (2 * (1 + nu.value));
        assumptions.push_back("alike in all directions of its plane, with the Poisson ratio " +
                              digits(nu.value) + cited(nu));
    } else {
        const Sourced in_plane = panel_rule("G_" + sheet.kind);
        panel.G12 = in_plane.value * follow;
        assumptions.push_back(said("shear modulus in the plane {}{}, Poisson ratio {}{}",
                                   amount(in_plane.value, Unit::MPa), cited(in_plane), number(nu.value),
                                   cited(nu)));
        assumptions.push_back(
            "stretched in its plane, as over a glued stiffener, a plywood has other moduli than "
            "in bending; those of bending stand in");
    }
    panel.G13 = panel.G23 = planar.value * follow;
    panel.E3 = through.value * follow;
    assumptions.push_back(said("shear modulus through the thickness {}{}, modulus through the thickness {}{}",
                               amount(planar.value, Unit::MPa), cited(planar),
                               amount(through.value, Unit::MPa), cited(through)));
    if (measured_density_kg_m3) {
        if (!(*measured_density_kg_m3 > 0))
            throw Error(ErrorKind::input, Fault{"top.measured.density", "a density must be above zero", ""});
        panel.density_kg_m3 = *measured_density_kg_m3;
        assumptions.push_back("density " + digits(panel.density_kg_m3) + " kg/m3, measured on the sheet");
        return panel;
    }
    if (!sheet.density_kg_m3) not_known(sheet, "density");
    const double low = sheet.density_kg_m3->low.value_or(sheet.density_kg_m3->high.value_or(0));
    panel.density_kg_m3 = (low + sheet.density_kg_m3->high.value_or(low)) / 2;
    assumptions.push_back("density " + digits(panel.density_kg_m3) + " kg/m3, the middle of its range" +
                          cited(sheet.source, sheet.status));
    return panel;
}

PanelBending panel_bending(const Sheet& sheet, const PanelFormat& format) {
    const std::optional<double> along = low_of(sheet.bending_along);
    if (!along) not_known(sheet, "strength in bending");
    if (has_plies(sheet) && !low_of(sheet.bending_across)) not_known(sheet, "strength across its face grain");
    if (!has_plies(sheet)) {
        const Allowable both = bending_of(sheet, *along, ", alike in all directions of its plane", format);
        return {both, both};
    }
    return {bending_of(sheet, *along, " along its face grain", format),
            bending_of(sheet, low_of(sheet.bending_across).value(), " across its face grain", format)};
}

Sourced panel_k_def(const Sheet& sheet, int service_class) {
    require_dry(sheet, service_class);
    const std::string row = sheet.kind == "OSB"             ? "OSB3"
                            : sheet.kind == "particleboard" ? "particleboard_P4"
                                                            : sheet.kind;
    return rule("wood_rules", "kdef_" + row + "_SC" + std::to_string(service_class));
}

Message thickness_words(const Sheet& sheet, double thickness) {
    const auto told = [&](double thinner, double thicker, const std::string& source) -> Message {
        const double left = std::pow(1 - thinner / thickness, 3);
        return said("its thickness may be off by -{}{}, and the thinnest is {} % less stiff than drawn",
                    amounts({thinner, thicker}, " to +", Unit::mm), source,
                    number(100 * (1 - left), significant(2)));
    };
    if (sheet.thickness_tolerance)
        return told(*sheet.thickness_tolerance, *sheet.thickness_tolerance,
                    cited(sheet.source, sheet.status));
    if (sheet.kind != "plywood" || sheet.values != "design") return {};
    const Sourced share = panel_rule("en315_share");
    return told(panel_rule("en315_thinner_fixed").value + share.value * thickness,
                panel_rule("en315_thicker_fixed").value + share.value * thickness, cited(share));
}

} // namespace hollowtop::materials
