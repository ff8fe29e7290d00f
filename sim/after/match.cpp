#include "after/match.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leewheel {

namespace {

// All assumed; docs/debrief.md says what each is for.
constexpr double node_m = 15.0;       // points nearer than this to the one before are placed later
constexpr double most_back_m = 10.0;  // a place may fall back by so much: noise
constexpr double fastest_mps = 30.0;
constexpr std::size_t look_back = 150;  // nodes that may be left out in a row
constexpr double place_sd_m = 8.0;
constexpr double wrong_way_cost = 4.0, leave_out_cost = 6.0, leave_on_cost = 1.0, edge_cost = 2.0;

/// A point that has moved on, with every place of the road near it.
struct Node {
  std::size_t point;
  double way_m;  ///< flown since the first node
  Eigen::Vector2d heading;
  std::vector<RoadMap::Near> places;
};

std::vector<Node> nodes_of(const RoadMap& map, const Recording& recording) {
  std::vector<Node> nodes;
  std::vector<Eigen::Vector2d> at_m;
  double way_m = 0.0;
  Eigen::Vector2d last(0.0, 0.0);
  for (std::size_t i = 0; i < recording.points.size(); ++i) {
    if (std::isnan(recording.points[i].latitude_deg) || std::isnan(recording.points[i].longitude_deg)) continue;
    const Eigen::Vector2d here = map.place_of(recording.points[i]);
    if (!at_m.empty() && (here - last).norm() < node_m) continue;
    if (!at_m.empty()) way_m += (here - last).norm();
    last = here;
    at_m.push_back(here);
    nodes.push_back({i, way_m, {0.0, 0.0}, map.near(here)});
  }
  for (std::size_t k = 0; k < nodes.size() && nodes.size() > 1; ++k)
    nodes[k].heading = (at_m[std::min(k + 1, at_m.size() - 1)] - at_m[k > 0 ? k - 1 : 0]).normalized();
  std::erase_if(nodes, [](const Node& node) { return node.places.empty(); });
  return nodes;
}

double place_cost(const RoadMap& map, const Node& node, const RoadMap::Near& place) {
  const double off = place.off_m / place_sd_m;
  return 0.5 * off * off + wrong_way_cost * (1.0 - node.heading.dot(map.direction(place.distance_m)));
}

double step_cost(const Recording& recording, const Node& from, double from_m, const Node& to, double to_m) {
  const double step_m = to_m - from_m, flown_m = to.way_m - from.way_m;
  if (step_m < -most_back_m) return std::numeric_limits<double>::infinity();
  const double u = std::abs(step_m - flown_m) / (10.0 + 0.15 * flown_m);
  const double passed_s = recording.points[to.point].time_s - recording.points[from.point].time_s;
  return (u < 3.0 ? 0.5 * u * u : 3.0 * u - 4.5) + (step_m > fastest_mps * passed_s + node_m ? 50.0 : 0.0);
}

double left_out_cost(std::size_t count) {
  return leave_out_cost * static_cast<double>(std::min<std::size_t>(count, 8)) +
         leave_on_cost * static_cast<double>(count > 8 ? count - 8 : 0);
}

/// The cheapest chain of places through the nodes (Viterbi 1967, IEEE Trans. Inf. Theory 13:260); NaN where a node is left out.
std::vector<double> cheapest_chain(const RoadMap& map, const Recording& recording, const std::vector<Node>& nodes) {
  struct Best {
    double cost;
    std::ptrdiff_t node, place;
  };
  std::vector<std::vector<Best>> best(nodes.size());
  Best end{edge_cost * static_cast<double>(nodes.size()), -1, -1};
  for (std::size_t j = 0; j < nodes.size(); ++j) {
    for (const RoadMap::Near& to : nodes[j].places) {
      Best here{edge_cost * static_cast<double>(j), -1, -1};
      for (std::size_t i = j; i-- > (j > look_back ? j - look_back : 0);) {
        const double left_out = left_out_cost(j - i - 1);
        for (std::size_t a = 0; a < nodes[i].places.size(); ++a) {
          if (best[i][a].cost + left_out >= here.cost) continue;
          const double cost = best[i][a].cost + left_out +
                              step_cost(recording, nodes[i], nodes[i].places[a].distance_m, nodes[j], to.distance_m);
          if (cost < here.cost) here = {cost, static_cast<std::ptrdiff_t>(i), static_cast<std::ptrdiff_t>(a)};
        }
      }
      here.cost += place_cost(map, nodes[j], to);
      const double total = here.cost + edge_cost * static_cast<double>(nodes.size() - 1 - j);
      best[j].push_back(here);
      if (total < end.cost) end = {total, static_cast<std::ptrdiff_t>(j), static_cast<std::ptrdiff_t>(best[j].size()) - 1};
    }
  }
  std::vector<double> chain(nodes.size(), not_recorded);
  for (Best at = end; at.node >= 0; at = best[static_cast<std::size_t>(at.node)][static_cast<std::size_t>(at.place)])
    chain[static_cast<std::size_t>(at.node)] =
        nodes[static_cast<std::size_t>(at.node)].places[static_cast<std::size_t>(at.place)].distance_m;
  return chain;
}

/// Every point between two nodes lies between their places, a little beyond for noise.
void place_between(const RoadMap& map, const Recording& recording, std::size_t from, std::size_t to, double from_m,
                   double to_m, std::vector<double>& distance_m) {
  constexpr double beyond_m = 20.0;
  for (std::size_t i = from; i <= to; ++i) {
    if (std::isnan(recording.points[i].latitude_deg) || std::isnan(recording.points[i].longitude_deg)) continue;
    const RoadMap::Near found = map.nearest(map.place_of(recording.points[i]), from_m - beyond_m, to_m + beyond_m);
    if (found.off_m <= on_road_m) distance_m[i] = found.distance_m;
  }
}

Recording reversed(const Recording& recording) {
  Recording back = recording;
  std::reverse(back.points.begin(), back.points.end());
  for (RecordedPoint& p : back.points) p.time_s = -p.time_s;
  return back;
}

}  // namespace

std::vector<double> matched_distances_m(const RoadMap& map, const Recording& recording) {
  std::vector<double> distance_m(recording.points.size(), not_recorded);
  if (std::none_of(recording.points.begin(), recording.points.end(),
                   [](const RecordedPoint& p) { return !std::isnan(p.latitude_deg); })) {
    for (std::size_t i = 0; i < distance_m.size(); ++i) {
      const double at_m = recording.points[i].distance_m;
      if (at_m >= -on_road_m && at_m <= map.length_m() + on_road_m) distance_m[i] = std::clamp(at_m, 0.0, map.length_m());
    }
    return distance_m;
  }
  const std::vector<Node> nodes = nodes_of(map, recording);
  const std::vector<double> chain = cheapest_chain(map, recording, nodes);
  std::size_t last = nodes.size();
  for (std::size_t k = 0; k < nodes.size(); ++k) {
    if (std::isnan(chain[k])) continue;
    const double before_m = last < nodes.size() ? chain[last] : chain[k] - node_m;
    const std::size_t from = last < nodes.size() ? nodes[last].point : nodes[k].point;
    const bool turned_back = last < nodes.size() && k - last > 8;  // what was left out lay elsewhere
    if (!turned_back) place_between(map, recording, from, nodes[k].point, before_m, chain[k], distance_m);
    last = k;
  }
  if (last < nodes.size())
    place_between(map, recording, nodes[last].point, recording.points.size() - 1, chain[last], chain[last] + node_m,
                  distance_m);
  return distance_m;
}

double share_backwards(const RoadMap& map, const Recording& recording) {
  const Recording back = reversed(recording);
  const std::vector<double> placed_m = matched_distances_m(map, back);
  const auto on = std::count_if(placed_m.begin(), placed_m.end(), [](double m) { return !std::isnan(m); });
  return static_cast<double>(on) / static_cast<double>(placed_m.size());
}

}  // namespace leewheel
