// SPDX-License-Identifier: MIT
// What the page calls of the module: the command line of the program, any number of times in one module. Its files are those
// of the module's own memory file system, which worker.js fills and empties.
#include "cli/run_to_the_end.hpp"
#include "solver/piece/version.hpp"

#include <cstdio>

extern "C" {

/// Runs the words as the program does; all that is said has been handed over when it returns. The exit status.
int hollowtop_run(int argc, const char* const* argv) {
    hollowtop::cli::take_over_terminate();
    const int status = hollowtop::cli::run_to_the_end(argc, argv);
    std::fflush(stdout);
    std::fflush(stderr);
    std::clearerr(stdin); // standard input ends at once; the next run finds it as this one did
    return status;
}

/// Bytes that the module has taken; it never gives back any.
double hollowtop_memory() {
#if defined(__EMSCRIPTEN__)
    return 65536.0 * static_cast<double>(__builtin_wasm_memory_size(0));
#else
    return 0;
#endif
}

const char* hollowtop_version() { return hollowtop::program_version; }
}
