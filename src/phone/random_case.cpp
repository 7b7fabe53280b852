#include "phone/random_case.h"

#include <cmath>
#include <numbers>

#include "base/random.h"
#include "base/units.h"

namespace rollwright::phone {

namespace {
constexpr double kDegree = std::numbers::pi / 180.0;
constexpr double kDegPerG = base::unit::deg_per_g.si_per_unit;
}  // namespace

RandomCase draw_case(Family family, double change, std::uint64_t seed) {
  base::Random r = base::Random::for_part(seed, 17);
  const double hard = family == Family::benign ? 0.0 : family == Family::typical ? 1.0 : 2.0;
  RandomCase c;
  RollCar& car = c.before;
  car.mass = r.uniform(950.0, 1750.0);
  car.sprung_mass = car.mass * r.uniform(0.84, 0.90);
  car.front = r.uniform(0.95, 1.25);
  car.rear = r.uniform(1.25, 1.6);
  car.yaw_inertia = car.mass * car.front * car.rear * r.uniform(0.92, 1.05);
  car.height = r.uniform(0.38, 0.52);
  car.axis_height = r.uniform(0.03, 0.22);
  // Pendulum length as in 73 measured cars: median 1.16 m, 10–90 % 1.08–1.28.
  const double pendulum = std::max(0.98, r.normal(1.17, 0.08));
  car.roll_inertia = car.sprung_mass * car.height * (pendulum - car.height);
  car.tyre_roll_stiffness = r.uniform(3.5e5, 6.0e5);
  car.bypass = car.mass * r.uniform(0.10, 0.25);
  const double target = r.uniform(2.8, 6.5) * kDegPerG;
  // Stiffness that gives the target in the linear range, tyres in series.
  const double pull = car.sprung_mass * car.height, g = 9.80665;
  const double total = pull * (1.0 / target + g);
  car.roll_stiffness = 1.0 / (1.0 / total - 1.0 / car.tyre_roll_stiffness);
  car.stiffening = hard * r.uniform(0.0, 0.04);
  car.stop_angle = r.uniform(3.0, 6.0) * kDegree;
  car.stop_stiffness = hard * r.uniform(0.0, 0.6) * car.roll_stiffness / 0.1;
  const double inertia = pull * pendulum;
  car.damping = 2.0 * r.uniform(0.18, 0.35) * std::sqrt(car.roll_stiffness * inertia);
  car.damper_knee = r.uniform(0.5, 2.0);
  car.friction = hard * r.uniform(0.0, 0.06) * pull * 5.0;  // up to 6 % of the moment in a 5 m/s² corner in `typical`
  car.cornering_front = car.mass * g * r.uniform(5.0, 7.0) * car.rear / (car.front + car.rear) * 1.6;
  car.cornering_rear = car.mass * g * r.uniform(6.0, 8.0) * car.front / (car.front + car.rear) * 1.8;
  car.grip = r.uniform(0.92, 1.05);
  car.relaxation = r.uniform(0.2, 0.5);
  c.after = car.with_roll_stiffness(change);

  c.course.passes = 4 + static_cast<int>(r.below(3));
  c.course.cones = 7 + static_cast<int>(r.below(3));
  c.course.spacing = r.uniform(15.0, 20.0);
  c.course.lateral = r.uniform(4.0, 6.0);
  c.course.speed = c.course.spacing * r.uniform(0.70, 0.84);  // 0.35 to 0.42 Hz
  c.course.alternate_entry = family == Family::benign;
  c.driver.width_scatter = 0.06 + 0.04 * hard;
  c.driver.timing_scatter = 0.01 + 0.01 * hard;
  c.driver.speed_scatter = 0.01 + 0.005 * hard;
  c.driver.learning = hard * r.uniform(0.0, 0.01);
  c.ground.slope_along = r.uniform(-1.0, 1.0) * kDegree * (0.5 + 0.5 * hard);
  c.ground.slope_across = r.uniform(-1.0, 1.0) * kDegree * (0.5 + 0.5 * hard);
  c.ground.bank_sd = (0.10 + 0.15 * hard) * kDegree;
  c.ground.bank_length = r.uniform(8.0, 20.0);
  c.ground.roughness = 0.004 + 0.006 * hard;
  c.ground.heave = 0.15 + 0.15 * hard;
  c.ground.place = r.below(1ULL << 40);
  c.spot = {r.uniform(-0.2, 1.0), r.uniform(-0.4, 0.4), r.uniform(0.45, 1.15)};

  Handset& h = c.handset;
  for (double& a : h.mount) a = r.uniform(-std::numbers::pi, std::numbers::pi);
  for (int i = 0; i < 3; ++i) {
    // Scales do not depend on how the day goes, so all families share them: 1 % each.
    h.force_scale[i] = 1.0 + r.normal(0.0, 0.010);
    h.rate_scale[i] = 1.0 + r.normal(0.0, 0.011);
    h.force_offset[i] = r.normal(0.0, 0.10);
    h.rate_offset[i] = r.normal(0.0, 0.2 * kDegree);
  }
  h.force_skew = 0.002 + 0.002 * hard;
  h.rate_skew = 0.002 + 0.002 * hard;
  h.warming = hard * r.normal(0.0, 0.05 * kDegree);
  h.force_noise = 0.012 + 0.01 * hard;
  h.rate_noise = 0.0008 + 0.0004 * hard;
  h.jitter = 0.02 + 0.06 * hard;
  h.dropped = family == Family::harsh ? 0.01 : 0.0;
  h.pauses_per_minute = family == Family::harsh ? 0.5 : 0.0;
  h.engine_vibration = 0.1 + 0.3 * hard;
  h.engine_rate = 0.002 * hard;
  h.engine_hz_per_speed = r.uniform(4.5, 7.5);
  h.fix_latency = r.uniform(0.2, 0.8);
  // Give of the mount, always outwards: a fixed phone hardly, one in a holder up to 0.3 deg/g.
  h.give = family == Family::harsh ? r.uniform(0.0, 0.3) * kDegPerG : family == Family::typical ? r.uniform(0.0, 0.10) * kDegPerG : 0.0;
  h.give_frequency = r.uniform(9.0, 18.0);

  c.told.mount = family == Family::harsh ? signal::Mount::holder : signal::Mount::fixed;
  c.told.setup.phone_height = c.spot.height + r.normal(0.0, 0.08);
  c.told.setup.phone_height_sd = 0.08;
  c.told.setup.phone_ahead = c.spot.ahead + r.normal(0.0, 0.2);
  c.told.setup.phone_ahead_sd = 0.2;
  return c;
}

SimulatedOuting simulate(const RandomCase& c, int side, std::uint64_t seed) {
  base::Random r = base::Random::for_part(seed, 100 + static_cast<std::uint64_t>(side));
  const RollCar& car = side == 0 ? c.before : c.after;
  SimulatedOuting out;
  out.motion = drive_slalom(car, c.course, c.driver, c.ground, c.spot, r.below(1ULL << 40));
  Handset h = c.handset;
  for (double& o : h.rate_offset) o += r.normal(0.0, 0.03 * kDegree);
  out.recording = to_recording(record(out.motion, h, r.below(1ULL << 40)), side == 0 ? "before" : "after");
  std::vector<double> lateral;
  for (const auto& pass : out.motion.passes) {
    for (auto i = static_cast<std::size_t>(pass.begin / out.motion.step); i < static_cast<std::size_t>(pass.end / out.motion.step) && i < out.motion.size(); i += 25) {
      lateral.push_back(out.motion.lateral[i]);
    }
  }
  out.gradient = car.gradient_over(lateral);
  return out;
}

}  // namespace rollwright::phone
