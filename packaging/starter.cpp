// SPDX-License-Identifier: MIT
// bin/hollowtop of a package that holds the program for several levels of x86-64 processors: runs the best one that
// this processor can run. It is compiled for the oldest of them and links nothing but libc.
// HOLLOWTOP_LEVEL=2, 3 or 4 in the environment chooses instead.
#include <cerrno>
#include <climits>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <sys/auxv.h>
#include <unistd.h>

namespace {

constexpr int wrong_input = 2, not_computed = 3; // as cli/commands/command.hpp has them

bool can_run(char level) {
    switch (level) {
    case '4':
        return __builtin_cpu_supports("x86-64-v4") != 0;
    case '3':
        return __builtin_cpu_supports("x86-64-v3") != 0;
    case '2':
        return __builtin_cpu_supports("x86-64-v2") != 0;
    default:
        return false;
    }
}

/// The folder above bin/, whatever links lead there; false where it cannot be found. Without /proc, as in a bare
/// chroot, the kernel's note of what was started stands in.
bool find_home(char (&home)[PATH_MAX]) {
    if (::realpath("/proc/self/exe", home) == nullptr) {
        const auto started = ::getauxval(AT_EXECFN);
        if (started == 0 || ::realpath(reinterpret_cast<const char*>(started), home) == nullptr) return false;
    }
    for (int up = 0; up < 2; ++up) {
        char* const slash = std::strrchr(home, '/');
        if (slash == nullptr) return false;
        *slash = '\0';
    }
    return true;
}

/// Returns only where the program of that level is not there or cannot be run; errno says why.
void run(const char* home, char level, char** argv) {
    char program[PATH_MAX + 64];
    std::snprintf(program, sizeof program, "%s/libexec/hollowtop/hollowtop-v%c", home, level);
    ::execv(program, argv);
}

} // namespace

int main(int, char** argv) {
    __builtin_cpu_init();
    char home[PATH_MAX];
    if (!find_home(home)) {
        std::fputs(
            "hollowtop: where it is installed cannot be found; run libexec/hollowtop/hollowtop-v2 instead\n",
            stderr);
        return not_computed;
    }
    const char* const wanted = std::getenv("HOLLOWTOP_LEVEL");
    if (wanted != nullptr && *wanted != '\0') {
        const bool is_level = wanted[1] == '\0' && *wanted >= '2' && *wanted <= '4';
        if (!is_level || !can_run(*wanted)) {
            std::fprintf(stderr, "hollowtop: HOLLOWTOP_LEVEL: %s; give %s\n",
                         is_level ? "this processor is of a lower level" : "no such level",
                         is_level ? "a lower one, or none" : "2, 3 or 4");
            return wrong_input;
        }
        run(home, *wanted, argv);
    } else {
        if (!can_run('2')) {
            std::fputs("hollowtop: this processor is older than x86-64-v2 (2008 to 2013): build the program "
                       "from its sources\n",
                       stderr);
            return not_computed;
        }
        for (const char* level = "432"; *level != '\0'; ++level) {
            if (!can_run(*level)) continue;
            run(home, *level, argv);
            if (errno != ENOENT) break;
        }
    }
    std::fprintf(stderr,
                 "hollowtop: the program in %s/libexec/hollowtop cannot be run (%s); install it again\n",
                 home, std::strerror(errno));
    return not_computed;
}
