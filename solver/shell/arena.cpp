// SPDX-License-Identifier: MIT
#include "solver/shell/arena.hpp"

#include <cstdint>
#include <new>
#include <sys/mman.h>
#include <utility>

namespace hollowtop {

namespace {
constexpr std::size_t large_page = std::size_t{2} << 20;
}

Arena::Arena(std::size_t n) : size_(rounded(n)) {
    if (size_ == 0) return;
    mapped_bytes_ = size_ * sizeof(double) + large_page; // room to start on a large page
    mapped_ = mmap(nullptr, mapped_bytes_, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
    if (mapped_ == MAP_FAILED) {
        mapped_ = nullptr;
        throw std::bad_alloc();
    }
#ifdef MADV_HUGEPAGE
    madvise(mapped_, mapped_bytes_, MADV_HUGEPAGE); // a wish: nothing is lost where it is not granted
#endif
    const auto address = reinterpret_cast<std::uintptr_t>(mapped_);
    data_ = reinterpret_cast<double*>((address + large_page - 1) / large_page * large_page);
}

Arena::~Arena() {
    if (mapped_ != nullptr) munmap(mapped_, mapped_bytes_);
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
