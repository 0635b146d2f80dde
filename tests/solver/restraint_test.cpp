// SPDX-License-Identifier: MIT
#include "solver/seasons/restraint.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("wood held for a season bears its modulus times its strain, relaxed", "[solver][published]") {
    // Bazant, ACI Journal 69, 1972: E / (1 + chi phi)
    CHECK_THAT(held_stress(700, 0.003 * 4, {.creep = 0}), WithinRel(8.4, 1e-12));
    CHECK_THAT(held_stress(700, 0.003 * 4, {.creep = 1.5, .ageing = 0.8}), WithinRel(3.81818182, 1e-8));
}

TEST_CASE("the screws of a cross batten bear what two bars and their springs give", "[solver][published]") {
    // the exact chain of two bars and four springs each side of a fixed middle
    const std::vector<double> screws{-400, -300, -200, -100, 100, 200, 300, 400};
    const ScrewedBeamStripResult result = solve_screwed_beam_strip({.screws = screws,
                                                                    .screw_stiffness = 1500,
                                                                    .EA_top = 5'250'000,
                                                                    .EA_stiffener = 14'850'000,
                                                                    .free_strain = 0.008});
    CHECK_THAT(result.screw_force[7], WithinRel(3742.2235, 1e-7));
    CHECK_THAT(result.screw_force[4], WithinRel(851.326567, 1e-7));
    CHECK_THAT(result.slip[7], WithinRel(2.49481567, 1e-7));
    CHECK_THAT(result.screw_force[0], WithinRel(-result.screw_force[7], 1e-9));
    double sum = 0;
    for (const double f : result.screw_force) sum += f;
    CHECK_THAT(sum, WithinAbs(0, 1e-8));
    // the middle of the stiffener bears the four screws of one side
    CHECK_THAT(result.greatest_pull, WithinRel(result.screw_force[4] + result.screw_force[5] +
                                                   result.screw_force[6] + result.screw_force[7],
                                               1e-9));
}

TEST_CASE("soft screws let the wood go, hard ones hold it as glue does", "[solver][property]") {
    const std::vector<double> screws{50, 250, 450, 650};
    const auto with = [&](double stiffness) {
        return solve_screwed_beam_strip({.screws = screws,
                                         .screw_stiffness = stiffness,
                                         .EA_top = 4e6,
                                         .EA_stiffener = 3e7,
                                         .free_strain = 0.005});
    };
    CHECK_THAT(with(1e-3).slip[3] - with(1e-3).slip[0], WithinRel(0.005 * 600, 1e-4));
    const double glued = 0.005 / (1 / 4e6 + 1 / 3e7);
    CHECK_THAT(with(1e9).greatest_pull, WithinRel(glued, 1e-3));
    CHECK(with(1e3).greatest_pull < with(1e4).greatest_pull);
    CHECK(with(1e4).greatest_pull < glued);
}

TEST_CASE("screws that yield pull no harder than they bear", "[solver][published]") {
    const std::vector<double> two{0, 600};
    const double EA1 = 4e6, EA2 = 3e7, k = 2000, e = 0.005, L = 600;
    // two screws: s2 - s1 = (e - P c) L with P = k s2, s1 = -s2
    const double elastic = e * L / ((1 / EA1 + 1 / EA2) * L + 2 / k);
    const auto with = [&](const std::vector<double>& screws, double bears) {
        return solve_screwed_beam_strip({.screws = screws,
                                         .screw_stiffness = k,
                                         .EA_top = EA1,
                                         .EA_stiffener = EA2,
                                         .free_strain = e,
                                         .screw_bears = bears});
    };
    CHECK_THAT(with(two, 0).greatest_pull, WithinRel(elastic, 1e-9));
    CHECK_THAT(with(two, 1.01 * elastic).greatest_pull, WithinRel(elastic, 1e-9)); // none of them yields
    CHECK_THAT(with(two, elastic / 3).greatest_pull, WithinRel(elastic / 3, 1e-6));
    CHECK_THAT(with(two, elastic / 3).slip[1], // what is not held back slips
               WithinRel((e - elastic / 3 * (1 / EA1 + 1 / EA2)) * L / 2, 1e-6));
    // weak screws all yield: the middle bears those of one side
    const std::vector<double> six{0, 100, 200, 400, 500, 600};
    CHECK_THAT(with(six, 50).greatest_pull, WithinRel(3 * 50.0, 1e-6));
}

TEST_CASE("one screw alone holds nothing", "[solver]") {
    const std::vector<double> one{100};
    const auto result = solve_screwed_beam_strip(
        {.screws = one, .screw_stiffness = 1500, .EA_top = 1e6, .EA_stiffener = 1e6, .free_strain = 0.01});
    CHECK(result.greatest_pull == 0);
    CHECK(result.screw_force == std::vector<double>{0});
}
