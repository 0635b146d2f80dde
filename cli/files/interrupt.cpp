// SPDX-License-Identifier: MIT
#include "cli/files/interrupt.hpp"

#include <csignal>

namespace hollowtop::cli {
namespace {

volatile std::sig_atomic_t was_asked = 0;

extern "C" void note(int signal) {
    was_asked = 1;
    std::signal(signal, SIG_DFL); // the next one ends the program
}

} // namespace

Interrupt::Interrupt() {
    was_asked = 0;
    std::signal(SIGINT, note);
    std::signal(SIGTERM, note);
}

Interrupt::~Interrupt() {
    std::signal(SIGINT, SIG_DFL);
    std::signal(SIGTERM, SIG_DFL);
}

bool Interrupt::asked() const { return was_asked != 0; }

} // namespace hollowtop::cli
