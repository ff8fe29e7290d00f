/// `leewheel sheet`: the ride as a page to take along.

#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <memory>
#include <mutex>
#include <nlohmann/json.hpp>
#include <thread>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/progress.hpp"
#include "io/atomic_file.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/ensemble.hpp"
#include "leewheel/lineup.hpp"
#include "leewheel/uncertainty.hpp"
#include "pages/sheet.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

struct Options {
  std::string scenario_path, output, aim;
  SheetOptions page;
  std::size_t days = 24;
  std::optional<std::uint64_t> seed;
  bool json = false, quiet = false;
  int threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
};

constexpr const char* examples = R"(Examples:
  leewheel sheet scenarios/larkmoor/scenario.yaml -o larkmoor.html
  leewheel sheet scenarios/larkmoor/scenario.yaml --pocket -o pocket.html
  leewheel sheet scenarios/larkmoor/scenario.yaml --for weakest -o larkmoor.html     from scenario to sheet at once

The page shows the plan that the scenario holds; with --for a plan is looked for first, as leewheel lineup does.

Exit codes: 0 done, 1 not everyone reaches the top (written), or --for found no plan (not written), 2 bad input or arguments, 3 stopped before the end.
)";

/// A road without landmarks gets one every so many kilometres, so that the page has places to speak of.
Scenario with_places(Scenario scenario) {
  const double length_m = scenario.road.length_m();
  if (!scenario.road.landmarks().empty() || length_m < 2000.0) return scenario;
  const double every_m = length_m < 12e3 ? 2000.0 : 5000.0;
  RoadProfile profile = scenario.road.profile();
  for (double at_m = every_m; at_m < length_m - 0.3 * every_m; at_m += every_m)
    profile.landmarks.push_back({fmt::format("km {:.0f}", at_m / 1e3), at_m});
  scenario.road = Road(std::move(profile));
  return scenario;
}

/// Steepest and lowest mean grade over 100 m.
std::pair<double, double> grades_within(const Road& road, double from_m, double to_m) {
  const double over_m = std::min(100.0, to_m - from_m);
  double steepest = -1.0, lowest = 1.0;
  for (double at_m = from_m; at_m + over_m <= to_m + 1e-6; at_m += 10.0) {
    const double grade = (road.elevation_m(at_m + over_m) - road.elevation_m(at_m)) / over_m;
    steepest = std::max(steepest, grade);
    lowest = std::min(lowest, grade);
  }
  return {steepest, lowest};
}

double ascent_m(const Road& road, double from_m, double to_m) {
  double ascent = 0.0;
  for (double at_m = from_m; at_m < to_m; at_m += 5.0)
    ascent += std::max(0.0, road.elevation_m(std::min(to_m, at_m + 5.0)) - road.elevation_m(at_m));
  return ascent;
}

SheetStretch described(const Road& road, const RoadStretch& where, const Outlook& wind) {
  SheetStretch s;
  s.from = where.from, s.to = where.to, s.from_m = where.from_m, s.to_m = where.to_m;
  s.ascent_m = ascent_m(road, where.from_m, where.to_m);
  s.grade = (road.elevation_m(where.to_m) - road.elevation_m(where.from_m)) / (where.to_m - where.from_m);
  std::tie(s.steepest_grade, s.lowest_grade) = grades_within(road, where.from_m, where.to_m);
  double rows = 0.0;
  for (const OutlookRow& row : wind.rows) {
    if (row.distance_m < where.from_m || row.distance_m > where.to_m) continue;
    ++rows;
    s.head_mps += row.head_mps;
    s.from_left_mps += row.from_left_mps;
    s.gust_mps = std::max(s.gust_mps, row.gust_mps);
    s.gust_side_force_N = std::max(s.gust_side_force_N, row.gust_side_force_N);
  }
  if (rows > 0.0) s.head_mps /= rows, s.from_left_mps /= rows;
  return s;
}

/// Watches a ride once a second and books what each rider does on each stretch.
class Watch {
 public:
  Watch(const Scenario& scenario, const std::vector<RoadStretch>& where)
      : scenario_(scenario),
        where_(where),
        riders_(scenario.riders.size()),
        front_(where.size()),
        line_s_(where.size(), 0.0),
        groups_(where.size()),
        before_(scenario.riders.size()),
        front_for_s_(scenario.riders.size(), 0.0) {
    for (SheetRider& r : riders_) r.stretches.resize(where.size());
  }

  void look(const RideSample& now) {
    const double dt_s = now.time_s - last_s_;
    last_s_ = now.time_s;
    for (std::size_t i = 0; i < riders_.size(); ++i) book(now, i, dt_s);
    note_front(now, dt_s);
    note_groups(now);
    note_coming(now);
  }

  void into(Sheet& sheet) {
    sheet.riders = std::move(riders_);
    for (std::size_t k = 0; k < where_.size(); ++k) {
      SheetStretch& s = sheet.stretches[k];
      double riding_s = 0.0, saved_J = 0.0;
      for (const SheetRider& r : sheet.riders)
        riding_s += r.stretches[k].riding_s, saved_J += r.stretches[k].alone_J - r.stretches[k].pedal_J;
      s.line_share = riding_s > 0.0 ? line_s_[k] / riding_s : 0.0;
      s.saved_W = riding_s > 0.0 ? saved_J / riding_s : 0.0;
      if (front_[k].time_s > 0.0)
        s.front_speed_mps = front_[k].way_m / front_[k].time_s, s.front_power_W = front_[k].work_J / front_[k].time_s;
      s.groups = std::move(groups_[k]);
    }
  }

  const Coming& coming() const { return coming_; }
  const std::vector<SheetRider>& riders() const { return riders_; }

 private:
  struct Front {
    double time_s = 0.0, way_m = 0.0, work_J = 0.0;
  };
  struct Before {
    double pedal_J = 0.0, saved_J = 0.0;
  };

  static Role role(const RideSample& now, std::size_t i) { return static_cast<Role>(static_cast<int>(now.role[i])); }
  bool riding(const RideSample& now, std::size_t i) const {
    return role(now, i) != Role::finished && now.distance_m[i] < scenario_.road.length_m();
  }
  std::size_t stretch_at(double distance_m) const {
    std::size_t k = 0;
    while (k + 1 < where_.size() && distance_m >= where_[k].to_m) ++k;
    return k;
  }

  void book(const RideSample& now, std::size_t i, double dt_s) {
    const double pedal_J = now.pedal_J[i] - before_[i].pedal_J, saved_J = now.saved_J[i] - before_[i].saved_J;
    before_[i] = {now.pedal_J[i], now.saved_J[i]};
    const std::size_t k = stretch_at(now.distance_m[i]);
    SheetRidden& r = riders_[i].stretches[k];
    r.pedal_J += pedal_J;
    r.alone_J += pedal_J + saved_J;
    r.wbal_end_J = now.wbal_J[i];
    if (!riding(now, i)) return;
    const bool stands = role(now, i) == Role::waiting && now.speed_mps[i] < 0.5f;
    (stands ? r.waiting_s : r.riding_s) += dt_s;
    const bool company = now.group_id[i] >= 0.0f;
    const bool leads = company && role(now, i) == Role::front,
               follows = role(now, i) == Role::following || role(now, i) == Role::drifting_back;
    if (leads) r.front_s += dt_s;
    if (follows) r.follow_s += dt_s;
    if (leads || follows) line_s_[k] += dt_s;
    front_for_s_[i] = leads ? front_for_s_[i] + dt_s : 0.0;
    if (leads && front_for_s_[i] >= 10.0 && front_for_s_[i] < 10.0 + dt_s) ++r.turns;
  }

  std::size_t size_of(const RideSample& now, float group) const {
    return static_cast<std::size_t>(std::count(now.group_id.begin(), now.group_id.end(), group));
  }

  /// Whoever leads the largest group; alone only when all are.
  void note_front(const RideSample& now, double dt_s) {
    std::size_t best = riders_.size(), largest = 0;
    for (std::size_t i = 0; i < riders_.size(); ++i) {
      if (!riding(now, i) || role(now, i) == Role::waiting) continue;
      const std::size_t size = now.group_id[i] < 0.0f ? 1 : size_of(now, now.group_id[i]);
      if (size > largest || (size == largest && now.distance_m[i] > now.distance_m[best])) best = i, largest = size;
    }
    if (best == riders_.size()) return;
    Front& f = front_[stretch_at(now.distance_m[best])];
    f.time_s += dt_s;
    f.way_m += now.speed_mps[best] * dt_s;
    f.work_J += now.power_W[best] * dt_s;
  }

  /// Once the first on the road has ridden three quarters of a stretch.
  void note_groups(const RideSample& now) {
    const double first_m = *std::max_element(now.distance_m.begin(), now.distance_m.end());
    const std::size_t k = stretch_at(first_m);
    if (!groups_[k].empty() || first_m < 0.25 * where_[k].from_m + 0.75 * where_[k].to_m) return;
    std::vector<std::uint32_t> order(riders_.size());
    for (std::uint32_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return now.distance_m[a] > now.distance_m[b]; });
    std::vector<float> ids;
    for (const std::uint32_t i : order) {
      const auto known = now.group_id[i] < 0.0f ? ids.end() : std::find(ids.begin(), ids.end(), now.group_id[i]);
      if (known != ids.end())
        groups_[k][static_cast<std::size_t>(known - ids.begin())].push_back(i);
      else
        ids.push_back(now.group_id[i]), groups_[k].push_back({i});
    }
  }

  void note_coming(const RideSample& now) {
    const double first_m =
        std::min<double>(scenario_.road.length_m(), *std::max_element(now.distance_m.begin(), now.distance_m.end()));
    if (!coming_.distance_m.empty() && first_m <= coming_.distance_m.back() + 1.0) return;
    coming_.distance_m.push_back(std::max(0.0, first_m));
    coming_.time_s.push_back(now.time_s);
  }

  const Scenario& scenario_;
  const std::vector<RoadStretch>& where_;
  std::vector<SheetRider> riders_;
  std::vector<Front> front_;
  std::vector<double> line_s_;
  std::vector<std::vector<std::vector<std::uint32_t>>> groups_;
  std::vector<Before> before_;
  std::vector<double> front_for_s_;
  Coming coming_;
  double last_s_ = 0.0;
};

RideResult watch_to_end(const Scenario& scenario, Watch& watch) {
  Ride ride(scenario);
  RideSample sample;
  const auto ticks = std::max<std::uint64_t>(1, static_cast<std::uint64_t>(std::llround(1.0 / scenario.ride.step_s)));
  for (ride.sample(sample), watch.look(sample); ride.end() == RideEnd::riding && !StopAsked::yes();) {
    ride.step();
    if (ride.tick() % ticks != 0 && ride.end() == RideEnd::riding) continue;
    ride.sample(sample);
    watch.look(sample);
  }
  return ride.result();
}

Sheet ride_watched(const Scenario& scenario) {
  const std::vector<RoadStretch> where = stretches_of(scenario.road);
  Sheet sheet{scenario, {}, {}, {}, {}, 0, {}, 0.0, {}};
  Watch watch(scenario, where);
  sheet.ride = watch_to_end(scenario, watch);
  sheet.wind = wind_outlook(scenario, watch.coming(), std::max(10.0, scenario.road.length_m() / 120.0));
  for (const RoadStretch& w : where) sheet.stretches.push_back(described(scenario.road, w, sheet.wind));
  watch.into(sheet);
  return sheet;
}

struct Day {
  RideResult ride;
  std::vector<SheetRider> riders;
  std::vector<double> w_prime_J;
};

/// The plan on other days. Every day has its own place, so the number of threads changes nothing but the time.
std::vector<Day> ride_other_days(const Scenario& scenario, std::size_t count, Progress& progress) {
  const std::vector<RoadStretch> where = stretches_of(scenario.road);
  std::vector<Day> days(count);
  std::atomic<std::size_t> done = 0;
  std::mutex telling;
  tbb::parallel_for(std::size_t{0}, count, [&](std::size_t n) {
    if (StopAsked::yes()) return;
    const Scenario other = on_day(scenario, draw_day(scenario, scenario.ride.seed, n + 1));
    Watch watch(other, where);
    days[n].ride = watch_to_end(other, watch);
    days[n].riders = watch.riders();
    for (const RiderSettings& rider : other.riders) days[n].w_prime_J.push_back(rider.w_prime_J);
    const std::lock_guard lock(telling);
    progress.at(static_cast<double>(++done) / static_cast<double>(count));
  });
  return days;
}

/// Of what the days hold; nothing when too few of them hold it.
template <class Value>
std::optional<SheetRange> middle_80(const std::vector<Day>& days, Value value) {
  std::vector<double> values;
  for (const Day& day : days)
    if (const std::optional<double> v = value(day)) values.push_back(*v);
  if (values.size() < 5 || 2 * values.size() < days.size()) return std::nullopt;
  return SheetRange{percentile(values, 0.1), percentile(values, 0.9)};
}

void take_up_rider(SheetRider& rider, std::size_t i, std::size_t stretches, const std::vector<Day>& days) {
  const auto share = [&](auto holds) {
    return static_cast<double>(std::count_if(days.begin(), days.end(), holds)) / static_cast<double>(days.size());
  };
  rider.home_share = share([&](const Day& day) { return day.ride.riders[i].finished; });
  rider.dropped_share = share([&](const Day& day) {
    return std::any_of(day.ride.events.begin(), day.ride.events.end(), [&](const Event& e) {
      return e.kind == EventKind::dropped && !e.riders.empty() && e.riders.front() == i;
    });
  });
  using Maybe = std::optional<double>;
  const auto if_home = [&](auto value) {
    return middle_80(days, [&](const Day& day) { return day.ride.riders[i].finished ? Maybe(value(day)) : Maybe(); });
  };
  rider.work_J = if_home([&](const Day& day) { return day.ride.riders[i].ledger.pedal_J; });
  rider.wbal_least_share =
      if_home([&](const Day& day) { return std::max(0.0, day.ride.riders[i].wbal_least_J) / day.w_prime_J[i]; });
  rider.mean_power_W = if_home([&](const Day& day) {
    double work_J = 0.0, time_s = 0.0;
    for (const SheetRidden& r : day.riders[i].stretches) work_J += r.pedal_J, time_s += r.riding_s;
    return work_J / std::max(1.0, time_s);
  });
  for (std::size_t k = 0; k < stretches; ++k) {
    const auto if_there = [&](auto value) {
      return middle_80(
          days, [&](const Day& day) { return k < day.ride.riders[i].landmarks.size() ? Maybe(value(day)) : Maybe(); });
    };
    rider.arrives_s.push_back(if_there([&](const Day& day) { return day.ride.riders[i].landmarks[k].time_s; }));
    rider.wbal_share.push_back(
        if_there([&](const Day& day) { return std::max(0.0, day.ride.riders[i].landmarks[k].wbal_J) / day.w_prime_J[i]; }));
    rider.power_W.push_back(if_there([&](const Day& day) { return day.riders[i].stretches[k].power_W(); }));
  }
}

void take_up_days(Sheet& sheet, const std::vector<Day>& days) {
  sheet.days = days.size();
  if (days.empty()) return;
  for (std::size_t i = 0; i < sheet.riders.size(); ++i) take_up_rider(sheet.riders[i], i, sheet.stretches.size(), days);
  const auto all_home = [](const Day& day) { return day.ride.end == RideEnd::all_finished; };
  sheet.all_home_share =
      static_cast<double>(std::count_if(days.begin(), days.end(), all_home)) / static_cast<double>(days.size());
  sheet.last_home_s =
      middle_80(days, [&](const Day& day) { return all_home(day) ? std::optional(day.ride.time_s) : std::nullopt; });
}

// ---- a plan first ----

/// "the last at the top after 58:53 on average over 7 days, 1:02:46 by the best of the obvious plans (strongest in front all day)".
std::string why_this_plan(const Lineup& lineup) {
  const auto value = [&](const PlanResult& r) {
    return lineup.aim == LineupAim::time ? clock_text(r.value) : fmt::format("{:.0f} % of critical power", 100.0 * r.value);
  };
  constexpr const char* names[] = {"the last is home after", "the weakest rides at",
                                   "the efforts of hardest and easiest differ by"};
  std::string text = fmt::format("chosen out of {} rides; over {} days {} {} on average", lineup.rides,
                                 lineup.day_names.size(), names[static_cast<std::size_t>(lineup.aim)], value(lineup.best));
  const PlanResult* rival = nullptr;
  for (const PlanResult& r : lineup.obvious)
    if (r.allowed && (!rival || r.value < rival->value)) rival = &r;
  return text + (rival ? fmt::format(", by the best obvious plan ({}) {}.", rival->plan.name, value(*rival))
                       : "; no obvious plan is allowed here.");
}

/// Looks for a plan and lays it in; false when there is none, or on Ctrl-C.
bool lay_in_plan(const Options& options, Scenario& scenario, std::string& why) {
  LineupSettings settings;
  for (std::size_t k = 0; k < lineup_aim_names.size(); ++k)
    if (lineup_aim_names[k] == options.aim) settings.aim = static_cast<LineupAim>(k);
  Progress progress("trying plans", !options.quiet);
  const Lineup lineup = best_lineup(scenario, settings, [&](double share) {
    progress.at(share);
    return !StopAsked::yes();
  });
  if (lineup.stopped || !lineup.found) return false;
  scenario = with_plan(scenario, lineup.best.plan, lineup.weakest);
  why = why_this_plan(lineup);
  return true;
}

Json json_of(const Sheet& sheet, const std::string& path) {
  Json riders = Json::array();
  for (std::size_t i = 0; i < sheet.riders.size(); ++i) {
    const RiderResult& r = sheet.ride.riders[i];
    std::size_t turns = 0;
    for (const SheetRidden& s : sheet.riders[i].stretches) turns += s.turns;
    const auto range = [](const std::optional<SheetRange>& found) {
      return found ? Json{{"low", found->low}, {"high", found->high}} : Json(nullptr);
    };
    riders.push_back(
        {{"name", r.name},
         {"finished", r.finished},
         {"finish_time_s", r.finished ? Json(r.finish_time_s) : nullptr},
         {"finish_time_range_s", range(sheet.riders[i].arrives_s.empty() ? std::nullopt : sheet.riders[i].arrives_s.back())},
         {"mean_power_range_W", range(sheet.riders[i].mean_power_W)},
         {"work_range_J", range(sheet.riders[i].work_J)},
         {"wbal_least_share_range", range(sheet.riders[i].wbal_least_share)},
         {"turns", turns},
         {"home_share", sheet.riders[i].home_share},
         {"dropped_share", sheet.riders[i].dropped_share}});
  }
  return {{"file", path}, {"title", sheet.scenario.title}, {"days", sheet.days}, {"riders", riders}};
}

int run(const Options& options) {
  Scenario scenario = with_places(read_scenario(options.scenario_path));
  if (options.seed) scenario.ride.seed = *options.seed;
  const std::string path = options.output.empty() ? usual_folder(options.scenario_path) + "/sheet.html" : options.output;
  if (options.output.empty()) make_output_folder(usual_folder(options.scenario_path));
  const StopAsked stop;
  const tbb::global_control threads(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(options.threads));
  std::string why;
  if (!options.aim.empty() && scenario.riders.size() > 1 && !lay_in_plan(options, scenario, why) && !StopAsked::yes()) {
    fmt::print(stderr, "leewheel: no plan brings everyone home with some W' left; nothing was written\n");
    return exit_answer_no;
  }
  Sheet sheet = ride_watched(scenario);
  sheet.why_this_plan = why;
  {
    Progress progress("riding other days", !options.quiet);
    take_up_days(sheet, StopAsked::yes() ? std::vector<Day>() : ride_other_days(scenario, options.days, progress));
  }
  if (StopAsked::yes()) {
    fmt::print(stderr, "leewheel: stopped; nothing was written\n");
    return exit_stopped;
  }
  write_whole_file(path, sheet_html(sheet, options.page));
  const bool all_home = sheet.ride.end == RideEnd::all_finished;
  if (options.json && !options.quiet) fmt::print("{}\n", json_of(sheet, path).dump(2));
  if (!options.json && !options.quiet)
    fmt::print("Written to {}: {} rider{}, {} days ridden{}\n", path, sheet.riders.size(),
               sheet.riders.size() == 1 ? "" : "s", sheet.days, all_home ? "" : "; not everyone reaches the top");
  return all_home ? exit_ok : exit_answer_no;
}

}  // namespace

Command add_sheet_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command =
      app.add_subcommand("sheet", "the plan as one page for a phone and for paper, with a card a rider");
  command->footer(examples);
  command->add_option("scenario", options->scenario_path, "scenario file (YAML)")->required();
  command->add_option("-o,--out", options->output, "file for the page (HTML) [out/<folder of the scenario>/sheet.html]");
  command->add_option("--for", options->aim, "look for a plan first, good for: time, weakest, fair (see leewheel lineup)")
      ->check(CLI::IsMember(std::vector<std::string>(lineup_aim_names.begin(), lineup_aim_names.end())));
  command->add_flag("--pocket", options->page.pocket, "only one small card a rider, four on a page of A4");
  add_imperial_flag(*command, options->page.units);
  command->add_option("--days", options->days, "days of other winds and fitness to ride for the ranges; 0: no ranges")
      ->check(whole_within(0, 1000))
      ->capture_default_str();
  command->add_option("--seed", options->seed, "seed of the ride and of the days, instead of the scenario's")
      ->check(a_seed());
  command->add_option("--threads", options->threads, "threads; the page is the same on any number")
      ->check(whole_within(1, 1024));
  command->add_flag("--json", options->json, "print the times as JSON; the page is written all the same");
  command->add_flag("--quiet", options->quiet, "print nothing; the page is written all the same");
  return [options] { return run(*options); };
}

}  // namespace leewheel
