#pragma once
/// Columns of riders, declared once: a list names each column with the value it starts with and what it holds, and from the
/// list come the members and `resize`.

#include <cstddef>
#include <vector>

#include "model/simd.hpp"

/// A list is a macro that takes `column(name, fill, "meaning")` for each of its columns.
#define LEEWHEEL_MEMBER(name, fill, meaning) std::vector<double> name;
#define LEEWHEEL_RESIZE(name, fill, meaning) name.assign(padded_count(count), fill);

/// The members of a struct of columns: one entry a rider, and stand-ins up to a whole number of vector registers.
#define LEEWHEEL_COLUMNS(list) \
  list(LEEWHEEL_MEMBER) void resize_columns(std::size_t count) { list(LEEWHEEL_RESIZE) }
