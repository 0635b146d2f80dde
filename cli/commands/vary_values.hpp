// SPDX-License-Identifier: MIT
#pragma once
/// \file  The values of what is varied, as they are typed: lists and ranges of numbers and lengths. Each throws
/// Error(input) with `--vary` as its place.

#include "cli/words/quantity.hpp"
#include "materials/message.hpp"

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {

[[noreturn]] void refuse_vary(Message what, Message remedy);

std::string trimmed(std::string_view text);
std::vector<std::string> items_of(const std::string& list);
std::optional<double> plain_number(const std::string& text);

/// What follows "--vary": the key, the part that it speaks of, and the text of its values.
struct Typed {
    std::string name, part, key, values;
};
Typed typed(const std::string& text);

/// A list of numbers, ranges among them; `read` turns one word into a number.
std::vector<double> numbers_of(const std::string& values,
                               const std::function<double(const std::string&)>& read);

struct LengthReader {
    Units units;
    double operator()(const std::string& text) const;
    std::string label(double mm) const;
    /// The same for a table in the units of its reader.
    Message choice(double mm) const;
    /// What the label says, and not a digit more: a piece file with the label in it is the same piece.
    double as_labelled(double mm) const { return Length::parse(label(mm)).mm(); }
};

} // namespace hollowtop::cli
