// SPDX-License-Identifier: MIT
#include "solver/check/row_errors.hpp"

#include "solver/checks/checks.hpp"
#include "solver/readout/gather.hpp"
#include "solver/readout/gather_bars.hpp"
#include "solver/readout/movement.hpp"
#include "solver/readout/stress_jump.hpp"
#include "solver/readout/support_forces.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <utility>

namespace hollowtop {
namespace {

constexpr double of_the_orders = 2, of_the_jump = 0.1;
constexpr double buckles_late = 3; ///< times the load: no check asks for it then

/// What neither orders nor jumps show, %. The greatest of a sag is sought to a hundredth of a millimetre, of a stress
/// to a millimetre, of a dish on a grid of places; tension across the grain is a sum over points of quadrature to a
/// high power, and was seen to be off by 1.5 %; shear through the thickness, which is a slope of the moments, by 2.4
/// % beside pads where orders and jumps are still, and with it splitting.
double least_error(const CheckResult& row) {
    if (row.check == "glue line") return 10; // it rises within half a cell of a bar's end
    if (row.check == "dish" || row.check == "shear in the plane") return 1;
    if (row.check == "bending across the grain") return 1.5;
    if (row.unit == "mm") return 0.1;
    const bool is_shear = row.check == "shear through the thickness" || row.check == "rolling shear" ||
                          row.check == "splitting at the wall";
    return is_shear ? 2.5 : 0.5;
}

struct InOrder {
    bool operator()(Point a, Point b) const { return a.x != b.x ? a.x < b.x : a.y < b.y; }
};
template <class Value> using ByPlace = std::map<Point, Value, InOrder>;

/// Where the rows of a situation were found.
std::vector<Point> places_of(const Result& result, const Message& situation) {
    std::vector<Point> places;
    for (const CheckResult& row : result.checks)
        if (row.at && row.situation == situation &&
            std::find(places.begin(), places.end(), *row.at) == places.end())
            places.push_back(*row.at);
    return places;
}

/// The same situation read at those places alone. On a strength class a place is that of a design situation, in which
/// the same stresses act in other shares.
void pare(SituationResponse& situation, const std::vector<Point>& places) {
    std::vector<StressSample> survey;
    for (const Point place : places)
        if (const StressSample* const sample = situation.stress.at ? situation.stress.at(place) : nullptr)
            survey.push_back(*sample);
    if (survey.empty() && !situation.stress.survey.empty()) survey.push_back(situation.stress.survey.front());
    situation.stress = {.survey = std::move(survey), .at = {}};
    std::erase_if(situation.walls, [&](const WallSample& wall) {
        return std::find(places.begin(), places.end(), wall.at) == places.end();
    });
}

/// Means on one mesh, each asked for in many situations.
class MeansByPlace {
  public:
    explicit MeansByPlace(const Shell& shell) : shell_(shell) {}
    const StrainMean& at(Point place) {
        const auto [known, is_new] = means_.try_emplace(place);
        if (is_new) known->second = strain_mean(shell_, place);
        return known->second;
    }

  private:
    const Shell& shell_;
    ByPlace<StrainMean> means_{};
};

/// What the lower order says in the same places.
class LowReader {
  public:
    explicit LowReader(const TwoOrders& orders) : orders_(orders), means_(orders.low.shell) {
        std::vector<const SolvedSituation*> situations;
        for (const SolvedSituation& s : orders.low_solved) situations.push_back(&s);
        tension_ = tension_across_in(orders.low.shell,
                                     TensionPoints(orders.low.shell, orders.low.line_ends, true), situations);
    }

    void read(size_t s, SituationResponse& row) {
        const Shell& shell = orders_.low.shell;
        const SolvedSituation& solved = orders_.low_solved[s];
        const auto upward = [&](Point at) { return movement_at(shell, solved.dofs, at); };
        row.sag_mm = -upward(row.sag_at) - support_plane(orders_.low, solved).at(row.sag_at);
        if (row.dish_mm)
            if (const auto dish = dish_of(shell, dish_grid_at(shell, row.dish_at), solved))
                row.dish_mm = std::abs(dish->value);
        if (row.flatness) {
            const Flatness& f = *row.flatness;
            const double length = std::hypot(f.to.x - f.from.x, f.to.y - f.from.y),
                         share = length > 0 ? std::hypot(f.at.x - f.from.x, f.at.y - f.from.y) / length : 0;
            row.flatness->value_mm = (1 - share) * upward(f.from) + share * upward(f.to) - upward(f.at);
        }
        row.supports = support_forces(orders_.piece, orders_.low, solved);
        if (row.tension_across && row.tension_across->mean > 0) { // the same place
            const StressSample pulled = stress_in(shell, solved, means_.at(row.tension_across->mean_at));
            tension_[s].mean_at = row.tension_across->mean_at;
            tension_[s].mean = std::max({pulled.top[1], pulled.bottom[1], 0.0});
        }
        row.tension_across = tension_[s];
        for (StressSample& sample : row.stress.survey)
            sample = stress_in(shell, solved, means_.at(sample.at));
        for (WallSample& wall : row.walls) {
            const WallPoint point{.at = wall.at,
                                  .across = wall.across,
                                  .skin = wall.skin,
                                  .thick = wall.thick,
                                  .root_radius = wall.root_radius,
                                  .straight = wall.straight,
                                  .length = wall.length,
                                  .mean = strain_mean(shell,
                                                      {wall.at.x - wall.across.x * wall.skin / 2,
                                                       wall.at.y - wall.across.y * wall.skin / 2},
                                                      wall.skin)};
            wall = wall_sample(shell, point, solved.dofs, solved.plan.creep_factor);
        }
        if (row.buckling_factor && *row.buckling_factor < buckles_late) {
            if (!skins_) skins_ = skin_points(shell);
            row.buckling_factor = skin_buckling(shell, *skins_, solved);
        }
        row.stiffeners.clear();
        row.screws.clear();
        gather_bars_of(orders_.piece, orders_.low, solved, row);
    }

  private:
    const TwoOrders& orders_;
    MeansByPlace means_;
    std::vector<TensionAcross> tension_{};
    std::optional<std::vector<SkinPoints>> skins_{};
};

/// Raises each stress by a share of its jump, in its own sense. The greatest tension across the grain, of which the
/// strength at a place is made, is lowered: it is that of a quadrature point, and where it stands on a steep slope
/// the next mesh has its points elsewhere.
class Raising {
  public:
    explicit Raising(const TwoOrders& orders) : orders_(orders), means_(orders.high.shell) {}

    void raise(size_t s, SituationResponse& row) {
        const SolvedSituation& solved = orders_.high_solved[s];
        for (StressSample& sample : row.stress.survey) {
            const StressSample jump = jump_at(sample.at, solved);
            const auto add = [&](auto& stress, const auto& jumps) {
                for (size_t i = 0; i < stress.size(); ++i)
                    stress[i] += std::copysign(of_the_jump * jumps[i], stress[i]);
            };
            add(sample.top, jump.top);
            add(sample.bottom, jump.bottom);
            add(sample.shear, jump.shear);
        }
        for (WallSample& wall : row.walls) { // read beside the wall, half a skin's thickness off
            const Point at{wall.at.x - wall.across.x * wall.skin / 2,
                           wall.at.y - wall.across.y * wall.skin / 2};
            const StressSample jump = jump_at(at, solved),
                               here = stress_in(orders_.high.shell, solved, means_.at(at));
            const auto share = [](double of, double all) { return all > 0 ? of_the_jump * of / all : 0; };
            const double faces =
                share(size_of(jump.top) + size_of(jump.bottom), size_of(here.top) + size_of(here.bottom));
            wall.pull *= 1 + faces;
            wall.moment *= 1 + faces;
            wall.shear *= 1 + share(size_of(jump.shear), size_of(here.shear));
        }
        if (std::optional<TensionAcross>& tension = row.tension_across; tension && tension->peak > 0) {
            const StressSample jump = jump_at(tension->at, solved);
            if (tension->mean > 0) {
                const StressSample at_mean = jump_at(tension->mean_at, solved);
                tension->mean += of_the_jump * std::max(at_mean.top[1], at_mean.bottom[1]);
            }
            tension->norm *= 1 + of_the_jump * std::max(jump.top[1], jump.bottom[1]) / tension->peak;
            tension->peak *= 1 - slope_about(tension->at, solved);
        }
    }

  private:
    template <class Stress> static double size_of(const Stress& stress) {
        double sum = 0;
        for (const double value : stress) sum += std::abs(value);
        return sum;
    }

    /// After the years the wood's modulus is the reduced one.
    StressSample jump_at(Point at, const SolvedSituation& solved) {
        const auto [known, is_new] = points_.try_emplace(at);
        if (is_new) known->second = jump_points(orders_.high.shell, at);
        StressSample jump = stress_jump(orders_.high.shell, known->second, solved.dofs);
        for (double& value : jump.top) value /= solved.plan.creep_factor;
        for (double& value : jump.bottom) value /= solved.plan.creep_factor;
        for (double& value : jump.shear) value /= solved.plan.creep_factor;
        return jump;
    }

    /// By what share the greater face tension falls at most within an eighth of the thickness, or within a tenth of
    /// the cell where that is less.
    double slope_about(Point at, const SolvedSituation& solved) {
        const Shell& shell = orders_.high.shell;
        const auto tension = [&](const StrainMean& mean) {
            const StressSample sample = stress_in(shell, solved, mean);
            return std::max(sample.top[1], sample.bottom[1]);
        };
        const StrainMean& here = means_.at(at);
        const double most = tension(here);
        const int index = cell_at(shell, at);
        if (!(most > 0) || index < 0) return 0;
        const Cell& cell = shell.mesh.cells[static_cast<size_t>(index)];
        const double step = std::min(here.thickness / 8, std::min(cell.x1 - cell.x0, cell.y1 - cell.y0) / 10);
        double fall = 0;
        for (const Point way : {Point{step, 0}, Point{-step, 0}, Point{0, step}, Point{0, -step}}) {
            const StrainMean& there = means_.at({at.x + way.x, at.y + way.y});
            if (!there.parts.empty() && there.region == here.region)
                fall = std::max(fall, most - tension(there));
        }
        return std::min(fall / most, 1.0);
    }

    const TwoOrders& orders_;
    MeansByPlace means_;
    ByPlace<JumpPoints> points_{};
};

/// Demand of each check in each situation.
using Demands = std::map<std::pair<std::string, std::string>, double>;

std::pair<std::string, std::string> name_of(const CheckResult& row) {
    return {row.check, in_own_units(row.situation)};
}

Demands demands_in(const Piece& piece, const Response& response, KeptAllowables& kept) {
    Result judged;
    judged.situations.resize(response.situations.size());
    judge(piece, response, judged, true, &kept);
    Demands demands;
    for (const CheckResult& row : judged.checks) demands.emplace(name_of(row), row.demand);
    return demands;
}

bool is_of_the_mesh(const CheckResult& row) {
    return !row.advice && !is_of_geometry(row.check) &&
           row.unit != "Hz"; // advice is found on meshes of its own
}

} // namespace

void find_row_errors(const TwoOrders& orders, Response response, KeptAllowables& kept, Result& result) {
    response.designs.clear(); // a design situation errs as its loads do
    response.tipped.clear();
    response.pushes.clear();
    for (SituationResponse& situation : response.situations)
        pare(situation, places_of(result, situation.name));
    Response low = response, raised = response;
    LowReader reader(orders);
    Raising raising(orders);
    for (size_t s = 0; s < response.situations.size(); ++s) {
        reader.read(s, low.situations[s]);
        raising.raise(s, raised.situations[s]);
    }
    const Demands as_read = demands_in(orders.piece, response, kept),
                  as_low = demands_in(orders.piece, low, kept),
                  as_raised = demands_in(orders.piece, raised, kept);
    for (CheckResult& row : result.checks) {
        if (!is_of_the_mesh(row)) continue;
        const auto here = as_read.find(name_of(row));
        if (here == as_read.end() || !(std::abs(here->second) > 0)) continue;
        const auto off = [&](const Demands& other) {
            const auto there = other.find(here->first);
            return there == other.end() ? 0 : std::abs(there->second - here->second);
        };
        const double differs = of_the_orders * off(as_low) + off(as_raised);
        row.error_percent = 0;
        if (differs > 0) // else it is of loads alone
            row.error_percent = std::max(100 * differs / std::abs(here->second), least_error(row));
    }
}

namespace {

bool is_movement(const CheckResult& row) { return row.unit == "mm"; }

bool governs(const CheckResult& row, const Result& result) {
    return row.check == result.governing_check && row.utilisation == result.governing_utilisation;
}

/// May its own error take it over its limit?
bool may_exceed(const CheckResult& row) {
    return row.utilisation <= 1 && row.utilisation * (1 + *row.error_percent / 100) > 1;
}

/// Does anybody rely on its digits?
bool counts(const CheckResult& row, const Result& result) {
    constexpr double much = 0.5; // of its limit
    return is_of_the_mesh(row) && row.error_percent &&
           (row.utilisation > much || governs(row, result) || may_exceed(row));
}

} // namespace

bool surely_fails(const Result& result) {
    return !result.passes &&
           std::any_of(result.checks.begin(), result.checks.end(), [](const CheckResult& row) {
               return !row.advice && row.utilisation * (1 - row.error_percent.value_or(0) / 100) > 1;
           });
}

bool decides_too_roughly(const Result& result, double movement_percent, double stress_percent) {
    if (surely_fails(result)) return false;
    return std::any_of(result.checks.begin(), result.checks.end(), [&](const CheckResult& row) {
        return counts(row, result) &&
               *row.error_percent > (is_movement(row) ? movement_percent : stress_percent);
    });
}

MeshError errors_that_count(const Result& result) {
    MeshError most;
    double most_used = 0, of_most_used = 0;
    for (const CheckResult& row : result.checks) {
        if (!is_of_the_mesh(row) || !row.error_percent) continue;
        double& of_kind = is_movement(row) ? most.sag_percent : most.stress_percent;
        if (counts(row, result) || row.check.starts_with("sag"))
            of_kind = std::max(of_kind, *row.error_percent);
        if (!is_movement(row) && row.utilisation > most_used)
            most_used = row.utilisation, of_most_used = *row.error_percent;
    }
    most.stress_percent = std::max(most.stress_percent, of_most_used);
    return most;
}

} // namespace hollowtop
