// SPDX-License-Identifier: MIT
#include "cli/report/drawing/html.hpp"

#include "materials/assert.hpp"
#include "materials/error.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace hollowtop::cli {
namespace {

std::string attributes_text(const Attributes& attributes) {
    std::string text;
    for (const auto& [name, value] : attributes) text += " " + name + "=\"" + escaped(value) + "\"";
    return text;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// How long the run of numbers is that starts there: "1-1/2", "5-3a", "1995-1-1"; 0 where no hyphen parts
/// numbers.
std::size_t parted_number(std::string_view text, std::size_t at) {
    std::size_t end = at, hyphens = 0;
    while (end < text.size() && is_digit(text[end])) ++end;
    while (end > at && end + 1 < text.size() && text[end] == '-' && is_digit(text[end + 1])) {
        ++hyphens;
        for (++end; end < text.size() && is_digit(text[end]);) ++end;
    }
    if (end + 1 < text.size() && text[end] == '/' && is_digit(text[end + 1]))
        for (++end; end < text.size() && is_digit(text[end]);) ++end;
    else if (end < text.size() && text[end] >= 'a' && text[end] <= 'z')
        ++end;
    return hyphens > 0 ? end - at : 0;
}

/// No line ends within "1-1/2".
std::string with_numbers_kept(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length =
            is_digit(text[i]) && (i == 0 || !is_digit(text[i - 1])) ? parted_number(text, i) : 0;
        if (length == 0) {
            out += text[i++];
            continue;
        }
        out += "<span class=\"keep\">" + std::string(text.substr(i, length)) + "</span>";
        i += length;
    }
    return out;
}

/// A true minus before a figure, a true times between figures, one kind of apostrophe and of quotes. What is to be typed
/// into a piece file, a key with its value, keeps its own quotes.
std::string typeset(std::string_view text) {
    const bool is_typed = text.find("\": ") != std::string_view::npos;
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i], before = i > 0 ? text[i - 1] : ' ',
                   after = i + 1 < text.size() ? text[i + 1] : ' ';
        const bool opens = before == ' ' || before == '(';
        const bool between = before == ' ' && after == ' ' && i > 1 && is_digit(text[i - 2]) &&
                             i + 2 < text.size() && is_digit(text[i + 2]);
        if (c == '-' && ((opens && is_digit(after)) || between))
            out += "\u2212";
        else if (c == 'x' && before == ' ' && after == ' ' && i + 2 < text.size() && is_digit(text[i + 2]))
            out += "\u00d7";
        else if (c == '\'')
            out += "\u2019";
        else if (c == '"' && !is_typed)
            out += opens ? "\u201c" : "\u201d";
        else
            out += c;
    }
    return out;
}

} // namespace

Markup words(std::string_view text) { return {with_numbers_kept(escaped(typeset(text)))}; }

Markup own(std::string_view text) { return element("bdi", Markup{escaped(text)}); }

Markup element(std::string_view tag, const Markup& inner, const Attributes& attributes) {
    const std::string name(tag);
    return {"<" + name + attributes_text(attributes) + ">" + inner.html + "</" + name + ">"};
}

Markup foldable(std::string_view summary, const Markup& inner) {
    return element("details", element("summary", words(summary)) + inner, {{"open", ""}});
}

std::string exact(double value) {
    if (!std::isfinite(value))
        throw Error(ErrorKind::not_computable,
                    Fault{.place = "",
                          .what = "a number of the result is not finite",
                          .remedy = "this is a fault of the program: please report it with the piece file"});
    std::array<char, 32> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value + 0.0).ptr;
    return {buffer.data(), end};
}

Attributes number_attributes(double value, std::string_view pointer, Source source) {
    return {{"data-value", exact(value)},
            {source == Source::check ? "data-json" : "data-movement", std::string(pointer)}};
}

Markup number(double value, std::string_view pointer, std::string_view shown, Source source) {
    return element("data", words(shown),
                   {{"value", exact(value)},
                    {source == Source::check ? "data-json" : "data-movement", std::string(pointer)}});
}

Markup table(std::string_view caption, const std::vector<TableColumn>& columns,
             const std::vector<TableRow>& rows, TableKind kind) {
    std::vector<std::size_t> shown;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        const auto has_it = [&](const TableRow& row) {
            HOLLOWTOP_ASSERT(row.cells.size() == columns.size());
            return !row.cells[i].empty();
        };
        if (i == 0 || rows.empty() || std::any_of(rows.begin(), rows.end(), has_it)) shown.push_back(i);
    }
    Markup head, body;
    for (const std::size_t i : shown)
        head += element("th", words(columns[i].heading),
                        columns[i].to_the_right ? Attributes{{"scope", "col"}, {"class", "right"}}
                                                : Attributes{{"scope", "col"}});
    for (const TableRow& row : rows) {
        Markup cells;
        for (const std::size_t i : shown) {
            std::string cell_kind = columns[i].to_the_right ? "right" : "";
            if (row.cells[i].empty()) cell_kind += cell_kind.empty() ? "void" : " void";
            Attributes attributes;
            if (i == 0) attributes.push_back({"scope", "row"});
            if (!cell_kind.empty()) attributes.push_back({"class", cell_kind});
            if (i > 0) attributes.push_back({"data-label", columns[i].heading});
            cells += element(i == 0 ? "th" : "td", row.cells[i], attributes);
        }
        body += element("tr", cells, row.kind.empty() ? Attributes{} : Attributes{{"class", row.kind}});
        body.html += "\n";
    }
    // two columns at the far edges of a wide page are hard to read across
    const bool is_short =
        kind == TableKind::short_rows || (shown.size() == 2 && columns[shown.back()].to_the_right);
    constexpr std::size_t most_abreast = 3; // on a telephone: the others stand below one another there
    return element("table",
                   element("caption", words(caption)) + element("thead", element("tr", head)) + Markup{"\n"} +
                       element("tbody", body),
                   is_short ? Attributes{{"class", shown.size() > most_abreast ? "short folds" : "short"}}
                            : Attributes{}) +
           Markup{"\n"};
}

Markup facts(const std::vector<std::pair<std::string, Markup>>& rows) {
    Markup inner;
    for (const auto& [term, said] : rows)
        if (!said.empty())
            inner += element("div", element("dt", words(term)) + element("dd", said)) + Markup{"\n"};
    return element("dl", inner) + Markup{"\n"};
}

Markup bullets(const std::vector<Markup>& items) {
    Markup inner;
    for (const Markup& item : items) inner += element("li", item) + Markup{"\n"};
    return items.empty() ? Markup{} : element("ul", inner) + Markup{"\n"};
}

Markup para(const Markup& inner, std::string_view kind) {
    return element("p", inner, kind.empty() ? Attributes{} : Attributes{{"class", std::string(kind)}}) +
           Markup{"\n"};
}

} // namespace hollowtop::cli
