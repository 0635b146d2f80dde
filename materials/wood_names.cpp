// SPDX-License-Identifier: MIT
// How a wood is found by what people type.
#include "materials/error.hpp"
#include "materials/names.hpp"
#include "materials/sheet.hpp"
#include "materials/table.hpp"
#include "materials/wood.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <sstream>

namespace hollowtop::materials {
namespace {

std::vector<std::string> words_of(std::string_view name) {
    std::istringstream plain(plain_words(name));
    std::vector<std::string> words;
    for (std::string word; plain >> word;) words.push_back(word);
    return words;
}

/// The words of a name in alphabetical order: "black cherry" and "cherry_black" are one.
std::vector<std::string> sorted_words(std::string_view name) {
    std::vector<std::string> words = words_of(name);
    std::sort(words.begin(), words.end());
    return words;
}

std::string joined(const std::vector<std::string>& words) {
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
    return text;
}

/// Without words that say nothing of the kind of wood: "solid oak", "oak boards".
std::string bare(std::string_view name) {
    static constexpr std::array<std::string_view, 7> idle{"solid", "wood",   "timber", "lumber",
                                                          "board", "boards", "the"};
    std::vector<std::string> words = words_of(name);
    const auto is_idle = [](const std::string& word) {
        return std::find(idle.begin(), idle.end(), word) != idle.end();
    };
    if (!std::all_of(words.begin(), words.end(), is_idle))
        words.erase(std::remove_if(words.begin(), words.end(), is_idle), words.end());
    return joined(words);
}

/// What a plural may be the plural of: "cherries", "beeches", "oaks".
std::vector<std::string> singulars(const std::string& name) {
    std::vector<std::string> found;
    const auto without = [&](std::size_t n) { return name.substr(0, name.size() - n); };
    if (name.size() > 4 && name.ends_with("ies")) found.push_back(without(3) + "y");
    if (name.size() > 4 && name.ends_with("es")) found.push_back(without(2));
    if (name.size() > 3 && name.ends_with("s")) found.push_back(without(1));
    return found;
}

/// Every way of writing a wood that a slip of the pen may be near to, each with the name to show for it.
std::string nearest_woods(std::string_view name) {
    const std::vector<std::string> asked = sorted_words(name);
    const std::string asked_text = joined(asked);
    const std::size_t far = std::max<std::size_t>(1, asked_text.size() / 3);
    std::vector<std::pair<std::size_t, std::string>> near;
    for (const Wood& wood : woods()) {
        std::size_t distance = std::min(edit_distance(asked_text, joined(sorted_words(wood.id))),
                                        edit_distance(plain_words(name), plain_words(wood.common_name)));
        if (asked.size() == 1)
            for (const std::string& word : sorted_words(wood.common_name))
                distance = std::min(distance, edit_distance(asked_text, word));
        if (distance <= far) near.emplace_back(distance, wood.common_name);
    }
    std::stable_sort(near.begin(), near.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    if (near.size() > 3) near.resize(3);
    std::string text;
    for (std::size_t i = 0; i < near.size(); ++i)
        text += (i == 0 ? "did you mean \"" : i + 1 == near.size() ? "\" or \"" : "\", \"") + near[i].second;
    return text.empty() ? text : text + "\"?";
}

const Wood& wood_of_id(std::string_view id) {
    for (const Wood& wood : woods())
        if (wood.id == id) return wood;
    throw Error(ErrorKind::not_computable,
                Fault{"wood_names.csv", "no wood " + std::string(id), "mend the table"});
}

std::string listed(const std::vector<const Wood*>& several) {
    std::string list;
    for (std::size_t i = 0; i < several.size(); ++i)
        list += (i == 0                    ? ""
                 : i + 1 == several.size() ? " or "
                                           : ", ") +
                ("\"" + several[i]->common_name + "\"");
    return list;
}

[[noreturn]] void ask_which(const std::string& shown, const std::vector<const Wood*>& several,
                            const Wood* usual) {
    throw Error(
        ErrorKind::input,
        Fault{"", shown + " may mean several woods",
              "give one of " + listed(several) +
                  (usual ? "; most often it is \"" + usual->common_name + "\" (common practice)" : "")});
}

/// By a row of data/wood_names.csv, where the name has one.
const Wood* by_trade_name(const std::string& name, const std::string& shown) {
    const Table& names = table("wood_names");
    for (const Table::Row& row : names.rows) {
        if (row.cells.front() != name) continue;
        const Cells cells(names, row);
        std::vector<const Wood*> meant;
        std::istringstream ids(cells.text("woods"));
        for (std::string id; ids >> id;) meant.push_back(&wood_of_id(id));
        if (cells.text("kind") == "means") return meant.front();
        if (cells.text("kind") == "choice")
            ask_which(shown, meant, cells.text("usual").empty() ? nullptr : &wood_of_id(cells.text("usual")));
        throw Error(
            ErrorKind::input,
            Fault{"", "no values of " + shown + " are in the table of woods",
                  "give \"elastic\" constants, or a relative in its place, which is not the same wood: " +
                      listed(meant)});
    }
    return nullptr;
}

/// By its own names, whole or in part.
const Wood* by_own_name(const std::string& name, const std::string& shown) {
    const std::vector<std::string> asked = sorted_words(name);
    std::vector<const Wood*> holding;
    for (const Wood& wood : woods()) {
        if (asked == sorted_words(wood.id) || asked == sorted_words(wood.common_name)) return &wood;
        const std::vector<std::string> words =
            sorted_words(wood.id + " " + wood.common_name + " " + wood.botanical_name);
        if (!asked.empty() && std::includes(words.begin(), words.end(), asked.begin(), asked.end()))
            holding.push_back(&wood);
    }
    if (holding.size() == 1) return holding.front();
    if (!holding.empty()) ask_which(shown, holding, nullptr);
    return nullptr;
}

} // namespace

const Wood& find_wood(std::string_view name) {
    for (const Wood& wood : woods())
        if (wood.id == name) return wood;
    const std::string shown = "\"" + std::string(name) + "\"", as_typed = bare(name);
    if (names_a_sheet(as_typed))
        throw Error(ErrorKind::input, Fault{"", shown + " is a sheet, not a solid wood",
                                            "a top of it says \"sheet\" in place of \"wood\""});
    std::vector<std::string> tried = singulars(as_typed);
    tried.insert(tried.begin(), as_typed);
    for (const std::string& way : tried) {
        if (const Wood* wood = by_trade_name(way, shown)) return *wood;
        if (const Wood* wood = by_own_name(way, shown)) return *wood;
    }
    const std::string near = nearest_woods(name);
    throw Error(ErrorKind::input,
                Fault{"", "no wood " + shown + " in the table of woods",
                      near.empty() ? "see the table of woods, or give \"elastic\" constants" : near});
}

} // namespace hollowtop::materials
