// SPDX-License-Identifier: MIT
#pragma once
/// \file  Measured quantities at the edge of the program: the only place where units are converted.
/// A value cannot be read without naming its unit: `Length::parse("1-5/8 in", Units::mm).mm()`.
///
/// What a parser is handed is the text of a string in the piece file or on the command line; a plain number
/// is turned by `of_number`, which takes the unit that the file's `units` gives to a number of that kind.
/// Parsers know no places: they throw Error(input) with what is wrong and what would be right; the reader of
/// the file adds the rest.
///
/// The constants stand in quantity.cpp with their sources, and nowhere else. A mass given where a force is asked
/// for is the weight of that mass under standard gravity.

#include "solver/piece/piece.hpp"

#include <string>
#include <string_view>

namespace hollowtop::cli {

/// A length: "42 mm", "4.2 cm", "0.9 m", "1-5/8 in", "1 5/8\"", "3'6\"", "3 ft 6 in". A number is mm or
/// inches.
class Length {
  public:
    static Length from_mm(double mm) { return Length(mm); }
    static Length from_inches(double inches);
    static Length of_number(double number, Units units);
    static Length parse(std::string_view text);
    /// In a file in inches "3/4" and "1-5/8" without a unit are inches.
    static Length parse(std::string_view text, Units units);
    double mm() const { return mm_; }
    double inches() const;

  private:
    explicit Length(double mm) : mm_(mm) {}
    double mm_;
};

/// A force: "600 N", "0.6 kN", "80 kg", "180 lb". A number is N or lbf.
class Force {
  public:
    static Force from_N(double newtons) { return Force(newtons); }
    static Force of_number(double number, Units units);
    static Force parse(std::string_view text);
    double N() const { return newtons_; }
    double kgf() const; ///< the mass that weighs this much
    double lbf() const;

  private:
    explicit Force(double newtons) : newtons_(newtons) {}
    double newtons_;
};

/// A pressure: "1.5 kPa", "30 psf", "25 kg/m2", "1 kN/m2". A number is kPa or psf.
class Pressure {
  public:
    static Pressure from_MPa(double MPa) { return Pressure(MPa); }
    static Pressure of_number(double number, Units units);
    static Pressure parse(std::string_view text);
    double MPa() const { return MPa_; }
    double psi() const;
    double psf() const;

  private:
    explicit Pressure(double MPa) : MPa_(MPa) {}
    double MPa_;
};

/// A temperature: "18 C", "64 F". A number is Celsius with mm, Fahrenheit with inches.
class Temperature {
  public:
    static Temperature of_number(double number, Units units);
    static Temperature parse(std::string_view text);
    double celsius() const { return celsius_; }

  private:
    explicit Temperature(double celsius) : celsius_(celsius) {}
    double celsius_;
};

/// A mass in pounds, for the text output.
double pounds_of_kg(double kg);

/// Degrees from "15", "15 deg", "15 degrees".
double parse_degrees(std::string_view text);
/// Percent from "30", "30 %", "30%".
double parse_percent(std::string_view text);
/// Hertz from "8 Hz".
double parse_hertz(std::string_view text);
/// A stiffness of material, MPa, from "9800 MPa", "9.8 GPa", "9800 N/mm2", "1.4e6 psi".
double parse_modulus_MPa(std::string_view text);
/// A density, kg/m3, from "590 kg/m3", "0.59 g/cm3", "37 lb/ft3".
double parse_density_kg_m3(std::string_view text);

/// What stands before "/" and after: "span/300". Throws Error(input) where the text is no such share.
double parse_span_divisor(std::string_view text);
/// Does the text speak of the span at all?
bool speaks_of_span(std::string_view text);

} // namespace hollowtop::cli
