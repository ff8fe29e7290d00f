#include "app/kept_runs.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "io/fault.hpp"
#include "io/json_number.hpp"
#include "io/text_file.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

constexpr int runs_layout = 2;  // 2: who climbs freely has not come off

[[noreturn]] void refuse(const std::string& path, const std::string& what) { throw InputFault(Fault{path, 0, 0, "", what}); }

RunOutcome run_of(const Json& one) {
  RunOutcome run;
  for (const Json& r : one.at("riders"))
    run.riders.push_back({r.at(0).get<int>() != 0, r.at(1).get<double>(), r.at(2).get<double>(), r.at(3).get<double>(),
                          r.at(4).get<std::int32_t>(), r.at(5).get<double>()});
  run.whole_share = one.at("whole").get<std::vector<double>>();
  run.largest_share = one.at("largest").get<std::vector<double>>();
  run.done = true;
  return run;
}

}  // namespace

std::string text_of(const KeptRuns& kept) {
  Json out{{"leewheel_spread_runs", runs_layout},
           {"program", LEEWHEEL_VERSION},
           {"scenario_digest", fmt::format("{:016x}", kept.digest)},
           {"seed", kept.seed},
           {"runs", Json::array()}};
  for (std::size_t n = 0; n < kept.runs.size(); ++n) {
    const RunOutcome& run = kept.runs[n];
    if (!run.done) continue;
    Json riders = Json::array();
    for (const RiderOutcome& r : run.riders)
      riders.push_back({r.finished ? 1 : 0, r.time_s, r.wbal_end_J, r.saved_J, r.drops, r.dropped_at_m});
    out["runs"].push_back(
        {{"n", n}, {"riders", std::move(riders)}, {"whole", run.whole_share}, {"largest", run.largest_share}});
  }
  return json_text(out, -1) + "\n";
}

void take_up(const std::string& path, KeptRuns& kept, std::size_t riders, std::size_t stretches) {
  constexpr std::size_t most_bytes = 1u << 30;
  try {
    const Json file = Json::parse(read_whole_file(path, most_bytes));
    if (file.at("leewheel_spread_runs").get<int>() != runs_layout)
      refuse(path, "found runs of another layout, expected those of this program");
    if (file.at("program").get<std::string>() != LEEWHEEL_VERSION)
      refuse(path,
             fmt::format("found runs of version {}, expected {}", file.at("program").get<std::string>(), LEEWHEEL_VERSION));
    if (file.at("scenario_digest").get<std::string>() != fmt::format("{:016x}", kept.digest))
      refuse(path, "found runs of another scenario, or of this one before it was changed (the step counts too)");
    if (file.at("seed").get<std::uint64_t>() != kept.seed)
      refuse(path, fmt::format("found runs of seed {}, expected {}", file.at("seed").get<std::uint64_t>(), kept.seed));
    for (const Json& one : file.at("runs")) {
      const auto n = one.at("n").get<std::size_t>();
      RunOutcome run = run_of(one);
      if (run.riders.size() != riders || run.whole_share.size() != stretches || run.largest_share.size() != stretches)
        refuse(path, "found a run with other riders or stretches, expected the scenario's");
      if (n < kept.runs.size()) kept.runs[n] = std::move(run);
    }
  } catch (const Json::exception&) {
    refuse(path, "found no runs of leewheel spread, expected the file that it wrote");
  }
}

}  // namespace leewheel
