// SPDX-License-Identifier: MIT
// What a recess is for: the things that it holds, and its cover.
#include "cli/read/piece_parts.hpp"
#include "materials/sheet.hpp"

#include <array>

namespace hollowtop::cli {
namespace {

constexpr std::array<std::string_view, 3> hang_words{"skin", "runners", "base"};
constexpr std::array<HangsOn, 3> hang_kinds{HangsOn::skin, HangsOn::runners, HangsOn::base};
constexpr std::array<std::string_view, 3> hole_words{"round", "oversize", "slotted"};
constexpr std::array<Holes, 3> hole_kinds{Holes::round, Holes::oversize, Holes::slotted};

/// [along x, along y, height]
void read_kept_size(const Cursor& object, Kept& kept) {
    const auto size = object.find("size");
    if (!size) {
        object.fault_at("size", "this key is missing",
                        "write its length along x, along y, and its height, such as [600, 400, 38]");
        return;
    }
    std::array<double*, 3> out{&kept.size_x, &kept.size_y, &kept.height};
    const auto items = size->items();
    if (size->value().kind != JsonValue::Kind::list) return; // told by items()
    if (items.size() != out.size()) {
        size->fault("a thing that is kept has three sizes",
                    "write its length along x, along y, and its height, such as [600, 400, 38]");
        return;
    }
    for (std::size_t i = 0; i < out.size(); ++i) {
        const auto length = items[i].as_length();
        if (!length) continue;
        if (*length > 0)
            *out[i] = *length;
        else
            items[i].fault("a size is more than 0", "give its size");
    }
}

Kept read_one_kept(const Cursor& object, std::size_t number) {
    Kept kept{.name = "thing " + std::to_string(number)};
    if (!object.only({"name", "size", "at", "weight", "hangs"})) return kept;
    object.text("name", kept.name);
    read_kept_size(object, kept);
    Point at;
    if (object.point("at", at)) kept.at = at;
    std::size_t hangs = 0;
    const bool is_known = object.word("hangs", hang_words, hangs, required);
    if (is_known) kept.hangs_on = hang_kinds[hangs];
    object.force("weight", kept.weight_N,
                 {.required = !is_known || kept.hangs_on != HangsOn::base, .least = 0});
    return kept;
}

void read_cover_screws(const Cursor& object, Cover& cover) {
    if (!object.only({"diameter", "spacing", "holes"})) return;
    double value = 0;
    if (object.length("diameter", value, required_positive)) cover.screw_diameter = value;
    if (object.length("spacing", value, required_positive)) cover.screw_spacing = value;
    std::size_t holes = 2;
    object.word("holes", hole_words, holes);
    cover.holes = hole_kinds[holes];
}

} // namespace

std::vector<Kept> read_holds(const Cursor& list) {
    std::vector<Kept> holds;
    std::size_t number = 0;
    for (const Cursor& item : list.items(most_holds)) holds.push_back(read_one_kept(item, ++number));
    return holds;
}

std::optional<Cover> read_cover(const Cursor& object) {
    Cover cover;
    if (!object.only({"sheet", "wood", "thickness", "trim", "screws"})) return std::nullopt;
    object.length("thickness", cover.thickness, required_positive);
    if (const auto stuff = object.one_of({"sheet", "wood"})) {
        const Cursor name = *object.find(*stuff);
        if (*stuff == "wood") cover.wood = read_wood(name);
        if (*stuff == "sheet")
            if (const auto text = name.as_text())
                cover.sheet = name.parsed([&] {
                                      return materials::find_sheet(*text, cover.thickness > 0
                                                                              ? std::optional(cover.thickness)
                                                                              : std::nullopt)
                                          .id;
                                  })
                                  .value_or("");
    }
    object.text("trim", cover.trim);
    if (const auto screws = object.find("screws")) read_cover_screws(*screws, cover);
    return cover;
}

} // namespace hollowtop::cli
