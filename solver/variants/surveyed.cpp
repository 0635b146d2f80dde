// SPDX-License-Identifier: MIT
#include "solver/variants/surveyed.hpp"

#include "materials/error.hpp"
#include "materials/section.hpp"
#include "solver/numeric/threads.hpp"
#include "solver/piece/skin.hpp"
#include "solver/variants/edits.hpp"
#include "solver/variants/judge_each.hpp"
#include "solver/variants/skin_slopes.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hollowtop {
namespace {

/// `outcome`: where all of it is wanted.
SurveyCheck checked(const Piece& piece, const CheckOptions& options,
                    std::optional<CheckOutcome>* outcome = nullptr) {
    SurveyCheck check{.result = {}, .row = {}, .problem = {}};
    try {
        CheckOutcome all = check_piece(piece, options);
        check.result = all.result;
        if (outcome != nullptr) *outcome = std::move(all);
        check.row = row_of(piece, *check.result, {});
        double hardest = 0; // of the dishes that are judged the one nearest to its limit
        for (const CheckResult& one : check.result->checks)
            if (one.check == "dish" && one.utilisation > hardest)
                hardest = one.utilisation, check.row.dish_mm = one.demand;
    } catch (const Error& error) {
        check.problem = problem_of(error);
    }
    return check;
}

/// The rectangle that a patch for such a place fills.
Rectangle patch_over(const ThinPlace& place, const SkinGrid& grid) {
    constexpr double margin = 20, least = 80; // mm; common practice: a patch one can glue and clamp
    Rectangle r{place.extent.x0 - margin, place.extent.x1 + margin, place.extent.y0 - margin,
                place.extent.y1 + margin};
    const auto widen = [](double& from, double& to, double low, double high) {
        const double short_by = least - (to - from);
        if (short_by > 0) from -= short_by / 2, to += short_by / 2;
        from = std::max(from, low);
        to = std::min(to, high);
    };
    widen(r.x0, r.x1, grid.box.x0, grid.box.x1);
    widen(r.y0, r.y1, grid.box.y0, grid.box.y1);
    constexpr double whole = 5; // mm
    return {std::max(grid.box.x0, whole * std::floor(r.x0 / whole)),
            std::min(grid.box.x1, whole * std::ceil(r.x1 / whole)),
            std::max(grid.box.y0, whole * std::floor(r.y0 / whole)),
            std::min(grid.box.y1, whole * std::ceil(r.y1 / whole))};
}

/// The grid refined so that a patch's edges stand where they are within a few millimetres.
SkinGrid finer(const SkinGrid& grid) {
    constexpr int times = 3;
    SkinGrid fine{
        .box = grid.box, .nx = (grid.nx - 1) * times + 1, .ny = (grid.ny - 1) * times + 1, .thickness = {}};
    for (int j = 0; j < fine.ny; ++j)
        for (int i = 0; i < fine.nx; ++i)
            fine.thickness.push_back(
                thickness_in(grid, {fine.box.x0 + (fine.box.x1 - fine.box.x0) * i / (fine.nx - 1),
                                    fine.box.y0 + (fine.box.y1 - fine.box.y0) * j / (fine.ny - 1)}));
    return fine;
}

void patch(Piece& piece, const ThinPlace& place, const Rectangle& over, double skin) {
    Recess& recess = piece.recesses[static_cast<std::size_t>(place.recess)];
    if (!recess.surveyed) return;
    const double before = skin_of(recess, piece.top);
    SkinGrid grid = recess.surveyed->nx < 150 ? finer(*recess.surveyed) : *recess.surveyed;
    double added = 0;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const Point p{grid.box.x0 + (grid.box.x1 - grid.box.x0) * i / (grid.nx - 1),
                          grid.box.y0 + (grid.box.y1 - grid.box.y0) * j / (grid.ny - 1)};
            if (p.x < over.x0 || p.x > over.x1 || p.y < over.y0 || p.y > over.y1) continue;
            double& t = grid.thickness[static_cast<std::size_t>(j * grid.nx + i)];
            const double to = std::max(t, skin);
            added += to - t;
            t = to;
        }
    give_skin(recess, piece.top, std::move(grid), before + added / (grid.nx * grid.ny));
}

/// Where the skin is too thin for screws: of the top's own wood, glued along the grain, and never across it (common
/// practice).
std::optional<Stiffener> glued_batten(const Piece& piece, const ThinPlace& place, bool along_x) {
    constexpr double slack_deg = 5, wide = 25, highest = 45, clear = 2, lowest = 10, step = 5; // mm
    const double off = std::abs(std::remainder(piece.top.grain_deg - (along_x ? 0 : 90), 180));
    if (piece.top.wood.empty() || off > slack_deg) return std::nullopt;
    const double depth = piece.recesses[static_cast<std::size_t>(place.recess)].depth;
    const double high = std::min(highest, step * std::floor((depth - clear) / step));
    if (high < lowest) return std::nullopt;
    return Stiffener{
        .name = "",
        .section =
            "bar " + std::to_string(static_cast<int>(wide)) + "x" + std::to_string(static_cast<int>(high)),
        .metal = "",
        .wood = piece.top.wood,
        .elastic = {},
        .from = {},
        .to = {},
        .screws = {
            .diameter = 0, .length = 0, .spacing = 0, .at = {}, .holes = Holes::bonded, .stiffness = {}}};
}

/// As the first stiffener of the piece, or the one a piece is given that has none.
std::optional<Stiffener> bar_through(const Piece& piece, const ThinPlace& place, bool along_x) {
    std::optional<Stiffener> bar =
        piece.stiffeners.empty() ? first_stiffener(piece) : piece.stiffeners.front();
    if (!bar) bar = glued_batten(piece, place, along_x);
    if (!bar) return std::nullopt;
    constexpr double whole = 5; // mm
    put_bar(*bar, piece, along_x ? Way::x : Way::y,
            whole * std::round((along_x ? place.at.y : place.at.x) / whole));
    if (!bar->screws.at.empty()) bar->screws.at.clear(), bar->screws.spacing = 150;
    // no screw may come out where the skin is thinnest
    constexpr double to_the_face = 6, grip = 3;
    const SkinRange range = skin_range(piece.recesses[static_cast<std::size_t>(place.recess)], piece.top);
    if (is_screwed(bar->screws.holes) && piece.stiffeners.empty())
        bar->screws.length = std::min(bar->screws.length, std::floor(grip + range.thinnest - to_the_face));
    bar->name = along_x ? "bar along the thin place" : "bar across the thin place";
    return bar;
}

/// The band of the top as routed, and where to gauge next.
void put_band(const Piece& piece, const CheckOutcome& routed, int threads, SurveyAnswer& answer) {
    const std::string& check = routed.result.governing_check;
    const std::optional<TopSlopes> slopes = skin_slopes(routed, answer.survey, check, threads);
    if (!slopes) return;
    constexpr double ninety = 1.645; // deviations
    const auto band = [&](double value, const SkinSlopes& of) {
        const double factor = std::exp(ninety * std::hypot(log_scatter(answer.survey, of), line_error));
        return Band{value / factor, value, value * factor};
    };
    answer.band = RoutedBand{.sag_mm = band(answer.routed.row.sag_mm, slopes->sag),
                             .check = check,
                             .utilisation = band(routed.result.governing_utilisation, slopes->check),
                             .n_solves = slopes->n_solves};
    answer.next = next_reading(piece, answer.survey, slopes->check);
    answer.next_for = check;
    if (!answer.next) {
        answer.next = next_reading(piece, answer.survey, slopes->sag);
        answer.next_for = "sag";
    }
    constexpr double worth = 0.01; // a reading that takes less away is none to ask for
    if (answer.next && answer.next->removes < worth) answer.next.reset();
}

} // namespace

const char* key_of(Mend::Kind kind) {
    switch (kind) {
    case Mend::Kind::leave:
        return "leave";
    case Mend::Kind::patch:
        return "patch";
    case Mend::Kind::patches:
        return "patches";
    case Mend::Kind::level:
        return "level";
    case Mend::Kind::bar_along:
        return "bar_along";
    case Mend::Kind::bar_across:
        return "bar_across";
    }
    return "";
}

SurveyAnswer survey_and_check(const Piece& piece, std::span<const Reading> readings, const SurveyOptions& how,
                              const CheckOptions& options) {
    SurveyAnswer answer{.survey = survey_of(piece, readings, how),
                        .routed_piece = {},
                        .drawn = {},
                        .routed = {},
                        .low = {},
                        .places = {},
                        .mends = {},
                        .band = {},
                        .next = {},
                        .next_for = {},
                        .drawn_fields = {},
                        .routed_fields = {}};
    answer.routed_piece = as_routed(piece, answer.survey);
    const Piece low_piece = at_low_bound(piece, answer.survey);
    answer.places = thin_places(piece, answer.survey);

    struct Planned {
        Mend mend;
        Piece routed, low;
    };
    std::vector<Planned> plans;
    const auto plan = [&](Mend mend, const std::function<void(Piece&)>& change) {
        Planned one{.mend = std::move(mend), .routed = answer.routed_piece, .low = low_piece};
        change(one.routed);
        change(one.low);
        plans.push_back(std::move(one));
    };
    constexpr std::size_t most_places = 3;
    constexpr double whole_floor = 0.25;
    std::vector<std::pair<ThinPlace, Rectangle>> patches;
    for (const ThinPlace& place : answer.places) {
        const SkinGrid& grid = answer.survey.recesses[static_cast<std::size_t>(place.recess)].mean;
        const Rectangle over = patch_over(place, grid);
        if ((over.x1 - over.x0) * (over.y1 - over.y0) >=
            whole_floor * (grid.box.x1 - grid.box.x0) * (grid.box.y1 - grid.box.y0))
            continue;
        patches.emplace_back(place, over);
    }
    const auto drawn_skin = [&](const ThinPlace& place) {
        return answer.survey.recesses[static_cast<std::size_t>(place.recess)].drawn;
    };
    for (std::size_t k = 0; k < std::min(most_places, patches.size()); ++k) {
        const auto& [place, over] = patches[k];
        plan({.kind = Mend::Kind::patch,
              .place = place,
              .skin = drawn_skin(place),
              .size_x = over.x1 - over.x0,
              .size_y = over.y1 - over.y0,
              .bar = {},
              .routed = {},
              .low = {}},
             [&, place = place, over = over](Piece& p) { patch(p, place, over, drawn_skin(place)); });
    }
    if (patches.size() > 1)
        plan({.kind = Mend::Kind::patches,
              .place = {},
              .skin = drawn_skin(patches.front().first),
              .size_x = static_cast<double>(patches.size()),
              .bar = {},
              .routed = {},
              .low = {}},
             [&](Piece& p) {
                 for (const auto& [place, over] : patches) patch(p, place, over, drawn_skin(place));
             });
    if (!answer.places.empty()) {
        const ThinPlace& thinnest = answer.places.front();
        const auto r = static_cast<std::size_t>(thinnest.recess);
        // to the next tenth below, over the whole floor; at the low bound to what is sure of it
        const auto down_to = [&](double skin) { return std::max(least_skin, std::floor(skin * 10) / 10); };
        const double to = down_to(thinnest.skin.mean);
        Planned level{.mend = {.kind = Mend::Kind::level,
                               .place = thinnest,
                               .skin = to,
                               .bar = {},
                               .routed = {},
                               .low = {}},
                      .routed = answer.routed_piece,
                      .low = low_piece};
        level.routed.recesses[r].surveyed.reset();
        level.routed.recesses[r].depth = depth_for_skin(to, level.routed.top);
        level.low.recesses[r].surveyed.reset();
        level.low.recesses[r].depth =
            depth_for_skin(down_to(to - low_factor * thinnest.skin.sd), level.low.top);
        plans.push_back(std::move(level));
        for (const bool along_x : {true, false})
            if (const auto bar = bar_through(low_piece, thinnest, along_x))
                plan({.kind = along_x ? Mend::Kind::bar_along : Mend::Kind::bar_across,
                      .place = thinnest,
                      .bar = bar,
                      .routed = {},
                      .low = {}},
                     [&](Piece& p) { p.stiffeners.push_back(*bar); });
    }

    const double steps = 3 + 2 * static_cast<double>(plans.size());
    double done = 0;
    CheckOptions check = options;
    const auto run = [&](const Piece& p, std::optional<CheckOutcome>* outcome = nullptr) {
        check.progress = [&](double share) {
            if (options.progress) options.progress((done + share) / steps);
        };
        SurveyCheck result = checked(p, check, outcome);
        ++done;
        return result;
    };
    std::optional<CheckOutcome> drawn, routed;
    answer.drawn = run(piece, &drawn);
    answer.routed = run(answer.routed_piece, &routed);
    if (drawn) answer.drawn_fields = std::move(drawn->fields);
    if (routed) answer.routed_fields = std::move(routed->fields);
    check.want_fields = false;
    answer.low = run(low_piece);
    check.essentials = true; // what follows says whether it helps
    answer.mends.push_back(
        {.kind = Mend::Kind::leave, .place = {}, .bar = {}, .routed = answer.routed, .low = answer.low});
    for (Planned& one : plans) {
        one.mend.routed = run(one.routed);
        one.mend.low = run(one.low);
        answer.mends.push_back(std::move(one.mend));
    }
    if (routed) put_band(piece, *routed, threads_for(options.threads), answer);
    return answer;
}

} // namespace hollowtop
