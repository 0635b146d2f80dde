// SPDX-License-Identifier: MIT
#pragma once
/// \file  A command line run so that nothing is thrown out of it: whatever goes wrong is a sentence on standard error and an
/// exit status. What the program and the page share.

namespace hollowtop::cli {

/// From now on what nothing can catch, such as memory refused while something is put in order, ends the program with a sentence
/// and Status::not_computed. Done before main() too, where the compiler can.
void take_over_terminate();

/// Runs the command line, whatever is thrown; the exit status.
int run_to_the_end(int argc, const char* const* argv);

} // namespace hollowtop::cli
