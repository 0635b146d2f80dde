// SPDX-License-Identifier: MIT
#pragma once
/// \file  A file that grows line by line as a long run goes on: whatever stops the run, the lines in it are
/// whole and stay.

#include <cstdint>
#include <cstdio>
#include <functional>
#include <memory>
#include <string>

namespace hollowtop::cli {

class LineFile {
  public:
    /// `option` is the file's place in messages. An old file is emptied, unless it is gone on with. "-" is
    /// standard output.
    /// Throws Error(input).
    LineFile(const std::string& file, std::string option, bool goes_on);

    /// Of a file that is gone on with: hands out its whole lines without their line feed, until `take` says
    /// no; what comes from there on is cut away. Call before put().
    void read(const std::function<bool(const std::string&)>& take);

    /// Appends a text that ends with a line feed, and sees it written. Throws Error(not_computable) on a full
    /// disk.
    void put(const std::string& line);

    /// Lines in the file so far.
    std::uint64_t lines() const { return lines_; }

  private:
    struct Closer {
        void operator()(std::FILE* file) const;
    };
    std::string file_, option_;
    std::unique_ptr<std::FILE, Closer> out_;
    std::uint64_t lines_ = 0;
};

} // namespace hollowtop::cli
