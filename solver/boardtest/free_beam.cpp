// SPDX-License-Identifier: MIT
#include "solver/boardtest/free_beam.hpp"

#include "materials/assert.hpp"
#include "materials/error.hpp"

#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

/// With b^2 = rho A L^4 w^2 / (E I), r^2 = I / (A L^2), s^2 = E I / (k G A L^2) and x from the middle in
/// lengths: W = A cosh p x + B cos q x, and the ends free of moment and shear where `even` is zero.
struct Wave {
    double p = 0, q = 0, bs2 = 0; ///< bs2: b^2 s^2
    double even() const {
        return (p * p + bs2) * p * std::sin(q / 2) * std::cosh(p / 2) +
               (q * q - bs2) * q * std::cos(q / 2) * std::sinh(p / 2);
    }
};

Wave wave_of(double b, double r2, double s2) {
    const double root = std::sqrt((r2 - s2) * (r2 - s2) + 4 / (b * b));
    return {.p = b * std::sqrt((root - r2 - s2) / 2),
            .q = b * std::sqrt((root + r2 + s2) / 2),
            .bs2 = b * b * s2};
}

} // namespace

double shear_factor_of_tone(double E_over_G, double depth_over_length) {
    constexpr double shear_coefficient = 5.0 / 6, shortest = 5; // depths
    if (!(depth_over_length > 0) || depth_over_length > 1 / shortest)
        throw Error(ErrorKind::input,
                    Fault{"", "a bar shorter than five times its depth has no bending tone to reckon with",
                          "tap a longer piece, or lay it flat"});
    HOLLOWTOP_ASSERT(E_over_G > 0 && E_over_G < 100);
    const double r2 = depth_over_length * depth_over_length / 12, s2 = r2 * E_over_G / shear_coefficient;
    // The first root has q between pi and 2 pi, and q rises with b. It is never above the slender bar's.
    double low = 0.01, high = slender_tone;
    for (int i = 0; i < 200 && high - low > 1e-13 * high; ++i) {
        const double middle = (low + high) / 2;
        const Wave wave = wave_of(middle, r2, s2);
        (wave.q < std::numbers::pi || wave.even() > 0 ? low : high) = middle;
    }
    const double b = (low + high) / 2;
    return slender_tone * slender_tone / (b * b);
}

double isotropic_factor_of_tone(double nu, double ratio) {
    const double r2 = ratio * ratio, r4 = r2 * r2;
    return 1 + 6.585 * (1 + 0.0752 * nu + 0.8109 * nu * nu) * r2 - 0.868 * r4 -
           8.340 * (1 + 0.2023 * nu + 2.173 * nu * nu) * r4 /
               (1 + 6.338 * (1 + 0.1408 * nu + 1.536 * nu * nu) * r2);
}

} // namespace hollowtop
