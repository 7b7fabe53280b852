#include "vehicle/lane_response.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "vehicle/lane_engine.h"

namespace rollwright::vehicle {
namespace {

struct Record {
  std::vector<double> yaw_rate, lateral_acceleration, roll;
  double least_load = 1e300;
  bool is_lost = false;
};

}  // namespace

std::vector<std::optional<StepResponse>> step_steers(const std::vector<Plant>& plants, const StepOptions& options) {
  std::vector<std::optional<StepResponse>> out(plants.size());
  SteadyOptions turn;
  turn.speed = options.speed;
  const double ramp = options.ramp.si(), speed = options.speed.si();
  // Only cars that have the turn at all; a step that all of them bear.
  std::vector<std::pair<std::size_t, SteadyState>> able;
  double borne = options.step.si();
  for (std::size_t i = 0; i < plants.size(); ++i) {
    auto steady = SteadyTurn(plants[i], turn).at(options.lateral_acceleration);
    if (!steady) continue;
    able.emplace_back(i, *steady);
    borne = std::min(borne, coarsest_step(plants[i], speed));
  }
  const double step = ramp > 0.0 ? ramp / std::ceil(ramp / borne - 1e-9) : borne;
  LaneEngine engine;
  const auto steps = static_cast<std::size_t>(std::ceil(options.duration.si() / step - 1e-9));
  for (std::size_t first = 0; first < able.size(); first += kCars) {
    const std::size_t count = std::min<std::size_t>(kCars, able.size() - first);
    LaneCars cars{};
    std::array<Record, kCars> records;
    for (int i = 0; i < kCars; ++i) {
      engine.set(i, plants[able[first + std::min<std::size_t>(i, count - 1)].first]);
      cars.speed[i] = speed;
    }
    for (std::size_t n = 0; n <= steps; ++n) {
      // Whole steps in the ramp, so that its corners fall between steps.
      const double t = step * static_cast<double>(n), now = ramp > 0.0 ? std::min(t / ramp, 1.0) : 1.0;
      const double then = ramp > 0.0 ? std::min((t + step) / ramp, 1.0) : 1.0;
      for (std::size_t i = 0; i < count; ++i) {
        const double angle = able[first + i].second.steer.si();
        cars.steer[i] = angle * now;
        cars.steer_rate[i] = angle * (then - now) / step;
        records[i].yaw_rate.push_back(cars.state[kStateYawRate][i]);
        records[i].roll.push_back(cars.state[kStateRoll][i]);
        records[i].is_lost = records[i].is_lost || lost_lane(cars, static_cast<int>(i)) != nullptr;
      }
      engine.step(cars, step);
      for (std::size_t i = 0; i < count; ++i) {
        records[i].lateral_acceleration.push_back(cars.lateral_acceleration[i]);
        records[i].least_load = std::min(records[i].least_load, cars.least_load[i]);
      }
    }
    for (std::size_t i = 0; i < count; ++i) {
      const auto& [car, steady] = able[first + i];
      const Record& r = records[i];
      if (r.is_lost || r.roll.size() < 8 || !(std::abs(r.yaw_rate.back() / steady.yaw_rate.si() - 1.0) <= 0.2)) continue;
      StepResponse s;
      const double zero = 0.5 * ramp;
      s.steer = steady.steer;
      s.yaw_rate = measure_step(r.yaw_rate, step, steady.yaw_rate.si(), zero);
      s.lateral_acceleration = measure_step(r.lateral_acceleration, step, options.lateral_acceleration.si(), zero);
      s.roll = measure_step(r.roll, step, steady.roll.si(), zero);
      s.roll_after_lateral_acceleration = s.roll.rise_time - s.lateral_acceleration.rise_time;
      s.lateral_acceleration_after_yaw_rate = s.lateral_acceleration.rise_time - s.yaw_rate.rise_time;
      s.smallest_wheel_load = base::Force(r.least_load);
      out[car] = std::move(s);
    }
  }
  return out;
}

}  // namespace rollwright::vehicle
