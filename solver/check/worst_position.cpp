// SPDX-License-Identifier: MIT
#include "solver/check/worst_position.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "solver/checks/checks.hpp"
#include "solver/numeric/threads.hpp"
#include "solver/readout/gather.hpp"
#include "solver/readout/gather_bars.hpp"
#include "solver/situations/load_positions.hpp"
#include "solver/situations/travelling_load.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <string_view>
#include <utility>

namespace hollowtop {
namespace {

constexpr double finest_step = 5;         // mm: a hand is set down no more exactly
constexpr double places_of_grid = 150;    // about
constexpr double worth_refining = 0.1;    // of what is allowed
constexpr double worth_telling = 1.0 / 3; // a check below that gets no situation of its own
constexpr double worth_a_second = 0.2;    // a check below that is climbed from its greatest peak only
constexpr double as_bad = 0.99;           // a place that comes this near to the worst stands for it
constexpr double rival = 0.75;            // other peaks this high are climbed too
constexpr double lifts_visibly = 0.05;    // mm
constexpr size_t most_at_once = 32;       // places solved together
constexpr size_t read_together = 8;       // of those, whose stresses are read together
constexpr size_t most_dish_points = 200, most_walls = 70;
constexpr double sparse = 1.5; // of the survey on the small cells of round tops

struct Tried {
    Point at;
    std::vector<double> used;
    bool tips = false;
    double tips_at = 0; ///< share of the load
};

/// Rises off a support that carries nothing, mm.
double lift_off(const Model& model, const SolvedSituation& s) {
    std::vector<double> gap(model.supports.centres.size(), 1e300);
    for (size_t k = 0; k < model.points.size(); ++k) {
        double& least = gap[static_cast<size_t>(model.points[k].support)];
        least = std::min(least, s.point_presses[k] ? 0 : s.connection_gap[k] - model.points[k].gap);
    }
    double most = 0;
    for (const double g : gap)
        if (g < 1e299) most = std::max(most, g);
    return most;
}

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

/// Of each stiffener the screws that take most: in shear, pulled out, and in both.
std::vector<ScrewForce> hardest_worked(const std::vector<ScrewForce>& screws, size_t n_stiffeners) {
    std::vector<ScrewForce> hardest;
    for (size_t i = 0; i < n_stiffeners; ++i) {
        const auto take = [&](auto&& effort) {
            const ScrewForce* most = nullptr;
            for (const ScrewForce& screw : screws)
                if (static_cast<size_t>(screw.stiffener) == i &&
                    (most == nullptr || effort(screw) > effort(*most)))
                    most = &screw;
            if (most != nullptr) hardest.push_back(*most);
        };
        take([](const ScrewForce& s) { return s.shear_N / s.thread; }); // what holds less bears less
        take([](const ScrewForce& s) { return s.withdrawal_N / s.thread; });
        take([](const ScrewForce& s) { return std::hypot(s.shear_N, s.withdrawal_N) / s.thread; });
    }
    return hardest;
}

/// An even number of steps: tops are mostly alike on both sides, and many a peak lies on the middle line.
std::vector<double> even_steps(double from, double to, double step) {
    if (to - from < 1e-6) return {(from + to) / 2};
    const int n = 2 * std::max(1, static_cast<int>(std::ceil((to - from) / (2 * step) - 1e-9)));
    std::vector<double> steps;
    for (int i = 0; i <= n; ++i) steps.push_back(from + (to - from) * i / n);
    return steps;
}

std::vector<std::string> names_of_checks() {
    std::vector<std::string> names;
    for (const Check& check : table_of_checks()) names.emplace_back(check.name);
    names.emplace_back("lift-off");
    return names;
}

} // namespace

struct CoarseTop {
    Piece piece;
    int threads;
    bool has_stability;
    std::shared_ptr<const Model> model;
    LoadPositionSolver solver;
    std::vector<StrainMean> means;
    DishGrid dish;
    std::vector<WallPoint> walls;
    TensionPoints tension;
    Response base{}; ///< of what checks read besides the situation: nothing

    CoarseTop(const Piece& p, int n, bool stability)
        : piece(p), threads(n), has_stability(stability), model(coarse_model(p, n)),
          solver(*model, p.allowables.basis), means(survey_means(model->shell, sparse)),
          dish(thinned(dish_grid(model->shell), most_dish_points)),
          walls(thinned_walls(wall_points(model->shell), most_walls)),
          tension(model->shell, model->line_ends, true) {}
    static std::shared_ptr<const Model> coarse_model(const Piece& piece, int threads) {
        const double largest = std::max(piece.top.length, piece.top.width) / 8;
        const MeshSize size{
            .largest = largest, .at_walls = largest / 3, .at_edges = largest, .growth = 1, .across_round = 8};
        return std::make_shared<const Model>(make_model(piece, {.shell = {.size = size, .order = 3},
                                                                .threads = threads,
                                                                .bonded = true,
                                                                .finer_at = {},
                                                                .coarse_beds = true}));
    }
};

std::shared_ptr<const CoarseTop> coarse_top(const Piece& piece, int threads, bool has_stability) {
    return std::make_shared<const CoarseTop>(piece, threads, has_stability);
}

struct PositionSearch::Body {
    std::shared_ptr<const CoarseTop> top;
    const Piece& piece;
    const std::shared_ptr<const Model>& model;
    Load load;
    std::optional<materials::AllowableStresses> allowables;
    std::vector<std::string> names = names_of_checks();
    Rectangle range;
    double step;
    std::vector<double> xs, ys;
    std::map<std::pair<long, long>, size_t> known;
    std::vector<Tried> tried;

    Body(std::shared_ptr<const CoarseTop> t, const Load& l, KeptAllowables& kept)
        : top(std::move(t)), piece(top->piece), model(top->model), load(l),
          allowables(kept.of(piece, l.duration, l.judged_for)), range(roaming_range(l, piece.top)),
          step(std::sqrt(piece.top.length * piece.top.width / places_of_grid)),
          xs(even_steps(range.x0, range.x1, step)), ys(even_steps(range.y0, range.y1, step)) {}

    double needed() const { return tipping_format(piece.allowables.basis, load.judged_for).needed; }
    size_t tipping_row() const {
        return static_cast<size_t>(std::find(names.begin(), names.end(), "tipping") - names.begin());
    }
    size_t lift_row() const { return names.size() - 1; }
    static std::pair<long, long> key(Point p) { return {std::lround(p.x * 100), std::lround(p.y * 100)}; }
    const Tried* find(Point p) const {
        const auto it = known.find(key(p));
        return it == known.end() ? nullptr : &tried[it->second];
    }

    bool counts_for_tipping() const { return load.judged_for != LoadFor::strength || !top->has_stability; }
    /// A load for stability on a top that nothing holds down: no stress is asked for.
    bool only_tips() const { return load.judged_for == LoadFor::stability && top->solver.is_loose(); }
    bool has_designs() const { return piece.allowables.basis == AllowablesBasis::strength_class; }
    PositionFactors design_factors() const {
        return {.permanent = design_factor(Duration::permanent, LoadFor::everyday, false),
                .lasting = design_factor(Duration::long_term, LoadFor::everyday, false),
                .passing = design_factor(load.duration, load.judged_for, true),
                .slip = slip_in_design};
    }

    /// Judges the rows that this kind of situation is for.
    void judge(const SolvedSituation& solved, std::vector<StressSample> survey, const TensionAcross& tension,
               std::vector<double>& used) const {
        const bool is_design = solved.plan.design_of >= 0;
        SituationResponse response = situation_response(
            piece, *model, solved, is_design ? Movements{} : movements_of(*model, solved, top->dish),
            top->walls, std::move(survey));
        response.tension_across = tension;
        gather_bars_of(piece, *model, solved, response);
        response.screws = hardest_worked(response.screws, piece.stiffeners.size());
        if (!counts_for_tipping()) response.tipping.reset();
        size_t row = 0;
        for (const Check& check : table_of_checks()) {
            const size_t here = row++;
            const bool wants_design =
                has_designs() && (check.judged == JudgedOn::strength || check.judged == JudgedOn::uplift);
            if (!applies(check, response) || wants_design != is_design || check.judged == JudgedOn::top)
                continue;
            const auto judgement = check.judge({.piece = piece,
                                                .response = top->base,
                                                .situation = response,
                                                .plane = model->shell.plane,
                                                .allowables = allowables,
                                                .briefly = true});
            const bool is_told =
                judgement &&
                (judgement->advice || (check.is_told_of_tests && load.judged_for == LoadFor::strength));
            if (judgement && !is_told && judgement->demand > 0)
                used[here] =
                    judgement->capacity > 0 ? std::min(judgement->demand / judgement->capacity, 999.0) : 999;
        }
        if (!is_design && load.judged_for == LoadFor::everyday) used[row] = lift_off(*model, solved);
    }

    void try_places(const std::vector<Point>& places) {
        std::vector<Point> fresh;
        for (const Point p : places) {
            if (known.count(key(p)) || !lies_on(model->shell.field, load, p)) continue;
            known.emplace(key(p), tried.size() + fresh.size());
            fresh.push_back(p);
        }
        for (size_t from = 0; from < fresh.size(); from += most_at_once) {
            std::vector<Load> placed;
            for (size_t k = from; k < std::min(fresh.size(), from + most_at_once); ++k)
                placed.push_back(set_down(load, fresh[k]));
            if (only_tips()) {
                for (size_t k = 0; k < placed.size(); ++k) {
                    Tried& t = tried.emplace_back(
                        Tried{.at = fresh[from + k], .used = std::vector<double>(names.size(), 0)});
                    const auto reserve = top->solver.reserve_of(placed[k]);
                    if (reserve)
                        t.used[tipping_row()] =
                            reserve->reached > 1e-3 ? reserve->needed / reserve->reached : 999;
                }
                continue;
            }
            const std::vector<LoadPositionAnswer> answers = top->solver.solve(placed);
            const std::vector<LoadPositionAnswer> designs = has_designs()
                                                                ? top->solver.solve(placed, design_factors())
                                                                : std::vector<LoadPositionAnswer>{};
            std::vector<Tried> now(answers.size());
            const auto n_groups = static_cast<int>((answers.size() + read_together - 1) / read_together);
            share_out(n_groups, top->threads, [&](int group, int) {
                const size_t first = static_cast<size_t>(group) * read_together,
                             last = std::min(answers.size(), first + read_together);
                std::vector<const SolvedSituation*> stands;
                for (size_t k = first; k < last; ++k) {
                    if (answers[k].solved) stands.push_back(&*answers[k].solved);
                    if (!designs.empty() && answers[k].solved && designs[k].solved)
                        stands.push_back(&*designs[k].solved);
                }
                std::vector<std::vector<StressSample>> surveys =
                    stresses_in(model->shell, stands, top->means);
                const std::vector<TensionAcross> tension =
                    tension_across_in(model->shell, top->tension, stands);
                auto survey = surveys.begin();
                auto sum = tension.begin();
                for (size_t k = first; k < last; ++k) {
                    Tried& t = now[k];
                    t.at = fresh[from + k];
                    t.used.assign(names.size(), 0);
                    if (answers[k].solved) {
                        judge(*answers[k].solved, std::move(*survey++), *sum++, t.used);
                        if (!designs.empty() && designs[k].solved)
                            judge(*designs[k].solved, std::move(*survey++), *sum++, t.used);
                    } else {
                        t.tips = true;
                        t.tips_at =
                            answers[k].tipping ? answers[k].tipping->reached : answers[k].tips_at.value_or(0);
                        t.used[tipping_row()] = t.tips_at > 1e-3 ? needed() / t.tips_at : 999;
                    }
                }
            });
            tried.insert(tried.end(), now.begin(), now.end());
        }
    }

    /// The same wherever the load lies: not the load's doing.
    bool is_even(size_t row) const {
        return std::all_of(tried.begin(), tried.end(),
                           [&](const Tried& t) { return t.tips || t.used[row] == tried.front().used[row]; });
    }

    const Tried& worst(size_t row) const {
        return *std::max_element(tried.begin(), tried.end(),
                                 [&](const Tried& a, const Tried& b) { return a.used[row] < b.used[row]; });
    }

    /// The peaks of a row to climb: the greatest, and others well away that come near; more where they matter
    /// more.
    std::vector<Point> starts(size_t row) const {
        const double best = worst(row).used[row];
        // a top that tips fails by that, and all else grows up to the edge of tipping
        const bool tips = row != tipping_row() && worst(tipping_row()).tips;
        const size_t most = tips                                          ? 1
                            : best >= worth_telling                       ? 3
                            : best >= worth_a_second || row == lift_row() ? 2
                                                                          : 1;
        std::vector<const Tried*> order;
        for (const Tried& t : tried)
            if (t.used[row] >= rival * best) order.push_back(&t);
        std::stable_sort(order.begin(), order.end(),
                         [&](const Tried* a, const Tried* b) { return a->used[row] > b->used[row]; });
        std::vector<Point> peaks;
        for (const Tried* t : order) {
            if (peaks.size() == most) break;
            if (std::none_of(peaks.begin(), peaks.end(),
                             [&](Point p) { return std::hypot(t->at.x - p.x, t->at.y - p.y) < 1.6 * step; }))
                peaks.push_back(t->at);
        }
        return peaks;
    }

    /// A place off the top is drawn towards the middle until the load lies on it: so the search slides along
    /// a curved edge.
    std::optional<Point> drawn_in(Point p, double furthest) const {
        const auto lies = [&](Point at) { return lies_on(model->shell.field, load, at); };
        if (lies(p)) return p;
        const Point middle{(range.x0 + range.x1) / 2, (range.y0 + range.y1) / 2};
        const double length = std::hypot(middle.x - p.x, middle.y - p.y);
        double out = 0, in = std::min(1.0, furthest / std::max(length, 1e-9));
        const auto at = [&](double share) {
            return Point{p.x + share * (middle.x - p.x), p.y + share * (middle.y - p.y)};
        };
        if (!lies(at(in))) return std::nullopt;
        while ((in - out) * length > 0.5) {
            const double half = (in + out) / 2;
            (lies(at(half)) ? in : out) = half;
        }
        return at(in);
    }

    /// Half the sides of what is set down; a line may end at a place, or have its middle there.
    std::vector<Point> halves_of_load() const {
        if (const auto* patch = std::get_if<PatchLoad>(&load.kind))
            return {{patch->size_x / 2, patch->size_y / 2}};
        if (const auto* line = std::get_if<LineLoad>(&load.kind))
            return {{}, {std::abs(line->to.x - line->from.x) / 2, std::abs(line->to.y - line->from.y) / 2}};
        return {{}};
    }

    /// For a load that reaches so far to either side of its place: over and right beside each support, and in
    /// each recess against its walls and corners.
    void add_dangers(Point h, std::vector<Point>& places) const {
        const auto beside = [&](const Rectangle& box, double out) {
            const Point middle{(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
            places.push_back(middle);
            for (const double x : {box.x0 - out * h.x, box.x1 + out * h.x}) places.push_back({x, middle.y});
            for (const double y : {box.y0 - out * h.y, box.y1 + out * h.y}) places.push_back({middle.x, y});
        };
        for (const Support& support : piece.supports) {
            if (const auto* pad = std::get_if<Pad>(&support.kind))
                beside({pad->at.x - pad->size_x / 2, pad->at.x + pad->size_x / 2, pad->at.y - pad->size_y / 2,
                        pad->at.y + pad->size_y / 2},
                       1);
            else if (const auto* bearer = std::get_if<Bearer>(&support.kind))
                for (const Point at :
                     {bearer->from,
                      Point{(bearer->from.x + bearer->to.x) / 2, (bearer->from.y + bearer->to.y) / 2},
                      bearer->to})
                    beside({at.x - bearer->width / 2, at.x + bearer->width / 2, at.y - bearer->width / 2,
                            at.y + bearer->width / 2},
                           1);
        }
        for (const RecessPlan& recess : model->shell.field.recesses) {
            const Rectangle box = bounds_of(recess.loop);
            beside(box, -1);
            for (const double x : {box.x0 + h.x, box.x1 - h.x})
                for (const double y : {box.y0 + h.y, box.y1 - h.y}) places.push_back({x, y});
        }
    }

    /// Where stresses peak too narrowly for a grid.
    std::vector<Point> known_dangers() const {
        std::vector<Point> places;
        for (const Point h : halves_of_load()) add_dangers(h, places);
        std::vector<Point> on_top;
        for (const Point p : places)
            if (const auto at = drawn_in(
                    {std::clamp(p.x, range.x0, range.x1), std::clamp(p.y, range.y0, range.y1)}, step))
                on_top.push_back(*at);
        return on_top;
    }

    void refine() {
        struct Climb {
            size_t row;
            Point at;
        };
        std::vector<Climb> climbs;
        for (size_t row = 0; row < names.size(); ++row) {
            const double most = worst(row).used[row];
            if (most < (row == lift_row() ? lifts_visibly : worth_refining) || is_even(row)) continue;
            for (const Point at : starts(row)) climbs.push_back({row, at});
        }
        for (double half = step / 2;; half = std::max(half / 2, finest_step)) {
            const bool across_corners = half <= 2 * finest_step; // in the last two rounds alone
            const auto about = [&](Point p) {
                std::vector<Point> near;
                for (const double dx : {-half, 0.0, half})
                    for (const double dy : {-half, 0.0, half}) {
                        if (!across_corners && dx != 0 && dy != 0) continue;
                        const auto at = drawn_in({std::clamp(p.x + dx, range.x0, range.x1),
                                                  std::clamp(p.y + dy, range.y0, range.y1)},
                                                 half);
                        if (at) near.push_back(*at);
                    }
                return near;
            };
            constexpr int most_moves = 3;
            std::vector<char> moves(climbs.size(), 1);
            for (int move = 0; move < most_moves && std::find(moves.begin(), moves.end(), 1) != moves.end();
                 ++move) {
                std::vector<Point> near;
                for (size_t k = 0; k < climbs.size(); ++k)
                    if (moves[k])
                        for (const Point p : about(climbs[k].at)) near.push_back(p);
                try_places(near);
                for (size_t k = 0; k < climbs.size(); ++k) {
                    if (!moves[k]) continue;
                    Climb& climb = climbs[k];
                    const Point before = climb.at;
                    for (const Point p : about(before)) {
                        const Tried* there = find(p);
                        if (there != nullptr && there->used[climb.row] > find(climb.at)->used[climb.row])
                            climb.at = p;
                    }
                    moves[k] = !(climb.at == before);
                }
            }
            if (half <= finest_step) break;
        }
    }
};

PositionSearch::PositionSearch(std::shared_ptr<const CoarseTop> top, const Load& load,
                               const std::string& place, KeptAllowables* kept) {
    KeptAllowables own;
    body_ = std::make_unique<Body>(std::move(top), load, kept ? *kept : own);
    Body& b = *body_;
    std::vector<Point> grid;
    for (const double y : b.ys)
        for (const double x : b.xs) grid.push_back({x, y});
    grid.push_back({(b.range.x0 + b.range.x1) / 2, (b.range.y0 + b.range.y1) / 2});
    if (std::none_of(grid.begin(), grid.end(),
                     [&](Point p) { return lies_on(b.model->shell.field, load, p); }))
        throw Error(ErrorKind::input, {.place = place,
                                       .what = "the load fits nowhere on the top",
                                       .remedy = "make it smaller, or let it travel over more of the top"});
}
PositionSearch::~PositionSearch() = default;
PositionSearch::PositionSearch(PositionSearch&&) noexcept = default;
PositionSearch& PositionSearch::operator=(PositionSearch&&) noexcept = default;

void PositionSearch::run() {
    Body& b = *body_;
    std::vector<Point> grid;
    for (const double y : b.ys)
        for (const double x : b.xs)
            if (const auto at = b.drawn_in({x, y}, 1.5 * b.step)) grid.push_back(*at);
    grid.push_back({(b.range.x0 + b.range.x1) / 2, (b.range.y0 + b.range.y1) / 2});
    b.try_places(grid);
    b.try_places(b.known_dangers());
    b.refine();
}

std::vector<std::vector<double>> PositionSearch::used_at(const std::vector<Point>& places) {
    body_->try_places(places);
    std::vector<std::vector<double>> used;
    for (const Point p : places) {
        const Tried* there = body_->find(p);
        used.push_back(there ? there->used : std::vector<double>{});
    }
    return used;
}

Rectangle PositionSearch::range() const { return body_->range; }

Travel PositionSearch::result() const {
    const Body& b = *body_;
    Travel travel{.load = b.load.name,
                  .n_places = static_cast<int>(b.tried.size()),
                  .xs = b.xs,
                  .ys = b.ys,
                  .fields = {}};
    for (size_t row = 0; row < b.names.size(); ++row) {
        const Tried& worst = b.worst(row);
        if (!(worst.used[row] > 0) || (b.tried.size() > 1 && b.is_even(row))) continue;
        Travel::Field field{.check = b.names[row],
                            .worst_utilisation = worst.used[row],
                            .worst_at = worst.at,
                            .utilisation = {}};
        for (const double y : b.ys)
            for (const double x : b.xs) {
                const Tried* there = b.find({x, y});
                const bool is_told = there != nullptr && (!there->tips || row == b.tipping_row());
                field.utilisation.push_back(is_told ? std::optional<double>(there->used[row]) : std::nullopt);
            }
        travel.fields.push_back(std::move(field));
    }
    return travel;
}

std::vector<Point> PositionSearch::worth_a_situation() const {
    const Body& b = *body_;
    std::vector<std::pair<double, size_t>> rows; // the greatest first
    for (size_t row = 0; row < b.names.size(); ++row) {
        const double most = b.worst(row).used[row];
        const bool always = b.names[row] == "sag at once" || b.names[row] == "bending across the grain";
        if (most > 0 && (always || !b.is_even(row)) &&
            (row == b.lift_row() ? most > lifts_visibly : always || most >= worth_telling))
            rows.emplace_back(most, row);
    }
    std::stable_sort(rows.begin(), rows.end(),
                     [](const auto& x, const auto& y) { return x.first > y.first; });
    std::vector<const Tried*> chosen;
    for (const auto& [most, row] : rows) {
        const Tried& worst = b.worst(row);
        if (worst.tips) continue; // told as tipped
        const bool stands_for =
            std::any_of(chosen.begin(), chosen.end(),
                        [&, r = row, m = most](const Tried* t) { return t->used[r] >= as_bad * m; });
        if (!stands_for) chosen.push_back(&worst);
    }
    if (chosen.empty())
        for (const Tried& t : b.tried)
            if (!t.tips && chosen.empty()) chosen.push_back(&t);
    std::vector<Point> places;
    for (const Tried* t : chosen) places.push_back(t->at);
    return places;
}

std::optional<TippedPosition> PositionSearch::tipped() const {
    const Body& b = *body_;
    const Tried& worst = b.worst(b.tipping_row());
    if (!worst.tips) return std::nullopt;
    return TippedPosition{.situation = b.load.name + ", " + place_words(worst.at, b.piece.units),
                          .at = worst.at,
                          .factor = worst.tips_at,
                          .needed = b.needed()};
}

std::string place_words(Point at, Units units) {
    if (units == Units::mm)
        return "at x " + std::to_string(std::lround(at.x)) + ", y " + std::to_string(std::lround(at.y)) +
               " mm";
    constexpr double mm_per_inch = 25.4;
    return "at x " + materials::digits(at.x / mm_per_inch, 3) + ", y " +
           materials::digits(at.y / mm_per_inch, 3) + " in";
}

WorstPositions with_worst_positions(const Piece& piece, int threads, KeptAllowables* kept) {
    WorstPositions result{.piece = piece, .travels = {}, .tipped = {}};
    if (std::none_of(piece.loads.begin(), piece.loads.end(), travels)) return result;
    Piece standing = piece; // what the load comes on top of
    std::erase_if(standing.loads, [](const Load& load) { return !stays(load.duration); });
    result.piece.loads.clear();
    const bool has_stability = std::any_of(piece.loads.begin(), piece.loads.end(), [](const Load& load) {
        return load.judged_for == LoadFor::stability;
    });
    const std::shared_ptr<const CoarseTop> top = coarse_top(standing, threads, has_stability);
    for (size_t i = 0; i < piece.loads.size(); ++i) {
        const Load& load = piece.loads[i];
        if (!travels(load)) {
            result.piece.loads.push_back(load);
            continue;
        }
        PositionSearch search(top, load, "loads[" + std::to_string(i) + "]", kept);
        search.run();
        for (const Point at : search.worth_a_situation()) {
            Load placed = set_down(load, at);
            placed.name = load.name + ", " + place_words(at, piece.units);
            result.piece.loads.push_back(std::move(placed));
        }
        result.travels.push_back(search.result());
        if (const auto tipped = search.tipped()) result.tipped.push_back(*tipped);
    }
    if (result.piece.loads.empty() && top->model->loads.empty())
        throw Error(ErrorKind::not_computable,
                    {.place = "supports",
                     .what = "the top tips wherever the load lies",
                     .remedy = "move the supports outwards, or hold the top down"});
    return result;
}

} // namespace hollowtop
