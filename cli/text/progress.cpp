// SPDX-License-Identifier: MIT
#include "cli/text/progress.hpp"

#include <algorithm>
#include <cstdio>
#include <utility>

namespace hollowtop::cli {

Progress::Progress(std::string label, bool wanted)
    : label_(std::move(label)), wanted_(wanted), start_(Clock::now()), last_(start_) {
    constexpr std::size_t longest = 40; // the bar has to stay on one line
    if (label_.size() > longest) label_ = "..." + label_.substr(label_.size() - longest + 3);
}

Progress::~Progress() {
    if (shown_) std::fputs("\r\x1b[K", stderr);
}

void Progress::show(double share_done) {
    using namespace std::chrono_literals;
    if (!wanted_) return;
    const auto now = Clock::now();
    if (now - start_ < 1s || (shown_ && now - last_ < 100ms)) return;
    last_ = now;
    shown_ = true;
    constexpr int width = 30;
    const double share = std::clamp(share_done, 0.0, 1.0);
    const auto filled = static_cast<std::size_t>(share * width);
    const std::string bar = std::string(filled, '#') + std::string(width - filled, '.');
    std::fprintf(stderr, "\r\x1b[K%s [%s] %3.0f %%", label_.c_str(), bar.c_str(), 100 * share);
    std::fflush(stderr);
}

} // namespace hollowtop::cli
