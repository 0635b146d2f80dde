// SPDX-License-Identifier: MIT
#include "materials/table.hpp"

#include "materials/error.hpp"
#include "materials/table_data.hpp"

#include <algorithm>
#include <charconv>
#include <map>
#include <mutex>

namespace hollowtop::materials {
namespace {

[[noreturn]] void broken(std::string place, std::string what) {
    throw Error(ErrorKind::not_computable, Fault{std::move(place), std::move(what), "mend the table"});
}

std::string at_line(const std::string& file, int line) { return file + ":" + std::to_string(line); }

/// Takes the cells of one record off `rest`; a quoted cell may hold commas, doubled quotes and line breaks.
std::vector<std::string> take_record(std::string_view& rest, int& line, const std::string& file) {
    std::vector<std::string> cells(1);
    const int first_line = line;
    bool quoted = false;
    while (!rest.empty()) {
        const char c = rest.front();
        rest.remove_prefix(1);
        if (c == '\n') ++line;
        if (quoted) {
            if (c != '"') {
                cells.back() += c;
            } else if (!rest.empty() && rest.front() == '"') {
                cells.back() += '"';
                rest.remove_prefix(1);
            } else {
                quoted = false;
            }
        } else if (c == '"' && cells.back().empty()) {
            quoted = true;
        } else if (c == ',') {
            cells.emplace_back();
        } else if (c == '\n') {
            return cells;
        } else if (c != '\r') {
            cells.back() += c;
        }
    }
    if (quoted) broken(at_line(file, first_line), "a quote is opened and never closed");
    return cells;
}

std::optional<double> as_number(std::string_view text) {
    double value = 0;
    const char* end = text.data() + text.size();
    const auto [stop, fault] = std::from_chars(text.data(), end, value);
    if (fault != std::errc{} || stop != end || !(value - value == 0)) return std::nullopt;
    return value;
}

} // namespace

Table read_table(std::string file, std::string_view text) {
    Table table;
    table.file = std::move(file);
    std::string_view rest = text;
    for (int line = 1; !rest.empty();) {
        if (rest.front() == '#' || rest.front() == '\n') {
            const std::size_t end = rest.find('\n');
            rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
            ++line;
            continue;
        }
        const int first_line = line;
        std::vector<std::string> cells = take_record(rest, line, table.file);
        if (table.columns.empty()) {
            table.columns = std::move(cells);
            continue;
        }
        if (cells.size() != table.columns.size())
            broken(at_line(table.file, first_line), std::to_string(cells.size()) + " cells under " +
                                                        std::to_string(table.columns.size()) + " columns");
        std::vector<std::optional<double>> numbers;
        numbers.reserve(cells.size());
        for (const std::string& cell : cells) numbers.push_back(as_number(cell));
        table.rows.push_back({first_line, std::move(cells), std::move(numbers)});
    }
    if (table.columns.empty()) broken(table.file, "no line names the columns");
    return table;
}

const Table& table(std::string_view name) {
    static std::mutex guard;
    static std::map<std::string, Table, std::less<>> read;
    const std::lock_guard lock(guard);
    auto found = read.find(name);
    if (found == read.end()) {
        std::string key(name);
        Table fresh = read_table(key + ".csv", table_text(name));
        found = read.emplace(std::move(key), std::move(fresh)).first;
    }
    return found->second;
}

std::string Cells::place(std::string_view column) const {
    return at_line(table_->file, row_->line) + ": " + std::string(column);
}

std::size_t Cells::index(std::string_view column) const {
    const auto found = std::find(table_->columns.begin(), table_->columns.end(), column);
    if (found == table_->columns.end()) broken(place(column), "no such column");
    return static_cast<std::size_t>(found - table_->columns.begin());
}

const std::string& Cells::text(std::string_view column) const { return row_->cells[index(column)]; }

std::optional<double> Cells::number(std::string_view column) const {
    const std::size_t k = index(column);
    const std::string& cell = row_->cells[k];
    if (cell.empty()) return std::nullopt;
    const std::optional<double> value = row_->numbers[k];
    if (!value) broken(place(column), "\"" + cell + "\" is no number");
    return value;
}

double Cells::required(std::string_view column) const {
    const std::optional<double> value = number(column);
    if (!value) broken(place(column), "a number is missing");
    return *value;
}

std::optional<Range> Cells::range(std::string_view column) const {
    const std::string& cell = text(column);
    if (cell.empty()) return std::nullopt;
    std::string_view rest = cell;
    Range range;
    if (rest.starts_with("<=")) {
        range.high = as_number(rest.substr(2));
    } else if (rest.starts_with(">=")) {
        range.low = as_number(rest.substr(2));
    } else {
        if (rest.starts_with(">")) rest.remove_prefix(1);
        const std::size_t dash = rest.find('-', 1);
        range.low = as_number(rest.substr(0, dash));
        if (dash != std::string_view::npos)
            range.high = as_number(rest.substr(dash + 1));
        else if (!cell.starts_with(">"))
            range.high = range.low;
        if (!range.low || (dash != std::string_view::npos && !range.high))
            broken(place(column), "\"" + cell + "\" is no number and no range");
    }
    if (!range.low && !range.high) broken(place(column), "\"" + cell + "\" is no number and no range");
    return range;
}

Cells row_of(const Table& table, std::string_view id) {
    for (const Table::Row& row : table.rows)
        if (row.cells.front() == id) return {table, row};
    broken(table.file, "no row \"" + std::string(id) + "\"");
}

Sourced rule(std::string_view table_name, std::string_view id) {
    const Cells row = row_of(table(table_name), id);
    const bool is_screw = table_name == "screw_rules";
    return {row.required(is_screw ? "formula_or_value" : "value"), row.text("source"), row.text("status")};
}

} // namespace hollowtop::materials
