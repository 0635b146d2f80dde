// SPDX-License-Identifier: MIT
#include "solver/check/coarse_top.hpp"

#include "solver/model/make_model.hpp"

#include <algorithm>
#include <map>

namespace hollowtop {
namespace {

constexpr size_t most_dish_points = 200, most_walls = 70;
constexpr double sparse = 1.5; // of the survey on the small cells of round tops

template <class P> std::vector<P> thinned(const std::vector<P>& points, size_t most) {
    const size_t every = points.size() / most + 1;
    std::vector<P> some;
    for (size_t i = 0; i < points.size(); i += every) some.push_back(points[i]);
    return some;
}

/// Walls are read at fewer places, each of which stands for more of them.
std::vector<WallPoint> thinned_walls(const std::vector<WallPoint>& points, size_t most) {
    std::vector<WallPoint> some = thinned(points, most);
    for (WallPoint& point : some)
        point.length *= static_cast<double>(points.size()) / static_cast<double>(some.size());
    return some;
}

/// Of a grid so many points at most, and no place that none of them is read at.
DishGrid thinned(const DishGrid& grid, size_t most) {
    DishGrid some{.places = {}, .points = thinned(grid.points, most)};
    std::map<size_t, size_t> renumbered;
    const auto keep = [&](size_t& place) {
        const auto [known, is_new] = renumbered.try_emplace(place, some.places.size());
        if (is_new) some.places.push_back(grid.places[place]);
        place = known->second;
    };
    for (DishPoint& point : some.points) {
        for (size_t* place : {&point.here, &point.rim.low, &point.rim.high}) keep(*place);
        if (point.other)
            for (size_t* place : {&point.other->low, &point.other->high}) keep(*place);
    }
    return some;
}

std::shared_ptr<const Model> coarse_model(const Piece& piece, int threads) {
    const double largest = std::max(piece.top.length, piece.top.width) / 8;
    const MeshSize size{
        .largest = largest, .at_walls = largest / 3, .at_edges = largest, .growth = 1, .across_round = 8};
    return std::make_shared<const Model>(make_model(piece, {.shell = {.size = size, .order = 3},
                                                            .threads = threads,
                                                            .bonded = true,
                                                            .finer_at = {},
                                                            .coarse_beds = true}));
}

} // namespace

CoarseTop::CoarseTop(const Piece& standing, int n_threads, bool stability)
    : piece(standing), threads(n_threads), has_stability(stability), model(coarse_model(standing, n_threads)),
      solver(*model, standing.allowables.basis), means(survey_means(model->shell, sparse)),
      dish(thinned(dish_grid(model->shell), most_dish_points)),
      walls(thinned_walls(wall_points(model->shell), most_walls)),
      tension(model->shell, model->line_ends, true), spans(spans_of(standing, model->shell)) {}

std::shared_ptr<const CoarseTop> coarse_top(const Piece& standing, int threads, bool has_stability) {
    return std::make_shared<const CoarseTop>(standing, threads, has_stability);
}

} // namespace hollowtop
