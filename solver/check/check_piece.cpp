// SPDX-License-Identifier: MIT
#include "solver/check/check_piece.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "solver/capacity/in_recess.hpp"
#include "solver/check/fill_result.hpp"
#include "solver/check/kept_work.hpp"
#include "solver/check/worst_position.hpp"
#include "solver/checks/checks.hpp"
#include "solver/piece/sense.hpp"
#include "solver/piece/use_loads.hpp"
#include "solver/piece/version.hpp"
#include "solver/readout/fields.hpp"
#include "solver/readout/gather.hpp"
#include "solver/readout/gather_bars.hpp"
#include "solver/readout/mesh_error.hpp"
#include "solver/readout/sag_in_time.hpp"
#include "solver/readout/skin_push.hpp"
#include "solver/situations/recess_loads.hpp"
#include "solver/vibration/frequencies.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <span>
#include <thread>
#include <utility>

namespace hollowtop {
namespace {

constexpr double sag_target_percent = 1, stress_target_percent = 3;
constexpr int low_order = 3, high_order = 4;
constexpr int most_dofs = 400000;
constexpr int most_rounds = 5; // curved walls cross cells and need them small

MeshSize first_size(const Piece& piece, const CheckOptions& options) {
    const double side = std::max(piece.top.length, piece.top.width);
    double largest =
        side / 14; // errs by about 0.2 % in sag and 2 % in stress on a hollowed top (docs/method.md)
    switch (options.mesh) {
    case CheckOptions::Mesh::coarse:
        largest = side / 8;
        break;
    case CheckOptions::Mesh::normal:
        break;
    case CheckOptions::Mesh::fine:
        largest = side / 24;
        break;
    }
    if (options.mesh_size) largest = *options.mesh_size;
    if (options.mesh_of_another) largest = options.mesh_of_another->size_mm;
    return {.largest = largest, .at_walls = largest / 6, .at_edges = largest / 1.5, .growth = 1};
}

/// How many times the error is what it may be; above 1 the mesh is refined.
double excess_of(const MeshError& error) {
    return std::max(error.sag_percent / sag_target_percent, error.stress_percent / stress_target_percent);
}

/// Where walls cut across cells the error falls only as the size does: from far off, two steps at once.
MeshSize finer(const MeshSize& size, double excess, const ThicknessField& field) {
    const double ratio = excess > 2.5 && walls_cut_across(field) ? 0.65 * 0.65 : 0.65;
    return {.largest = size.largest * ratio,
            .at_walls = size.at_walls * ratio,
            .at_edges = size.at_edges * ratio,
            .growth = size.growth};
}

/// One piece's check in steps; what lies under the top may be taken out of its models between two of them.
class Checking {
  public:
    /// Throws what check_piece does.
    Checking(const Piece& asked, const CheckOptions& options, KeptWork& kept);
    /// What every connection carries, on this mesh, in both orders.
    void connection();
    const Model& high() const { return *high_.model; }
    /// Nodal forces of the connections in the higher order, one column a situation.
    void append_columns(std::vector<double>& columns) const {
        append_connection_forces(high(), high_connected_, columns);
    }
    int n_columns() const { return static_cast<int>(high_connected_.size()); }
    /// Adds to the factor's answer what the loads do; then it may be added to others.
    void add_loads(std::span<double> answered) const {
        add_moved_by_loads(high(), high_connected_, answered);
    }
    void add_to(SumOfAnswers& sum, std::span<const double> answered) const {
        sum.add(high(), high_connected_, answered);
    }
    /// Takes the answer, which is lost.
    void finish(std::span<double> answered, std::optional<double> residual_of_many = std::nullopt);
    const std::vector<SolvedSituation>& solved() const { return solved_; }
    const ModelUse& high_use() const { return high_; }
    /// Takes the stresses read. Says whether a finer mesh is needed, and if so has chosen it: connection()
    /// comes again.
    bool weigh(Readout readout);
    CheckOutcome conclude();

    /// Takes what lies under the top out of the models, and gives up their turns; puts it back.
    void step_aside();
    void step_back();

  private:
    void report(double share) const {
        if (options_.progress) options_.progress(share);
    }

    const Piece& asked_;
    const CheckOptions& options_;
    KeptWork& kept_;
    int threads_;
    WorstPositions worst_{};
    Piece piece_{};
    MeshSize size_{};
    int round_ = 0;
    ModelUse low_{}, high_{};
    std::vector<ConnectedSituation> low_connected_{}, high_connected_{};
    std::vector<SolvedSituation> solved_{};
    Readout readout_{};
    MeshError error_{};
    std::optional<Underside> low_aside_{}, high_aside_{};
};

Checking::Checking(const Piece& asked, const CheckOptions& options, KeptWork& kept)
    : asked_(asked), options_(options), kept_(kept),
      threads_(options.threads > 0 ? options.threads
                                   : std::max(1, static_cast<int>(std::thread::hardware_concurrency()))) {
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
        throw Error(ErrorKind::not_computable,
                    {.place = "loads",
                     .what = "nothing loads the top, and without a density it has no tones either",
                     .remedy = "add a load or a density"});
    worst_ = with_worst_positions(piece_, threads_, &kept_.allowables);
    piece_ = std::move(worst_.piece);
    size_ = first_size(piece_, options);
}

void Checking::connection() {
    report(0.1 + 0.7 * round_ / most_rounds);
    low_ = high_ = {}; // the models of the round before may be used again
    const auto model_of = [&](int order) {
        return kept_.models.use(piece_, {.shell = {.size = size_, .order = order},
                                         .threads = threads_,
                                         .bonded = !options_.essentials && order == high_order});
    };
    low_connected_.clear();
    if (!options_.mesh_of_another) {
        low_ = model_of(low_order);
        std::vector<SituationPlan> plans = plan_situations(piece_, *low_.model);
        std::erase_if(plans, [](const SituationPlan& plan) {
            return plan.design_of >= 0;
        }); // tells of the mesh's error alone
        low_connected_ = connection_situations(*low_.model, std::move(plans), *low_.pressing);
        *low_.pressing = pressing_of(low_connected_);
    }
    high_ = model_of(high_order);
    high_connected_ = connection_situations(piece_, high(), pressing_of(low_connected_));
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
    error_ =
        mesh_error(*low_.model, low_connected_, *low_.output_points,
                   {.model = high(), .solved = solved_, .readings = high_.readings(), .readout = readout_});
    if (excess_of(error_) <= 1 || high().factor->n_dofs() > most_dofs / 3 || ++round_ == most_rounds)
        return false;
    size_ = finer(size_, excess_of(error_), high().shell.field);
    return true;
}

CheckOutcome Checking::conclude() {
    report(0.8);
    // what the checks read
    Response response = gather_response(piece_, high_.model, solved_, high_.readings(), std::move(readout_));
    gather_bars(piece_, high(), solved_, response);
    response.tipped = std::move(worst_.tipped);
    constexpr int all_frequencies = 6;
    if (!options_.no_advice || piece_.limits.frequency_Hz) {
        const ModelUse& vibrates = options_.mesh_of_another ? high_ : low_;
        std::vector<SolvedSituation> resting;
        for (ConnectedSituation& connected : low_connected_)
            resting.push_back(unsolved(*low_.model, std::move(connected)));
        response.frequency_Hz =
            first_frequencies(*vibrates.model, options_.mesh_of_another ? solved_ : resting,
                              options_.essentials ? 1 : all_frequencies, vibrates.modes.get());
    }
    if (!options_.essentials) response.pushes = push_skins(piece_, threads_); // advice: fails nothing
    report(0.95);

    Result result;
    result.version = program_version;
    result.title = piece_.title;
    fill_mass(piece_, high(), result);
    fill_situations(response, result);
    fill_load_positions(piece_, high(), solved_, result);
    result.travels = std::move(worst_.travels);
    const double asked_years = piece_.climate ? piece_.climate->years : Climate{}.years;
    result.sag_in_time = sag_in_time(response, asked_years);
    if (!result.sag_in_time.empty()) result.sag_in_time_basis = sag_in_time_basis();
    if (!result.sag_in_time.empty() && asked_years > creep_life_years)
        result.warnings.push_back("Sag after " + materials::digits(asked_years) +
                                  " years is not told: of creep past " + materials::digits(creep_life_years) +
                                  " years nothing is known here.");
    fill_bars(piece_, high(), solved_, response, options_.essentials, result);
    result.frequency_Hz = response.frequency_Hz;
    fill_assumptions(piece_, high(), result);
    result.in_recesses = in_recesses(piece_, response);
    for (std::string& sentence : assumptions_in_recesses(piece_))
        result.assumptions.push_back(std::move(sentence));
    for (std::string& sentence : warnings_in_recesses(piece_)) result.warnings.push_back(std::move(sentence));
    const std::vector<std::string> told = told_of_use(asked_);
    result.assumptions.insert(result.assumptions.end(), told.begin(), told.end());
    result.mesh = {.elements = static_cast<int>(std::count_if(high().shell.mesh.cells.begin(),
                                                              high().shell.mesh.cells.end(),
                                                              [](const Cell& c) { return c.active; })),
                   .dofs = high().factor->n_dofs(),
                   .size_mm = size_.largest,
                   .order = high_order,
                   .sag_error_percent = error_.sag_percent,
                   .stress_error_percent = error_.stress_percent,
                   .reached = excess_of(error_) <= 1};
    warn_of_mesh(piece_, result);
    tell_of_loads(piece_, high(), result);
    tell_of_hanging(piece_, result);
    warn_of_lifting(response, result);
    warn_of_tipping(response, result);
    judge(piece_, response, result, options_.essentials || options_.no_advice, &kept_.allowables);
    if (!options_.essentials) fill_second_answers(piece_, high(), solved_, threads_, result);
    for (CheckResult& row : result.checks) {
        if (row.advice || is_of_geometry(row.check)) continue; // found on meshes of their own, or on none
        if (row.unit == "mm")
            row.error_percent = error_.sag_percent;
        else if (row.unit == "MPa" || row.unit == "1")
            row.error_percent = error_.stress_percent;
    }
    find_band(piece_, result);
    CheckOutcome outcome{.result = std::move(result), .fields = std::nullopt, .placed = std::move(piece_)};
    if (options_.want_fields) outcome.fields = sample_fields(high(), solved_);
    report(1);
    return outcome;
}

/// What is read of checks on one mesh.
std::vector<Readout> read_together(std::span<Checking* const> checks) {
    std::vector<const std::vector<SolvedSituation>*> pieces;
    for (const Checking* check : checks) pieces.push_back(&check->solved());
    const ModelUse& use = checks.front()->high_use();
    return read_stresses_together(use.model, pieces, use.readings(), use.means_at);
}

/// The rest of a check that is alone with its models.
CheckOutcome go_on(Checking& check) {
    for (;;) {
        check.connection();
        std::vector<double> answered;
        check.append_columns(answered);
        check.high().factor->solve(answered, check.n_columns());
        check.add_loads(answered);
        check.finish(answered);
        Checking* const alone = &check;
        if (!check.weigh(std::move(read_together({&alone, 1}).front()))) return check.conclude();
    }
}

/// Of the sum, where it proves all that is in it; else each answer has to be proved alone.
std::optional<double> small_residual_of(const SumOfAnswers& sum, const Model& model) {
    constexpr double surely_solved = 1e-9; // a bad answer among many good ones must be seen
    const double residual = sum.residual(model);
    return residual < surely_solved ? std::optional(residual) : std::nullopt;
}

/// Checks that wait for one model's factor to answer them all, each of an index of the attempts.
class Waiting {
  public:
    /// For so many at most.
    explicit Waiting(size_t most) : most_(most) {}

    bool is_on(const Model& model) const {
        return checks_.empty() || &checks_.front().check->high() == &model;
    }

    /// Of a check that has all its connections; it steps aside.
    void add(size_t index, std::unique_ptr<Checking> check) {
        const size_t first = columns_.size();
        if (columns_.empty())
            columns_.reserve(most_ * static_cast<size_t>(check->n_columns()) *
                             static_cast<size_t>(check->high().factor->n_dofs()));
        check->append_columns(columns_);
        check->step_aside();
        n_columns_ += check->n_columns();
        checks_.push_back(
            {.index = index, .check = std::move(check), .first = first, .size = columns_.size() - first});
    }

    void conclude(std::vector<CheckAttempt>& attempts) {
        if (checks_.empty()) return;
        const Model& model = checks_.front().check->high();
        const Factor& factor = *model.factor;
        const int n_solved =
            std::max(n_columns_, 2); // a single column is solved another way, and rounded in another
        columns_.resize(static_cast<size_t>(n_solved) * static_cast<size_t>(factor.n_dofs()), 0);
        factor.solve(columns_, n_solved);
        const auto answered = [&](const One& one) {
            return std::span{columns_}.subspan(one.first, one.size);
        };
        SumOfAnswers sum;
        const bool at_once = is_proved_at_once(model);
        for (One& one : checks_) {
            one.check->step_back();
            one.check->add_loads(answered(one));
            if (at_once) one.check->add_to(sum, answered(one));
            one.check->step_aside();
        }
        const std::optional<double> residual = at_once ? small_residual_of(sum, model) : std::nullopt;
        std::vector<One*> finished;
        std::vector<Checking*> checks;
        for (One& one : checks_) {
            one.check->step_back();
            if (attempt(one, attempts, [&] { one.check->finish(answered(one), residual); })) {
                finished.push_back(&one);
                checks.push_back(one.check.get());
            }
            one.check->step_aside();
        }
        columns_.clear();
        std::vector<Readout> readouts;
        if (!checks.empty()) readouts = read_together(checks);
        for (size_t i = 0; i < finished.size(); ++i) {
            One& one = *finished[i];
            one.check->step_back();
            attempt(one, attempts, [&] {
                attempts[one.index].outcome =
                    one.check->weigh(std::move(readouts[i])) ? go_on(*one.check) : one.check->conclude();
            });
            one.check.reset();
        }
        checks_.clear();
        n_columns_ = 0;
    }

  private:
    struct One {
        size_t index = 0;
        std::unique_ptr<Checking> check{};
        size_t first = 0, size = 0; ///< of its columns, in numbers
    };

    template <class Work>
    static bool attempt(const One& one, std::vector<CheckAttempt>& attempts, const Work& work) {
        try {
            work();
            return true;
        } catch (const Error& error) {
            attempts[one.index].error = error;
            return false;
        }
    }

    size_t most_;
    std::vector<One> checks_{};
    std::vector<double> columns_{}; ///< then the factor's answer
    int n_columns_ = 0;
};

} // namespace

CheckOutcome check_piece(const Piece& asked, const CheckOptions& options) {
    KeptWork own(0); // of one piece nothing comes back
    Checking check(asked, options, options.kept ? *options.kept : own);
    return go_on(check);
}

std::vector<CheckAttempt> check_pieces(std::span<const Piece> asked, const CheckOptions& options) {
    KeptWork own;
    KeptWork& kept = options.kept ? *options.kept : own;
    std::vector<CheckAttempt> attempts(asked.size());
    Waiting waiting(asked.size());
    for (size_t i = 0; i < asked.size(); ++i) {
        try {
            auto check = std::make_unique<Checking>(asked[i], options, kept);
            check->connection();
            if (!waiting.is_on(check->high())) {
                check->step_aside(); // those that wait may share its lower order, if not the higher
                waiting.conclude(attempts);
                check->step_back();
            }
            waiting.add(i, std::move(check));
        } catch (const Error& error) {
            attempts[i].error = error;
        }
    }
    waiting.conclude(attempts);
    return attempts;
}

} // namespace hollowtop
