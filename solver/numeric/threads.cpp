// SPDX-License-Identifier: MIT
#include "solver/numeric/threads.hpp"

#include "materials/assert.hpp"

#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <new>
#include <system_error>
#include <thread>
#include <vector>

namespace hollowtop {

int threads_for(int wanted) {
    return wanted > 0 ? wanted : static_cast<int>(std::max(1U, std::thread::hardware_concurrency()));
}

void run_on_threads(int threads, const std::function<void(int)>& worker) {
    std::vector<std::exception_ptr> thrown(static_cast<std::size_t>(threads));
    const auto guarded = [&](int number) {
        try {
            worker(number);
        } catch (...) {
            thrown[number] = std::current_exception();
        }
    };
    std::vector<std::jthread> others;
    others.reserve(static_cast<std::size_t>(threads));
    try {
        for (int number = 0; number + 1 < threads; ++number) others.emplace_back(guarded, number);
    } catch (const std::system_error&) { // the system gives no more: those there are do the work
    } catch (const std::bad_alloc&) {
    }
    guarded(threads - 1);
    others.clear(); // waits
    for (const std::exception_ptr& exception : thrown)
        if (exception) std::rethrow_exception(exception);
}

void share_out(int n, int threads, const std::function<void(int, int)>& task) {
    std::atomic<int> next{0};
    run_on_threads(std::clamp(threads, 1, std::max(n, 1)), [&](int worker) {
        try {
            for (int i = next++; i < n; i = next++) task(i, worker);
        } catch (...) {
            next = n; // nothing more is begun
            throw;
        }
    });
}

void run_forest(const TaskForest& forest, int threads, const std::function<void(int, int)>& task) {
    const int n = static_cast<int>(forest.parent.size());
    std::vector<int> waiting_for(forest.parent.size(), 0), ready;
    for (int i = 0; i < n; ++i) {
        HOLLOWTOP_ASSERT(forest.parent[i] < 0 || forest.parent[i] > i);
        if (forest.parent[i] >= 0) ++waiting_for[forest.parent[i]];
    }
    ready.reserve(forest.parent.size());
    for (int i = 0; i < n; ++i)
        if (waiting_for[i] == 0) ready.push_back(i);
    int n_left = n;
    bool has_failed = false;
    std::mutex guard; // of all the above
    std::condition_variable changed;
    const auto lighter = [&](int a, int b) { return forest.effort[a] < forest.effort[b]; };
    run_on_threads(std::clamp(threads, 1, std::max(n, 1)), [&](int worker) {
        std::unique_lock lock(guard);
        try {
            while (true) {
                changed.wait(lock, [&] { return has_failed || n_left == 0 || !ready.empty(); });
                if (has_failed || n_left == 0) return;
                const auto heaviest = std::max_element(ready.begin(), ready.end(), lighter);
                const int i = *heaviest, parent = forest.parent[i];
                ready.erase(heaviest);
                lock.unlock();
                task(i, worker);
                lock.lock();
                --n_left;
                if (parent >= 0 && --waiting_for[parent] == 0) ready.push_back(parent);
                changed.notify_all();
            }
        } catch (...) {
            if (!lock.owns_lock()) lock.lock();
            has_failed = true; // whoever waits for what is left would wait for ever
            changed.notify_all();
            throw;
        }
    });
}

} // namespace hollowtop
