// SPDX-License-Identifier: MIT
#include "solver/variants/judge_each.hpp"

#include "materials/error.hpp"
#include "solver/check/kept_work.hpp"
#include "solver/numeric/threads.hpp"

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <map>
#include <mutex>
#include <vector>

namespace hollowtop {
namespace {

constexpr std::size_t most_together = 16; ///< pieces whose factor answers them at once: more gain little
constexpr std::size_t reserved_batches = 4;

/// Neighbours that one taker has put by for itself: they often share stiffeners' places, which are worked out
/// once a taker.
struct Reserve {
    std::size_t next = 0, end = 0;
};

/// Hands out indices, and takes the outcomes back into their order.
class Queue {
  public:
    Queue(std::size_t count, const JudgeEachOptions& options, int n_takers,
          const std::function<void(const Judged&)>& done)
        : count_(count), n_takers_(static_cast<std::size_t>(n_takers)), next_(options.first),
          told_(options.first), stop_(options.stop), done_(done) {}

    /// The next pieces to be judged, neighbours, at most so many; none at the end. `reserve` is the taker's
    /// own.
    std::vector<std::size_t> take(std::size_t most, Reserve& reserve) {
        std::unique_lock lock(mutex_);
        if (reserve.next == reserve.end) {
            const std::size_t ahead = 2 * n_takers_ * reserved_batches *
                                      most_together; // so far one thread may run ahead of the slowest piece
            room_.wait(lock, [&] { return ended_ || next_ >= count_ || next_ < told_ + ahead; });
            const std::size_t left = count_ - std::min(next_, count_);
            const std::size_t size =
                std::min(left, std::clamp(left / (2 * n_takers_), std::size_t{1},
                                          reserved_batches * most)); // the last ones are shared out
            reserve = {.next = next_, .end = next_ + size};
            next_ += size;
        }
        if (!ended_ && stop_ && stop_()) ended_ = true;
        std::vector<std::size_t> taken;
        while (!ended_ && reserve.next < reserve.end && taken.size() < most) taken.push_back(reserve.next++);
        return taken;
    }
    void give(Judged outcome) {
        const std::lock_guard lock(mutex_);
        const std::size_t index = outcome.index;
        waiting_.emplace(index, std::move(outcome));
        while (!has_failed_ && !waiting_.empty() && waiting_.begin()->first == told_) {
            done_(waiting_.begin()->second);
            waiting_.erase(waiting_.begin());
            ++told_;
        }
        room_.notify_all();
    }
    /// No taker gets another piece, and none is left waiting for one.
    void fail() {
        const std::lock_guard lock(mutex_);
        has_failed_ = ended_ = true;
        room_.notify_all();
    }
    std::size_t told() const { return told_; }

  private:
    std::mutex mutex_;
    std::condition_variable room_;
    std::size_t count_, n_takers_, next_, told_;
    bool ended_ = false, has_failed_ = false;
    std::function<bool()> stop_;
    const std::function<void(const Judged&)>& done_;
    std::map<std::size_t, Judged> waiting_;
};

void work(Queue& queue, const std::function<Piece(std::size_t)>& piece_of, CheckOptions check,
          std::size_t kept_bytes) {
    try {
        KeptWork kept(kept_bytes); // a thread's own
        check.kept = &kept;
        Reserve reserve;
        constexpr double soon = 0.5; // seconds after which it is asked again whether to stop
        std::size_t together = 1;
        for (std::vector<std::size_t> taken = queue.take(together, reserve); !taken.empty();
             taken = queue.take(together, reserve)) {
            const auto start = std::chrono::steady_clock::now();
            std::vector<Judged> outcomes;
            std::vector<Piece> pieces;
            for (const std::size_t index : taken) {
                Judged& outcome =
                    outcomes.emplace_back(Judged{.index = index, .piece = {}, .result = {}, .problem = {}});
                try {
                    outcome.piece = pieces.emplace_back(piece_of(index));
                } catch (const Error& error) {
                    outcome.problem = problem_of(error);
                }
            }
            std::vector<CheckAttempt> attempts = check_pieces(pieces, check);
            auto attempt = attempts.begin();
            for (Judged& outcome : outcomes) {
                if (outcome.piece) {
                    if (attempt->outcome)
                        outcome.result = std::move(attempt->outcome->result);
                    else
                        outcome.problem = problem_of(*attempt->error);
                    ++attempt;
                }
                queue.give(std::move(outcome));
            }
            const double seconds =
                std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
            const double in_time = soon * static_cast<double>(taken.size()) / std::max(seconds, 1e-6);
            together = in_time >= static_cast<double>(most_together)
                           ? most_together
                           : std::max<std::size_t>(static_cast<std::size_t>(in_time), 1);
        }
    } catch (...) {
        queue.fail();
        throw;
    }
}

} // namespace

Message problem_of(const Error& error) {
    if (error.faults().empty()) return error.what();
    const Fault& fault = error.faults().front();
    return fault.place.empty() ? fault.what : said("{}: {}", fault.place, fault.what);
}

std::size_t judge_each(std::size_t count, const std::function<Piece(std::size_t)>& piece_of,
                       const JudgeEachOptions& options, const std::function<void(const Judged&)>& done) {
    CheckOptions check = options.check;
    const auto [threads, kept_bytes] = shared_out(
        options.most_bytes > 0 ? options.most_bytes : share_of_memory(), threads_for(check.threads));
    check.threads = 1;
    check.progress = {};
    check.want_fields = false;
    check.essentials = true;
    Queue queue(count, options, threads, done);
    run_on_threads(threads, [&, each = kept_bytes](int) { work(queue, piece_of, check, each); });
    return queue.told() - options.first;
}

} // namespace hollowtop
