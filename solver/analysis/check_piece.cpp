// SPDX-License-Identifier: MIT
#include "solver/analysis/check_piece.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/wood.hpp"
#include "solver/analysis/fields.hpp"
#include "solver/analysis/frequencies.hpp"
#include "solver/analysis/gather.hpp"
#include "solver/analysis/gather_bars.hpp"
#include "solver/analysis/kept_models.hpp"
#include "solver/analysis/mesh_error.hpp"
#include "solver/analysis/sag_in_time.hpp"
#include "solver/analysis/skin_push.hpp"
#include "solver/analysis/travel.hpp"
#include "solver/analysis/use_loads.hpp"
#include "solver/analysis/version.hpp"
#include "solver/analysis/worst_place.hpp"
#include "solver/checks/checks.hpp"
#include "solver/checks/screw_strength.hpp"
#include "solver/piece/sense.hpp"
#include "solver/study/hand_rows.hpp"
#include "solver/study/solid_equal.hpp"

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
    double largest = side / 14; // errs by about 0.2 % in sag and 2 % in stress on a hollowed top (docs/method.md)
    switch (options.mesh) {
    case CheckOptions::Mesh::coarse: largest = side / 8; break;
    case CheckOptions::Mesh::normal: break;
    case CheckOptions::Mesh::fine: largest = side / 24; break;
    }
    if (options.mesh_size) largest = *options.mesh_size;
    if (options.mesh_of_another) largest = options.mesh_of_another->size_mm;
    return {.largest = largest, .at_walls = largest / 6, .at_edges = largest / 1.5, .growth = 1};
}

/// How many times the error is what it may be; above 1 the mesh is refined.
double excess_of(const MeshError& error) { return std::max(error.sag_percent / sag_target_percent, error.stress_percent / stress_target_percent); }

/// Where walls cut across cells the error falls only as the size does: from far off, two steps at once.
MeshSize finer(const MeshSize& size, double excess, const ThicknessField& field) {
    const double ratio = excess > 2.5 && walls_cut_across(field) ? 0.65 * 0.65 : 0.65;
    return {.largest = size.largest * ratio, .at_walls = size.at_walls * ratio, .at_edges = size.at_edges * ratio, .growth = size.growth};
}

void fill_mass(const Piece& piece, const Model& model, Result& result) {
    const double density = model.shell.plane.density;
    Mass& mass = result.mass;
    mass.solid_kg = area_of(model.shell.field.outline) * piece.top.thickness * density;
    mass.top_kg = volume_of(model.shell.field, model.shell.mesh) * density;
    for (const Beam& bar : model.bars.beams)
        if (bar.weight > 0) mass.stiffeners_kg += bar.weight * bar.length / standard_gravity; // not the rails
    mass.total_kg = mass.top_kg + mass.stiffeners_kg + mass.cover_kg;
    mass.saved_kg = mass.solid_kg - mass.total_kg;
    mass.saved_percent = mass.solid_kg > 0 ? 100 * mass.saved_kg / mass.solid_kg : 0;
    if (density <= 0) result.warnings.push_back("No density is given, so weights, the top's own weight and its bounce are left out.");
}

void fill_situations(const Response& response, Result& result) {
    for (const SituationResponse& s : response.situations) {
        SituationResult row{.name = s.name,
                            .duration = s.duration,
                            .stage = s.stage,
                            .sag_mm = s.sag_mm,
                            .sag_at = s.sag_at,
                            .dish_mm = s.dish_mm,
                            .dish_at = s.dish_at,
                            .applied_N = s.applied_N,
                            .reactions = {},
                            .equilibrium_error = s.equilibrium_error,
                            .tipping_factor = s.tipping_factor,
                            .buckling_factor = s.buckling_factor,
                            .probes = s.probes,
                            .residual = s.residual,
                            .tipping_factor_solid = s.tipping_factor_solid};
        for (const SupportForce& force : s.supports) row.reactions.push_back({.support = force.support, .force_N = force.force_N, .lifts = force.lifts});
        result.situations.push_back(std::move(row));
    }
}

/// Where the passing load of each situation rests.
void fill_load_places(const Piece& piece, const Model& model, const std::vector<SolvedSituation>& solved, Result& result) {
    const size_t n_before = model.loads.size() - piece.loads.size(); // the top's own weight, where it counts
    for (size_t s = 0; s < solved.size(); ++s)
        if (solved[s].plan.passing >= static_cast<int>(n_before))
            result.situations[s].load_at = place_of(piece.loads[static_cast<size_t>(solved[s].plan.passing) - n_before]);
}

void fill_assumptions(const Piece& piece, const Model& model, Result& result) {
    if (!piece.top.elastic) {
        const materials::WoodConstants wood = materials::wood_constants(materials::find_wood(piece.top.wood), piece.top.moisture_percent,
                                                                        piece.top.measured.E_along, piece.top.measured.density_kg_m3);
        result.assumptions = wood.assumptions;
    }
    const materials::Sourced creep = materials::k_def(piece.allowables.service_class);
    result.assumptions.push_back("Under loads that stay, wood gives " + materials::digits(1 + creep.value) +
                                 " times as much after the years (k_def" + materials::cited(creep) + ").");
    result.assumptions.insert(result.assumptions.end(), model.supports.assumptions.begin(), model.supports.assumptions.end());
}

/// Each stiffener and each screw in the situation where it is worst off.
void fill_bars(const Piece& piece, const Model& model, const std::vector<SolvedSituation>& solved, const Response& response, bool essentials,
               Result& result) {
    if (piece.stiffeners.empty()) return;
    StiffeningAnswer answer{.stiffening = {}, .composite_action = std::vector<double>(piece.stiffeners.size(), 0)};
    if (!essentials) {
        answer = stiffening_of(piece, model, solved, response);
        result.stiffening = answer.stiffening;
    }
    for (size_t i = 0; i < piece.stiffeners.size(); ++i) {
        const Beam& bar = model.bars.beams[static_cast<size_t>(model.bars.n_rails) + i];
        StiffenerResult row{.name = bar.name, .section = bar.section.text, .mass_kg = bar.weight * bar.length / standard_gravity,
                            .max_stress_MPa = 0, .composite_action = answer.composite_action[i]};
        for (const SituationResponse& s : response.situations) row.max_stress_MPa = std::max(row.max_stress_MPa, std::abs(s.stiffeners[i].stress_MPa));
        result.stiffeners.push_back(std::move(row));
    }
    ScrewUses uses(piece);
    for (size_t k = 0; k < model.bars.screws.size(); ++k) {
        const SituationResponse* worst = nullptr;
        for (const SituationResponse& s : response.situations)
            if (!worst || std::hypot(s.screws[k].shear_N, s.screws[k].withdrawal_N) > std::hypot(worst->screws[k].shear_N, worst->screws[k].withdrawal_N))
                worst = &s;
        if (!worst) continue;
        const ScrewForce& screw = worst->screws[k];
        result.screws.push_back({.stiffener = piece.stiffeners[static_cast<size_t>(screw.stiffener)].name, .at = screw.at, .slip_mm = screw.slip_mm,
                                 .shear_N = screw.shear_N, .withdrawal_N = screw.withdrawal_N, .utilisation = uses.of(screw, worst->duration).both});
    }
}

/// Is something set down or held on a point or a line? Under it no mesh is fine enough.
bool has_points_or_lines(const Piece& piece) {
    return std::any_of(piece.loads.begin(), piece.loads.end(),
                       [](const Load& load) {
                           const auto* patch = std::get_if<PatchLoad>(&load.kind);
                           return std::holds_alternative<LineLoad>(load.kind) || (patch && (patch->size_x <= 0 || patch->size_y <= 0));
                       }) ||
           std::any_of(piece.supports.begin(), piece.supports.end(), [](const Support& support) {
               const auto* pad = std::get_if<Pad>(&support.kind);
               const auto* bearer = std::get_if<Bearer>(&support.kind);
               return (pad && (pad->size_x <= 0 || pad->size_y <= 0)) || (bearer && bearer->width <= 0) ||
                      std::holds_alternative<Held>(support.kind) || std::holds_alternative<BuiltIn>(support.kind);
           });
}

void warn_of_mesh(const Piece& piece, Result& result) {
    if (result.mesh.reached) return;
    result.warnings.push_back("The mesh could not be made fine enough: sag is sure to " + materials::digits(result.mesh.sag_error_percent) +
                              " %, stresses to " + materials::digits(result.mesh.stress_error_percent) + " %." +
                              (has_points_or_lines(piece) ? " Point loads and point supports have no finite stress; spread them over their true area."
                                                          : " Take every margin for no surer than that."));
}

void warn_of_lifting(const Response& response, Result& result) {
    for (const SituationResponse& s : response.situations)
        for (const SupportForce& force : s.supports)
            if (force.lifts)
                result.warnings.push_back("Under \"" + s.name + "\" the top lifts off " + force.support + ".");
}

/// Two answers to the same question by other ways: the sag by hand, and the solid top that sags as little.
void fill_second_answers(const Piece& piece, const Model& model, const std::vector<SolvedSituation>& solved, int threads, Result& result) {
    std::vector<SituationPlan> plans;
    plans.reserve(solved.size());
    for (const SolvedSituation& s : solved) plans.push_back(s.plan);
    const int n_before = static_cast<int>(model.loads.size() - piece.loads.size()); // the top's own weight, where it counts
    result.by_hand = estimates_by_hand(piece, plans, n_before, result);
    warn_of_disagreement(result);
    const int nearest = nearest_to_its_limit(result);
    if (nearest < 0 || (piece.recesses.empty() && piece.stiffeners.empty())) return;
    const auto s = static_cast<size_t>(nearest);
    result.solid_equal = solid_equal(piece, plans[s], n_before, result.situations[s].sag_mm, threads);
}

/// One piece's check in steps; what lies under the top may be taken out of its models between two of them.
class Checking {
  public:
    /// Throws what check_piece does.
    Checking(const Piece& asked, const CheckOptions& options, KeptModels& kept);
    /// What every tie carries, on this mesh, in both orders.
    void tie();
    const Model& high() const { return *high_.model; }
    /// Nodal forces of the higher order, one column a situation.
    std::vector<double> columns() const { return columns_of(high(), high_tied_); }
    int n_columns() const { return static_cast<int>(high_tied_.size()); }
    /// Takes the factor's answer. Says whether a finer mesh is needed, and if so has chosen it: tie() comes again.
    bool solve(std::vector<double> answered);
    CheckOutcome conclude();

    void step_aside();
    void step_back();

  private:
    void report(double share) const {
        if (options_.progress) options_.progress(share);
    }

    const Piece& asked_;
    const CheckOptions& options_;
    KeptModels& kept_;
    int threads_;
    WorstPlaces worst_{};
    Piece piece_{};
    MeshSize size_{};
    int round_ = 0;
    ModelUse low_{}, high_{};
    std::vector<TiedSituation> low_tied_{}, high_tied_{};
    std::vector<double> tones_{};
    std::vector<SolvedSituation> solved_{};
    Surveys surveys_{};
    MeshError error_{};
    std::optional<Underside> low_aside_{}, high_aside_{};
};

Checking::Checking(const Piece& asked, const CheckOptions& options, KeptModels& kept)
    : asked_(asked), options_(options), kept_(kept),
      threads_(options.threads > 0 ? options.threads : std::max(1, static_cast<int>(std::thread::hardware_concurrency()))) {
    if (std::vector<Fault> faults = faults_of(asked); !faults.empty()) throw Error(ErrorKind::input, std::move(faults));
    piece_ = with_use(asked);
    if (std::vector<Fault> faults = not_computed(piece_); !faults.empty()) throw Error(ErrorKind::not_computable, std::move(faults));
    if (piece_.supports.empty())
        throw Error(ErrorKind::not_computable, {.place = "supports", .what = "nothing holds the top", .remedy = "add pads, bearers or held lines"});
    if (piece_.loads.empty() && elastic_of(piece_).density_kg_m3.value_or(0) <= 0)
        throw Error(ErrorKind::not_computable, {.place = "loads", .what = "nothing loads the top, and without a density it has no tones either", .remedy = "add a load or a density"});
    worst_ = with_worst_places(piece_, threads_);
    piece_ = std::move(worst_.piece);
    size_ = first_size(piece_, options);
}

void Checking::tie() {
    report(0.1 + 0.7 * round_ / most_rounds);
    low_ = high_ = {}; // the models of the round before may be used again
    const auto model_of = [&](int order) {
        return kept_.use(piece_, {.shell = {.size = size_, .order = order}, .threads = threads_, .bonded = !options_.essentials && order == high_order});
    };
    low_tied_.clear();
    if (!options_.mesh_of_another) {
        low_ = model_of(low_order);
        low_tied_ = tie_situations(piece_, *low_.model);
    }
    high_ = model_of(high_order);
    high_tied_ = tie_situations(piece_, high(), low_tied_);
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

bool Checking::solve(std::vector<double> answered) {
    solved_ = finish_situations(high(), std::move(high_tied_), std::move(answered));
    surveys_ = surveys_of(high(), solved_, high_.readings());
    if (options_.mesh_of_another) {
        error_ = {.sag_percent = options_.mesh_of_another->sag_error_percent, .stress_percent = options_.mesh_of_another->stress_error_percent};
        return false;
    }
    error_ = mesh_error(*low_.model, low_tied_, *low_.spots, {.model = high(), .solved = solved_, .readings = high_.readings(), .surveys = surveys_.rows});
    if (excess_of(error_) <= 1 || high().factor->n_dofs() > most_dofs / 3 || ++round_ == most_rounds) return false;
    size_ = finer(size_, excess_of(error_), high().shell.field);
    return true;
}

CheckOutcome Checking::conclude() {
    report(0.8);
    // what the checks read
    Response response = gather_response(piece_, high_.model, solved_, high_.readings(), std::move(surveys_), high_.means_at);
    gather_bars(piece_, high(), solved_, response);
    response.tipped = std::move(worst_.tipped);
    constexpr int all_tones = 6;
    if (!options_.no_advice || piece_.limits.frequency_Hz) {
        const ModelUse& swings = options_.mesh_of_another ? high_ : low_;
        std::vector<SolvedSituation> resting;
        for (TiedSituation& tied : low_tied_) resting.push_back(unsolved(*low_.model, std::move(tied)));
        response.frequency_Hz = first_frequencies(*swings.model, options_.mesh_of_another ? solved_ : resting, options_.essentials ? 1 : all_tones, swings.modes.get());
    }
    if (!options_.essentials) response.pushes = push_skins(piece_, threads_); // advice: fails nothing
    report(0.95);

    Result result;
    result.version = program_version;
    result.title = piece_.title;
    fill_mass(piece_, high(), result);
    fill_situations(response, result);
    fill_load_places(piece_, high(), solved_, result);
    result.travels = std::move(worst_.travels);
    const double asked_years = piece_.climate ? piece_.climate->years : Climate{}.years;
    result.sag_in_time = sag_in_time(response, asked_years);
    if (!result.sag_in_time.empty()) result.sag_in_time_basis = sag_in_time_basis();
    if (!result.sag_in_time.empty() && asked_years > creep_life_years)
        result.warnings.push_back("Sag after " + materials::digits(asked_years) + " years is not told: of creep past " +
                                  materials::digits(creep_life_years) + " years nothing is known here.");
    fill_bars(piece_, high(), solved_, response, options_.essentials, result);
    result.frequency_Hz = response.frequency_Hz;
    fill_assumptions(piece_, high(), result);
    const std::vector<std::string> told = told_of_use(asked_);
    result.assumptions.insert(result.assumptions.end(), told.begin(), told.end());
    result.mesh = {.elements = static_cast<int>(std::count_if(high().shell.mesh.cells.begin(), high().shell.mesh.cells.end(),
                                                              [](const Cell& c) { return c.active; })),
                   .dofs = high().factor->n_dofs(),
                   .size_mm = size_.largest,
                   .order = high_order,
                   .sag_error_percent = error_.sag_percent,
                   .stress_error_percent = error_.stress_percent,
                   .reached = excess_of(error_) <= 1};
    warn_of_mesh(piece_, result);
    warn_of_lifting(response, result);
    judge(piece_, response, result, options_.essentials || options_.no_advice);
    if (!options_.essentials) fill_second_answers(piece_, high(), solved_, threads_, result);
    for (CheckResult& row : result.checks) {
        if (row.advice) continue; // found on meshes of their own
        if (row.unit == "mm") row.error_percent = error_.sag_percent;
        else if (row.unit == "MPa" || row.unit == "1") row.error_percent = error_.stress_percent;
    }
    CheckOutcome outcome{.result = std::move(result), .fields = std::nullopt, .placed = std::move(piece_)};
    if (options_.want_fields) outcome.fields = sample_fields(high(), solved_);
    report(1);
    return outcome;
}

/// The rest of a check that is alone with its models.
CheckOutcome go_on(Checking& check) {
    for (;;) {
        check.tie();
        std::vector<double> columns = check.columns();
        check.high().factor->solve(columns, check.n_columns());
        if (!check.solve(std::move(columns))) return check.conclude();
    }
}

/// Checks that wait for one model's factor to answer them all, each of an index of the attempts.
struct Waiting {
    std::vector<std::pair<size_t, std::unique_ptr<Checking>>> checks{};
    std::vector<double> columns{};
    int n_columns = 0;

    void add(size_t index, std::unique_ptr<Checking> check) {
        const std::vector<double> own = check->columns();
        columns.insert(columns.end(), own.begin(), own.end());
        n_columns += check->n_columns();
        check->step_aside();
        checks.emplace_back(index, std::move(check));
    }

    void conclude(std::vector<CheckAttempt>& attempts) {
        if (checks.empty()) return;
        const Factor& factor = *checks.front().second->high().factor;
        const auto n = static_cast<size_t>(factor.n_dofs());
        if (n_columns == 1) columns.resize(2 * n, 0); // a single column is solved another way, and rounded in another
        factor.solve(columns, std::max(n_columns, 2));
        auto answered = columns.begin();
        for (auto& [index, check] : checks) {
            const auto next = answered + static_cast<std::ptrdiff_t>(n * static_cast<size_t>(check->n_columns()));
            try {
                check->step_back();
                attempts[index].outcome = check->solve({answered, next}) ? go_on(*check) : check->conclude();
            } catch (const Error& error) {
                attempts[index].error = error;
            }
            answered = next;
            check.reset();
        }
        *this = {};
    }
};

} // namespace

CheckOutcome check_piece(const Piece& asked, const CheckOptions& options) {
    KeptModels own;
    Checking check(asked, options, options.kept ? *options.kept : own);
    return go_on(check);
}

std::vector<CheckAttempt> check_pieces(std::span<const Piece> asked, const CheckOptions& options) {
    KeptModels own;
    KeptModels& kept = options.kept ? *options.kept : own;
    std::vector<CheckAttempt> attempts(asked.size());
    Waiting waiting;
    for (size_t i = 0; i < asked.size(); ++i) {
        try {
            auto check = std::make_unique<Checking>(asked[i], options, kept);
            check->tie();
            if (!waiting.checks.empty() && &waiting.checks.front().second->high() != &check->high()) waiting.conclude(attempts);
            waiting.add(i, std::move(check));
        } catch (const Error& error) {
            attempts[i].error = error;
        }
    }
    waiting.conclude(attempts);
    return attempts;
}

} // namespace hollowtop
