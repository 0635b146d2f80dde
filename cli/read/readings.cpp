// SPDX-License-Identifier: MIT
#include "cli/read/readings.hpp"

#include "cli/files/json_text.hpp"
#include "cli/read/cursor.hpp"
#include "cli/read/table_text.hpp"
#include "cli/words/quantity.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace hollowtop::cli {
namespace {

enum class Kind { x, y, thickness, uncertainty };

struct Known {
    std::string_view word;
    Kind kind;
};
/// Headings in English, German, French, Spanish, Italian, Portuguese, Dutch, Swedish, Danish, Polish, Czech and Finnish.
constexpr std::array known_words{Known{"x", Kind::x},
                                 Known{"along", Kind::x},
                                 Known{"length", Kind::x},
                                 Known{"länge", Kind::x},
                                 Known{"laenge", Kind::x},
                                 Known{"longueur", Kind::x},
                                 Known{"largo", Kind::x},
                                 Known{"longitud", Kind::x},
                                 Known{"lunghezza", Kind::x},
                                 Known{"comprimento", Kind::x},
                                 Known{"lengte", Kind::x},
                                 Known{"längd", Kind::x},
                                 Known{"længde", Kind::x},
                                 Known{"długość", Kind::x},
                                 Known{"délka", Kind::x},
                                 Known{"pituus", Kind::x},
                                 Known{"y", Kind::y},
                                 Known{"across", Kind::y},
                                 Known{"width", Kind::y},
                                 Known{"breite", Kind::y},
                                 Known{"largeur", Kind::y},
                                 Known{"ancho", Kind::y},
                                 Known{"anchura", Kind::y},
                                 Known{"larghezza", Kind::y},
                                 Known{"largura", Kind::y},
                                 Known{"breedte", Kind::y},
                                 Known{"bredd", Kind::y},
                                 Known{"bredde", Kind::y},
                                 Known{"szerokość", Kind::y},
                                 Known{"šířka", Kind::y},
                                 Known{"leveys", Kind::y},
                                 Known{"thickness", Kind::thickness},
                                 Known{"t", Kind::thickness},
                                 Known{"thick", Kind::thickness},
                                 Known{"skin", Kind::thickness},
                                 Known{"reading", Kind::thickness},
                                 Known{"dicke", Kind::thickness},
                                 Known{"stärke", Kind::thickness},
                                 Known{"staerke", Kind::thickness},
                                 Known{"restdicke", Kind::thickness},
                                 Known{"épaisseur", Kind::thickness},
                                 Known{"epaisseur", Kind::thickness},
                                 Known{"espesor", Kind::thickness},
                                 Known{"grosor", Kind::thickness},
                                 Known{"spessore", Kind::thickness},
                                 Known{"espessura", Kind::thickness},
                                 Known{"dikte", Kind::thickness},
                                 Known{"tjocklek", Kind::thickness},
                                 Known{"tykkelse", Kind::thickness},
                                 Known{"grubość", Kind::thickness},
                                 Known{"tloušťka", Kind::thickness},
                                 Known{"paksuus", Kind::thickness},
                                 Known{"uncertainty", Kind::uncertainty},
                                 Known{"sd", Kind::uncertainty},
                                 Known{"unsicherheit", Kind::uncertainty},
                                 Known{"incertitude", Kind::uncertainty}};

std::optional<double> unit_named(std::string_view word) {
    if (word == "mm") return 1;
    if (word == "cm") return 10;
    if (word == "m") return 1000;
    if (word == "in" || word == "inch" || word == "inches" || word == "zoll")
        return Length::from_inches(1).mm();
    return std::nullopt;
}

/// "Dicke [mm]": the name small, and the unit.
struct Heading {
    std::string name;
    std::optional<double> unit;
};
Heading heading_of(std::string_view cell) {
    std::string small;
    for (const char c : cell_text(cell)) small += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    for (const auto& [big, little] : {std::pair{"Ä", "ä"}, {"É", "é"}, {"Ö", "ö"}})
        for (std::size_t at = small.find(big); at != std::string::npos; at = small.find(big))
            small.replace(at, 2, little);
    const std::size_t open = small.find_first_of("([_/, ");
    if (open == std::string::npos) return {small, {}};
    std::string unit = small.substr(open);
    std::erase_if(unit, [](char c) {
        return c == '(' || c == ')' || c == '[' || c == ']' || c == ' ' || c == '_' || c == '/' || c == ',';
    });
    return {std::string(without_blanks(small.substr(0, open))), unit_named(unit)};
}

struct Column {
    std::optional<Kind> kind{};
    double mm = 1;
};

/// The length of a cell, mm.
double length_in(std::string_view cell, double mm, bool decimal_comma) {
    std::string text = cell_text(cell);
    if (decimal_comma) std::replace(text.begin(), text.end(), ',', '.');
    double number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error == std::errc{} && end == text.data() + text.size() && std::isfinite(number)) return number * mm;
    const bool inches = std::abs(mm - Length::from_inches(1).mm()) < 1e-9;
    return Length::parse(text, inches ? Units::inch : Units::mm).mm();
}

/// "1,200" between commas: twelve hundred to some, a little over one to others.
bool may_be_thousands(const std::string& cell) {
    const std::size_t comma = cell.find(',');
    if (comma == std::string::npos || comma == 0 || comma > 3) return false;
    const std::size_t end = std::min(cell.find_first_not_of("0123456789", comma + 1), cell.size());
    return end == comma + 4;
}

bool is_a_length(std::string_view cell, bool decimal_comma) {
    try {
        (void)length_in(cell, 1, decimal_comma);
        return true;
    } catch (const Error&) {
        return false;
    }
}

char parting_of(const std::string& line) {
    for (const char c : {';', '\t', ','})
        if (line.find(c) != std::string::npos) return c;
    return ' ';
}

std::vector<std::string> cells_of(const std::string& line, char parting) {
    std::vector<std::string> cells = cells_parted(line, parting);
    if (parting == ' ') std::erase(cells, "");
    return cells;
}

std::vector<Column> columns_in_head(const std::vector<std::string>& cells, double mm,
                                    std::vector<std::string>& notes, std::size_t line) {
    std::vector<Column> columns;
    std::string all, passed;
    for (const std::string& cell : cells) {
        const Heading heading = heading_of(cell);
        Column column{.mm = heading.unit.value_or(mm)};
        if (heading.name.empty()) { // a column without a name: numbers of lines, a margin
            columns.push_back(column);
            continue;
        }
        const auto known = std::find_if(known_words.begin(), known_words.end(),
                                        [&](const Known& one) { return one.word == heading.name; });
        if (known != known_words.end())
            column.kind = known->kind;
        else
            passed += (passed.empty() ? "" : ", ") + in_quotes(cell_text(cell));
        all += (all.empty() ? "" : ", ") + in_quotes(cell_text(cell));
        columns.push_back(column);
    }
    for (const auto& [kind, name] :
         {std::pair{Kind::x, "x"}, {Kind::y, "y"}, {Kind::thickness, "thickness"}}) {
        const auto n = std::count_if(columns.begin(), columns.end(),
                                     [&, kind = kind](const Column& c) { return c.kind == kind; });
        if (n == 1) continue;
        throw Error(
            ErrorKind::input,
            Fault{"line " + std::to_string(line),
                  (n == 0 ? "no column is known as " : "two columns are known as ") + std::string(name) +
                      "; the heading says " + all,
                  "name the columns x, y, thickness (many languages are known), or leave the heading out and "
                  "write x, y and thickness in this order"});
    }
    if (!passed.empty()) notes.push_back("Columns that were not read: " + passed + ".");
    return columns;
}

ReadingsFile from_table(std::string_view text, double mm) {
    const std::vector<TableLine> lines = table_lines(text);
    ReadingsFile file;
    if (lines.empty())
        throw Error(ErrorKind::input, Fault{"readings", "there are none", "write x, y, thickness a line"});
    const char parting = parting_of(lines.size() > 1 ? lines[1].text : lines[0].text);
    const bool decimal_comma = std::any_of(lines.begin(), lines.end(), [&](const TableLine& line) {
        const std::vector<std::string> cells = cells_of(line.text, parting);
        return std::any_of(cells.begin(), cells.end(),
                           [](const std::string& cell) { return cell.find(',') != std::string::npos; });
    });
    std::size_t first = 0;
    std::vector<Column> columns{{Kind::x, mm}, {Kind::y, mm}, {Kind::thickness, mm}};
    const std::vector<std::string> head = cells_of(lines[0].text, parting);
    if (std::none_of(head.begin(), head.end(),
                     [&](const std::string& cell) { return is_a_length(cell, decimal_comma); })) {
        columns = columns_in_head(head, mm, file.notes, lines[0].number);
        first = 1;
    }
    if (decimal_comma) file.notes.emplace_back("Commas were read as decimal points.");
    std::vector<Fault> faults;
    for (std::size_t i = first; i < lines.size(); ++i) {
        const std::string place = "line " + std::to_string(lines[i].number);
        std::vector<std::string> cells = cells_of(lines[i].text, parting);
        while (cells.size() > columns.size() && cell_text(cells.back()).empty()) cells.pop_back();
        // beyond a heading's columns a remark may stand, but no number: it would be a decimal comma's
        const bool too_many =
            std::any_of(cells.begin() + static_cast<std::ptrdiff_t>(std::min(columns.size(), cells.size())),
                        cells.end(), [&](const std::string& cell) {
                            return first == 0 || cell.find_first_of("0123456789") != std::string::npos;
                        });
        if (cells.size() < columns.size() || too_many) {
            const bool twice = parting == ',' && cells.size() == 2 * columns.size();
            faults.push_back({place,
                              std::to_string(cells.size()) + " values stand here, where " +
                                  std::to_string(columns.size()) + " are wanted: " + in_quotes(lines[i].text),
                              twice ? "commas part the columns and the decimals: save it with semicolons, or "
                                      "with decimal points"
                                    : "write x, y, thickness"});
            continue;
        }
        Reading reading;
        reading.line = static_cast<int>(lines[i].number);
        for (std::size_t k = 0; k < columns.size(); ++k) {
            if (!columns[k].kind) continue;
            if (cell_text(cells[k]).empty()) {
                const Kind kind = *columns[k].kind;
                if (kind == Kind::uncertainty) continue;
                faults.push_back({place,
                                  std::string("the ") +
                                      (kind == Kind::x   ? "x"
                                       : kind == Kind::y ? "y"
                                                         : "thickness") +
                                      " is missing",
                                  "gauge it, or strike the line out"});
                continue;
            }
            if (parting == ',' && may_be_thousands(cell_text(cells[k]))) {
                faults.push_back({place,
                                  in_quotes(cell_text(cells[k])) + " may be thousands or a decimal comma",
                                  "write it without the comma, or with a decimal point"});
                continue;
            }
            try {
                const double value = length_in(cells[k], columns[k].mm, decimal_comma);
                if (!(std::abs(value) <= longest_measured_mm)) {
                    faults.push_back({place, in_quotes(cells[k]) + " is too large", "give at most 100 m"});
                    continue;
                }
                switch (*columns[k].kind) {
                case Kind::x:
                    reading.at.x = value;
                    break;
                case Kind::y:
                    reading.at.y = value;
                    break;
                case Kind::thickness:
                    reading.thickness = value;
                    break;
                case Kind::uncertainty:
                    if (!(value > 0))
                        faults.push_back(
                            {place, "an uncertainty is above nothing", "give it, or leave it empty"});
                    else
                        reading.sd = value;
                }
            } catch (const Error& error) {
                faults.push_back(
                    {place, in_quotes(cells[k]) + " is no length", error.faults().front().remedy});
            }
        }
        file.readings.push_back(reading);
    }
    if (!faults.empty()) throw Error(ErrorKind::input, std::move(faults));
    if (file.readings.empty())
        throw Error(ErrorKind::input,
                    Fault{"readings", "only a heading stands there", "write x, y, thickness a line"});
    return file;
}

ReadingsFile from_json(std::string_view text, double mm) {
    const JsonValue value = parse_json(text);
    std::vector<Fault> faults;
    ReadingsFile file;
    const bool inches = std::abs(mm - Length::from_inches(1).mm()) < 1e-9;
    Cursor root(value, "", inches ? Units::inch : Units::mm, faults);
    double scale = inches ? 1 : mm; // of numbers, which the cursor takes for mm or inches
    std::optional<Cursor> list = root;
    if (value.kind == JsonValue::Kind::object) {
        root.only({"units", "gauge", "readings"});
        std::string unit;
        if (root.text("units", unit)) {
            if (const auto known = unit_named(unit)) {
                root.use_units(unit == "in" ? Units::inch : Units::mm);
                scale = unit == "in" ? 1 : *known;
            } else {
                root.fault_at("units", in_quotes(unit) + " is not known here", "give mm, cm or in");
            }
        }
        double sd = 0;
        if (root.length("gauge", sd, positive)) file.gauge_sd = sd;
        list = root.find("readings");
        if (!list)
            root.fault_at("readings", "this key is missing", R"(write "readings": [[x, y, thickness], ...])");
    }
    const auto scaled = [&](const Cursor& at, double length) {
        return at.value().kind == JsonValue::Kind::number ? length * scale : length;
    };
    if (list)
        for (const Cursor& item : list->items()) {
            Reading reading;
            if (item.value().kind == JsonValue::Kind::object) {
                if (!item.only({"x", "y", "thickness", "uncertainty"})) continue;
                double sd = 0;
                if (!item.length("x", reading.at.x, required) || !item.length("y", reading.at.y, required) ||
                    !item.length("thickness", reading.thickness, required))
                    continue;
                reading.at.x = scaled(*item.find("x"), reading.at.x);
                reading.at.y = scaled(*item.find("y"), reading.at.y);
                reading.thickness = scaled(*item.find("thickness"), reading.thickness);
                if (item.length("uncertainty", sd, positive))
                    reading.sd = scaled(*item.find("uncertainty"), sd);
            } else {
                const std::vector<Cursor> three = item.items();
                if (three.size() != 3) {
                    item.fault(std::to_string(three.size()) + " values", "write [x, y, thickness]");
                    continue;
                }
                const auto x = three[0].as_length(), y = three[1].as_length(), t = three[2].as_length();
                if (!x || !y || !t) continue;
                reading = {.at = {scaled(three[0], *x), scaled(three[1], *y)},
                           .thickness = scaled(three[2], *t)};
            }
            file.readings.push_back(reading);
        }
    if (!faults.empty()) throw Error(ErrorKind::input, std::move(faults));
    return file;
}

} // namespace

double mm_of_unit(std::string_view word) {
    if (const auto unit = unit_named(word); unit && word != "m") return *unit;
    throw Error(ErrorKind::input,
                Fault{"--readings-units", in_quotes(word) + " is not known here", "give mm, cm or in"});
}

ReadingsFile readings_of(std::string_view text, double mm) {
    const std::size_t first = text.find_first_not_of(" \t\r\n\xEF\xBB\xBF");
    const bool is_json = first != std::string_view::npos && (text[first] == '{' || text[first] == '[');
    return is_json ? from_json(text, mm) : from_table(text, mm);
}

} // namespace hollowtop::cli
