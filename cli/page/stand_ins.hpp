// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the standard library of the page's compiler lacks of C++20, so that the sources stay as they are: the compiler
/// reads it before each of them (cmake/page.cmake). Empty for every other compiler.

#if defined(__EMSCRIPTEN__)
#include "cli/page/digits.hpp"

#include <bit>
#include <charconv>
#include <cstring>
#include <memory>
#include <system_error>
#include <thread>
#include <type_traits>
#include <utility>

namespace std {

inline hollowtop::digits::Way hollowtop_way(chars_format format) {
    return format == chars_format::fixed        ? hollowtop::digits::Way::fixed
           : format == chars_format::scientific ? hollowtop::digits::Way::scientific
                                                : hollowtop::digits::Way::general;
}

inline to_chars_result to_chars(char* first, char* last, double value) {
    return hollowtop::digits::to_chars(first, last, value);
}
inline to_chars_result to_chars(char* first, char* last, double value, chars_format format) {
    return hollowtop::digits::to_chars(first, last, value, hollowtop_way(format));
}
inline to_chars_result to_chars(char* first, char* last, double value, chars_format format, int precision) {
    return hollowtop::digits::to_chars(first, last, value, hollowtop_way(format), precision);
}
inline from_chars_result from_chars(const char* first, const char* last, double& value) {
    return hollowtop::digits::from_chars(first, last, value);
}

template <class To, class From> To bit_cast(const From& from) noexcept {
    static_assert(sizeof(To) == sizeof(From) && is_trivially_copyable_v<To> && is_trivially_copyable_v<From>);
    To to;
    memcpy(&to, &from, sizeof to);
    return to;
}

template <class Array> unique_ptr<Array> make_unique_for_overwrite(size_t n) {
    return unique_ptr<Array>(new remove_extent_t<Array>[n]);
}

/// The module has one thread and the system refuses to begin another, as a system may (solver/numeric/threads.cpp).
class jthread {
  public:
    template <class... Work> explicit jthread(Work&&...) {
        throw system_error(make_error_code(errc::resource_unavailable_try_again));
    }
};

} // namespace std
#endif
