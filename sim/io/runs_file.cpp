#include "io/runs_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cstring>
#include <nlohmann/json.hpp>
#include <string_view>

#include "io/atomic_file.hpp"
#include "io/fault.hpp"
#include "io/json_number.hpp"
#include "io/text_file.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

constexpr int runs_layout = 3;  // 2: who climbs freely has not come off; 3: a line for each run
constexpr const char* layout_key = "leewheel_spread_runs";

std::string line_of(const Json& json) { return json_text(json, -1) + "\n"; }

std::string head_line(const KeptRuns& kept) {
  return line_of({{layout_key, runs_layout},
                  {"program", kept.program},
                  {"scenario_digest", fmt::format("{:016x}", kept.digest)},
                  {"seed", kept.seed},
                  {"runs", kept.asked},
                  {"part", kept.part.text()}});
}

std::string run_line(std::size_t number, const RunOutcome& run) {
  if (!run.done) return line_of({{"n", number}, {"failed", run.failed}});
  Json riders = Json::array();
  for (const RiderOutcome& r : run.riders)
    riders.push_back({r.finished ? 1 : 0, r.time_s, r.wbal_end_J, r.saved_J, r.drops, r.dropped_at_m});
  return line_of({{"n", number}, {"riders", std::move(riders)}, {"whole", run.whole_share}, {"largest", run.largest_share}});
}

RunOutcome run_of(const Json& one) {
  RunOutcome run;
  if (one.contains("failed")) {
    run.failed = one.at("failed").get<std::string>();
    return run;
  }
  for (const Json& r : one.at("riders"))
    run.riders.push_back({r.at(0).get<int>() != 0, r.at(1).get<double>(), r.at(2).get<double>(), r.at(3).get<double>(),
                          r.at(4).get<std::int32_t>(), r.at(5).get<double>()});
  run.whole_share = one.at("whole").get<std::vector<double>>();
  run.largest_share = one.at("largest").get<std::vector<double>>();
  run.done = true;
  return run;
}

/// Takes up the lines of one file.
class Lines {
 public:
  Lines(const std::string& path, KeptRuns& kept, std::size_t riders, std::size_t stretches)
      : path_(path), kept_(kept), riders_(riders), stretches_(stretches) {}

  void take(std::string_view line) {
    ++line_;
    try {
      const Json one = Json::parse(line);
      if (one.contains(layout_key))
        take_head(one);
      else if (line_ == 1)
        refuse_file();
      else
        take_run(one);
    } catch (const Json::exception&) {
      if (line_ == 1) refuse_file();
      refuse("found no run of leewheel spread, expected a line that it wrote");
    }
  }
  const RunsHead& head() const { return head_; }

 private:
  [[noreturn]] void refuse(const std::string& what) const { throw InputFault(Fault{path_, line_, 0, "", what}); }
  [[noreturn]] void refuse_file() const {
    throw InputFault(Fault{path_, 0, 0, "", "found no runs of leewheel spread, expected the file that it wrote"});
  }

  void take_head(const Json& head) {
    const auto expect = [&](const std::string& what, const auto& found, const auto& expected) {
      if (found != expected) refuse(fmt::format("found runs of {} {}, expected {}", what, found, expected));
    };
    expect("layout", head.at(layout_key).get<int>(), runs_layout);
    expect("version", head.at("program").get<std::string>(), kept_.program);
    const auto digest = head.at("scenario_digest").get<std::string>(), expected = fmt::format("{:016x}", kept_.digest);
    if (digest != expected)
      refuse(
          fmt::format("found runs of another scenario, or of this one before it was changed (the step counts too): "
                      "digest {}, expected {}",
                      digest, expected));
    expect("seed", head.at("seed").get<std::uint64_t>(), kept_.seed);
    head_.asked = std::max(head_.asked, std::min(most_runs, head.at("runs").get<std::size_t>()));
    head_.part = RunsPart::from(head.at("part").get<std::string>());
    if (head_.part.of == 0) refuse_file();
  }

  void take_run(const Json& one) {
    const auto n = one.at("n").get<std::uint64_t>();
    RunOutcome run = run_of(one);
    if (n >= most_runs) refuse(fmt::format("found run {}, expected one below {}", n, most_runs));
    if (run.done &&
        (run.riders.size() != riders_ || run.whole_share.size() != stretches_ || run.largest_share.size() != stretches_))
      refuse("found a run with other riders or stretches, expected the scenario's");
    if (n >= kept_.runs.size()) kept_.runs.resize(n + 1);
    RunOutcome& place = kept_.runs[n];
    if (place.done && run.done && place != run)
      refuse(fmt::format("found run {} with other numbers than it was taken up with before, expected the same", n));
    if (!place.done) place = std::move(run);
  }

  const std::string& path_;
  KeptRuns& kept_;
  std::size_t riders_, stretches_;
  int line_ = 0;
  RunsHead head_;
};

std::size_t whole_number(std::string_view text) {
  std::size_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc{} && end == text.data() + text.size() ? value : 0;
}

/// Up to and with the last end of a line.
std::size_t whole_lines(std::string_view text) {
  const std::size_t end = text.rfind('\n');
  return end == std::string_view::npos ? 0 : end + 1;
}

constexpr std::size_t most_bytes = std::size_t{4} << 30;

}  // namespace

std::string RunsPart::text() const { return fmt::format("{}/{}", number, of); }

RunsPart RunsPart::from(const std::string& text) {
  const std::size_t stroke = text.find('/');
  if (stroke == std::string::npos) return {0, 0};
  const RunsPart part{whole_number(text.substr(0, stroke)), whole_number(text.substr(stroke + 1))};
  const bool is_one = part.number >= 1 && part.number <= part.of && part.of <= most_runs;
  return is_one ? part : RunsPart{0, 0};
}

std::string text_of(const KeptRuns& kept) {
  std::string text = head_line(kept);
  for (std::size_t n = 0; n < kept.runs.size(); ++n)
    if (kept.runs[n].done || !kept.runs[n].failed.empty()) text += run_line(n, kept.runs[n]);
  return text;
}

RunsHead take_up(const std::string& path, KeptRuns& kept, std::size_t riders, std::size_t stretches) {
  const std::string text = read_whole_file(path, most_bytes);
  Lines lines(path, kept, riders, stretches);
  const std::size_t end = whole_lines(text);
  if (end == 0 && !text.empty()) lines.take(text);
  for (std::size_t at = 0; at < end;) {
    const std::size_t next = text.find('\n', at);
    lines.take(std::string_view(text).substr(at, next - at));
    at = next + 1;
  }
  return lines.head();
}

RunsFile::RunsFile(std::string path, Opened how)
    : path_(std::move(path)),
      file_(open(path_.c_str(), O_RDWR | O_APPEND | O_CLOEXEC | (how == Opened::anew ? O_CREAT : 0), 0666)) {
  const auto refuse = [&](const std::string& what) {
    if (file_ >= 0) close(file_);
    throw InputFault(Fault{path_, 0, 0, "", what});
  };
  if (file_ < 0 && errno == ENOENT && how == Opened::to_go_on) refuse("not found, expected a file");
  if (file_ < 0 && errno == EISDIR) refuse("found a folder, expected a file");
  if (file_ < 0) refuse(std::string("cannot be written: ") + std::strerror(errno));
  if (flock(file_, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK)
    refuse("runs are being written to it, expected another file or to wait for their end");
  if (how == Opened::anew && ftruncate(file_, 0) != 0) refuse(std::string("cannot be written: ") + std::strerror(errno));
}

RunsFile::~RunsFile() { close(file_); }

void RunsFile::begin(const KeptRuns& kept) {
  const std::string text = read_whole_file(path_, most_bytes);
  const std::size_t whole = whole_lines(text);
  if (whole < text.size() && ftruncate(file_, static_cast<off_t>(whole)) != 0)
    throw InputFault(Fault{path_, 0, 0, "", std::string("cannot be written: ") + std::strerror(errno)});
  append(head_line(kept));
}

void RunsFile::add(std::size_t number, const RunOutcome& run) { append(run_line(number, run)); }

void RunsFile::end(const KeptRuns& kept) { write_whole_file(path_, text_of(kept)); }

void RunsFile::append(const std::string& line) {
  const ssize_t written = write(file_, line.data(), line.size());
  if (written == static_cast<ssize_t>(line.size())) return;
  throw WriteFault(Fault{path_, 0, 0, "", "cannot be written; is the disk full or the folder gone?"});
}

}  // namespace leewheel
