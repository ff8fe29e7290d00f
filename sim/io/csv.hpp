#pragma once
/// Tables as comma-separated values (RFC 4180): the one place that quotes and rounds.

#include <string>
#include <string_view>
#include <vector>

namespace leewheel {

/// Rounded to so many decimals; empty for what has no value (NaN or infinite).
std::string csv_cell(double value, int decimals);
/// Quoted when it must be, quotes doubled. Text that a spreadsheet would take for a formula (=, +, -, @ first) gets an
/// apostrophe before it. Numbers go through the other one, so that -3 stays a number.
std::string csv_cell(std::string_view text);
/// The cells, which are as `csv_cell` makes them, as one line.
std::string csv_row(const std::vector<std::string>& cells);

}  // namespace leewheel
