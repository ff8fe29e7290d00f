/// leewheel-view: a recorded ride, watched.

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include <charconv>
#include <cstdio>
#include <filesystem>

#include "io/fault.hpp"
#include "viz/app/display.hpp"
#include "viz/app/film.hpp"
#include "viz/app/player.hpp"
#include "viz/app/remembered.hpp"
#include "words/plain_text.hpp"

namespace leewheel {
namespace {

struct Arguments {
  std::string trace, ghost, size, rider, start, sort, by = "place";
  std::vector<std::string> snapshots, film;
  double speed = 8.0;
  float scale = 1.0f;
  bool show = false, light = false, imperial = false, no_state = false, help_shown = false, press_everything = false;
};

[[noreturn]] void refuse(const std::string& argument, const std::string& found, const std::string& expected) {
  throw InputFault(Fault{argument, 0, 0, "", fmt::format("found {}, expected {}", found, expected)});
}

double time_argument(const std::string& argument, const std::string& text, const view::Replay& replay) {
  const auto time_s = view::parse_time_s(text);
  if (!time_s) refuse(argument, '"' + text + '"', "a time as seconds, mm:ss or h:mm:ss");
  if (*time_s > replay.end_s() + 1e-6)
    refuse(argument, text, "a time in the ride, which ends at " + running_clock_text(replay.end_s()));
  return *time_s;
}

sf::Vector2u size_argument(const std::string& text) {
  unsigned w = 0, h = 0;
  const char* const end = text.data() + text.size();
  const auto width = std::from_chars(text.data(), end, w);
  const bool good =
      width.ec == std::errc() && width.ptr != end && *width.ptr == 'x' && std::from_chars(width.ptr + 1, end, h).ptr == end;
  if (!good || w < 640 || h < 480 || w > 7680 || h > 4320)
    refuse("--size", '"' + text + '"', "WIDTHxHEIGHT from 640x480 to 7680x4320");
  return {w, h};
}

int speed_argument(double speed) {
  for (std::size_t k = 0; k < view::play_speeds.size(); ++k)
    if (view::play_speeds[k] == speed) return static_cast<int>(k);
  refuse("--speed", fmt::format("{:g}", speed), "0.25, 0.5, 1, 2, 4, 8, 16, 32, 64 or 128");
}

view::Controls first_controls(const Arguments& args, const Remembered& remembered, const view::Replay& replay) {
  view::Controls c;
  c.light = args.light || remembered.light;
  c.units = args.imperial ? view::Units::imperial : remembered.units;
  c.splits = remembered.splits;
  c.play_speed = speed_argument(args.speed);
  c.help = args.help_shown;
  c.show = c.full_screen = args.show;
  c.ghost_by = args.by == "time" ? view::GhostBy::time : view::GhostBy::place;
  c.time_s = args.start.empty() ? replay.start_s() : time_argument("--start", args.start, replay);
  if (!args.rider.empty()) {
    const auto rider = replay.find_rider(args.rider);
    std::string names;
    for (std::size_t i = 0; i < std::min<std::size_t>(12, replay.riders()); ++i)
      names += (i ? ", " : "") + replay.head().riders[i].name;
    if (!rider) refuse("--rider", '"' + args.rider + '"', "one of " + names + (replay.riders() > 12 ? " ..." : ""));
    view::choose_rider(c, static_cast<std::uint32_t>(*rider));
  }
  return c;
}

/// The ending says what is written: a picture under another name would open nowhere.
void need_known_endings(const Arguments& args) {
  for (std::size_t k = 1; k < args.snapshots.size(); k += 2)
    if (!args.snapshots[k].ends_with(".png")) refuse("--snapshot", args.snapshots[k], "a file ending in .png");
  if (args.film.empty() || is_film_file(args.film[2])) return;
  const std::filesystem::path target = args.film[2];
  if (target.has_extension() && !std::filesystem::is_directory(target))
    refuse("--film", args.film[2], "a folder, or a file ending in .mp4 or .webm");
}

void need_file(const std::string& path) {
  if (!std::filesystem::exists(path)) throw InputFault(Fault{path, 0, 0, "", "not found, expected a recorded ride (.h5)"});
}

int run(const Arguments& args) {
  need_file(args.trace);
  view::Replay replay(view::open_trace(args.trace), args.trace);
  std::optional<view::Replay> ghost;
  if (!args.ghost.empty()) {
    need_file(args.ghost);
    ghost.emplace(view::open_trace(args.ghost), args.ghost);
    if (const auto other = view::road_difference(ghost->road(), replay.road()))
      throw InputFault(
          Fault{args.ghost, 0, 0, "road", fmt::format("found {}; two rides are compared on the same road", *other)});
  }
  const bool pictures = !args.snapshots.empty() || !args.film.empty();
  const bool stateful = !args.no_state && !pictures && !args.press_everything;
  Remembered remembered = stateful ? recall() : Remembered{};
  const sf::Vector2u size =
      args.size.empty() ? sf::Vector2u(remembered.width_px, remembered.height_px) : size_argument(args.size);
  const view::Controls controls = first_controls(args, remembered, replay);
  std::vector<double> times_s;
  for (std::size_t k = 0; k < args.snapshots.size(); k += 2)
    times_s.push_back(time_argument("--snapshot", args.snapshots[k], replay));
  double film_s[2] = {0, 0};
  for (std::size_t k = 0; k < 2 && !args.film.empty(); ++k) film_s[k] = time_argument("--film", args.film[k], replay);
  if (film_s[1] < film_s[0]) refuse("--film", args.film[1], "an end after the beginning " + args.film[0]);

  if (!display_answers()) {
    fmt::print(stderr,
               "leewheel-view: no X display; set DISPLAY, or draw without a screen: xvfb-run -a leewheel-view ...\n");
    return 2;
  }
  Player player(replay, ghost ? &*ghost : nullptr, controls, args.scale);
  for (std::size_t k = 0; k < times_s.size(); ++k) save_picture(player, size, times_s[k], args.snapshots[2 * k + 1]);
  if (!args.film.empty())
    fmt::print("{} pictures in {}\n", save_film(player, size, film_s[0], film_s[1], args.film[2]), args.film[2]);
  if (args.press_everything) fmt::print("{} times pressed\n", press_everything(player, size));
  if (pictures || args.press_everything) return 0;

  const sf::Vector2u last = play(player, size, replay.head().title);
  if (stateful) remember({last.x, last.y, player.controls().light, player.controls().units, player.controls().splits});
  return 0;
}

void declare(CLI::App& app, Arguments& args) {
  app.add_option("TRACE", args.trace, "recorded ride (.h5)")->required();
  app.add_option("--ghost", args.ghost, "second recorded ride to compare with, such as alone.h5 of `leewheel ride --alone`");
  app.add_option("--ghost-by", args.by,
                 "what the bunch shows of the second ride: where it was at the same place (default), or at the same time")
      ->check(CLI::IsMember({"time", "place"}));
  app.add_option("--start", args.start, "moment to begin at: seconds, mm:ss or h:mm:ss");
  app.add_option("--rider", args.rider, "rider selected at the start");
  app.add_option("--speed", args.speed, "playing speed, 0.25 to 128 (default 8)");
  app.add_option("--snapshot", args.snapshots, "TIME FILE.png: a picture without a window; may be repeated")
      ->type_size(2)
      ->expected(-1)
      ->type_name("TIME FILE");
  app.add_option(
         "--film", args.film,
         "FROM TO TARGET: 30 pictures a second at the playing speed; TARGET is a folder, or .mp4 or .webm (needs ffmpeg)")
      ->expected(3)
      ->type_name("FROM TO TARGET");
  app.add_option("--size", args.size, "window or picture, as 1280x720");
  app.add_option("--scale", args.scale, "enlarge text and marks, 0.5 to 4")->check(CLI::Range(0.5f, 4.0f));
  app.add_flag("--show", args.show, "for a room: full screen, large, without panels and key hints");
  app.add_flag("--light", args.light, "light colours");
  app.add_flag("--imperial", args.imperial, "miles and feet");
  app.add_flag("--no-state", args.no_state, "do not read or write the saved window size and colours");
  app.add_flag("--show-help", args.help_shown, "open with the list of keys")->group("");
  app.add_flag("--press-everything", args.press_everything, "press every key, click everywhere and leave")->group("");
  app.set_version_flag("--version", "leewheel-view " LEEWHEEL_VERSION);
  app.footer(
      "Riding close behind another is dangerous. Traffic law, local group-riding codes and medical advice come first.");
}

}  // namespace
}  // namespace leewheel

int main(int argc, char** argv) {
  CLI::App app{"Watch a recorded ride: the climb, the bunch from above, who saves what and why."};
  leewheel::Arguments args;
  leewheel::declare(app, args);
  try {
    app.parse(argc, argv);
  } catch (const CLI::CallForHelp& call) {
    return app.exit(call);
  } catch (const CLI::CallForVersion& call) {
    return app.exit(call);
  } catch (const CLI::ParseError& error) {
    fmt::print(stderr, "leewheel-view: {}\n", error.what());
    return 2;
  }
  try {
    leewheel::need_known_endings(args);
    return leewheel::run(args);
  } catch (const leewheel::InputFault& fault) {
    for (const auto& one : fault.faults()) fmt::print(stderr, "leewheel-view: {}\n", one.text());
    return 2;
  }
}
