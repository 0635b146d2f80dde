// SPDX-License-Identifier: MIT
#pragma once
/// \file  How the fronts of a factorisation are shared out among threads, and where their updates lie meanwhile.
///
/// A task is a whole subtree of fronts, or one front near the root. Updates inside a task lie on a stack of its
/// thread; that of its last front, which another task takes up, has a place of its own.

#include "solver/numeric/arena.hpp"
#include "solver/numeric/dissection.hpp"

#include <cstddef>
#include <vector>

namespace hollowtop {

/// Numbers from one column to the next: whole cache lines, and never a multiple of a page, where the columns
/// would all fall on the same lines of the cache.
inline long stride_for(int rows) {
    const long stride = (rows + 7L) / 8 * 8;
    return stride % 512 == 0 ? stride + 8 : stride;
}

/// To eliminate the first `cols` columns of a symmetric matrix of `rows` rows, multiplications and additions as one.
double elimination_flops(int rows, int cols);
double front_flops(const Dissection::Front& front);

/// Fronts first .. last, which one thread works through without a break.
struct FrontTask {
    int first = 0, last = 0;
    double flops = 0;
    int parent = -1; ///< the task that takes up the last front's update
};
/// Whole trees for one thread; for more, trees are split from the top until there is enough to share out. Children
/// before parents.
std::vector<FrontTask> tasks_of(const Dissection& dissection, int threads);

/// Where a front's numbers lie.
struct FrontSlot {
    double* own = nullptr;
    long own_stride = 0;
    double* update = nullptr;
    long update_stride = 0;
    std::size_t stack_offset = 0; ///< of the update, on its side of the worker's stack
    int side = 0;
};

inline std::size_t update_size(const Dissection::Front& front, const FrontSlot& slot) {
    return Arena::rounded(static_cast<std::size_t>(slot.update_stride) * front.n_border);
}
/// Gives each front of the task but the last its place on the stack (`slots`: one a front, their strides known), and
/// returns how many numbers the stack must hold. Updates live on a stack with two ends, even depths on one and odd
/// depths on the other: a front takes room on its side, then its children, last on the other side, are let go.
std::size_t plan_stack(const Dissection& dissection, const FrontTask& task, std::vector<FrontSlot>& slots);

} // namespace hollowtop
