// SPDX-License-Identifier: MIT
#include "materials/fracture.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using namespace hollowtop::materials;
using Catch::Matchers::WithinRel;

TEST_CASE("the fracture energy of a handbook wood follows its density", "[materials][fracture]") {
    // 1.07 rho - 162 N/m; weakest 5 %: 1 - 1.645 x 0.25; a load that lasts ten years: C_D 1.0, so 1 / 2.3 for
    // a hardwood
    const Wood& cherry = find_wood("black_cherry");
    const double mean = (1.07 * cherry.density_12_kg_m3 - 162) / 1000, weak = 1 - 1.645 * 0.25;
    const Allowable lasting = handbook_fracture_energy(cherry, Duration::medium);
    const Allowable shorter = handbook_fracture_energy(cherry, Duration::short_term);
    CHECK(shorter.value > lasting.value);
    const double factor = duration_factor(Duration::short_term).value / 2.3;
    CHECK_THAT(shorter.value, WithinRel(mean * weak * factor * factor, 1e-9));
    CHECK(in_own_units(shorter.basis).find("from memory") != std::string::npos);
}

TEST_CASE("dense woods get no more fracture energy than the line was measured for", "[materials][fracture]") {
    const Allowable D30 = class_fracture_energy("D30", 1, Duration::short_term),
                    D70 = class_fracture_energy("D70", 1, Duration::short_term);
    CHECK(D70.value >= D30.value);
    // held at 750 kg/m3; k_mod 0.9, gamma_M 1.3
    CHECK_THAT(D70.value, WithinRel((1.07 * 750 - 162) / 1000 * (0.9 / 1.3) * (0.9 / 1.3), 1e-9));
    CHECK(in_own_units(D70.basis).find("held at 750") != std::string::npos);
}

TEST_CASE("a wood whose fracture energy was measured keeps it, and its reach is said",
          "[materials][fracture][published]") {
    // Jonasson, Danielsson, Serrano 2024: Norway spruce 221 N/m; softwood: D245 2.1; two months: C_D 1.15
    const Allowable spruce = handbook_fracture_energy(find_wood("european spruce"), Duration::medium);
    const double weak = 1 - 1.645 * 0.25, factor = 1.15 / 2.1;
    CHECK_THAT(spruce.value, WithinRel(0.221 * weak * factor * factor, 1e-9));
    CHECK(in_own_units(spruce.basis).find("measured on European (Norway) spruce") != std::string::npos);
    CHECK(in_own_units(spruce.basis).find("wood drier than that has less") != std::string::npos);
    CHECK(in_own_units(handbook_fracture_energy(find_wood("sitka spruce"), Duration::medium).basis)
              .find("wood drier than that has less") != std::string::npos);
}

TEST_CASE("against the force of a test the fracture energy is that of the weakest pieces, over 1.15 squared",
          "[materials][fracture]") {
    const Wood& cherry = find_wood("black_cherry");
    const double mean = (1.07 * cherry.density_12_kg_m3 - 162) / 1000, weak = 1 - 1.645 * 0.25;
    CHECK_THAT(handbook_fracture_energy(cherry, Duration::minutes, Against::test_force).value,
               WithinRel(mean * weak / (1.15 * 1.15), 1e-9));
    const double hour = 1.5 / (1.6 * 1.15);
    CHECK_THAT(handbook_fracture_energy(cherry, Duration::hour, Against::test_force).value,
               WithinRel(mean * weak * hour * hour, 1e-9));
}
