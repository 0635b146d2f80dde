// SPDX-License-Identifier: MIT
#pragma once
/// \file  The one error type: what is wrong, where in the piece file, and what would be right.
/// Thrown where found, shown in one place (cli/main.cpp). Kind `input` ends the program with status 2, kind
/// `not_computable` with status 3. A failing check of a top is no error: it is a value in the Result.

#include "materials/message.hpp"

#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace hollowtop {

enum class ErrorKind {
    input,          ///< the file or the command line is wrong; nothing was computed
    not_computable, ///< the input is sound but no answer can be given (nothing holds the top, not built yet, ...)
};

/// One thing that is wrong. `place` is the path in the piece file, such as `recesses[1].depth`; it may be
/// empty.
struct Fault {
    std::string place;
    Message what;
    Message remedy; ///< may be empty; follows `what` after "; "

    bool operator==(const Fault&) const = default;
};

class Error : public std::runtime_error {
  public:
    Error(ErrorKind kind, std::vector<Fault> faults)
        : std::runtime_error(faults.empty()
                                 ? "unknown fault"
                                 : faults.front().place + ": " + in_own_units(faults.front().what)),
          kind_(kind), faults_(std::move(faults)) {}
    Error(ErrorKind kind, Fault fault) : Error(kind, std::vector<Fault>{std::move(fault)}) {}

    ErrorKind kind() const { return kind_; }
    const std::vector<Fault>& faults() const { return faults_; }

    /// The file the faults are in; set by whoever knows it (cli), empty until then.
    std::string file;

  private:
    ErrorKind kind_;
    std::vector<Fault> faults_;
};

} // namespace hollowtop
