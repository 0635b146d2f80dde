// SPDX-License-Identifier: MIT
#include "solver/numeric/dissection.hpp"

#include <algorithm>
#include <cstddef>

namespace hollowtop {

namespace {

/// Cells i0 <= i < i1, j0 <= j < j1.
struct Region {
    int i0, i1, j0, j1;
};

/// What a region hands to the one above it: fronts and cells not yet assembled, and the nodes still to
/// eliminate.
struct Remainder {
    std::vector<int> fronts;
    std::vector<int> cells;
    std::vector<int> border_nodes;
};

/// Blocks this many cells wide are not cut further: tried for every order, and the quickest of one to four.
int block_cells(int order) { return order == 1 ? 4 : order == 2 ? 2 : 1; }

class Dissector {
  public:
    Dissector(const CellGrid& grid, const std::vector<int>& held)
        : grid_(grid), stamp_(static_cast<std::size_t>(grid.n_grid_nodes()), -1),
          is_held_(static_cast<std::size_t>(grid.n_dofs()), 0) {
        for (int dof : held) is_held_[dof] = 1;
        if (!grid.more_nodes.empty()) more_at_.resize(static_cast<std::size_t>(grid.n_grid_nodes()));
        for (std::size_t k = 0; k < grid.more_nodes.size(); ++k)
            more_at_[grid.more_nodes[k]].push_back(grid.n_grid_nodes() + static_cast<int>(k));
        out_.position_of.assign(static_cast<std::size_t>(grid.n_dofs()), -1);
        out_.dof_at.reserve(out_.position_of.size());
    }

    Dissection run() {
        Remainder rest = dissect_region({0, grid_.nx, 0, grid_.ny});
        if (!rest.cells.empty()) add_front({}, std::move(rest)); // cells whose border is held all round
        number_borders();
        return std::move(out_);
    }

  private:
    /// Shows `see` the grid's node and those that share its place.
    template <class See> void each_node_at(int place, const See& see) const {
        see(place);
        if (!more_at_.empty())
            for (const int node : more_at_[place]) see(node);
    }

    /// element_interior_dofs() and element_border_dofs(), those of cells with the grid's nodes made once.
    std::vector<int> inside_of(int cell) {
        if (grid_.has_own_nodes(cell)) return element_interior_dofs(grid_, cell);
        if (inside_.empty()) inside_ = element_interior_dofs(grid_, cell);
        return inside_;
    }
    std::vector<int> border_of(int cell) {
        if (grid_.has_own_nodes(cell)) return element_border_dofs(grid_, cell);
        if (border_.empty()) border_ = element_border_dofs(grid_, cell);
        return border_;
    }

    bool is_active(int i, int j) const {
        return grid_.active[static_cast<std::size_t>(j) * grid_.nx + i] != 0;
    }

    /// Is an active cell around the node inside the region (or outside it, if `inside` is false)?
    bool touches(int node, const Region& r, bool inside) const {
        const int p = grid_.order, ix = node % grid_.nodes_x(), iy = node / grid_.nodes_x();
        const int i_low = std::max(ix % p == 0 ? ix / p - 1 : ix / p, 0),
                  i_high = std::min(ix / p, grid_.nx - 1);
        const int j_low = std::max(iy % p == 0 ? iy / p - 1 : iy / p, 0),
                  j_high = std::min(iy / p, grid_.ny - 1);
        for (int j = j_low; j <= j_high; ++j)
            for (int i = i_low; i <= i_high; ++i) {
                const bool within = i >= r.i0 && i < r.i1 && j >= r.j0 && j < r.j1;
                if (within == inside && is_active(i, j)) return true;
            }
        return false;
    }

    Remainder dissect_region(const Region& r) {
        Remainder rest;
        std::vector<int> candidates;
        const int width = r.i1 - r.i0, height = r.j1 - r.j0, block = block_cells(grid_.order);
        if (width <= block && height <= block) {
            take_block(r, rest.cells, candidates);
        } else {
            Region low = r, high = r;
            if (width >= height)
                low.i1 = high.i0 = r.i0 + width / 2;
            else
                low.j1 = high.j0 = r.j0 + height / 2;
            for (const Region& half : {low, high}) {
                Remainder part = dissect_region(half);
                rest.fronts.insert(rest.fronts.end(), part.fronts.begin(), part.fronts.end());
                rest.cells.insert(rest.cells.end(), part.cells.begin(), part.cells.end());
                candidates.insert(candidates.end(), part.border_nodes.begin(), part.border_nodes.end());
            }
        }
        // Nodes that no active cell outside the region touches are eliminated here.
        const int mark = next_mark_++;
        std::vector<int> own;
        for (int node : candidates) {
            if (stamp_[node] == mark) continue;
            stamp_[node] = mark;
            (touches(node, r, false) ? rest.border_nodes : own).push_back(node);
        }
        std::sort(own.begin(), own.end());
        const bool any_free = std::any_of(own.begin(), own.end(), [&](int place) {
            bool found = false;
            each_node_at(place, [&](int node) {
                for (int c = 0; c < grid_.dofs_per_node; ++c)
                    found = found || !is_held_[node * grid_.dofs_per_node + c];
            });
            return found;
        });
        if (!any_free) return rest;
        Remainder above;
        above.border_nodes = rest.border_nodes;
        above.fronts.push_back(add_front(own, std::move(rest)));
        return above;
    }

    /// The active cells of a block and the nodes on their edges, in rows.
    void take_block(const Region& r, std::vector<int>& cells, std::vector<int>& nodes) {
        for (int j = r.j0; j < r.j1; ++j)
            for (int i = r.i0; i < r.i1; ++i)
                if (is_active(i, j)) cells.push_back(j * grid_.nx + i);
        if (cells.empty()) return;
        const int p = grid_.order;
        for (int iy = r.j0 * p; iy <= r.j1 * p; ++iy)
            for (int ix = r.i0 * p; ix <= r.i1 * p; ++ix) {
                if (ix % p != 0 && iy % p != 0) continue; // inside a cell
                const int node = iy * grid_.nodes_x() + ix;
                if (touches(node, r, true)) nodes.push_back(node);
            }
    }

    int add_front(const std::vector<int>& own_nodes, Remainder&& rest) {
        Dissection::Front front;
        const int index = static_cast<int>(out_.fronts.size());
        front.first_cell = static_cast<int>(out_.cells.size());
        front.n_cells = static_cast<int>(rest.cells.size());
        for (int cell : rest.cells) {
            Dissection::Cell entry;
            entry.index = cell;
            entry.first_interior = out_.n_free();
            for (int local : inside_of(cell)) number(global_dof(grid_, cell, local));
            entry.n_interior = out_.n_free() - entry.first_interior;
            out_.cells.push_back(entry);
        }
        front.first_own = out_.n_free();
        for (int place : own_nodes)
            each_node_at(place, [&](int node) {
                for (int c = 0; c < grid_.dofs_per_node; ++c) number(node * grid_.dofs_per_node + c);
            });
        front.n_own = out_.n_free() - front.first_own;
        front.first_child = static_cast<int>(out_.children.size());
        front.n_children = static_cast<int>(rest.fronts.size());
        front.subtree = index;
        for (int child : rest.fronts) {
            out_.fronts[child].parent = index;
            front.subtree = std::min(front.subtree, out_.fronts[child].subtree);
            out_.children.push_back(child);
        }
        out_.fronts.push_back(front);
        border_nodes_.push_back(std::move(rest.border_nodes));
        return index;
    }

    void number(int dof) {
        if (is_held_[dof]) return;
        out_.position_of[dof] = out_.n_free();
        out_.dof_at.push_back(dof);
    }

    void number_borders() {
        const int n = grid_.dofs_per_node;
        for (std::size_t f = 0; f < out_.fronts.size(); ++f) {
            Dissection::Front& front = out_.fronts[f];
            front.border = static_cast<int>(out_.border_positions.size());
            for (int place : border_nodes_[f])
                each_node_at(place, [&](int node) {
                    for (int c = 0; c < n; ++c)
                        if (const int position = out_.position_of[node * n + c]; position >= 0)
                            out_.border_positions.push_back(position);
                });
            std::sort(out_.border_positions.begin() + front.border, out_.border_positions.end());
            front.n_border = static_cast<int>(out_.border_positions.size()) - front.border;
        }
        for (Dissection::Cell& cell : out_.cells) {
            cell.border = static_cast<int>(out_.border_positions.size());
            for (int local : border_of(cell.index))
                out_.border_positions.push_back(out_.position_of[global_dof(grid_, cell.index, local)]);
            cell.n_border = static_cast<int>(out_.border_positions.size()) - cell.border;
        }
    }

    const CellGrid& grid_;
    std::vector<std::vector<int>>
        more_at_{}; ///< of each place the nodes past the grid's own; empty where no place has any
    std::vector<int> inside_{}, border_{};
    std::vector<int> stamp_;
    std::vector<char> is_held_;
    std::vector<std::vector<int>> border_nodes_; ///< one list a front
    int next_mark_ = 0;
    Dissection out_;
};

} // namespace

Dissection dissect(const CellGrid& grid, const std::vector<int>& held) { return Dissector(grid, held).run(); }

} // namespace hollowtop
