// SPDX-License-Identifier: MIT
#pragma once
/// \file  A page of plain text, at most 100 columns wide: paragraphs, labelled lines, tables. Colour is put
/// on last, line by line, so that it never upsets the layout.

#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {

inline constexpr std::size_t page_width = 100;

enum class Tone { plain, heading, good, bad, faint };

/// Columns that a text takes on a terminal: one a character of UTF-8.
std::size_t width_of(std::string_view text);

/// Breaks at spaces into lines of at most `width`; a word that is longer alone is cut.
std::vector<std::string> wrapped(std::string_view text, std::size_t width);

struct Column {
    std::string heading;
    bool to_the_right = false;
    std::size_t widest = page_width; ///< longer cells are broken into lines
    bool shrinks = false; ///< gives way, by breaking into lines, where the table is wider than the page
};

struct Row {
    std::vector<std::string> cells;
    Tone tone = Tone::plain;
};

class Page {
  public:
    void blank();
    void heading(std::string_view text);
    void paragraph(std::string_view text, std::size_t indent = 0, Tone tone = Tone::plain);
    /// "label     text", the text hanging behind the label.
    void labelled(std::string_view label, std::string_view text, Tone tone = Tone::plain);
    /// "- text", for lists of sentences.
    void bullet(std::string_view text, Tone tone = Tone::plain);
    void table(const std::vector<Column>& columns, const std::vector<Row>& rows);
    /// A table without its headings.
    void rows(const std::vector<Column>& columns, const std::vector<Row>& rows);

    std::string text(bool coloured) const;

  private:
    struct Line {
        std::string text;
        Tone tone;
    };
    void put(const std::vector<Column>& columns, const std::vector<std::size_t>& widths, const Row& row);
    void hang(std::string_view first, std::size_t indent, std::string_view text, Tone tone);
    std::vector<Line> lines_;
};

} // namespace hollowtop::cli
