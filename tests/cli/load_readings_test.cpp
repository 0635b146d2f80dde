// SPDX-License-Identifier: MIT
// Readings of a bend test as people keep them.
#include "cli/read/load_readings.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>
#include <string>

using namespace hollowtop;
using namespace hollowtop::cli;

namespace {

constexpr double g = 9.80665; // m/s2, standard gravity

/// The same three readings, whatever the way they are written: 0, 5 and 10 kg; 0.21, 0.48 and 0.75 mm.
void check_three(const std::string& text, Units units = Units::mm) {
    INFO(text);
    const TypedReadings typed = load_readings_of(text, units);
    REQUIRE(typed.readings.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(std::abs(typed.readings[i].load_N - 5.0 * static_cast<double>(i) * g) < 1e-9);
        CHECK(std::abs(typed.readings[i].deflection_mm - (0.21 + 0.27 * static_cast<double>(i))) < 1e-9);
    }
}

std::string refused(const std::string& text, Units units = Units::mm) {
    try {
        load_readings_of(text, units);
    } catch (const Error& error) {
        REQUIRE(error.kind() == ErrorKind::input);
        const Fault& fault = error.faults().front();
        return fault.place + "|" + in_own_units(fault.what) + "|" + in_own_units(fault.remedy);
    }
    return "taken";
}

} // namespace

TEST_CASE("readings are read with points or commas, with headings in any language, with any part between",
          "[boardtest]") {
    check_three("0 kg,0.21 mm\n5 kg,0.48 mm\n10 kg,0.75 mm\n");
    check_three("load [kg],reading [mm]\n0,0.21\n5,0.48\n10,0.75");
    check_three("Belastung (kg);Anzeige (mm)\r\n0;0,21\r\n5;0,48\r\n10;0,75\r\n");
    check_three("\xEF\xBB\xBF"
                "Charge en kg\tFl\xC3\xA8"
                "che en mm\n0\t0,21\n5\t0,48\n10\t0,75\n");
    check_three("# front face, Tuesday\n\nkuormitus kg, painuma mm\n\n0, 0.21\n\n5, 0.48\n10, 0.75\n\n;;\n");
    check_three("kg mm\n0 0,21\n5 0,48\n10 0,75\n");
    check_three("\"load_kg\",\"dial_mm\"\n\"0\",\"0.21\"\n\"5\",\"0.48\"\n\"10\",\"0.75\"\n");
    check_three("no;kg;mm\n1;0;0,21\n2;5;0,48\n3;10;0,75\n");
    check_three("load kg;dial [0.01 mm]\n0;21\n5;48\n10;75\n");
    check_three("load kg;dial [1/100 mm]\n0;21\n5;48\n10;75\n");
    check_three("dial [mm];load [kg]\n0.21;0\n0.48;5\n0.75;10\n"); // the other order, by the headings
    check_three("load kg,mm\n0,0,0,21\n5,0,0,48\n10,0,0,75\n");    // decimal commas between commas
    check_three("2. test, kg; mm\n0;0,21\n5;0,48\n10;0,75\n");
    check_three("2nd face, this board\nkg; mm\n0;0,21\n5;0,48\n10;0,75\n");
    check_three("load kg; mm; remark\n0;0,21;set to nought?\n5;0,48;\n10;0,75;door slammed\n");
    check_three("0 N;0.21 mm\n49.03325 N;0.48 mm\n98.0665 N;0.75 mm\n", Units::inch);
}

TEST_CASE("numbers without a unit are newtons and millimetres, pounds and inches in inches", "[boardtest]") {
    const TypedReadings mm = load_readings_of("10;0.5\n20;1\n", Units::mm);
    CHECK(mm.readings[1].load_N == 20);
    CHECK(mm.readings[1].deflection_mm == 1);
    const TypedReadings in = load_readings_of("10;0.05\n20;0.1\n", Units::inch);
    CHECK(std::abs(in.readings[1].load_N - 20 * 0.45359237 * g) < 1e-9); // pound, exact
    CHECK(std::abs(in.readings[1].deflection_mm - 2.54) < 1e-12);
    CHECK(std::abs(in.newtons_over_mm - 0.45359237 * g / 25.4) < 1e-12);
}

TEST_CASE("what was taken for granted of the readings is said", "[boardtest]") {
    const auto notes = [](const std::string& text) {
        std::string all;
        for (const std::string& note : load_readings_of(text, Units::mm).notes) all += note + "\n";
        return all;
    };
    CHECK(notes("0;0,1\n5;0,2\n") == "commas are read as decimal points\n");
    CHECK(notes("0;0.1\n5;0.2\n5;0.2\n").find("lines 2 and 3 are the same") == 0);
    CHECK(notes("1;0;0.1\n2;5;0.2\n") == "the first column counts the lines and is left out\n");
    CHECK(notes("0;0.1\nsecond face\n5;0.2\n") == "line 2 is no reading and is passed over\n");
    CHECK(notes("mm;kg\n0.1;0\n0.2;5\n").find("by their headings") == 0);
    CHECK(notes("0;0.1\n5;0.2\n").empty());
}

TEST_CASE("readings that cannot be understood are refused with their line and a way out", "[boardtest]") {
    CHECK(refused("") == "|no line holds a load and a reading|write them one pair a line: 5 kg;0.48 mm");
    CHECK(refused("load;reading\n") ==
          "|no line holds a load and a reading|write them one pair a line: 5 kg;0.48 mm");
    CHECK(refused("0;0.1\n5\n").find("line 2|\"5\" is no pair of a load and a reading|") == 0);
    CHECK(refused("1e999;1\n2;3\n").find("line 1|") == 0); // no heading, though it cannot be read
    CHECK(refused("0;0.1\n5;abc\n").find("line 2|") == 0);
    CHECK(refused("5;0.1;7\n10;0.2;3\n") ==
          "line 1|this line holds three numbers|keep the load and what the gauge showed");
    CHECK(refused("5,0,1\n10,0,2\n").find("decimal commas") != std::string::npos);
    CHECK(refused("1;2;3;4\n").find("line 1|") == 0);
    CHECK(refused("0.1 mm;5 kg\n0.2 mm;10 kg\n") ==
          "line 1|\"mm\" is a length where the load should stand|the load stands in the first column, the "
          "reading in the second");
    CHECK(refused("5 stone;0.1\n6 stone;0.2\n") == "line 1|\"stone\" is no unit of a load|write kg, N or lb");
    CHECK(refused("PK\x03\x04 and so on") == "|this is a spreadsheet, not its text|save the sheet as CSV");
    CHECK(refused(std::string("0\0;\0"
                              "5",
                              5))
              .find("|this is no plain text") == 0);
}

TEST_CASE("typed lists take a unit behind the last, and semicolons free the comma", "[boardtest]") {
    const TypedReadings typed = typed_readings("0, 5, 10 kg", "0.21, 0.48, 0.75", Units::mm);
    REQUIRE(typed.readings.size() == 3);
    CHECK(std::abs(typed.readings[2].load_N - 10 * g) < 1e-9);
    CHECK(typed.readings[2].deflection_mm == 0.75);
    const TypedReadings commas = typed_readings("0;5;10 kg", "0,21;0,48;0,75 mm", Units::mm);
    CHECK(commas.readings[1].deflection_mm == 0.48);
    CHECK(std::abs(typed_readings("5kg,10kg", "0.1cm,0.2cm", Units::mm).readings[1].deflection_mm - 2) <
          1e-12);
    CHECK_THROWS_AS(typed_readings("0, 5, 10 kg", "0,21 0,48", Units::mm), Error);
    CHECK_THROWS_AS(typed_readings("0, 5 kg", "0.1, 0.2, 0.3", Units::mm), Error);
    CHECK(typed_lengths("40.1, 39.9, 40.2 mm", Units::mm) == std::vector<double>{40.1, 39.9, 40.2});
    CHECK(typed_lengths("1-1/2", Units::inch).front() == Approx(38.1));
    CHECK(typed_lengths("54\"", Units::mm).front() == Approx(54 * 25.4));
    CHECK(typed_tones("58.5, 59, 59.5 Hz") == std::vector<double>{58.5, 59, 59.5});
    CHECK(typed_tones("1.15 kHz") == std::vector<double>{1150});
    CHECK_THROWS_AS(typed_tones("high"), Error);
}

TEST_CASE("whatever stands in a file of readings, it is read or refused in words", "[boardtest]") {
    std::mt19937 dice(7);
    const std::string seed =
        "Last [kg];\"Anzeige\" (0.01 mm)\r\n0;0,21\n5 kg\t0.48 mm\n-1.5e3,1/2;+.5\n# x\n\xC3\xA4,,;;\n";
    const std::string good = "kg;mm\n0;0,21\n5 kg;0,48 mm\n10;0,75\n";
    int n_read = 0, n_refused = 0;
    for (int i = 0; i < 3000; ++i) {
        std::string text = dice() % 2 == 0 ? good : seed.substr(dice() % seed.size());
        for (auto k = dice() % 6; k > 0 && !text.empty(); --k) {
            const std::size_t at = dice() % text.size();
            if (dice() % 3 == 0)
                text.erase(at, dice() % 9);
            else if (dice() % 2 == 0)
                text[at] = static_cast<char>(dice() % 256);
            else
                text.insert(at, text.substr(dice() % text.size(), dice() % 20));
        }
        try {
            for (const LoadReading& reading : load_readings_of(text, Units::mm).readings) {
                CHECK(std::isfinite(reading.load_N));
                CHECK(std::isfinite(reading.deflection_mm));
            }
            ++n_read;
        } catch (const Error& error) {
            CHECK(error.kind() == ErrorKind::input);
            CHECK_FALSE(error.faults().front().what.empty());
            ++n_refused;
        }
    }
    CHECK(n_read > 50);
    CHECK(n_refused > 50);
}

TEST_CASE("a load or a reading beyond all measure is refused, also where its unit makes it so",
          "[boardtest]") {
    CHECK(refused("0;0\n5 kg;1e308 cm\n") == "line 2|1e+308 is too large for a reading|give at most 100 m");
    CHECK(refused("0;0\n1e308 kg;1\n") == "line 2|1e+308 is too large for a load|give at most 10 000 kN");
}

TEST_CASE("a tone that no board sounds is refused", "[boardtest]") {
    CHECK_THROWS_AS(typed_tones("59 Hz, 1e308 kHz"), Error); // once infinitely high
    CHECK(typed_tones("0.06 kHz").front() == 60);
}
