// SPDX-License-Identifier: MIT
#include "cli/json/proof_story.hpp"

#include "cli/json/uncertainty_json.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace hollowtop::cli {
namespace {

using Json = nlohmann::ordered_json;

Json learned_json(const ProofStory& story, const Learned& learned) {
    Json out = {{"surprise", finite(learned.surprise)},
                {"stiffness_over_drawn", json_band<Json>(learned.stiffness)}};
    out["gauges"] = json_list<Json>(learned.gauges, [](const GaugeFound& g) {
        return Json{{"gauge", gauge_letter(g.gauge)},
                    {"readings", g.n_readings},
                    {"read_over_computed", finite(g.read_over_computed)},
                    {"error", finite(g.error)},
                    {"bend", finite(g.bend)}};
    });
    out["boards"] = json_list<Json>(story.boards, [](const BoardLearned& b) {
        return Json{{"first", b.first_board + 1},
                    {"last", b.end_board},
                    {"E_along_drawn_MPa", finite(b.before_MPa)},
                    {"E_along_MPa", json_band<Json>(b.after_MPa)}};
    });
    out["verdict"] = story.passes_now ? "passes" : "fails";
    out["checks"] = json_list<Json>(story.checks, [](const Restated& c) {
        return Json{{"check", c.check},
                    {"unit", c.unit},
                    {"limit", finite(c.limit)},
                    {"drawn", finite(c.before)},
                    {"now", finite(c.now)},
                    {"at_soft_end", finite(c.soft)},
                    {"utilisation_now", finite(c.utilisation_now)},
                    {"utilisation_at_soft_end", finite(c.utilisation_soft)}};
    });
    return out;
}

} // namespace

std::string gauge_letter(std::size_t gauge) { return std::string(1, static_cast<char>('A' + gauge)); }

double stop_reading(const ProofPrediction& prediction, std::size_t step, std::size_t gauge) {
    constexpr double half_as_much_again = 1.5;
    constexpr double beyond_noise_mm = 2 * gauge_error_mm; // a small reading must not stop the test by chance
    return std::max(half_as_much_again * prediction.test.steps[step].readings_mm[gauge],
                    prediction.bands[step][gauge].high + beyond_noise_mm);
}

std::string prooftest_json(const ProofStory& story) {
    const ProofPrediction& p = story.prediction;
    Json out = {{"hollowtop", 1},
                {"title", story.title},
                {"verdict", story.passes ? "passes" : "fails"},
                {"load", p.test.load_name},
                {"force_N", finite(p.test.force_N)},
                {"after_hour", finite(p.after_hour)},
                {"after_day", finite(p.after_day)}};
    out["gauges"] = json_list<Json>(p.test.gauges, [](const ProofGauge& g) {
        return Json{{"where", g.where},
                    {"at_mm", json_point<Json>(g.at)},
                    {"slope_mm_per_100_N", finite(g.slope_mm_per_100_N)}};
    });
    Json steps = Json::array();
    for (std::size_t s = 0; s < p.test.steps.size(); ++s) {
        const ProofStep& step = p.test.steps[s];
        Json readings = Json::array();
        for (std::size_t g = 0; g < step.readings_mm.size(); ++g)
            readings.push_back({{"computed_mm", finite(step.readings_mm[g])},
                                {"band_mm", json_band<Json>(p.bands[s][g])},
                                {"stop_mm", finite(stop_reading(p, s, g))}});
        steps.push_back({{"share", finite(step.share)},
                         {"force_N", finite(step.force_N)},
                         {"readings", std::move(readings)}});
    }
    out["steps"] = std::move(steps);
    out["learned"] = story.learned ? learned_json(story, *story.learned) : Json(nullptr);
    out["notes"] = story.notes;
    constexpr int indent = 2;
    return out.dump(indent, ' ', false, Json::error_handler_t::replace) + '\n';
}

} // namespace hollowtop::cli
