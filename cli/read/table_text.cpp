// SPDX-License-Identifier: MIT
#include "cli/read/table_text.hpp"

#include <algorithm>

namespace hollowtop::cli {

std::string_view without_blanks(std::string_view text) {
    constexpr std::string_view blanks = " \t\r\v\f";
    const std::size_t from = text.find_first_not_of(blanks);
    return from == std::string_view::npos ? std::string_view{}
                                          : text.substr(from, text.find_last_not_of(blanks) - from + 1);
}

std::string cell_text(std::string_view cell) {
    cell = without_blanks(cell);
    if (cell.size() < 2 || cell.front() != '"' || cell.back() != '"') return std::string(cell);
    std::string inner(without_blanks(cell.substr(1, cell.size() - 2)));
    for (std::size_t at = inner.find("\"\""); at != std::string::npos; at = inner.find("\"\"", at + 1))
        inner.erase(at, 1); // a quote within quotes is written twice
    return inner;
}

namespace {

/// Without blanks at its ends, but for tabs where tabs part its cells: an empty cell may stand first or last.
std::string_view kept_of(std::string_view line) {
    if (without_blanks(line).find('\t') == std::string_view::npos) return without_blanks(line);
    constexpr std::string_view blanks = " \r\v\f";
    const std::size_t from = line.find_first_not_of(blanks);
    return line.substr(from, line.find_last_not_of(blanks) - from + 1);
}

/// A table whose lines all start with a tab is one that stands in by a column.
void move_out(std::vector<TableLine>& lines) {
    while (!lines.empty() && std::all_of(lines.begin(), lines.end(),
                                         [](const TableLine& line) { return line.text.front() == '\t'; }))
        for (TableLine& line : lines) line.text.erase(0, 1);
}

} // namespace

std::vector<std::string> cells_parted(std::string_view line, char at) {
    std::vector<std::string> cells;
    for (std::size_t from = 0; from <= line.size();) {
        std::size_t end = std::min(line.find(at, from), line.size());
        const std::size_t open = line.find_first_not_of(' ', from);
        if (open < line.size() && line[open] == '"') {
            std::size_t close = line.find('"', open + 1);
            while (close != std::string_view::npos && line.substr(close, 2) == "\"\"") // a quote within
                close = line.find('"', close + 2);
            const std::size_t after =
                close == std::string_view::npos ? line.size() : line.find_first_not_of(' ', close + 1);
            if (close != std::string_view::npos && (after == std::string_view::npos || line[after] == at))
                end = std::min(after, line.size());
        }
        cells.emplace_back(line.substr(from, end - from));
        from = end + 1;
    }
    return cells;
}

std::vector<TableLine> table_lines(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    std::vector<TableLine> lines;
    for (std::size_t number = 1; !text.empty(); ++number) {
        const std::size_t end = std::min(text.find_first_of("\r\n"), text.size());
        std::string_view line = kept_of(text.substr(0, end));
        text.remove_prefix(std::min(end + (text.substr(end, 2) == "\r\n" ? 2 : 1), text.size()));
        // one cell for the whole line
        if (line.size() > 1 && line.front() == '"' && line.find('"', 1) == line.size() - 1)
            line = without_blanks(line.substr(1, line.size() - 2));
        if (line.find_first_not_of(";,\t \"") == std::string_view::npos ||
            without_blanks(line).front() == '#')
            continue;
        lines.push_back({number, std::string(line)});
    }
    move_out(lines);
    return lines;
}

} // namespace hollowtop::cli
