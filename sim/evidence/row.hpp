#pragma once
/// The book of evidence as values: what was measured, under which conditions, by whom, and what the model says.

#include <array>
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "io/fault.hpp"
#include "leewheel/wake.hpp"

namespace leewheel::evidence {

/// How far a published value is trusted.
enum class Trust : std::uint8_t { read, second_hand, memory, computed, practice };
inline constexpr std::array<std::string_view, 5> trust_names{"read", "second_hand", "memory", "computed", "practice"};
inline constexpr std::array<std::string_view, 5> trust_words{"read in the source", "from a second-hand copy", "from memory",
                                                             "computed apart from the stated formula",
                                                             "common practice, no source"};

/// Whether the model has seen a row. Rows of closed forms have no such role: nothing was fitted to them.
enum class Role : std::uint8_t { checked, fitted, chosen };
inline constexpr std::array<std::string_view, 3> role_names{"checked", "fitted", "chosen"};

struct Source {
  std::string authors, journal, where;  ///< `where`: table, equation, page
  int year = 0;
  Trust trust = Trust::computed;
  std::string note;  ///< what else a reader of this source should know
};

/// Values that a row's kind works out: one number, or one a rider (place, power, ...) in order.
struct Quantity {
  std::string name;
  std::vector<double> values;
};
using Quantities = std::vector<Quantity>;
/// Works a row out by the model; the wake law is handed in so that a fit may vary its coefficients and laws may be compared.
using Work = std::function<Quantities(const WakeLaw&)>;

/// One published number.
struct Published {
  std::string quantity;
  std::size_t place = 1;                  ///< which of the quantity's values, from 1; 0: a bound on every one
  double value = 0.0;                     ///< if it is a point
  std::optional<double> lowest, highest;  ///< if it is a bound: what the model must stay within
  double band = 0.0;                      ///< most a result may miss a point by, same unit; also widens a bound
  double uncertainty = 0.0;               ///< as published (one standard deviation or the stated spread), 0 = not given
  bool is_bound() const { return lowest || highest; }
  int line = 0, column = 0;  ///< where it stands, for messages
  std::string field;
};

struct Row {
  std::string name, kind, series;
  Source source;
  Role role = Role::checked;
  double weight = 1.0;     ///< in the fit
  std::string conditions;  ///< words beside the given numbers
  std::string note;
  std::string set_aside;       ///< why the row counts for nothing; empty: it counts
  std::string not_modelled;    ///< why the model has no answer; empty: it has
  std::string says;            ///< what a row without numbers says
  std::string reason;          ///< why the row may lie outside its band ...
  double reason_covers = 0.0;  ///< ... and how far
  std::string given_text;      ///< the given values, one line
  std::vector<Published> published;
  Work work;
  std::string file;
  int line = 0;
};

struct Series {
  std::string key, title, about, fitted_because, chosen_because, checked_because;
};

struct Group {
  std::string name, title, about;
  std::string disagreement;  ///< where its sources disagree, the stated middle, the spread
  std::vector<Series> series;
  std::vector<Row> rows;
};

/// Reads one file of rows. Throws InputFault.
/// @param remarks  not null: receives what is accepted for now but should be changed, as kinds with an old name
Group read_group(const std::string& path, std::vector<Fault>* remarks = nullptr);
/// The rows that are built into the program, in the order of the book.
std::vector<Group> built_in_groups();

enum class Verdict : std::uint8_t { in_band, out_of_band, out_with_reason, set_aside, not_modelled };
inline constexpr std::array<std::string_view, 5> verdict_names{"in_band", "out_of_band", "out_with_reason", "set_aside",
                                                               "not_modelled"};
inline constexpr std::array<std::string_view, 5> verdict_words{"in band", "OUT OF BAND", "out, with reason", "set aside",
                                                               "not modelled"};

/// One published number beside ours.
struct Line {
  const Row* row = nullptr;
  const Published* published = nullptr;  ///< null: the row has no number
  double ours = 0.0;
  double residual = 0.0;  ///< ours - published; for a bound the distance outside, 0 inside
  Verdict verdict = Verdict::not_modelled;
};

struct JudgedGroup {
  const Group* group = nullptr;
  std::vector<Line> lines;
};

/// Works out every row. Throws InputFault when a row asks for a value that its kind does not have.
std::vector<JudgedGroup> judge(const std::vector<Group>& groups, const WakeLaw& law = {});

/// Residuals of one series in one unit.
struct Spread {
  std::string series, title, unit;
  std::size_t points = 0, fitted = 0, chosen = 0, checked = 0;
  double rms = 0.0, rms_fitted = 0.0, rms_chosen = 0.0, rms_checked = 0.0, greatest = 0.0;
};
/// By series, points only (no bounds, nothing set aside). `all`: of all lines with that unit, first in the list.
std::vector<Spread> spreads(const JudgedGroup& group);
Spread spread_of(const std::vector<const Line*>& lines, std::string title, std::string unit);

}  // namespace leewheel::evidence
