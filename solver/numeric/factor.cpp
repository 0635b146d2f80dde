// SPDX-License-Identifier: MIT
#include "solver/numeric/factor.hpp"

#include "materials/assert.hpp"
#include "solver/numeric/arena.hpp"
#include "solver/numeric/dissection.hpp"
#include "solver/numeric/factor_body.hpp"
#include "solver/numeric/front_kernels.hpp"
#include "solver/numeric/threads.hpp"

#include <algorithm>
#include <condition_variable>
#include <cstring>
#include <limits>
#include <mutex>
#include <utility>

namespace hollowtop {

namespace {

constexpr int no_failure = std::numeric_limits<int>::max();

/// Numbers from one column to the next: whole cache lines, and never a multiple of a page, where the columns
/// would all fall on the same lines of the cache.
long stride_for(int rows) {
    const long stride = (rows + 7L) / 8 * 8;
    return stride % 512 == 0 ? stride + 8 : stride;
}

/// An element whose inside is eliminated: one for each class, and one for each cell with a held dof inside.
struct CellKind {
    const double* element = nullptr;
    std::vector<int> interior; ///< local dofs eliminated
    int first_cell = -1;       ///< in Dissection::cells
    int n_users = 0;
    double* l = nullptr;
    long stride = 0;
    double* schur = nullptr; ///< full symmetric; null where the only user makes it when it is needed
};

/// Fronts that one thread works through without a break; the update of the last goes to a place of its own.
struct Task {
    int first = 0, last = 0; ///< fronts
    double flops = 0;
    int parent = -1;
    int n_waiting_for = 0;
    bool failed = false;
};

/// Where a front's numbers lie.
struct FrontSlot {
    double* own = nullptr;
    long own_stride = 0;
    double* update = nullptr;
    long update_stride = 0;
    std::size_t stack_offset = 0; ///< of the update, on its side of the worker's stack
    int side = 0;
};

struct Worker {
    std::vector<int> local_of; ///< position -> row of the front in work; only that front's rows are valid
    double* stack = nullptr;
    AlignedValues schur;
    std::vector<Stretch> stretches;
    std::vector<std::pair<int, int>> rows; ///< row of the front, border dof of the element
};

double elimination_flops(int rows, int cols) {
    double flops = 0;
    for (int k = 0; k < cols; ++k) flops += static_cast<double>(rows - k) * (rows - k);
    return flops;
}

class Factorization {
  public:
    Factorization(const GridStiffness& stiffness, int threads, FactorBody& out)
        : stiffness_(stiffness), threads_wanted_(std::max(threads, 1)), threads_(threads_wanted_), out_(out),
          d_(dissect(stiffness.grid, stiffness.held)), border_(element_border_dofs(stiffness.grid)) {}

    void run() {
        sort_cells_into_kinds();
        plan_tasks();
        take_memory();
        condense_shared_kinds();
        run_tasks();
        if (failure_ != no_failure) throw PivotFailure{d_.dof_at[failure_]};
        write_body();
    }

  private:
    int n_border() const { return static_cast<int>(border_.size()); }

    // ---- plan
    // ----------------------------------------------------------------------------------------------------

    void sort_cells_into_kinds() {
        const CellGrid& grid = stiffness_.grid;
        const std::vector<int> interior = element_interior_dofs(grid);
        std::vector<int> kind_of_class(stiffness_.classes.size(), -1);
        for (std::size_t c = 0; c < d_.cells.size(); ++c) {
            const Dissection::Cell& cell = d_.cells[c];
            const int element_class = stiffness_.cell_class[cell.index];
            const bool held_inside = cell.n_interior != static_cast<int>(interior.size());
            int kind = held_inside ? -1 : kind_of_class[element_class];
            if (kind < 0) {
                kind = static_cast<int>(kinds_.size());
                CellKind entry;
                entry.element = stiffness_.classes[element_class].data();
                entry.first_cell = static_cast<int>(c);
                for (int local : interior)
                    if (d_.position_of[global_dof(grid, cell.index, local)] >= 0)
                        entry.interior.push_back(local);
                kinds_.push_back(std::move(entry));
                if (!held_inside) kind_of_class[element_class] = kind;
            }
            ++kinds_[kind].n_users;
            kind_of_cell_.push_back(kind);
        }
    }

    double front_flops(const Dissection::Front& front) const {
        return elimination_flops(front.size(), front.n_own);
    }

    /// Whole trees for one thread; for more, trees are split from the top until there is enough to share out.
    void plan_tasks() {
        const int n_fronts = static_cast<int>(d_.fronts.size());
        std::vector<double> flops(d_.fronts.size()); // of a subtree
        double total = 0;
        for (int f = 0; f < n_fronts; ++f) {
            const Dissection::Front& front = d_.fronts[f];
            const double own = front_flops(front) + 1; // the one is for fronts that eliminate nothing
            total += own;
            flops[f] += own;
            if (front.parent >= 0) flops[front.parent] += flops[f];
        }
        const double share = threads_ == 1 ? total : total / (4.0 * threads_);
        task_of_.assign(d_.fronts.size(), -1);
        std::vector<char> split(d_.fronts.size(), 0);
        for (int f = n_fronts - 1; f >= 0; --f) // parents before children
            split[f] = flops[f] > share && (d_.fronts[f].parent < 0 || split[d_.fronts[f].parent]);
        for (int f = 0; f < n_fronts; ++f) {
            const int parent = d_.fronts[f].parent;
            if (!split[f] && parent >= 0 && !split[parent]) continue; // inside a subtree
            Task task;
            task.first = split[f] ? f : d_.fronts[f].subtree;
            task.last = f;
            task.flops = split[f] ? front_flops(d_.fronts[f]) : flops[f];
            for (int g = task.first; g <= task.last; ++g) task_of_[g] = static_cast<int>(tasks_.size());
            tasks_.push_back(task);
        }
        for (Task& task : tasks_) {
            const int parent = d_.fronts[task.last].parent;
            if (parent < 0) continue;
            task.parent = task_of_[parent];
            ++tasks_[task.parent].n_waiting_for;
        }
        threads_ = std::min(threads_, std::max<int>(1, static_cast<int>(tasks_.size())));
    }

    /// Updates inside a task live on a stack with two ends, even depths on one and odd depths on the other: a
    /// front takes room on its side, then its children, last on the other side, are let go. Returns the
    /// greatest total.
    std::size_t plan_stack(const Task& task) {
        std::size_t top[2] = {0, 0}, peak = 0;
        std::vector<int>& depth = scratch_;
        depth.resize(d_.fronts.size());
        for (int f = task.last; f >= task.first; --f) {
            const int parent = d_.fronts[f].parent;
            depth[f] = f == task.last ? 0 : depth[parent] + 1;
        }
        for (int f = task.first; f <= task.last; ++f) {
            const Dissection::Front& front = d_.fronts[f];
            FrontSlot& place = slots_[f];
            place.side = depth[f] % 2;
            if (f != task.last) {
                place.stack_offset = top[place.side];
                top[place.side] += update_size(f);
                peak = std::max(peak, top[0] + top[1]);
            }
            if (front.n_children > 0 && task.first != task.last)
                top[1 - place.side] = slots_[d_.children[front.first_child]].stack_offset;
        }
        return peak;
    }

    std::size_t update_size(int f) const {
        return Arena::rounded(static_cast<std::size_t>(slots_[f].update_stride) * d_.fronts[f].n_border);
    }

    void take_memory() {
        // Kept: the columns of the factor.
        std::size_t kept = 0;
        for (CellKind& kind : kinds_) {
            const int n_own = static_cast<int>(kind.interior.size());
            kind.stride = stride_for(n_own + n_border());
            kept += Arena::rounded(static_cast<std::size_t>(kind.stride) * n_own);
        }
        slots_.resize(d_.fronts.size());
        for (std::size_t f = 0; f < d_.fronts.size(); ++f) {
            slots_[f].own_stride = stride_for(d_.fronts[f].size());
            slots_[f].update_stride = stride_for(d_.fronts[f].n_border);
            kept += Arena::rounded(static_cast<std::size_t>(slots_[f].own_stride) * d_.fronts[f].n_own);
        }
        out_.memory = Arena(kept);
        for (CellKind& kind : kinds_)
            kind.l = out_.memory.take(static_cast<std::size_t>(kind.stride) * kind.interior.size());
        for (std::size_t f = 0; f < d_.fronts.size(); ++f)
            slots_[f].own =
                out_.memory.take(static_cast<std::size_t>(slots_[f].own_stride) * d_.fronts[f].n_own);

        // For the time of the work: shared Schur complements, updates handed from task to task, a stack a
        // worker.
        const std::size_t schur_size = static_cast<std::size_t>(n_border()) * n_border();
        std::size_t work = 0, stack = 0;
        for (const CellKind& kind : kinds_)
            if (kind.n_users > 1) work += Arena::rounded(schur_size);
        for (const Task& task : tasks_) {
            stack = std::max(stack, plan_stack(task));
            work += update_size(task.last);
        }
        work_ = Arena(work + stack * threads_);
        for (CellKind& kind : kinds_)
            if (kind.n_users > 1) kind.schur = work_.take(schur_size);
        for (const Task& task : tasks_) slots_[task.last].update = work_.take(update_size(task.last));
        workers_.resize(static_cast<std::size_t>(threads_));
        stack_size_ = stack;
        for (Worker& worker : workers_) {
            worker.local_of.resize(static_cast<std::size_t>(d_.n_free()));
            worker.stack = work_.take(stack);
        }
    }

    // ---- cells
    // ---------------------------------------------------------------------------------------------------

    /// Eliminates the inside of an element: its columns of the factor to kind.l, what is left to `schur`
    /// (full).
    /// Returns -1 or which interior dof failed.
    int condense(const CellKind& kind, double* schur) const {
        const int size = stiffness_.grid.element_size(), n_own = static_cast<int>(kind.interior.size()),
                  nb = n_border();
        std::fill_n(kind.l, static_cast<std::size_t>(kind.stride) * n_own, 0.0);
        for (int j = 0; j < n_own; ++j) {
            const double* from = kind.element + static_cast<std::size_t>(kind.interior[j]) * size;
            double* to = kind.l + j * kind.stride;
            for (int i = j; i < n_own; ++i) to[i] = from[kind.interior[i]];
            for (int i = 0; i < nb; ++i) to[n_own + i] = from[border_[i]];
        }
        for (int j = 0; j < nb; ++j) {
            const double* from = kind.element + static_cast<std::size_t>(border_[j]) * size;
            for (int i = j; i < nb; ++i) schur[j * nb + i] = from[border_[i]];
        }
        if (n_own > 0) {
            if (const int failed = factor_columns(kind.l, kind.stride, n_own + nb, n_own); failed >= 0)
                return failed;
            update_border(schur, nb, kind.l + n_own, kind.stride, nb, n_own);
        }
        for (int j = 0; j < nb; ++j)
            for (int i = 0; i < j; ++i) schur[j * nb + i] = schur[i * nb + j];
        return -1;
    }

    void condense_shared_kinds() {
        std::vector<int> shared;
        for (std::size_t k = 0; k < kinds_.size(); ++k)
            if (kinds_[k].schur != nullptr) shared.push_back(static_cast<int>(k));
        share_out(static_cast<int>(shared.size()), threads_, [&](int i, int) {
            const CellKind& kind = kinds_[shared[i]];
            if (const int failed = condense(kind, kind.schur); failed >= 0)
                note_failure(d_.cells[kind.first_cell].first_interior + failed);
        });
        if (failure_ != no_failure) throw PivotFailure{d_.dof_at[failure_]};
    }

    // ---- fronts
    // --------------------------------------------------------------------------------------------------

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
        const CellKind& kind = kinds_[kind_of_cell_[c]];
        const int nb = n_border();
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
            place.update = place.side == 0 ? worker.stack + place.stack_offset
                                           : worker.stack + stack_size_ - place.stack_offset - update_size(f);
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
    // ---------------------------------------------------------------------------------------------------

    /// The lowest position wins, whichever thread comes first: all fronts below it have been tried.
    void note_failure(int position) {
        const std::lock_guard lock(mutex_);
        failure_ = std::min(failure_, position);
    }

    void run_tasks() {
        std::vector<int> ready;
        for (std::size_t t = 0; t < tasks_.size(); ++t)
            if (tasks_[t].n_waiting_for == 0) ready.push_back(static_cast<int>(t));
        std::size_t n_left = tasks_.size();
        std::condition_variable changed;
        const auto lighter = [&](int a, int b) { return tasks_[a].flops < tasks_[b].flops; };
        run_on_threads(threads_, [&](int number) {
            std::unique_lock lock(mutex_);
            while (true) {
                changed.wait(lock, [&] { return !ready.empty() || n_left == 0; });
                if (n_left == 0) return;
                const auto heaviest = std::max_element(ready.begin(), ready.end(), lighter);
                Task& task = tasks_[*heaviest];
                ready.erase(heaviest);
                lock.unlock();
                for (int f = task.first; f <= task.last && !task.failed; ++f)
                    task.failed = !factor_front(f, workers_[number]);
                lock.lock();
                --n_left;
                if (task.parent >= 0) {
                    Task& parent = tasks_[task.parent];
                    parent.failed = parent.failed || task.failed;
                    if (--parent.n_waiting_for == 0) ready.push_back(task.parent);
                }
                changed.notify_all();
            }
        });
    }

    // ---- result
    // --------------------------------------------------------------------------------------------------

    void write_body() {
        out_.n_dofs = stiffness_.grid.n_dofs();
        out_.threads = threads_wanted_;
        for (std::size_t f = 0; f < d_.fronts.size(); ++f) {
            const Dissection::Front& front = d_.fronts[f];
            for (int c = front.first_cell; c < front.first_cell + front.n_cells; ++c) {
                const Dissection::Cell& cell = d_.cells[c];
                const CellKind& kind = kinds_[kind_of_cell_[c]];
                add_block(
                    {kind.l, kind.stride, cell.first_interior, cell.n_interior, cell.border, n_border(), -1});
            }
            add_block({slots_[f].own, slots_[f].own_stride, front.first_own, front.n_own, front.border,
                       front.n_border, -1});
            out_.cost.factor_flops += front_flops(front);
        }
        for (const CellKind& kind : kinds_) {
            const int n_own = static_cast<int>(kind.interior.size());
            out_.cost.factor_flops += elimination_flops(n_own + n_border(), n_own);
        }
        out_.cost.factor_entries = static_cast<double>(out_.memory.size());
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
    std::vector<int> border_; ///< local dofs on the border of an element
    std::vector<CellKind> kinds_;
    std::vector<int> kind_of_cell_; ///< one for each of Dissection::cells
    std::vector<Task> tasks_;
    std::vector<int> task_of_;     ///< one a front
    std::vector<FrontSlot> slots_; ///< one a front
    std::vector<int> scratch_;
    std::vector<Worker> workers_;
    std::size_t stack_size_ = 0;
    Arena work_;
    std::mutex mutex_;
    int failure_ = no_failure;
};

} // namespace

Factor::Factor(const GridStiffness& stiffness, int threads) : body_(std::make_unique<Body>()) {
    HOLLOWTOP_ASSERT(stiffness.grid.active.size() ==
                     static_cast<std::size_t>(stiffness.grid.nx) * stiffness.grid.ny);
    Factorization(stiffness, threads, *body_).run();
}

Factor::~Factor() = default;
Factor::Factor(Factor&&) noexcept = default;
Factor& Factor::operator=(Factor&&) noexcept = default;

int Factor::n_dofs() const { return body_->n_dofs; }

Factor::Cost Factor::cost() const { return body_->cost; }

} // namespace hollowtop
