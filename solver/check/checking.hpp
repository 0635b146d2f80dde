// SPDX-License-Identifier: MIT
#pragma once
/// \file  One piece's check in steps: models in two orders, what every connection carries, the factor's answer,
/// the error of the mesh, the result. Where many pieces stand on one mesh, one solve answers them between two of
/// the steps (check_pieces).

#include "solver/check/check_options.hpp"
#include "solver/check/kept_work.hpp"
#include "solver/check/worst_position.hpp"
#include "solver/readout/gather.hpp"
#include "solver/readout/mesh_error.hpp"
#include "solver/situations/proof_of_solve.hpp"
#include "solver/situations/respond.hpp"

#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace hollowtop {

/// One piece's check in steps; what lies under the top may be taken out of its models between two of them.
class Checking {
  public:
    /// Throws what check_piece does.
    Checking(const Piece& asked, const CheckOptions& options, KeptWork& kept);
    /// What every connection carries, on this mesh, in both orders.
    void connect();
    const Model& high() const { return *high_.model; }
    /// Nodal forces of the connections in the higher order, one column a situation.
    void append_columns(std::vector<double>& columns) const {
        append_connection_forces(high(), high_connected_, columns);
    }
    int n_columns() const { return static_cast<int>(high_connected_.size()); }
    /// Adds to the factor's answer what the loads do; then it may be added to others.
    void add_loads(std::span<double> answered) const {
        add_moved_by_loads(high(), high_connected_, answered);
    }
    void add_to(SumOfAnswers& sum, std::span<const double> answered) const {
        sum.add(high(), high_connected_, answered);
    }
    /// Takes the answer, which is lost.
    void finish(std::span<double> answered, std::optional<double> residual_of_many = std::nullopt);
    const std::vector<SolvedSituation>& solved() const { return solved_; }
    const ModelUse& high_use() const { return high_; }
    /// Takes the stresses read. Says whether a finer mesh is needed, and if so has chosen it: connect()
    /// comes again.
    bool weigh(Readout readout);
    /// The result of what was solved last; none where a row that decides errs too much, and then a finer mesh is
    /// chosen: connect() comes again.
    std::optional<CheckOutcome> conclude();

    /// Takes what lies under the top out of the models, and gives up their turns; puts it back.
    void step_aside();
    void step_back();

  private:
    void report(double share) const {
        if (options_.progress) options_.progress(share);
    }
    bool refine();
    Response respond();
    /// What only the checks of the top read.
    struct OfTheTop {
        std::vector<double> frequency_Hz{};
        std::vector<SkinPush> pushes{};
    };
    OfTheTop of_the_top(int threads);
    /// The rest of conclude(); `of_the_top` is asked for as late as may be.
    std::optional<CheckOutcome> judged(const std::function<OfTheTop()>& of_the_top);
    MeshReport mesh_report() const;

    const Piece& asked_;
    const CheckOptions& options_;
    KeptWork& kept_;
    int threads_;
    WorstPositions worst_{};
    Piece piece_{};
    MeshSize size_{};
    int round_ = 0, step_ = 0;
    int rounds_for_rows_ = 0; ///< of those, how many a row that decides asked for
    ModelUse low_{}, high_{};
    std::vector<ConnectedSituation> low_connected_{}, high_connected_{};
    std::vector<SolvedSituation> solved_{}, low_solved_{};
    Readout readout_{};
    MeshError error_{};
    std::optional<Underside> low_aside_{}, high_aside_{};
};

} // namespace hollowtop
