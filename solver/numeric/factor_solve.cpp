// SPDX-License-Identifier: MIT
#include "materials/assert.hpp"
#include "solver/numeric/arena.hpp"
#include "solver/numeric/factor.hpp"
#include "solver/numeric/factor_body.hpp"
#include "solver/numeric/front_kernels.hpp"
#include "solver/numeric/threads.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

namespace hollowtop {

namespace {

/// Columns worked on together. The factor is read once a group, so wide is good; what a group touches should
/// stay in the cache, so too wide is not. Fixed, so that the sums are the same for every number of threads.
constexpr int group_width = 32, solve_width = 48;

/// A single column, or a multiple of eight: whole vectors of the processor.
int padded(int width) { return width == 1 ? 1 : (width + 7) / 8 * 8; }

/// K^-1 on a group of columns, row by row in the order of positions; one row more takes what held dofs would.
/// `reached`: the blocks with something else than zeros in their own rows; the forward half passes over what
/// stays zero.
void solve_group(const FactorBody& body, Rows all, std::vector<char> reached) {
    const auto own = [&](const FactorBlock& block) {
        return Rows{all.values + static_cast<std::size_t>(block.first_own) * all.width, all.width};
    };
    const auto border = [&](const FactorBlock& block) {
        return BorderRows{all, body.border_rows.data() + block.border, block.n_border};
    };
    for (std::size_t b = 0; b < body.blocks.size(); ++b) {
        if (!reached[b]) continue;
        const FactorBlock& block = body.blocks[b];
        if (block.parent >= 0) reached[static_cast<std::size_t>(block.parent)] = 1;
        forward_front(block.l, block.stride, block.n_own, own(block), border(block));
    }
    std::fill_n(all.values + static_cast<std::size_t>(body.n_free()) * all.width, all.width, 0.0);
    for (auto block = body.blocks.rbegin(); block != body.blocks.rend(); ++block)
        backward_front(block->l, block->stride, block->n_own, own(*block), border(*block));
}

/// An entry of a sparse column: where in the order of elimination, which column of the group, what.
struct Entry {
    int position, column;
    double value;
};

/// A group of sparse columns after the forward half: Y = L^-1 B, only the rows of the blocks it reaches.
struct Reached {
    std::vector<int> columns; ///< of the whole, ascending in where they first enter the factor
    int width = 0;
    std::vector<int> blocks;     ///< ascending
    std::vector<long> first_row; ///< of each of `blocks`, in `y`
    int n_rows = 0;
    AlignedValues y; ///< row by row; one more for what held dofs would take
};

class ForwardHalf {
  public:
    ForwardHalf(const FactorBody& body, const SparseColumns& b)
        : body_(body), b_(b), row_shift_(body.blocks.size()), is_reached_(body.blocks.size(), 0) {}

    void run(Reached& group) {
        group.width = padded(static_cast<int>(group.columns.size()));
        const std::vector<Entry> entries = take_entries(group.columns);
        find_reached(entries, group);
        for (const Entry& entry : entries) row(group, entry.position)[entry.column] += entry.value;
        for (int b : group.blocks) {
            const FactorBlock& block = body_.blocks[b];
            const int* border = body_.border_positions.data() + block.border;
            border_rows_.resize(static_cast<std::size_t>(block.n_border));
            for (int k = 0; k < block.n_border; ++k)
                border_rows_[k] = border[k] < 0
                                      ? group.n_rows
                                      : static_cast<int>(border[k] + row_shift_[body_.block_of[border[k]]]);
            forward_front(block.l, block.stride, block.n_own, {row(group, block.first_own), group.width},
                          {{group.y.data(), group.width}, border_rows_.data(), block.n_border});
        }
        for (int b : group.blocks) is_reached_[b] = 0;
    }

  private:
    std::vector<Entry> take_entries(const std::vector<int>& columns) const {
        std::vector<Entry> entries;
        for (std::size_t c = 0; c < columns.size(); ++c)
            for (int e = b_.start[columns[c]]; e < b_.start[columns[c] + 1]; ++e)
                if (const int position = body_.position_of[b_.dof[e]]; position >= 0)
                    entries.push_back({position, static_cast<int>(c), b_.value[e]});
        return entries;
    }

    /// The blocks the entries lie in and all above them: what the forward half can make other than zero.
    void find_reached(const std::vector<Entry>& entries, Reached& group) {
        for (const Entry& entry : entries)
            for (int b = body_.block_of[entry.position]; b >= 0 && !is_reached_[b];
                 b = body_.blocks[b].parent) {
                is_reached_[b] = 1;
                group.blocks.push_back(b);
            }
        std::sort(group.blocks.begin(), group.blocks.end());
        long n_rows = 0;
        for (int b : group.blocks) {
            group.first_row.push_back(n_rows);
            row_shift_[b] = n_rows - body_.blocks[b].first_own;
            n_rows += body_.blocks[b].n_own;
        }
        group.n_rows = static_cast<int>(n_rows);
        group.y.assign(static_cast<std::size_t>(n_rows + 1) * group.width, 0.0);
    }

    double* row(Reached& group, int position) const {
        return group.y.data() + (position + row_shift_[body_.block_of[position]]) * group.width;
    }

    const FactorBody& body_;
    const SparseColumns& b_;
    std::vector<long> row_shift_; ///< position -> row of y, for blocks that are reached
    std::vector<char> is_reached_;
    std::vector<int> border_rows_;
};

/// Columns in groups of neighbours: those that enter the factor near one another share most of their way up.
std::vector<Reached> group_columns(const FactorBody& body, const SparseColumns& b) {
    std::vector<int> first(static_cast<std::size_t>(b.count()), std::numeric_limits<int>::max());
    std::vector<int> order;
    for (int c = 0; c < b.count(); ++c) {
        for (int e = b.start[c]; e < b.start[c + 1]; ++e)
            if (const int position = body.position_of[b.dof[e]]; position >= 0)
                first[c] = std::min(first[c], position);
        if (first[c] != std::numeric_limits<int>::max()) order.push_back(c); // the others are zero
    }
    std::stable_sort(order.begin(), order.end(), [&](int a, int c) { return first[a] < first[c]; });
    std::vector<Reached> groups;
    for (std::size_t c = 0; c < order.size(); ++c) {
        if (c % group_width == 0) groups.emplace_back();
        groups.back().columns.push_back(order[c]);
    }
    return groups;
}

/// Y_a' Y_b over the blocks that both reach, in the order of elimination; a.width x b.width, row by row.
void multiply_groups(const FactorBody& body, const Reached& a, const Reached& b, AlignedValues& product) {
    product.assign(static_cast<std::size_t>(a.width) * b.width, 0.0);
    std::size_t i = 0, j = 0;
    while (i < a.blocks.size() && j < b.blocks.size()) {
        if (a.blocks[i] < b.blocks[j]) {
            ++i;
        } else if (a.blocks[i] > b.blocks[j]) {
            ++j;
        } else {
            add_inner_products(a.y.data() + a.first_row[i] * a.width, a.width,
                               b.y.data() + b.first_row[j] * b.width, b.width, body.blocks[a.blocks[i]].n_own,
                               product.data());
            ++i;
            ++j;
        }
    }
}

} // namespace

void Factor::solve(std::span<double> columns, int count) const {
    const FactorBody& body = *body_;
    const std::size_t n = static_cast<std::size_t>(body.n_dofs);
    HOLLOWTOP_ASSERT(columns.size() == n * count);
    const int n_groups = (count + solve_width - 1) / solve_width;
    share_out(n_groups, body.threads, [&](int group, int) {
        const int first = group * solve_width, n_columns = std::min(solve_width, count - first);
        const int width = padded(n_columns);
        UnwrittenValues rows((static_cast<std::size_t>(body.n_free()) + 1) * width);
        std::vector<char> reached(body.blocks.size(), 0);
        double* const column = columns.data() + first * n;
        constexpr int together =
            256; // positions: what is written stays near while one column after the other is read
        for (int from = 0; from < body.n_free(); from += together) {
            for (int c = n_columns; c < width; ++c)
                for (int position = from; position < std::min(from + together, body.n_free()); ++position)
                    rows[static_cast<std::size_t>(position) * width + c] = 0;
            for (int c = 0; c < n_columns; ++c)
                for (int position = from; position < std::min(from + together, body.n_free()); ++position) {
                    const double value = column[c * n + body.dof_at[position]];
                    rows[static_cast<std::size_t>(position) * width + c] = value;
                    if (value != 0) reached[body.block_of[position]] = 1;
                }
        }
        std::fill_n(rows.data() + static_cast<std::size_t>(body.n_free()) * width, width, 0.0);
        solve_group(body, {rows.data(), width}, std::move(reached));
        for (int from = 0; from < body.n_dofs; from += together)
            for (int c = 0; c < n_columns; ++c)
                for (int dof = from; dof < std::min(from + together, body.n_dofs); ++dof) {
                    const int position = body.position_of[dof];
                    column[c * n + dof] =
                        position < 0 ? 0 : rows[static_cast<std::size_t>(position) * width + c];
                }
    });
}

struct ForwardColumns::Body {
    int count = 0;
    std::vector<Reached> groups;
};

int ForwardColumns::count() const { return body_->count; }

ForwardColumns Factor::forward(const SparseColumns& columns) const {
    const FactorBody& body = *body_;
    const auto half = std::make_shared<ForwardColumns::Body>(
        ForwardColumns::Body{.count = columns.count(), .groups = group_columns(body, columns)});
    const int n_groups = static_cast<int>(half->groups.size());
    const int n_workers = std::clamp(body.threads, 1, std::max(n_groups, 1));
    std::vector<ForwardHalf> forward(static_cast<std::size_t>(n_workers), ForwardHalf(body, columns));
    share_out(n_groups, n_workers, [&](int g, int worker) { forward[worker].run(half->groups[g]); });
    ForwardColumns result;
    result.body_ = half;
    return result;
}

std::vector<double> Factor::compliance(const ForwardColumns& a, const ForwardColumns& b) const {
    const FactorBody& body = *body_;
    const bool is_same = a.body_ == b.body_;
    const std::vector<Reached>&rows = a.body_->groups, &columns = b.body_->groups;
    const int n_rows = static_cast<int>(rows.size()), n_columns = static_cast<int>(columns.size());
    const auto n = static_cast<std::size_t>(a.count());
    std::vector<double> result(n * static_cast<std::size_t>(b.count()), 0.0);
    const int n_pairs = is_same ? n_rows * (n_rows + 1) / 2 : n_rows * n_columns;
    share_out(n_pairs, body.threads, [&](int pair, int) {
        int g = 0, h = 0; // of the rows, of the columns
        if (is_same) {
            while ((g + 1) * (g + 2) / 2 <= pair) ++g;
            h = pair - g * (g + 1) / 2;
        } else {
            g = pair % n_rows;
            h = pair / n_rows;
        }
        const Reached &one = rows[static_cast<std::size_t>(g)], &other = columns[static_cast<std::size_t>(h)];
        AlignedValues product;
        multiply_groups(body, one, other, product);
        for (std::size_t i = 0; i < one.columns.size(); ++i)
            for (std::size_t j = 0; j < (&one == &other ? i + 1 : other.columns.size()); ++j) {
                const auto row = static_cast<std::size_t>(one.columns[i]),
                           column = static_cast<std::size_t>(other.columns[j]);
                result[column * n + row] = product[i * static_cast<std::size_t>(other.width) + j];
                if (is_same) result[row * n + column] = result[column * n + row];
            }
    });
    return result;
}

std::vector<double> Factor::compliance(const SparseColumns& columns) const {
    const ForwardColumns half = forward(columns);
    return compliance(half, half);
}

} // namespace hollowtop
