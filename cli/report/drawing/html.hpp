// SPDX-License-Identifier: MIT
#pragma once
/// \file  Pieces of an HTML page as values. What is Markup may stand in a page as it is; what is text becomes
/// Markup only through words() or own(), which escape it: a title that holds markup comes out as text.
///
/// Every number of a result carries its full value and where the JSON holds it:
///     <data value="3.4187" data-json="/situations/0/sag_mm">3.4 mm</data>
/// so that a reader, a script or a test can hold the page against the JSON.

#include "cli/report/drawing/svg.hpp"

#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {

struct Markup {
    std::string html;
    bool empty() const { return html.empty(); }
    Markup& operator+=(const Markup& other) {
        html += other.html;
        return *this;
    }
    friend Markup operator+(Markup a, const Markup& b) { return a += b; }
};

/// Our own text.
Markup words(std::string_view text);
/// Text from the piece file: kept apart from what stands around it, whichever way it is written.
Markup own(std::string_view text);
Markup element(std::string_view tag, const Markup& inner, const Attributes& attributes = {});

/// A part that the reader may fold away under its summary. It starts unfolded: what is folded is not printed.
Markup foldable(std::string_view summary, const Markup& inner);

/// Which JSON a number is held against: the result of `check`, or that of `movement`.
enum class Source { check, movement };

/// A number of a result: its value, its place in the JSON and what the reader sees.
Markup number(double value, std::string_view pointer, std::string_view shown, Source source = Source::check);
/// The same as attributes, for words in a picture.
Attributes number_attributes(double value, std::string_view pointer, Source source = Source::check);
/// The shortest decimal that is exactly this value.
std::string exact(double value);

struct TableColumn {
    std::string heading;
    bool to_the_right = false;
};
struct TableRow {
    std::vector<Markup> cells;
    std::string kind = {}; ///< a class of the row, such as "over"; empty for none
};
/// Short: stays a table on a narrow screen, and no wider than it needs to be on a wide one.
enum class TableKind { long_rows, short_rows };
/// On a narrow screen the rows become blocks, each cell led by its heading, unless they are short; tables of
/// a name and a figure always are. Columns in which no row has anything are left out.
Markup table(std::string_view caption, const std::vector<TableColumn>& columns,
             const std::vector<TableRow>& rows, TableKind kind = TableKind::long_rows);

/// A list of terms and what is said of them.
Markup facts(const std::vector<std::pair<std::string, Markup>>& rows);
Markup bullets(const std::vector<Markup>& items);
/// Paragraph.
Markup para(const Markup& inner, std::string_view kind = {});

} // namespace hollowtop::cli
