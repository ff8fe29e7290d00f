#pragma once
/// What is wrong with a user's file or argument: file, line, field, what was found, what was expected.

#include <stdexcept>
#include <string>
#include <vector>

namespace leewheel {

struct Fault {
  std::string file;
  int line = 0;       ///< 1-based; 0 when a line makes no sense
  int column = 0;     ///< 1-based; 0 when unknown
  std::string field;  ///< path to the value, as in riders[2].body_mass_kg; may be empty
  std::string what;   ///< "found -7, expected a number in (0, 250] kg"

  std::string text() const;  ///< file:line:column: field: what
};

/// Thrown by every reader; carries all faults of the input at once. The program prints them and exits with 2.
class InputFault : public std::runtime_error {
 public:
  explicit InputFault(std::vector<Fault> faults);
  explicit InputFault(Fault fault) : InputFault(std::vector{std::move(fault)}) {}
  const std::vector<Fault>& faults() const { return faults_; }

 private:
  std::vector<Fault> faults_;
};

/// A failure of the machine while something is written: no room, the folder gone. The program prints it and exits with 3.
class WriteFault : public InputFault {
 public:
  using InputFault::InputFault;
};

/// The faults of one input, which may be several files.
class Faults {
 public:
  void add(Fault fault);
  std::size_t count() const { return faults_.size(); }
  bool full() const { return faults_.size() > most_listed; }  ///< further ones are not kept
  void throw_if_any() const;  ///< InputFault with all of them, by file in order of appearance, then by line

 private:
  static constexpr std::size_t most_listed = 100;  // a wrong kind of file would fill the screen
  std::vector<Fault> faults_;
};

}  // namespace leewheel
