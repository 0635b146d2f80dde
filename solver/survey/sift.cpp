// SPDX-License-Identifier: MIT
#include "solver/survey/sift.hpp"

#include "materials/error.hpp"
#include "solver/piece/skin.hpp"
#include "solver/piece/wording.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace hollowtop {
namespace {

Message where_of(const Reading& reading) {
    return reading.line > 0 ? said("line {}: {}, {}", std::to_string(reading.line), in_mm(reading.thickness),
                                   place_text(reading.at))
                            : said("{}, {}", in_mm(reading.thickness), place_text(reading.at));
}

double median_of(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

/// The share of readings that lie on the top, were they read so: unit of the places, unit of the thickness, and which
/// number is which.
double share_that_fits(const ThicknessField& field, std::span<const Reading> readings,
                       const std::array<int, 3>& order, double unit, double of_thickness) {
    std::size_t fits = 0;
    for (const Reading& reading : readings) {
        const std::array<double, 3> given{reading.at.x, reading.at.y, reading.thickness};
        const auto number = [&](std::size_t k) { return given[static_cast<std::size_t>(order[k])]; };
        const double t = number(2) * of_thickness;
        const int region = region_at(field, {number(0) * unit, number(1) * unit});
        if (region == outside) continue;
        const double drawn = thickness_of(field, region);
        if (t > 0.3 * drawn && t < 1.15 * field.thickness && (region != full_thickness || t > 0.7 * drawn))
            ++fits;
    }
    return static_cast<double>(fits) / static_cast<double>(readings.size());
}

/// Readings that make no sense as they stand, and would as something else.
void expect_of_this_piece(const ThicknessField& field, std::span<const Reading> readings) {
    constexpr double most = 0.5, enough = 0.8;
    if (readings.size() < 2 || share_that_fits(field, readings, {0, 1, 2}, 1, 1) > most) return;
    struct Other {
        std::array<int, 3> order;
        double unit, of_thickness;
        const char *what, *remedy;
    };
    static const std::array<Other, 9> others{{
        {{0, 1, 2}, 10, 10, "they look like centimetres", "give --readings-units cm"},
        {{0, 1, 2}, 25.4, 25.4, "they look like inches", "give --readings-units in"},
        {{0, 1, 2}, 1 / 25.4, 1 / 25.4, "they look like millimetres", "give --readings-units mm"},
        {{0, 1, 2},
         1,
         10,
         "places look like millimetres and thicknesses like centimetres",
         "write the unit into the heading: \"x (mm)\", \"thickness (cm)\""},
        {{0, 1, 2},
         1,
         25.4,
         "places look like millimetres and thicknesses like inches",
         "write the unit into the heading: \"x (mm)\", \"thickness (in)\""},
        {{1, 0, 2},
         1,
         1,
         "x and y look as if they had changed places",
         "x runs along the length; name the columns in a heading"},
        {{1, 2, 0}, 1, 1, "the columns look like thickness, x, y", "write a heading: thickness, x, y"},
        {{0, 2, 1}, 1, 1, "the columns look like x, thickness, y", "write a heading: x, thickness, y"},
        {{1, 0, 2},
         10,
         10,
         "they look like centimetres with x and y changed about",
         "give --readings-units cm, and name the columns in a heading"},
    }};
    for (const Other& other : others)
        if (share_that_fits(field, readings, other.order, other.unit, other.of_thickness) > enough)
            throw Error(ErrorKind::input,
                        Fault{"readings", said("most are not of this top, as they stand: {}", other.what),
                              other.remedy});
}

/// One reading that would be the drawn thickness were it written in another unit.
void expect_unit(const Reading& reading, double drawn) {
    constexpr double much = 0.3, low = 0.8, high = 1.15; // of what is drawn
    if (!(reading.thickness > 0) || reading.thickness > much * drawn) return;
    for (const double unit : {10.0, 25.4})
        if (reading.thickness * unit > low * drawn && reading.thickness * unit < high * drawn)
            throw Error(ErrorKind::input,
                        Fault{"readings", said("{}: drawn are {}", where_of(reading), in_mm(drawn)),
                              said("were {} written? Correct it; if it is really so thin, give --keep-all",
                                   unit == 10.0 ? "centimetres" : "inches")});
}

Message fault_of(const Piece& piece, const ThicknessField& field, const Reading& reading, int region,
                 double foot) {
    const double t = reading.thickness;
    if (region == outside) {
        const Point turned{reading.at.y, reading.at.x};
        return region_at(field, turned) != outside
                   ? said("lies off the top; with x and y changed about it would lie on it")
                   : Message("lies off the top");
    }
    if (!(t > 0) || !std::isfinite(t)) return "is no thickness";
    for (const RecessPlan& recess : field.recesses) {
        bool clear = is_clear_of_walls(recess.loop, reading.at, foot);
        for (const Loop& land : recess.lands) clear = clear && is_clear_of_walls(land, reading.at, foot);
        if (!clear) return said("stands on a wall: its foot reaches {} each way", in_mm(foot));
    }
    constexpr double stray = 0.15, thin_rim = 0.7;
    if (region != full_thickness)
        return t < field.thickness ? Message()
                                   : said("is as thick as the board, {}, or thicker", in_mm(field.thickness));
    if (t > (1 + stray) * piece.top.thickness)
        return said("is thicker than the board, {}", in_mm(piece.top.thickness));
    if (t < thin_rim * piece.top.thickness)
        return said("lies outside the recesses, where the board is {}: is the place right?",
                    in_mm(piece.top.thickness));
    return {};
}

/// Readings at one place as one.
void merge(std::vector<Observed>& all, std::vector<Reading>& readings, std::vector<NamedReading>& named) {
    constexpr double same_place = 1; // mm
    std::vector<Observed> kept;
    std::vector<Reading> kept_readings;
    std::vector<int> counts;
    for (std::size_t i = 0; i < all.size(); ++i) {
        std::size_t k = 0;
        if (all.size() <= most_of_a_field) // of thousands the means of neighbours are taken anyway
            while (k < kept.size() &&
                   std::hypot(kept[k].at.x - all[i].at.x, kept[k].at.y - all[i].at.y) > same_place)
                ++k;
        else
            k = kept.size();
        if (k == kept.size()) {
            kept.push_back(all[i]);
            kept_readings.push_back(readings[i]);
            counts.push_back(1);
            continue;
        }
        const double differ = std::abs(kept[k].value - all[i].value);
        if (differ > 3 * std::hypot(kept[k].sd, all[i].sd))
            named.push_back({readings[i], true,
                             said("the same place was read as {} before: the mean is used; gauge it again",
                                  in_mm(kept_readings[k].thickness))});
        const double n = ++counts[k];
        kept[k].value += (all[i].value - kept[k].value) / n;
        kept[k].sd = std::max(all[i].sd / std::sqrt(n), differ / 2);
    }
    all = std::move(kept);
    readings = std::move(kept_readings);
}

/// Values drawn in to three robust standard deviations of their plane, so that one slip does not hide itself.
std::vector<Observed> drawn_in(const std::vector<Observed>& all) {
    std::vector<double> values, off;
    for (const Observed& one : all) values.push_back(one.value);
    const double middle = median_of(values);
    for (const double v : values) off.push_back(std::abs(v - middle));
    const double spread = 1.4826 * median_of(off);
    std::vector<Observed> in = all;
    for (Observed& one : in) {
        const double most = 3 * std::max(spread, one.sd);
        one.value = std::clamp(one.value, middle - most, middle + most);
    }
    return in;
}

/// Names what is out of line with its neighbours, and takes it out where that is safe.
void part_outliers(std::vector<Observed>& all, std::vector<Reading>& readings, const Rectangle& box,
                   std::vector<NamedReading>& named, bool keep_all) {
    constexpr std::size_t least = 6, many = most_of_a_field;
    constexpr double far = 4; // standard deviations
    if (all.size() < least || all.size() > 4 * many) return;
    std::vector<Observed> judged = all;
    std::vector<std::size_t> index(all.size());
    for (std::size_t i = 0; i < index.size(); ++i) index[i] = i;
    std::vector<char> leaves(all.size(), 0);
    const Bumps bumps = Kriging(drawn_in(thinned_to(all, box, many / 2)), box).bumps();
    for (std::size_t round = 0; round < all.size() / 5 && judged.size() >= least; ++round) {
        const std::vector<Kriging::LeftOut> left = Kriging(judged, box, &bumps).leave_one_out();
        std::size_t worst = 0;
        const auto sigmas = [&](std::size_t i) { return std::abs(left[i].difference) / left[i].sd; };
        for (std::size_t i = 1; i < left.size(); ++i)
            if (sigmas(i) > sigmas(worst)) worst = i;
        if (sigmas(worst) < far) break;
        const std::size_t own = index[worst];
        const double value = judged[worst].value, foretold = value - left[worst].difference;
        const auto says = amount(foretold, Unit::mm, decimals(1));
        if (!keep_all)
            for (const double unit : {10.0, 25.4})
                if (std::abs(value * unit - foretold) < std::max(2.0, far * left[worst].sd))
                    throw Error(
                        ErrorKind::input,
                        Fault{"readings", said("{}: its neighbours say {}", where_of(readings[own]), says),
                              said("were {} written? Correct it; if it is really so thin, give --keep-all",
                                   unit == 10.0 ? "centimetres" : "inches")});
        const bool thick = left[worst].difference > 0;
        leaves[own] = thick && !keep_all;
        Message why = said("its neighbours say {}; it may be a gouge: gauge it and around it again", says);
        if (thick)
            why = keep_all ? said("its neighbours say {}; it is used as asked", says)
                           : said("its neighbours say {}, and a skin taken for too thick flatters the top: "
                                  "gauge it again",
                                  says);
        named.push_back({readings[own], !leaves[own], std::move(why)});
        judged.erase(judged.begin() + static_cast<std::ptrdiff_t>(worst));
        index.erase(index.begin() + static_cast<std::ptrdiff_t>(worst));
    }
    std::vector<Observed> kept;
    for (std::size_t i = 0; i < all.size(); ++i)
        if (!leaves[i]) kept.push_back(all[i]);
    all = std::move(kept);
}

} // namespace

bool is_clear_of_walls(const Loop& loop, Point at, double foot) {
    return std::none_of(loop.begin(), loop.end(),
                        [&](const EdgePiece& piece) { return nearest_on(piece, at).distance < foot; });
}

Sifted sift(const Piece& piece, const ThicknessField& field, std::span<const Reading> readings,
            const SurveyOptions& options) {
    if (readings.empty())
        throw Error(ErrorKind::input,
                    Fault{"readings", "there are none", "give x, y and the thickness found there"});
    expect_of_this_piece(field, readings);
    Sifted sifted;
    sifted.of_region.resize(piece.recesses.size() + 1);
    std::vector<std::vector<Reading>> by_region(sifted.of_region.size());
    for (const Reading& reading : readings) {
        const int region = region_at(field, reading.at);
        if (region != outside && !options.keep_all) expect_unit(reading, thickness_of(field, region));
        if (Message fault = fault_of(piece, field, reading, region, options.foot); !fault.empty()) {
            sifted.named.push_back({reading, false, std::move(fault)});
            continue;
        }
        const auto r = static_cast<std::size_t>(region);
        by_region[r].push_back(reading);
        sifted.of_region[r].push_back({reading.at, reading.thickness, reading.sd.value_or(options.gauge_sd)});
    }
    for (std::size_t r = 0; r < by_region.size(); ++r) {
        std::vector<Observed>& own = sifted.of_region[r];
        const std::size_t before = own.size();
        merge(own, by_region[r], sifted.named);
        const std::size_t apart = own.size();
        const Rectangle box = r == 0 ? bounds_of(field.outline) : bounds_of(field.recesses[r - 1].loop);
        part_outliers(own, by_region[r], box, sifted.named, options.keep_all);
        sifted.n_used += before - (apart - own.size());
    }
    return sifted;
}

} // namespace hollowtop
