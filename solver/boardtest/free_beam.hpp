// SPDX-License-Identifier: MIT
#pragma once
/// \file  The first bending tone of a bar that hangs free at both ends, with its shear: how much stiffer the
/// wood is than the tone says to who leaves shear out.

namespace hollowtop {

/// T >= 1 of E = 0.94641 (m f^2 / b) (L / t)^3 T, f the first bending tone: a free-free Timoshenko beam of
/// rectangular section solved to the last digits (shear coefficient 5/6, rotary inertia with it).
/// `E_over_G`: modulus along the bar over shear modulus in the plane of bending. Source: equations of motion
/// of Timoshenko (Philosophical Magazine 41, 1921); the even half of their solution, zero moment and shear
/// at the ends; own derivation. Throws Error(input) for bars shorter than five depths, of which no beam
/// theory tells enough.
double shear_factor_of_tone(double E_over_G, double depth_over_length);

/// The factor of ASTM E1876 for the same tone of an isotropic bar (long form; from memory, standard not
/// seen), for comparison: too small for wood, whose E/G is 10 to 20.
double isotropic_factor_of_tone(double poisson, double depth_over_length);

/// beta^2 of the first tone of a slender bar, cos beta cosh beta = 1: (4.7300)^2.
inline constexpr double slender_tone = 22.373285448061;

} // namespace hollowtop
