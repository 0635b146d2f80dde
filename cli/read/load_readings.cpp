// SPDX-License-Identifier: MIT
#include "cli/read/load_readings.hpp"

#include "cli/read/table_text.hpp"
#include "cli/words/quantity.hpp"
#include "cli/words/words.hpp"
#include "materials/digits.hpp"
#include "materials/error.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <optional>
#include <utility>

namespace hollowtop::cli {
namespace {

[[noreturn]] void refuse_load_reading(std::string place, std::string what, std::string remedy) {
    throw Error(ErrorKind::input, Fault{std::move(place), std::move(what), std::move(remedy)});
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_blank(char c) { return c == ' ' || c == '\t'; }

std::string trimmed(std::string_view text) { return std::string(without_blanks(text)); }

/// A number and what stands behind it.
struct Cell {
    double number = 0;
    std::string unit;
};

std::optional<Cell> cell_of(std::string text, bool decimal_commas) {
    text = cell_text(text);
    if (decimal_commas) std::replace(text.begin(), text.end(), ',', '.');
    std::string_view rest = text;
    const bool negative = !rest.empty() && rest.front() == '-';
    if (!rest.empty() && (rest.front() == '-' || rest.front() == '+')) rest.remove_prefix(1);
    if (rest.empty() || !(is_digit(rest.front()) || rest.front() == '.')) return std::nullopt;
    double value = 0;
    const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), value);
    if (error != std::errc{} || !std::isfinite(value)) return std::nullopt;
    rest.remove_prefix(static_cast<std::size_t>(end - rest.data()));
    std::string unit = trimmed(rest);
    if (!unit.empty() && (is_digit(unit.front()) || unit.front() == '.' || unit.front() == ','))
        return std::nullopt;
    return Cell{.number = negative ? -value : value, .unit = unit};
}

/// One of a unit in N or mm; empty where it is no such unit.
template <class Quantity> std::optional<double> unit_of(const std::string& word) {
    try {
        if constexpr (std::is_same_v<Quantity, Force>)
            return Force::parse("1 " + word).N();
        else
            return Length::parse("1 " + word).mm();
    } catch (const Error&) {
        return std::nullopt;
    }
}

std::vector<TableLine> reading_lines(std::string_view text) {
    if (text.starts_with("PK"))
        refuse_load_reading("", "this is a spreadsheet, not its text", "save the sheet as CSV");
    if (text.find('\0') != std::string_view::npos)
        refuse_load_reading("", "this is no plain text, or text of two bytes a letter",
                            "save it as CSV in UTF-8");
    return table_lines(text);
}

/// Three letters in a row: no unit, no exponent.
bool has_word(const std::string& line) {
    int n = 0;
    for (const char c : line) {
        n = std::isalpha(static_cast<unsigned char>(c)) != 0 || (c & 0x80) != 0 ? n + 1 : 0;
        if (n == 3) return true;
    }
    return false;
}

/// How the numbers of a file stand side by side.
struct Layout {
    char part = ','; ///< ' ' for any blanks
    bool decimal_commas = false;
};

std::vector<std::string> cells_of_line(const std::string& line, const Layout& layout) {
    if (layout.part != ' ') {
        std::vector<std::string> cells = parted(line, layout.part);
        // "5,0,0,48": decimal commas between commas
        if (layout.part == ',' && layout.decimal_commas && cells.size() == 4)
            cells = {cells[0] + "," + cells[1], cells[2] + "," + cells[3]};
        while (cells.size() > 2 && trimmed(cells.back()).empty()) cells.pop_back();
        return cells;
    }
    std::vector<std::string> cells;
    std::string rest = trimmed(line);
    while (!rest.empty()) {
        const std::size_t end = rest.find_first_of(" \t");
        const std::string word = rest.substr(0, end);
        const bool is_number =
            is_digit(word.front()) || word.front() == '-' || word.front() == '+' || word.front() == '.';
        if (is_number || cells.empty())
            cells.push_back(word);
        else
            cells.back() += " " + word; // a unit
        rest = end == std::string::npos ? std::string() : trimmed(rest.substr(end));
    }
    return cells;
}

bool starts_as_number(const std::string& line) {
    std::string text = trimmed(line);
    if (text.starts_with('"')) text.erase(0, 1);
    return !text.empty() &&
           (is_digit(text.front()) || ((text.front() == '-' || text.front() == '+' || text.front() == '.') &&
                                       text.size() > 1 && is_digit(text[1])));
}

Layout layout_of(const std::vector<TableLine>& lines) {
    std::size_t semicolons = 0, tabs = 0, commas = 0, blanks = 0, four = 0, decimals = 0, n = 0;
    for (const auto& [number, text] : lines) {
        if (!starts_as_number(text)) continue;
        ++n;
        semicolons += text.find(';') != std::string::npos;
        tabs += text.find('\t') != std::string::npos;
        const auto comma = text.find(',');
        commas += comma != std::string::npos;
        // blanks that part two numbers, not one behind a comma, not one before a unit
        for (std::size_t i = 1; i + 1 < text.size(); ++i)
            if (is_blank(text[i]) && is_digit(text[i + 1]) && text[i - 1] != ',' && text[i - 1] != ';') {
                ++blanks;
                break;
            }
        for (std::size_t i = 1; i + 1 < text.size(); ++i)
            if (text[i] == ',' && is_digit(text[i - 1]) && is_digit(text[i + 1])) {
                ++decimals;
                break;
            }
        const auto cells = parted(text, ',');
        four += cells.size() == 4 && std::all_of(cells.begin(), cells.end(), [](const std::string& cell) {
                    return !cell.empty() && std::all_of(cell.begin(), cell.end(), is_digit);
                });
    }
    if (n == 0) return {};
    if (2 * semicolons >= n) return {.part = ';', .decimal_commas = decimals > 0};
    if (2 * tabs >= n) return {.part = '\t', .decimal_commas = decimals > 0};
    if (commas == 0 || 2 * blanks > n) return {.part = ' ', .decimal_commas = decimals > 0};
    return {.part = ',', .decimal_commas = four == n};
}

/// The units that the headings name: one for each of the first two columns that has one.
struct Headings {
    std::optional<double> newtons, millimetres;
    bool reading_first = false;
};

/// "[0.01 mm]" is hundredths; "kg", "load_kg", "Last (kg)".
template <class Quantity> std::optional<double> unit_in_heading(const std::string& heading) {
    std::vector<std::string> words(1);
    for (const char c : heading) {
        const bool joins = std::isalnum(static_cast<unsigned char>(c)) || c == '.' || c == ',' || c == '/' ||
                           (c & 0x80) != 0;
        if (joins)
            words.back() += c;
        else if (!words.back().empty())
            words.emplace_back();
    }
    for (std::size_t i = 0; i < words.size(); ++i) {
        // a word alone could be English ("in"): it counts in brackets or behind another word
        if (words[i].empty() || is_digit(words[i].front())) continue;
        const auto unit = unit_of<Quantity>(words[i]);
        if (!unit) continue;
        if (i == 0) return unit;
        if (words[i - 1] == "1/100") return *unit / 100;
        if (words[i - 1] == "1/1000") return *unit / 1000;
        const auto share = cell_of(words[i - 1], true); // of a gauge's scale, a hundredth or the like
        const bool is_share = share && share->unit.empty() && share->number >= 1e-6 && share->number <= 1e3;
        return *unit * (is_share ? share->number : 1);
    }
    return std::nullopt;
}

Headings headings_of(const std::string& line, const Layout& layout) {
    std::vector<std::string> cells = parted(line, layout.part == ' ' ? ' ' : layout.part);
    std::erase_if(cells, [](const std::string& cell) { return trimmed(cell).empty(); });
    Headings headings;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const auto force = unit_in_heading<Force>(cells[i]);
        const auto length = unit_in_heading<Length>(cells[i]);
        if (force && !headings.newtons) {
            headings.newtons = force;
            headings.reading_first = headings.millimetres.has_value();
        } else if (length && !headings.millimetres) {
            headings.millimetres = length;
        }
    }
    return headings;
}

template <class Quantity> double in_bounds(double value, const Cell& cell, const std::string& place) {
    constexpr bool is_load = std::is_same_v<Quantity, Force>;
    if (!(std::abs(value) <= (is_load ? heaviest_measured_N : longest_measured_mm)))
        refuse_load_reading(
            place, materials::digits(cell.number) + " is too large for a " + (is_load ? "load" : "reading"),
            is_load ? "give at most 10 000 kN" : "give at most 100 m");
    return value;
}

template <class Quantity> double value_of(const Cell& cell, double usual, const std::string& place) {
    if (cell.unit.empty()) return in_bounds<Quantity>(cell.number * usual, cell, place);
    if (const auto unit = unit_of<Quantity>(cell.unit))
        return in_bounds<Quantity>(cell.number * *unit, cell, place);
    constexpr bool is_load = std::is_same_v<Quantity, Force>;
    const bool is_other =
        is_load ? unit_of<Length>(cell.unit).has_value() : unit_of<Force>(cell.unit).has_value();
    if (is_other)
        refuse_load_reading(place,
                            in_quotes(cell.unit) +
                                (is_load ? " is a length where the load should stand"
                                         : " is a weight where the reading of the gauge should stand"),
                            "the load stands in the first column, the reading in the second");
    refuse_load_reading(
        place, in_quotes(cell.unit) + (is_load ? " is no unit of a load" : " is no unit of a reading"),
        is_load ? "write kg, N or lb" : "write mm or in");
}

bool counts_lines(const std::vector<std::vector<Cell>>& rows) {
    for (std::size_t i = 0; i < rows.size(); ++i)
        if (rows[i].size() != 3 || !rows[i][0].unit.empty() ||
            rows[i][0].number != rows[0][0].number + static_cast<double>(i))
            return false;
    return rows.size() > 1 && (rows[0][0].number == 0 || rows[0][0].number == 1);
}

void tell_repeats(TypedReadings& typed, const std::vector<std::size_t>& numbers) {
    for (std::size_t i = 1; i < typed.readings.size(); ++i) {
        const LoadReading &a = typed.readings[i - 1], &b = typed.readings[i];
        if (a.load_N == b.load_N && a.deflection_mm == b.deflection_mm)
            typed.notes.push_back("lines " + std::to_string(numbers[i - 1]) + " and " +
                                  std::to_string(numbers[i]) +
                                  " are the same: if one was copied by mistake, strike it out; two true "
                                  "readings may both stay");
    }
}

} // namespace

TypedReadings load_readings_of(std::string_view text, Units units) {
    const std::vector<TableLine> lines = reading_lines(text);
    const Layout layout = layout_of(lines);
    TypedReadings typed;
    std::vector<std::vector<Cell>> rows;
    std::vector<std::size_t> numbers;
    Headings headings;
    for (const auto& [number, line] : lines) {
        const std::string place = "line " + std::to_string(number);
        std::vector<Cell> row;
        if (starts_as_number(line)) {
            for (const std::string& cell : cells_of_line(line, layout))
                if (const auto read = cell_of(cell, layout.decimal_commas))
                    row.push_back(*read);
                else
                    break; // a remark
        }
        if (row.size() < 2 && rows.empty() && (!starts_as_number(line) || has_word(line))) {
            const Headings here = headings_of(line, layout);
            if (here.newtons || here.millimetres) headings = here;
            continue; // a heading, in whatever language
        }
        if (row.size() < 2) {
            const bool has_digit = std::any_of(line.begin(), line.end(), is_digit);
            if (!starts_as_number(line) && !has_digit) {
                typed.notes.push_back(place + " is no reading and is passed over");
                continue;
            }
            refuse_load_reading(place, in_quotes(line) + " is no pair of a load and a reading",
                                "write a load and what the gauge showed, parted by \";\"");
        }
        if (row.size() > 3)
            refuse_load_reading(place, in_quotes(line) + " holds " + std::to_string(row.size()) + " numbers",
                                "keep two columns, parted by \";\": the load and what the gauge showed");
        rows.push_back(std::move(row));
        numbers.push_back(number);
    }
    if (rows.empty())
        refuse_load_reading("", "no line holds a load and a reading",
                            "write them one pair a line: 5 kg;0.48 mm");
    const bool numbered = counts_lines(rows);
    if (numbered) typed.notes.push_back("the first column counts the lines and is left out");
    const double newtons = headings.newtons.value_or(Force::of_number(1, units).N());
    const double mm = headings.millimetres.value_or(Length::of_number(1, units).mm());
    typed.newtons_over_mm = newtons / mm;
    if (headings.reading_first)
        typed.notes.push_back(
            "by their headings the readings stand in the first column, the loads in the second");
    if (layout.decimal_commas) typed.notes.push_back("commas are read as decimal points");
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const std::string place = "line " + std::to_string(numbers[i]);
        std::vector<Cell>& row = rows[i];
        if (numbered) row.erase(row.begin());
        if (row.size() == 3)
            refuse_load_reading(place, "this line holds three numbers",
                                layout.part == ','
                                    ? "are there decimal commas? Then part the columns by \";\""
                                    : "keep the load and what the gauge showed");
        if (headings.reading_first) std::swap(row[0], row[1]);
        typed.readings.push_back(
            {value_of<Force>(row[0], newtons, place), value_of<Length>(row[1], mm, place)});
    }
    tell_repeats(typed, numbers);
    return typed;
}

namespace {

/// The parts, those without a unit with that of the last.
template <class Quantity> std::vector<double> listed_values(std::string_view text, double usual,
                                                            const std::string& place, const char* way) {
    const bool semicolons = text.find(';') != std::string_view::npos;
    std::vector<Cell> cells;
    for (const std::string& part : parted(std::string(text), semicolons ? ';' : ',')) {
        const auto cell = cell_of(part, semicolons);
        if (!cell) refuse_load_reading(place, in_quotes(trimmed(part)) + " is no number with its unit", way);
        cells.push_back(*cell);
    }
    std::vector<double> values;
    for (Cell& cell : cells) {
        if (cell.unit.empty()) cell.unit = cells.back().unit;
        values.push_back(value_of<Quantity>(cell, usual, place));
    }
    return values;
}

} // namespace

TypedReadings typed_readings(std::string_view loads, std::string_view deflections, Units units) {
    const double newtons = Force::of_number(1, units).N(), mm = Length::of_number(1, units).mm();
    const auto F = listed_values<Force>(loads, newtons, "--load", "write them like \"0, 5, 10, 15 kg\"");
    const auto d =
        listed_values<Length>(deflections, mm, "--reading", "write them like \"0.00, 0.35, 0.71 mm\"");
    if (F.size() != d.size()) {
        const std::string counts =
            std::to_string(F.size()) + " loads and " + std::to_string(d.size()) + " readings";
        refuse_load_reading(
            "--reading", counts + " do not pair",
            "give a reading for each load; where commas are decimal, part the values by \";\"");
    }
    TypedReadings typed{.readings = {}, .newtons_over_mm = newtons / mm, .notes = {}};
    for (std::size_t i = 0; i < F.size(); ++i) typed.readings.push_back({F[i], d[i]});
    return typed;
}

std::vector<double> typed_lengths(std::string_view text, Units units) {
    if (text.find_first_of(",;") != std::string_view::npos)
        return listed_values<Length>(text, Length::of_number(1, units).mm(), "",
                                     "write it like \"40.2 mm\", several like \"40.1, 39.9, 40.2 mm\"");
    const bool is_bare = text.find_first_not_of("0123456789./ -") == std::string_view::npos;
    return {
        Length::parse(is_bare ? std::string(text) + (units == Units::mm ? " mm" : " in") : std::string(text))
            .mm()};
}

std::vector<double> typed_tones(std::string_view text) {
    const bool semicolons = text.find(';') != std::string_view::npos;
    std::vector<double> values;
    for (const std::string& part : parted(std::string(text), semicolons ? ';' : ',')) {
        const auto cell = cell_of(part, semicolons);
        if (!cell || !(cell->unit.empty() || cell->unit == "Hz" || cell->unit == "hz" || cell->unit == "kHz"))
            refuse_load_reading("", in_quotes(text) + " is no tone",
                                "write it like \"59 Hz\", several taps like \"58.5, 59, 59.5 Hz\"");
        constexpr double in_kilo = 1000;
        values.push_back(cell->unit == "kHz" ? in_kilo * cell->number : cell->number);
        constexpr double highest = 1e5; // Hz; no board sounds near that
        if (!(std::abs(values.back()) <= highest))
            refuse_load_reading("", in_quotes(text) + " is too high for a tone", "give at most 100 kHz");
    }
    return values;
}

} // namespace hollowtop::cli
