/// Pictures, through the same code as the window. Needs a display: run by xvfb-run (CTest does).
/// picture_test compare GOLDEN_DIR | write GOLDEN_DIR

#include <fmt/format.h>

#include <cmath>
#include <filesystem>
#include <set>

#include "synthetic_ride.hpp"
#include "viz/app/display.hpp"
#include "viz/app/player.hpp"

namespace {

using namespace leewheel;

struct Picture {
  std::string name;
  synthetic::RideShape shape;
  double time_s;
  sf::Vector2u size;
  bool light;
  view::Units units;
  bool show = false;
  view::Pointer pointer = {};
  std::optional<synthetic::RideShape> beside = {};  ///< a second ride
};

const std::vector<Picture> pictures{
    {"six_dark_720", {6, 1800, 12000, 2}, 600, {1280, 720}, false, view::Units::metric},
    {"six_light_1080", {6, 1800, 12000, 2}, 460, {1920, 1080}, true, view::Units::imperial},
    {"one_start_720", {1, 1200, 6000, 1}, 0, {1280, 720}, true, view::Units::metric},
    {"end_720", {6, 1800, 12000, 2}, 1800, {1280, 720}, false, view::Units::metric},
    {"six_small_480", {6, 1800, 12000, 2}, 400, {640, 480}, false, view::Units::metric},
    {"hover_720", {6, 1800, 12000, 2}, 600, {1280, 720}, false, view::Units::metric, false, {700, 90, true}},
    {"show_1080", {6, 1800, 12000, 2}, 460, {1920, 1080}, false, view::Units::metric, true},
    {"show_upright", {6, 1800, 12000, 2}, 600, {1080, 1920}, true, view::Units::metric, true},
    {"compare_720", {6, 1500, 12000, 2}, 700, {1280, 720}, false, view::Units::metric, false, {}, {{6, 1800, 12000, 2}}},
    {"compare_show_720", {6, 1500, 12000, 2}, 700, {1280, 720}, true, view::Units::metric, true, {}, {{6, 1800, 12000, 2}}},
    {"many_720", {120, 1200, 8000, 4}, 500, {1280, 720}, false, view::Units::metric},
};

void draw_to(const Picture& picture, const std::string& path) {
  view::Replay replay(synthetic::source(picture.shape), "invented");
  view::Controls controls;
  controls.light = picture.light, controls.units = picture.units;
  controls.show = picture.show, controls.pointer = picture.pointer;
  view::choose_rider(controls, static_cast<std::uint32_t>(picture.shape.riders / 2));
  std::optional<view::Replay> ghost;
  if (picture.beside) ghost.emplace(synthetic::source(*picture.beside, "The same ride, slower"), "slower");
  Player player(replay, ghost ? &*ghost : nullptr, controls, 1.0f);
  save_picture(player, picture.size, picture.time_s, path);
}

/// Share of pixels that differ by more than a shade. Text may be rasterised a little differently by another FreeType.
double differing_share(const sf::Image& a, const sf::Image& b) {
  constexpr int shade = 24;
  std::size_t count = 0;
  for (unsigned y = 0; y < a.getSize().y; ++y)
    for (unsigned x = 0; x < a.getSize().x; ++x) {
      const sf::Color p = a.getPixel(x, y), q = b.getPixel(x, y);
      count += std::abs(p.r - q.r) > shade || std::abs(p.g - q.g) > shade || std::abs(p.b - q.b) > shade;
    }
  return static_cast<double>(count) / (static_cast<double>(a.getSize().x) * a.getSize().y);
}

std::size_t colours(const sf::Image& image) {
  std::set<sf::Uint32> seen;
  for (unsigned y = 0; y < image.getSize().y; y += 3)
    for (unsigned x = 0; x < image.getSize().x; x += 3) seen.insert(image.getPixel(x, y).toInteger());
  return seen.size();
}

bool compare(const Picture& picture, const std::string& golden_path) {
  constexpr double tolerated_share = 0.01;
  const std::string path = (std::filesystem::temp_directory_path() / ("leewheel_" + picture.name + ".png")).string();
  draw_to(picture, path);
  sf::Image now, golden;
  if (!now.loadFromFile(path) || now.getSize() != picture.size || colours(now) < 50)
    return fmt::print("{}: empty or of the wrong size\n", picture.name), false;
  if (!golden.loadFromFile(golden_path) || golden.getSize() != now.getSize())
    return fmt::print("{}: no golden picture {}\n", picture.name, golden_path), false;
  const double share = differing_share(now, golden);
  const bool good = share <= tolerated_share;
  fmt::print("{}: {:.4f} of the pixels differ{}\n", picture.name, share, good ? "" : "; see " + path);
  if (good) std::filesystem::remove(path);
  return good;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) return 2;
  if (!display_answers()) return fmt::print(stderr, "picture_test: no X display answers; run by xvfb-run -a\n"), 2;
  const std::string folder = argv[2];
  bool good = true;
  for (const Picture& picture : pictures) {
    const std::string golden = fmt::format("{}/{}.png", folder, picture.name);
    if (std::string_view(argv[1]) == "write")
      draw_to(picture, golden);
    else
      good &= compare(picture, golden);
  }
  return good ? 0 : 1;
}
