// SPDX-License-Identifier: MIT
#include "solver/check/check_piece.hpp"

#include "materials/error.hpp"
#include "solver/check/checking.hpp"

#include <algorithm>
#include <memory>
#include <span>
#include <utility>
#include <vector>

namespace hollowtop {
namespace {

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
        check.connect();
        std::vector<double> answered;
        check.append_columns(answered);
        check.high().factor->solve(answered, check.n_columns());
        check.add_loads(answered);
        check.finish(answered);
        Checking* const alone = &check;
        if (check.weigh(std::move(read_together({&alone, 1}).front()))) continue;
        if (std::optional<CheckOutcome> outcome = check.conclude()) return std::move(*outcome);
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
                if (!one.check->weigh(std::move(readouts[i])))
                    attempts[one.index].outcome = one.check->conclude();
                if (!attempts[one.index].outcome) attempts[one.index].outcome = go_on(*one.check);
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
            check->connect();
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
