#include "leewheel/trace.hpp"

namespace leewheel {

namespace {
constexpr SampleColumn columns[] = {
    {"distance_m", &RideSample::distance_m, "m", "front wheel's distance from the start, along the road surface"},
    {"lateral_m", &RideSample::lateral_m, "m", "place across the road, > 0 left of its middle"},
    {"speed_mps", &RideSample::speed_mps, "m/s", "speed along the road"},
    {"power_W", &RideSample::power_W, "W", "power at the cranks"},
    {"alone_power_W", &RideSample::alone_power_W, "W", "power the same motion would cost without the others' lee"},
    {"lee_factor", &RideSample::lee_factor, "1", "drag over drag alone; 1 is no shelter"},
    {"side_force_N", &RideSample::side_force_N, "N", "size of the side force of the wind"},
    {"wbal_J", &RideSample::wbal_J, "J", "work above critical power that is left (W')"},
    {"group_id", &RideSample::group_id, "1", "group the rider is in, -1 when alone"},
    {"role", &RideSample::role, "1", "what the rider is doing; the attribute names tells the numbers"},
    {"wheel_of", &RideSample::wheel_of, "1", "index of the rider whose wheel is followed, -1 for none"},
    {"gap_m", &RideSample::gap_m, "m", "wheel gap to the rider ahead on the road"},
    {"wind_along_mps", &RideSample::wind_along_mps, "m/s", "wind at the rider along the road, gust included, > 0 pushes on"},
    {"wind_cross_mps", &RideSample::wind_cross_mps, "m/s",
     "wind at the rider across the road, gust included, > 0 towards the left"},
    {"drag_area_m2", &RideSample::drag_area_m2, "m2", "drag area CdA of the present posture, alone"},
    {"saved_J", &RideSample::saved_J, "J", "work saved by the others' lee since the start"},
    {"pedal_J", &RideSample::pedal_J, "J", "work at the cranks since the start"},
    {"gravity_W", &RideSample::gravity_W, "W", "power into height"},
    {"air_W", &RideSample::air_W, "W", "power into the air, < 0 while a tailwind pushes"},
    {"rolling_W", &RideSample::rolling_W, "W", "power into the tyres and bearings"},
    {"kinetic_W", &RideSample::kinetic_W, "W", "power into speed, < 0 while slowing"},
    {"heart_rate_share", &RideSample::heart_rate_share, "1",
     "heart rate as a share of the highest, settling behind the power; from memory, +-40 %"},
};
}  // namespace

std::span<const SampleColumn> sample_columns() { return columns; }

}  // namespace leewheel
