// SPDX-License-Identifier: MIT
#include "solver/variants/start.hpp"

#include "materials/error.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/piece/sense.hpp"
#include "solver/variants/edits.hpp"
#include "solver/variants/start_layout.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

constexpr double least_depth = 4, least_new_skin = 12, most_of_thickness = 0.55;
constexpr double room_for_doubt = 0.9; ///< of what is allowed, on a rough mesh

/// The rough judge: what is left to the limit, or nothing where the piece makes no sense or cannot be
/// computed.
class StartJudge {
  public:
    StartJudge(const Piece& solid, const CheckOptions& options) : options_(options), resting_(solid) {
        options_.essentials = options_.no_advice = options_.rough = true;
        options_.want_fields = false;
        options_.progress = {};
        constexpr double cells = 10;
        MeshReport mesh;
        mesh.size_mm = std::max(solid.top.length, solid.top.width) / cells;
        options_.mesh_of_another = mesh;
    }
    /// Loads that travel are sought for the first piece that can be computed, and stay there.
    std::optional<double> used(const Piece& piece) {
        Piece tried = piece;
        if (has_places_) {
            tried.loads = resting_.loads;
            tried.limits = resting_.limits;
            tried.use = resting_.use;
        }
        ++n_checks;
        try {
            if (!faults_of(tried).empty()) return std::nullopt;
            CheckOutcome outcome = check_piece(tried, options_);
            if (!has_places_) resting_ = std::move(outcome.placed);
            has_places_ = true;
            return outcome.result.governing_utilisation;
        } catch (const Error&) { // it tips, or cannot be made so
            return std::nullopt;
        }
    }
    bool holds(const Piece& piece) {
        const auto share = used(piece);
        return share && *share <= room_for_doubt;
    }
    int n_checks = 0;

  private:
    CheckOptions options_;
    Piece resting_;
    bool has_places_ = false;
};

constexpr int most_iron = 3;
/// With that much iron; nothing where there is no room for it.
std::optional<Piece> with_iron(Piece piece, int iron) {
    if (iron == 0) return piece;
    try {
        set_number(piece, std::min(iron, 2));
        if (iron == most_iron) set_section(piece, "", "angle 40x40x4");
    } catch (const Error&) {
        return std::nullopt;
    }
    return piece;
}

Piece hollowed(const Wish& wish, double depth) {
    Piece piece = solid_start(wish);
    piece.recesses = recesses_of(wish, depth);
    return piece;
}

/// The greatest depth with that much iron that holds, by halving; 0 where none does.
double depth_with(const Wish& wish, int iron, StartJudge& judge) {
    const double step = depth_step(wish.units), most = std::floor(deepest_sensible(wish) / step) * step;
    if (most <= 0 || recesses_of(wish, 1).empty()) return 0;
    const auto holds = [&](double depth) {
        const auto piece = with_iron(hollowed(wish, depth), iron);
        return piece && judge.holds(*piece);
    };
    if (holds(most)) return most;
    double good = 0, bad = most;
    constexpr int halvings = 3;
    for (int i = 0; i < halvings; ++i) {
        const double from = good > 0 ? good : least_depth,
                     middle = std::round((from + bad) / 2 / step) * step;
        if (middle <= from || middle >= bad) break;
        (holds(middle) ? good : bad) = middle;
    }
    return good;
}

} // namespace

double deepest_sensible(const Wish& wish) {
    const double share = wish.use == "workbench" ? 1.0 / 3 : most_of_thickness;
    const double most = std::min(share * wish.thickness, wish.thickness - least_new_skin);
    return most < least_depth ? 0 : most;
}

Piece solid_start(const Wish& wish) {
    if (!goes_under(wish.base, wish.plan))
        throw Error(ErrorKind::input, Fault{"base", "goes under a rectangle alone",
                                            "give legs, or draw this base in the file yourself"});
    Piece piece;
    piece.units = wish.units;
    piece.top.length = wish.length;
    piece.top.width = wish.width;
    piece.top.thickness = wish.thickness;
    piece.top.wood = wish.wood;
    piece.top.grain_deg = wish.grain_deg;
    piece.top.moisture_percent = wish.moisture_percent;
    piece.top.outline = outline_of(wish);
    piece.use = wish.use;
    piece.supports = supports_of(wish);
    if (const std::vector<Fault> faults = faults_of(piece); !faults.empty())
        throw Error(ErrorKind::input, faults);
    return piece;
}

Start start_of(const Wish& wish, const CheckOptions& options) {
    Start start{.piece = solid_start(wish)};
    StartJudge judge(start.piece, options);
    const auto solid = judge.used(start.piece);
    start.solid_holds = solid && *solid <= 1;
    const double worth = wish.thickness / 6; ///< shallower, the work is hardly worth it: judgement
    // What all the iron does not make hold solid, less wood does not either: then nothing is sought.
    const auto all_iron = start.solid_holds ? std::nullopt : with_iron(start.piece, most_iron);
    const bool iron_holds = all_iron && judge.holds(*all_iron);
    if (start.solid_holds) start.depth = depth_with(wish, 0, judge);
    for (int iron = 1; iron <= most_iron && start.depth < worth && (start.solid_holds || iron_holds);
         ++iron) {
        const double deeper = depth_with(wish, iron, judge);
        if (deeper <= start.depth) continue;
        start.depth = deeper;
        start.iron = iron;
    }
    if (start.depth > 0) {
        start.piece = *with_iron(hollowed(wish, start.depth), start.iron);
    } else if (iron_holds) {
        start.iron = most_iron;
        for (int iron = 1; iron < most_iron; ++iron)
            if (const auto less = with_iron(start.piece, iron); less && judge.holds(*less)) {
                start.iron = iron;
                break;
            }
        start.piece = *with_iron(start.piece, start.iron);
    }
    start.n_checks = judge.n_checks;
    return start;
}

bool step_back(const Wish& wish, Start& start) {
    if (start.depth <= 0) return false;
    const double step = depth_step(wish.units);
    start.depth = std::floor(0.8 * start.depth / step) * step;
    if (start.depth < least_depth) start.depth = 0;
    Piece piece = start.depth > 0 ? hollowed(wish, start.depth) : solid_start(wish);
    const auto barred = with_iron(piece, start.iron);
    start.piece = barred ? *barred : piece;
    if (!barred) start.iron = 0;
    if (start.depth == 0 && start.solid_holds) {
        start.piece = solid_start(wish);
        start.iron = 0;
    }
    return true;
}

Instead instead_of(const Wish& wish, const CheckOptions& options) {
    Instead instead;
    const double step = wish.units == Units::mm ? 1 : 25.4 / 16,
                 least = std::ceil(wish.thickness / step) * step;
    StartJudge judge(solid_start(wish), options);
    const auto holds = [&](double thickness) {
        Wish thicker = wish;
        thicker.thickness = thickness;
        return judge.holds(solid_start(thicker));
    };
    constexpr double thick = 60;                                                 // as board stock goes
    int low = 0, high = static_cast<int>(std::max(least, thick - least) / step); // steps above `least`
    if (holds(least + high * step)) {
        while (high - low > 1) {
            const int middle = (low + high) / 2;
            (holds(least + middle * step) ? high : low) = middle;
        }
        instead.thickness = least + high * step;
    }
    for (const Base base : {Base::trestles, Base::cabinet}) {
        if (base == wish.base || wish.base == Base::brackets || wish.base == Base::cabinet ||
            !goes_under(base, wish.plan))
            continue;
        Wish other = wish;
        other.base = base;
        try {
            const Piece piece = solid_start(other);
            if (!StartJudge(piece, options).holds(piece)) continue;
        } catch (const Error&) { // it does not fit under this top
            continue;
        }
        instead.base = base;
        break;
    }
    return instead;
}

} // namespace hollowtop
