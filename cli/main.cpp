// SPDX-License-Identifier: MIT
#include "cli/command_line.hpp"
#include "cli/commands/command.hpp"
#include "cli/words/messages.hpp"

#include <csignal>
#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <exception>
#if defined(__GLIBC__)
#include <malloc.h>
#endif
#include <new>
#include <pthread.h>
#include <sys/resource.h>

namespace {

/// Memory that was used once is kept for the next matrix: to hand each back and fetch fresh pages costs a
/// tenth of a check.
void keep_memory() {
#if defined(__GLIBC__)
    mallopt(M_MMAP_THRESHOLD, 32 << 20); // the most that it takes
    mallopt(M_TRIM_THRESHOLD, 1 << 30);
    mallopt(M_TOP_PAD, 16 << 20);
#endif
}

/// What would need less memory, of what was not asked for already. Takes no memory itself.
const char* what_needs_less(int argc, char** argv) {
    if (argc < 2) return "";
    bool has_mesh = false;
    for (const hollowtop::cli::Command& command : hollowtop::cli::commands())
        if (std::strcmp(command.name, argv[1]) == 0)
            for (const hollowtop::cli::Option& option : command.options)
                has_mesh = has_mesh || std::strcmp(option.name, "--mesh") == 0;
    if (!has_mesh) return "";
    const char* mesh = "normal";
    for (int i = 2; i < argc; ++i) {
        if (std::strcmp(argv[i], "--mesh") == 0 && i + 1 < argc) mesh = argv[i + 1];
        if (std::strncmp(argv[i], "--mesh=", 7) == 0) mesh = argv[i] + 7;
    }
    if (std::strcmp(mesh, "coarse") == 0) return "; a piece of fewer parts needs less";
    if (std::strcmp(mesh, "normal") == 0 || std::strcmp(mesh, "fine") == 0)
        return "; a coarser mesh (--mesh coarse) needs less";
    return "; a coarser mesh needs less";
}

int told_of_memory(const char* remedy) {
    std::fputs("hollowtop: the machine has not enough memory for this", stderr);
    std::fputs(remedy, stderr);
    std::fputs("\n", stderr);
    return static_cast<int>(hollowtop::cli::Status::not_computed);
}

int told_of_fault(const char* what) {
    std::fputs("hollowtop: a fault of the program itself", stderr);
    if (*what != '\0') {
        std::fputs(" (", stderr);
        std::fputs(what, stderr);
        std::fputs(")", stderr);
    }
    std::fputs("; please report it with the piece file\n", stderr);
    return static_cast<int>(hollowtop::cli::Status::not_computed);
}

/// Where nothing can catch any more what was thrown: before main(), or while something is put in order.
[[noreturn]] void end_at_once() {
    int status = static_cast<int>(hollowtop::cli::Status::not_computed);
    if (const std::exception_ptr thrown = std::current_exception()) {
        try {
            std::rethrow_exception(thrown);
        } catch (const std::bad_alloc&) {
            status = told_of_memory("");
        } catch (const std::exception& fault) {
            status = told_of_fault(fault.what());
        } catch (...) {
            status = told_of_fault("");
        }
    } else {
        status = told_of_fault("");
    }
    std::_Exit(status);
}

#if defined(__GNUC__)
__attribute__((constructor(101)))
#endif
void take_over_terminate() {
    std::set_terminate(end_at_once);
}

/// Runs the command line, whatever is thrown; the exit status.
int run_to_the_end(int argc, char** argv) {
    using namespace hollowtop;
    using cli::Status;
    try {
        try {
            return static_cast<int>(cli::run_command_line(argc, argv));
        } catch (const Error& error) {
            cli::show(error);
            return static_cast<int>(error.kind() == ErrorKind::input ? Status::wrong_input
                                                                     : Status::not_computed);
        }
    } catch (const std::bad_alloc&) {
        return told_of_memory(what_needs_less(argc, argv));
    } catch (const std::exception& fault) {
        return told_of_fault(fault.what());
    } catch (...) {
        return told_of_fault("");
    }
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
    take_over_terminate();
    keep_memory();
    std::signal(SIGXFSZ, SIG_IGN); // a file that may grow no more: the write says so
    return run_with_enough_stack(argc, argv);
}
