// SPDX-License-Identifier: MIT
#include "cli/commands/vary_values.hpp"

#include "cli/words/format.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

namespace hollowtop::cli {
namespace {

constexpr std::size_t most_choices = 100'000; // of one axis

} // namespace

[[noreturn]] void refuse_vary(Message what, Message remedy) {
    throw Error(ErrorKind::input, Fault{"--vary", std::move(what), std::move(remedy)});
}

std::string trimmed(std::string_view text) {
    const auto is_space = [](char c) { return c == ' ' || c == '\t'; };
    while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
    while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
    return std::string(text);
}

std::vector<std::string> items_of(const std::string& list) {
    std::vector<std::string> items;
    for (std::size_t from = 0; from <= list.size();) {
        const std::size_t comma = std::min(list.find(',', from), list.size());
        items.push_back(trimmed(std::string_view(list).substr(from, comma - from)));
        if (items.back().empty())
            refuse_vary(in_quotes(list) + " has an empty place in its list", "write values parted by commas");
        from = comma + 1;
    }
    return items;
}

std::optional<double> plain_number(const std::string& text) {
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value))
        return std::nullopt;
    return value;
}

Typed typed(const std::string& text) {
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos)
        refuse_vary(in_quotes(text) + " does not say what is varied, or over what",
                    R"(write for example "depth=16..26 step 2")");
    Typed result{.name = trimmed(std::string_view(text).substr(0, equals)),
                 .part = {},
                 .key = {},
                 .values = trimmed(std::string_view(text).substr(equals + 1))};
    const std::size_t dot = result.name.rfind('.');
    result.key =
        dot == std::string::npos ? result.name : trimmed(std::string_view(result.name).substr(dot + 1));
    if (dot != std::string::npos) result.part = trimmed(std::string_view(result.name).substr(0, dot));
    if (result.values.empty())
        refuse_vary(in_quotes(text) + " gives no values", R"(write a list or a range after the "=")");
    return result;
}

std::vector<double> numbers_of(const std::string& values,
                               const std::function<double(const std::string&)>& read) {
    std::vector<double> numbers;
    for (const std::string& item : items_of(values)) {
        const std::size_t dots = item.find("..");
        if (dots == std::string::npos) {
            numbers.push_back(read(item));
            continue;
        }
        std::size_t word = item.find(" step ");
        const bool by_step = word != std::string::npos;
        if (!by_step) word = item.find(" in ");
        // "1..2 in" ends with the inch, not with a count
        if (word == std::string::npos)
            refuse_vary(in_quotes(item) + " does not say how fine the range is", R"(add "step 2" or "in 6")");
        const double low = read(trimmed(std::string_view(item).substr(0, dots))),
                     high = read(trimmed(std::string_view(item).substr(dots + 2, word - dots - 2)));
        const std::string how = trimmed(std::string_view(item).substr(word + (by_step ? 6 : 4)));
        if (!(high >= low)) refuse_vary(in_quotes(item) + " runs downwards", "give the smaller end first");
        if (by_step) {
            const double step = read(how);
            if (!(step > 0))
                refuse_vary(in_quotes(item) + ": the step is not above zero",
                            "give how far apart the values lie");
            const double count = std::floor((high - low) / step + 1e-9) + 1;
            if (count > static_cast<double>(most_choices))
                refuse_vary(in_quotes(item) + " has too many values", "give a coarser step");
            for (int k = 0; k < static_cast<int>(count); ++k) numbers.push_back(low + k * step);
        } else {
            const auto count = plain_number(how);
            if (!count || *count < 2 || *count > static_cast<double>(most_choices) ||
                *count != std::floor(*count))
                refuse_vary(in_quotes(item) + ": " + in_quotes(how) + " is no number of values",
                            R"(write for example "16..26 in 6")");
            for (int k = 0; k < static_cast<int>(*count); ++k)
                numbers.push_back(low + (high - low) * k / (*count - 1));
        }
    }
    return numbers;
}

double LengthReader::operator()(const std::string& text) const {
    if (const auto number = plain_number(text)) return Length::of_number(*number, units).mm();
    const bool is_bare = text.find_first_not_of("0123456789./ -") ==
                         std::string::npos; // "1-5/8" too is in the units of the piece
    try {
        return Length::parse(is_bare ? text + (units == Units::mm ? " mm" : " in") : text).mm();
    } catch (const Error& error) {
        refuse_vary(error.faults().front().what, error.faults().front().remedy);
    }
}

std::string LengthReader::label(double mm) const {
    return units == Units::mm ? significant(mm, 7) + " mm"
                              : significant(Length::from_mm(mm).inches(), 7) + " in";
}

Message LengthReader::choice(double mm) const {
    if (units == Units::inch) return label(mm);
    return amount(mm, Unit::mm, hollowtop::significant(7));
}

} // namespace hollowtop::cli
