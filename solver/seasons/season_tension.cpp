// SPDX-License-Identifier: MIT
#include "solver/seasons/season_tension.hpp"

#include <cmath>
#include <cstddef>

namespace hollowtop {
namespace {

/// The section takes the straight line a + b z that leaves neither force nor moment.
void balance(std::vector<double>& stress, const MoistureProfile& before, const MoistureProfile& next,
             double Q, double movement, double give) {
    const std::size_t n = stress.size();
    double depth = 0;
    for (const double width : next.width) depth += width;
    const double middle = depth / 2;
    depth = 0;
    double s0 = 0, s1 = 0, s2 = 0, force = 0, moment = 0;
    for (std::size_t i = 0; i < n; ++i) {
        const double z = middle - depth - next.width[i] / 2, du = next.percent[i] - before.percent[i];
        depth += next.width[i];
        const double less = 1 / (1 + give * std::abs(du)), weight = next.width[i] * less;
        stress[i] = (stress[i] - Q * movement * du) * less; // were the section held
        s0 += weight;
        s1 += weight * z;
        s2 += weight * z * z;
        force += next.width[i] * stress[i];
        moment += next.width[i] * stress[i] * z;
    }
    const double det = s0 * s2 - s1 * s1;
    const double a = -(force * s2 - moment * s1) / det, b = -(moment * s0 - force * s1) / det;
    depth = 0;
    for (std::size_t i = 0; i < n; ++i) {
        const double z = middle - depth - next.width[i] / 2, du = next.percent[i] - before.percent[i];
        depth += next.width[i];
        stress[i] += (a + b * z) / (1 + give * std::abs(du));
    }
}

} // namespace

HeldState unstressed(const ZoneFields& fields, double percent) {
    HeldState state;
    for (const Zone& zone : fields.zones) {
        state.profiles.push_back(even_profile(zone.thickness, percent));
        state.own.emplace_back(state.profiles.back().width.size(), 0.0);
        state.strains.emplace_back(2 * fields.zones.size(), 0.0);
    }
    return state;
}

void follow(HeldState& state, const ZoneFields& fields, const std::vector<MoistureProfile>& next,
            double movement, double give) {
    std::vector<StraightPart> before, after;
    for (std::size_t zone = 0; zone < next.size(); ++zone) {
        before.push_back(straight_part(state.profiles[zone]));
        after.push_back(straight_part(next[zone]));
        balance(state.own[zone], state.profiles[zone], next[zone], fields.Q_across, movement, give);
    }
    for (std::size_t zone = 0; zone < next.size(); ++zone) {
        const double less = 1 / (1 + give * std::abs(after[zone].mean - before[zone].mean));
        for (std::size_t other = 0; other < next.size(); ++other) {
            double &mean = state.strains[zone][2 * other], &difference = state.strains[zone][2 * other + 1];
            mean = (mean + movement * (after[other].mean - before[other].mean)) * less;
            difference =
                (difference + movement * (after[other].difference - before[other].difference)) * less;
        }
    }
    state.profiles = next;
}

TensionOfDay tension_of(const ZoneFields& fields, const HeldState& state, double divisor) {
    TensionOfDay day;
    for (std::size_t i = 0; i < fields.places.size(); ++i) {
        const ZoneFields::Place& place = fields.places[i];
        double top = 0, bottom = 0;
        for (std::size_t unit = 0; unit < fields.tension.size(); ++unit) {
            top += state.strains[place.zone][unit] * fields.tension[unit][i][0];
            bottom += state.strains[place.zone][unit] * fields.tension[unit][i][1];
        }
        const MoistureProfile& profile = state.profiles[place.zone];
        const double thickness = fields.zones[place.zone].thickness;
        double depth = 0;
        for (std::size_t cell = 0; cell < profile.width.size(); ++cell) {
            const double width = profile.width[cell], share = (depth + width / 2) / thickness;
            depth += width;
            const double stress =
                (top + share * (bottom - top) + place.stiffness_share * state.own[place.zone][cell]) /
                divisor;
            if (stress <= day.greatest) continue;
            day.greatest = stress;
            day.at = place.at;
            day.zone = place.zone;
        }
    }
    return day;
}

} // namespace hollowtop
