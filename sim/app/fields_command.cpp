/// `leewheel fields`: every number of a scenario with its default, range, meaning and source, from the tables that the
/// readers use. docs/behaviour.md is this command's own output.

#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>

#include "app/checks.hpp"
#include "app/commands.hpp"
#include "io/atomic_file.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "leewheel/ride.hpp"
#include "words/phrases.hpp"

namespace leewheel {

namespace {

struct Options {
  std::string section, output;
  bool json = false, quiet = false;
};

std::string limit(double value) { return std::abs(value) >= no_limit ? std::string("…") : fmt::format("{:g}", value); }

template <class Settings>
std::string table(const char* section, const char* about, std::span<const NumberField<Settings>> fields) {
  const Settings defaults{};
  std::string text =
      fmt::format("## {}\n{}\n\n| key | default | range | meaning | source |\n|---|---|---|---|---|\n", section, about);
  for (const auto& field : fields)
    text += fmt::format("| `{}` | {:g} | {}{} to {} | {} | {} |\n", field.name, defaults.*field.member,
                        field.lowest_excluded ? "above " : "", limit(field.lowest), limit(field.highest), field.meaning,
                        field.source);
  return text + "\n";
}

/// Calls `take(section, about, fields)` for every table, or for one.
template <class Take>
void for_each_table(const std::string& only, const Take& take) {
  const auto add = [&](const char* section, const char* about, auto fields) {
    if (only.empty() || only == section) take(section, about, fields);
  };
  add("riders", "Of each rider, or of an archetype.", rider_fields());
  add("ride", "How the ride is ridden.", ride_fields());
  add("behaviour", "What riders decide; docs/groups.md explains how these work together.", tactics_fields());
  add("groups", "When riders count as one group.", group_fields());
  add("wind", "From the forecast to the wind at the rider.", wind_fields());
  add("wake", "The wake model; docs/model.md gives its formulas.", SuperposedWakes::fields());
  for (std::size_t n = 1; n < wake_law_names.size(); ++n)
    std::visit(
        [&](const auto& law) {
          const std::string section = fmt::format("wake, law: {}", law.name),
                            about = fmt::format("Instead of the numbers above: {}.", law.about);
          if (only.empty() || only == "wake") take(section.c_str(), about.c_str(), law.fields());
        },
        wake_law(n));
  add("heat", "What heat takes from riders; counted only where the scenario has `heat`.", heat_fields());
  add("uncertainty", "One standard deviation of each input that is uncertain before a ride; 0 takes the input as known.",
      uncertainty_fields());
}

/// The columns of a trace, from the rows that fill them.
std::string columns_table() {
  std::string text = "| table | unit | meaning |\n|---|---|---|\n";
  for (const SampleColumn& column : sample_columns())
    text += fmt::format("| `{}` | {} | {} |\n", column.name, column.unit, column.meaning);
  return text;
}

/// The reasons of events, from the rows that name their values and the sentences that tell them.
std::string reasons_table() {
  std::string text = "| `reason` | told as | `values` |\n|---|---|---|\n";
  for (const ReasonRow& row : reason_rows()) {
    std::string sentence(reason_phrase(row.reason)), names;
    for (std::size_t k = 0; k < row.values.size() && !row.values[k].name.empty(); ++k) {
      names += fmt::format("{}`{}`", k == 0 ? "" : ", ", row.values[k].name);
      for (const std::string& hole : {fmt::format("{{{}}}", k), fmt::format("{{{}:n}}", k)})
        if (const std::size_t at = sentence.find(hole); at != std::string::npos)
          sentence.replace(at, hole.size(), fmt::format("*{}*", row.values[k].name));
    }
    if (const std::size_t at = sentence.find("{other}"); at != std::string::npos) sentence.replace(at, 7, "*rider*");
    text += fmt::format("| `{}` | {} | {} |\n", row.name, sentence, names);
  }
  return text;
}

std::string page(const std::string& only) {
  if (only == "trace") return columns_table();
  if (only == "reasons") return reasons_table();
  std::string text;
  for_each_table(only, [&](const char* section, const char* about, auto fields) { text += table(section, about, fields); });
  return text;
}

template <class Settings>
nlohmann::ordered_json rows_of(std::span<const NumberField<Settings>> fields) {
  using Json = nlohmann::ordered_json;
  const auto bound = [](double value) { return std::abs(value) >= no_limit ? Json(nullptr) : Json(value); };
  const Settings defaults{};
  Json rows = Json::array();
  for (const auto& field : fields)
    rows.push_back({{"key", field.name},
                    {"default", defaults.*field.member},
                    {"lowest", bound(field.lowest)},
                    {"lowest_excluded", field.lowest_excluded},
                    {"highest", bound(field.highest)},
                    {"meaning", field.meaning},
                    {"source", field.source}});
  return rows;
}

std::string json_of(const std::string& only) {
  nlohmann::ordered_json out{{"layout_version", json_layout::fields}, {"sections", nlohmann::ordered_json::object()}};
  for_each_table(only, [&](const char* section, const char*, auto fields) { out["sections"][section] = rows_of(fields); });
  return json_text(out) + "\n";
}

int run(const Options& options) {
  const std::string text =
      options.json
          ? json_of(options.section)
          : (options.section.empty()
                 ? "# Every number of a scenario\nMade by `leewheel fields -o docs/behaviour.md`. \"Assumed\" means "
                   "that we know of no published number.\n\n"
                 : "") +
                page(options.section);
  if (!options.output.empty())
    write_whole_file(options.output, text);
  else if (!options.quiet)
    fmt::print("{}", text);
  return exit_ok;
}

}  // namespace

Command add_fields_command(CLI::App& app) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("fields", "every number of a scenario: default, range, meaning, source");
  command->add_option("section", options->section, "only this section")
      ->check(one_of({"riders", "ride", "behaviour", "groups", "wind", "wake", "uncertainty", "trace", "reasons"}));
  command->add_option("-o,--out", options->output, "write to this file");
  add_former_name(*command, "--output", options->output);
  command->add_flag("--json", options->json, "as JSON instead of tables");
  command->add_flag("--quiet", options->quiet, "print nothing; files are still written");
  command->footer("Example:\n  leewheel fields behaviour");
  return [options] { return run(*options); };
}

}  // namespace leewheel
