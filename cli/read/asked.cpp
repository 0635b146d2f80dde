// SPDX-License-Identifier: MIT
#include "cli/read/asked.hpp"

#include <array>

namespace hollowtop::cli {
namespace {

constexpr std::array<std::string_view, 3> status_words{"draft", "issued", "superseded"};

Revision read_revision(const Cursor& object) {
    Revision revision;
    if (!object.only({"mark", "date", "change", "by", "checked"})) return revision;
    object.text("mark", revision.mark, required);
    object.text("date", revision.date);
    object.text("change", revision.change);
    object.text("by", revision.by);
    object.text("checked", revision.checked);
    return revision;
}

} // namespace

Asked read_asked(const Cursor& object) {
    Asked asked;
    if (!object.only({"number", "client", "project", "place", "maker", "wanted", "outside", "status",
                      "prepared_by", "checked_by", "revisions", "pictures"}))
        return asked;
    object.text("number", asked.number);
    object.text("client", asked.client);
    object.text("project", asked.project);
    object.text("place", asked.place);
    object.text("maker", asked.maker);
    object.text("wanted", asked.wanted);
    object.text("outside", asked.outside);
    object.text("prepared_by", asked.prepared_by);
    object.text("checked_by", asked.checked_by);
    std::size_t status = 0;
    if (object.word("status", status_words, status)) asked.status = status_words[status];
    if (const auto list = object.find("revisions"))
        for (const Cursor& item : list->items()) asked.revisions.push_back(read_revision(item));
    if (const auto list = object.find("pictures")) {
        constexpr std::size_t most = 12;
        const std::vector<Cursor> items = list->items();
        if (items.size() > most)
            list->fault("these are more pictures than a report takes, 12", "leave some out");
        for (const Cursor& item : items) {
            Photograph picture;
            if (!item.only({"file", "caption"})) continue;
            item.text("file", picture.file, required);
            item.text("caption", picture.caption, required);
            asked.pictures.push_back(std::move(picture));
        }
    }
    return asked;
}

Asked asked_of_json(std::string_view text) {
    const JsonValue value = parse_json(text);
    std::vector<Fault> faults;
    const auto object = Cursor(value, "", Units::mm, faults).find("report");
    return object ? read_asked(*object) : Asked{};
}

} // namespace hollowtop::cli
