// SPDX-License-Identifier: MIT
#include "cli/run_to_the_end.hpp"

#include <csignal>
#include <cstddef>
#if defined(__GLIBC__)
#include <malloc.h>
#endif
#include <pthread.h>
#include <sys/resource.h>

namespace {

using hollowtop::cli::run_to_the_end;

/// Memory that was used once is kept for the next matrix: to hand each back and fetch fresh pages costs a
/// tenth of a check.
void keep_memory() {
#if defined(__GLIBC__)
    mallopt(M_MMAP_THRESHOLD, 32 << 20); // the most that it takes
    mallopt(M_TRIM_THRESHOLD, 1 << 30);
    mallopt(M_TOP_PAD, 16 << 20);
#endif
}

constexpr std::size_t enough_stack = std::size_t{8}
                                     << 20; // as a login usually gives; matrices of a cell lie on it

struct OnOwnStack {
    int argc;
    char** argv;
    int status;
};

extern "C" void* run_on_own_stack(void* given) {
    OnOwnStack& run = *static_cast<OnOwnStack*>(given);
    run.status = run_to_the_end(run.argc, run.argv);
    return nullptr;
}

/// Where the stack is small (ulimit -s), on a thread whose stack is not; and threads begun later have no smaller one.
int run_with_enough_stack(int argc, char** argv) {
    OnOwnStack run{argc, argv, 0};
    rlimit limit{};
    const bool is_small = getrlimit(RLIMIT_STACK, &limit) == 0 && limit.rlim_cur < enough_stack;
    pthread_attr_t attributes;
    pthread_t thread;
    if (pthread_attr_init(&attributes) != 0) return run_to_the_end(argc, argv);
    bool is_begun = false;
    if (pthread_attr_setstacksize(&attributes, enough_stack) == 0) {
#if defined(__GLIBC__)
        pthread_setattr_default_np(&attributes);
#endif
        is_begun = is_small && pthread_create(&thread, &attributes, run_on_own_stack, &run) == 0;
    }
    pthread_attr_destroy(&attributes);
    if (!is_begun) return run_to_the_end(argc, argv);
    pthread_join(thread, nullptr);
    return run.status;
}

} // namespace

int main(int argc, char** argv) {
    hollowtop::cli::take_over_terminate();
    keep_memory();
    std::signal(SIGXFSZ, SIG_IGN); // a file that may grow no more: the write says so
    return run_with_enough_stack(argc, argv);
}
