/// Rows of evidence; what a row works out is left to the tests of the book, for it may be a long ride.

#include "evidence/row.hpp"
#include "fuzz/fuzz.hpp"

void fuzz::begin() {}

bool fuzz::take(std::string_view bytes) {
  return accepts(
      [](const std::string& path) {
        for (const leewheel::evidence::Row& row : leewheel::evidence::read_group(path).rows)
          if (row.name.empty() || (row.published.empty() && row.says.empty() && row.not_modelled.empty()))
            wrong("a row has a name and says something");
      },
      put("rows.yaml", bytes));
}
