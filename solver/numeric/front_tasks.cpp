// SPDX-License-Identifier: MIT
#include "solver/numeric/front_tasks.hpp"

#include <algorithm>

namespace hollowtop {

double elimination_flops(int rows, int cols) {
    double flops = 0;
    for (int k = 0; k < cols; ++k) flops += static_cast<double>(rows - k) * (rows - k);
    return flops;
}

double front_flops(const Dissection::Front& front) { return elimination_flops(front.size(), front.n_own); }

std::vector<FrontTask> tasks_of(const Dissection& dissection, int threads) {
    const int n_fronts = static_cast<int>(dissection.fronts.size());
    std::vector<double> flops(dissection.fronts.size()); // of a subtree
    double total = 0;
    for (int f = 0; f < n_fronts; ++f) {
        const Dissection::Front& front = dissection.fronts[f];
        const double own = front_flops(front) + 1; // the one is for fronts that eliminate nothing
        total += own;
        flops[f] += own;
        if (front.parent >= 0) flops[front.parent] += flops[f];
    }
    const double share = threads == 1 ? total : total / (4.0 * threads);
    std::vector<FrontTask> tasks;
    std::vector<int> task_of(dissection.fronts.size(), -1);
    std::vector<char> split(dissection.fronts.size(), 0);
    for (int f = n_fronts - 1; f >= 0; --f) // parents before children
        split[f] =
            flops[f] > share && (dissection.fronts[f].parent < 0 || split[dissection.fronts[f].parent]);
    for (int f = 0; f < n_fronts; ++f) {
        const int parent = dissection.fronts[f].parent;
        if (!split[f] && parent >= 0 && !split[parent]) continue; // inside a subtree
        FrontTask task;
        task.first = split[f] ? f : dissection.fronts[f].subtree;
        task.last = f;
        task.flops = split[f] ? front_flops(dissection.fronts[f]) : flops[f];
        for (int g = task.first; g <= task.last; ++g) task_of[g] = static_cast<int>(tasks.size());
        tasks.push_back(task);
    }
    for (FrontTask& task : tasks) {
        const int parent = dissection.fronts[task.last].parent;
        if (parent < 0) continue;
        task.parent = task_of[parent];
    }
    return tasks;
}

std::size_t plan_stack(const Dissection& dissection, const FrontTask& task, std::vector<FrontSlot>& slots) {
    std::size_t top[2] = {0, 0}, peak = 0;
    std::vector<int> depth(static_cast<std::size_t>(task.last - task.first) +
                           1); // of each of the task's fronts
    for (int f = task.last; f >= task.first; --f) {
        const int parent = dissection.fronts[f].parent;
        depth[f - task.first] = f == task.last ? 0 : depth[parent - task.first] + 1;
    }
    for (int f = task.first; f <= task.last; ++f) {
        const Dissection::Front& front = dissection.fronts[f];
        FrontSlot& place = slots[f];
        place.side = depth[f - task.first] % 2;
        if (f != task.last) {
            place.stack_offset = top[place.side];
            top[place.side] += update_size(front, place);
            peak = std::max(peak, top[0] + top[1]);
        }
        if (front.n_children > 0 && task.first != task.last)
            top[1 - place.side] = slots[dissection.children[front.first_child]].stack_offset;
    }
    return peak;
}

} // namespace hollowtop
