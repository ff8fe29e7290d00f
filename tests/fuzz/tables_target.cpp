/// Tables as CSV: a forecast, or the recording of a ride.

#include "fuzz/fuzz.hpp"
#include "io/forecast_section.hpp"
#include "io/recording_reader.hpp"

void fuzz::begin() {}

bool fuzz::take(std::string_view bytes) {
  const std::string path = put("table.csv", bytes);
  const bool ridden = accepts(
      [](const std::string& csv) {
        std::vector<std::string> remarks;
        leewheel::read_recording(csv, "Ada", remarks);
      },
      path);
  const bool forecast = accepts(
      [](const std::string& csv) {
        leewheel::Faults faults;
        leewheel::read_forecast_csv(csv, {}, faults);
        faults.throw_if_any();
      },
      path);
  return ridden || forecast;
}
