// SPDX-License-Identifier: MIT
#pragma once
/// \file  Which loads act together, how many times each, and on which stiffness.
///
/// Situations on the loads as they are, in order: what stays (permanent and long) at once; the same after the
/// years, on moduli reduced to E/(1 + k_def) (EN 1995-1-1 2.3.2.2); what stays with each other load in turn;
/// all everyday medium loads together, if there are several; each shorter load with the everyday medium ones.
/// A piece with a single load and no weight has that load alone as its first situation.
/// On a strength class each of them is followed, after all of these, by its design situations (EN 1990
/// 6.4.3.2, eq. 6.10):
///     1.35 G + 1.5 Q_lead + sum of 1.5 psi_0 Q,  each Q leading in turn; G at 1.0 too where something may lift the top;
/// G is the top's own weight and what stays for good, Q the rest, psi_0 1.0 for what is stored and 0.7 else
/// (EN 1990 table A1.1, from memory). Forces of a test act once: they are extremes already.

#include "materials/message.hpp"
#include "solver/model/model.hpp"
#include "solver/result/result.hpp"
#include "solver/situations/tipping.hpp"

#include <string>
#include <vector>

namespace hollowtop {

/// A load of Model::loads, and how many times it acts.
struct ActingLoad {
    int load = 0;
    double factor = 1;
    bool operator==(const ActingLoad&) const = default;
};

inline constexpr double slip_in_design = 1.5; ///< K_u = 2/3 K_ser, EN 1995-1-1 2.2.2, from memory
/// How many times a load acts in a design situation in which it leads, or which it comes on top of.
double design_factor(Duration duration, LoadFor judged_for, bool leads);

struct SituationPlan {
    Message name;
    Duration duration = Duration::short_term; ///< of the shortest load
    Stage stage = Stage::passing;
    std::vector<ActingLoad> loads;
    int passing = -1;        ///< index of the passing load, or -1
    double creep_factor = 1; ///< 1 + k_def after the years
    double slip =
        1; ///< screws slip so many times as far: 1.5 in design situations, K_u = 2/3 K_ser (EN 1995-1-1 2.2.2)
    LoadFor judged_for = LoadFor::everyday; ///< of what passes
    AllowablesBasis format = AllowablesBasis::handbook;
    bool counts_for_tipping =
        true;              ///< false: forces of a test of strength, where the piece has loads for stability
    int design_of = -1;    ///< the situation whose design situation this is; -1: the loads are as they are
    std::string factors{}; ///< of a design situation, such as "1.35 G + 1.5 books"
    double set_down = 1;   ///< share of what passes that acts: less than 1 where the top tips at it
};

std::vector<SituationPlan> plan_situations(const Piece& piece, const Model& model);

/// Of those, how many are of the loads as they are: the first.
template <class Situations, class PlanOf>
size_t count_as_they_are(const Situations& situations, const PlanOf& plan_of) {
    size_t n = 0;
    while (n < situations.size() && plan_of(situations[n]).design_of < 0) ++n;
    return n;
}

/// Is the load what may tip the top in this situation, rather than what stays?
bool leads(const Model& model, const SituationPlan& plan, int load);

/// How many times the own weight of top and stiffeners acts.
double own_weight_in(const Model& model, const std::vector<ActingLoad>& loads);

/// Where the top may rest: the outer corners of what it may tip about.
std::vector<Point> resting_places(const Model& model);

/// The stiffeners' weight counts where the top's own does.
Resultant resultant_of_loads(const Model& model, const std::vector<ActingLoad>& loads);

/// The loads of a situation as they are for tipping.
std::vector<TippingLoad> loads_that_tip(const Model& model, const SituationPlan& plan);

} // namespace hollowtop
