// SPDX-License-Identifier: MIT
#include "cli/run_to_the_end.hpp"

#include "cli/command_line.hpp"
#include "cli/commands/command.hpp"
#include "cli/words/messages.hpp"

#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <new>

namespace hollowtop::cli {
namespace {

/// What would need less memory, of what was not asked for already. Takes no memory itself.
const char* what_needs_less(int argc, const char* const* argv) {
    if (argc < 2) return "";
    bool has_mesh = false;
    for (const Command& command : commands())
        if (std::strcmp(command.name, argv[1]) == 0)
            for (const Option& option : command.options)
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
    return static_cast<int>(Status::not_computed);
}

int told_of_fault(const char* what) {
    std::fputs("hollowtop: a fault of the program itself", stderr);
    if (*what != '\0') {
        std::fputs(" (", stderr);
        std::fputs(what, stderr);
        std::fputs(")", stderr);
    }
    std::fputs("; please report it with the piece file\n", stderr);
    return static_cast<int>(Status::not_computed);
}

/// Where nothing can catch any more what was thrown: before main(), or while something is put in order.
[[noreturn]] void end_at_once() {
    int status = static_cast<int>(Status::not_computed);
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
void before_main() {
    take_over_terminate();
}

} // namespace

void take_over_terminate() { std::set_terminate(end_at_once); }

int run_to_the_end(int argc, const char* const* argv) {
    try {
        try {
            return static_cast<int>(run_command_line(argc, argv));
        } catch (const Error& error) {
            show(error);
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

} // namespace hollowtop::cli
