// SPDX-License-Identifier: MIT
#include "cli/read/gauge_readings.hpp"

#include "cli/read/table_text.hpp"
#include "cli/words/quantity.hpp"
#include "cli/words/words.hpp"
#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "solver/shell/loads.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <optional>

namespace hollowtop::cli {
namespace {

[[noreturn]] void refuse(std::size_t line, Message what, Message remedy) {
    throw Error(ErrorKind::input,
                Fault{line > 0 ? "line " + std::to_string(line) : "", std::move(what), std::move(remedy)});
}

std::string lowered(std::string text) {
    for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return text;
}

struct Line {
    std::size_t number = 0;
    std::vector<std::string> cells{};
};

/// A number and what stands behind it; empty where no number leads.
struct Quantity {
    double value = 0;
    std::string unit{};
};
std::optional<Quantity> quantity_of(std::string text, bool decimal_commas) {
    if (decimal_commas) std::replace(text.begin(), text.end(), ',', '.');
    const char* from = text.data();
    const char* const end = from + text.size();
    if (from != end && *from == '+') ++from;
    Quantity quantity;
    const auto [after, error] = std::from_chars(from, end, quantity.value);
    if (error != std::errc{} || !std::isfinite(quantity.value)) return std::nullopt;
    quantity.unit = lowered(std::string(without_blanks({after, static_cast<std::size_t>(end - after)})));
    return quantity;
}

/// The unit in a heading: "load (kg)", "Last [kg]", "A mm".
std::string unit_in(const std::string& heading) {
    std::string word, last;
    for (const char c : lowered(heading) + " ") {
        if (std::isalpha(static_cast<unsigned char>(c)) || c == '%') {
            word += c;
        } else if (!word.empty()) {
            for (const char* unit : {"%", "kg", "lb", "lbf", "n", "mm", "cm", "in", "inch"})
                if (word == unit) last = word;
            word.clear();
        }
    }
    return last;
}

std::vector<Line> lines_of(std::string_view text, char& separator) {
    const std::vector<TableLine> kept = table_lines(text);
    const auto holding = [&](char c) {
        return std::count_if(kept.begin(), kept.end(),
                             [c](const TableLine& line) { return line.text.find(c) != std::string::npos; });
    };
    const auto n = static_cast<std::ptrdiff_t>(kept.size());
    separator = 2 * holding(';') > n ? ';' : 2 * holding('\t') > n ? '\t' : ',';
    std::vector<Line> lines;
    for (const TableLine& line : kept) {
        Line one{.number = line.number};
        for (const std::string& cell : parted(line.text, separator)) one.cells.push_back(cell_text(cell));
        while (one.cells.size() > 1 && one.cells.back().empty()) one.cells.pop_back();
        lines.push_back(std::move(one));
    }
    return lines;
}

std::string gauge_name(std::size_t g) { return std::string(1, static_cast<char>('A' + g)); }

/// Which gauge a heading names: "A", "gauge b", "Uhr C", or the number from 1.
std::optional<std::size_t> gauge_in(const std::string& heading, std::size_t n_gauges) {
    std::string word;
    std::optional<std::size_t> found;
    for (const char c : lowered(heading) + " ") {
        if (std::isalnum(static_cast<unsigned char>(c))) {
            word += c;
            continue;
        }
        if (word.size() == 1)
            for (std::size_t g = 0; g < n_gauges; ++g)
                if (word[0] == static_cast<char>('a' + g) || word[0] == static_cast<char>('1' + g)) found = g;
        word.clear();
    }
    return found;
}

/// In words that makers use for a load, in some languages.
bool names_load(const std::string& heading) {
    static constexpr std::array<std::string_view, 22> known{
        "load",      "force",  "weight", "step",  "last",  "kraft",    "gewicht", "stufe",
        "belastung", "charge", "poids",  "masse", "carga", "peso",     "carico",  "forza",
        "passo",     "kg",     "vikt",   "lb",    "%",     "belasting"};
    const std::string low = lowered(heading);
    return std::any_of(known.begin(), known.end(),
                       [&](std::string_view word) { return low.find(word) != std::string::npos; });
}

struct Columns {
    std::size_t load = 0;
    std::vector<std::pair<std::size_t, std::size_t>> gauges{}; ///< column, gauge
    std::string load_unit{};
    std::vector<std::string> gauge_units{}; ///< one a column of `gauges`
};

Columns columns_of(const Line* heading, std::size_t width, std::size_t n_gauges,
                   std::vector<std::string>& notes) {
    Columns columns;
    if (heading != nullptr) {
        std::optional<std::size_t> load;
        for (std::size_t c = 0; c < heading->cells.size(); ++c) {
            const std::string& cell = heading->cells[c];
            const std::optional<std::size_t> gauge = gauge_in(cell, n_gauges);
            if (names_load(cell) && !load) {
                load = c;
                columns.load_unit = unit_in(cell);
            } else if (gauge) {
                columns.gauges.emplace_back(c, *gauge);
                columns.gauge_units.push_back(unit_in(cell));
            }
        }
        for (std::size_t a = 0; a < columns.gauges.size(); ++a)
            for (std::size_t b = 0; b < a; ++b)
                if (columns.gauges[a].second == columns.gauges[b].second)
                    refuse(heading->number,
                           "two columns are headed as gauge " + gauge_name(columns.gauges[a].second),
                           "head each column with its own gauge: A, B, C");
        if (load && !columns.gauges.empty()) {
            columns.load = *load;
            return columns;
        }
        notes.push_back("the headings name no load and gauges that are known, so the columns were taken in "
                        "order: load, A, B, C");
        columns = {};
        columns.load_unit = heading->cells.empty() ? "" : unit_in(heading->cells.front());
    }
    for (std::size_t c = 1; c < width && c <= n_gauges; ++c) {
        columns.gauges.emplace_back(c, c - 1);
        columns.gauge_units.push_back(heading && c < heading->cells.size() ? unit_in(heading->cells[c]) : "");
    }
    return columns;
}

double newtons_of(const Quantity& load, std::string unit, const ProofTest& test, std::size_t line) {
    if (!load.unit.empty()) unit = load.unit;
    if (unit == "%") return load.value / 100 * test.force_N;
    if (unit == "kg") return load.value * standard_gravity;
    if (unit == "lb" || unit == "lbf" || unit == "lbs") return Force::of_number(load.value, Units::inch).N();
    if (unit == "n") return load.value;
    refuse(line, "a load of " + materials::digits(load.value) + " of what?",
           "head the column \"load (kg)\", \"load (N)\", \"load (lb)\" or \"load (%)\"");
}

double mm_of(const Quantity& reading, std::string unit, std::size_t line) {
    if (!reading.unit.empty()) unit = reading.unit;
    if (unit.empty() || unit == "mm") return reading.value;
    if (unit == "cm") return 10 * reading.value;
    if (unit == "in" || unit == "inch" || unit == "\"") return Length::from_inches(reading.value).mm();
    refuse(line, "\"" + unit + "\" is no unit of a reading", "give mm, cm or in");
}

bool are_percents(const std::vector<double>& loads) {
    return std::all_of(loads.begin(), loads.end(), [](double load) {
        return load == 0 ||
               std::any_of(proof_shares.begin(), proof_shares.end(),
                           [&](double share) { return std::abs(load - 100 * share) < 0.5; }) ||
               std::abs(load - 10) < 0.5;
    });
}

} // namespace

GaugeReadings parse_readings(std::string_view text, const ProofTest& test) {
    GaugeReadings file;
    char separator = ',';
    std::vector<Line> lines = lines_of(text, separator);
    if (lines.empty()) refuse(0, "no reading is in it", "write a line for each step: load, A, B, C");
    const std::size_t n_gauges = test.gauges.size();
    const bool decimal_commas = separator != ',';
    const bool has_heading = !quantity_of(lines.front().cells.front(), decimal_commas);
    const Line heading = lines.front();
    if (has_heading) lines.erase(lines.begin());
    if (lines.empty()) refuse(0, "there is a heading and no reading", "write a line for each step");
    const std::size_t width = lines.front().cells.size();
    if (separator == ',' && width > n_gauges + 1)
        refuse(lines.front().number,
               std::to_string(width) + " numbers, and there is one load and " + std::to_string(n_gauges) +
                   " gauges",
               "with decimal commas part the columns by semicolons: 25;0,53;0,47");
    Columns columns = columns_of(has_heading ? &heading : nullptr, width, n_gauges, file.notes);
    if (columns.gauges.empty())
        refuse(lines.front().number, "one number alone in a line",
               "write the load and what each gauge read: 25, 0.53, 0.47");
    std::vector<double> loads, first_gauge;
    for (const Line& line : lines) {
        if (columns.load < line.cells.size())
            if (const auto load = quantity_of(line.cells[columns.load], decimal_commas); load)
                loads.push_back(load->value);
        if (columns.gauges.front().first < line.cells.size())
            if (const auto one = quantity_of(line.cells[columns.gauges.front().first], decimal_commas); one)
                first_gauge.push_back(one->value);
    }
    if (loads.size() > 1 && !are_percents(loads) && first_gauge.size() == loads.size() &&
        (are_percents(first_gauge) || *std::max_element(first_gauge.begin(), first_gauge.end()) >
                                          20 * *std::max_element(loads.begin(), loads.end())))
        refuse(lines.front().number, "the load and the readings look exchanged: the load comes first",
               "write the load in the first column, what the gauges read behind it");
    if (columns.load_unit.empty() && are_percents(loads)) {
        columns.load_unit = "%";
        file.notes.push_back("the loads were taken as percent of the load that is tested");
    }
    for (const Line& line : lines) {
        if (columns.load >= line.cells.size()) continue;
        const auto load = quantity_of(line.cells[columns.load], decimal_commas);
        if (!load)
            refuse(line.number, in_quotes(line.cells[columns.load]) + " is no load",
                   "write a number, such as 25");
        const double force = newtons_of(*load, columns.load_unit, test, line.number);
        if (force < 0) refuse(line.number, "a load is less than nothing", "give 0 or more");
        std::vector<ProofReading> step;
        for (std::size_t k = 0; k < columns.gauges.size(); ++k) {
            const auto [column, gauge] = columns.gauges[k];
            if (column >= line.cells.size() || line.cells[column].empty() || line.cells[column] == "-")
                continue; // not read
            const auto reading = quantity_of(line.cells[column], decimal_commas);
            if (!reading)
                refuse(line.number,
                       in_quotes(line.cells[column]) + " is no reading of gauge " + gauge_name(gauge),
                       decimal_commas ? "write a number of mm, such as 0,53"
                                      : "write a number of mm, such as 0.53; with decimal commas part the "
                                        "columns by semicolons");
            const double reading_mm = mm_of(*reading, columns.gauge_units[k], line.number);
            if (!(std::abs(reading_mm) <= longest_measured_mm))
                refuse(line.number, in_quotes(line.cells[column]) + " is too large for a reading",
                       "give at most 100 m");
            step.push_back({.gauge = gauge, .force_N = force, .reading_mm = reading_mm});
        }
        const bool again = std::all_of(step.begin(), step.end(), [&](const ProofReading& one) {
            return std::any_of(file.readings.begin(), file.readings.end(), [&](const ProofReading& other) {
                return other.gauge == one.gauge && other.force_N == one.force_N &&
                       other.reading_mm == one.reading_mm;
            });
        });
        if (again && !step.empty() && force > 0)
            file.notes.push_back("line " + std::to_string(line.number) +
                                 " repeats a step word for word: counted once");
        else
            file.readings.insert(file.readings.end(), step.begin(), step.end());
    }
    const auto loaded = std::count_if(file.readings.begin(), file.readings.end(),
                                      [](const ProofReading& r) { return r.force_N > 0; });
    if (loaded == 0) refuse(0, "no reading under a load is in it", "write a line for each step");
    constexpr double too_much = 3;
    for (const ProofReading& reading : file.readings)
        if (reading.force_N > too_much * test.force_N)
            refuse(0, "a load is more than three times the one that is tested",
                   "see whether its unit is right: %, kg, lb or N");
    return file;
}

void expect_plausible(const std::vector<GaugeFound>& found) {
    if (found.empty()) return;
    double product = 0, least = 1e300, most = 0;
    for (const GaugeFound& gauge : found) {
        product += std::log(gauge.read_over_computed);
        least = std::min(least, gauge.read_over_computed);
        most = std::max(most, gauge.read_over_computed);
    }
    const double middle = std::exp(product / static_cast<double>(found.size()));
    const auto near = [&](double factor) { return std::abs(std::log(middle / factor)) < 0.45; };
    const bool alike = most < 2 * least;
    if (alike && near(0.1))
        refuse(0, "every reading is about a tenth of what is computed: they look like cm",
               "head the columns with their unit, such as \"A (cm)\", or write mm");
    if (alike && near(1 / 25.4))
        refuse(0, "every reading is about a twenty-fifth of what is computed: they look like inches",
               "head the columns with their unit, such as \"A (in)\", or write mm");
    if (alike && near(9.80665))
        refuse(0, "every reading is about ten times what is computed: the load looks like kg written as N",
               "head the load's column with its unit, such as \"load (kg)\"");
    constexpr double far = 3;
    if (middle > far || middle < 1 / far)
        refuse(
            0,
            "the gauges read " + std::string(middle > far ? "over three times" : "under a third of") +
                " what is computed: that is not this top under this load",
            "see to the load, to its place, to units, and to what else may give way; learn nothing from it "
            "before");
    for (std::size_t a = 0; a < found.size(); ++a)
        for (std::size_t b = a + 1; b < found.size(); ++b) {
            constexpr double apart = 1.6, together = 1.25;
            const double ratio = found[a].read_over_computed / found[b].read_over_computed;
            if (std::abs(std::log(ratio)) < std::log(apart)) continue;
            // exchanged: what A read over what B should have read, and the other way round
            const double a_in_b =
                             found[a].read_over_computed * found[a].computed_slope / found[b].computed_slope,
                         b_in_a =
                             found[b].read_over_computed * found[b].computed_slope / found[a].computed_slope;
            if (std::abs(std::log(a_in_b / b_in_a)) < std::log(together))
                refuse(0,
                       "gauges " + gauge_name(found[a].gauge) + " and " + gauge_name(found[b].gauge) +
                           " look exchanged: either fits what the other should read",
                       "see which gauge stands where on the sheet, and exchange their columns");
        }
}

} // namespace hollowtop::cli
