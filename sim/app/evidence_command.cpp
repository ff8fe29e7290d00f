#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "app/commands.hpp"
#include "evidence/fit.hpp"
#include "evidence/model_page.hpp"
#include "evidence/pictures.hpp"
#include "evidence/report.hpp"
#include "io/atomic_file.hpp"

namespace leewheel {

namespace {

using namespace evidence;

struct EvidenceOptions {
  std::vector<std::string> groups, rows;
  std::string page, tables, pictures;
  bool json = false, quiet = false, strict = false, fit = false;
};

void keep_only(std::vector<Group>& groups, const std::vector<std::string>& wanted) {
  std::vector<std::string> names;
  for (const Group& group : groups)
    if (std::find(names.begin(), names.end(), group.name) == names.end()) names.push_back(group.name);
  for (const std::string& name : wanted)
    if (std::find(names.begin(), names.end(), name) == names.end())
      throw InputFault({"--group", 0, 0, "", fmt::format("found '{}', expected one of {}", name, fmt::join(names, ", "))});
  if (!wanted.empty())
    std::erase_if(groups, [&](const Group& g) { return std::find(wanted.begin(), wanted.end(), g.name) == wanted.end(); });
}

int run(const EvidenceOptions& options) {
  const std::vector<Group> built_in = built_in_groups();
  if (options.fit) {
    const Fit fit = fit_wake(built_in);
    if (!options.quiet) fmt::print("{}", options.json ? fit_json(fit) : fit_text(fit));
    return fit.shipped_agree() ? exit_ok : exit_answer_no;
  }
  const bool writes = !options.page.empty() || !options.tables.empty() || !options.pictures.empty();
  if (writes) {
    const std::vector<JudgedGroup> book = judge(built_in);
    if (!options.page.empty()) write_whole_file(options.page, book_page(book));
    if (!options.tables.empty()) write_whole_file(options.tables, with_fresh_tables(options.tables, fit_wake(built_in)));
    if (!options.pictures.empty()) write_pictures(options.pictures, book);
    return exit_ok;
  }
  std::vector<Group> groups = built_in;
  for (const std::string& path : options.rows) {
    std::vector<Fault> remarks;
    groups.push_back(read_group(path, &remarks));
    for (const Fault& remark : remarks) fmt::print(stderr, "leewheel: {}\n", remark.text());
  }
  keep_only(groups, options.groups);
  const std::vector<JudgedGroup> book = judge(groups);
  if (!options.quiet) fmt::print("{}", options.json ? book_json(book) : book_text(book));
  const bool out = count(book, Verdict::out_of_band) > 0 || (options.strict && count(book, Verdict::out_with_reason) > 0);
  return out ? exit_answer_no : exit_ok;
}

}  // namespace

Command add_evidence_command(CLI::App& app) {
  const auto options = std::make_shared<EvidenceOptions>();
  CLI::App* const command = app.add_subcommand(
      "evidence",
      "compare every published number with ours; exit code 1 when one is out of its band without a written reason");
  command->add_option("--group", options->groups,
                      "only this group: power, air, wind, drafting, physiology, groups, or one from --rows");
  command->add_option("--rows", options->rows, "further rows (YAML, docs/evidence_rows.md)");
  command->add_flag("--json", options->json, "print JSON");
  command->add_flag("--quiet", options->quiet, "print nothing; the exit code gives the answer");
  command->footer("Examples:\n  leewheel evidence --group drafting\n  leewheel evidence --fit");
  command->add_flag("--strict", options->strict, "count rows out of band even if they have a written reason");
  command->add_flag("--fit", options->fit,
                    "fit the wake model to its fitted rows and compare the coefficients with the shipped ones");
  command->add_option("--write-page", options->page,
                      "write the comparison as a page (docs/evidence.md) instead of printing it");
  command->add_option("--write-tables", options->tables, "update the tables inside a page (docs/model.md)");
  command->add_option("--pictures", options->pictures, "draw the pictures of drafting into this folder (docs/pictures)");
  return [options] { return run(*options); };
}

}  // namespace leewheel
