// SPDX-License-Identifier: MIT
#include "solver/interface/beam.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// 1200 mm of a section in steel-like stiffness, along x.
Beam bar_of(const char* section, double density = 0) {
    return beam_of(Stiffener{.name = "bar",
                             .section = section,
                             .metal = "",
                             .wood = "",
                             .elastic = BarElastic{205000, 79000, density},
                             .from = {0, 0},
                             .to = {1200, 0},
                             .screws = {}},
                   12);
}

/// A force at the end, through the centroid.
BeamForce at_end(double Fx, double Fy, double Fz, double Mx = 0) {
    return {.s = 600, .f = {Fx, Fy, Fz, Mx, 0, 0}};
}

double moved(const Beam& beam, const BeamForce& a, const BeamForce& b) {
    return compliance_between(beam, std::span(&a, 1), std::span(&b, 1));
}

} // namespace

TEST_CASE("half a bar bends like a cantilever with shear", "[solver][published]") {
    // P L^3 / 3EI + P L / GA_s: Timoshenko, Strength of Materials Part I (1955), art. 39
    const Beam beam = bar_of("bar 6x40");
    const double I = 6.0 * 40 * 40 * 40 / 12, L = 600;
    const double expected = L * L * L / (3 * 205000 * I) + L / (79000 * 5.0 / 6 * 240);
    CHECK_THAT(moved(beam, at_end(0, 0, 1), at_end(0, 0, 1)), WithinRel(expected, 1e-12));
    CHECK_THAT(moved(beam, at_end(1, 0, 0), at_end(1, 0, 0)), WithinRel(L / (205000 * 240.0), 1e-12));
}

TEST_CASE("an angle loaded upright also moves sideways", "[solver][published]") {
    // principal axes by hand: an equal angle bends about the axes at 45 degrees; sideways / upright movement
    // = (1/I_v - 1/I_u) / (1/I_v + 1/I_u) without shear (Timoshenko, Strength of Materials Part I (1955),
    // art. 47)
    Beam beam = bar_of("angle 50x50x5");
    beam.GA_y = beam.GA_z = 1e15;
    beam.shear_centre = {0, 0}; // bending alone
    const materials::Section& s = beam.section;
    const double middle = (s.I_yy + s.I_zz) / 2, radius = std::hypot((s.I_yy - s.I_zz) / 2, s.I_yz);
    const double I_u = middle + radius, I_v = middle - radius;
    const double up = moved(beam, at_end(0, 0, 1), at_end(0, 0, 1)),
                 side = moved(beam, at_end(0, 1, 0), at_end(0, 0, 1));
    CHECK_THAT(up, WithinRel(600.0 * 600 * 600 / (3 * 205000) * (1 / I_u + 1 / I_v) / 2, 1e-6));
    CHECK_THAT(std::abs(side) / up, WithinRel((1 / I_v - 1 / I_u) / (1 / I_v + 1 / I_u), 1e-6));
    CHECK(side * s.I_yz < 0); // it gives most in its soft direction, square to the line from toe to toe
}

TEST_CASE("stress of an angle in unsymmetrical bending is that about its principal axes",
          "[solver][published]") {
    const Beam beam = bar_of("angle 50x50x5");
    const materials::Section& s = beam.section;
    const double M = 1e5;
    const SectionForces forces{.N = 0, .V_y = 0, .V_z = 0, .T = 0, .M_y = M, .M_z = 0};
    // turn into principal axes u, v
    const double angle = 0.5 * std::atan2(2 * s.I_yz, s.I_zz - s.I_yy); // of u from y
    const double c = std::cos(angle), d = std::sin(angle);
    const double I_uu = s.I_yy * c * c + s.I_zz * d * d - 2 * s.I_yz * c * d,
                 I_vv = s.I_yy * d * d + s.I_zz * c * c + 2 * s.I_yz * c * d;
    for (const auto& [y, z] : s.corners) {
        const double u = y * c + z * d, v = -y * d + z * c;
        const double M_u = M * c, M_v = -M * d; // the moment vector along y
        CHECK_THAT(stress_at(beam, forces, y, z), WithinRel(M_u * v / I_uu - M_v * u / I_vv, 1e-9));
    }
}

TEST_CASE("movements of a bar are reciprocal, also of one that is not symmetrical", "[solver][property]") {
    const Beam beam = bar_of(GENERATE("channel 50x38x5", "angle 60x40x5"));
    const BeamForce a = force_on(beam, 410, 3, -2, {1, 2, -3}), b = force_on(beam, 230, -8, 0, {-2, 1, 5});
    CHECK_THAT(moved(beam, a, b), WithinRel(moved(beam, b, a), 1e-12));
    CHECK(moved(beam, a, {.s = -230, .f = b.f}) == 0); // the middle stands still
}

TEST_CASE("a force through the shear centre does not twist a channel", "[solver][property]") {
    const Beam beam = bar_of("channel 50x38x5");
    const double y = beam.section.y_c + beam.shear_centre[0] - beam.y_line;
    const BeamForce through = force_on(beam, 500, y, 0, {0, 0, 1}), torque{.s = 500, .f = {0, 0, 0, 1, 0, 0}};
    const double turn = moved(beam, torque, through), own = moved(beam, torque, torque);
    CHECK_THAT(turn / own, WithinAbs(0, 1e-9));
    CHECK(beam.shear_centre[0] < -beam.section.y_c); // behind the web
}

TEST_CASE("an angle loaded off its shear centre twists as the closed form has it", "[solver][published]") {
    // screwed through one leg, the wood's push acts beside the shear centre, which lies where the legs'
    // middle lines meet; Saint-Venant:
    // turn = F e L / (G J), J = sum of length x t^3 / 3 within some per cent (Timoshenko, Strength of
    // Materials Part II (1956), art. 47)
    const Beam beam = bar_of("angle 30x30x3");
    const double L = 600, y_push = 15, y_centre = beam.section.y_c + beam.shear_centre[0] - beam.y_line,
                 arm = y_push - y_centre;
    const BeamForce push = force_on(beam, L, y_push, 0, {0, 0, 1}), torque{.s = L, .f = {0, 0, 0, 1, 0, 0}};
    const double turn = moved(beam, torque, push), J = beam.GJ / 79000;
    CHECK_THAT(J, WithinRel((30 + 27) * 27.0 / 3, 0.03)); // the root radius and the ends
    CHECK_THAT(turn, WithinRel(arm * L / (79000 * J), 1e-9));
    // where it pushes, the turn adds arm x turn to what a push through the shear centre would move; sideways
    // nothing is added at that height
    const BeamForce centred = force_on(beam, L, y_centre, 0, {0, 0, 1});
    CHECK_THAT(moved(beam, push, push),
               WithinRel(moved(beam, centred, centred) + arm * arm * L / (79000 * J), 1e-9));
    const double z_centre = beam.section.z_c + beam.shear_centre[1];
    const BeamForce sideways = force_on(beam, L, y_centre, z_centre, {0, 1, 0});
    CHECK_THAT(moved(beam, sideways, push), WithinRel(moved(beam, sideways, centred), 1e-9));
}

TEST_CASE("a bar's weight bends it as a cantilever from its middle", "[solver][published]") {
    // w L^4 / 8EI + w L^2 / 2GA_s: Timoshenko, Strength of Materials Part I (1955)
    const Beam beam = bar_of("bar 6x40", 7850);
    const double I = 6.0 * 40 * 40 * 40 / 12, L = 600, w = beam.weight;
    CHECK_THAT(w, WithinRel(240e-6 * 7850 * 9.80665e-3, 1e-9));
    const BeamForce up = at_end(0, 0, 1);
    CHECK_THAT(moved_by_weight(beam, std::span(&up, 1)),
               WithinRel(-w * L * L * L * L / (8 * 205000 * I) - w * L * L / (2 * 79000 * 200.0), 1e-9));
}

TEST_CASE("section forces of a bar on two supports are those of statics", "[solver][published]") {
    const Beam beam = bar_of("bar 6x40");
    const std::vector<BeamForce> forces{force_on(beam, -600, 0, 0, {0, 0, 50}),
                                        force_on(beam, 600, 0, 0, {0, 0, 50}),
                                        force_on(beam, 0, 0, 0, {0, 0, -100})};
    const SectionForces middle = section_forces(beam, -1e-6, forces);
    CHECK_THAT(std::abs(middle.M_y), WithinRel(50.0 * 600, 1e-6));
    CHECK_THAT(section_forces(beam, 300, forces).V_z, WithinAbs(50, 1e-9));
    CHECK_THAT(section_forces(beam, -300, forces).V_z, WithinAbs(-50, 1e-9));
    CHECK(stress_at(beam, middle, 0, -20) > 0); // sagging pulls the lower edge
}
