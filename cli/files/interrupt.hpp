// SPDX-License-Identifier: MIT
#pragma once
/// \file  Ctrl-C asks a long run to stop at the next piece; a second one ends it at once.

namespace hollowtop::cli {

/// While it lives, the first Ctrl-C (or a request to end) is only noted.
class Interrupt {
  public:
    Interrupt();
    Interrupt(const Interrupt&) = delete;
    Interrupt& operator=(const Interrupt&) = delete;
    ~Interrupt();
    bool asked() const;
};

} // namespace hollowtop::cli
