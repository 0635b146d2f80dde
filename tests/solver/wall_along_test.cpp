// SPDX-License-Identifier: MIT
#include "solver/section/wall_along.hpp"

#include "solver/section/wall_submodel.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

/// Excess resistance of a flow through a channel that widens on one side from `share` to 1, Laplace's
/// equation: the static limit of the change in height of a rectangular wave guide (Marcuvitz, Waveguide
/// Handbook, 1951, 5.26, from memory).
double step_of_a_channel(double share) {
    const double a = share;
    return 2 / std::numbers::pi *
           (std::log((1 - a * a) / (4 * a)) + (a + 1 / a) / 2 * std::log((1 + a) / (1 - a)));
}

} // namespace

TEST_CASE("shear flow meets a wall as a stream meets the step of a channel", "[solver][wall]") {
    for (const double share : {0.1, 0.3, 0.5, 0.7, 0.9})
        CHECK_THAT(work_along_wall(share)[0],
                   WithinRel(step_of_a_channel(share), 2e-3)); // the solve's own error at a sharp root
}

TEST_CASE("without a give the plates' layers do the work of their closed form", "[solver][wall]") {
    // turning b at the wall: b (layer skin + layer rim) = lever N + 2 twist (D_rim - D_skin)
    const double s = 0.4, layers = (1 + s * s) * std::sqrt(5.0 / 72), lever = (1 - s) / 2,
                 D = (1 - s * s * s) / 12;
    const auto work = layer_work(s, 0.1, {});
    CHECK_THAT(work[0], WithinRel(lever * lever / layers, 1e-12));
    CHECK_THAT(work[1], WithinRel(lever * 2 * D / layers, 1e-12));
    CHECK_THAT(work[2], WithinRel(4 * D * D / layers, 1e-12));
}

TEST_CASE("with its give along the wall a plate does the work of the solved section", "[solver][wall]") {
    const PlaneStiffness plane = plane_stiffness(
        {.E1 = 9400, .E2 = 357.2, .nu12 = 0.344, .G12 = 451.2, .G13 = 488.8, .G23 = 47, .density_kg_m3 = 390},
        0);
    for (const Point across : {Point{1, 0}, Point{0, 1}})
        for (const double share : {0.3, 0.5, 0.8}) {
            const double t = 40, zone = 4;
            const AlongCompliance compliance = wall_along(plane, t, share * t, across, zone);
            const auto [G_across, G_through] = shear_along(plane, across);
            const double G = std::sqrt(G_across * G_through);
            const auto plates =
                layer_work(share, zone / t * std::sqrt(G_through / G_across),
                           {compliance.NN * G, compliance.NM * G * t, compliance.MM * G * t * t});
            const auto solid = work_along_wall(share);
            CAPTURE(across.x, share);
            CHECK(compliance.MM > 0);
            for (std::size_t k = 0; k < 3; ++k)
                CHECK_THAT(plates[k], WithinRel(solid[k], 1e-6)); // a bisection's end
        }
}

TEST_CASE("between five directions a curved wall gives as its own sections do", "[solver][wall]") {
    const PlaneStiffness plane = plane_stiffness(
        {.E1 = 9400, .E2 = 357.2, .nu12 = 0.344, .G12 = 451.2, .G13 = 488.8, .G23 = 47, .density_kg_m3 = 390},
        20);
    for (const double degrees : {30.0, 55.0, 80.0}) {
        const double a = (20 + degrees) * std::numbers::pi / 180;
        const Point across{std::cos(a), std::sin(a)};
        const Matrix3 own = wall_submodel(plane, 40, 16, 3, across)->extra,
                      between = curved_wall_compliance(plane, 40, 16, 3, across);
        CHECK_THAT(between[0], WithinRel(own[0], 0.01)); // what its header says
        CHECK_THAT(between[4], WithinRel(own[4], 0.01));
    }
}
