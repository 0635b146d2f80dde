// SPDX-License-Identifier: MIT
#include "cli/commands/board_flags.hpp"

#include "cli/read/load_readings.hpp"
#include "cli/words/format.hpp"
#include "cli/words/words.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace hollowtop::cli::board_flags {

void refuse(const char* place, Message what, Message remedy) {
    throw Error(ErrorKind::input, Fault{place, std::move(what), std::move(remedy)});
}

Typed::Typed(const Given& given, Units units) : given_(given), units_(units) {
    if (!given.has(error_option.name)) return;
    for (const std::string& text : parted(given.options.at(error_option.name), '\n')) {
        const std::size_t at = text.find('=');
        static constexpr std::array<std::string_view, 9> known{
            "length", "width", "thickness", "span", "load", "mass", "tone", "along", "moisture"};
        const std::string what = text.substr(0, at);
        if (at == std::string::npos || std::find(known.begin(), known.end(), what) == known.end())
            refuse(error_option.name, in_quotes(text) + " names no error that is known",
                   "write WHAT=AMOUNT, WHAT being " + listed(known));
        errors_[what] = text.substr(at + 1);
    }
}

Gauged Typed::length(const Option& option, const char* what, double usual_error, ErrorFrom from) {
    const std::vector<double> values =
        at_option(option.name, [&] { return typed_lengths(text(option), units_); });
    for (const double value : values)
        if (!(value > 0))
            refuse(option.name, in_quotes(text(option)) + " is not above zero", "give a length above zero");
    const double stated = length_error(what, usual_error, from);
    return mean_of(option, values, stated);
}

Gauged Typed::tone(const Option& option, const char* what, double usual_share) {
    const std::vector<double> values = at_option(option.name, [&] { return typed_tones(text(option)); });
    for (const double value : values)
        if (!(value > 0))
            refuse(option.name, in_quotes(text(option)) + " is no tone",
                   "give a frequency above zero, such as \"59 Hz\"");
    constexpr double least = 0.5; // Hz: two seconds of recording
    double error = std::max(least, usual_share * values.front());
    std::string basis = "common practice: two seconds of recording";
    if (errors_.count(what) > 0) {
        error = at_option(error_option.name, [&] { return typed_tones(errors_[what]).front(); });
        basis = "stated";
    }
    told_.push_back({what, significant(error, 2) + " Hz" + (what == std::string("along") ? " along" : ""),
                     basis, ErrorFrom::tone});
    return mean_of(option, values, error);
}

Gauged Typed::mass() {
    const auto kg = [&](const std::string& text) {
        const bool is_bare = text.find_first_not_of("0123456789. ") == std::string::npos;
        return Force::parse(is_bare ? text + (units_ == Units::mm ? " kg" : " lb") : text).kgf();
    };
    const double value = at_option(mass_option.name, [&] { return kg(text(mass_option)); });
    if (!(value > 0))
        refuse(mass_option.name, in_quotes(text(mass_option)) + " is no mass", "weigh the board: \"9.4 kg\"");
    double error = 0.05;
    const bool stated = errors_.count("mass") > 0;
    if (stated) error = at_option(error_option.name, [&] { return kg(errors_["mass"]); });
    told_.push_back(
        {"mass",
         units_ == Units::mm ? significant(error, 2) + " kg" : significant(pounds_of_kg(error), 2) + " lb",
         stated ? "stated" : "common practice: a scale that shows tenths of a kilogram", ErrorFrom::mass});
    return {.value = value, .error = error};
}

std::optional<double> Typed::percent(const Option& option) const {
    if (!has(option)) return std::nullopt;
    const double value = at_option(option.name, [&] { return parse_percent(text(option)); });
    constexpr double most = 30;
    if (!(value > 0 && value <= most))
        refuse(option.name, in_quotes(text(option)) + " is no moisture of wood that can be tested",
               "give percent of the dry weight, 6 to 20");
    return value;
}

double Typed::share(const char* what, double usual, const char* basis, ErrorFrom from) {
    const bool stated = errors_.count(what) > 0;
    const double value =
        stated ? at_option(error_option.name, [&] { return parse_percent(errors_[what]); }) / 100 : usual;
    told_.push_back({what, significant(100 * value, 2) + " %", stated ? "stated" : basis, from});
    return value;
}

double Typed::meter() {
    const bool stated = errors_.count("moisture") > 0;
    const double points =
        stated ? at_option(error_option.name, [&] { return parse_percent(errors_["moisture"]); })
               : 1 / std::sqrt(3.0);
    told_.push_back({"moisture", significant(points, 2) + " points by the meter",
                     stated ? "stated" : "common practice: within 1 point", ErrorFrom::meter});
    told_.push_back({"rate", "1.5 % a point, +-0.5 at 95 %",
                     "between two published rules of 1 and 2 %, judgement", ErrorFrom::moisture_rate});
    return points;
}

double Typed::length_error(const char* what, double usual, ErrorFrom from) {
    const bool stated = errors_.count(what) > 0;
    const double error =
        stated ? at_option(error_option.name, [&] { return typed_lengths(errors_[what], units_).front(); })
               : usual;
    if (!(error >= 0))
        refuse(error_option.name, std::string(what) + " cannot be out by less than nothing", "give a length");
    told_.push_back({what, small_length(error), stated ? "stated" : "common practice", from});
    return error;
}

std::string Typed::small_length(double mm) const {
    return units_ == Units::mm ? significant(mm, 2) + " mm"
                               : significant(Length::from_mm(mm).inches(), 2) + " in";
}

Gauged Typed::mean_of(const Option& option, const std::vector<double>& values, double error) const {
    const auto n = static_cast<double>(values.size());
    const double mean = std::accumulate(values.begin(), values.end(), 0.0) / n;
    double squares = 0;
    for (const double value : values) squares += (value - mean) * (value - mean);
    const auto [low, high] = std::minmax_element(values.begin(), values.end());
    constexpr double most_apart = 1.2;
    if (*high > most_apart * *low)
        refuse(option.name, in_quotes(text(option)) + " holds values that are a fifth apart or more",
               "is that a decimal comma? Write \".\", or part the values by \";\"");
    return {.value = mean, .error = n > 1 ? std::max(error, std::sqrt(squares / (n * (n - 1)))) : error};
}

} // namespace hollowtop::cli::board_flags
