// SPDX-License-Identifier: MIT
// What the recesses hold, and their covers: for the bench page.
#include "cli/report/sections/report_parts.hpp"
#include "cli/text/kept_text.hpp"
#include "cli/words/format.hpp"

#include <algorithm>

namespace hollowtop::cli {
namespace {

/// The three sizes, each tied to the JSON.
Markup sizes(const Sheet& sheet, const KeptResult& kept, const std::string& pointer) {
    const auto one = [&](double mm, const char* index) {
        return number(mm, pointer + "/size_mm/" + index, dimension_text(mm, sheet.units()));
    };
    return one(kept.size_x, "0") + words(" by ") + one(kept.size_y, "1") + words(", ") +
           one(kept.height, "2") + words(" high");
}

Markup room(const Sheet& sheet, const KeptResult& kept, const std::string& pointer) {
    Markup out;
    for (std::size_t i = 0; i < kept.ways.size(); ++i) {
        const KeptResult::Way& way = kept.ways[i];
        const std::string place = at_index(pointer + "/room", i, "");
        const auto size = [&](double mm, const char* key) {
            return number(mm, place + key, dimension_text(mm, sheet.units()));
        };
        out += words((i > 0 ? "; " : "") +
                     (way.way == "height" ? std::string("height ") : "along " + way.way + " ")) +
               size(way.needed_mm, "needed_mm") + words(" of ") + size(way.there_mm, "there_mm");
    }
    return out;
}

} // namespace

Markup kept_part(const Sheet& sheet) {
    const auto& recesses = sheet.result().in_recesses;
    std::vector<TableRow> rows;
    Markup covers;
    for (std::size_t i = 0; i < recesses.size(); ++i) {
        const std::string pointer = "/in_recesses/" + std::to_string(i);
        for (std::size_t k = 0; k < recesses[i].holds.size(); ++k) {
            const KeptResult& kept = recesses[i].holds[k];
            const std::string place = pointer + "/holds/" + std::to_string(k);
            rows.push_back(
                {{own(kept.name), own(recesses[i].recess), sizes(sheet, kept, place),
                  placed(sheet, kept.at, place + "/at_mm"),
                  kept.weight_N > 0 ? forced(sheet, kept.weight_N, place + "/weight_N") : Markup{},
                  words(hangs_words(kept)), moved_finely(sheet, kept.sinks_mm, place + "/sinks_mm"),
                  room(sheet, kept, place)},
                 std::any_of(kept.ways.begin(), kept.ways.end(),
                             [](const KeptResult::Way& way) { return way.needed_mm > way.there_mm; })
                     ? "over"
                     : ""});
        }
        if (!recesses[i].cover) continue;
        Markup sentences = words("Cover of recess ") + own(recesses[i].recess) + words(". ");
        for (const std::string& sentence : cover_sentences(*recesses[i].cover, sheet.units()))
            sentences += words(sentence + " ");
        covers += para(sentences);
    }
    Markup inner;
    if (!rows.empty())
        inner += table("What the recesses hold: the room that each thing needs, with its clearances and the "
                       "years, of what is there in the dry season",
                       {{"thing"},
                        {"recess"},
                        {"size along x, along y"},
                        {std::string("middle at x, y, ") + place_unit(sheet.units()), true},
                        {"weight", true},
                        {"carried"},
                        {"top comes down on it", true},
                        {"needs"}},
                       rows);
    return inner + covers;
}

} // namespace hollowtop::cli
