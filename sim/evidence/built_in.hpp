#pragma once
/// The rows of tests/evidence, put into the program when it is built.

#include <span>
#include <string_view>

namespace leewheel::evidence {

struct BuiltInFile {
  std::string_view name;  ///< as in the checkout: tests/evidence/drafting.yaml
  std::string_view text;
};
std::span<const BuiltInFile> built_in_files();

}  // namespace leewheel::evidence
