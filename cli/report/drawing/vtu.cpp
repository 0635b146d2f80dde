// SPDX-License-Identifier: MIT
#include "cli/report/drawing/vtu.hpp"

#include "cli/report/drawing/svg.hpp"
#include "cli/words/said.hpp"
#include "materials/error.hpp"

#include <array>
#include <charconv>
#include <cmath>

namespace hollowtop::cli {
namespace {

void append(std::string& out, double value) {
    if (!std::isfinite(value))
        throw Error(ErrorKind::not_computable,
                    Fault{.place = "",
                          .what = "a number of the fields is not finite",
                          .remedy = "this is a fault of the program: please report it with the piece file"});
    std::array<char, 40> buffer{};
    const auto result = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value + 0.0);
    out.append(buffer.data(), result.ptr);
}

std::string count(std::size_t number) { return std::to_string(number); }

} // namespace

std::string to_vtu(const Fields& fields) {
    constexpr int vtk_quad = 9; // cell type of a four-cornered cell
    std::string out = "<?xml version=\"1.0\"?>\n"
                      "<VTKFile type=\"UnstructuredGrid\" version=\"0.1\" byte_order=\"LittleEndian\">\n"
                      "<UnstructuredGrid>\n<Piece NumberOfPoints=\"" +
                      count(fields.points.size()) + "\" NumberOfCells=\"" + count(fields.cells.size()) +
                      "\">\n";
    out += "<Points>\n<DataArray type=\"Float64\" NumberOfComponents=\"3\" format=\"ascii\">\n";
    for (const Point& point : fields.points) {
        append(out, point.x);
        out += ' ';
        append(out, point.y);
        out += " 0\n";
    }
    out += "</DataArray>\n</Points>\n<Cells>\n<DataArray type=\"Int32\" Name=\"connectivity\" "
           "format=\"ascii\">\n";
    for (const auto& cell : fields.cells) {
        for (const int corner : cell) out += std::to_string(corner) + ' ';
        out.back() = '\n';
    }
    out += "</DataArray>\n<DataArray type=\"Int32\" Name=\"offsets\" format=\"ascii\">\n";
    for (std::size_t i = 1; i <= fields.cells.size(); ++i) out += count(4 * i) + '\n';
    out += "</DataArray>\n<DataArray type=\"UInt8\" Name=\"types\" format=\"ascii\">\n";
    for (std::size_t i = 0; i < fields.cells.size(); ++i) out += std::to_string(vtk_quad) + '\n';
    out += "</DataArray>\n</Cells>\n<PointData>\n";
    for (const Fields::Named& named : fields.point_values) {
        out +=
            "<DataArray type=\"Float64\" Name=\"" + escaped(as_drawn(named.name)) + "\" format=\"ascii\">\n";
        for (const double value : named.values) {
            append(out, value);
            out += '\n';
        }
        out += "</DataArray>\n";
    }
    out += "</PointData>\n</Piece>\n</UnstructuredGrid>\n</VTKFile>\n";
    return out;
}

} // namespace hollowtop::cli
