// SPDX-License-Identifier: MIT
#pragma once
/// \file  Messages in the words of the reader: where digits and units are chosen.
///
/// A message keeps its amounts in mm, N, kg, kPa, MPa and C. In inches "span of 1270 mm / 300" becomes "span of
/// 50 in / 300": lengths are sixteenths with the decimal beside them, as dimensions are; what is under a
/// sixteenth, and what stands in brackets or before some, the decimal alone; places sixteenths alone. What is
/// text in a message (somebody's word, a name, a section, a formula, a source) stays.

#include "cli/words/quantity.hpp"
#include "materials/error.hpp"
#include "materials/message.hpp"
#include "solver/result/result.hpp"
#include "solver/seasons/seasons.hpp"

#include <string>
#include <vector>

namespace hollowtop::cli {

/// `bracket_fits`: something in brackets may be put behind it.
std::string in_inches(const Amounts& given, bool bracket_fits);

std::string in_words(const Message& message, Units units);
std::vector<std::string> in_words(const std::vector<Message>& messages, Units units);

/// Of a message that was put into words, as in_words(Result) does.
inline std::string text_of(const Message& worded) { return in_own_units(worded); }

inline std::vector<std::string> texts_of(const std::vector<Message>& worded) {
    return in_words(worded, Units::mm);
}

/// For what other programs read (JSON, CSV, VTU): in our own units, but a place in those of the piece's file.
std::string as_drawn(const Message& message);

/// Every message of it put into words: text, from then on. Numbers stay.
Result in_words(Result result, Units units);
Seasons in_words(Seasons seasons, Units units);
Fault in_words(Fault fault, Units units);
Error in_words(const Error& error, Units units);

} // namespace hollowtop::cli
