// SPDX-License-Identifier: MIT
#pragma once
/// \file  A real board on the bench: its stiffness along the grain from a bend test or a tap, with what each
/// gauge may be out by.
///
/// Every error is one standard deviation and is carried through to first order; two tests of one board share
/// what they share (its thickness, its weight, the shear modulus), which counts when they are put together.
/// N, mm, MPa, kg, Hz, percent of moisture. Moduli are free of shear; `bending_modulus` turns one into what
/// a handbook and "measured" of the piece file call by that name.

#include "materials/message.hpp"
#include "solver/boardtest/line.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

struct Gauged {
    double value = 0;
    double error = 0; ///< one standard deviation
};

/// Where an error comes from; the same one of two tests is one error.
enum class ErrorFrom {
    thickness,
    width,
    length,
    span,
    mass,
    load,
    reading,
    tone,
    shear,         ///< E/G of the wood
    plate,         ///< how far a wide board is a plate
    meter,         ///< moisture of the board
    moisture_rate, ///< how stiffness goes with moisture
    static_ratio,  ///< stiffness under load against that of a tone
    board_is_even, ///< the test sees one part of the board more than others
};

struct ErrorPart {
    ErrorFrom from{};
    double share =
        0; ///< of the modulus, signed: as it changes when what is measured is one standard deviation more
};

struct TestedBoard {
    Gauged length, width, thickness;
    std::optional<Gauged> mass_kg{};
    std::optional<Gauged> moisture_percent{}; ///< when tested
    std::optional<double>
        piece_moisture_percent{}; ///< of the piece it goes into; where not given as when tested
    Gauged E_over_G{};            ///< in the plane of bending
    double poisson_product = 0;   ///< nu12 nu21
    bool across = false;          ///< the grain runs across the strip: stiffness across the grain
};

enum class TestKind { bend, tone_bending, tone_along };

struct BoardTest {
    TestKind kind = TestKind::bend;
    std::string name{}; ///< "bend test front.csv"
    Gauged span{};
    double load_error = 0.01; ///< share, common to all weights
    double gauge_mm = 0.01;   ///< error of one reading
    std::vector<LoadReading> readings{};
    Gauged hertz{};
};

struct TestOutcome {
    TestKind kind{};
    std::string name{};
    double apparent = 0; ///< of the plain formula: no shear, no plate, no ratio of tone to load
    double modulus = 0;  ///< free of shear, under load, at the moisture of the piece
    double modulus_12 = 0;
    std::vector<ErrorPart> parts{}; ///< of `modulus`
    double uncertainty = 0;         ///< standard uncertainty of `modulus`, share
    double uncertainty_12 = 0;
    double shear_share = 0; ///< by which the plain formula, or the one without T, understates
    double plate_share = 0; ///< by which a wide board looks stiffer than its wood; 0 of a narrow one
    std::optional<double>
        isotropic{}; ///< of a tone in bending: what ASTM E1876's factor would give, other steps alike
    std::optional<Line> line{};
    double stress_MPa = 0, slenderness = 0; ///< under the greatest load; span or length over thickness
    std::vector<Message> warnings{};
};

/// Throws Error(input), without a place, where a test cannot be evaluated.
TestOutcome outcome_of(const TestedBoard& board, const BoardTest& test);

/// Density, kg/m3, at the moisture of the piece, with its standard uncertainty; empty without a mass.
std::optional<Gauged> density_of(const TestedBoard& board);

/// What several tests of one board say together: mean by weights of their own variances.
struct Together {
    double modulus = 0, modulus_12 = 0;
    /// Shares. What the tests share is not averaged away; a scatter between them that their errors do not
    /// explain is in it.
    double uncertainty = 0, uncertainty_12 = 0;
    std::vector<double> weights{};
    /// The two that differ most, where they do by more than their 90 % bands; which.
    std::optional<std::pair<std::size_t, std::size_t>> at_odds{};
    double scatter_factor = 1; ///< by which the uncertainty was widened for that
};
Together together_of(const std::vector<TestOutcome>& tests);

/// Linear-Gaussian update of a mean known with `prior.error` by a measurement: weights of their variances.
Gauged updated(Gauged prior, Gauged measured);

/// 90 % of a normal distribution lie within so many standard deviations.
inline constexpr double band_90 = 1.645;

/// Handbooks' bending modulus holds the shear of a test at 14 depths: E = 1.10 of it (rule E_L_rule of the
/// table of woods).
double bending_modulus(double modulus);

} // namespace hollowtop
