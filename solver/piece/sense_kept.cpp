// SPDX-License-Identifier: MIT
// What a recess holds, and its cover. Too little room is no fault of the drawing: the check "room in the
// recess" tells it.
#include "materials/section.hpp"
#include "materials/sheet.hpp"
#include "materials/wood.hpp"
#include "solver/piece/fault_list.hpp"
#include "solver/piece/kept_region.hpp"
#include "solver/piece/wording.hpp"

#include <cmath>

namespace hollowtop {
namespace {

bool expect_sizes(const Kept& kept, const std::string& place, FaultList& list) {
    bool sound = true;
    sound &= list.expect_positive(kept.size_x, place + ".size[0]", "a size");
    sound &= list.expect_positive(kept.size_y, place + ".size[1]", "a size");
    sound &= list.expect_positive(kept.height, place + ".size[2]", "a size");
    if (kept.hangs_on != HangsOn::base)
        list.expect(std::isfinite(kept.weight_N) && kept.weight_N >= 0, place + ".weight",
                    said("{} is not a weight", amount(kept.weight_N, Unit::N, decimals(3))),
                    said("give {} or more", amount(0, Unit::N)));
    return sound;
}

void look_at_kept(const Recess& recess, const Trace& trace, const std::vector<std::optional<Trace>>& lands,
                  const std::string& recess_place, FaultList& list) {
    const RecessTraces traces{.outline = {}, .recess = trace, .lands = {}};
    std::vector<std::optional<Trace>> footprints;
    for (std::size_t i = 0; i < recess.holds.size(); ++i) {
        const Kept& kept = recess.holds[i];
        const std::string place = recess_place + "." + item("holds", i);
        footprints.emplace_back();
        if (!expect_sizes(kept, place, list)) continue;
        const Trace footprint = trace_of(RectangleShape{footprint_of(kept, traces), 0});
        if (const auto outside = reaches_out(footprint, trace)) {
            list.add(place,
                     said("reaches {} out of its recess at {}", in_mm(outside->by), place_text(outside->at)),
                     "give a smaller size, or another place in \"at\"");
            continue;
        }
        for (std::size_t j = 0; j < lands.size(); ++j)
            if (lands[j])
                if (const auto common = common_place(footprint, *lands[j]))
                    list.add(place, said("overlaps {} at {}", item("lands", j), place_text(*common)),
                             "move it beside the land");
        for (std::size_t j = 0; j < i; ++j)
            if (footprints[j])
                if (const auto common = common_place(footprint, *footprints[j]))
                    list.add(place,
                             said("overlaps {} (\"{}\") at {}", item("holds", j), recess.holds[j].name,
                                  place_text(*common)),
                             "things may touch but not overlap: give each its \"at\", or one for the pile");
        footprints.back() = footprint;
    }
}

void look_at_cover_sheet(const Cover& cover, const std::string& place, FaultList& list) {
    list.look_up(place + ".sheet", [&] {
        const materials::Sheet& sheet = materials::find_sheet(cover.sheet);
        if (materials::is_made_so_thick(sheet, cover.thickness)) return;
        const auto low = sheet.thickness->low, high = sheet.thickness->high;
        const Message made = low && high && *low == *high ? said("it is {} thick", in_mm(*low))
                             : !low                       ? said("give at most {}", in_mm(*high))
                             : !high                      ? said("give more than {}", in_mm(*low))
                                     : said("give more than {}, at most {}", in_mm(*low), in_mm(*high));
        list.add(place + ".thickness", said("{} is no thickness of \"{}\"", in_mm(cover.thickness), sheet.id),
                 made);
    });
}

void look_at_cover(const Recess& recess, const Piece& piece, const std::string& recess_place,
                   FaultList& list) {
    const Cover& cover = *recess.cover;
    const std::string place = recess_place + ".cover";
    const bool has_thickness = list.expect_positive(cover.thickness, place + ".thickness", "a thickness");
    if (has_thickness && recess.depth > 0)
        list.expect(
            cover.thickness < recess.depth, place + ".thickness",
            said("{} fills the recess, which is {} deep", in_mm(cover.thickness), in_mm(recess.depth)),
            said("give less than {}", in_mm(recess.depth)));
    if (cover.sheet.empty() == cover.wood.empty()) {
        list.add(place,
                 cover.sheet.empty() ? "does not say what it is made of" : "is made of more than one thing",
                 "give \"sheet\" or \"wood\"");
    } else if (!cover.wood.empty()) {
        list.look_up(place + ".wood", [&] { materials::find_wood(cover.wood); });
    } else if (has_thickness) {
        look_at_cover_sheet(cover, place, list);
    }
    if (!cover.trim.empty()) list.look_up(place + ".trim", [&] { materials::parse_section(cover.trim); });
    if (cover.screw_diameter)
        if (list.expect_positive(*cover.screw_diameter, place + ".screws.diameter", "a screw"))
            list.expect_within(*cover.screw_diameter, screw_diameter, place + ".screws.diameter");
    if (cover.screw_spacing)
        if (list.expect_positive(*cover.screw_spacing, place + ".screws.spacing", "a spacing"))
            list.expect_within(*cover.screw_spacing, screw_spacing, place + ".screws.spacing");
    list.expect(!edge_of_cover(recess, piece.top.outline).empty(), place,
                "has no rim to hang on: the recess is open all round", "leave a rim");
}

} // namespace

void look_at_holds(const Piece& piece, const Plan& plan, FaultList& list) {
    for (std::size_t i = 0; i < piece.recesses.size(); ++i) {
        const Recess& recess = piece.recesses[i];
        const std::string place = item("recesses", i);
        if (!plan.outline || !plan.recesses[i]) continue;
        look_at_kept(recess, *plan.recesses[i], plan.lands[i], place, list);
        if (recess.cover) look_at_cover(recess, piece, place, list);
    }
}

} // namespace hollowtop
