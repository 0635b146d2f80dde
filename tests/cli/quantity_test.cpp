// SPDX-License-Identifier: MIT
#include "cli/words/quantity.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::WithinRel;

namespace {

// Conversions are one multiplication by an exact constant: a few units in the last place may be lost.
constexpr double rounding = 1e-14;

/// "what; remedy" of the error that `action` throws, or "no error".
template <class Action> std::string message_of(Action action) {
    try {
        action();
    } catch (const Error& error) {
        CHECK(error.kind() == ErrorKind::input);
        const Fault& fault = error.faults().at(0);
        return in_own_units(fault.what) + "; " + in_own_units(fault.remedy);
    }
    return "no error";
}

} // namespace

TEST_CASE("a length is read in every way that a maker writes one", "[cli]") {
    const auto [text, mm] = GENERATE(table<std::string, double>({
        {"42 mm", 42},
        {"42mm", 42},
        {"  42   mm ", 42},
        {"4.2 cm", 42},
        {".5 m", 500},
        {"0.9 m", 900},
        {"-3 mm", -3},
        {"1 in", 25.4},
        {"1-5/8 in", 41.275},
        {"1 5/8 in", 41.275},
        {"1 5/8\"", 41.275},
        {"1-5/8 inches", 41.275},
        {"5/8\"", 15.875},
        {"3'6\"", 1066.8},
        {"3' 6\"", 1066.8},
        {"3'-6\"", 1066.8},
        {"3'6-1/2\"", 1079.5},
        {"3 ft 6 in", 1066.8},
        {"3 feet", 914.4},
        {"3'", 914.4},
        {"-3'6\"", -1066.8},
        {"1 5/8\u2033", 41.275},
        {"3\u20196\u201d", 1066.8},
        {"3'6''", 1066.8},
    }));
    CAPTURE(text);
    CHECK_THAT(Length::parse(text).mm(), WithinRel(mm, rounding));
}

TEST_CASE("a length that cannot be read says why and how to write it", "[cli]") {
    const auto [text, message] = GENERATE(table<std::string, std::string>({
        {"42",
         R"("42" has no unit; write the number without quotes, or with its unit: "42 mm", "4.2 cm", "1-5/8 in" or "3'6\"")"},
        {"", R"("" is not a length; write it like "42 mm", "4.2 cm", "1-5/8 in" or "3'6\"")"},
        {"thick", R"("thick" is not a length; write it like "42 mm", "4.2 cm", "1-5/8 in" or "3'6\"")"},
        {"4,2 cm", R"("4,2 cm" has a comma in it; write the decimal point as "." and leave out commas)"},
        {"42 kg",
         R"("42 kg": "kg" is no unit of length here; use one of mm, cm, m, in, inch, inches, ft, foot, feet)"},
        {"1/0 in", R"("1/0 in" is not a length; write it like "42 mm", "4.2 cm", "1-5/8 in" or "3'6\"")"},
        {"3'14\"", R"("3'14"" is not a length; write it like "42 mm", "4.2 cm", "1-5/8 in" or "3'6\"")"},
        {"nan mm", R"("nan mm" is not a length; write it like "42 mm", "4.2 cm", "1-5/8 in" or "3'6\"")"},
        {"inf mm", R"("inf mm" is not a length; write it like "42 mm", "4.2 cm", "1-5/8 in" or "3'6\"")"},
        {"1e400 mm", R"("1e400 mm" is not a length; write it like "42 mm", "4.2 cm", "1-5/8 in" or "3'6\"")"},
        {"1e308 m", R"("1e308 m" is not a length; write it like "42 mm", "4.2 cm", "1-5/8 in" or "3'6\"")"},
    }));
    CAPTURE(text);
    const std::string typed = text;
    CHECK(message_of([&] { (void)Length::parse(typed); }) == message);
}

TEST_CASE("a force is read from newtons, from pounds and from the mass that weighs as much", "[cli]") {
    CHECK_THAT(Force::parse("600 N").N(), WithinRel(600.0, rounding));
    CHECK_THAT(Force::parse("0.6 kN").N(), WithinRel(600.0, rounding));
    CHECK_THAT(Force::parse("80 kg").N(), WithinRel(80 * 9.80665, rounding));
    // 1 lbf = 4.4482216152605 N exactly: 0.45359237 kg x 9.80665 m/s2.
    CHECK_THAT(Force::parse("180 lb").N(), WithinRel(180 * 4.4482216152605, rounding));
    CHECK_THAT(Force::parse("180 lbf").lbf(), WithinRel(180.0, rounding));
    CHECK_THAT(Force::of_number(10, Units::inch).N(), WithinRel(44.482216152605, rounding));
    CHECK_THAT(Force::of_number(10, Units::mm).N(), WithinRel(10.0, rounding));
    CHECK_THAT(Force::from_N(98.0665).kgf(), WithinRel(10.0, rounding));
    CHECK(message_of([] { (void)Force::parse("5 mm"); }) ==
          R"("5 mm": "mm" is no unit of force here; use one of N, kN, kg, kgf, lb, lbs, lbf)");
}

TEST_CASE("a pressure is read from the units of shops and of codes", "[cli]") {
    CHECK_THAT(Pressure::parse("1.5 kPa").MPa(), WithinRel(0.0015, rounding));
    CHECK_THAT(Pressure::parse("1.5 kN/m2").MPa(), WithinRel(0.0015, rounding));
    CHECK_THAT(Pressure::parse("25 kg/m2").MPa(), WithinRel(25 * 9.80665e-6, rounding));
    CHECK_THAT(Pressure::parse("25 kg/m\u00b2").MPa(), WithinRel(25 * 9.80665e-6, rounding));
    // 1 psf = 4.4482216152605 N / (0.3048 m)^2 = 47.88025898 Pa
    CHECK_THAT(Pressure::parse("30 psf").MPa(), WithinRel(30 * 4.4482216152605 / (304.8 * 304.8), rounding));
    CHECK_THAT(Pressure::of_number(30, Units::inch).MPa(), WithinRel(30 * 47.88025898033584e-6, 1e-12));
    CHECK_THAT(Pressure::of_number(2, Units::mm).MPa(), WithinRel(0.002, rounding));
    // 1 psi = 6894.757293168 Pa, to the figures printed
    CHECK_THAT(Pressure::from_MPa(1).psi(), WithinRel(1e6 / 6894.757293168, 1e-12));
}

TEST_CASE("a temperature is read in Celsius and in Fahrenheit", "[cli]") {
    CHECK_THAT(Temperature::parse("18 C").celsius(), WithinRel(18.0, rounding));
    CHECK_THAT(Temperature::parse("18 \u00b0C").celsius(), WithinRel(18.0, rounding));
    CHECK_THAT(Temperature::parse("-4 F").celsius(), WithinRel(-20.0, rounding));
    CHECK_THAT(Temperature::of_number(212, Units::inch).celsius(), WithinRel(100.0, rounding));
    CHECK(message_of([] { (void)Temperature::parse("18"); }) ==
          R"("18" is not a temperature; write it like "18 C" or "64 F")");
}

TEST_CASE("angles, percentages, frequencies, stiffnesses and densities are read with their units", "[cli]") {
    CHECK(parse_degrees("15 deg") == 15);
    CHECK(parse_degrees("15") == 15);
    CHECK(parse_degrees("15\u00b0") == 15);
    CHECK(parse_percent("30 %") == 30);
    CHECK(parse_hertz("8 Hz") == 8);
    CHECK_THAT(parse_modulus_MPa("9.8 GPa"), WithinRel(9800.0, rounding));
    // 29e6 psi is the usual value for steel, 199 948 MPa.
    CHECK_THAT(parse_modulus_MPa("29e6 psi"), WithinRel(199947.96150188, 1e-10));
    CHECK_THAT(parse_density_kg_m3("0.59 g/cm3"), WithinRel(590.0, rounding));
    // 1 lb/ft3 = 16.01846337 kg/m3
    CHECK_THAT(parse_density_kg_m3("37 lb/ft3"), WithinRel(37 * 16.018463373960138, 1e-12));
}

TEST_CASE("a share of the span is read as its divisor", "[cli]") {
    CHECK(speaks_of_span("span/300"));
    CHECK_FALSE(speaks_of_span("3 mm"));
    CHECK(parse_span_divisor("span/300") == 300);
    CHECK(parse_span_divisor("span / 250") == 250);
    const auto text = GENERATE("span", "span/0", "span/-3", "span/300 mm", "span:300");
    CAPTURE(text);
    CHECK(message_of([&] { (void)parse_span_divisor(text); }) ==
          '"' + std::string(text) + R"(" is not a share of the span; write it like "span/300")");
}

TEST_CASE("a fraction alone is of inches, and read in a file of inches only", "[cli]") {
    CHECK_THAT(Length::parse("3/4", Units::inch).mm(), WithinRel(0.75 * 25.4, rounding));
    CHECK_THAT(Length::parse("1 1/2", Units::inch).mm(), WithinRel(1.5 * 25.4, rounding));
    CHECK_THAT(Length::parse("1-1/2", Units::inch).mm(), WithinRel(1.5 * 25.4, rounding));
    CHECK_THAT(Length::parse("20 mm", Units::inch).mm(), WithinRel(20.0, rounding));
    CHECK(message_of([] { (void)Length::parse("3/4", Units::mm); }) ==
          "\"3/4\" has no unit; fractions are of inches: write \"3/4 in\", or a number of mm");
    CHECK_THAT(Length::parse("3/4 in", Units::mm).mm(), WithinRel(0.75 * 25.4, rounding));
}

TEST_CASE("feet and inches beyond all measure are refused", "[cli]") {
    CHECK_THROWS_AS(Length::parse("1e308'6\""), Error); // once infinitely long
    CHECK_THROWS_AS(Length::parse("1e308 ft"), Error);
}
