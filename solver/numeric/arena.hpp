// SPDX-License-Identifier: MIT
#pragma once
/// \file  Memory for the factor, taken once and given back at once. Large pages are asked for where the
/// system has them:
/// a cold factor spends more time on page faults than on arithmetic; so what is given back is kept for the
/// next, up to some hundred megabytes, with whatever stands in it. Blocks start on whole cache lines, so that
/// the same work meets the same alignment wherever it runs.

#include <cstddef>
#include <new>
#include <vector>

namespace hollowtop {

/// Lets a std::vector start on a cache line, as the arena's blocks do.
template <class T> struct CacheLineAllocator {
    using value_type = T;
    CacheLineAllocator() = default;
    template <class U> CacheLineAllocator(const CacheLineAllocator<U>&) {}
    T* allocate(std::size_t n) {
        return static_cast<T*>(::operator new(n * sizeof(T), std::align_val_t(64)));
    }
    void deallocate(T* p, std::size_t) { ::operator delete(p, std::align_val_t(64)); }
    bool operator==(const CacheLineAllocator&) const { return true; }
};

using AlignedValues = std::vector<double, CacheLineAllocator<double>>;

/// The same, but what is not given a value has none: for numbers that are all written before they are read.
template <class T> struct LeavingAllocator : CacheLineAllocator<T> {
    template <class U> struct rebind { using other = LeavingAllocator<U>; };
    template <class U> void construct(U* place) const { ::new (static_cast<void*>(place)) U; }
};
using UnwrittenValues = std::vector<double, LeavingAllocator<double>>;

class Arena {
  public:
    Arena() = default;
    /// Room for `n` doubles, of any value. Throws std::bad_alloc.
    explicit Arena(std::size_t n);
    ~Arena();
    Arena(Arena&& other) noexcept;
    Arena& operator=(Arena&& other) noexcept;

    double* data() const { return data_; }
    std::size_t size() const { return size_; }

    /// The next `n` doubles (n is rounded up to a cache line).
    double* take(std::size_t n);

    /// Doubles that `take(n)` uses.
    static std::size_t rounded(std::size_t n) { return (n + 7) / 8 * 8; }

  private:
    void* mapped_ = nullptr;
    std::size_t mapped_bytes_ = 0;
    double* data_ = nullptr;
    std::size_t size_ = 0, used_ = 0;
};

} // namespace hollowtop
