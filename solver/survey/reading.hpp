// SPDX-License-Identifier: MIT
#pragma once
/// \file  Readings of a thickness gauge as they are handed over, and what is said of them. mm.

#include "materials/message.hpp"
#include "solver/piece/piece.hpp"

#include <cstddef>
#include <optional>

namespace hollowtop {

struct Reading {
    Point at{};
    double thickness = 0;
    std::optional<double> sd{}; ///< of its own error, where stated
    int line = 0;               ///< of the file, for messages
};

struct SurveyOptions {
    double gauge_sd = 0.1; ///< standard deviation of a reading's error: depth rod (common practice)
    double foot = 6;       ///< half the width of what the gauge stands on
    bool keep_all = false; ///< readings out of line with their neighbours are used too
};

/// A reading that the maker has to hear of.
struct NamedReading {
    Reading reading;
    bool used = false;
    Message why;
};

/// The most readings of a field; where there are more, close ones are averaged.
inline constexpr std::size_t most_of_a_field = 240;

} // namespace hollowtop
