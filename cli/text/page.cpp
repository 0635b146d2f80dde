// SPDX-License-Identifier: MIT
#include "cli/text/page.hpp"

#include <algorithm>
#include <numeric>
#include <optional>

namespace hollowtop::cli {
namespace {

bool starts_character(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }

/// Bytes of the first `width` characters.
std::size_t bytes_of(std::string_view text, std::size_t width) {
    std::size_t n_characters = 0;
    for (std::size_t i = 0; i < text.size(); ++i)
        if (starts_character(text[i]) && ++n_characters > width) return i;
    return text.size();
}

std::string padded(std::string_view text, std::size_t width, bool to_the_right) {
    const std::size_t own = width_of(text);
    const std::string space(width > own ? width - own : 0, ' ');
    return to_the_right ? space + std::string(text) : std::string(text) + space;
}

std::string without_trailing_spaces(std::string text) {
    text.erase(text.find_last_not_of(' ') + 1);
    return text;
}

const char* code_of(Tone tone) {
    switch (tone) {
    case Tone::plain:
        return "";
    case Tone::heading:
        return "\x1b[1m";
    case Tone::good:
        return "\x1b[1;32m";
    case Tone::bad:
        return "\x1b[1;31m";
    case Tone::faint:
        return "\x1b[2m";
    }
    return "";
}

} // namespace

std::size_t width_of(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), starts_character));
}

std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
    std::vector<std::string> lines;
    while (width_of(text) > width) {
        const std::size_t limit = bytes_of(text, width);
        std::size_t cut = text.rfind(' ', limit);
        const bool fits = cut != std::string_view::npos && cut > 0;
        if (!fits) cut = limit;
        lines.push_back(without_trailing_spaces(std::string(text.substr(0, cut))));
        text.remove_prefix(cut);
        const std::size_t next = text.find_first_not_of(' ');
        text.remove_prefix(next == std::string_view::npos ? text.size() : next);
    }
    if (!text.empty() || lines.empty()) lines.emplace_back(text);
    return lines;
}

void Page::blank() { lines_.push_back({"", Tone::plain}); }

void Page::heading(std::string_view text) { paragraph(text, 0, Tone::heading); }

void Page::hang(std::string_view first, std::size_t indent, std::string_view text, Tone tone) {
    std::string lead = padded(first, indent, false);
    for (const std::string& line : wrapped(text, page_width - indent)) {
        lines_.push_back({without_trailing_spaces(lead + line), tone});
        lead.assign(indent, ' ');
    }
}

void Page::paragraph(std::string_view text, std::size_t indent, Tone tone) { hang("", indent, text, tone); }

void Page::labelled(std::string_view label, std::string_view text, Tone tone) {
    constexpr std::size_t label_width = 13;
    hang(label, label_width, text, tone);
}

void Page::bullet(std::string_view text, Tone tone) { hang("- ", 2, text, tone); }

namespace {

constexpr std::size_t gap = 2; ///< before each column

/// The widest column that may shrink; none where all have shrunk to a word's width.
std::optional<std::size_t> widest_that_shrinks(const std::vector<Column>& columns,
                                               const std::vector<std::size_t>& widths) {
    constexpr std::size_t least = 12;
    std::optional<std::size_t> found;
    for (std::size_t c = 0; c < columns.size(); ++c)
        if (columns[c].shrinks && widths[c] > least && (!found || widths[c] > widths[*found])) found = c;
    return found;
}

std::vector<std::size_t> widths_of(const std::vector<Column>& columns, const std::vector<Row>& rows) {
    std::vector<std::size_t> widths;
    for (std::size_t c = 0; c < columns.size(); ++c) {
        std::size_t width = width_of(columns[c].heading);
        for (const Row& row : rows)
            width = std::max(width, std::min(width_of(row.cells.at(c)), columns[c].widest));
        widths.push_back(width);
    }
    const auto total = [&] { return std::accumulate(widths.begin(), widths.end(), gap * widths.size()); };
    while (total() > page_width) {
        const auto widest = widest_that_shrinks(columns, widths);
        if (!widest) break;
        --widths[*widest];
    }
    return widths;
}

} // namespace

void Page::put(const std::vector<Column>& columns, const std::vector<std::size_t>& widths, const Row& row) {
    std::vector<std::vector<std::string>> parts;
    std::size_t height = 1;
    for (std::size_t c = 0; c < columns.size(); ++c) {
        parts.push_back(wrapped(row.cells.at(c), std::max<std::size_t>(widths[c], 1)));
        height = std::max(height, parts.back().size());
    }
    for (std::size_t h = 0; h < height; ++h) {
        std::string line;
        for (std::size_t c = 0; c < columns.size(); ++c) {
            const std::string part = h < parts[c].size() ? parts[c][h] : "";
            line += std::string(gap, ' ') + padded(part, widths[c], columns[c].to_the_right);
        }
        lines_.push_back({without_trailing_spaces(line), row.tone});
    }
}

void Page::rows(const std::vector<Column>& columns, const std::vector<Row>& rows) {
    const auto widths = widths_of(columns, rows);
    for (const Row& row : rows) put(columns, widths, row);
}

void Page::table(const std::vector<Column>& columns, const std::vector<Row>& rows) {
    const auto widths = widths_of(columns, rows);
    Row headings{.cells = {}, .tone = Tone::faint};
    for (const Column& column : columns) headings.cells.push_back(column.heading);
    put(columns, widths, headings);
    for (const Row& row : rows) put(columns, widths, row);
}

std::string Page::text(bool coloured) const {
    std::string result;
    for (const Line& line : lines_) {
        const bool paint = coloured && line.tone != Tone::plain && !line.text.empty();
        result += paint ? code_of(line.tone) + line.text + "\x1b[0m" : line.text;
        result += '\n';
    }
    return result;
}

} // namespace hollowtop::cli
