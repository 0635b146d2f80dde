// SPDX-License-Identifier: MIT
#pragma once
/// \file  The tables of data/*.csv as values: read once, when first asked for.
/// Comma-separated; quotes as usual; lines that start with # are for the reader; the first other line names
/// the columns. An empty cell is "the source gives no value" and reads as std::nullopt, never as zero. A
/// table is part of the program: what is wrong in it is thrown as Error(not_computable) that says file:line:
/// column.

#include "materials/sourced.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::materials {

/// A cell that holds "600-800", ">=900", "<=3.5", ">4-6" or one number (low = high).
struct Range {
    std::optional<double> low, high;
    bool operator==(const Range&) const = default;
};

struct Table {
    struct Row {
        int line = 0; ///< in the file, from 1
        std::vector<std::string> cells;
        std::vector<std::optional<double>> numbers; ///< of the cells that hold one and nothing else
    };
    std::string file; ///< such as "woods.csv"
    std::vector<std::string> columns;
    std::vector<Row> rows;
};

/// Reads a table from its text. Every row must have a cell for every column.
Table read_table(std::string file, std::string_view text);

/// The built-in table of that name ("woods" for data/woods.csv). Any thread may ask.
const Table& table(std::string_view name);

/// One row with its cells by the name of their column.
class Cells {
  public:
    Cells(const Table& table, const Table::Row& row) : table_(&table), row_(&row) {}

    const std::string& text(std::string_view column) const;
    std::optional<double> number(std::string_view column) const;
    double required(std::string_view column) const;
    std::optional<Range> range(std::string_view column) const;
    int line() const { return row_->line; }
    /// "woods.csv:17: column", for messages.
    std::string place(std::string_view column) const;

  private:
    std::size_t index(std::string_view column) const;

    const Table* table_;
    const Table::Row* row_;
};

/// The row whose first cell is `id`; throws where there is none.
Cells row_of(const Table& table, std::string_view id);

/// The number in the row `id` of a table of rules (wood_rules, screw_rules, metal_rules), with its source.
Sourced rule(std::string_view table_name, std::string_view id);

} // namespace hollowtop::materials
