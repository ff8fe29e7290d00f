#include "io/fault.hpp"

namespace leewheel {

std::string Fault::text() const {
  std::string text = file;
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

}  // namespace leewheel
