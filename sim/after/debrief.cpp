/// The debrief as a whole: ways, company, the fit, the numbers, where the time went.

#include "leewheel/debrief.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cassert>
#include <cmath>

#include "after/company.hpp"
#include "after/debrief_parts.hpp"
#include "after/numbers.hpp"
#include "after/ridden_samples.hpp"
#include "after/strength_told.hpp"

namespace leewheel {

namespace {

FitPriors priors_of(const Uncertainty& uncertainty, bool described) {
  FitPriors priors;
  priors.rolling_share = std::max(0.02, uncertainty.rolling_share);
  if (described)
    priors.mass_kg = std::max(0.2, uncertainty.mass_kg);
  else
    priors.drag_area_share = FitPriors::drag_area_share_of_anybody;  // of their mass: widen_by_mass
  return priors;
}

/// Numbers of one rider before and after the fit.
RiderNumbers numbers_before(const RiderSettings& rider) {
  RiderNumbers numbers;
  numbers.mass_kg = rider.total_mass_kg();
  return numbers;
}
RiderNumbers numbers_after(const RiderSettings& rider, const Fit& fit, std::size_t index) {
  RiderNumbers numbers = numbers_before(rider);
  numbers.drag_area = fit.value(Learnt::drag_area, index, 1.0);
  numbers.mass_kg = fit.value(Learnt::mass, index, numbers.mass_kg);
  for (std::size_t s = 0; s < numbers.rolling.size(); ++s) numbers.rolling[s] = fit.value(Learnt::rolling, s, 1.0);
  return numbers;
}

std::vector<std::size_t> unrecorded_of(const DebriefInput& input) {
  std::vector<std::size_t> missing;
  for (std::size_t r = 0; r < input.scenario.riders.size(); ++r)
    if (std::find(input.recorded.begin(), input.recorded.end(), r) == input.recorded.end()) missing.push_back(r);
  return missing;
}

class Work {
 public:
  explicit Work(const DebriefInput& input)
      : input_(input), air_(input.scenario), plan_(ride_plan(input.scenario)), ridden_(ways_of(input)) {}

  Debrief done() {
    out_.planned = input_.planned;
    out_.begin_s = input_.recordings.front().dated ? ridden_.zero_s : 0.0;
    out_.unrecorded = unrecorded_of(input_);
    spans_ = together(ridden_.ways);
    learn();
    out_.riders.resize(input_.recordings.size());
    tbb::parallel_for(std::size_t{0}, out_.riders.size(), [&](std::size_t k) { out_.riders[k] = rider_told(k); });
    tell_company();
    std::vector<RecordedRider> recorded;
    for (std::size_t k = 0; k < ridden_.ways.size(); ++k) recorded.push_back({&rider(k), &ridden_.ways[k]});
    out_.ridden = ridden_samples(air_, recorded, spans_, fit_.wind());
    return std::move(out_);
  }

 private:
  const RiderSettings& rider(std::size_t k) const { return input_.scenario.riders[input_.recorded[k]]; }

  void learn() {
    std::vector<RiddenForFit> riders;
    std::vector<double> saved;
    for (std::size_t k = 0; k < ridden_.ways.size(); ++k) {
      const PlannedRider& planned = plan_.riders[input_.recorded[k]];
      const std::vector<bool> with = in_company(ridden_.ways, spans_, k);
      company_.push_back(company_of(ridden_.ways[k], planned, with, nearest_m(ridden_.ways, k), input_.alone[k],
                                    !out_.unrecorded.empty() && input_.planned));
      if (ridden_.notes[k].teaches)
        riders.push_back({rider(k), &ridden_.ways[k], company_[k].saved_share, company_[k].alone}), taught_.push_back(k);
      if (ridden_.notes[k].teaches) saved.push_back(planned.usual_saved_share);
    }
    const FitPriors priors = priors_of(input_.scenario.uncertainty, input_.planned);
    if (!riders.empty()) fit_ = fit_numbers(air_, riders, priors);
    if (!input_.planned && !fit_.numbers.empty())
      widen_by_mass(air_, riders, priors, input_.scenario.uncertainty.mass_kg, fit_);
    changed_ = fit_.numbers.empty() ? fit_ : fit_changes(air_, riders, fit_, priors);
    out_.misfit = fit_.numbers.empty() ? 0.0 : fit_.misfit;
    out_.blocks = fit_.blocks;
    std::vector<std::size_t> of_scenario;
    for (const std::size_t k : taught_) of_scenario.push_back(input_.recorded[k]);
    if (fit_.numbers.empty()) return;
    out_.numbers = numbers_of(fit_, air_, of_scenario, saved);
    if (std::any_of(out_.numbers.begin(), out_.numbers.end(),
                    [](const LearnedNumber& n) { return n.wants == Missing::impossible; }))
      fit_ = changed_ = nothing_learned(fit_);
  }

  std::vector<std::size_t> of_scenario(std::vector<std::size_t> recordings) const {
    for (std::size_t& k : recordings) k = input_.recorded[k];
    return recordings;
  }

  /// Index of a recording in the fit; one that no number has where it taught nothing.
  std::size_t in_fit(std::size_t k) const {
    const auto found = std::find(taught_.begin(), taught_.end(), k);
    return static_cast<std::size_t>(found - taught_.begin());
  }

  RiderDebrief rider_told(std::size_t k) const {
    RiderDebrief told;
    told.rider = input_.recorded[k], told.recording = k, told.notes = ridden_.notes[k];
    const RiddenWay& way = ridden_.ways[k];
    const std::size_t index = in_fit(k);
    if (index < fit_.used_s.size()) told.alone_s = fit_.alone_s[index], told.used_s = fit_.used_s[index];
    const PlannedRider& planned = plan_.riders[told.rider];
    const double company = changed_.value(Learnt::company, index, 1.0);
    std::vector<float> factor;
    for (const float saved : company_[k].saved_share)
      factor.push_back(static_cast<float>(std::max(0.05, 1.0 - company * saved)));
    std::vector<double> power_W = way.power_W;
    const double scale = changed_.value(Learnt::power_scale, index, 1.0);
    for (double& p : power_W) p /= scale;
    const std::vector<Stand> stood = stands(way);
    PaceProfile profile =
        profile_of({way.distance_m, way.speed_mps, power_W, factor, stood}, input_.scenario.road.length_m());
    close_profile(way, input_.scenario.road.length_m(), profile);
    stand_before_landmarks(input_.scenario.road, profile);
    if (!input_.planned || !compare(planned, profile, told))
      told.from_m = profile.start_m, told.to_m = profile.end_m;
    else
      part(planned, profile, numbers_after(rider(k), changed_, index), index, told);
    const double reached_s = way.arrival_s(told.to_m - 1e-6);  // none where the recording ends a little before the finish
    told.ridden_s = (std::isnan(reached_s) ? way.end_s() : reached_s) - std::max(0.0, way.arrival_s(told.from_m));
    if (!told.along.ridden_s.empty()) told.ridden_s = told.along.ridden_s.back() - told.along.ridden_s.front();
    tell_sums(way, planned, input_.scenario.road, in_company(ridden_.ways, spans_, k), told);
    for (const Stand& stand : stood)
      told.stands.push_back({stand.at_m, stand.from_s, stand.stood_s(), planned_stand_s(planned, stand.at_m),
                             of_scenario(stood_until(ridden_.ways, k, stand))});
    told.strength = strength(k, index);
    told.heart = heart_told(way);
    return told;
  }

  StrengthTold strength(std::size_t k, std::size_t index) const {
    const auto said = std::find_if(input_.all_out.begin(), input_.all_out.end(),
                                   [&](const AllOut& one) { return one.rider == input_.recorded[k]; });
    const FittedNumber* const meter = fit_.find(Learnt::power_scale, index);
    StrengthTold told =
        strength_told(ridden_.ways[k], rider(k), input_.scenario.uncertainty,
                      said == input_.all_out.end() ? std::nullopt : std::optional(*said),
                      fit_.value(Learnt::power_scale, index, 1.0), meter ? meter->after_sd : FitPriors{}.power_scale);
    told.power_scale_used = meter != nullptr;
    return told;
  }

  /// False when plan and ride have no part of the road in common.
  bool compare(const PlannedRider& planned, PaceProfile& profile, RiderDebrief& told) const {
    told.from_m = std::max(planned.profile.start_m, profile.start_m);
    told.to_m = std::min(planned.profile.end_m, profile.end_m);
    return told.to_m - told.from_m > 10.0 * cell_length_m;
  }

  void part(const PlannedRider& planned, PaceProfile& profile, const RiderNumbers& learned, std::size_t index,
            RiderDebrief& told) const {
    const RiderSettings& settings = input_.scenario.riders[told.rider];
    PaceProfile plan = planned.profile;
    const RiderResult& result = plan_.result.riders[told.rider];
    if (result.finished) plan.arrival_s.back() = result.finish_time_s;
    stand_before_landmarks(input_.scenario.road, plan);
    told.power_share = take_effort_of_plan(plan, told.from_m, told.to_m, profile);
    BothRides both{&settings, plan,        profile,  profile.drag_factor, changed_.wind(), numbers_before(settings),
                   learned,   told.from_m, told.to_m};
    both.scale_doubt = fit_.value(Learnt::power_scale, index, 1.0) - changed_.value(Learnt::power_scale, index, 1.0);
    TimeParted parted = part_time(air_, both, fit_, index);
    told.along = std::move(parted.along);
    told.part_s = parted.part_s, told.part_sd_s = parted.part_sd_s;
    told.planned_s = told.along.planned_s.back() - told.along.planned_s.front();
    told.told = told_parts(told.part_s, told.part_sd_s, told.planned_s);
    told.told[static_cast<std::size_t>(Factor::effort)] &= told.has_part(Factor::effort);
    told.stretches = stretches_told(input_.scenario.road, told.along);
  }

  void tell_company() {
    for (const TogetherSpan& s : spans_)
      out_.company.push_back({input_.recorded[s.a], input_.recorded[s.b], s.from_s, s.to_s,
                              ridden_.ways[s.a].distance_at_m(s.from_s), ridden_.ways[s.a].distance_at_m(s.to_s)});
    const WindChange change = fit_.wind();
    for (const CameOff& c : came_off(ridden_.ways, spans_)) {
      DebriefCameOff told{input_.recorded[c.rider], {}, c.at_m, c.time_s, 0.0, 0.0, c.power_minute_W, c.back_s};
      for (const std::uint32_t other : c.from) told.from.push_back(input_.recorded[other]);
      told.back_with = input_.recorded[c.back_with];
      const Road& road = input_.scenario.road;
      const double from_m = std::max(0.0, c.at_m - 50.0), to_m = std::min(road.length_m(), c.at_m + 50.0);
      told.grade = (road.elevation_m(to_m) - road.elevation_m(from_m)) / (to_m - from_m);
      told.head_mps = -air_.wind(c.at_m, air_.forecast_enu_mps(c.at_m, c.time_s) + change.at(c.time_s)).along_mps;
      out_.came_off.push_back(std::move(told));
    }
  }

  const DebriefInput& input_;
  RideAir air_;
  PlannedRide plan_;
  RiddenWays ridden_;
  std::vector<TogetherSpan> spans_;
  std::vector<Company> company_;     // by recording
  std::vector<std::size_t> taught_;  // recordings in the fit
  Fit fit_, changed_;                // of all numbers; of those alone whose change is asked for
  Debrief out_;
};

}  // namespace

Debrief debrief(const DebriefInput& input) {
  assert(input.recorded.size() == input.recordings.size() && input.alone.size() == input.recordings.size());
  return Work(input).done();
}

}  // namespace leewheel
