// SPDX-License-Identifier: MIT
#include "solver/numeric/factor.hpp"

#include "materials/assert.hpp"
#include "solver/numeric/arena.hpp"
#include "solver/numeric/cell_kinds.hpp"
#include "solver/numeric/dissection.hpp"
#include "solver/numeric/factor_body.hpp"
#include "solver/numeric/front_kernels.hpp"
#include "solver/numeric/front_tasks.hpp"
#include "solver/numeric/threads.hpp"

#include <algorithm>
#include <cstring>
#include <limits>
#include <mutex>
#include <utility>

namespace hollowtop {

namespace {

constexpr int no_failure = std::numeric_limits<int>::max();

struct Worker {
    std::vector<int> local_of; ///< position -> row of the front in work; only that front's rows are valid
    double* stack = nullptr;
    AlignedValues schur;
    std::vector<Stretch> stretches;
    std::vector<std::pair<int, int>> rows; ///< row of the front, border dof of the element
};

class Factorization {
  public:
    Factorization(const GridStiffness& stiffness, int threads, FactorBody& out)
        : stiffness_(stiffness), threads_wanted_(std::max(threads, 1)), threads_(threads_wanted_), out_(out),
          d_(dissect(stiffness.grid, stiffness.held)), kinds_(kinds_of(stiffness, d_)),
          tasks_(tasks_of(d_, threads_)) {
        threads_ = std::min(threads_, std::max<int>(1, static_cast<int>(tasks_.size())));
        task_failed_.assign(tasks_.size(), 0);
    }

    void run() {
        take_memory();
        condense_shared_kinds();
        run_tasks();
        if (failure_ != no_failure) throw PivotFailure{d_.dof_at[failure_]};
        write_body();
    }

  private:
    static std::size_t schur_size(const CellKind& kind) { return kind.border.size() * kind.border.size(); }

    std::size_t size_of_update(int f) const { return update_size(d_.fronts[f], slots_[f]); }

    // ---- memory

    void take_memory() {
        // Kept: the columns of the factor.
        std::size_t kept = 0;
        for (CellKind& kind : kinds_.kinds) {
            const int n_own = static_cast<int>(kind.interior.size());
            kind.stride = stride_for(n_own + static_cast<int>(kind.border.size()));
            kept += Arena::rounded(static_cast<std::size_t>(kind.stride) * n_own);
        }
        slots_.resize(d_.fronts.size());
        for (std::size_t f = 0; f < d_.fronts.size(); ++f) {
            slots_[f].own_stride = stride_for(d_.fronts[f].size());
            slots_[f].update_stride = stride_for(d_.fronts[f].n_border);
            kept += Arena::rounded(static_cast<std::size_t>(slots_[f].own_stride) * d_.fronts[f].n_own);
        }
        out_.memory = Arena(kept);
        for (CellKind& kind : kinds_.kinds)
            kind.l = out_.memory.take(static_cast<std::size_t>(kind.stride) * kind.interior.size());
        for (std::size_t f = 0; f < d_.fronts.size(); ++f)
            slots_[f].own =
                out_.memory.take(static_cast<std::size_t>(slots_[f].own_stride) * d_.fronts[f].n_own);

        // For the time of the work: shared Schur complements, updates handed from task to task, a stack a
        // worker.
        std::size_t work = 0, stack = 0;
        for (const CellKind& kind : kinds_.kinds)
            if (kind.n_users > 1) work += Arena::rounded(schur_size(kind));
        for (const FrontTask& task : tasks_) {
            stack = std::max(stack, plan_stack(d_, task, slots_));
            work += size_of_update(task.last);
        }
        work_ = Arena(work + stack * threads_);
        for (CellKind& kind : kinds_.kinds)
            if (kind.n_users > 1) kind.schur = work_.take(schur_size(kind));
        for (const FrontTask& task : tasks_) slots_[task.last].update = work_.take(size_of_update(task.last));
        workers_.resize(static_cast<std::size_t>(threads_));
        stack_size_ = stack;
        for (Worker& worker : workers_) {
            worker.local_of.resize(static_cast<std::size_t>(d_.n_free()));
            worker.stack = work_.take(stack);
        }
    }

    // ---- cells

    void condense_shared_kinds() {
        std::vector<int> shared;
        for (std::size_t k = 0; k < kinds_.kinds.size(); ++k)
            if (kinds_.kinds[k].schur != nullptr) shared.push_back(static_cast<int>(k));
        share_out(static_cast<int>(shared.size()), threads_, [&](int i, int) {
            const CellKind& kind = kinds_.kinds[shared[i]];
            if (const int failed = condense(kind, kind.schur); failed >= 0)
                note_failure(d_.cells[kind.first_cell].first_interior + failed);
        });
        if (failure_ != no_failure) throw PivotFailure{d_.dof_at[failure_]};
    }

    // ---- fronts

    static FrontTarget target(const Dissection::Front& front, const FrontSlot& place) {
        return {place.own, place.own_stride, place.update, place.update_stride, front.n_own};
    }

    /// Adds a child's update into its parent's front. Both list their border in the order of elimination, so
    /// what is below the diagonal stays below it.
    void add_child(int child, const Dissection::Front& front, const FrontSlot& place, Worker& worker) const {
        const Dissection::Front& from = d_.fronts[child];
        const FrontSlot& source = slots_[child];
        const int* border = d_.border_positions.data() + from.border;
        worker.stretches.clear();
        for (int i = 0; i < from.n_border; ++i) {
            const int to = worker.local_of[border[i]];
            if (!worker.stretches.empty()) {
                Stretch& last = worker.stretches.back();
                if (last.to + last.count == to) {
                    ++last.count;
                    continue;
                }
            }
            worker.stretches.push_back({i, 1, to});
        }
        add_update(source.update, source.update_stride, worker.stretches.data(),
                   static_cast<int>(worker.stretches.size()), target(front, place));
    }

    /// Returns false where the element's own pivots fail.
    bool add_cell(int c, const Dissection::Front& front, const FrontSlot& place, Worker& worker) {
        const Dissection::Cell& cell = d_.cells[c];
        const CellKind& kind = kinds_.kinds[kinds_.kind_of_cell[c]];
        const int nb = cell.n_border;
        const double* schur = kind.schur;
        if (schur == nullptr) {
            worker.schur.resize(static_cast<std::size_t>(nb) * nb);
            if (const int failed = condense(kind, worker.schur.data()); failed >= 0) {
                note_failure(cell.first_interior + failed);
                return false;
            }
            schur = worker.schur.data();
        }
        worker.rows.clear();
        for (int k = 0; k < nb; ++k)
            if (const int position = d_.border_positions[cell.border + k]; position >= 0)
                worker.rows.push_back({worker.local_of[position], k});
        std::sort(worker.rows.begin(), worker.rows.end());
        const FrontTarget columns = target(front, place);
        for (std::size_t j = 0; j < worker.rows.size(); ++j) {
            const double* from = schur + static_cast<std::size_t>(worker.rows[j].second) * nb;
            double* to = columns.column(worker.rows[j].first);
            for (std::size_t i = j; i < worker.rows.size(); ++i)
                to[worker.rows[i].first] += from[worker.rows[i].second];
        }
        return true;
    }

    /// Assembles and eliminates one front; false if a pivot fails.
    bool factor_front(int f, Worker& worker) {
        const Dissection::Front& front = d_.fronts[f];
        FrontSlot& place = slots_[f];
        if (place.update == nullptr)
            place.update = place.side == 0
                               ? worker.stack + place.stack_offset
                               : worker.stack + stack_size_ - place.stack_offset - size_of_update(f);
        // cleared when it is added to, not before: so it is still near
        std::fill_n(place.own, static_cast<std::size_t>(place.own_stride) * front.n_own, 0.0);
        for (int j = 0; j < front.n_border; ++j)
            std::memset(place.update + j * place.update_stride + j, 0,
                        static_cast<std::size_t>(front.n_border - j) * sizeof(double));
        for (int k = 0; k < front.n_own; ++k) worker.local_of[front.first_own + k] = k;
        for (int k = 0; k < front.n_border; ++k)
            worker.local_of[d_.border_positions[front.border + k]] = front.n_own + k;
        for (int k = 0; k < front.n_children; ++k)
            add_child(d_.children[front.first_child + k], front, place, worker);
        for (int c = 0; c < front.n_cells; ++c)
            if (!add_cell(front.first_cell + c, front, place, worker)) return false;
        if (const int failed = factor_columns(place.own, place.own_stride, front.size(), front.n_own);
            failed >= 0) {
            note_failure(front.first_own + failed);
            return false;
        }
        update_border(place.update, place.update_stride, place.own + front.n_own, place.own_stride,
                      front.n_border, front.n_own);
        return true;
    }

    // ---- tasks

    /// The lowest position wins, whichever thread comes first: all fronts below it have been tried.
    void note_failure(int position) {
        const std::lock_guard lock(mutex_);
        failure_ = std::min(failure_, position);
    }

    void run_tasks() {
        TaskForest forest;
        for (const FrontTask& task : tasks_) {
            forest.parent.push_back(task.parent);
            forest.effort.push_back(task.flops);
        }
        run_forest(forest, threads_, [&](int t, int worker) {
            const FrontTask& task = tasks_[t];
            bool failed = task_failed_[t];
            for (int f = task.first; f <= task.last && !failed; ++f)
                failed = !factor_front(f, workers_[worker]);
            if (!failed || task.parent < 0) return;
            const std::lock_guard lock(mutex_);
            task_failed_[task.parent] = 1;
        });
    }

    // ---- result

    void write_body() {
        out_.n_dofs = stiffness_.grid.n_dofs();
        out_.threads = threads_wanted_;
        for (std::size_t f = 0; f < d_.fronts.size(); ++f) {
            const Dissection::Front& front = d_.fronts[f];
            for (int c = front.first_cell; c < front.first_cell + front.n_cells; ++c) {
                const Dissection::Cell& cell = d_.cells[c];
                const CellKind& kind = kinds_.kinds[kinds_.kind_of_cell[c]];
                add_block({kind.l, kind.stride, cell.first_interior, cell.n_interior, cell.border,
                           cell.n_border, -1});
            }
            add_block({slots_[f].own, slots_[f].own_stride, front.first_own, front.n_own, front.border,
                       front.n_border, -1});
            out_.flops += front_flops(front);
        }
        for (const CellKind& kind : kinds_.kinds) {
            const int n_own = static_cast<int>(kind.interior.size());
            out_.flops += elimination_flops(n_own + static_cast<int>(kind.border.size()), n_own);
        }
        for (std::size_t b = 0; b < out_.blocks.size(); ++b)
            out_.block_of.insert(out_.block_of.end(), static_cast<std::size_t>(out_.blocks[b].n_own),
                                 static_cast<int>(b));
        for (FactorBlock& block : out_.blocks) {
            int first = no_failure;
            for (int k = block.border; k < block.border + block.n_border; ++k)
                if (d_.border_positions[k] >= 0) first = std::min(first, d_.border_positions[k]);
            block.parent = first == no_failure ? -1 : out_.block_of[first];
        }
        out_.dof_at = std::move(d_.dof_at);
        out_.position_of = std::move(d_.position_of);
        out_.border_positions = std::move(d_.border_positions);
        out_.border_rows = out_.border_positions;
        std::replace(out_.border_rows.begin(), out_.border_rows.end(), -1, out_.n_free());
    }

    void add_block(const FactorBlock& block) {
        if (block.n_own == 0) return;
        out_.blocks.push_back(block);
    }

    const GridStiffness& stiffness_;
    int threads_wanted_, threads_; ///< the second: no more than there are tasks
    FactorBody& out_;
    Dissection d_;
    CellKinds kinds_;
    std::vector<FrontTask> tasks_;
    std::vector<char> task_failed_; ///< one a task: it, or one below it
    std::vector<FrontSlot> slots_;  ///< one a front
    std::vector<Worker> workers_;
    std::size_t stack_size_ = 0;
    Arena work_;
    std::mutex mutex_;
    int failure_ = no_failure;
};

} // namespace

Factor::Factor(const GridStiffness& stiffness, int threads) : body_(std::make_unique<FactorBody>()) {
    HOLLOWTOP_ASSERT(stiffness.grid.active.size() ==
                     static_cast<std::size_t>(stiffness.grid.nx) * stiffness.grid.ny);
    Factorization(stiffness, threads, *body_).run();
}

Factor::~Factor() = default;
Factor::Factor(Factor&&) noexcept = default;
Factor& Factor::operator=(Factor&&) noexcept = default;

int Factor::n_dofs() const { return body_->n_dofs; }

Factor::Cost Factor::cost() const {
    return {.factor_flops = body_->flops, .factor_entries = static_cast<double>(body_->memory.size())};
}

} // namespace hollowtop
