// SPDX-License-Identifier: MIT
#pragma once
/// \file  The piece made ready to be loaded (make_model.hpp): shell, factor, supports, rigid motions, and the compliance
/// at the interface.
///
/// The top floats free; the factor is made of the top with just enough dofs pinned to stop its rigid motions.
/// Once loads and supports balance, the pins carry nothing, which the residual proves. All that opens or
/// closes lives in the small dense problem at the interface points (solver/numeric/complementarity.hpp).

#include "materials/message.hpp"
#include "solver/interface/connection_plan.hpp"
#include "solver/interface/supports.hpp"
#include "solver/numeric/factor.hpp"
#include "solver/piece/piece.hpp"
#include "solver/shell/loads.hpp"
#include "solver/shell/shell.hpp"

#include <list>
#include <memory>
#include <mutex>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace hollowtop {

/// A column of nodal forces and what it is.
struct LoadColumn {
    Message name;
    std::string plain_name{}; ///< without the place that the search gave it
    Duration duration = Duration::short_term;
    std::vector<double> forces;
    bool is_own_weight = false;
    LoadFor judged_for = LoadFor::everyday;
    std::vector<LoadPoint>
        points; ///< where it rests; none for the top's own weight, which lies in its sections
    Resultant resultant{};
    std::vector<Pressed> pressed{}; ///< by a load of the piece
};

/// Compliance between connections through top and bars, their own left out, mm/N: creep factor x soft + stiff. `soft`
/// is wood, which creeps, `stiff` is metal; the creep factor is 1 + k_def, or 1 (EN 1995-1-1, 2.3.2.2).
class ConnectionCompliance {
  public:
    /// Both count squared.
    ConnectionCompliance(std::vector<double> soft, std::vector<double> stiff)
        : soft_(std::move(soft)), stiff_(std::move(stiff)) {}
    /// The whole at a creep factor, count squared. Made when first asked for; any thread may ask.
    std::shared_ptr<const std::vector<double>> after_creep(double creep_factor) const;
    /// How many numbers it may keep.
    size_t size() const { return 4 * soft_.size(); }

  private:
    std::vector<double> soft_, stiff_;
    mutable std::mutex guard_;
    mutable std::vector<std::pair<double, std::shared_ptr<const std::vector<double>>>> known_; ///< a few
};

struct ConnectionSet {
    std::vector<Connection> all{}; ///< their columns are those of TopColumns::forces
    int n_bars = 0;                ///< the first of ConnectionPlan::beams
    std::shared_ptr<const ConnectionCompliance> between{};
};

/// Unit forces on the top, and how it answers them: the same for all that touches it in the same places.
/// Filled by assignment, never by a list of initialisers: where one of a list throws, g++ 12 destroys the members of an
/// aggregate that was made before it in the list twice, and `forces` is one that holds memory from the start.
struct TopColumns {
    std::vector<TopColumn> of{};                             ///< the ones of bars
    SparseColumns forces{};                                  ///< upward at the supports' points, then `of`
    std::vector<double> compliance{};                        ///< of the top, count squared
    std::vector<std::vector<double>> rigid_at{}, moved_at{}; ///< Model::rigid and Model::moved along each
};

/// Connections seen before, which may come again with other screws or in other holes.
struct KnownConnections {
    std::shared_ptr<const TopColumns> columns{};
    std::vector<Beam> beams{};
    ConnectionSet set{};
};

struct Model {
    Shell
        shell; ///< once factored its stiffness holds nothing: products with it show the held lines' and pins' forces
    SupportPlan supports;
    std::vector<ContactPoint> points;       ///< of the supports, all of them: the first of the connections
    std::vector<std::vector<double>> rigid; ///< rigid motions that no held line stops, over all dofs
    std::vector<int> pins;                  ///< dofs held only to stop rigid motions; they carry nothing
    std::optional<Factor> factor;
    ConnectionPlan bars;       ///< stiffeners and rails
    ConnectionSet connections; ///< supports, rails, stiffeners as drawn
    ConnectionSet
        bonded; ///< supports, rails, stiffeners as if glued; empty without stiffeners, or if not asked for
    int n_bare = 0;                            ///< supports and rails: that many of the first connections
    std::shared_ptr<const TopColumns> columns; ///< of `points`, then of ConnectionPlan::columns
    ForwardColumns support_columns{};          ///< of `points` alone, once factored
    std::vector<double> support_compliance{};
    std::list<std::shared_ptr<const TopColumns>> known_columns{}; ///< the ones used last, the last first
    std::list<KnownConnections> known_connections{};              ///< the same
    std::vector<LoadColumn> loads; ///< own weight first where it counts, then the piece's loads
    std::vector<std::vector<double>> work_on_rigid; ///< of each load on each of `rigid`
    std::vector<std::vector<double>> moved;         ///< answer of the pinned top to each load
    std::vector<Point> line_ends{};                 ///< of the lines that hold the top and of knife edges
    double volume = 0;                              ///< of the top's wood, mm3
    Resultant hollowed{}; ///< weight that the recesses took, where the top's own counts
    double solve_error =
        1; ///< how far off one solve by the factor is, as a share of the greatest movement: seen on all loads, balanced; 1 without loads
};

/// The bar of a connection that has one.
inline const Beam& bar_of(const Model& model, const Connection& connection) {
    return model.bars.beams[static_cast<size_t>(connection.beam)];
}

/// Upward movement of the top at each of the connections, and of the bars under their own weight; parts as in
/// ConnectionSet.
struct ConnectionMovement {
    std::vector<double> soft, stiff;
};
/// From the top's movement along each of TopColumns::forces, and how many times the bars' own weight acts.
ConnectionMovement movement_from_columns(const Model& model, const ConnectionSet& set,
                                         const std::vector<double>& at_columns, double weight);

/// Rigid motions of the top and of the set's bars at the connections, column by column.
std::vector<double> rigid_at_connections(const Model& model, const ConnectionSet& set);

/// Weight of the stiffeners and its moments about the origin.
Resultant weight_of_bars(const Model& model);

/// Greatest movement up or down of a field of dofs.
double greatest_movement(std::span<const double> dofs);

/// Work of nodal forces on each of Model::rigid.
std::vector<double> work_on_rigid(const Model& model, std::span<const double> nodal);

/// B x: movement along each column.
std::vector<double> at_points(const SparseColumns& columns, const std::vector<double>& dofs);

} // namespace hollowtop
