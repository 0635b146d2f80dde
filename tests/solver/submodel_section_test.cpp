// SPDX-License-Identifier: MIT
#include "solver/section/submodel_section.hpp"

#include "materials/wood_constants.hpp"
#include "solver/section/solid_stiffness.hpp"
#include "solver/section/wall_submodel.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// E_L in MPa and the ratios E_T, E_R, G_LR, G_LT, G_RT to it, nu_LR, nu_LT, nu_RT: of the order of Wood
/// Handbook
/// FPL-GTR-190 tables 5-1 and 5-2, from memory. They are the inputs of the solved sections below, not values
/// to design with.
struct Ratios {
    double E_L, E_T, E_R, G_LR, G_LT, G_RT, nu_LR, nu_LT, nu_RT;
};
constexpr Ratios white_oak{13500, .072, .163, .086, .078, .02, .369, .428, .618};
constexpr Ratios black_cherry{11300, .086, .197, .147, .097, .02, .392, .428, .695};
constexpr Ratios sugar_maple{13900, .065, .132, .111, .063, .02, .424, .476, .774};
constexpr Ratios eastern_white_pine{9400, .038, .078, .052, .048, .005, .329, .344, .41};
constexpr Ratios sitka_spruce{11900, .043, .078, .064, .061, .003, .372, .467, .435};

materials::WoodConstants wood_of(const Ratios& r) {
    materials::WoodConstants w;
    w.E_L = r.E_L;
    w.E_T = r.E_T * r.E_L;
    w.E_R = r.E_R * r.E_L;
    w.G_LR = r.G_LR * r.E_L;
    w.G_LT = r.G_LT * r.E_L;
    w.G_RT = r.G_RT * r.E_L;
    w.nu_LR = r.nu_LR;
    w.nu_LT = r.nu_LT;
    w.nu_RT = r.nu_RT;
    return w;
}

/// Our own solved cross-sections (27-node elements in plane strain, two meshes; a program written for this
/// purpose), thickness 45 mm, sharp root: extra compliance a unit width over the ideal offset section, about
/// the skin's axis.
struct SteppedBeam {
    const Ratios& wood;
    double ring_deg;
    bool along; ///< the wall's normal lies along the grain
    double depth;
    double moment, moment_pull, pull; ///< tension at the top face +
};
// clang-format off
const std::vector<SteppedBeam> strips{
    {white_oak, 0, true, 0.3, 4.02746e-07, -1.26098e-06, 4.30158e-06},
    {white_oak, 0, true, 0.5, 1.42379e-06, -1.20142e-06, 5.10263e-06},
    {white_oak, 0, true, 0.7, 5.18443e-06, 3.06084e-06, 2.85458e-05},
    {white_oak, 0, false, 0.3, 2.98993e-06, -9.35695e-06, 3.19031e-05},
    {white_oak, 0, false, 0.5, 1.05681e-05, -8.87953e-06, 3.78255e-05},
    {white_oak, 0, false, 0.7, 3.85022e-05, 2.28999e-05, 0.000212264},
    {white_oak, 90, true, 0.3, 4.38553e-07, -1.3655e-06, 4.64073e-06},
    {white_oak, 90, true, 0.5, 1.55669e-06, -1.26962e-06, 5.51988e-06},
    {white_oak, 90, true, 0.7, 5.70135e-06, 3.56854e-06, 3.15766e-05},
    {white_oak, 90, false, 0.3, 1.97919e-06, -6.19395e-06, 2.11226e-05},
    {white_oak, 90, false, 0.5, 6.99729e-06, -5.88537e-06, 2.5052e-05},
    {white_oak, 90, false, 0.7, 2.54918e-05, 1.51345e-05, 0.000140462},
    {white_oak, 45, true, 0.3, 4.2274e-07, -1.31836e-06, 4.48537e-06},
    {white_oak, 45, true, 0.5, 1.49883e-06, -1.23453e-06, 5.33091e-06},
    {white_oak, 45, true, 0.7, 5.4806e-06, 3.37492e-06, 3.03009e-05},
    {white_oak, 45, false, 0.3, 1.66114e-06, -7.52287e-06, 3.01998e-05},
    {white_oak, 45, false, 0.5, 6.79505e-06, -8.81681e-06, 2.47231e-05},
    {white_oak, 45, false, 0.7, 2.68463e-05, 1.59193e-05, 0.000133285},
    {black_cherry, 90, true, 0.3, 4.7071e-07, -1.46204e-06, 4.96049e-06},
    {black_cherry, 90, true, 0.5, 1.67357e-06, -1.34398e-06, 5.90648e-06},
    {black_cherry, 90, true, 0.7, 6.14409e-06, 3.94145e-06, 3.4128e-05},
    {black_cherry, 90, false, 0.3, 2.09879e-06, -6.58924e-06, 2.25182e-05},
    {black_cherry, 90, false, 0.5, 7.40182e-06, -6.34603e-06, 2.66627e-05},
    {black_cherry, 90, false, 0.7, 2.68697e-05, 1.5396e-05, 0.000147605},
    {sugar_maple, 0, true, 0.3, 3.52354e-07, -1.09692e-06, 3.72751e-06},
    {sugar_maple, 0, true, 0.5, 1.25073e-06, -1.01884e-06, 4.43343e-06},
    {sugar_maple, 0, true, 0.7, 4.58151e-06, 2.87317e-06, 2.53823e-05},
    {sugar_maple, 0, false, 0.3, 3.01485e-06, -9.39209e-06, 3.19258e-05},
    {sugar_maple, 0, false, 0.5, 1.06881e-05, -8.72881e-06, 3.79182e-05},
    {sugar_maple, 0, false, 0.7, 3.91254e-05, 2.44229e-05, 0.000216798},
    {sitka_spruce, 90, true, 0.3, 5.76665e-07, -1.79471e-06, 6.09756e-06},
    {sitka_spruce, 90, true, 0.5, 2.0477e-06, -1.66549e-06, 7.25472e-06},
    {sitka_spruce, 90, true, 0.7, 7.50306e-06, 4.71734e-06, 4.15744e-05},
    {sitka_spruce, 90, false, 0.3, 8.03608e-06, -2.55822e-05, 8.82082e-05},
    {sitka_spruce, 90, false, 0.5, 2.80094e-05, -2.60339e-05, 0.000103683},
    {sitka_spruce, 90, false, 0.7, 9.98459e-05, 4.78409e-05, 0.000543352},
    {sitka_spruce, 45, true, 0.3, 5.72257e-07, -1.77916e-06, 6.04045e-06},
    {sitka_spruce, 45, true, 0.5, 2.03346e-06, -1.64321e-06, 7.19003e-06},
    {sitka_spruce, 45, true, 0.7, 7.45841e-06, 4.73814e-06, 4.13771e-05},
    {sitka_spruce, 45, false, 0.3, 7.41469e-06, -2.32164e-05, 8.02745e-05},
    {sitka_spruce, 45, false, 0.5, 2.83585e-05, -7.43373e-06, 8.57594e-05},
    {sitka_spruce, 45, false, 0.7, 0.000111797, 0.000161089, 0.000813313},
    {eastern_white_pine, 0, true, 0.3, 7.51695e-07, -2.35834e-06, 8.05598e-06},
    {eastern_white_pine, 0, true, 0.5, 2.65357e-06, -2.26731e-06, 9.54779e-06},
    {eastern_white_pine, 0, true, 0.7, 9.64055e-06, 5.56206e-06, 5.29696e-05},
    {eastern_white_pine, 0, false, 0.3, 1.1586e-05, -3.66729e-05, 0.000125989},
    {eastern_white_pine, 0, false, 0.5, 4.05878e-05, -3.65059e-05, 0.000148554},
    {eastern_white_pine, 0, false, 0.7, 0.000145859, 7.56743e-05, 0.000796265},
};
// clang-format on

Matrix3 isotropic(double E, double nu) {
    const double f = E / (1 + nu) / (1 - 2 * nu);
    return {f * (1 - nu), f * nu, 0, f * nu, f * (1 - nu), 0, 0, 0, E / 2 / (1 + nu)};
}

/// From compliances in the plane of the section.
Matrix3 orthotropic(double s11, double s22, double s12, double s66) {
    const double d = s11 * s22 - s12 * s12;
    return {s22 / d, -s12 / d, 0, -s12 / d, s11 / d, 0, 0, 0, 1 / s66};
}

} // namespace

TEST_CASE("the wall's extra compliance is that of solved cross-sections", "[solver][wall]") {
    for (const SteppedBeam& strip : strips) {
        const Matrix6 solid = solid_stiffness(wood_of(strip.wood), strip.ring_deg);
        const SubmodelAnswer answer = solve_submodel(
            {.thick = 45,
             .skin = 45 * (1 - strip.depth),
             .C = section_law(solid, strip.along ? Point{1, 0} : Point{0, 1}),
             // their rim end was held plane; it matters only where rings couple shear with pulls
             .rim_end_held = true});
        CAPTURE(strip.wood.E_L, strip.ring_deg, strip.along, strip.depth);
        // of the four sections with rings at 45 degrees across the grain neither these numbers nor ours are
        // converged, see docs/walls.md
        constexpr double share = 0.03;
        CHECK_THAT(answer.extra[4], WithinRel(strip.moment, share));
        CHECK_THAT(answer.extra[0], WithinRel(strip.pull, share));
        CHECK_THAT(answer.extra[1],
                   WithinAbs(strip.moment_pull, share * std::sqrt(strip.moment * strip.pull)));
    }
}

namespace {

/// Peak stress of a flat bar with shoulder fillets, D/d = 2, over its nominal stress: C1 + C2 x + C3 x^2 + C4
/// x^3 with x = 2 h/D and
/// C = a + b sqrt(h/r) + c h/r.
double charted(const double (&fit)[4][3], double r_over_d) {
    const double q = 0.5 / r_over_d, x = 0.5;
    double sum = 0;
    for (int k = 3; k >= 0; --k) sum = sum * x + fit[k][0] + fit[k][1] * std::sqrt(q) + fit[k][2] * q;
    return sum;
}

double peak_of(const SubmodelAnswer& answer, size_t load, double nominal) {
    double peak = 0;
    for (const PerLoad& stress : answer.along_root) peak = std::max(peak, std::abs(stress[load]) / nominal);
    return peak;
}

} // namespace

TEST_CASE("a bar with shoulder fillets has the charts' peak stress in tension and in bending",
          "[solver][wall][published]") {
    // Charts of the flat bar with shoulder fillets, by polynomials for 2 <= h/r <= 20. Tension: Peterson's
    // Stress Concentration Factors; bending: Roark's Formulas for Stress and Strain, table 17.1; both compared
    // with a transcription, not with the books (partly checked). At x = 1, where the bar's waist is nothing, the columns of each add up to 1, 0, 0, as they
    // must. 3 % is the fits' own spread. The bent bar with the sharpest fillet lies 4.1 % above its fit: the
    // section's own error there is 0.3 % (orders 6 and 8 of its elements, docs/walls.md).
    constexpr double tension[4][3] = {
        {1.020, 1.009, -0.048}, {-0.065, -0.165, -0.007}, {-3.459, 1.266, -0.016}, {3.505, -2.109, 0.069}};
    constexpr double bending[4][3] = {
        {1.042, 0.982, -0.036}, {-3.599, 1.619, -0.431}, {6.084, -5.607, 1.158}, {-2.527, 3.006, -0.691}};
    for (const double r_over_d : {0.05, 0.1, 0.125, 0.15, 0.2}) {
        SubmodelSection half{.thick = 20,
                             .skin = 10,
                             .root_radius = 20 * r_over_d,
                             .C = isotropic(10000, 0.3),
                             .top = TopFace::pulled_bar};
        CAPTURE(r_over_d);
        CHECK_THAT(peak_of(solve_submodel(half), 0, 1 / 10.0), WithinRel(charted(tension, r_over_d), 0.03));
        half.top = TopFace::bent_bar;
        CHECK_THAT(peak_of(solve_submodel(half), 1, 3 / (10.0 * 10.0)),
                   WithinRel(charted(bending, r_over_d), r_over_d < 0.1 ? 0.045 : 0.03));
    }
}

TEST_CASE("a double cantilever releases what its beams and their known correction say", "[solver][wall]") {
    // G = 12 F^2 a^2 / (E h^3) (1 + Y h / (lambda^(1/4) a))^2, Y = 0.677 + 0.146 (rho - 1) - 0.0178 (rho -
    // 1)^2 + 0.00242 (rho - 1)^3:
    // Suo, Bao, Fan and Wang, Orthotropy rescaling and implications for fracture in composites, 1991, from
    // memory.
    struct Law {
        double E1, E2, G, nu;
    };
    for (const Law& law :
         {Law{10000, 10000, 10000 / 2.6, 0.3}, Law{10000, 1000, 700, 0.4}, Law{13500, 970, 1050, 0.43}}) {
        for (const double a : {40.0, 80.0}) {
            const double h = 10, s11 = 1 / law.E1, s22 = 1 / law.E2, s12 = -law.nu / law.E1, s66 = 1 / law.G;
            const SubmodelAnswer answer =
                solve_submodel({.thick = 2 * h, .skin = h, .C = orthotropic(s11, s22, s12, s66), .crack = a});
            const double G = answer.release[2][2] + answer.release[3][3] - 2 * answer.release[2][3];
            const double lambda = s11 / s22, rho = (2 * s12 + s66) / 2 / std::sqrt(s11 * s22), r = rho - 1;
            const double Y = 0.677 + 0.146 * r - 0.0178 * r * r + 0.00242 * r * r * r;
            const double beam =
                12 * a * a * s11 / (h * h * h) * std::pow(1 + Y * std::pow(lambda, -0.25) * h / a, 2);
            CAPTURE(law.E2, a);
            CHECK_THAT(G, WithinRel(beam, 0.01)); // 1 %: what the source says of its own fit
        }
    }
}

TEST_CASE("a long crack under pull and moment releases the beams' difference of work", "[solver][wall]") {
    // Gustafsson 1988: G = 1/2 s' (C_skin - C_full) s, about the skin's axis
    const double s11 = 1 / 10000.0, t = 40, s = 25, e = (t - s) / 2;
    const SubmodelAnswer answer = solve_submodel(
        {.thick = t, .skin = s, .C = orthotropic(s11, 1 / 1000.0, -0.4e-4, 1 / 700.0), .crack = 250});
    const double D_skin = 12 * s11 / (s * s * s), D_full = 12 * s11 / (t * t * t);
    // 0.1 %: the rest of the stiffness derivative
    CHECK_THAT(answer.release[1][1], WithinRel(0.5 * (D_skin - D_full), 0.001));
    CHECK_THAT(answer.release[0][0], WithinRel(0.5 * (s11 / s - s11 / t - e * e * D_full), 0.001));
    CHECK_THAT(answer.release[0][1], WithinRel(-0.5 * e * D_full, 0.001));
}

namespace {

/// Spruce of class C24 along the grain: E, G of EN 338, the rest of Wood Handbook ratios; all from memory.
const Matrix3 class_c24 = orthotropic(1 / 11000.0, 1 / 370.0, -0.4 / 11000.0, 1 / 690.0);

/// Energy released a growth of the crack by a unit force at a support that stands `x` before the crack's tip.
double notch_release(double h, double alpha, double x, double crack) {
    const SubmodelAnswer answer =
        solve_submodel({.thick = h, .skin = alpha * h, .C = class_c24, .crack = crack});
    const std::array<double, 3> load{0, x - crack, 1}; // pull, moment at the step, shear
    double G = 0;
    for (size_t i = 0; i < 3; ++i)
        for (size_t j = 0; j < 3; ++j) G += load[i] * load[j] * answer.release[i][j];
    return G;
}

/// Force that splits a beam notched to alpha h at its support, but for a factor. EN 1995-1-1:2004 eq. 6.60
/// and 6.62 with an upright notch (i = 0), from memory: V = alpha h k_v f_v / 1.5. k_n and the depth are in
/// the factor.
double notched_by_code(double alpha, double beta) {
    return alpha / (std::sqrt(alpha * (1 - alpha)) + 0.8 * beta * std::sqrt(1 / alpha - alpha * alpha));
}

constexpr double notch_depth = 200, notch_crack = 20; // the ratios hold for any depth: all lengths go with it
double notched_by_cell(double alpha, double beta) {
    return 1 / std::sqrt(notch_release(notch_depth, alpha, beta * notch_depth, notch_crack));
}

} // namespace

TEST_CASE("a beam notched at its support loses strength with the notch as EN 1995-1-1 says",
          "[solver][wall][published]") {
    // Ratios to alpha = 0.7. Series of notched beams scatter by 10 to 25 % (coefficient of variation, from
    // memory): 20 %.
    for (const double beta : {0.25, 0.5, 1.0, 2.0})
        for (const double alpha : {0.5, 0.6, 0.8, 0.9}) {
            const double code = notched_by_code(alpha, beta) / notched_by_code(0.7, beta);
            const double cell = notched_by_cell(alpha, beta) / notched_by_cell(0.7, beta);
            CAPTURE(beta, alpha, code, cell);
            if (alpha < 0.85 || beta > 1.5)
                CHECK_THAT(cell, WithinRel(code, 0.2));
            else
                CHECK(
                    cell >
                    code); // a shallow notch near the support: the code is on the safe side, see the next two
        }
}

TEST_CASE("far from the support a notch splits as Gustafsson's closed form says at every depth",
          "[solver][wall][published]") {
    // Gustafsson 1988, from memory: V = sqrt(2 G_c) / (sqrt(1.2 (1/alpha - 1) / (G h)) + beta sqrt(12
    // (1/alpha^3 - 1) / (E h))), a width. At twenty depths the moment does it; what shear adds, which its
    // beams take for less or more, is 2 % there.
    for (const double alpha : {0.5, 0.7, 0.9}) {
        const double beta = 20, h = notch_depth;
        const double closed =
            std::sqrt(2.0) / (std::sqrt(1.2 * (1 / alpha - 1) / 690 / h) +
                              beta * std::sqrt(12 * (1 / std::pow(alpha, 3) - 1) / 11000 / h));
        CAPTURE(alpha);
        CHECK_THAT(1 / std::sqrt(notch_release(h, alpha, beta * h, h)), WithinRel(closed, 0.025));
    }
}

TEST_CASE("the energy that a crack releases is the work that its growth adds", "[solver][wall]") {
    // the derivative of the stiffness against the difference of the whole work: two ways that share no step
    // after the solve
    for (const double alpha : {0.5, 0.7, 0.9}) {
        const double h = 200, crack = 24,
                     by = 2; // a fifth of the lesser side and more, as the mesh of the crack asks
        const auto work = [&](double length) {
            const SubmodelAnswer answer =
                solve_submodel({.thick = h, .skin = alpha * h, .C = class_c24, .crack = length});
            return answer.extra; // the beams that it is less do not know of the crack
        };
        const Matrix3 ahead = work(crack + by), behind = work(crack - by);
        const SubmodelAnswer answer =
            solve_submodel({.thick = h, .skin = alpha * h, .C = class_c24, .crack = crack});
        CAPTURE(alpha);
        for (const size_t k : {size_t{1}, size_t{2}}) // 1.5 %: the difference's own step
            CHECK_THAT(answer.release[k][k],
                       WithinRel((ahead[3 * k + k] - behind[3 * k + k]) / (4 * by), 0.015));
    }
}

TEST_CASE("a larger root radius lowers the peak and hardly moves the compliance", "[solver][wall]") {
    const Matrix3 C = section_law(solid_stiffness(wood_of(white_oak), 0), {1, 0});
    double last_peak = 1e9;
    for (const double r : {1.5, 3.0, 6.0, 9.0}) {
        const SubmodelAnswer answer = solve_submodel({.thick = 45, .skin = 20, .root_radius = r, .C = C});
        double peak = 0;
        for (const PerLoad& stress : answer.along_root) peak = std::max(peak, std::abs(stress[1]));
        CHECK(peak < last_peak);
        CHECK(peak > 6 / (20.0 * 20.0)); // never below the plain skin's
        last_peak = peak;
    }
}
