// Rows of a batch: a line each, so that many can be written, read and continued one by one.
#pragma once

#include "solver/questions/batch_row.hpp"
#include "solver/report/report.hpp"

#include <string>

namespace headroom::solver {

/// What stands above the rows: CSV's heads, or a text table's; nothing in JSON lines.
std::string batch_head(Format format, std::size_t file_width);

/// One row, on one line. `file_width` is the width of the file column in text.
std::string batch_line(const BatchRow &row, Format format, std::size_t file_width);

} // namespace headroom::solver
