#pragma once
/// The runs of `leewheel spread` in a file of lines, each of them JSON: a head, then a line for each run as it comes, so that a kill
/// loses nothing. Who goes on adds another head. A last line without its end was torn by a kill and counts as not there.

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "leewheel/ensemble.hpp"

namespace leewheel {

inline constexpr std::size_t most_runs = 1'000'000;

/// Which share of the runs: those whose number leaves `number` - 1 when divided by `of`.
struct RunsPart {
  std::size_t number = 1, of = 1;
  bool has(std::size_t run) const { return run % of == number - 1; }
  std::string text() const;                  ///< "3/8"
  static RunsPart from(const std::string&);  ///< of such a text, `of` 0 when it is none
};

struct KeptRuns {
  std::string program;  ///< version and commit
  std::uint64_t digest = 0, seed = 0;
  RunsPart part;
  std::size_t asked = 0;         ///< how many runs, of all parts
  std::vector<RunOutcome> runs;  ///< by number
};

/// The head and every run that was ridden or failed, in order.
std::string text_of(const KeptRuns& kept);

/// What a file of runs says of itself.
struct RunsHead {
  RunsPart part;
  std::size_t asked = 0;
};

/// Puts the runs of a file where they belong; a run that was ridden is better than one that failed. Throws InputFault when they
/// are not those of the same program, scenario, seed, riders and stretches, or when a run has other numbers than the one kept.
RunsHead take_up(const std::string& path, KeptRuns& kept, std::size_t riders, std::size_t stretches);

/// A file to which runs are added. While it lives no other process adds to it. Throws InputFault when it cannot be opened or
/// another process has it.
class RunsFile {
 public:
  enum class Opened { anew, to_go_on };
  RunsFile(std::string path, Opened how);
  ~RunsFile();
  RunsFile(const RunsFile&) = delete;
  const std::string& path() const { return path_; }
  void begin(const KeptRuns& kept);                     ///< a head; cuts off a torn last line
  void add(std::size_t number, const RunOutcome& run);  ///< throws WriteFault when there is no room
  void end(const KeptRuns& kept);                       ///< written anew, in order

 private:
  void append(const std::string& line);
  std::string path_;
  int file_;
};

}  // namespace leewheel
