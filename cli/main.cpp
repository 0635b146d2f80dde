// SPDX-License-Identifier: MIT
#include "cli/command_line.hpp"
#include "cli/words/messages.hpp"

#include <exception>
#if defined(__GLIBC__)
#include <malloc.h>
#endif
#include <new>
#include <string>

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

} // namespace

int main(int argc, char** argv) {
    keep_memory();
    using namespace hollowtop;
    using cli::Status;
    Status status = Status::not_computed;
    try {
        status = cli::run_command_line(argc, argv);
    } catch (const Error& error) {
        cli::show(error);
        status = error.kind() == ErrorKind::input ? Status::wrong_input : Status::not_computed;
    } catch (const std::bad_alloc&) {
        cli::show("the machine has not enough memory for this; a coarser mesh (--mesh coarse) needs less");
    } catch (const std::exception& fault) {
        cli::show(std::string("a fault of the program itself (") + fault.what() +
                  "); please report it with the piece file");
    } catch (...) {
        cli::show("a fault of the program itself; please report it with the piece file");
    }
    return static_cast<int>(status);
}
