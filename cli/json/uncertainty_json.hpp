// SPDX-License-Identifier: MIT
#pragma once
/// \file  How sure the numbers are, as JSON: the key `uncertainty` of a result.

#include "cli/json/json_values.hpp"
#include "cli/json/message_json.hpp"
#include "solver/uncertainty/uncertainty.hpp"

namespace hollowtop::cli {

template <class Json> Json json_band(const Band& band) {
    return {{"p5", finite(band.low)}, {"p50", finite(band.middle)}, {"p95", finite(band.high)}};
}

/// The share is null where it is under one in a thousand.
template <class Json> Json json_chance(const Chance& chance) {
    return {{"share", chance.share ? Json(finite(*chance.share)) : Json(nullptr)},
            {"error", chance.share ? Json(finite(chance.error)) : Json(nullptr)},
            {"under", chance.share ? Json(nullptr) : Json(least_chance)}};
}

template <class Json> Json json_uncertainty(const Uncertainty& told) {
    Json out = {{"samples", told.samples},
                {"solves", told.n_solves},
                {"governing", told.governing},
                {"error_percent", told.error_percent ? Json(finite(*told.error_percent)) : Json(nullptr)}};
    out["any_limit_exceeded"] = json_chance<Json>(told.any_exceeds);
    out["checks"] = json_list<Json>(told.rows, [](const UncertainRow& row) {
        return Json{{"check", row.check},
                    {"situation", row.situation},
                    {"unit", row.unit},
                    {"limit", finite(row.limit)},
                    {"drawn", finite(row.drawn)},
                    {"mean", finite(row.mean)},
                    {"demand", json_band<Json>(row.demand)},
                    {"utilisation", json_band<Json>(row.utilisation)},
                    {"exceeds", json_chance<Json>(row.exceeds)},
                    {"breaks", row.strength ? json_chance<Json>(row.strength->breaks) : Json(nullptr)},
                    {"strength", row.strength ? Json{{"coefficient_of_variation",
                                                      finite(row.strength->coefficient_of_variation)},
                                                     {"source", row.strength->source},
                                                     {"used", json_band<Json>(row.strength->used)}}
                                              : Json(nullptr)},
                    {"error_percent", row.error_percent ? Json(finite(*row.error_percent)) : Json(nullptr)}};
    });
    out["causes"] = json_list<Json>(told.shares, [&](const CauseShare& share) {
        const Cause& cause = told.causes[share.cause];
        return Json{{"key", cause.key},
                    {"what", cause.name},
                    {"deviation", finite(cause.deviation)},
                    {"unit", cause.in_mm ? "mm" : "1"},
                    {"basis", cause.basis},
                    {"share_of_governing", finite(share.of_governing)},
                    {"share_of_sag", finite(share.of_sag)}};
    });
    out["boards"] = nullptr;
    if (told.boards) {
        const BoardOrder& boards = *told.boards;
        Json order = Json::array();
        for (const std::size_t board : boards.order) order.push_back(board + 1);
        out["boards"] = {
            {"check", boards.check},
            {"weights", json_list<Json>(boards.places, [](const BoardPlace& p) { return finite(p.weight); })},
            {"best_order", std::move(order)},
            {"demand_as_drawn", finite(boards.demand_before)},
            {"demand_in_best_order", finite(boards.demand_after)}};
    }
    out["notes"] = told.notes;
    return out;
}

} // namespace hollowtop::cli
