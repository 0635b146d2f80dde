// SPDX-License-Identifier: MIT
#pragma once
/// \file  Fields of a check as a file in VTK's open XML format (an unstructured grid of four-cornered cells,
/// plain text), that free viewers read. Format: Kitware, VTK File Formats, "XML File Formats:
/// UnstructuredGrid". Lengths in mm.

#include "solver/result/result.hpp"

#include <string>

namespace hollowtop::cli {

/// Throws Error(not_computable) where a value is not finite.
std::string to_vtu(const Fields& fields);

} // namespace hollowtop::cli
