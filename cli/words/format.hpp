// SPDX-License-Identifier: MIT
#pragma once
/// \file  Digits: the one place that decides how many are shown to a reader, and in which units.
/// Movements 0.1 mm, forces whole newtons, masses 0.1 kg, frequencies 0.1 Hz; stresses 0.1 MPa, but two
/// decimals below 1 MPa, where the limits across the grain lie. Inches to the nearest 1/16 with the decimal
/// beside it. Utilisation is rounded up, so that nothing over its limit is shown as meeting it. Rounding is
/// for the reader only: comparing is done before. Numbers have a decimal point whatever the locale. A number
/// that is not finite is never shown: the functions throw Error(not_computable).

#include "cli/words/quantity.hpp"

#include <string>
#include <string_view>

namespace hollowtop::cli {

/// "2.70", never "-0.00".
std::string fixed(double value, int decimals);

/// "1.234", "0.000567", "12300", "1.2e-07": at most so many significant digits, no trailing zeros; for tables
/// of data.
std::string significant(double value, int digits);

/// "1-5/8", "0", "3/16": to the nearest sixteenth.
std::string sixteenths(double inches);

/// For making, metric and inch side by side: "1-21/32", to the nearest sixty-fourth, and "+" or "-" behind it
/// where the size is more than 0.1 mm over or under that.
std::string sixty_fourths(double inches);

/// What a dial gauge shows: "3.42 mm"; "0.135 in".
std::string reading_text(double mm, Units units);

/// How far something moves: "2.7 mm", "under 0.1 mm"; "0.106 in (about 1/8)", "0.016 in (under 1/16)".
std::string movement_text(double mm, Units units);
/// A dimension of the piece: "42 mm", "41.3 mm"; "1-5/8 in", "3/64 in"; where it is neither, "13/16 in (0.787)".
std::string dimension_text(double mm, Units units);
/// A dimension of a whole piece, as it is spoken of: "1900 mm"; from a yard on with feet, "6 ft 3 in (75 in)".
std::string whole_dimension_text(double mm, Units units);
/// A place from the corner: "950, 60"; "37-3/8, 2-3/8". The unit stands in the heading.
std::string place_text(Point at, Units units);
const char* place_unit(Units units);

std::string stress_text(double MPa, Units units);
/// "412 N (42 kg)"; "93 lbf".
std::string force_text(double newtons, Units units);
std::string mass_text(double kg, Units units);
std::string frequency_text(double hertz);
/// "83 %" of what is allowed, rounded up.
std::string utilisation_text(double utilisation);
std::string percent_text(double percent);
/// A bound on an error, rounded up: "0.6 %".
std::string error_text(double percent);
/// A demand or a capacity in the unit that the check names: "mm", "MPa", "N", "kg", "Hz", "1".
std::string amount_text(double value, std::string_view unit, Units units);

} // namespace hollowtop::cli
