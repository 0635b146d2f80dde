// SPDX-License-Identifier: MIT
#include "solver/survey/survey.hpp"

#include "materials/error.hpp"
#include "solver/piece/skin.hpp"
#include "solver/piece/wording.hpp"
#include "solver/survey/sift.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hollowtop {
namespace {

/// Crossings of the grid that a field is kept on: about so many, square, of the same step both ways.
constexpr double crossings = 2400;

/// Fewer readings in the rim say too little of a whole board.
constexpr std::size_t least_in_rim = 3;

SkinGrid empty_grid(const Rectangle& box) {
    const double wide = box.x1 - box.x0, high = box.y1 - box.y0, step = std::sqrt(wide * high / crossings);
    SkinGrid grid{.box = box,
                  .nx = std::max(2, static_cast<int>(std::ceil(wide / step)) + 1),
                  .ny = std::max(2, static_cast<int>(std::ceil(high / step)) + 1),
                  .thickness = {}};
    grid.thickness.reserve(static_cast<std::size_t>(grid.nx * grid.ny));
    return grid;
}

Point crossing(const SkinGrid& grid, int i, int j) {
    return {grid.box.x0 + (grid.box.x1 - grid.box.x0) * i / (grid.nx - 1),
            grid.box.y0 + (grid.box.y1 - grid.box.y0) * j / (grid.ny - 1)};
}

RecessSurvey survey_of_recess(const Piece& piece, const ThicknessField& field, int recess,
                              const std::vector<Observed>& observed) {
    const auto r = static_cast<std::size_t>(recess);
    RecessSurvey survey{
        .recess = recess, .n_readings = observed.size(), .drawn = skin_of(piece.recesses[r], piece.top)};
    survey.mean_skin = survey.drawn;
    if (observed.empty()) return survey;
    const Rectangle box = bounds_of(field.recesses[r].loop);
    survey.observed = thinned_to(observed, box, most_of_a_field);
    survey.field = std::make_shared<const Kriging>(survey.observed, box);
    const Kriging& kriging = *survey.field;
    survey.bumps = kriging.bumps();
    survey.mean = survey.sd = empty_grid(box);
    std::vector<Point> places;
    for (int j = 0; j < survey.mean.ny; ++j)
        for (int i = 0; i < survey.mean.nx; ++i) places.push_back(crossing(survey.mean, i, j));
    const std::vector<Estimate> found = kriging.at(places);
    double sum = 0, sums = 0;
    int n = 0;
    for (int j = 0; j < survey.mean.ny; ++j)
        for (int i = 0; i < survey.mean.nx; ++i) {
            const Point at = crossing(survey.mean, i, j);
            const Estimate& here = found[static_cast<std::size_t>(j * survey.mean.nx + i)];
            survey.mean.thickness.push_back(
                std::clamp(here.mean, least_skin, piece.top.thickness - least_skin));
            survey.sd.thickness.push_back(here.sd);
            if (region_at(field, at) != recess + 1) continue;
            sum += survey.mean.thickness.back();
            sums += here.sd;
            if (n++ == 0 || survey.mean.thickness.back() < survey.thinnest.mean) {
                survey.thinnest = {survey.mean.thickness.back(), here.sd};
                survey.thinnest_at = at;
            }
        }
    survey.mean_skin = n > 0 ? sum / n : survey.mean.thickness.front();
    survey.mean_sd = n > 0 ? sums / n : 0;
    return survey;
}

RimSurvey survey_of_rim(const Piece& piece, const ThicknessField& field,
                        const std::vector<Observed>& observed) {
    const Rectangle box = bounds_of(field.outline);
    RimSurvey rim{.n_readings = observed.size(), .drawn = piece.top.thickness};
    rim.observed = thinned_to(observed, box, most_of_a_field);
    rim.field = std::make_shared<const Kriging>(rim.observed, box);
    const Kriging& kriging = *rim.field;
    rim.found = rim.found_sd = empty_grid(box);
    std::vector<Point> crossings_of_all;
    for (int j = 0; j < rim.found.ny; ++j)
        for (int i = 0; i < rim.found.nx; ++i) crossings_of_all.push_back(crossing(rim.found, i, j));
    for (const Estimate& here : kriging.at(crossings_of_all)) {
        rim.found.thickness.push_back(std::max(here.mean, least_skin));
        rim.found_sd.thickness.push_back(here.sd);
    }
    constexpr int nx = 20, ny = 12;
    std::vector<Point> places;
    for (int j = 0; j < ny; ++j)
        for (int i = 0; i < nx; ++i) {
            const Point at{box.x0 + (box.x1 - box.x0) * (i + 0.5) / nx,
                           box.y0 + (box.y1 - box.y0) * (j + 0.5) / ny};
            if (region_at(field, at) == full_thickness) places.push_back(at);
        }
    if (places.empty())
        for (const Observed& one : observed) places.push_back(one.at);
    const auto n = static_cast<double>(places.size());
    const std::vector<Estimate> found = kriging.at(places);
    double variance = 0;
    for (std::size_t k = 0; k < places.size(); ++k) {
        rim.mean += found[k].mean / n;
        rim.low += (found[k].mean - low_factor * found[k].sd) / n;
        for (const Point& b : places) variance += kriging.covariance(places[k], b) / (n * n);
        if (k == 0 || found[k].mean < rim.thinnest.mean) rim.thinnest = found[k], rim.thinnest_at = places[k];
        if (k == 0 || found[k].mean > rim.thickest.mean) rim.thickest = found[k], rim.thickest_at = places[k];
    }
    rim.mean_sd = std::sqrt(std::max(0.0, variance));
    return rim;
}

/// The mean of a field over its recess.
double mean_over(const ThicknessField& field, int recess, const SkinGrid& grid) {
    double sum = 0;
    int n = 0;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            if (region_at(field, crossing(grid, i, j)) != recess + 1) continue;
            sum += grid.thickness[static_cast<std::size_t>(j * grid.nx + i)];
            ++n;
        }
    return n > 0 ? sum / n : grid.thickness.front();
}

Piece with_fields(const Piece& piece, const Survey& survey, bool low) {
    Piece routed = piece;
    if (survey.rim) {
        SkinGrid grid = survey.rim->found;
        for (std::size_t k = 0; low && k < grid.thickness.size(); ++k)
            grid.thickness[k] =
                std::max(grid.thickness[k] - low_factor * survey.rim->found_sd.thickness[k], least_skin);
        // where nothing was read, the skin is as drawn
        give_thickness(routed, std::move(grid), low ? survey.rim->low : survey.rim->mean);
    }
    const ThicknessField field = thickness_field(piece, {}, false);
    for (const RecessSurvey& one : survey.recesses) {
        if (one.n_readings == 0) continue;
        SkinGrid grid = one.mean;
        for (std::size_t k = 0; k < grid.thickness.size(); ++k) {
            if (low) grid.thickness[k] -= low_factor * one.sd.thickness[k];
            grid.thickness[k] = std::clamp(grid.thickness[k], least_skin, routed.top.thickness - least_skin);
        }
        const double mean = mean_over(field, one.recess, grid);
        give_skin(routed.recesses[static_cast<std::size_t>(one.recess)], routed.top, std::move(grid), mean);
    }
    return routed;
}

} // namespace

Survey survey_of(const Piece& piece, std::span<const Reading> readings, const SurveyOptions& options) {
    const ThicknessField field = thickness_field(piece, {}, false);
    Sifted sifted = sift(piece, field, readings, options);
    Survey survey{.recesses = {},
                  .rim = {},
                  .named = std::move(sifted.named),
                  .n_readings = readings.size(),
                  .options = options};
    std::size_t of_recesses = 0;
    for (std::size_t r = 0; r < piece.recesses.size(); ++r) {
        const std::vector<Observed>& own = sifted.of_region[r + 1];
        survey.recesses.push_back(survey_of_recess(piece, field, static_cast<int>(r), own));
        survey.averaged = survey.averaged || own.size() > most_of_a_field;
        of_recesses += own.size();
    }
    if (sifted.of_region[0].size() >= least_in_rim) {
        survey.rim = survey_of_rim(piece, field, sifted.of_region[0]);
        survey.averaged = survey.averaged || sifted.of_region[0].size() > most_of_a_field;
    }
    survey.n_used = sifted.n_used;
    if (!survey.rim && !sifted.of_region[0].empty()) {
        survey.n_used -= sifted.of_region[0].size();
        for (const Observed& one : sifted.of_region[0])
            survey.named.push_back(
                {{.at = one.at, .thickness = one.value},
                 false,
                 said("lies in the rim, where {} readings or more say how thick the board is; "
                      "{} are used as drawn",
                      std::to_string(least_in_rim), in_mm(piece.top.thickness))});
    }
    if (of_recesses == 0 && !survey.rim)
        throw Error(ErrorKind::input,
                    Fault{"readings", "none of them can be used",
                          survey.named.empty() ? Message("give x, y and the thickness found there")
                                               : said("the first: {}", survey.named.front().why)});
    return survey;
}

Piece as_routed(const Piece& piece, const Survey& survey) { return with_fields(piece, survey, false); }
Piece at_low_bound(const Piece& piece, const Survey& survey) { return with_fields(piece, survey, true); }

std::vector<ThinPlace> thin_places(const Piece& piece, const Survey& survey) {
    constexpr double least = 1.0 / 3; // mm
    constexpr std::size_t most = 6;
    const ThicknessField field = thickness_field(piece, {}, false);
    std::vector<ThinPlace> places;
    for (const RecessSurvey& one : survey.recesses) {
        const SkinGrid& grid = one.mean;
        if (one.n_readings == 0) continue;
        const auto value = [&](int i, int j) {
            return grid.thickness[static_cast<std::size_t>(j * grid.nx + i)];
        };
        const auto inside = [&](int i, int j) {
            return i >= 0 && j >= 0 && i < grid.nx && j < grid.ny &&
                   region_at(field, crossing(grid, i, j)) == one.recess + 1;
        };
        const auto is_lowest = [&](int i, int j) {
            for (int b = j - 1; b <= j + 1; ++b)
                for (int a = i - 1; a <= i + 1; ++a)
                    if (inside(a, b) && (value(a, b) < value(i, j) ||
                                         (value(a, b) == value(i, j) && (b < j || (b == j && a < i)))))
                        return false;
            return true;
        };
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i) {
                const double here = value(i, j), under = one.drawn - here;
                if (under < least || !inside(i, j)) continue;
                // of a floor that lies deep all over, hollows in it; the thinnest place is told in any case
                const bool is_thinnest = here <= one.thinnest.mean;
                const double drop = std::min(under, one.mean_skin - here);
                if ((drop < least && !is_thinnest) || !is_lowest(i, j)) continue;
                const auto reach = [&](int di, int dj) { // to where half of the drop is made up
                    int k = 0;
                    while (inside(i + (k + 1) * di, j + (k + 1) * dj) &&
                           value(i + (k + 1) * di, j + (k + 1) * dj) < here + std::max(drop, least) / 2)
                        ++k;
                    return crossing(grid, i + k * di, j + k * dj);
                };
                places.push_back({.recess = one.recess,
                                  .at = crossing(grid, i, j),
                                  .skin = {here, one.sd.thickness[static_cast<std::size_t>(j * grid.nx + i)]},
                                  .under_drawn = under,
                                  .extent = {reach(-1, 0).x, reach(1, 0).x, reach(0, -1).y, reach(0, 1).y}});
            }
    }
    std::stable_sort(places.begin(), places.end(),
                     [](const ThinPlace& a, const ThinPlace& b) { return a.skin.mean < b.skin.mean; });
    // what lies in the extent of a thinner place belongs to it
    std::vector<ThinPlace> apart;
    for (const ThinPlace& place : places) {
        const bool belongs = std::any_of(apart.begin(), apart.end(), [&](const ThinPlace& other) {
            const Rectangle& e = other.extent;
            return other.recess == place.recess && place.at.x >= e.x0 && place.at.x <= e.x1 &&
                   place.at.y >= e.y0 && place.at.y <= e.y1;
        });
        if (!belongs && apart.size() < most) apart.push_back(place);
    }
    return apart;
}

bool wanders(const RimSurvey& rim) {
    constexpr double least = 0.5; // mm
    const double apart = rim.thickest.mean - rim.thinnest.mean;
    return apart >= least && apart > low_factor * std::hypot(rim.thinnest.sd, rim.thickest.sd);
}

double log_scatter(const Survey& survey, const SkinSlopes& slopes) {
    double variance = 0;
    for (std::size_t r = 0; r < survey.recesses.size(); ++r)
        if (survey.recesses[r].field && !slopes.of_recess[r].empty())
            variance += std::pow(survey.recesses[r].field->sum(slopes.of_recess[r]).sd, 2);
    if (survey.rim && !slopes.of_rim.empty())
        variance += std::pow(survey.rim->field->sum(slopes.of_rim).sd, 2);
    return std::sqrt(variance);
}

std::optional<NextReading> next_reading(const Piece& piece, const Survey& survey, const SkinSlopes& slopes) {
    const ThicknessField field = thickness_field(piece, {}, false);
    constexpr int n = 14;
    std::optional<NextReading> best;
    double variance = 0;
    const double clear = 2 * survey.options.foot;
    const auto consider = [&](int recess, const Rectangle& box, const Kriging& of,
                              const std::vector<Weighed>& weights, const auto& may_stand) {
        std::vector<Point> candidates;
        for (int j = 0; j < n; ++j)
            for (int i = 0; i < n; ++i) {
                const Point p{box.x0 + (box.x1 - box.x0) * (i + 0.5) / n,
                              box.y0 + (box.y1 - box.y0) * (j + 0.5) / n};
                if (region_at(field, p) == recess + 1 && may_stand(p)) candidates.push_back(p);
            }
        const Kriging::Removal removal = of.removal(weights, candidates, survey.options.gauge_sd);
        variance += removal.variance;
        for (std::size_t c = 0; c < candidates.size(); ++c)
            if (!best || removal.removed[c] > best->removes)
                best = NextReading{.recess = recess,
                                   .at = candidates[c],
                                   .removes = removal.removed[c],
                                   .sd = of.at(candidates[c]).sd};
    };
    for (std::size_t r = 0; r < survey.recesses.size(); ++r) {
        const RecessSurvey& one = survey.recesses[r];
        if (!one.field || slopes.of_recess[r].empty()) continue;
        const Loop& loop = field.recesses[r].loop;
        consider(one.recess, bounds_of(loop), *one.field, slopes.of_recess[r],
                 [&](Point p) { return is_clear_of_walls(loop, p, clear); });
    }
    if (survey.rim && !slopes.of_rim.empty())
        consider(-1, bounds_of(field.outline), *survey.rim->field, slopes.of_rim, [&](Point p) {
            return is_clear_of_walls(field.outline, p, clear) &&
                   std::all_of(field.recesses.begin(), field.recesses.end(), [&](const RecessPlan& recess) {
                       return is_clear_of_walls(recess.loop, p, clear) &&
                              std::all_of(recess.lands.begin(), recess.lands.end(), [&](const Loop& land) {
                                  return is_clear_of_walls(land, p, clear);
                              });
                   });
        });
    if (!best || !(best->removes > 0)) return std::nullopt;
    best->removes /= variance;
    return best;
}

} // namespace hollowtop
