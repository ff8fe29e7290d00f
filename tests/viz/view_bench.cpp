/// How fast the viewer draws, in a real window at 8x: an invented ride of 200 riders on 18 km of road, or a recorded ride, of
/// which ten stretches from its beginning to its end are played.
/// leewheel_view_bench [RIDERS | TRACE.h5] [WIDTH] [HEIGHT] [PANELS, as 11111]
#include <fmt/format.h>

#include <sys/resource.h>

#include <cstdlib>

#include "synthetic_ride.hpp"
#include "viz/app/display.hpp"
#include "viz/app/player.hpp"

namespace {

/// Processor time of the whole process, the threads of software GL among it.
double processor_s() {
  rusage used;
  getrusage(RUSAGE_SELF, &used);
  return static_cast<double>(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
         1e-6 * static_cast<double>(used.ru_utime.tv_usec + used.ru_stime.tv_usec);
}

}  // namespace

int main(int argc, char** argv) {
  using namespace leewheel;
  const std::string what = argc > 1 ? argv[1] : "200";
  const bool recorded = what.ends_with(".h5");
  const unsigned width = argc > 2 ? static_cast<unsigned>(std::atoi(argv[2])) : 1280,
                 height = argc > 3 ? static_cast<unsigned>(std::atoi(argv[3])) : 720;
  if (!display_answers()) return fmt::print(stderr, "leewheel_view_bench: no X display answers; run by xvfb-run -a\n"), 2;
  view::Replay replay(recorded ? view::open_trace(what)
                               : synthetic::source({static_cast<std::size_t>(std::atoi(what.c_str())), 3600, 18000, 5}),
                      what);
  view::Controls controls;
  controls.time_s = recorded ? replay.start_s() : 1200, controls.playing = true;
  if (argc > 4)
    for (std::size_t k = 0; k < view::panel_count; ++k) controls.panels[k] = argv[4][k] == '1';
  view::choose_rider(controls, static_cast<std::uint32_t>(replay.riders() / 2));
  Player player(replay, nullptr, controls, 1.0f);
  sf::RenderWindow window(sf::VideoMode(width, height), "bench");
  for (int warm = 0; warm < 20; ++warm) player.draw(window, false), window.display();
  constexpr int pictures = 300, stretch = 30;
  double slowest_s = 0;
  const double before_s = processor_s();
  sf::Clock all, one;
  for (int k = 0; k < pictures; ++k) {
    if (recorded && k % stretch == 0)
      player.controls().time_s = replay.start_s() + (replay.end_s() - replay.start_s()) * k / pictures;
    one.restart();
    player.advance(1 / 60.0);
    player.draw(window, false);
    window.display();
    slowest_s = std::max<double>(slowest_s, one.getElapsedTime().asSeconds());
  }
  const double passed_s = all.getElapsedTime().asSeconds();
  fmt::print("{} riders, {}x{}: {:.1f} pictures/s, slowest {:.1f} ms, {:.1f} ms of processor time a picture\n",
             replay.riders(), width, height, pictures / passed_s, 1000 * slowest_s,
             1000 * (processor_s() - before_s) / pictures);
}
