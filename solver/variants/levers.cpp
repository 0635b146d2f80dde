// SPDX-License-Identifier: MIT
#include "solver/variants/levers.hpp"

#include "materials/wood.hpp"
#include "solver/piece/use_loads.hpp"
#include "solver/situations/recess_loads.hpp"
#include "solver/variants/edits.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>

namespace hollowtop {
namespace {

void add_skin(const Piece& piece, std::vector<Lever>& levers) {
    if (piece.recesses.empty()) return;
    static constexpr double step = 0.5; // mm
    double deepest = 0;
    for (const Recess& recess : piece.recesses) deepest = std::max(deepest, recess.depth);
    const double thickness = piece.top.thickness, skin = thickness - deepest;
    const double least_left = std::max(3.0, 0.1 * thickness); // a hollow worth the name
    levers.push_back({.change = Remedy{.kind = "skin", .from = skin, .to = skin, .work = work::less_routing},
                      .n_steps = static_cast<int>((deepest - least_left) / step),
                      .rises = true,
                      .step =
                          [least_left](Piece& p, int k) {
                              for (Recess& recess : p.recesses)
                                  recess.depth =
                                      std::min(recess.depth, std::max(least_left, recess.depth - step * k));
                          },
                      .tell =
                          [skin, thickness, least_left](Remedy& change, int k) {
                              change.to = std::min(thickness - least_left, skin + step * k);
                          }});
}

/// A thicker board, its recesses as deep as drawn.
void add_thickness(const Piece& piece, std::vector<Lever>& levers) {
    if (piece.recesses.empty() || !piece.top.sheet.empty()) return;
    constexpr double step = 1; // mm
    const double drawn = piece.top.thickness;
    levers.push_back(
        {.change = Remedy{.kind = "thickness", .from = drawn, .to = drawn, .work = work::other_board},
         .n_steps = static_cast<int>(drawn / 3 / step),
         .rises = true,
         .step = [drawn](Piece& p, int k) { p.top.thickness = drawn + step * k; },
         .tell = [drawn](Remedy& change, int k) { change.to = drawn + step * k; }});
}

void add_rim(const Piece& piece, std::vector<Lever>& levers) {
    constexpr double step = 10, least_wide = 60; // mm
    double narrowest = 1e9, rim = 1e9;
    for (const Recess& recess : piece.recesses) {
        const auto box = straight_box_of(recess, piece.top);
        if (!box) return; // drawn by points: it has no one rim
        narrowest = std::min({narrowest, box->x1 - box->x0, box->y1 - box->y0});
        rim = std::min({rim, box->x0, box->y0, piece.top.length - box->x1, piece.top.width - box->y1});
    }
    if (piece.recesses.empty()) return;
    const double most = std::min(piece.top.length, piece.top.width) / 6; // both rims: a third of the piece
    levers.push_back({.change = Remedy{.kind = "rim", .from = rim, .to = rim, .work = work::less_routing},
                      .n_steps = static_cast<int>(std::min((narrowest - least_wide) / 2, most) / step),
                      .rises = true,
                      .step = [](Piece& p, int k) { widen(p, "", -step * k); },
                      .tell = [rim](Remedy& change, int k) { change.to = rim + step * k; }});
}

void add_lands(const Piece& piece, std::vector<Lever>& levers) {
    if (piece.recesses.empty()) return;
    for (const Recess& recess : piece.recesses)
        if (!straight_box_of(recess, piece.top) || !recess.holds.empty() || !recess.lands.empty()) return;
    levers.push_back({.change = Remedy{.kind = "land", .from = 0, .to = 0, .work = work::less_routing},
                      .n_steps = 3,
                      .rises = false,
                      .step = [](Piece& p, int k) { set_lands(p, "", k); },
                      .tell = [](Remedy& change, int k) { change.to = k; }});
}

/// Along the longer side, or across it.
void add_supports(const Piece& piece, bool along, std::vector<Lever>& levers) {
    const bool along_x = (piece.top.length >= piece.top.width) == along;
    const double side = along_x ? piece.top.length : piece.top.width;
    double sum = 0, count = 0, largest = 0;
    for (const Support& support : piece.supports) {
        const auto* pad = std::get_if<Pad>(&support.kind);
        const auto* bearer = std::get_if<Bearer>(&support.kind);
        if (!pad && !bearer) return; // rails belong to the base's own joinery
        if (bearer && std::abs(along_x ? bearer->from.x - bearer->to.x : bearer->from.y - bearer->to.y) > 1)
            return;
        const double at =
            pad ? (along_x ? pad->at.x : pad->at.y) : (along_x ? bearer->from.x : bearer->from.y);
        const double from_edge = std::min(at, side - at);
        largest = std::max(largest, pad ? std::max(pad->size_x, pad->size_y) : bearer->width);
        if (from_edge > side / 3) continue;
        sum += from_edge;
        count += 1;
    }
    if (count < 2) return;
    const double from = sum / count;
    constexpr double raster = 10; // mm
    const double least = std::max(largest / 2, raster), most = 0.3 * side;
    // ever farther from where they stand, both ways in turn
    std::vector<double> places;
    constexpr int each_way = 2;
    for (int k = 1; k <= each_way; ++k)
        for (const double end : {most, least}) {
            const double place = raster * std::round((from + (end - from) * k / each_way) / raster);
            if (place >= least && place <= most && std::abs(place - from) >= raster / 2)
                places.push_back(place);
        }
    std::stable_sort(places.begin(), places.end(),
                     [&](double a, double b) { return std::abs(a - from) < std::abs(b - from); });
    places.erase(std::unique(places.begin(), places.end()), places.end());
    if (places.empty()) return;
    const Way way = along_x ? Way::x : Way::y;
    levers.push_back(
        {.change = Remedy{.kind = along ? "supports" : "supports_across",
                          .from = from,
                          .to = from,
                          .work = work::moved_feet},
         .n_steps = static_cast<int>(places.size()),
         .rises = false,
         .step = [places, way](Piece& p, int k) { set_supports(p, way, places[static_cast<size_t>(k - 1)]); },
         .tell = [places](Remedy& change, int k) { change.to = places[static_cast<size_t>(k - 1)]; }});
}

void add_hold_down(const Piece& piece, std::vector<Lever>& levers) {
    bool any_loose = false, any = false;
    for (const Support& support : piece.supports)
        std::visit(
            [&](const auto& kind) {
                if constexpr (requires { kind.hold_down; })
                    any = true, any_loose = any_loose || !kind.hold_down;
            },
            support.kind);
    if (!any || !any_loose) return;
    levers.push_back({.change = Remedy{.kind = "hold_down", .from = 0, .to = 0, .work = work::screws},
                      .n_steps = 1,
                      .rises = false,
                      .step = [](Piece& p, int) { set_hold_down(p, true); },
                      .tell = [](Remedy& change, int) { change.to = 1; }});
}

/// Pads and bearers so many times as large, their middle where it was.
void add_pads(const Piece& piece, std::vector<Lever>& levers) {
    double size = 0;
    for (const Support& support : piece.supports) {
        if (const auto* pad = std::get_if<Pad>(&support.kind))
            size = std::max({size, pad->size_x, pad->size_y});
        if (const auto* bearer = std::get_if<Bearer>(&support.kind)) size = std::max(size, bearer->width);
    }
    if (!(size > 0)) return;
    constexpr int n_steps = 5;
    const auto times = [](int k) { return 1 + 0.2 * k; }; // twice at most
    levers.push_back({.change = Remedy{.kind = "pads", .from = size, .to = size, .work = work::pads},
                      .n_steps = n_steps,
                      .rises = true,
                      .step =
                          [times](Piece& p, int k) {
                              for (Support& support : p.supports) {
                                  if (auto* pad = std::get_if<Pad>(&support.kind))
                                      pad->size_x *= times(k), pad->size_y *= times(k);
                                  if (auto* bearer = std::get_if<Bearer>(&support.kind))
                                      bearer->width *= times(k);
                              }
                          },
                      .tell = [size, times](Remedy& change, int k) { change.to = size * times(k); }});
}

/// A solid top so thick, of a board that is thinner or thicker than drawn.
void add_solid(const Piece& piece, std::vector<Lever>& levers) {
    if (!piece.top.sheet.empty()) return;
    for (const Recess& recess : piece.recesses)
        if (!recess.holds.empty() || recess.cover) return; // the hollow is wanted
    const double drawn = piece.top.thickness;
    constexpr double step = 1, thickest = 80;
    const double least = piece.recesses.empty() ? drawn : std::max(10.0, std::floor(0.4 * drawn));
    const double most = std::max(drawn, std::min(2 * drawn, thickest));
    const auto thickness = [least](int k) { return least + step * k; };
    levers.push_back(
        {.change = Remedy{.kind = "solid", .from = drawn, .to = drawn, .work = work::other_board},
         .n_steps = static_cast<int>((most - least) / step),
         .rises = true,
         .step =
             [thickness](Piece& p, int k) {
                 p = solid_of(p);
                 p.top.thickness = thickness(k);
             },
         .tell = [thickness](Remedy& change, int k) { change.to = thickness(k); }});
}

void add_wood(const Piece& piece, std::vector<Lever>& levers) {
    if (piece.top.wood.empty() || piece.allowables.basis != AllowablesBasis::handbook) return;
    static constexpr std::array<const char*, 4> usual{"beech_european", "ash_white", "oak_white",
                                                      "maple_sugar"};
    std::vector<std::string> ids;
    for (const char* id : usual)
        if (piece.top.wood != id) ids.emplace_back(id);
    levers.push_back({.change = Remedy{.kind = "wood", .from = 0, .to = 0, .work = work::other_wood},
                      .n_steps = static_cast<int>(ids.size()),
                      .rises = false,
                      .most_apart = 1.6, // of their means in the Wood Handbook none is that much apart
                      .step =
                          [ids](Piece& p, int k) {
                              p.top.wood = ids[static_cast<size_t>(k - 1)];
                              p.top.measured = {};
                              for (Board& board : p.top.each_board) board.measured = {};
                          },
                      .tell =
                          [ids](Remedy& change, int k) {
                              change.wood = materials::find_wood(ids[static_cast<size_t>(k - 1)]).common_name;
                          }});
}

void scale(Load& load, double by) {
    if (auto* area = std::get_if<AreaLoad>(&load.kind))
        area->pressure *= by;
    else if (auto* patch = std::get_if<PatchLoad>(&load.kind))
        patch->force *= by;
    else if (auto* line = std::get_if<LineLoad>(&load.kind))
        line->force *= by;
    else if (auto* clamp = std::get_if<ClampLoad>(&load.kind))
        clamp->force *= by;
}

void add_loads(std::vector<Lever>& levers) {
    constexpr int per_cent = 5, n_steps = 10;
    levers.push_back({.change = Remedy{.kind = "loads", .from = 1, .to = 1, .work = work::fewer_loads},
                      .n_steps = n_steps,
                      .rises = true,
                      .step =
                          [](Piece& p, int k) {
                              p = with_recess_loads(with_use(p));
                              for (Load& load : p.loads) scale(load, 1 - per_cent * k / 100.0);
                          },
                      .tell = [](Remedy& change, int k) { change.to = 1 - per_cent * k / 100.0; }});
}

} // namespace

Piece solid_of(const Piece& piece) {
    Piece solid = piece;
    solid.recesses.clear();
    return solid;
}

std::vector<Lever> levers_of(const Piece& piece, const std::vector<std::string>& failing) {
    std::vector<Lever> levers;
    add_skin(piece, levers);
    add_thickness(piece, levers);
    add_rim(piece, levers);
    add_lands(piece, levers);
    add_screws(piece, failing, levers);
    add_hold_down(piece, levers);
    add_pads(piece, levers);
    add_supports(piece, true, levers);
    add_supports(piece, false, levers);
    add_section(piece, levers);
    add_none(piece, levers);
    add_number(piece, levers);
    add_solid(piece, levers);
    add_wood(piece, levers);
    add_loads(levers);
    std::erase_if(levers, [](const Lever& lever) { return lever.n_steps < 1; });
    return levers;
}

std::optional<Lever> together(const Lever& first, int k_first, const Lever& second) {
    const std::string &a = first.change.kind, &b = second.change.kind;
    const auto is_of_hollow = [](const std::string& kind) {
        return kind == "skin" || kind == "rim" || kind == "land" || kind == "thickness";
    };
    const auto is_of_bars = [](const std::string& kind) {
        return kind == "section" || kind == "number" || kind == "no_stiffener" || kind.starts_with("screw_");
    };
    if (a == b || (a == "solid" && is_of_hollow(b)) || (b == "solid" && is_of_hollow(a)) ||
        (is_of_bars(a) && is_of_bars(b)))
        return std::nullopt;
    const bool in_proportion = first.rises && second.rises;
    const int n_steps = in_proportion ? std::max(first.n_steps, second.n_steps) : second.n_steps;
    const auto share = [n_steps](const Lever& lever, int k) { // of its own steps, rounded up
        return (k * lever.n_steps + n_steps - 1) / n_steps;
    };
    Lever both;
    both.change = first.change;
    both.change.also = {second.change};
    both.change.work = first.change.work + second.change.work;
    both.n_steps = n_steps;
    both.changes_stiffeners_alone = first.changes_stiffeners_alone && second.changes_stiffeners_alone;
    both.rises = second.rises;
    both.step = [=](Piece& p, int k) {
        first.step(p, in_proportion ? share(first, k) : k_first);
        second.step(p, in_proportion ? share(second, k) : k);
    };
    both.tell = [=](Remedy& change, int k) {
        first.tell(change, in_proportion ? share(first, k) : k_first);
        second.tell(change.also.front(), in_proportion ? share(second, k) : k);
    };
    return both;
}

} // namespace hollowtop
