#include "viz/app/remembered.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <filesystem>
#include <fstream>

using namespace leewheel;

namespace {

/// A state folder of the test's own.
struct StateHome {
  std::filesystem::path folder = std::filesystem::temp_directory_path() / "leewheel_state_test";
  StateHome() { std::filesystem::remove_all(folder), setenv("XDG_STATE_HOME", folder.c_str(), 1); }
  ~StateHome() { std::filesystem::remove_all(folder), unsetenv("XDG_STATE_HOME"); }
};

}  // namespace

TEST_CASE("what is remembered is recalled, in XDG_STATE_HOME", "[state]") {
  const StateHome home;
  remember({1600, 900, true, view::Units::imperial, {0.3f, 0.2f, 0.5f}});
  CHECK(std::filesystem::exists(home.folder / "leewheel" / "view"));
  const Remembered r = recall();
  CHECK(r.width_px == 1600);
  CHECK(r.height_px == 900);
  CHECK(r.light);
  CHECK(r.units == view::Units::imperial);
  CHECK(r.splits.middle == Approx(0.5f));
}

TEST_CASE("a missing, broken or absurd memory never keeps the window from opening", "[state]") {
  const StateHome home;
  CHECK(recall().width_px == 1280);
  std::filesystem::create_directories(home.folder / "leewheel");
  std::ofstream(home.folder / "leewheel" / "view") << "not numbers";
  CHECK(recall().width_px == 1280);
  std::ofstream(home.folder / "leewheel" / "view") << "1 999999 0 0 5 5 5";
  const Remembered r = recall();
  CHECK(r.width_px == 640);
  CHECK(r.height_px == 4320);
  CHECK(r.splits.road + r.splits.lower < 1.0f);
}
