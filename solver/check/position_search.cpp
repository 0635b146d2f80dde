// SPDX-License-Identifier: MIT
#include "solver/check/position_search.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "solver/piece/wording.hpp"
#include "solver/situations/travelling_load.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hollowtop {
namespace {

constexpr double finest_step = 5;         // mm: a hand is set down no more exactly
constexpr double places_of_grid = 150;    // about
constexpr double worth_refining = 0.15;   // of what is allowed
constexpr double worth_telling = 1.0 / 3; // a check below that gets no situation of its own
constexpr double worth_a_second = 0.5;    // a check below that is climbed from its greatest peak only
constexpr double as_bad = 0.99;           // a place that comes this near to the worst stands for it
constexpr double rival = 0.75;            // other peaks this high are climbed too
constexpr double lifts_visibly = 0.05;    // mm
constexpr double flat = 0.01;             // a peak that falls by less within a step needs no finer one

Symmetry both(Symmetry a, Symmetry b) { return {.x = a.x && b.x, .y = a.y && b.y}; }

/// An even number of steps: tops are mostly alike on both sides, and many a peak lies on the middle line.
std::vector<double> even_steps(double from, double to, double step) {
    if (to - from < 1e-6) return {(from + to) / 2};
    const int n = 2 * std::max(1, static_cast<int>(std::ceil((to - from) / (2 * step) - 1e-9)));
    std::vector<double> steps;
    for (int i = 0; i <= n; ++i) steps.push_back(from + (to - from) * i / n);
    return steps;
}

/// Half the sides of what is set down; a line may end at a place, or have its middle there.
std::vector<Point> halves_of(const Load& load) {
    if (const auto* patch = std::get_if<PatchLoad>(&load.kind))
        return {{patch->size_x / 2, patch->size_y / 2}};
    if (const auto* line = std::get_if<LineLoad>(&load.kind))
        return {{}, {std::abs(line->to.x - line->from.x) / 2, std::abs(line->to.y - line->from.y) / 2}};
    return {{}};
}

/// For a load that reaches so far to either side of its place: over and right beside each support, and in
/// each recess against its walls and corners.
void add_dangers(const Piece& piece, const ThicknessField& field, Point h, std::vector<Point>& places) {
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
    for (const RecessPlan& recess : field.recesses) {
        const Rectangle box = bounds_of(recess.loop);
        beside(box, -1);
        for (const double x : {box.x0 + h.x, box.x1 - h.x})
            for (const double y : {box.y0 + h.y, box.y1 - h.y}) places.push_back({x, y});
    }
}

} // namespace

PositionSearch::PositionSearch(std::shared_ptr<const CoarseTop> top, const Load& load,
                               const std::string& place, KeptAllowables* kept)
    : tried_([&] {
          KeptAllowables own;
          return TriedPositions(std::move(top), load, kept ? *kept : own);
      }()),
      symmetry_(both(symmetry_of(tried_.piece()), symmetry_of(load, tried_.piece().top))),
      whole_(roaming_range(load, tried_.piece().top)), range_(whole_),
      step_(std::sqrt(tried_.piece().top.length * tried_.piece().top.width / places_of_grid)),
      xs_(even_steps(whole_.x0, whole_.x1, step_)), ys_(even_steps(whole_.y0, whole_.y1, step_)) {
    if (symmetry_.x) range_.x1 = middle().x;
    if (symmetry_.y) range_.y1 = middle().y;
    const std::vector<Point> places = grid(0);
    if (places.empty() && !lies(middle()))
        throw Error(ErrorKind::input, {.place = place,
                                       .what = "the load fits nowhere on the top",
                                       .remedy = "make it smaller, or let it travel over more of the top"});
}

Point PositionSearch::in_half(Point p) const {
    if (symmetry_.x && p.x > range_.x1) p.x = whole_.x0 + whole_.x1 - p.x;
    if (symmetry_.y && p.y > range_.y1) p.y = whole_.y0 + whole_.y1 - p.y;
    return p;
}

bool PositionSearch::lies(Point at) const { return lies_on(tried_.field(), tried_.load(), at); }

Point PositionSearch::within(Point p) const {
    return {std::clamp(p.x, range_.x0, range_.x1), std::clamp(p.y, range_.y0, range_.y1)};
}

std::vector<Point> PositionSearch::grid(double furthest) const {
    std::vector<Point> places;
    constexpr double slack = 1e-6; // mm: the middle line belongs to the half
    for (const double y : ys_)
        for (const double x : xs_)
            if (x < range_.x1 + slack && y < range_.y1 + slack)
                if (const auto at = drawn_in({x, y}, furthest)) places.push_back(*at);
    return places;
}

/// A place off the top is drawn towards the middle until the load lies on it: so the search slides along a
/// curved edge.
std::optional<Point> PositionSearch::drawn_in(Point p, double furthest) const {
    if (lies(p)) return p;
    const Point inner = middle();
    const double length = std::hypot(inner.x - p.x, inner.y - p.y);
    double out = 0, in = std::min(1.0, furthest / std::max(length, 1e-9));
    const auto at = [&](double share) {
        return Point{p.x + share * (inner.x - p.x), p.y + share * (inner.y - p.y)};
    };
    if (!lies(at(in))) return std::nullopt;
    while ((in - out) * length > 0.5) {
        const double half = (in + out) / 2;
        (lies(at(half)) ? in : out) = half;
    }
    return at(in);
}

/// Where stresses peak too narrowly for a grid.
std::vector<Point> PositionSearch::known_dangers() const {
    std::vector<Point> places, on_top;
    for (const Point h : halves_of(tried_.load())) add_dangers(tried_.piece(), tried_.field(), h, places);
    for (const Point p : places)
        if (const auto at = drawn_in(within(in_half(p)), step_)) on_top.push_back(*at);
    return on_top;
}

/// The peaks of a row to climb: the greatest, and others well away that come near; more where they matter more.
std::vector<Point> PositionSearch::starts(size_t row) const {
    const double best = tried_.worst(row).used[row];
    // a top that tips fails by that, and all else grows up to the edge of tipping
    const bool tips = row != tried_.tipping_row() && tried_.worst(tried_.tipping_row()).tips;
    const size_t most = tips                                                 ? 1
                        : best >= worth_telling                              ? 3
                        : best >= worth_a_second || row == tried_.lift_row() ? 2
                                                                             : 1;
    std::vector<const TriedPosition*> order;
    for (const TriedPosition& t : tried_.all())
        if (t.used[row] >= rival * best) order.push_back(&t);
    std::stable_sort(order.begin(), order.end(), [&](const TriedPosition* a, const TriedPosition* b) {
        return a->used[row] > b->used[row];
    });
    std::vector<Point> peaks;
    for (const TriedPosition* t : order) {
        if (peaks.size() == most) break;
        if (std::none_of(peaks.begin(), peaks.end(),
                         [&](Point p) { return std::hypot(t->at.x - p.x, t->at.y - p.y) < 1.6 * step_; }))
            peaks.push_back(t->at);
    }
    return peaks;
}

std::vector<PositionSearch::Climb> PositionSearch::climbs() const {
    std::vector<Climb> climbs;
    for (size_t row = 0; row < tried_.rows().size(); ++row) {
        const double most = tried_.worst(row).used[row];
        if (most < (row == tried_.lift_row() ? lifts_visibly : worth_refining) || tried_.is_even(row))
            continue;
        for (const Point at : starts(row)) climbs.push_back({row, at});
    }
    return climbs;
}

/// The neighbours of a place, half a step away.
std::vector<Point> PositionSearch::about(Point from, double half) const {
    const bool across_corners = half <= 2 * finest_step; // in the last two rounds alone
    std::vector<Point> near;
    for (const double dx : {-half, 0.0, half})
        for (const double dy : {-half, 0.0, half}) {
            if (!across_corners && dx != 0 && dy != 0) continue;
            if (const auto at = drawn_in(within({from.x + dx, from.y + dy}), half)) near.push_back(*at);
        }
    return near;
}

/// Each climb goes to its highest neighbour until none is higher, a few moves at most; all climbs are solved
/// together.
void PositionSearch::climb_by(double half, std::vector<Climb>& climbs) {
    constexpr int most_moves = 3;
    std::vector<char> moves(climbs.size(), 1);
    for (int move = 0; move < most_moves && std::find(moves.begin(), moves.end(), 1) != moves.end(); ++move) {
        std::vector<Point> near;
        for (size_t k = 0; k < climbs.size(); ++k)
            if (moves[k])
                for (const Point p : about(climbs[k].at, half)) near.push_back(p);
        tried_.add(near);
        for (size_t k = 0; k < climbs.size(); ++k) {
            if (!moves[k]) continue;
            Climb& climb = climbs[k];
            const Point before = climb.at;
            for (const Point p : about(before, half)) {
                const TriedPosition* there = tried_.find(p);
                if (there != nullptr && there->used[climb.row] > tried_.find(climb.at)->used[climb.row])
                    climb.at = p;
            }
            moves[k] = !(climb.at == before);
        }
    }
    give_up(half, climbs);
}

/// What is left to gain by finer steps is about what the field falls by within this one: climbs are given up that
/// are flat, that stay below another peak of their row, or below what is told and well below the row used most.
void PositionSearch::give_up(double half, std::vector<Climb>& climbs) const {
    const auto value_of = [&](const Climb& climb) { return tried_.find(climb.at)->used[climb.row]; };
    std::vector<double> best(tried_.rows().size(), 0);
    for (const Climb& climb : climbs) best[climb.row] = std::max(best[climb.row], value_of(climb));
    double greatest = 0; // of what can be told: of a top that bears easily that is little
    for (size_t row = 0; row < tried_.lift_row(); ++row)
        greatest = std::max(greatest, tried_.worst(row).used[row]);
    std::erase_if(climbs, [&](const Climb& climb) {
        const double value = value_of(climb);
        double fall = 0;
        for (const Point p : about(climb.at, half))
            if (const TriedPosition* there = tried_.find(p))
                fall = std::max(fall, std::abs(value - there->used[climb.row]));
        return fall < flat * value || value + fall < best[climb.row] ||
               (climb.row != tried_.lift_row() && value + fall < std::min(worth_telling, rival * greatest));
    });
}

/// The grid is halved about the peaks, down to the finest step where they are steep.
void PositionSearch::refine() {
    std::vector<Climb> all = climbs();
    for (double half = step_ / 2;; half = std::max(half / 2, finest_step)) {
        climb_by(half, all);
        if (half <= finest_step || all.empty()) break;
    }
}

void PositionSearch::run() {
    std::vector<Point> places = grid(1.5 * step_);
    places.push_back(middle());
    tried_.add(places);
    tried_.add(known_dangers());
    refine();
}

std::vector<std::vector<double>> PositionSearch::used_at(const std::vector<Point>& places) {
    tried_.add(places);
    std::vector<std::vector<double>> used;
    for (const Point p : places) {
        const TriedPosition* there = tried_.find(p);
        used.push_back(there ? there->used : std::vector<double>{});
    }
    return used;
}

Travel PositionSearch::result() const {
    Travel travel{.load = tried_.load().name,
                  .n_places = static_cast<int>(tried_.all().size()),
                  .xs = xs_,
                  .ys = ys_,
                  .fields = {}};
    for (size_t row = 0; row < tried_.rows().size(); ++row) {
        const TriedPosition& worst = tried_.worst(row);
        if (!(worst.used[row] > 0) || (tried_.all().size() > 1 && tried_.is_even(row))) continue;
        Travel::Field field{.check = tried_.rows()[row],
                            .worst_utilisation = worst.used[row],
                            .worst_at = worst.at,
                            .utilisation = {}};
        for (const double y : ys_)
            for (const double x : xs_) {
                const TriedPosition* there = tried_.find(in_half({x, y}));
                const bool is_told = there != nullptr && (!there->tips || row == tried_.tipping_row());
                field.utilisation.push_back(is_told ? std::optional<double>(there->used[row]) : std::nullopt);
            }
        travel.fields.push_back(std::move(field));
    }
    return travel;
}

std::vector<Point> PositionSearch::worth_a_situation() const {
    std::vector<std::pair<double, size_t>> rows; // the greatest first
    for (size_t row = 0; row < tried_.rows().size(); ++row) {
        const double most = tried_.worst(row).used[row];
        const bool always =
            tried_.rows()[row] == "sag at once" || tried_.rows()[row] == "bending across the grain";
        if (most > 0 && (always || !tried_.is_even(row)) &&
            (row == tried_.lift_row() ? most > lifts_visibly : always || most >= worth_telling))
            rows.emplace_back(most, row);
    }
    std::stable_sort(rows.begin(), rows.end(),
                     [](const auto& x, const auto& y) { return x.first > y.first; });
    std::vector<const TriedPosition*> chosen;
    for (const auto& [most, row] : rows) {
        const TriedPosition& worst = tried_.worst(row);
        if (worst.tips) continue; // told as tipped
        const bool stands_for =
            std::any_of(chosen.begin(), chosen.end(),
                        [&, r = row, m = most](const TriedPosition* t) { return t->used[r] >= as_bad * m; });
        if (!stands_for) chosen.push_back(&worst);
    }
    if (chosen.empty())
        for (const TriedPosition& t : tried_.all())
            if (!t.tips && chosen.empty()) chosen.push_back(&t);
    std::vector<Point> places;
    places.reserve(chosen.size());
    for (const TriedPosition* t : chosen) places.push_back(t->at);
    return places;
}

std::optional<TippedPosition> PositionSearch::tipped() const {
    const TriedPosition& worst = tried_.worst(tried_.tipping_row());
    if (!worst.tips) return std::nullopt;
    return TippedPosition{.situation =
                              said("{}, {}", tried_.load().name, place_words(worst.at, tried_.piece().units)),
                          .at = worst.at,
                          .factor = worst.tips_at,
                          .needed = tried_.needed()};
}

} // namespace hollowtop
