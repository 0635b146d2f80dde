// SPDX-License-Identifier: MIT
#include "solver/check/checking.hpp"

#include "materials/error.hpp"
#include "solver/check/fill_result.hpp"
#include "solver/check/present.hpp"
#include "solver/check/row_errors.hpp"
#include "solver/check/season_told.hpp"
#include "solver/checks/checks.hpp"
#include "solver/numeric/threads.hpp"
#include "solver/piece/sense.hpp"
#include "solver/piece/use_loads.hpp"
#include "solver/readout/fields.hpp"
#include "solver/readout/gather_bars.hpp"
#include "solver/readout/skin_push.hpp"
#include "solver/situations/recess_loads.hpp"
#include "solver/vibration/frequencies.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <exception>
#include <future>
#include <utility>

namespace hollowtop {
namespace {

constexpr double sag_target_percent = 1, stress_target_percent = 3;
constexpr int least_order = 2, low_order = 3, high_order = 4;
constexpr int most_dofs = 200000; ///< of the higher order: half a gigabyte in a factor, a few seconds
/// Of the higher order: beyond, what belongs to the top is found first and not beside the rest, so that both are never in
/// memory at once.
constexpr int most_dofs_beside = 100000;
constexpr int most_rounds = 8;   // curved walls cross cells and need them small
constexpr int most_for_rows = 2; // a single row's error is told; more than that it is not chased

/// Cells along the longer side, step by step: `coarse`, `normal` and `fine` begin on the first three and go the same
/// way on, so that a finer setting never ends on a coarser mesh than another. The second errs by about 0.2 % in sag
/// and 2 % in stress on a hollowed top (docs/method.md).
constexpr std::array<double, 3> cells_along{8, 14, 24};
constexpr double finer_by = 0.65; ///< each step after those, and after a size that was asked for

MeshSize size_of(double largest, bool rough) {
    return {.largest = largest,
            .at_walls = rough ? largest / 4 : largest / 6,
            .at_edges = largest / 1.5,
            .growth = 1};
}

MeshSize size_at(const Piece& piece, const CheckOptions& options, int step) {
    const auto of = [&](double first, int more) {
        return size_of(first * std::pow(finer_by, more), options.rough);
    };
    if (options.mesh_of_another) return of(options.mesh_of_another->size_mm, step);
    if (options.mesh_size) return of(*options.mesh_size, step);
    const double side = std::max(piece.top.length, piece.top.width);
    const int last = static_cast<int>(cells_along.size()) - 1,
              place = step + (options.mesh == CheckOptions::Mesh::coarse   ? 0
                              : options.mesh == CheckOptions::Mesh::normal ? 1
                                                                           : 2);
    return of(side / cells_along[static_cast<size_t>(std::min(place, last))], std::max(place - last, 0));
}

/// Of the mesh that is read; a rough one may ask for less than the lower of two.
int order_of(const CheckOptions& options) {
    if (!options.rough) return high_order;
    const int asked = options.mesh_of_another ? options.mesh_of_another->order : low_order;
    return asked == least_order ? least_order : low_order;
}

/// Are stresses asked for where no check is? Then bending may err nowhere by more than is wanted.
bool asks_anywhere(const Piece& piece, const CheckOptions& options) {
    return !piece.probes.empty() || options.want_fields;
}

} // namespace

Checking::Checking(const Piece& asked, const CheckOptions& options, KeptWork& kept)
    : asked_(asked), options_(options), kept_(kept), threads_(threads_for(options.threads)) {
    if (std::vector<Fault> faults = faults_of(asked); !faults.empty())
        throw Error(ErrorKind::input, std::move(faults));
    piece_ = with_recess_loads(with_use(asked));
    if (std::vector<Fault> faults = not_computed(piece_); !faults.empty())
        throw Error(ErrorKind::not_computable, std::move(faults));
    if (piece_.supports.empty())
        throw Error(ErrorKind::not_computable, {.place = "supports",
                                                .what = "nothing holds the top",
                                                .remedy = "add pads, bearers or held lines"});
    if (piece_.loads.empty() && elastic_of(piece_).density_kg_m3.value_or(0) <= 0)
        throw Error(
            ErrorKind::not_computable,
            {.place = "loads",
             .what = "nothing loads the top, and without a density it has no natural frequency either",
             .remedy = "add a load or a density"});
    worst_ = with_worst_positions(piece_, threads_, &kept_.allowables);
    piece_ = std::move(worst_.piece);
    size_ = size_at(piece_, options, step_);
}

void Checking::connect() {
    report(0.1 + 0.7 * round_ / most_rounds);
    low_ = high_ = {}; // the models of the round before may be used again
    const auto model_of = [&](int order) {
        return kept_.models.use(piece_,
                                {.shell = {.size = size_, .order = order},
                                 .threads = threads_,
                                 .bonded = !options_.essentials && order == high_order && !options_.rough,
                                 .finer_at = {},
                                 .coarse_beds = options_.rough});
    };
    low_connected_.clear();
    low_solved_.clear();
    if (!options_.mesh_of_another) {
        low_ = model_of(low_order);
        std::vector<SituationPlan> plans = plan_situations(piece_, *low_.model);
        std::erase_if(plans, [](const SituationPlan& plan) {
            return plan.design_of >= 0;
        }); // tells of the mesh's error alone
        low_connected_ = connect_situations(*low_.model, std::move(plans), *low_.pressing);
        *low_.pressing = pressing_of(low_connected_);
    }
    high_ = model_of(order_of(options_));
    high_connected_ = connect_situations(piece_, high(), pressing_of(low_connected_));
}

void Checking::step_aside() {
    if (low_.model) low_aside_ = take_underside(*low_.model);
    high_aside_ = take_underside(*high_.model);
    low_.turn = high_.turn = {};
}

void Checking::step_back() {
    if (low_aside_) put_underside(*low_.model, *std::exchange(low_aside_, {}));
    put_underside(*high_.model, *std::exchange(high_aside_, {}));
}

void Checking::finish(std::span<double> answered, std::optional<double> residual_of_many) {
    solved_ = finish_situations(high(), std::move(high_connected_), answered, residual_of_many);
}

bool Checking::weigh(Readout readout) {
    readout_ = std::move(readout);
    for (const SolvedSituation& s : solved_)
        if (s.plan.design_of < 0)
            readout_.movements.push_back(movements_of(high(), s, high_.readings().dish));
    if (options_.mesh_of_another) {
        error_ = {.sag_percent = options_.mesh_of_another->sag_error_percent,
                  .stress_percent = options_.mesh_of_another->stress_error_percent};
        return false;
    }
    // a top with bars asks its kept answers, as most of its like stop here; others are solved once
    if (low_.model->bars.beams.empty()) low_solved_ = solve_connected(*low_.model, low_connected_);
    error_ = mesh_error(
        *low_.model, low_connected_, *low_.output_points,
        {.model = high(), .solved = solved_, .readings = high_.readings(), .readout = readout_}, low_solved_);
    const bool rough_anywhere =
        asks_anywhere(piece_, options_) && error_.stress_percent > stress_target_percent;
    return !options_.unrefined && (error_.sag_percent > sag_target_percent || rough_anywhere) && refine();
}

/// To the next step that changes the mesh; where that is more than can be solved, to the finest between that is not,
/// and if it is not much finer, no further.
bool Checking::refine() {
    if (++round_ == most_rounds) return false;
    const Shell& shell = high().shell;
    const MeshLines now{shell.mesh.xs, shell.mesh.ys};
    const auto lines_at = [&](const MeshSize& size) {
        return mesh_lines(shell.field, size, high().supports.wishes);
    };
    const auto dofs_at = [&](const MeshSize& size) {
        const MeshLines lines = lines_at(size);
        return CellGrid{.nx = static_cast<int>(lines.xs.size()) - 1,
                        .ny = static_cast<int>(lines.ys.size()) - 1,
                        .order = shell.order,
                        .active = {}}
            .n_dofs();
    };
    MeshSize next = size_;
    do next = size_at(piece_, options_, ++step_);
    while (lines_at(next) == now);
    if (dofs_at(next) > most_dofs) {
        double fine = next.largest, coarse = size_.largest;
        for (int k = 0; k < 12; ++k) {
            const double middle = (fine + coarse) / 2;
            (dofs_at(size_of(middle, options_.rough)) > most_dofs ? fine : coarse) = middle;
        }
        next = size_of(coarse, options_.rough);
        constexpr double worth_it = 1.3; // times as many unknowns
        if (dofs_at(next) < worth_it * dofs_at(size_)) return false;
        round_ = most_rounds - 1;
    }
    size_ = next;
    return true;
}

/// What the checks of loads read.
Response Checking::respond() {
    Response response =
        gather_response(piece_, high_.model, solved_, high_.readings(), std::move(readout_), options_.rough);
    gather_bars(piece_, high(), solved_, response);
    response.tipped = worst_.tipped;
    return response;
}

/// The frequencies are those of the lower order where there is one: the mesh is finer than they need.
Checking::OfTheTop Checking::of_the_top(int threads) {
    OfTheTop top;
    constexpr int all_frequencies = 6;
    if (!(options_.no_advice || options_.in_short) || piece_.limits.frequency_Hz) {
        const ModelUse& vibrates = options_.mesh_of_another ? high_ : low_;
        top.frequency_Hz =
            first_frequencies(*vibrates.model, options_.mesh_of_another ? solved_ : low_solved_,
                              options_.essentials ? 1 : all_frequencies, vibrates.modes.get());
    }
    const bool advises = !options_.essentials && !options_.in_short; // pushes fail nothing
    if (advises) top.pushes = push_skins(piece_, threads);
    return top;
}

MeshReport Checking::mesh_report() const {
    const std::vector<Cell>& cells = high().shell.mesh.cells;
    return {.elements = static_cast<int>(
                std::count_if(cells.begin(), cells.end(), [](const Cell& c) { return c.active; })),
            .dofs = high().factor->n_dofs(),
            .size_mm = size_.largest,
            .order = order_of(options_),
            .sag_error_percent = error_.sag_percent,
            .stress_error_percent = error_.stress_percent,
            .reached =
                error_.sag_percent <= sag_target_percent && error_.stress_percent <= stress_target_percent};
}

std::optional<CheckOutcome> Checking::judged(const std::function<OfTheTop()>& of_the_top) {
    report(0.8);
    Response response = respond();
    const Checked checked{.asked = asked_,
                          .piece = piece_,
                          .model = high(),
                          .solved = solved_,
                          .response = response,
                          .essentials = options_.essentials || options_.rough,
                          .threads = threads_};
    Result result = present(checked, mesh_report());
    result.travels = worst_.travels;
    judge(piece_, response, result, options_.essentials || options_.no_advice, &kept_.allowables, [&] {
        OfTheTop top = of_the_top();
        result.frequency_Hz = response.frequency_Hz = std::move(top.frequency_Hz);
        response.pushes = std::move(top.pushes);
        report(0.95);
    });
    if (!options_.mesh_of_another) {
        find_row_errors({.piece = piece_,
                         .high = high(),
                         .high_solved = solved_,
                         .low = *low_.model,
                         .low_solved = low_solved_},
                        response, kept_.allowables, result);
        if (!options_.unrefined && rounds_for_rows_ < most_for_rows &&
            decides_too_roughly(result, sag_target_percent, stress_target_percent) && refine()) {
            ++rounds_for_rows_;
            return std::nullopt;
        }
        const MeshError counts = errors_that_count(result);
        error_.sag_percent = std::max(error_.sag_percent, counts.sag_percent);
        error_.stress_percent = asks_anywhere(piece_, options_)
                                    ? std::max(error_.stress_percent, counts.stress_percent)
                                    : counts.stress_percent;
        result.mesh = mesh_report();
    }
    if (!options_.no_advice && !options_.essentials) tell_of_season(piece_, result);
    settle_travels(piece_, high(), solved_, result);
    std::optional<Fields> fields;
    share_out(options_.want_fields ? 2 : 1, threads_, [&](int task, int) {
        if (task == 0)
            finish_result(checked, result);
        else
            fields = sample_fields(high(), solved_);
    });
    return CheckOutcome{.result = std::move(result), .fields = std::move(fields), .placed = {}};
}

/// On two threads what belongs to the top is found while what belongs to loads is judged, unless the top is large. Where
/// the system gives one thread alone, the first task is done before the second.
std::optional<CheckOutcome> Checking::conclude() {
    if (low_.model && low_solved_.empty()) low_solved_ = solve_connected(*low_.model, low_connected_);
    std::optional<CheckOutcome> outcome;
    if (threads_ == 1 || options_.essentials || high().factor->n_dofs() > most_dofs_beside) {
        OfTheTop top = of_the_top(threads_); // before there is more in memory
        outcome = judged([&] { return std::move(top); });
    } else {
        std::promise<OfTheTop> found;
        const auto find = [&] {
            try {
                found.set_value(of_the_top(1));
            } catch (...) {
                found.set_exception(std::current_exception());
            }
        };
        share_out(2, 2, [&](int task, int) {
            if (task == 0)
                find();
            else
                outcome = judged([&] { return found.get_future().get(); });
        });
    }
    if (!outcome) return outcome;
    outcome->placed = std::move(piece_);
    report(1);
    return outcome;
}

} // namespace hollowtop
