// SPDX-License-Identifier: MIT
#include "materials/screw.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/table.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop::materials {
namespace {

Sourced screw_rule(std::string_view id) { return rule("screw_rules", id); }
double rule_value(std::string_view id) { return screw_rule(id).value; }

/// A Johansen value and the rope's help: at most as much again (EC5 8.2.2(2), screws).
double with_rope(double johansen, double axial) {
    return johansen + std::min(johansen, rule_value("ec5_rope_share") * axial);
}

} // namespace

const std::vector<ScrewSize>& screw_sizes() {
    static const std::vector<ScrewSize> all = [] {
        std::vector<ScrewSize> read;
        const Table& rows = table("screws");
        for (const Table::Row& row : rows.rows) {
            const Cells cells(rows, row);
            read.push_back({cells.text("id"), cells.text("size"), cells.required("d_mm"),
                            cells.number("root_mm"), cells.text("source"), cells.text("status"),
                            cells.text("note")});
        }
        return read;
    }();
    return all;
}

Sourced root_diameter(double d) {
    // Metric sizes first: 4.5 mm is a metric screw, though gauge 9 is 4.50 mm too.
    const ScrewSize* found = nullptr;
    for (const ScrewSize& size : screw_sizes()) {
        const bool is_metric = size.id.starts_with("metric");
        if (size.root && std::abs(size.d - d) < 0.02 && (!found || is_metric)) found = &size;
    }
    if (found) return {*found->root, found->source, found->status};
    const Sourced share = screw_rule("root_share");
    return {share.value * d, "0.7 d: " + share.source, share.status};
}

Sourced effective_diameter(double d) {
    const Sourced root = root_diameter(d), factor = screw_rule("ec5_d_ef_factor");
    return {factor.value * root.value, factor.source + "; root: " + root.source, root.status};
}

Sourced slip_stiffness(double d, double mean_density_kg_m3, bool steel_to_timber) {
    const Sourced divisor = screw_rule("ec5_Kser_c"), steel = screw_rule("ec5_Kser_steel_factor");
    const double timber = std::pow(mean_density_kg_m3, 1.5) * d / divisor.value;
    return {steel_to_timber ? steel.value * timber : timber,
            steel_to_timber ? "EN 1995-1-1 Table 7.1 and 7.1(3)" : "EN 1995-1-1 Table 7.1", divisor.status};
}

Sourced withdrawal_handbook(double G, double D, double L) {
    const Sourced c = screw_rule("wh_withdrawal_c");
    return {c.value * G * G * D * L, c.source, c.status};
}

Sourced withdrawal_lag_handbook(double G, double D, double L) {
    const Sourced c = screw_rule("wh_lag_withdrawal_c");
    return {c.value * std::pow(G, 1.5) * std::pow(D, 0.75) * L, c.source, c.status};
}

Sourced withdrawal_handbook_design(double G, double D, double L) {
    const Sourced ultimate = withdrawal_handbook(G, D, L), share = screw_rule("wh_withdrawal_share");
    return {share.value * ultimate.value, said("one fifth of {} ({})", ultimate.source, share.source),
            share.status};
}

Sourced withdrawal_handbook_weakest(double G, double D, double L) {
    const Sourced ultimate = withdrawal_handbook(G, D, L), cov = screw_rule("wh_withdrawal_cov"),
                  fractile = rule("wood_rules", "fractile_5");
    return {(1 - fractile.value * cov.value / 100) * ultimate.value,
            said("the weakest 5 % (1 - {} x {} %, {}) of {}",
                 hollowtop::number(fractile.value, significant(4)), hollowtop::number(cov.value), cov.status,
                 ultimate.source),
            cov.status};
}

std::optional<double> withdrawal_strength_ec5(double d, double l_ef, double rho_k) {
    if (d < rule_value("ec5_f_ax_d_min") || d > rule_value("ec5_f_ax_d_max") || !(l_ef > 0))
        return std::nullopt;
    return rule_value("ec5_f_ax_c") * std::pow(d, -0.5) * std::pow(l_ef, -0.1) * std::pow(rho_k, 0.8);
}

std::optional<Sourced> withdrawal_ec5(double d, double l_ef, double rho_k, double angle_deg) {
    const std::optional<double> strength = withdrawal_strength_ec5(d, l_ef, rho_k);
    if (!strength || angle_deg < 30) return std::nullopt;
    const double angle = angle_deg * std::numbers::pi / 180;
    const double slope = 1.2 * std::cos(angle) * std::cos(angle) + std::sin(angle) * std::sin(angle);
    const double k_d = std::min(d / 8, 1.0);
    const Cells row = row_of(table("screw_rules"), "ec5_F_ax");
    return Sourced{*strength * d * l_ef * k_d / slope, row.text("source"), row.text("status")};
}

std::optional<Sourced> withdrawal_hardwood(double d, double inserted_thread, double rho_k) {
    const double l_ef = inserted_thread - 1.1 * d;
    if (d < rule_value("huebner_d_min") || d > rule_value("huebner_d_max") || !(l_ef > 0))
        return std::nullopt;
    const Sourced c = screw_rule("huebner_c");
    const double strength = c.value * std::pow(rho_k, 1.6) * std::pow(d, -0.34);
    return Sourced{strength * std::numbers::pi * d * l_ef, c.source, c.status};
}

std::optional<Sourced> lateral_handbook(double G, bool softwood, double D) {
    struct Band {
        const char* id;
        bool softwood;
        double low, high;
    };
    // Specific gravities of Wood Handbook Table 8-4, to two places as printed.
    static constexpr Band bands[] = {
        {"wh_K_hard_low", false, 0.33, 0.47},  {"wh_K_hard_mid", false, 0.48, 0.56},
        {"wh_K_hard_high", false, 0.57, 0.74}, {"wh_K_soft_low", true, 0.29, 0.42},
        {"wh_K_soft_mid", true, 0.43, 0.47},   {"wh_K_soft_high", true, 0.48, 0.52}};
    const double rounded = std::round(G * 100) / 100;
    for (const Band& band : bands)
        if (band.softwood == softwood && rounded >= band.low - 1e-9 && rounded <= band.high + 1e-9) {
            const Sourced K = screw_rule(band.id);
            return Sourced{K.value * D * D, "Wood Handbook Eq. 8-13 and Table 8-4", K.status};
        }
    return std::nullopt;
}

std::optional<Sourced> lateral_handbook_design(double G, bool softwood, double D) {
    const double densest = softwood ? 0.52 : 0.74; // the last bands of Wood Handbook Table 8-4
    const std::optional<Sourced> limit = lateral_handbook(std::min(G, densest), softwood, D);
    if (!limit) return std::nullopt;
    const Sourced safety = screw_rule("wh_lateral_safety");
    return Sourced{limit->value / safety.value,
                   said("{} / {} ({}, {})", limit->source, hollowtop::number(safety.value), safety.source,
                        safety.status),
                   safety.status};
}

double embedment_strength(double d, double rho_k, bool predrilled) {
    const double c = rule_value("ec5_f_h_c");
    return predrilled ? c * (1 - 0.01 * d) * rho_k : c * rho_k * std::pow(d, -0.3);
}

double yield_moment(double d, double f_u) { return rule_value("ec5_M_y_c") * f_u * std::pow(d, 2.6); }

double shear_thin_plate(const Shear& screw, double t1, double rho_k) {
    const double f_h = embedment_strength(screw.d, rho_k, screw.predrilled),
                 M_y = yield_moment(screw.d, screw.f_u);
    const double bearing = 0.4 * f_h * t1 * screw.d;
    const double bent = 1.15 * std::sqrt(2 * M_y * f_h * screw.d);
    return std::min(bearing, with_rope(bent, screw.axial));
}

double shear_thick_plate(const Shear& screw, double t1, double rho_k) {
    const double d = screw.d, f_h = embedment_strength(d, rho_k, screw.predrilled),
                 M_y = yield_moment(d, screw.f_u);
    const double bearing = f_h * t1 * d;
    const double one_hinge = bearing * (std::sqrt(2 + 4 * M_y / (f_h * d * t1 * t1)) - 1);
    const double two_hinges = 2.3 * std::sqrt(M_y * f_h * d);
    return std::min({bearing, with_rope(one_hinge, screw.axial), with_rope(two_hinges, screw.axial)});
}

double shear_steel_plate(const Shear& screw, double plate_thickness, double t1, double rho_k) {
    const double thin = shear_thin_plate(screw, t1, rho_k), thick = shear_thick_plate(screw, t1, rho_k);
    const double share = std::clamp((plate_thickness - screw.d / 2) / (screw.d / 2), 0.0, 1.0);
    return thin + share * (thick - thin);
}

TimberShear shear_timber(const Shear& screw, double t1, double rho_k1, double t2, double rho_k2) {
    const double d = screw.d, M_y = yield_moment(d, screw.f_u);
    const double f_1 = embedment_strength(d, rho_k1, screw.predrilled),
                 f_2 = embedment_strength(d, rho_k2, screw.predrilled);
    const double b = f_2 / f_1, r = t2 / t1;
    TimberShear shear;
    shear.modes[0] = f_1 * t1 * d;
    shear.modes[1] = f_2 * t2 * d;
    shear.modes[2] = f_1 * t1 * d / (1 + b) *
                     (std::sqrt(b + 2 * b * b * (1 + r + r * r) + b * b * b * r * r) - b * (1 + r));
    shear.modes[3] = 1.05 * f_1 * t1 * d / (2 + b) *
                     (std::sqrt(2 * b * (1 + b) + 4 * b * (2 + b) * M_y / (f_1 * d * t1 * t1)) - b);
    shear.modes[4] = 1.05 * f_1 * t2 * d / (1 + 2 * b) *
                     (std::sqrt(2 * b * b * (1 + b) + 4 * b * (1 + 2 * b) * M_y / (f_1 * d * t2 * t2)) - b);
    shear.modes[5] = 1.15 * std::sqrt(2 * b / (1 + b)) * std::sqrt(2 * M_y * f_1 * d);
    for (int mode = 2; mode < 6; ++mode) shear.modes[mode] = with_rope(shear.modes[mode], screw.axial);
    shear.least = *std::min_element(std::begin(shear.modes), std::end(shear.modes));
    return shear;
}

namespace {

double distance(std::string_view id, double d, double cosine, double sine) {
    const Cells row = row_of(table("screw_spacing"), id);
    double least = (row.required("constant") + row.required("cos") * cosine + row.required("sin") * sine) * d;
    if (const auto of_d = row.number("least_d")) least = std::max(least, *of_d * d);
    if (const auto in_mm = row.number("least_mm")) least = std::max(least, *in_mm);
    return least;
}

} // namespace

Distances shear_distances(double d, double cosine, double sine, bool through_steel) {
    const bool thin = effective_diameter(d).value <= rule_value("ec5_thin_d_max");
    const auto of = [&](const char* id) {
        return distance((thin ? "thin_" : "thick_") + std::string(id), d, cosine, sine);
    };
    const double share = through_steel ? rule_value("ec5_steel_spacing_factor") : 1;
    const bool small = thin && d < rule_value("ec5_a4t_d");
    return {.a1 = share * of("a1"),
            .a2 = share * of("a2"),
            .a3_loaded = of("a3t"),
            .a3_free = of("a3c"),
            .a4_loaded = of(small ? "a4t_small" : "a4t"),
            .a4_free = of("a4c"),
            .table = thin ? "EN 1995-1-1 table 8.2, predrilled" : "EN 1995-1-1 table 8.4"};
}

Distances withdrawal_distances(double d) {
    const auto of = [&](const char* id) { return distance(id, d, 0, 0); };
    const double end = of("pulled_a1CG"), edge = of("pulled_a2CG");
    return {.a1 = of("pulled_a1"),
            .a2 = of("pulled_a2"),
            .a3_loaded = end,
            .a3_free = end,
            .a4_loaded = edge,
            .a4_free = edge,
            .table = "EN 1995-1-1 table 8.6"};
}

Sourced code_thread() { return screw_rule("ec5_thread_least"); }
Sourced handbook_thread() { return screw_rule("wh_thread_full"); }
Sourced least_thread() { return screw_rule("thread_least"); }
Sourced code_thickness() { return screw_rule("ec5_wood_least"); }

} // namespace hollowtop::materials
