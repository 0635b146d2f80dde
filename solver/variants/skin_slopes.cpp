// SPDX-License-Identifier: MIT
#include "solver/variants/skin_slopes.hpp"

#include "materials/error.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/numeric/threads.hpp"
#include "solver/piece/skin.hpp"
#include "solver/uncertainty/uncertainty.hpp"
#include "solver/variants/row.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace hollowtop {
namespace {

constexpr double step_share = 0.02; ///< of the skin: thinner, rounding shows; thicker, the line bends

/// Hats over the box of a recess, columns x rows of them, their feet along its edges too; of the board where recess
/// is -1.
struct Hats {
    int recess = -1;
    Rectangle box;
    int nx = 2, ny = 2;

    double at(int hat, Point p) const {
        const auto leg = [](double x, double from, double to, int n, int k) {
            return std::max(0.0, 1 - std::abs(std::clamp((x - from) / (to - from), 0.0, 1.0) * (n - 1) - k));
        };
        return leg(p.x, box.x0, box.x1, nx, hat % nx) * leg(p.y, box.y0, box.y1, ny, hat / nx);
    }
};

std::vector<Hats> hats_of(const Survey& survey) {
    constexpr double wanted = 24; // of the whole top
    std::vector<Hats> all;
    for (std::size_t r = 0; r < survey.recesses.size(); ++r)
        if (survey.recesses[r].field)
            all.push_back({.recess = static_cast<int>(r), .box = survey.recesses[r].mean.box});
    for (Hats& hats : all) {
        const double each = std::max(4.0, wanted / static_cast<double>(all.size())),
                     wide = hats.box.x1 - hats.box.x0, high = hats.box.y1 - hats.box.y0;
        hats.nx = std::clamp(static_cast<int>(std::lround(std::sqrt(each * wide / high))), 2, 8);
        hats.ny = std::clamp(static_cast<int>(std::lround(each / hats.nx)), 2, 8);
    }
    if (survey.rim) {
        const Rectangle& box = survey.rim->found.box;
        const bool is_wide = box.x1 - box.x0 > box.y1 - box.y0;
        all.push_back({.recess = -1, .box = box, .nx = is_wide ? 6 : 2, .ny = is_wide ? 2 : 6});
    }
    return all;
}

Piece raised(Piece piece, const SkinGrid& found, const Hats& hats, int hat, double by) {
    const bool is_board = hats.recess < 0;
    const std::optional<SkinGrid>& own =
        is_board ? piece.top.surveyed : piece.recesses[static_cast<std::size_t>(hats.recess)].surveyed;
    SkinGrid grid = own.value_or(found);
    const bool is_even = !own;
    const double skin = is_board ? piece.top.thickness
                                 : skin_of(piece.recesses[static_cast<std::size_t>(hats.recess)], piece.top);
    double added = 0;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const Point p{grid.box.x0 + (grid.box.x1 - grid.box.x0) * i / (grid.nx - 1),
                          grid.box.y0 + (grid.box.y1 - grid.box.y0) * j / (grid.ny - 1)};
            double& t = grid.thickness[static_cast<std::size_t>(j * grid.nx + i)];
            if (is_even) t = skin;
            const double more = by * hats.at(hat, p);
            t += more;
            added += more;
        }
    const double mean = skin + added / (grid.nx * grid.ny);
    if (is_board)
        give_thickness(piece, std::move(grid), mean);
    else
        give_skin(piece.recesses[static_cast<std::size_t>(hats.recess)], piece.top, std::move(grid), mean);
    return piece;
}

/// Spreads what each hat does over places in the recess, so that all together keep their sum.
std::vector<Weighed> spread(const Hats& hats, const ThicknessField& field,
                            const std::vector<double>& of_hat) {
    constexpr int nx = 18, ny = 10;
    const auto n = of_hat.size();
    std::vector<Point> places;
    std::vector<double> under(n, 0);
    for (int j = 0; j < ny; ++j)
        for (int i = 0; i < nx; ++i) {
            const Point p{hats.box.x0 + (hats.box.x1 - hats.box.x0) * (i + 0.5) / nx,
                          hats.box.y0 + (hats.box.y1 - hats.box.y0) * (j + 0.5) / ny};
            if (region_at(field, p) != hats.recess + 1) continue;
            places.push_back(p);
            for (std::size_t k = 0; k < n; ++k) under[k] += hats.at(static_cast<int>(k), p);
        }
    std::vector<Weighed> all;
    for (const Point& p : places) {
        Weighed one{.at = p};
        for (std::size_t k = 0; k < n; ++k)
            if (under[k] > 0) one.weight += of_hat[k] / under[k] * hats.at(static_cast<int>(k), p);
        all.push_back(one);
    }
    return all;
}

} // namespace

std::optional<TopSlopes> skin_slopes(const CheckOutcome& routed, const Survey& survey,
                                     const std::string& check, int threads) {
    const std::vector<Hats> all_hats = hats_of(survey);
    struct Asked {
        const Hats* hats;
        int hat;
        double by;
    };
    std::vector<Asked> asked{{nullptr, 0, 0}};
    for (const Hats& hats : all_hats)
        for (int k = 0; k < hats.nx * hats.ny; ++k)
            asked.push_back(
                {&hats, k,
                 step_share * (hats.recess < 0
                                   ? routed.placed.top.thickness
                                   : survey.recesses[static_cast<std::size_t>(hats.recess)].mean_skin)});
    CheckOptions options = options_of(Solve::differences, routed);
    options.mesh_of_another = routed.result.mesh; // gouges are narrower than the cells of a coarser one
    std::vector<std::optional<std::array<double, 2>>> found(asked.size());
    share_out(static_cast<int>(asked.size()), threads, [&](int task, int) {
        const auto k = static_cast<std::size_t>(task);
        const auto& [hats, hat, by] = asked[k];
        Piece piece = piece_for(Solve::differences, routed.placed);
        piece.use.clear(); // its loads and limits are there already
        if (hats)
            piece = raised(std::move(piece),
                           hats->recess < 0 ? survey.rim->found
                                            : survey.recesses[static_cast<std::size_t>(hats->recess)].mean,
                           *hats, hat, by);
        try {
            const Result result = check_piece(piece, options).result;
            double used = 0;
            for (const CheckResult& row : result.checks)
                if (row.check == check && !row.advice) used = std::max(used, row.utilisation);
            const double sag = row_of(piece, result, {}).sag_mm;
            if (sag > 0 && used > 0) found[k] = {sag, used};
        } catch (const Error& error) {
            if (error.kind() == ErrorKind::input) throw;
        }
    });
    if (std::any_of(found.begin(), found.end(), [](const auto& one) { return !one; })) return std::nullopt;
    const auto slope = [&](std::size_t k, std::size_t number) { // as a power of the skin does it
        return std::log((*found[k])[number] / (*found[0])[number]) / asked[k].by;
    };
    const ThicknessField field = thickness_field(routed.placed, {}, false);
    TopSlopes slopes{.n_solves = static_cast<int>(asked.size())};
    for (const auto& [to, number] :
         {std::pair{&slopes.sag, std::size_t{0}}, {&slopes.check, std::size_t{1}}}) {
        to->of_recess.resize(survey.recesses.size());
        std::size_t k = 1;
        for (const Hats& hats : all_hats) {
            std::vector<double> of_hat(static_cast<std::size_t>(hats.nx * hats.ny));
            for (double& one : of_hat) one = slope(k++, number);
            (hats.recess < 0 ? to->of_rim : to->of_recess[static_cast<std::size_t>(hats.recess)]) =
                spread(hats, field, of_hat);
        }
    }
    return slopes;
}

} // namespace hollowtop
