// SPDX-License-Identifier: MIT
#pragma once
/// \file  What is typed about a board on the bench: its options, and each as a value with its error.

#include "cli/commands/command.hpp"
#include "cli/json/boardtest_json.hpp"
#include "cli/words/quantity.hpp"
#include "materials/error.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli::board_flags {

// clang-format off
inline constexpr Option wood_option{"--wood", "NAME", "the wood: its shear modulus, and what the test is worth against the handbook"};
inline constexpr Option rings_option{"--rings", "CUT", "flatsawn, riftsawn, quartersawn or an angle 0 to 90 (flatsawn where not given)", false, "", "flatsawn riftsawn quartersawn"};
inline constexpr Option length_option{"--length", "LENGTH", "of the board, from end to end"};
inline constexpr Option width_option{"--width", "LENGTH", "of the board"};
inline constexpr Option thickness_option{"--thickness", "LENGTH", "of the board; several readings as \"40.1, 39.9, 40.2 mm\" are averaged"};
inline constexpr Option mass_option{"--mass", "MASS", "of the board, such as \"9.4 kg\" or \"21 lb\": for its density, and for tones"};
inline constexpr Option span_option{"--span", "LENGTH", "bend test: between the middles of the bars"};
inline constexpr Option load_option{"--load", "LIST", "bend test: the loads at mid span, such as \"0, 5, 10, 15 kg\""};
inline constexpr Option reading_option{"--reading", "LIST", "bend test: what the gauge showed under each, such as \"0.02, 0.31, 0.60, 0.88 mm\""};
inline constexpr Option readings_option{"--readings", "FILE", "bend test: the same as a file, CSV with load and reading a line or JSON ([[load, reading], ...]); several files are several tests of this board", true};
inline constexpr Option gauge_option{"--gauge", "LENGTH", "what a reading is good for, one standard deviation (0.01 mm where not given)"};
inline constexpr Option tone_option{"--tone", "HZ", "tap tone in bending, board on foam at 0.224 of its length from the ends: \"59 Hz\", several taps \"58.5, 59, 59.5 Hz\""};
inline constexpr Option along_option{"--along", "HZ", "tap tone along the length: \"1150 Hz\""};
inline constexpr Option moisture_option{"--moisture", "PERCENT", "of the board when tested"};
inline constexpr Option piece_moisture_option{"--piece-moisture", "PERCENT", "of the piece that it goes into (where not given: as tested)"};
inline constexpr Option across_option{"--across", "", "the grain runs across the strip: stiffness across the grain"};
inline constexpr Option error_option{"--error", "WHAT=AMOUNT", "another standard deviation than the usual one: \"thickness=0.2 mm\"; of length, width, thickness, span, load (percent), mass, tone, along, moisture (points)", true};
inline constexpr Option sheet_option{"--sheet", "", "print a sheet for the bench: how to do it with this board, what to write down"};
// clang-format on

[[noreturn]] void refuse(const char* place, Message what, Message remedy);

/// What `parse` throws gets the option as its place.
template <class Parse> auto at_option(const char* option, Parse parse) -> decltype(parse()) {
    try {
        return parse();
    } catch (const Error& error) {
        const Fault& fault = error.faults().front();
        throw Error(error.kind(), Fault{option + (fault.place.empty() ? std::string() : ": " + fault.place),
                                        fault.what, fault.remedy});
    }
}

/// The options of one call; each error that was reckoned with is kept for the answer. All throw
/// Error(input).
class Typed {
  public:
    Typed(const Given& given, Units units);
    bool has(const Option& option) const { return given_.has(option.name); }
    const std::string& text(const Option& option) const { return given_.options.at(option.name); }
    Units units() const { return units_; }

    /// The mean of what was typed; its error the stated or usual one, or that of the mean of the readings
    /// where they scatter more.
    Gauged length(const Option& option, const char* what, double usual_error, ErrorFrom from);
    Gauged tone(const Option& option, const char* what, double usual_share);
    Gauged mass();
    std::optional<double> percent(const Option& option) const;
    double share(const char* what, double usual, const char* basis, ErrorFrom from);
    /// One standard deviation of the meter, points.
    double meter();
    double length_error(const char* what, double usual, ErrorFrom from);
    void tell(StatedError error) { told_.push_back(std::move(error)); }
    std::string small_length(double mm) const;
    const std::vector<StatedError>& told() const { return told_; }

  private:
    Gauged mean_of(const Option& option, const std::vector<double>& values, double error) const;

    const Given& given_;
    Units units_;
    std::map<std::string, std::string> errors_;
    std::vector<StatedError> told_;
};

} // namespace hollowtop::cli::board_flags
