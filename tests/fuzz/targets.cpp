// SPDX-License-Identifier: MIT
#include "tests/fuzz/targets.hpp"

#include "cli/read/asked.hpp"
#include "cli/read/gauge_readings.hpp"
#include "cli/read/load_readings.hpp"
#include "cli/read/piece_file.hpp"
#include "cli/read/readings.hpp"
#include "cli/words/messages.hpp"
#include "cli/words/quantity.hpp"
#include "materials/error.hpp"
#include "materials/section.hpp"
#include "validation/run_cases.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>

namespace hollowtop {
namespace {

void promise(bool kept, const char* what) {
    if (kept) return;
    std::fprintf(stderr, "broken promise: %s\n", what);
    std::abort();
}

void promise_finite(std::initializer_list<double> values, const char* what) {
    promise(std::all_of(values.begin(), values.end(), [](double v) { return std::isfinite(v); }), what);
}

/// Runs the reader; what it refuses, it refuses in words that a terminal can show.
template <class Read> void read_or_refuse(Read read) {
    try {
        read();
    } catch (const Error& error) {
        promise(error.kind() == ErrorKind::input, "a reader refuses what it reads, it does not compute");
        promise(!error.faults().empty(), "a refusal has a fault");
        for (const Fault& fault : error.faults())
            promise(!in_own_units(fault.what).empty(), "a fault says what it is");
        const std::string told = cli::message_of(error);
        promise(told.find('\x1b') == std::string::npos && told.find('\0') == std::string::npos,
                "nothing of a file reaches a terminal as a command");
    }
}

void read_piece(std::string_view bytes) {
    read_or_refuse([&] {
        const Piece piece = cli::piece_of_json(bytes);
        promise_finite({piece.top.length, piece.top.width, piece.top.thickness}, "sizes of a top are finite");
        promise(piece.top.length > 0 && piece.top.width > 0 && piece.top.thickness > 0,
                "sizes of a top are above nothing");
        for (const Recess& recess : piece.recesses)
            promise(recess.depth > 0 && recess.depth < piece.top.thickness, "a recess leaves a skin");
        (void)cli::asked_of_json(bytes);
    });
}

void read_quantity(std::string_view bytes) {
    if (bytes.empty()) return;
    const auto which = static_cast<unsigned char>(bytes.front());
    const std::string_view text = bytes.substr(1);
    read_or_refuse([&] {
        double value = 0;
        switch (which % 12) {
        case 0:
            value = cli::Length::parse(text).mm();
            break;
        case 1:
            value = cli::Length::parse(text, Units::inch).mm();
            break;
        case 2:
            value = cli::Length::parse(text, Units::mm).mm();
            break;
        case 3:
            value = cli::Force::parse(text).N();
            break;
        case 4:
            value = cli::Pressure::parse(text).MPa();
            break;
        case 5:
            value = cli::Temperature::parse(text).celsius();
            break;
        case 6:
            value = cli::parse_degrees(text);
            break;
        case 7:
            value = cli::parse_percent(text);
            break;
        case 8:
            value = cli::parse_hertz(text);
            break;
        case 9:
            value = cli::parse_modulus_MPa(text);
            break;
        case 10:
            value = cli::parse_density_kg_m3(text);
            break;
        default:
            if (cli::speaks_of_span(text)) value = cli::parse_span_divisor(text);
        }
        promise_finite({value}, "a quantity is finite");
    });
}

void read_section(std::string_view bytes) {
    read_or_refuse([&] {
        const materials::Section section = materials::parse_section(bytes);
        promise_finite({section.area, section.I_yy, section.I_zz, section.I_yz, section.J, section.A_sy,
                        section.A_sz, section.y_c, section.z_c},
                       "values of a section are finite");
        promise(section.area > 0 && section.I_yy > 0 && section.I_zz > 0 && section.J > 0,
                "a section has an area and stiffness");
        promise(section.I_yy * section.I_zz > section.I_yz * section.I_yz,
                "second moments of a section are those of some shape");
        promise(section.z_c < 0 && section.z_c > -section.height, "a section's middle lies in it");
        // holds for any shape of that area within that height
        promise(section.I_yy <= section.area * section.height * section.height / 4 * (1 + 1e-9),
                "a section's radius of gyration lies in it");
    });
}

void read_case(std::string_view bytes) {
    read_or_refuse([&] {
        const validation::Case c = validation::parse_case(bytes, "case");
        for (const validation::Expectation& expected : c.expect) {
            promise_finite({expected.value, expected.tolerance.size}, "what a case expects is finite");
            promise(expected.tolerance.size >= 0, "a tolerance is not below nothing");
            (void)validation::value_at(c.piece, expected.what);
        }
        const auto no_answer = [](const std::string&) -> std::string {
            throw Error(ErrorKind::not_computable, Fault{"", "not computed here", ""});
        };
        promise(validation::run_case(c, no_answer).size() == c.expect.size(), "each expectation has a line");
    });
}

void read_survey(std::string_view bytes) {
    for (const double mm : {1.0, 25.4})
        read_or_refuse([&] {
            const cli::ReadingsFile file = cli::readings_of(bytes, mm);
            for (const Reading& reading : file.readings) {
                promise_finite({reading.at.x, reading.at.y, reading.thickness}, "a reading is finite");
                promise(!reading.sd || (*reading.sd > 0 && std::isfinite(*reading.sd)),
                        "an uncertainty is above nothing");
            }
            promise(!file.gauge_sd || *file.gauge_sd > 0, "a gauge's error is above nothing");
        });
}

void read_gauges(std::string_view bytes) {
    ProofTest test;
    test.force_N = 500;
    test.gauges.resize(3);
    read_or_refuse([&] {
        const cli::GaugeReadings file = cli::parse_readings(bytes, test);
        promise(!file.readings.empty(), "readings that are taken are there");
        for (const ProofReading& reading : file.readings) {
            promise_finite({reading.force_N, reading.reading_mm}, "a reading is finite");
            promise(reading.gauge < test.gauges.size(), "a reading is of a gauge that there is");
            promise(reading.force_N >= 0 && reading.force_N <= 3 * test.force_N,
                    "a load is one that could be laid on");
        }
    });
}

void read_board(std::string_view bytes) {
    for (const Units units : {Units::mm, Units::inch})
        read_or_refuse([&] {
            const cli::TypedReadings typed = cli::load_readings_of(bytes, units);
            promise(!typed.readings.empty(), "readings that are taken are there");
            promise(typed.newtons_over_mm > 0, "a unit is above nothing");
            for (const LoadReading& reading : typed.readings)
                promise_finite({reading.load_N, reading.deflection_mm}, "a reading is finite");
        });
}

/// Two options, parted by a line feed.
void read_typed(std::string_view bytes) {
    const std::size_t end = std::min(bytes.find('\n'), bytes.size());
    const std::string_view loads = bytes.substr(0, end),
                           readings = bytes.substr(std::min(end + 1, bytes.size()));
    read_or_refuse([&] {
        for (const LoadReading& reading : cli::typed_readings(loads, readings, Units::mm).readings)
            promise_finite({reading.load_N, reading.deflection_mm}, "a reading is finite");
    });
    read_or_refuse([&] {
        for (const double length : cli::typed_lengths(loads, Units::inch))
            promise_finite({length}, "a length is finite");
    });
    read_or_refuse([&] {
        for (const double tone : cli::typed_tones(readings)) promise_finite({tone}, "a tone is finite");
    });
}

constexpr std::array<FuzzTarget, 8> all{{{"piece", "docs/examples", read_piece},
                                         {"quantity", "", read_quantity},
                                         {"section", "", read_section},
                                         {"case", "validation/cases", read_case},
                                         {"survey", "", read_survey},
                                         {"gauges", "", read_gauges},
                                         {"board", "", read_board},
                                         {"typed", "", read_typed}}};

} // namespace

std::span<const FuzzTarget> fuzz_targets() { return all; }

const FuzzTarget& fuzz_target(std::string_view name) {
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const FuzzTarget& t) { return t.name == name; });
    promise(found != all.end(), "a target that is asked for is there");
    return *found;
}

} // namespace hollowtop
