#pragma once
/// What riders meet until the next time: wind, air, surface, and what the others' wakes make of it.

#include <span>
#include <vector>

#include "leewheel/ledger.hpp"
#include "leewheel/wake.hpp"
#include "model/riders.hpp"
#include "model/survey.hpp"
#include "model/track.hpp"

namespace leewheel {

class Airflow {
 public:
  Airflow(const Scenario& scenario, std::shared_ptr<const Survey> survey);
  const Wind& wind() const { return wind_; }
  /// Raises the gusts, once the track has been worked out in the mean wind.
  void start();

  /// Air density by the forecast, over the middle of the field.
  void look_at_density(const Riders& riders, std::span<const RiderIndex> order, double time_s);

  /// Wind, air, surface and wakes at every rider, taken from half-way through the coming `interval_s`.
  /// @param links  not null: who tows whom, for the ledger of debts
  void find(const Riders& riders, Air& air, const Track& track, std::span<const RiderIndex> order, double time_s,
            double interval_s, std::vector<WakeLink>* links);

 private:
  void meet(const Riders& riders, Air& air, const Track& track, RiderIndex i, std::size_t place, double half_interval_s);
  const Scenario& scenario_;
  const std::shared_ptr<const Survey> survey_;
  const WakeBase& wake_;  ///< of the scenario's law
  Wind wind_;
  Wind::Moment now_;         ///< at the middle of an interval; read where the wind is local
  bool local_wind_ = false;  ///< the open wind differs from rider to rider
  Eigen::Vector2d forecast_enu_mps_{0.0, 0.0};
  std::vector<std::vector<double>> density_factors_;  ///< by station, a minute each; empty: no forecast holds any of the air
  double density_factor_ = 1.0;
  // scratch of the wakes, in road order
  std::vector<double> x_m_, y_m_, area_m2_, along_mps_, cross_mps_, turbulence_, factor_, side_factor_;
};

}  // namespace leewheel
