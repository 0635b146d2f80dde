// SPDX-License-Identifier: MIT
#include "solver/check/kept_work.hpp"

#include <algorithm>
#include <unistd.h>

namespace hollowtop {

std::size_t share_of_memory() {
    constexpr std::size_t parts = 4, otherwise = std::size_t{1} << 30;
    const long pages = sysconf(_SC_PHYS_PAGES), bytes_of_page = sysconf(_SC_PAGESIZE);
    if (pages <= 0 || bytes_of_page <= 0) return otherwise;
    return static_cast<std::size_t>(pages) / parts * static_cast<std::size_t>(bytes_of_page);
}

ThreadShares shared_out(std::size_t bytes, int wanted) {
    const std::size_t most = std::max<std::size_t>(bytes / (bytes_of_work + least_kept_bytes), 1),
                      threads = std::min(static_cast<std::size_t>(std::max(wanted, 1)), most),
                      each = bytes / threads;
    return {.threads = static_cast<int>(threads), .kept_bytes = each - std::min(each, bytes_of_work)};
}

} // namespace hollowtop
