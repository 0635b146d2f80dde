// SPDX-License-Identifier: MIT
#include "cli/text/progress.hpp"

#include "cli/words/format.hpp"

#include <algorithm>
#include <cmath>
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

void Progress::show(double share_done) { draw(share_done, {}); }

void Progress::show_time_left(double share_done, double start_share) {
    const double took = std::chrono::duration<double>(Clock::now() - start_).count();
    std::string behind;
    if (share_done > start_share) {
        const double seconds = took * (1 - share_done) / (share_done - start_share);
        constexpr double minute = 60, hour = 3600;
        if (seconds < minute)
            behind = fixed(std::ceil(seconds), 0) + " s left";
        else if (seconds < hour)
            behind = fixed(std::ceil(seconds / minute), 0) + " min left";
        else
            behind = fixed(seconds / hour, 1) + " h left";
    }
    draw(share_done, behind);
}

void Progress::draw(double share_done, const std::string& behind) {
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
    std::fprintf(stderr, "\r\x1b[K%s [%s] %3.0f %% %s", label_.c_str(), bar.c_str(), 100 * share,
                 behind.c_str());
    std::fflush(stderr);
}

} // namespace hollowtop::cli
