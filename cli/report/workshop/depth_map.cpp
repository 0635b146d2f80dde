// SPDX-License-Identifier: MIT
#include "cli/report/workshop/depth_map.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string_view>

namespace hollowtop::cli {
namespace {

void put_number(std::string& out, std::uint32_t value) {
    for (const unsigned shift : {24U, 16U, 8U, 0U}) out += static_cast<char>((value >> shift) & 0xFFU);
}

std::uint32_t crc_of(std::string_view bytes) {
    static const std::array<std::uint32_t, 256> table = [] {
        std::array<std::uint32_t, 256> made{};
        for (std::uint32_t n = 0; n < 256; ++n) {
            std::uint32_t c = n;
            for (int k = 0; k < 8; ++k) c = (c & 1U) != 0 ? 0xEDB88320U ^ (c >> 1U) : c >> 1U;
            made[n] = c;
        }
        return made;
    }();
    std::uint32_t crc = 0xFFFFFFFFU;
    for (const char c : bytes) crc = table[(crc ^ static_cast<unsigned char>(c)) & 0xFFU] ^ (crc >> 8U);
    return crc ^ 0xFFFFFFFFU;
}

void put_chunk(std::string& out, std::string_view type, std::string_view content) {
    put_number(out, static_cast<std::uint32_t>(content.size()));
    const std::string both = std::string(type) + std::string(content);
    out += both;
    put_number(out, crc_of(both));
}

/// Bits from the least significant on, as RFC 1951 packs them.
class Bits {
  public:
    void put(std::uint32_t value, int count) {
        held_ |= static_cast<std::uint64_t>(value) << static_cast<unsigned>(n_);
        for (n_ += count; n_ >= 8; n_ -= 8, held_ >>= 8U) bytes_ += static_cast<char>(held_ & 0xFFU);
    }
    /// A code is packed from its most significant bit on.
    void put_code(std::uint32_t code, int count) {
        std::uint32_t turned = 0;
        for (int k = 0; k < count; ++k)
            turned |= ((code >> static_cast<unsigned>(k)) & 1U) << static_cast<unsigned>(count - 1 - k);
        put(turned, count);
    }
    std::string done() {
        if (n_ > 0) bytes_ += static_cast<char>(held_ & 0xFFU);
        return std::move(bytes_);
    }

  private:
    std::string bytes_;
    std::uint64_t held_ = 0;
    int n_ = 0;
};

/// The fixed code of a literal or a length, RFC 1951 3.2.6.
void put_symbol(Bits& bits, std::uint32_t symbol) {
    if (symbol < 144)
        bits.put_code(0x30 + symbol, 8);
    else if (symbol < 256)
        bits.put_code(0x190 + symbol - 144, 9);
    else if (symbol < 280)
        bits.put_code(symbol - 256, 7);
    else
        bits.put_code(0xC0 + symbol - 280, 8);
}

/// Runs of 3 to 258 bytes: the least of each symbol from 257 on, and how many bits add to it (RFC 1951 3.2.5).
constexpr std::array<std::uint32_t, 29> least_run{3,  4,  5,  6,   7,   8,   9,   10,  11, 13,
                                                  15, 17, 19, 23,  27,  31,  35,  43,  51, 59,
                                                  67, 83, 99, 115, 131, 163, 195, 227, 258};
constexpr std::array<int, 29> added_bits{0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2,
                                         2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0};
constexpr std::uint32_t end_of_block = 256, first_run = 257;

std::string zlib_of(std::string_view bytes) {
    constexpr std::size_t longest = 258, shortest = 3;
    Bits bits;
    bits.put(1, 1); // the last block
    bits.put(1, 2); // fixed codes
    for (std::size_t i = 0; i < bytes.size();) {
        std::size_t same = 0; // of the byte before
        while (i > 0 && same < longest && i + same < bytes.size() && bytes[i + same] == bytes[i - 1]) ++same;
        if (same < shortest) {
            put_symbol(bits, static_cast<unsigned char>(bytes[i]));
            ++i;
            continue;
        }
        std::size_t k = least_run.size() - 1;
        while (least_run[k] > same) --k;
        put_symbol(bits, first_run + static_cast<std::uint32_t>(k));
        bits.put(static_cast<std::uint32_t>(same) - least_run[k], added_bits[k]);
        bits.put_code(0, 5); // one byte back
        i += same;
    }
    put_symbol(bits, end_of_block);
    std::uint32_t a = 1, b = 0; // Adler-32, RFC 1950
    constexpr std::uint32_t prime = 65521;
    for (const char c : bytes) {
        a = (a + static_cast<unsigned char>(c)) % prime;
        b = (b + a) % prime;
    }
    std::string out = "\x78\x01" + bits.done();
    put_number(out, (b << 16U) | a);
    return out;
}

} // namespace

std::string grey_png(const std::vector<std::vector<std::uint16_t>>& rows, std::uint32_t pixels_per_metre,
                     const std::string& comment) {
    const std::size_t width = rows.empty() ? 0 : rows.front().size();
    std::string raw, above(2 * width, '\0');
    for (const auto& row : rows) {
        constexpr char up = 2; // the filter: differences from the row above
        raw += up;
        std::string line;
        line.reserve(2 * width);
        for (const std::uint16_t value : row) {
            line += static_cast<char>(value >> 8U);
            line += static_cast<char>(value & 0xFFU);
        }
        for (std::size_t k = 0; k < line.size(); ++k)
            raw +=
                static_cast<char>(static_cast<unsigned char>(line[k]) - static_cast<unsigned char>(above[k]));
        above = std::move(line);
    }
    std::string header;
    put_number(header, static_cast<std::uint32_t>(width));
    put_number(header, static_cast<std::uint32_t>(rows.size()));
    header += std::string("\x10\x00\x00\x00\x00", 5); // 16 bits, grey, no interlacing
    std::string scale;
    put_number(scale, pixels_per_metre);
    put_number(scale, pixels_per_metre);
    scale += '\x01';
    std::string out = "\x89PNG\r\n\x1a\n";
    put_chunk(out, "IHDR", header);
    put_chunk(out, "pHYs", scale);
    put_chunk(out, "tEXt", std::string("Comment") + '\0' + comment);
    put_chunk(out, "IDAT", zlib_of(raw));
    put_chunk(out, "IEND", "");
    return out;
}

namespace {

/// What a floor that meets its wall in a quarter circle keeps of its depth, so far from the wall.
double kept_at_wall(double radius, double distance) {
    const double in = radius - distance;
    return in <= 0 ? 0 : radius - std::sqrt(radius * radius - std::min(in, radius) * std::min(in, radius));
}

/// Rounds the floor along the walls of a recess and of its lands.
void round_floor(std::vector<std::vector<std::uint16_t>>& rows, const Hollow& hollow, Point corner,
                 int levels) {
    constexpr std::uint16_t underside = std::numeric_limits<std::uint16_t>::max();
    const double radius = std::min(hollow.root_radius, hollow.depth);
    if (!(radius > 0) || rows.empty()) return;
    const LoopRows inside = rows_of(hollow.loop);
    const auto along = [&](const Loop& wall) {
        for (const EdgePiece& piece : wall) {
            const Rectangle box = bounds_of(piece);
            const auto first = [](double from) {
                return static_cast<std::size_t>(std::max(0.0, std::floor(from * pixels_per_mm)));
            };
            const auto end = [](double to, std::size_t most) {
                return std::min(most, static_cast<std::size_t>(std::max(0.0, std::ceil(to * pixels_per_mm))));
            };
            for (std::size_t row = first(box.y0 - radius - corner.y);
                 row < end(box.y1 + radius - corner.y, rows.size()); ++row)
                for (std::size_t k = first(box.x0 - radius - corner.x);
                     k < end(box.x1 + radius - corner.x, rows[row].size()); ++k) {
                    std::uint16_t& grey = rows[row][k];
                    const Point at{corner.x + (static_cast<double>(k) + 0.5) / pixels_per_mm,
                                   corner.y + (static_cast<double>(row) + 0.5) / pixels_per_mm};
                    if (grey == underside) continue;
                    const double kept = kept_at_wall(radius, nearest_on(piece, at).distance);
                    if (!(kept > 0) || !is_inside(hollow.loop, inside, at)) continue;
                    grey = std::max(grey, static_cast<std::uint16_t>(
                                              underside - std::lround(levels * (hollow.depth - kept))));
                }
        }
    };
    along(hollow.loop);
    for (const Loop& land : hollow.lands) along(land);
}

} // namespace

int levels_per_mm(const Plan& plan) {
    double deepest = 0;
    for (const Hollow& hollow : plan.hollows) deepest = std::max(deepest, hollow.depth);
    int levels = 1000;
    while (levels * deepest > std::numeric_limits<std::uint16_t>::max()) levels /= 2;
    return levels;
}

std::string depth_map_png(const Plan& plan) {
    constexpr std::uint16_t underside = std::numeric_limits<std::uint16_t>::max();
    const Rectangle bounds = bounds_of_plan(plan);
    const auto cells = [](double length) {
        return static_cast<std::size_t>(std::ceil(length * pixels_per_mm - 1e-9));
    };
    const std::size_t width = cells(bounds.x1 - bounds.x0), height = cells(bounds.y1 - bounds.y0);
    const int levels = levels_per_mm(plan);
    std::vector<std::vector<std::uint16_t>> rows;
    rows.reserve(height);
    for (std::size_t row = 0; row < height; ++row) { // the middle of each pixel counts
        const double y = bounds.y0 + (static_cast<double>(row) + 0.5) / pixels_per_mm;
        std::vector<std::uint16_t> line(width, underside);
        for (const Stretch& stretch : section_along(plan, true, y)) {
            if (!(stretch.thickness < plan.thickness)) continue;
            const auto grey = static_cast<std::uint16_t>(
                underside - std::lround(levels * (plan.thickness - stretch.thickness)));
            const double from = (stretch.from - bounds.x0) * pixels_per_mm - 0.5,
                         to = (stretch.to - bounds.x0) * pixels_per_mm - 0.5;
            for (auto k = static_cast<std::size_t>(std::max(0.0, std::ceil(from)));
                 k < width && static_cast<double>(k) < to; ++k)
                line[k] = grey;
        }
        rows.push_back(std::move(line));
    }
    for (const Hollow& hollow : plan.hollows) round_floor(rows, hollow, {bounds.x0, bounds.y0}, levels);
    return grey_png(rows, 1000U * static_cast<std::uint32_t>(pixels_per_mm),
                    std::to_string(levels) + " levels a mm below 65535, the underside; " +
                        std::to_string(pixels_per_mm) +
                        " pixels a mm; seen from below, front edge at the top");
}

} // namespace hollowtop::cli
