// SPDX-License-Identifier: MIT
#pragma once
/// \file  A progress bar on standard error: only on a terminal, only where a run lasts over a second, gone
/// afterwards.

#include <chrono>
#include <string>

namespace hollowtop::cli {

class Progress {
  public:
    /// Shows nothing ever where `wanted` is false.
    Progress(std::string label, bool wanted);
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;
    ~Progress(); ///< wipes the bar away

    void show(double share_done);
    /// The same with what is left of the time behind it, judged by what it took so far since `start_share`.
    void show_time_left(double share_done, double start_share = 0);

  private:
    void draw(double share_done, const std::string& behind);
    using Clock = std::chrono::steady_clock;
    std::string label_;
    bool wanted_;
    bool shown_ = false;
    Clock::time_point start_, last_;
};

} // namespace hollowtop::cli
