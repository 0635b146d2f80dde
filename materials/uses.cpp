// SPDX-License-Identifier: MIT
#include "materials/uses.hpp"

#include "materials/error.hpp"
#include "materials/names.hpp"
#include "materials/table.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

namespace hollowtop::materials {
namespace {

constexpr std::array kinds{UseLoad::Kind::area, UseLoad::Kind::patch, UseLoad::Kind::line};
constexpr std::array kind_words{"area", "patch", "line"};
constexpr std::array wheres{UseLoad::Where::everywhere, UseLoad::Where::middle,
                            UseLoad::Where::along_the_middle, UseLoad::Where::worst, UseLoad::Where::edge};
constexpr std::array purposes{UseLoad::For::everyday, UseLoad::For::strength, UseLoad::For::stability};
constexpr std::array durations{Duration::permanent,    Duration::long_term, Duration::medium,
                               Duration::short_term,   Duration::hour,      Duration::minutes,
                               Duration::instantaneous};

template <class Values, class ToWord>
auto read_word(const Cells& cells, const char* column, const Values& values, ToWord to_word) {
    for (std::size_t i = 0; i < values.size(); ++i)
        if (cells.text(column) == to_word(i)) return values[i];
    throw Error(ErrorKind::not_computable,
                Fault{cells.place(column), "unknown word \"" + cells.text(column) + "\"", ""});
}

std::vector<std::string> split(const std::string& text) {
    std::vector<std::string> parts;
    for (std::size_t from = 0; from < text.size();) {
        const std::size_t end = std::min(text.find(';', from), text.size());
        parts.push_back(text.substr(from, end - from));
        from = end + 1;
    }
    return parts;
}

UseLoad read_load(const Cells& cells) {
    return {.id = cells.text("id"),
            .name = cells.text("name"),
            .kind = read_word(cells, "kind", kinds, [](std::size_t i) { return kind_words[i]; }),
            .value = cells.required("value"),
            .unit = cells.text("unit"),
            .size_x = cells.number("size_x_mm").value_or(0),
            .size_y = cells.number("size_y_mm").value_or(0),
            .where = read_word(cells, "place", wheres, [](std::size_t i) { return to_words(wheres[i]); }),
            .duration =
                read_word(cells, "duration", durations, [](std::size_t i) { return to_word(durations[i]); }),
            .judged_for =
                read_word(cells, "for", purposes, [](std::size_t i) { return to_words(purposes[i]); }),
            .source = marked(cells.text("source")),
            .status = cells.text("status")};
}

} // namespace

const char* to_words(UseLoad::Where where) {
    switch (where) {
    case UseLoad::Where::everywhere:
        return "everywhere";
    case UseLoad::Where::middle:
        return "middle";
    case UseLoad::Where::along_the_middle:
        return "along the middle";
    case UseLoad::Where::worst:
        return "worst";
    case UseLoad::Where::edge:
        return "edge";
    }
    return "";
}

const char* to_words(UseLoad::For judged_for) {
    switch (judged_for) {
    case UseLoad::For::everyday:
        return "everyday";
    case UseLoad::For::strength:
        return "strength";
    case UseLoad::For::stability:
        return "stability";
    }
    return "";
}

const std::vector<Use>& uses() {
    static const std::vector<Use> all = [] {
        std::vector<Use> read;
        const Table& rows = table("uses");
        for (const Table::Row& row : rows.rows) {
            const Cells cells(rows, row);
            read.push_back({.id = cells.text("id"),
                            .name = cells.text("name"),
                            .also = split(cells.text("also")),
                            .sag_divisor = cells.required("sag_span_over"),
                            .sag_years_divisor = cells.required("sag_years_span_over"),
                            .flatness = cells.number("flatness_mm"),
                            .flatness_years = cells.number("flatness_years_mm"),
                            .loads = {},
                            .source = marked(cells.text("source")),
                            .status = cells.text("status"),
                            .note = marked(cells.text("note"))});
        }
        const Table& load_rows = table("use_loads");
        for (const Table::Row& row : load_rows.rows) {
            const Cells cells(load_rows, row);
            bool is_known = false;
            for (Use& use : read) {
                if (use.id != cells.text("use")) continue;
                use.loads.push_back(read_load(cells));
                is_known = true;
            }
            if (!is_known)
                throw Error(
                    ErrorKind::not_computable,
                    Fault{cells.place("use"), "no use \"" + cells.text("use") + "\" in uses.csv", ""});
        }
        return read;
    }();
    return all;
}

namespace {

/// The longest name whose words all stand in what was asked: "big oak dining table" holds "dining table".
std::string name_within(const std::string& asked, const std::vector<std::string>& known) {
    const std::string words = ' ' + asked + ' ';
    std::string longest;
    for (const std::string& name : known)
        if (words.find(' ' + plain_words(name) + ' ') != std::string::npos && name.size() > longest.size())
            longest = name;
    return longest;
}

} // namespace

const Use& find_use(std::string_view name) {
    const std::string asked = plain_words(name);
    const auto is_asked = [&](const std::string& other) {
        const std::string plain = plain_words(other);
        return plain == asked || plain + " top" == asked || "a " + plain == asked;
    };
    std::vector<std::string> known;
    std::string list;
    for (const Use& use : uses()) {
        known.push_back(use.id);
        if (is_asked(use.id) || is_asked(use.name)) return use;
        std::string others;
        for (const std::string& other : use.also) {
            if (is_asked(other)) return use;
            known.push_back(other);
            others += (others.empty() ? "" : ", ") + other;
        }
        list += (list.empty() ? "" : "; ") + use.id + (others.empty() ? "" : " (" + others + ")");
    }
    std::string near = did_you_mean(name, known);
    if (const std::string within = name_within(asked, known); near.empty() && !within.empty())
        near = "did you mean \"" + within + "\"?";
    throw Error(ErrorKind::input, Fault{"", "no use \"" + std::string(name) + "\" in the table of uses",
                                        near.empty() ? "give one of " + list : near});
}

} // namespace hollowtop::materials
