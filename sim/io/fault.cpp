#include "io/fault.hpp"

#include <algorithm>
#include <tuple>

namespace leewheel {

std::string Fault::text() const {
  std::string text = file == "-" ? "standard input" : file;
  if (line > 0) text += ":" + std::to_string(line);
  if (line > 0 && column > 0) text += ":" + std::to_string(column);
  if (!text.empty()) text += ": ";
  if (!field.empty()) text += field + ": ";
  return text + what;
}

namespace {
std::string all_texts(const std::vector<Fault>& faults) {
  std::string text;
  for (const Fault& fault : faults) text += (text.empty() ? "" : "\n") + fault.text();
  return text;
}
}  // namespace

InputFault::InputFault(std::vector<Fault> faults) : std::runtime_error(all_texts(faults)), faults_(std::move(faults)) {}

void Faults::add(Fault fault) {
  if (faults_.size() == most_listed) fault = {fault.file, 0, 0, "", "more faults are not listed"};
  if (!full()) faults_.push_back(std::move(fault));
}

void Faults::throw_if_any() const {
  if (faults_.empty()) return;
  std::vector<std::string> files;
  for (const Fault& fault : faults_)
    if (std::find(files.begin(), files.end(), fault.file) == files.end()) files.push_back(fault.file);
  const auto place = [&](const Fault& fault) {
    return std::tuple(std::find(files.begin(), files.end(), fault.file) - files.begin(), fault.line, fault.column);
  };
  std::vector<Fault> sorted = faults_;
  std::stable_sort(sorted.begin(), sorted.end(), [&](const Fault& a, const Fault& b) { return place(a) < place(b); });
  throw InputFault(std::move(sorted));
}

}  // namespace leewheel
