// SPDX-License-Identifier: MIT
#include "materials/strength.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/moisture.hpp"
#include "materials/names.hpp"
#include "materials/table.hpp"
#include "materials/trend.hpp"
#include "materials/weakest_link.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hollowtop::materials {
namespace {

Sourced wood_rule(std::string_view id) { return rule("wood_rules", id); }
Sourced wood_rule(std::string_view id, const Wood& wood, std::string_view soft, std::string_view hard) {
    return wood_rule(std::string(id) + std::string(wood.softwood ? soft : hard));
}

/// A value in the making: every step multiplies it and adds to the sentence.
class Reckoning {
  public:
    Reckoning(const char* what, double value, const Message& basis)
        : value_(value), said_(said("{}: {}", what, basis)) {}

    Reckoning& times(double factor, const Message& why) {
        value_ *= factor;
        said_ += said(" x {} {}", number(factor), why);
        return *this;
    }
    Reckoning& over(double divisor, const Message& why) {
        value_ /= divisor;
        said_ += said(" / {} {}", number(divisor), why);
        return *this;
    }
    Allowable done() const { return {value_, said("{} = {}", said_, amount(value_, Unit::MPa))}; }

  private:
    double value_;
    Message said_;
};

/// The mean of clear pieces, or what stands in for it.
struct MeanStrength {
    double value = 0;
    Message said;
};

MeanStrength printed(double value, const Wood& wood) {
    return {value, said("mean {} of clear {}{}", amount(value, Unit::MPa), wood.common_name,
                        cited(wood.source, wood.status))};
}

/// A SG^n from the handbook's table of such functions, lowered by the scatter of the known woods about it.
MeanStrength by_specific_gravity(const std::string& rows, const Wood& wood) {
    const std::string row = rows + (wood.softwood ? "_softwood" : "_hardwood");
    const Sourced A = wood_rule(row + "_A"), n = wood_rule(row + "_n"), scatter = wood_rule(row + "_scatter");
    return {A.value * std::pow(wood.sg_12, n.value) / scatter.value,
            "none is published for " + wood.common_name + ", so " + digits(A.value, 4) + " x SG^" +
                digits(n.value) + " at SG " + digits(wood.sg_12) + cited(A) + " / " + digits(scatter.value) +
                " for the scatter of the known woods about it" + cited(scatter) + " stands in"};
}

double bending_strength(const Wood& wood) {
    if (wood.mor) return *wood.mor;
    throw Error(ErrorKind::input,
                Fault{"top.wood", "no bending strength is published for " + wood.common_name,
                      "choose a related wood, or an allowables \"class\""});
}

MeanStrength mean_tension_across(const Wood& wood) {
    if (wood.tension_perp) return printed(*wood.tension_perp, wood);
    MeanStrength fit = by_specific_gravity("xg_tension", wood);
    const Sourced least = wood_rule("xg_ratio_min", wood, "_softwood", "_hardwood");
    const double by_ratio = least.value * bending_strength(wood);
    if (by_ratio >= fit.value) return fit;
    return {by_ratio,
            said("none is published for {}, so its bending strength of {}{} x {}, the least such share among "
                 "{}{}, stands in",
                 wood.common_name, amount(bending_strength(wood), Unit::MPa), cited(wood.source, wood.status),
                 number(least.value), wood.softwood ? "softwoods" : "hardwoods", cited(least))};
}

MeanStrength mean_shear(const Wood& wood) {
    return wood.shear_par ? printed(*wood.shear_par, wood) : by_specific_gravity("sg_shear", wood);
}

MeanStrength mean_bearing(const Wood& wood) {
    return wood.comp_perp_pl ? printed(*wood.comp_perp_pl, wood) : by_specific_gravity("sg_comp_perp", wood);
}

const char* const tension_across_words = "tension across the grain";

/// An allowable with the volume that it goes with.
Allowable of_volume(Allowable allowable, const Message& volume) {
    return {allowable.value, said("{}, of {}", allowable.basis, volume)};
}

void wet(Reckoning& reckoning, Trend trend, double moisture_percent) {
    const Sourced factor = trend_factor(trend, moisture_percent); // checks the moisture too
    if (factor.value < 1)
        reckoning.times(factor.value,
                        "at " + digits(moisture_percent) + " % moisture content" + cited(factor));
}

void five_percent(Reckoning& reckoning, const char* cov_row) {
    const Sourced fractile = wood_rule("fractile_5"), cov = wood_rule(cov_row);
    reckoning.times(1 - fractile.value * cov.value / 100, "for the weakest 5 % of the pieces, 1 - " +
                                                              digits(fractile.value, 4) + " x " +
                                                              digits(cov.value) + " %" + cited(cov));
}

void divided(Reckoning& reckoning, const Sourced& factor, Against against) {
    if (against == Against::test_force) {
        const Sourced reserve = wood_rule("test_force_reserve");
        reckoning.over(reserve.value, "for safety against the force of a test, which is itself the extreme" +
                                          cited(reserve));
        return;
    }
    reckoning.over(factor.value, "for ten years of load and safety" + cited(factor));
}

void graded(Reckoning& reckoning, double grade_ratio) {
    if (grade_ratio < 1) reckoning.times(grade_ratio, "for the grade (stated strength ratio)");
}

void lasting(Reckoning& reckoning, Duration duration, Against against) {
    const Sourced factor = duration_factor(duration);
    if (against == Against::test_force) {
        const Sourced of_test = wood_rule("CD_10_minutes");
        if (factor.value < of_test.value)
            reckoning.times(factor.value / of_test.value,
                            "for a load called " + std::string(to_word(duration)) +
                                " against the ten minutes of a strength test" + cited(factor));
        return;
    }
    reckoning.times(factor.value, "for a load called " + std::string(to_word(duration)) + cited(factor));
}

} // namespace

AllowableStresses handbook_allowables(const Wood& wood, double ring_angle_deg, double moisture_percent,
                                      double grade_ratio, Duration duration, Against against) {
    if (!(grade_ratio > 0 && grade_ratio <= 1))
        throw Error(ErrorKind::input,
                    Fault{"allowables.grade_ratio", digits(grade_ratio) + " is no strength ratio",
                          "give more than 0 and at most 1 (1 is clear straight-grained wood)"});
    const Sourced for_bending = wood_rule("d245_bending_strength", wood, "_soft", "_hard");
    const Sourced for_shear = wood_rule("d245_shear_parallel", wood, "_soft", "_hard");
    const Sourced for_bearing = wood_rule("d245_compression_perpendicular", wood, "_soft", "_hard");
    const auto start = [](const char* what, const MeanStrength& mean) {
        return Reckoning(what, mean.value, mean.said);
    };
    AllowableStresses allowable;

    Reckoning bending = start("bending along the grain", printed(bending_strength(wood), wood));
    wet(bending, Trend::bending, moisture_percent);
    five_percent(bending, "cov_mor");
    divided(bending, for_bending, against);
    graded(bending, grade_ratio);
    lasting(bending, duration, against);
    allowable.bending_along = bending.done();

    Reckoning across = start(tension_across_words, mean_tension_across(wood));
    wet(across, Trend::tension_across, moisture_percent);
    const Sourced quarter = wood_rule("xg_weak_below_deg");
    if (ring_angle_deg < quarter.value) {
        const Sourced weak = wood_rule("xg_weak_dir", wood, "_softwood", "_hardwood");
        across.times(weak.value, "for the weaker direction (rings under " + digits(quarter.value) +
                                     " degrees)" + cited(weak));
    }
    five_percent(across, "cov_tension_perp");
    divided(across, for_bending, against);
    lasting(across, duration, against);
    allowable.tension_across = of_volume(across.done(), weakest_link().handbook_said);
    allowable.tension_across_volume_mm3 = weakest_link().handbook_mm3;
    allowable.tension_across_block = allowable.tension_across;

    // Compression across the grain is limited by deformation: the mean, and the same for every duration (ASTM
    // D245).
    const auto pressed = [&](const char* what, Against by) {
        Reckoning value = start(what, mean_bearing(wood));
        wet(value, Trend::compression_across, moisture_percent);
        if (by == Against::test_force)
            divided(value, for_bearing, by); // no years of use follow in which it would go on giving way
        else
            value.over(for_bearing.value,
                       "for deformation and safety, whatever the duration" + cited(for_bearing));
        return value.done();
    };
    allowable.bearing = pressed("bearing across the grain, at the proportional limit", Against::loads_of_use);
    allowable.compression_across =
        pressed("compression across the grain, at the proportional limit", against);

    const auto sheared = [&](const char* what) {
        Reckoning value = start(what, mean_shear(wood));
        wet(value, Trend::shear, moisture_percent);
        five_percent(value, "cov_shear");
        divided(value, for_shear, against);
        graded(value, grade_ratio);
        lasting(value, duration, against);
        return value;
    };
    allowable.shear = sheared("shear along the grain").done();
    const Sourced rolling = wood_rule("rolling_shear_share");
    allowable.rolling_shear =
        sheared("shear across the grain, which rolls the fibres, from shear along it")
            .times(rolling.value, "for rolling, the lower end of 18 to 28 %" + cited(rolling))
            .done();
    return allowable;
}

AllowableStresses class_allowables(const std::string& strength_class, int service_class, Duration duration) {
    const Sourced modification = k_mod(duration, service_class);
    const Sourced partial = wood_rule("gammaM_solid_timber");
    const Table& classes = table("strength_classes");
    std::vector<std::string> names;
    for (const Table::Row& row : classes.rows) names.push_back(row.cells.front());
    if (std::find(names.begin(), names.end(), strength_class) == names.end()) {
        const std::string near = did_you_mean(strength_class, names);
        throw Error(ErrorKind::input,
                    Fault{"allowables.class", "no strength class \"" + strength_class + "\" in EN 338",
                          near.empty() ? "give one of C14 to C50 or D18 to D70" : near});
    }
    const Cells row = row_of(classes, strength_class);
    const auto design = [&](const char* what, const char* symbol, double characteristic) {
        Reckoning value(what, characteristic,
                        said("{} = {} of {}{}", symbol, amount(characteristic, Unit::MPa), strength_class,
                             cited(row.text("source"), row.text("status"))));
        value.times(modification.value, "k_mod for a load called " + std::string(to_word(duration)) +
                                            ", service class " + std::to_string(service_class) +
                                            cited(modification));
        value.over(partial.value, "gamma_M" + cited(partial));
        return value;
    };
    AllowableStresses allowable;
    allowable.bending_along = design("bending along the grain", "f_m,k", row.required("f_mk")).done();
    const WeakestLink& link = weakest_link();
    allowable.tension_across =
        of_volume(design(tension_across_words, "f_t,90,k", row.required("f_t90k")).done(), link.class_said);
    allowable.tension_across_volume_mm3 = link.class_mm3;
    const double less_wood = strength_ratio_of_volumes(link.handbook_mm3, link.class_mm3);
    allowable.tension_across_block = design(tension_across_words, "f_t,90,k", row.required("f_t90k"))
                                         .times(less_wood, said("from {}, to {}, {}", link.class_said,
                                                                link.handbook_said, link.exponent_said))
                                         .done();
    allowable.compression_across =
        design("compression across the grain", "f_c,90,k", row.required("f_c90k")).done();
    allowable.bearing = allowable.compression_across;
    const Sourced cracks = wood_rule("kcr");
    allowable.shear = design("shear along the grain", "f_v,k", row.required("f_vk"))
                          .times(cracks.value, "k_cr for checks" + cited(cracks))
                          .done();
    const Sourced rolling = wood_rule("rolling_shear_ec5");
    allowable.rolling_shear = design("shear that rolls the fibres", "f_t,90,k", row.required("f_t90k"))
                                  .times(rolling.value, "of the tension across the grain" + cited(rolling))
                                  .done();
    return allowable;
}

double weak_modulus_share(const std::string& strength_class) {
    const Cells row = row_of(table("strength_classes"), strength_class);
    return row.required("E_m0_k") / row.required("E_m0_mean");
}

Sourced class_density_k(const std::string& strength_class) {
    const Cells row = row_of(table("strength_classes"), strength_class);
    return {row.required("rho_k"), row.text("source"), row.text("status")};
}

} // namespace hollowtop::materials
