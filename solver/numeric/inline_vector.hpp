// SPDX-License-Identifier: MIT
#pragma once
/// \file  A handful of values in place: thousands of connections have one or two of a kind each, and none
/// needs memory of its own for them.

#include "materials/assert.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <initializer_list>

namespace hollowtop {

template <class Value, std::size_t most> class InlineVector {
  public:
    InlineVector() = default;
    InlineVector(std::initializer_list<Value> values) {
        for (const Value& value : values) push_back(value);
    }
    void push_back(const Value& value) {
        HOLLOWTOP_ASSERT(size_ < most);
        values_[size_++] = value;
    }
    void clear() { size_ = 0; }

    std::size_t size() const { return size_; }
    bool empty() const { return size_ == 0; }
    Value* data() { return values_.data(); }
    const Value* data() const { return values_.data(); }
    Value* begin() { return data(); }
    Value* end() { return data() + size_; }
    const Value* begin() const { return data(); }
    const Value* end() const { return data() + size_; }
    const Value& front() const { return values_.front(); }
    bool operator==(const InlineVector& other) const {
        return std::equal(begin(), end(), other.begin(), other.end());
    }

  private:
    std::array<Value, most> values_{};
    std::size_t size_ = 0;
};

} // namespace hollowtop
