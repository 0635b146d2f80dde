// SPDX-License-Identifier: MIT
#include "materials/screw.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace hollowtop::materials;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {
constexpr double nine_digits = 1e-8; // the worked values are given to nine
}

TEST_CASE("inch gauges follow 0.060 in + 0.013 in a gauge", "[materials][published]") {
    for (const ScrewSize& size : screw_sizes()) {
        if (size.id.find("inch") != 0) continue;
        const int gauge = std::stoi(size.size.substr(1));
        CHECK_THAT(size.d,
                   WithinAbs((0.060 + 0.013 * gauge) * 25.4, 0.011)); // two printed decimals of a millimetre
    }
}

TEST_CASE("a root is tabulated or 0.7 of the thread", "[materials]") {
    CHECK(root_diameter(4.5).value == 3.10); // the metric screw, though gauge 9 is as thick
    CHECK(root_diameter(4.17).value == 3.33);
    CHECK_THAT(root_diameter(7).value, WithinRel(4.9, 1e-12));
    CHECK_THAT(effective_diameter(4.5).value, WithinRel(1.1 * 3.10, 1e-12)); // EN 1995-1-1 8.7.1
}

TEST_CASE("slip stiffness is that of EN 1995-1-1 Table 7.1, twice it from steel to timber",
          "[materials][published]") {
    CHECK_THAT(slip_stiffness(5, 650, false).value, WithinRel(3602.56813, nine_digits));
    CHECK_THAT(slip_stiffness(5, 650, true).value, WithinRel(7205.13627, nine_digits));
}

TEST_CASE("a wood screw pulls out as Wood Handbook Eq. 8-10 says", "[materials][published]") {
    CHECK_THAT(withdrawal_handbook(0.64, 4.5, 25).value, WithinRel(4988.16, nine_digits)); // ultimate
    CHECK_THAT(withdrawal_handbook_design(0.64, 4.5, 25).value, WithinRel(4988.16 / 5, nine_digits));
    CHECK_THAT(withdrawal_lag_handbook(0.55, 8, 30).value, WithinRel(7299.28491, nine_digits)); // Eq. 8-14
}

TEST_CASE("a thick screw pulls out as EN 1995-1-1 Eq. 8.38 says, a thin one has no value there",
          "[materials][published]") {
    CHECK_THAT(*withdrawal_strength_ec5(6, 40, 350), WithinRel(15.9212131, nine_digits));
    CHECK_THAT(withdrawal_ec5(6, 40, 350)->value, WithinRel(2865.81835, nine_digits));
    CHECK_FALSE(withdrawal_ec5(4.5, 25, 530).has_value());
    CHECK_FALSE(withdrawal_ec5(14, 40, 350).has_value());
    CHECK_FALSE(withdrawal_ec5(6, 40, 350, 20).has_value());
    CHECK_FALSE(withdrawal_ec5(6, 0, 350).has_value());
    // At 45 degrees: 1.2 / 2 + 1 / 2 = 1.1.
    CHECK_THAT(withdrawal_ec5(6, 40, 350, 45)->value, WithinRel(2865.81835 / 1.1, nine_digits));
}

TEST_CASE("in hardwoods thinner screws have a value too", "[materials][published]") {
    // Huebner (2013): 7e-4 x 530^1.6 x 4.5^-0.34 = 9.60 MPa over pi x 4.5 x (25 - 4.95).
    const double strength = 7e-4 * std::pow(530, 1.6) * std::pow(4.5, -0.34);
    CHECK_THAT(withdrawal_hardwood(4.5, 25, 530)->value,
               WithinRel(strength * std::numbers::pi * 4.5 * 20.05, 1e-12));
    CHECK_FALSE(withdrawal_hardwood(3.5, 25, 530).has_value());
    CHECK_FALSE(withdrawal_hardwood(6, 6, 530).has_value()); // all of it is the point
}

TEST_CASE("lateral loads are those of Wood Handbook Table 8-4", "[materials][published]") {
    CHECK_THAT(lateral_handbook(0.60, false, 4.5)->value, WithinRel(44.13 * 4.5 * 4.5, 1e-12));
    CHECK_THAT(lateral_handbook(0.50, false, 4.5)->value, WithinRel(31.99 * 4.5 * 4.5, 1e-12));
    CHECK_THAT(lateral_handbook(0.40, true, 4.5)->value, WithinRel(23.17 * 4.5 * 4.5, 1e-12));
    CHECK_THAT(lateral_handbook(0.475, true, 4.5)->value,
               WithinRel(36.40 * 4.5 * 4.5, 1e-12)); // rounds to 0.48
    CHECK_FALSE(lateral_handbook(0.60, true, 4.5).has_value());
    CHECK_FALSE(lateral_handbook(0.80, false, 4.5).has_value());
}

TEST_CASE("a screw through a steel plate follows EN 1995-1-1 Eq. 8.9 and 8.10", "[materials][published]") {
    CHECK_THAT(embedment_strength(4.5, 530, true), WithinRel(41.5043, nine_digits));
    CHECK_THAT(yield_moment(4.5, 600), WithinRel(8987.21313, nine_digits));
    const Shear screw{.d = 4.5, .f_u = 600};
    CHECK_THAT(shear_thin_plate(screw, 22, 530), WithinRel(1643.57028, nine_digits));
    CHECK_THAT(shear_thick_plate(screw, 22, 530), WithinRel(2253.51759, nine_digits));
    // Between t = d/2 and t = d the value goes straight from one to the other.
    CHECK_THAT(shear_steel_plate(screw, 2, 22, 530), WithinRel(1643.57028, nine_digits));
    CHECK_THAT(shear_steel_plate(screw, 5, 22, 530), WithinRel(2253.51759, nine_digits));
    CHECK_THAT(shear_steel_plate(screw, 3.375, 22, 530),
               WithinRel((1643.57028 + 2253.51759) / 2, nine_digits));
}

TEST_CASE("the rope effect adds a quarter of the withdrawal, at most as much again",
          "[materials][published]") {
    const Shear roped{.d = 4.5, .f_u = 600, .axial = 1500};
    CHECK_THAT(shear_thin_plate(roped, 22, 530),
               WithinRel(1643.57028, nine_digits)); // bearing governs: no rope
    CHECK_THAT(shear_thick_plate(roped, 22, 530), WithinRel(2628.51759, nine_digits));
    // With a long embedment the two hinges govern; a huge axial value may only double them.
    const Shear plain{.d = 4.5, .f_u = 600}, tied{.d = 4.5, .f_u = 600, .axial = 1e9};
    CHECK_THAT(shear_thick_plate(tied, 500, 530), WithinRel(2 * shear_thick_plate(plain, 500, 530), 1e-12));
}

TEST_CASE("a screw from batten to top follows EN 1995-1-1 Eq. 8.6", "[materials][published]") {
    const TimberShear shear = shear_timber({.d = 5, .f_u = 600}, 30, 350, 20, 530);
    const double worked[] = {4089.75, 4128.7, 1700.47799, 1948.52621, 1838.34263, 2265.73674};
    for (int mode = 0; mode < 6; ++mode) CHECK_THAT(shear.modes[mode], WithinRel(worked[mode], nine_digits));
    CHECK_THAT(shear.least, WithinRel(1700.47799, nine_digits));
}

TEST_CASE("without a lead hole the embedment is weaker", "[materials]") {
    CHECK_THAT(embedment_strength(4.5, 530, false),
               WithinRel(0.082 * 530 * std::pow(4.5, -0.3), 1e-12)); // Eq. 8.15
    CHECK(embedment_strength(4.5, 530, false) < embedment_strength(4.5, 530, true));
}

TEST_CASE("thin screws sit as far apart as EN 1995-1-1 table 8.2 asks, thick ones as table 8.4",
          "[materials][published]") {
    // both tables from memory; 0.7 of a1 and a2 through steel
    const double d = 4.5, cosine = 0.6, sine = 0.8;
    const Distances thin = shear_distances(d, cosine, sine, false);
    CHECK_THAT(thin.a1, WithinRel((4 + cosine) * d, 1e-12));
    CHECK_THAT(thin.a2, WithinRel((3 + sine) * d, 1e-12));
    CHECK_THAT(thin.a3_loaded, WithinRel((7 + 5 * cosine) * d, 1e-12));
    CHECK_THAT(thin.a3_free, WithinRel(7 * d, 1e-12));
    CHECK_THAT(thin.a4_loaded, WithinRel((3 + 2 * sine) * d, 1e-12)); // under 5 mm
    CHECK_THAT(shear_distances(6, cosine, sine, false).a4_loaded, WithinRel((3 + 4 * sine) * 6, 1e-12));
    CHECK_THAT(thin.a4_free, WithinRel(3 * d, 1e-12));
    const Distances steel = shear_distances(d, cosine, sine, true);
    CHECK_THAT(steel.a1, WithinRel(0.7 * thin.a1, 1e-12));
    CHECK(steel.a3_loaded == thin.a3_loaded);
    const Distances thick = shear_distances(16, cosine, sine, false);
    CHECK_THAT(thick.a1, WithinRel((4 + cosine) * 16, 1e-12));
    CHECK_THAT(thick.a2, WithinRel(4 * 16.0, 1e-12));
    CHECK_THAT(thick.a3_loaded, WithinRel(7 * 16.0, 1e-12));
    CHECK_THAT(shear_distances(10, cosine, sine, false).a3_loaded, WithinRel(80.0, 1e-12)); // mm at least
}

TEST_CASE("screws that are pulled sit as far apart as EN 1995-1-1 table 8.6 asks", "[materials][published]") {
    const Distances pulled = withdrawal_distances(6); // from memory
    CHECK_THAT(pulled.a1, WithinRel(7 * 6.0, 1e-12));
    CHECK_THAT(pulled.a2, WithinRel(5 * 6.0, 1e-12));
    CHECK_THAT(pulled.a3_free, WithinRel(10 * 6.0, 1e-12));
    CHECK_THAT(pulled.a4_free, WithinRel(4 * 6.0, 1e-12));
}

TEST_CASE("the weakest twentieth of screws pulls out at 1 - 1.645 x 20 % of the mean", "[materials]") {
    CHECK_THAT(withdrawal_handbook_weakest(0.6, 4.5, 20).value,
               WithinRel((1 - 1.645 * 0.20) * withdrawal_handbook(0.6, 4.5, 20).value, 1e-12));
}

TEST_CASE("ten years of lateral load take three quarters of the proportional limit, wood denser than the "
          "table its densest group",
          "[materials]") {
    CHECK_THAT(lateral_handbook_design(0.60, false, 4.5)->value, WithinRel(44.13 * 4.5 * 4.5 * 0.75, 1e-4));
    CHECK(lateral_handbook_design(0.95, false, 4.5)->value ==
          lateral_handbook_design(0.74, false, 4.5)->value);
    CHECK_FALSE(lateral_handbook_design(0.2, true, 4.5).has_value());
}
