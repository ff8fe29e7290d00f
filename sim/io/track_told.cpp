/// What is told of a track: mendings, remarks and faults, each with its point and kilometre.

#include <fmt/format.h>

#include <algorithm>

#include "io/track_steps.hpp"

namespace leewheel {

Track::Track(std::string file_path, TrackOptions asked, GpxFile file)
    : path(std::move(file_path)), options(asked), points(std::move(file.points)), waypoints(std::move(file.waypoints)) {
  for (const PointFault& wrong : file.faults) fault(wrong.at, wrong.field, wrong.what);
  measure();
}

void Track::tell(const Mended& mended, const std::string& what) {
  if (mended.count > 0) told_.push_back({mended.first_point, mended.first_line, "", what, mended.count});
}

void Track::remark(const std::string& line) { told_.push_back({0, 0, "", line}); }

void Track::fault(const TrackPoint& point, const std::string& field, const std::string& what) {
  faults_.push_back({point.number, point.line, field, what});
}

std::string Track::named(std::string option) const {
  if (!options.typed) return option;
  std::replace(option.begin(), option.end(), '_', '-');
  return "--" + option;
}

void Track::keep_faults_within(double from_m, double to_m) {
  std::erase_if(faults_, [&](const Said& said) {
    TrackPoint at{};
    at.number = said.point;
    return said.point > 0 && (along_m(at) < from_m || along_m(at) > to_m);
  });
}

void Track::measure() {
  numbers_.clear();
  along_m_.clear();
  for (std::size_t i = 0; i < points.size(); ++i) {
    numbers_.push_back(points[i].number);
    along_m_.push_back(i == 0 ? 0.0 : along_m_.back() + gap_m(points[i - 1], points[i]));
  }
}

double Track::along_m(const TrackPoint& point) const {
  const auto next = std::upper_bound(numbers_.begin(), numbers_.end(), point.number) - numbers_.begin();
  return along_m_[static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, next - 1))];
}

std::string Track::place_of(int point) const {
  TrackPoint at{};
  at.number = point;
  return along_m_.empty() ? fmt::format("point {}", point) : fmt::format("point {}, km {:.2f}", point, along_m(at) / 1e3);
}

std::vector<std::string> Track::told() const {
  std::vector<std::string> lines;
  for (const Said& said : told_)
    lines.push_back(said.point == 0 ? said.what
                                    : fmt::format("{} x {} (first at {}, line {})", said.count, said.what,
                                                  place_of(said.point), said.line));
  return lines;
}

void Track::throw_if_any() const {
  if (faults_.empty()) return;
  std::vector<Said> sorted = faults_;
  std::stable_sort(sorted.begin(), sorted.end(), [](const Said& a, const Said& b) { return a.point < b.point; });
  Faults faults;
  for (const Said& said : sorted)
    faults.add({path, said.line, 0,
                said.point == 0 ? said.field : place_of(said.point) + (said.field.empty() ? "" : ", " + said.field),
                said.what});
  faults.throw_if_any();
}

}  // namespace leewheel
