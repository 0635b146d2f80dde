// SPDX-License-Identifier: MIT
#include "solver/numeric/arena.hpp"

#include <cstdint>
#include <mutex>
#include <new>
#include <sys/mman.h>
#include <utility>

namespace hollowtop {

namespace {

constexpr std::size_t large_page = std::size_t{2} << 20;

/// Mappings given back, for the next arena of about the size: new pages of the system are dear. Kept ones,
/// which then were cleared whole, saved some 15 of the 230 ms of a depth variant
/// (tests/benchmark/compare.cpp).
class Pool {
  public:
    Pool() { mappings_.reserve(most_mappings); } // whoever gives one back must not ask for memory
    struct Mapping {
        void* start = nullptr;
        std::size_t bytes = 0;
    };
    /// Of at least `bytes` and at most twice as many; empty where there is none.
    Mapping take(std::size_t bytes) {
        const std::lock_guard lock(mutex_);
        auto best = mappings_.end();
        for (auto m = mappings_.begin(); m != mappings_.end(); ++m)
            if (m->bytes >= bytes && m->bytes <= 2 * bytes &&
                (best == mappings_.end() || m->bytes < best->bytes))
                best = m;
        if (best == mappings_.end()) return {};
        const Mapping taken = *best;
        kept_ -= taken.bytes;
        mappings_.erase(best);
        return taken;
    }
    /// False where the pool is full: then it is the caller's to unmap.
    bool give(Mapping mapping) {
        const std::lock_guard lock(mutex_);
        if (kept_ + mapping.bytes > most_kept || mappings_.size() == mappings_.capacity()) return false;
        kept_ += mapping.bytes;
        mappings_.push_back(mapping);
        return true;
    }

  private:
    static constexpr std::size_t most_mappings = 256;
    static constexpr std::size_t most_kept = std::size_t{192} << 20;
    std::mutex mutex_;
    std::vector<Mapping> mappings_;
    std::size_t kept_ = 0;
};

Pool& pool() {
    static Pool& all = *new Pool; // never taken down: an arena may live as long as the program
    return all;
}

double* on_large_page(void* start) {
    const auto address = reinterpret_cast<std::uintptr_t>(start);
    return reinterpret_cast<double*>((address + large_page - 1) / large_page * large_page);
}

} // namespace

Arena::Arena(std::size_t n) : size_(rounded(n)) {
    if (size_ == 0) return;
    mapped_bytes_ = size_ * sizeof(double) + large_page; // room to start on a large page
    if (const Pool::Mapping used = pool().take(mapped_bytes_); used.start != nullptr) {
        mapped_ = used.start;
        mapped_bytes_ = used.bytes;
        data_ = on_large_page(mapped_);
        return;
    }
    mapped_ = mmap(nullptr, mapped_bytes_, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
    if (mapped_ == MAP_FAILED) {
        mapped_ = nullptr;
        throw std::bad_alloc();
    }
#ifdef MADV_HUGEPAGE
    madvise(mapped_, mapped_bytes_, MADV_HUGEPAGE); // a wish: nothing is lost where it is not granted
#endif
    data_ = on_large_page(mapped_);
}

Arena::~Arena() {
    if (mapped_ != nullptr && !pool().give({mapped_, mapped_bytes_})) munmap(mapped_, mapped_bytes_);
}

Arena::Arena(Arena&& other) noexcept
    : mapped_(std::exchange(other.mapped_, nullptr)), mapped_bytes_(other.mapped_bytes_), data_(other.data_),
      size_(other.size_), used_(other.used_) {}

Arena& Arena::operator=(Arena&& other) noexcept {
    std::swap(mapped_, other.mapped_);
    std::swap(mapped_bytes_, other.mapped_bytes_);
    std::swap(data_, other.data_);
    std::swap(size_, other.size_);
    std::swap(used_, other.used_);
    return *this;
}

double* Arena::take(std::size_t n) {
    double* block = data_ + used_;
    used_ += rounded(n);
    if (used_ > size_) throw std::bad_alloc();
    return block;
}

} // namespace hollowtop
