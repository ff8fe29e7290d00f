#pragma once
/// Numbers, lists and tables as plain text, the same everywhere: clocks, "a, b and c", columns of a page.

#include <span>
#include <string>
#include <string_view>

namespace leewheel {

/// "4:05", from an hour on "1:02:03"; a dash when there is no time (NaN or infinite). Rounded to the second.
std::string clock_text(double time_s);
/// "0:04:05": a clock that runs, so its form never changes and a second is shown once it is over. May be below 0.
std::string running_clock_text(double time_s);
/// "1:02": hours and minutes, rounded to the minute.
std::string hours_minutes_text(double time_s);
/// "62:05": minutes and seconds however long it takes. Rounded to the second.
std::string minutes_seconds_text(double time_s);

/// "20 min" for whole minutes, else "4:05".
std::string minutes_text(double time_s);

/// With so many decimals, rounded half away from zero; a dash for what is no number.
std::string number_text(double value, int decimals);

/// "1 rider", "3 riders".
std::string counted(std::size_t count, std::string_view noun);

/// "a, b and c".
std::string enumerated(std::span<const std::string> words);
/// The same, but of more than five only the first three are told: "a, b, c and 4 more".
std::string enumerated_briefly(std::span<const std::string> words);

/// Columns that UTF-8 text takes on a terminal: marks that combine take none, wide letters two (UAX 11).
std::size_t columns_of(std::string_view text);
/// Cut to `columns` with an ellipsis; control characters, which could play tricks on a terminal, become '?'.
std::string shortened(std::string_view text, std::size_t columns);
/// Exactly `columns` wide: cut or filled up with blanks.
std::string left_aligned(std::string_view text, std::size_t columns);
std::string right_aligned(std::string_view text, std::size_t columns);
/// `lead`, then the words of `text` broken into lines of at most `page_columns` that hang below the first word.
std::string wrapped(const std::string& lead, const std::string& text, std::size_t page_columns);

}  // namespace leewheel
