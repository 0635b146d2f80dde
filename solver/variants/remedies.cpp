// SPDX-License-Identifier: MIT
#include "solver/variants/remedies.hpp"

#include "materials/error.hpp"
#include "materials/section.hpp"
#include "solver/check/kept_work.hpp"
#include "solver/check/worst_position.hpp"
#include "solver/numeric/threads.hpp"
#include "solver/piece/sense.hpp"
#include "solver/piece/skin.hpp"
#include "solver/piece/use_loads.hpp"
#include "solver/situations/recess_loads.hpp"
#include "solver/variants/edits.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <memory>
#include <mutex>

namespace hollowtop {
namespace {

constexpr int most_dofs = 80'000;

/// One kind of change in steps 1 .. n_steps, each going further.
struct Ladder {
    Remedy change; ///< its kind and where it starts
    int n_steps = 0;
    bool changes_stiffeners_alone = false; ///< then the bare top's models serve every step
    bool rises =
        true; ///< each step helps more than the one before: halving finds the least; else they are tried one by one
    std::function<void(Piece&, int)> step;
    std::function<void(Remedy&, int)> tell; ///< fills in where step k ends
};

struct Verdict {
    bool passes = false;
    double utilisation = 0, mass_kg = 0;
    std::string governing_check;
};

class Judge {
  public:
    /// `mesh` is that of the check that failed.
    Judge(const Piece& asked, const Piece& resting, const MeshReport& mesh, CheckOptions options)
        : asked_(asked), resting_(resting), mesh_(mesh), options_(std::move(options)) {
        options_.threads = 1;
        options_.essentials = options_.no_advice = true;
        options_.want_fields = false;
        options_.progress = {};
    }

    /// Every check, on the mesh of the piece as drawn and with the loads at rest where they were worst for
    /// it.
    std::optional<Verdict> quick(const Ladder& ladder, int k, KeptWork& kept) const {
        CheckOptions options = options_;
        options.mesh_of_another = mesh_;
        options.kept = &kept;
        return of(resting_, ladder, k, options);
    }
    /// As a check of the changed piece by itself.
    std::optional<Verdict> full(const Ladder& ladder, int k) const { return of(asked_, ladder, k, options_); }

  private:
    static std::optional<Verdict> of(Piece piece, const Ladder& ladder, int k, const CheckOptions& options) {
        try {
            ladder.step(piece, k);
            if (!faults_of(piece).empty()) return std::nullopt;
            const Result result = check_piece(piece, options).result;
            return Verdict{result.passes, result.governing_utilisation, result.mass.total_kg,
                           result.governing_check};
        } catch (const Error&) { // it tips, or cannot be made so
            return std::nullopt;
        }
    }

    const Piece& asked_;
    const Piece& resting_;
    MeshReport mesh_;
    CheckOptions options_;
};

/// The least step that passes. `drawn` is the utilisation of the piece as drawn; of models at most so many
/// bytes are kept.
Remedy climb(const Ladder& ladder, const Judge& judge, double drawn, std::size_t kept_bytes) {
    KeptWork kept(ladder.changes_stiffeners_alone ? kept_bytes : 0);
    Remedy change = ladder.change;
    const auto end_at = [&](int k, const Verdict& verdict, bool helps) {
        ladder.tell(change, k);
        change.helps = helps;
        change.utilisation = verdict.utilisation;
        change.mass_kg = verdict.mass_kg;
        change.governing_check = verdict.governing_check;
    };
    std::optional<Verdict>
        best; // the least step that passes; before there is one, the one that comes nearest
    int best_step = 0;
    double seen = 0; // utilisation of the step looked at last
    const auto passes = [&](int k) {
        const auto verdict = judge.quick(ladder, k, kept);
        seen = verdict ? verdict->utilisation : 0;
        if (!verdict) return false;
        if (verdict->passes) {
            if (!best || !best->passes || !ladder.rises || k < best_step) best = verdict, best_step = k;
        } else if (!best || (!best->passes && verdict->utilisation < best->utilisation)) {
            best = verdict, best_step = k;
        }
        if (best_step == k) end_at(k, *verdict, false);
        return verdict->passes;
    };
    int found = 0;
    if (ladder.rises) {
        if (ladder.n_steps < 1 || !passes(ladder.n_steps)) return change;
        // utilisation falls about as a power of what is changed: where its logarithm meets zero is the next
        // place to look; halving, in turn with that, ends the search whatever it does
        int low = 0, high = ladder.n_steps;
        double above = std::log(std::max(drawn, 1.001)), below = std::log(std::clamp(seen, 0.01, 0.999));
        for (bool halve = false; high - low > 1; halve = !halve) {
            const double share = halve ? 0.5 : above / (above - below);
            const int k =
                std::clamp(low + static_cast<int>(std::ceil(share * (high - low))), low + 1, high - 1);
            if (passes(k)) {
                high = k;
                below = std::log(std::clamp(seen, 0.01, 0.999));
            } else {
                low = k;
                above = std::log(std::max(seen, 1.001));
            }
        }
        found = high;
    } else {
        for (int k = 1; k <= ladder.n_steps && found == 0; ++k)
            if (passes(k)) found = k;
        if (found == 0) return change;
    }
    // its own mesh may say a little more, and loads that travel find another place to be worst in: a few
    // steps more at most
    constexpr int most_more = 4;
    for (int k = found; k <= std::min(ladder.n_steps, found + most_more); ++k) {
        const auto verdict = judge.full(ladder, k);
        if (!verdict) continue;
        end_at(k, *verdict, verdict->passes);
        if (verdict->passes) return change;
    }
    return change;
}

std::optional<Rectangle> box_of(const Recess& recess, const Top& top) {
    if (const auto* rectangle = std::get_if<RectangleShape>(&recess.shape)) return rectangle->box;
    if (const auto* rim = std::get_if<RimShape>(&recess.shape))
        return Rectangle{rim->rim, top.length - rim->rim, rim->rim, top.width - rim->rim};
    return std::nullopt;
}

void add_skin(const Piece& piece, std::vector<Ladder>& ladders) {
    if (piece.recesses.empty()) return;
    static constexpr double step = 0.5, least_left = 1; // mm
    double deepest = 0;
    for (const Recess& recess : piece.recesses) deepest = std::max(deepest, recess.depth);
    const double thickness = piece.top.thickness, skin = thickness - deepest;
    ladders.push_back({.change = {.kind = "skin", .from = skin, .to = skin},
                       .n_steps = static_cast<int>((deepest - least_left) / step),
                       .rises = true,
                       .step =
                           [](Piece& p, int k) {
                               for (Recess& recess : p.recesses)
                                   recess.depth =
                                       std::min(recess.depth, std::max(least_left, recess.depth - step * k));
                           },
                       .tell =
                           [skin, thickness](Remedy& change, int k) {
                               change.to = std::min(thickness - least_left, skin + step * k);
                           }});
}

void add_rim(const Piece& piece, std::vector<Ladder>& ladders) {
    constexpr double step = 10, least_wide = 60; // mm
    double narrowest = 1e9, rim = 1e9;
    for (const Recess& recess : piece.recesses) {
        const auto box = box_of(recess, piece.top);
        if (!box) return; // drawn by points: it has no one rim
        narrowest = std::min({narrowest, box->x1 - box->x0, box->y1 - box->y0});
        rim = std::min({rim, box->x0, box->y0, piece.top.length - box->x1, piece.top.width - box->y1});
    }
    if (piece.recesses.empty()) return;
    ladders.push_back({.change = {.kind = "rim", .from = rim, .to = rim},
                       .n_steps = static_cast<int>((narrowest - least_wide) / (2 * step)),
                       .rises = true,
                       .step = [](Piece& p, int k) { widen(p, "", -step * k); },
                       .tell = [rim](Remedy& change, int k) { change.to = rim + step * k; }});
}

void add_section(const Piece& piece, std::vector<Ladder>& ladders) {
    if (piece.stiffeners.empty() || piece.stiffeners.front().metal.empty()) return;
    const std::string from = piece.stiffeners.front().section;
    for (const Stiffener& bar : piece.stiffeners)
        if (bar.section != from) return;
    const materials::Section drawn = materials::parse_section(from);
    std::vector<std::pair<double, std::string>> heavier;
    for (const materials::SectionRow& row : materials::tabulated_sections()) {
        const std::string text = materials::text_of_section(row);
        if (text.empty()) continue;
        const materials::Section section = materials::parse_section(text);
        if (section.kind == drawn.kind && section.area > 1.05 * drawn.area &&
            section.height <= 2.5 * drawn.height && section.I_yy > drawn.I_yy)
            heavier.emplace_back(section.area, text);
    }
    std::sort(heavier.begin(), heavier.end());
    constexpr size_t most = 3;
    std::vector<std::string> tried;
    const size_t count = std::min(most, heavier.size());
    for (size_t i = 0; i < count; ++i)
        tried.push_back(heavier[count == 1 ? 0 : i * (heavier.size() - 1) / (count - 1)].second);
    if (tried.empty()) return;
    ladders.push_back(
        {.change = {.kind = "section", .section = from},
         .n_steps = static_cast<int>(tried.size()),
         .changes_stiffeners_alone = true,
         .rises = false,
         .step = [tried](Piece& p, int k) { set_section(p, "", tried[static_cast<size_t>(k - 1)]); },
         .tell = [tried](Remedy& change, int k) { change.section = tried[static_cast<size_t>(k - 1)]; }});
}

/// A steel angle along the middle of the largest recess, screwed into its skin; none where the skin is too
/// thin for a screw.
std::optional<Stiffener> first_stiffener(const Piece& piece) {
    std::optional<Rectangle> largest;
    double skin = 0, area = 0;
    for (const Recess& recess : piece.recesses) {
        const auto box = box_of(recess, piece.top);
        if (!box || (box->x1 - box->x0) * (box->y1 - box->y0) <= area) continue;
        area = (box->x1 - box->x0) * (box->y1 - box->y0);
        largest = box;
        skin = skin_of(recess, piece.top);
    }
    constexpr double grip = 3, to_the_face = 6, least_skin = 12,
                     clear = 25; // mm; the angle's leg; common practice; to the wall
    if (!largest || skin < least_skin) return std::nullopt;
    const bool along_x = largest->x1 - largest->x0 >= largest->y1 - largest->y0;
    const double middle = along_x ? (largest->y0 + largest->y1) / 2 : (largest->x0 + largest->x1) / 2;
    const Point from = along_x ? Point{largest->x0 + clear, middle} : Point{middle, largest->y0 + clear};
    const Point to = along_x ? Point{largest->x1 - clear, middle} : Point{middle, largest->y1 - clear};
    if (std::hypot(to.x - from.x, to.y - from.y) < 300) return std::nullopt;
    return Stiffener{.name = "stiffener 1",
                     .section = "angle 30x30x3",
                     .metal = "S235",
                     .wood = "",
                     .elastic = {},
                     .from = from,
                     .to = to,
                     .screws = {.diameter = 4.5,
                                .length = std::floor(grip + skin - to_the_face),
                                .spacing = 150,
                                .at = {},
                                .holes = Holes::slotted,
                                .stiffness = {}}};
}

void add_number(const Piece& piece, std::vector<Ladder>& ladders) {
    const auto drawn = static_cast<double>(piece.stiffeners.size());
    std::vector<Stiffener> like = piece.stiffeners;
    if (like.empty()) {
        const auto first = first_stiffener(piece);
        if (!first) return;
        like = {*first};
    }
    const int more_than = static_cast<int>(piece.stiffeners.size());
    ladders.push_back(
        {.change = {.kind = "number", .from = drawn, .to = drawn, .section = like.front().section},
         .n_steps = 2,
         .changes_stiffeners_alone = true,
         .rises = false,
         .step =
             [like, more_than](Piece& p, int k) {
                 p.stiffeners = like;
                 set_number(p, more_than + k);
             },
         .tell = [more_than](Remedy& change, int k) { change.to = more_than + k; }});
}

void add_supports(const Piece& piece, std::vector<Ladder>& ladders) {
    const bool along_x = piece.top.length >= piece.top.width;
    const double side = along_x ? piece.top.length : piece.top.width;
    double sum = 0, count = 0, largest = 0;
    for (const Support& support : piece.supports) {
        const auto* pad = std::get_if<Pad>(&support.kind);
        if (!pad) return; // bearers and rails belong to the base's own joinery
        const double at = along_x ? pad->at.x : pad->at.y, from_edge = std::min(at, side - at);
        largest = std::max({largest, pad->size_x, pad->size_y});
        if (from_edge > side / 3) continue;
        sum += from_edge;
        count += 1;
    }
    if (count < 2) return;
    const double from = sum / count;
    constexpr double grid = 10; // mm
    const double least = std::max(largest / 2, grid), most = 0.3 * side;
    // ever farther from where they stand, both ways in turn
    std::vector<double> places;
    constexpr int each_way = 2;
    for (int k = 1; k <= each_way; ++k)
        for (const double end : {most, least}) {
            const double place = grid * std::round((from + (end - from) * k / each_way) / grid);
            if (place >= least && place <= most && std::abs(place - from) >= grid / 2)
                places.push_back(place);
        }
    std::stable_sort(places.begin(), places.end(),
                     [&](double a, double b) { return std::abs(a - from) < std::abs(b - from); });
    places.erase(std::unique(places.begin(), places.end()), places.end());
    if (places.empty()) return;
    const Way way = along_x ? Way::x : Way::y;
    ladders.push_back(
        {.change = {.kind = "supports", .from = from, .to = from},
         .n_steps = static_cast<int>(places.size()),
         .rises = false,
         .step = [places, way](Piece& p, int k) { set_supports(p, way, places[static_cast<size_t>(k - 1)]); },
         .tell = [places](Remedy& change, int k) { change.to = places[static_cast<size_t>(k - 1)]; }});
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

void add_loads(std::vector<Ladder>& ladders) {
    constexpr int per_cent = 5, n_steps = 19;
    ladders.push_back({.change = {.kind = "loads", .from = 1, .to = 1},
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

std::optional<std::vector<Remedy>> remedies_for(const Piece& piece, const Result& failing,
                                                const CheckOptions& options) {
    if (failing.mesh.dofs > most_dofs) return std::nullopt;
    const int threads = threads_for(options.threads);
    std::vector<Ladder> ladders;
    add_skin(piece, ladders);
    add_rim(piece, ladders);
    add_section(piece, ladders);
    add_number(piece, ladders);
    add_supports(piece, ladders);
    add_loads(ladders);
    const Piece resting = with_worst_positions(with_recess_loads(with_use(piece)), threads).piece;
    const Judge judge(piece, resting, failing.mesh, options);
    const std::size_t kept_bytes = share_of_memory() / ladders.size(); // all may climb at once
    std::vector<Remedy> remedies(ladders.size());
    std::mutex telling;
    size_t done = 0;
    share_out(static_cast<int>(ladders.size()), threads, [&](int i, int) {
        remedies[static_cast<size_t>(i)] =
            climb(ladders[static_cast<size_t>(i)], judge, failing.governing_utilisation, kept_bytes);
        const std::lock_guard lock(telling);
        ++done;
        if (options.progress)
            options.progress(static_cast<double>(done) / static_cast<double>(ladders.size()));
    });
    return remedies;
}

} // namespace hollowtop
