// SPDX-License-Identifier: MIT
#include "solver/variants/start.hpp"

#include "materials/error.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/piece/sense.hpp"
#include "solver/variants/edits.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

constexpr double inch = 25.4;
constexpr double least_recess = 100;  ///< less is a slot, not a recess
constexpr double beside_support = 15; ///< wood of full thickness around what a support bears on
constexpr double least_depth = 4, least_new_skin = 12, most_of_thickness = 0.55;
constexpr double room_for_doubt = 0.9; ///< of what is allowed, on a rough mesh

/// To what a rule shows: 5 mm, or an eighth of an inch.
double on_rule(double mm, Units units) {
    const double step = units == Units::mm ? 5 : inch / 8;
    return std::round(mm / step) * step;
}
double depth_step(Units units) { return units == Units::mm ? 0.5 : inch / 32; }

double leg_size(const Wish& wish) {
    const double least = std::min(wish.length, wish.width);
    if (wish.use == "workbench") return on_rule(std::clamp(0.12 * least, 50.0, 90.0), wish.units);
    return on_rule(std::clamp(0.08 * least, 40.0, 70.0), wish.units);
}
double leg_inset(const Wish& wish) {
    return on_rule(std::clamp(0.1 * std::min(wish.length, wish.width), leg_size(wish) / 2 + 15, 110.0),
                   wish.units);
}
double bearer_width(const Wish& wish) {
    switch (wish.base) {
    case Base::brackets:
        return on_rule(30, wish.units);
    case Base::cabinet:
        return wish.units == Units::mm ? 18 : 0.75 * inch;
    default:
        return on_rule(70, wish.units);
    }
}

/// x of the bearers that run across: trestles, brackets, sides and partitions of a cabinet.
std::vector<double> lines_across(const Wish& wish) {
    const double L = wish.length, half = bearer_width(wish) / 2;
    constexpr double bay_of_shelf = 700, bay_of_cabinet = 620, carcase_inside = 20;
    double first = on_rule(0.2 * L, wish.units);
    int bays = 1;
    if (wish.base == Base::brackets) {
        first = on_rule(std::max(0.1 * L, half + 10), wish.units);
        bays = std::max(1, static_cast<int>(std::ceil((L - 2 * first) / bay_of_shelf)));
    } else if (wish.base == Base::cabinet) {
        first = on_rule(carcase_inside, wish.units) + half;
        bays = std::max(1, static_cast<int>(std::ceil((L - 2 * first) / bay_of_cabinet)));
    }
    std::vector<double> lines;
    for (int i = 0; i <= bays; ++i) {
        const double x = first + (L - 2 * first) * i / bays;
        lines.push_back(i == 0 || i == bays ? x : on_rule(x, wish.units));
    }
    return lines;
}

double end_of_bearers(const Wish& wish) {
    return on_rule(std::clamp(0.08 * wish.width, 15.0, 70.0), wish.units);
}

Support bearer(const Wish& wish, std::string name, Point from, Point to) {
    return {.name = std::move(name),
            .kind = Bearer{.from = from,
                           .to = to,
                           .width = bearer_width(wish),
                           .hold_down = true,
                           .stiffness = {},
                           .held_by = {},
                           .packed = false,
                           .height = {}}};
}

std::vector<Support> legs_of(const Wish& wish) {
    const double a = leg_inset(wish), size = leg_size(wish), L = wish.length, W = wish.width;
    std::vector<Support> all;
    for (const auto& [name, at] : {std::pair{"front left leg", Point{a, a}},
                                   {"front right leg", Point{L - a, a}},
                                   {"back left leg", Point{a, W - a}},
                                   {"back right leg", Point{L - a, W - a}}})
        all.push_back(
            {.name = name, .kind = Pad{.at = at, .size_x = size, .size_y = size, .hold_down = true}});
    return all;
}

std::vector<Support> arms_of(const Wish& wish) {
    const double L = wish.length, W = wish.width, half = bearer_width(wish) / 2;
    const double ax = on_rule(0.12 * L, wish.units), ay = on_rule(0.12 * W, wish.units);
    const double gap = half + on_rule(10, wish.units);
    return {bearer(wish, "arm", {ax, W / 2}, {L - ax, W / 2}),
            bearer(wish, "front cross arm", {L / 2, ay}, {L / 2, W / 2 - gap}),
            bearer(wish, "back cross arm", {L / 2, W / 2 + gap}, {L / 2, W - ay})};
}

std::vector<Support> bearers_of(const Wish& wish) {
    const double y = end_of_bearers(wish);
    const std::vector<double> lines = lines_across(wish);
    std::vector<Support> all;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const char* kind = wish.base == Base::trestles   ? "trestle"
                           : wish.base == Base::brackets ? "bracket"
                                                         : "side";
        const std::string which = i == 0 ? "left " : i + 1 == lines.size() ? "right " : "middle ";
        const std::string number =
            lines.size() > 3 && i > 0 && i + 1 < lines.size() ? " " + std::to_string(i) : "";
        const std::string name =
            wish.base == Base::cabinet && which == "middle " ? "partition" : which + kind;
        all.push_back(bearer(wish, name + number, {lines[i], y}, {lines[i], wish.width - y}));
    }
    if (wish.base == Base::cabinet) {
        const double half = bearer_width(wish) / 2, x0 = lines.front() + half, x1 = lines.back() - half;
        all.push_back(bearer(wish, "front rail", {x0, y + half}, {x1, y + half}));
        all.push_back(bearer(wish, "back rail", {x0, wish.width - y - half}, {x1, wish.width - y - half}));
    }
    return all;
}

double rim_of_ends(const Wish& wish) {
    return on_rule(std::clamp(0.13 * wish.width, 40.0, 130.0), wish.units);
}

std::vector<Rectangle> wells_of(const Wish& wish) {
    const double L = wish.length, W = wish.width, half = bearer_width(wish) / 2;
    const double beside = on_rule(beside_support, wish.units);
    std::vector<Rectangle> wells;
    switch (wish.base) {
    case Base::legs: {
        const double rim =
            std::max(rim_of_ends(wish), on_rule(leg_inset(wish) + leg_size(wish) / 2 + beside, wish.units));
        wells.push_back({rim, L - rim, rim, W - rim});
        break;
    }
    case Base::pedestal: {
        const double rim = rim_of_ends(wish), in = half + beside;
        for (const double x0 : {rim, L / 2 + in})
            for (const double y0 : {rim, W / 2 + in})
                wells.push_back({x0, x0 == rim ? L / 2 - in : L - rim, y0, y0 == rim ? W / 2 - in : W - rim});
        break;
    }
    case Base::trestles:
    case Base::brackets:
    case Base::cabinet: {
        const double rails = wish.base == Base::cabinet ? end_of_bearers(wish) + 2 * half + beside : 0;
        const double rim = std::max(rim_of_ends(wish), on_rule(rails, wish.units));
        const std::vector<double> lines = lines_across(wish);
        for (std::size_t i = 0; i + 1 < lines.size(); ++i) {
            const double in = half + beside;
            wells.push_back({lines[i] + in, lines[i + 1] - in, rim, W - rim});
        }
        break;
    }
    }
    std::erase_if(
        wells, [](const Rectangle& r) { return r.x1 - r.x0 < least_recess || r.y1 - r.y0 < least_recess; });
    return wells;
}

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
    if (most <= 0 || wells_of(wish).empty()) return 0;
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

std::vector<Recess> recesses_of(const Wish& wish, double depth) {
    const std::vector<Rectangle> wells = wells_of(wish);
    std::vector<Recess> recesses;
    for (std::size_t i = 0; i < wells.size(); ++i)
        recesses.push_back(
            {.name = wells.size() == 1 ? "well" : "well " + std::to_string(i + 1),
             .shape = RectangleShape{.box = wells[i],
                                     .corner_radius = wish.units == Units::mm ? 10 : 0.375 * inch},
             .depth = depth,
             .root_radius = wish.units == Units::mm ? 3 : 0.125 * inch,
             .lands = {}});
    return recesses;
}

Piece solid_start(const Wish& wish) {
    Piece piece;
    piece.units = wish.units;
    piece.top.length = wish.length;
    piece.top.width = wish.width;
    piece.top.thickness = wish.thickness;
    piece.top.wood = wish.wood;
    piece.top.grain_deg = wish.grain_deg;
    piece.top.moisture_percent = wish.moisture_percent;
    piece.top.outline = RectangleShape{.box = {0, wish.length, 0, wish.width}};
    piece.use = wish.use;
    piece.supports = wish.base == Base::legs       ? legs_of(wish)
                     : wish.base == Base::pedestal ? arms_of(wish)
                                                   : bearers_of(wish);
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
    const double step = wish.units == Units::mm ? 1 : inch / 16,
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
        if (base == wish.base || wish.base == Base::brackets || wish.base == Base::cabinet) continue;
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
