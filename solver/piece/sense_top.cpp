// SPDX-License-Identifier: MIT
// The top, its recesses and their lands.
#include "materials/panel.hpp"
#include "materials/wood.hpp"
#include "solver/piece/boards.hpp"
#include "solver/piece/fault_list.hpp"
#include "solver/piece/wording.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

bool is_finite(Point p) { return std::isfinite(p.x) && std::isfinite(p.y); }

/// "recesses[0] ("well")", or without the name where there is none.
std::string with_name(const std::string& place, const std::string& name) {
    return name.empty() ? place : place + " (\"" + name + "\")";
}

bool expect_radius(double radius, double largest, const std::string& place, FaultList& list) {
    if (!list.expect_not_negative(radius, place)) return false;
    return list.expect(radius <= largest + 1e-9, place, said("{} is too large for this shape", in_mm(radius)),
                       said("give at most {}", in_mm(largest)));
}

/// A rectangle with a corner radius; `place` is that of the shape, its keys are x, y and corner_radius.
std::optional<Trace> traced(const RectangleShape& shape, const std::string& place, FaultList& list) {
    const Rectangle& box = shape.box;
    const auto expect_side = [&](double low, double high, const char* key, const char* what) {
        return list.expect(low < high && std::isfinite(low) && std::isfinite(high), place + key,
                           said("from {} to {} there is no {}", in_mm(low), in_mm(high), what),
                           "give the smaller number first, then the larger");
    };
    const bool has_length = expect_side(box.x0, box.x1, ".x", "length");
    const bool has_width = expect_side(box.y0, box.y1, ".y", "width");
    if (!has_length || !has_width || !list.expect_within(box.x1 - box.x0, recess_sides, place + ".x") ||
        !list.expect_within(box.y1 - box.y0, recess_sides, place + ".y"))
        return std::nullopt;
    const double largest = std::min(box.x1 - box.x0, box.y1 - box.y0) / 2;
    if (!expect_radius(shape.corner_radius, largest, place + ".corner_radius", list)) return std::nullopt;
    return trace_of(shape);
}

/// A polygon; `points_place` is that of its points, `place` that of the shape.
std::optional<Trace> traced(const PolygonShape& shape, const std::string& points_place,
                            const std::string& place, FaultList& list) {
    const std::vector<Point>& points = shape.points;
    if (points.size() < 3) {
        list.add(points_place,
                 "has " + std::to_string(points.size()) + (points.size() == 1 ? " point" : " points"),
                 "give at least 3");
        return std::nullopt;
    }
    bool sound = true;
    for (std::size_t i = 0; i < points.size(); ++i) {
        sound &=
            list.expect(is_finite(points[i]), item(points_place, i), "is not a point", "give two lengths");
    }
    for (std::size_t i = 0; sound && i < points.size(); ++i) {
        const Point next = points[(i + 1) % points.size()];
        if (std::hypot(next.x - points[i].x, next.y - points[i].y) > touching) continue;
        const bool closes = i + 1 == points.size();
        list.add(item(points_place, closes ? i : i + 1),
                 closes ? "is the first point again" : "is the same point as the one before", "leave it out");
        return std::nullopt;
    }
    if (!sound) return std::nullopt;
    if (const auto crossing = crossing_of_itself(points)) {
        list.add(points_place, said("crosses, touches or folds back on itself at {}", place_text(*crossing)),
                 "list the corners in order around the shape");
        return std::nullopt;
    }
    if (!expect_radius(shape.corner_radius, largest_corner_radius(points), place + ".corner_radius", list)) {
        return std::nullopt;
    }
    return trace_of(shape);
}

std::optional<Trace> traced_outline(const Top& top, FaultList& list) {
    if (std::holds_alternative<EllipseShape>(top.outline)) return trace_of(top.outline);
    if (const auto* rectangle = std::get_if<RectangleShape>(&top.outline))
        return traced(*rectangle, "top.outline", list);
    const auto& polygon = std::get<PolygonShape>(top.outline);
    std::optional<Trace> trace = traced(polygon, "top.outline.points", "top.outline", list);
    if (!trace) return std::nullopt;
    for (std::size_t i = 0; i < polygon.points.size(); ++i) {
        const Point p = polygon.points[i];
        const bool fits = p.x >= -touching && p.x <= top.length + touching && p.y >= -touching &&
                          p.y <= top.width + touching;
        list.expect(fits, item("top.outline.points", i),
                    said("{} lies outside the {} of the top", place_text(p), sizes(top.length, top.width)),
                    "keep it inside, or give a larger length or width");
    }
    return trace;
}

void look_at_elastic(const Elastic& elastic, bool weight_wanted, FaultList& list) {
    const std::string place = "top.elastic";
    bool sound = true;
    const auto expect_modulus = [&](double value, const char* key) {
        sound &= list.expect_positive(value, place + key, "a stiffness", Unit::MPa);
    };
    expect_modulus(elastic.E1, ".E1");
    expect_modulus(elastic.E2, ".E2");
    if (sound) {
        // positive strain energy: nu12^2 < E1/E2
        const double largest = std::sqrt(elastic.E1 / elastic.E2);
        list.expect(std::abs(elastic.nu12) < largest, place + ".nu12",
                    plain(elastic.nu12) +
                        " is not possible with these E1 and E2: its square must be below E1/E2",
                    "give a number between -" + plain(largest) + " and " + plain(largest));
    }
    expect_modulus(elastic.G12, ".G12");
    expect_modulus(elastic.G13, ".G13");
    expect_modulus(elastic.G23, ".G23");
    if (elastic.E3) expect_modulus(*elastic.E3, ".E3");
    if (elastic.density_kg_m3) {
        list.expect_positive(*elastic.density_kg_m3, place + ".density", "a density", Unit::none, " kg/m3");
    } else if (weight_wanted) {
        list.add(place + ".density", "is not given, but the top's own weight is wanted",
                 "give it in kg/m3, or \"self_weight\": false");
    }
}

void look_at_sheet(const Piece& piece, FaultList& list) {
    const Top& top = piece.top;
    list.look_up("top.sheet", [&] {
        const materials::Sheet& sheet = materials::find_sheet(top.sheet);
        materials::panel_constants(sheet);
        if (!materials::is_made_so_thick(sheet, top.thickness)) {
            list.add(
                "top.thickness",
                said("{} is not a thickness of {} in the table of sheets", in_mm(top.thickness), sheet.id),
                "give the thickness of the sheet, or the sheet of that thickness");
        }
        if (sheet.kind == "plywood" && !piece.recesses.empty()) {
            list.add("recesses",
                     "a recess in plywood cuts plies away, and what is left has other moduli and strengths "
                     "than the table's",
                     "leave it out, or give the constants of the plies that stay as \"elastic\"");
        }
    });
}

void look_at_uncertainty(const Measured& measured, const std::string& place, FaultList& list) {
    // Above this a measurement tells less than the handbook's scatter does (22 %, Wood Handbook table 5-6).
    constexpr double most_percent = 50;
    const auto look = [&](const std::optional<double>& percent, bool has_value, const char* key) {
        if (!percent) return;
        const std::string at = place + ".uncertainty." + key;
        if (!list.expect(has_value, at, "the value that it belongs to is not given",
                         std::string("give \"") + key + "\" beside \"uncertainty\""))
            return;
        list.expect(*percent > 0 && *percent <= most_percent, at,
                    plain(*percent) + " % is not an uncertainty of a measurement",
                    "give one standard deviation in percent, more than 0 and up to 50, such as 3");
    };
    look(measured.u_E_along_percent, measured.E_along.has_value(), "E_along");
    look(measured.u_density_percent, measured.density_kg_m3.has_value(), "density");
}

void look_at_material(const Piece& piece, FaultList& list) {
    const Top& top = piece.top;
    if (top.elastic) {
        list.expect(top.wood.empty() && top.sheet.empty(), "top.elastic",
                    top.sheet.empty() ? "is given beside \"wood\"" : "is given beside \"sheet\"",
                    "give one of the two");
        list.expect(!top.measured.E_along && !top.measured.density_kg_m3, "top.measured",
                    "replaces the values of a wood, but \"elastic\" is given",
                    "put the values into \"elastic\"");
        look_at_elastic(*top.elastic, piece.self_weight, list);
        return;
    }
    if (!top.sheet.empty()) {
        list.expect(top.wood.empty(), "top.sheet", "is given beside \"wood\"", "give one of the two");
        look_at_sheet(piece, list);
    } else if (top.wood.empty()) {
        list.add("top", "says neither which wood it is nor how stiff",
                 "give \"wood\", \"sheet\" or \"elastic\"");
    } else {
        list.look_up("top.wood", [&] { materials::find_wood(top.wood); });
    }
    if (top.measured.E_along) {
        list.expect_positive(*top.measured.E_along, "top.measured.E_along", "a stiffness", Unit::MPa);
    }
    if (top.measured.density_kg_m3) {
        list.expect_positive(*top.measured.density_kg_m3, "top.measured.density", "a density", Unit::none,
                             " kg/m3");
    }
    look_at_uncertainty(top.measured, "top.measured", list);
}

void look_at_boards(const Top& top, FaultList& list) {
    double sum = 0;
    bool measured = false, sound = true;
    for (std::size_t i = 0; i < top.each_board.size(); ++i) {
        const Board& board = top.each_board[i];
        const std::string place = item("top.boards", i);
        sound = list.expect_positive(board.width, place, "a width") && sound;
        sum += board.width;
        if (board.rings) {
            list.expect_not_negative(board.rings->pith, place + ".pith");
            constexpr double flat =
                20; // degrees: within that a board still cups by the circles about its pith
            list.expect(top.ring_angle_deg <= flat, place + ".pith",
                        said("the rings of the top stand at {} degrees, and only a flat-sawn board cups "
                             "about its pith",
                             number(top.ring_angle_deg)),
                        "leave \"pith\" and \"bark\" out, or say \"rings\": \"flatsawn\"");
        }
        if (board.measured == Measured{}) continue;
        measured = true;
        if (board.measured.E_along)
            list.expect_positive(*board.measured.E_along, place + ".measured.E_along", "a stiffness",
                                 Unit::MPa);
        if (board.measured.density_kg_m3)
            list.expect_positive(*board.measured.density_kg_m3, place + ".measured.density", "a density",
                                 Unit::none, " kg/m3");
        look_at_uncertainty(board.measured, place + ".measured", list);
    }
    if (!measured || !sound) return;
    list.expect(!top.elastic, "top.boards", "boards that were measured do not go with \"elastic\"",
                "give \"wood\" in its place");
    const double extent = extent_across(top);
    constexpr double off_by = 0.02; // what planing and jointing take off boards that were measured before
    list.expect(std::abs(sum - extent) <= off_by * extent, "top.boards",
                said("the boards are {} wide together, and the top is {} across its grain", in_mm(sum),
                     in_mm(extent)),
                "give the widths as they lie glued up, from the edge nearest the origin");
}

void look_at_wood_in_the_plane(const Top& top, FaultList& list) {
    list.expect(std::isfinite(top.grain_deg), "top.grain", plain(top.grain_deg) + " is not an angle",
                "give degrees from x");
    list.expect(top.ring_angle_deg >= 0 && top.ring_angle_deg <= 90, "top.rings",
                plain(top.ring_angle_deg) + " degrees is not a ring angle",
                "give 0 (flatsawn) to 90 (quartersawn)");
    // Above about 30 % the cell walls are full of water (Wood Handbook ch. 4: fibre saturation).
    list.expect(top.moisture_percent >= 0 && top.moisture_percent <= 30, "top.moisture",
                plain(top.moisture_percent) + " % is not the moisture of seasoned wood", "give 0 to 30");
    list.expect(top.boards >= 0, "top.boards", std::to_string(top.boards) + " is not a number of boards",
                "give 1 or more");
    look_at_boards(top, list);
}

std::optional<Trace> traced_rim(const RimShape& rim, const Outline& outline, const std::string& place,
                                FaultList& list) {
    if (!list.expect_not_negative(rim.rim, place + ".rim")) return std::nullopt;
    const std::optional<double> widest = widest_rim(outline);
    if (widest && rim.rim >= *widest) {
        list.add(place + ".rim", said("{} leaves nothing to recess", in_mm(rim.rim)),
                 said("give less than {}", in_mm(*widest)));
        return std::nullopt;
    }
    if (std::holds_alternative<EllipseShape>(outline)) {
        if (!list.expect_not_negative(rim.corner_radius, place + ".corner_radius")) return std::nullopt;
        if (rim.rim + rim.corner_radius >= *widest) {
            list.add(
                place + ".corner_radius",
                said("a cutter of {} radius does not fit in what the rim leaves", in_mm(rim.corner_radius)),
                said("give less than {}", in_mm(*widest - rim.rim)));
            return std::nullopt;
        }
        return traced_inset(outline, rim);
    }
    const auto* rectangle = std::get_if<RectangleShape>(&outline);
    const std::vector<Point> sides =
        rectangle ? corners_of(rectangle->box) : std::get<PolygonShape>(outline).points;
    const std::vector<Point> corners = moved_inwards(sides, rim.rim);
    if (corners.empty()) {
        list.add(place + ".rim", said("{} leaves nothing to recess, or cuts it in two", in_mm(rim.rim)),
                 "give less, or draw the recess as a \"polygon\"");
        return std::nullopt;
    }
    if (!expect_radius(rim.corner_radius, largest_corner_radius(corners), place + ".corner_radius", list)) {
        return std::nullopt;
    }
    return traced_inset(outline, rim);
}

std::optional<Trace> traced_land(const Land& land, const std::string& place, FaultList& list) {
    if (const auto* rectangle = std::get_if<RectangleShape>(&land.shape))
        return traced(*rectangle, place, list);
    return traced(std::get<PolygonShape>(land.shape), place + ".polygon", place, list);
}

std::optional<Trace> traced_recess(const Recess& recess, const Outline& outline, bool outline_is_sound,
                                   const std::string& place, FaultList& list) {
    if (const auto* rectangle = std::get_if<RectangleShape>(&recess.shape))
        return traced(*rectangle, place, list);
    if (const auto* polygon = std::get_if<PolygonShape>(&recess.shape)) {
        return traced(*polygon, place + ".polygon", place, list);
    }
    if (!outline_is_sound) return std::nullopt;
    return traced_rim(std::get<RimShape>(recess.shape), outline, place, list);
}

bool is_sound(const SkinGrid& grid) {
    return grid.nx >= 2 && grid.ny >= 2 &&
           grid.thickness.size() == static_cast<std::size_t>(grid.nx) * static_cast<std::size_t>(grid.ny) &&
           grid.box.x1 > grid.box.x0 && grid.box.y1 > grid.box.y0;
}

/// A skin found uneven, which no piece file states.
void look_at_surveyed(const Recess& recess, double thickness, const std::string& place, FaultList& list) {
    if (!recess.surveyed) return;
    const SkinGrid& grid = *recess.surveyed;
    list.expect(is_sound(grid) && std::all_of(grid.thickness.begin(), grid.thickness.end(),
                                              [&](double skin) { return skin > 0 && skin < thickness; }),
                place + ".surveyed", "is no grid of skins", "give more than nothing and less than the board");
}

void look_at_depth(const Recess& recess, double thickness, const std::string& place, FaultList& list) {
    const Message depth = in_mm(recess.depth), whole = said(" ({})", in_mm(thickness));
    if (!(recess.depth > 0)) {
        list.add(place + ".depth", said("{} cuts nothing", depth),
                 said("give more than {}, or a \"skin\" thinner than the top{}", in_mm(0), whole));
    } else if (!(recess.depth < thickness)) {
        const bool through = recess.depth == thickness;
        list.add(
            place + ".depth",
            said("{}{}{}", depth, through ? " goes right through the top" : " is deeper than the top", whole),
            said("give less than {}, or \"skin\" instead", in_mm(thickness)));
    }
    list.expect_within(recess.depth, recess_depth, place + ".depth");
    list.expect_within(thickness - recess.depth, skin_left, place + ".depth");
    if (list.expect_not_negative(recess.root_radius, place + ".root_radius") && recess.depth > 0) {
        list.expect(recess.root_radius <= recess.depth, place + ".root_radius",
                    said("{} is larger than the depth ({})", in_mm(recess.root_radius), depth),
                    said("give at most {}", depth));
    }
}

void look_at_lands(const Recess& recess, const std::optional<Trace>& recess_trace,
                   const std::string& recess_place, std::vector<std::optional<Trace>>& traces,
                   FaultList& list) {
    for (std::size_t i = 0; i < recess.lands.size(); ++i) {
        const std::string place = recess_place + "." + item("lands", i);
        const std::optional<Trace> trace = traced_land(recess.lands[i], place, list);
        if (trace && recess_trace) {
            if (const auto outside = reaches_out(*trace, *recess_trace)) {
                list.add(
                    place,
                    said("reaches {} out of its recess at {}", in_mm(outside->by), place_text(outside->at)),
                    "keep it inside");
            }
        }
        for (std::size_t j = 0; trace && j < i; ++j) {
            if (!traces[j]) continue;
            if (const auto common = common_place(*trace, *traces[j])) {
                list.add(place,
                         said("overlaps {} at {}", with_name(item("lands", j), recess.lands[j].name),
                              place_text(*common)),
                         "lands may touch but not overlap");
            }
        }
        traces.push_back(trace);
    }
}

} // namespace

void look_at_top(const Piece& piece, Plan& plan, FaultList& list) {
    const Top& top = piece.top;
    const bool has_length = list.expect_positive(top.length, "top.length", "a length");
    const bool has_width = list.expect_positive(top.width, "top.width", "a width");
    list.expect_positive(top.thickness, "top.thickness", "a thickness");
    const bool is_within = list.expect_within(top.length, top_sides, "top.length") &&
                           list.expect_within(top.width, top_sides, "top.width");
    list.expect_within(top.thickness, top_thickness, "top.thickness");
    if (top.surveyed) // which no piece file states
        list.expect(is_sound(*top.surveyed) &&
                        std::all_of(top.surveyed->thickness.begin(), top.surveyed->thickness.end(),
                                    [](double thickness) { return thickness > 0; }),
                    "top.surveyed", "is no grid of thicknesses", "give more than nothing");
    look_at_material(piece, list);
    look_at_wood_in_the_plane(top, list);
    if (has_length && has_width && is_within) plan.outline = traced_outline(top, list);
}

void look_at_recesses(const Piece& piece, Plan& plan, FaultList& list) {
    for (std::size_t i = 0; i < piece.recesses.size() && !list.is_full(); ++i) {
        const Recess& recess = piece.recesses[i];
        const std::string place = item("recesses", i);
        const std::optional<Trace> trace =
            traced_recess(recess, piece.top.outline, plan.outline.has_value(), place, list);
        if (trace && plan.outline && !std::holds_alternative<RimShape>(recess.shape)) {
            if (const auto outside = reaches_out(*trace, *plan.outline)) {
                list.add(
                    place,
                    said("reaches {} past the outline at {}", in_mm(outside->by), place_text(outside->at)),
                    "keep it on the top");
            }
        }
        for (std::size_t j = 0; trace && j < i; ++j) {
            if (!plan.recesses[j]) continue;
            if (const auto common = common_place(*trace, *plan.recesses[j])) {
                list.add(place,
                         said("overlaps {} at {}", with_name(item("recesses", j), piece.recesses[j].name),
                              place_text(*common)),
                         "recesses may touch but not overlap");
            }
        }
        if (piece.top.thickness > 0) look_at_depth(recess, piece.top.thickness, place, list);
        if (piece.top.thickness > 0) look_at_surveyed(recess, piece.top.thickness, place, list);
        plan.recesses.push_back(trace);
        plan.lands.emplace_back();
        look_at_lands(recess, trace, place, plan.lands.back(), list);
    }
}

} // namespace hollowtop
