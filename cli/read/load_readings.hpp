// SPDX-License-Identifier: MIT
#pragma once
/// \file  The readings of a bend test as people keep them: a CSV of loads and what the gauge showed, written
/// by any program in any country.
///
///     Belastung [kg];Anzeige [mm]        headings in any language, or none; a unit in them counts
///     0;0,21                             ";", a tab, blanks or "," between them; decimal points or commas
///     5;0,48                             lines that are empty or start with "#" are passed over
///     5 kg;0,48 mm                       a unit at the number counts before all
///
/// A column that counts the lines, before the loads, is dropped. What was taken for granted is said in
/// `notes`.

#include "solver/boardtest/line.hpp"
#include "solver/piece/piece.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {

struct TypedReadings {
    std::vector<LoadReading> readings;
    double newtons_over_mm =
        1; ///< the unit of the loads over that of the readings, where they have none of their own
    std::vector<std::string> notes;
};

/// A number without a unit, and without one in its heading, is of the file's `units`: N and mm, or lbf and
/// inches. Throws Error(input) with the line as its place ("line 4").
TypedReadings load_readings_of(std::string_view text, Units units);

/// As typed behind --load and --reading: "0 kg, 5 kg, 10 kg" or "0;5;10 kg", parted by ";" where one is in
/// it, else by commas; a unit behind the last counts for those without one. Throws Error(input) with the
/// option as its place.
TypedReadings typed_readings(std::string_view loads, std::string_view deflections, Units units);

/// Lengths, such as several readings of one thickness: "40.1, 39.9, 40.2 mm".
std::vector<double> typed_lengths(std::string_view text, Units units);
/// Tones: "58.5, 59 Hz".
std::vector<double> typed_tones(std::string_view text);

} // namespace hollowtop::cli
