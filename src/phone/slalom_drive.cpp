#include "phone/slalom_drive.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/quantity.h"
#include "base/random.h"

namespace rollwright::phone {
namespace {

constexpr double kGravity = base::kStandardGravity.si();
constexpr double kPi = std::numbers::pi;
constexpr double kStep = 0.002;

double smooth(double u) { return u <= 0.0 ? 0.0 : u >= 1.0 ? 1.0 : u * u * u * (10.0 - 15.0 * u + 6.0 * u * u); }

// Bank as a function of the place along the lane: a random walk that is drawn back, smoothed by cubic pieces every 3 m.
class Bank {
 public:
  Bank(const Ground& ground, double from, double to, base::Random& random) : from_(from) {
    const double keep = std::exp(-kKnot / ground.bank_length), kick = ground.bank_sd * std::sqrt(1.0 - keep * keep);
    double value = random.normal(0.0, ground.bank_sd);
    for (double x = from; x <= to + 4 * kKnot; x += kKnot) {
      knots_.push_back(value);
      value = keep * value + random.normal(0.0, kick);
    }
  }
  [[nodiscard]] double at(double x) const {
    const double place = std::clamp((x - from_) / kKnot, 1.0, static_cast<double>(knots_.size()) - 3.0);
    const auto i = static_cast<std::size_t>(place);
    const double u = place - static_cast<double>(i);
    // Uniform cubic B-spline: two continuous derivatives, so that roll acceleration stays finite.
    const double a = knots_[i - 1], b = knots_[i], c = knots_[i + 1], d = knots_[i + 2];
    return (a * (1 - u) * (1 - u) * (1 - u) + b * (3 * u * u * u - 6 * u * u + 4) + c * (-3 * u * u * u + 3 * u * u + 3 * u + 1) + d * u * u * u) / 6.0;
  }

 private:
  static constexpr double kKnot = 3.0;
  double from_;
  std::vector<double> knots_;
};

// One pass as meant: lateral place against distance along the lane.
struct Wave {
  std::vector<double> cone_at;
  std::vector<double> width;   // signed extremes at the cones
  [[nodiscard]] double at(double x) const {
    const std::size_t n = cone_at.size();
    const double lead = cone_at[1] - cone_at[0];
    if (x <= cone_at[0] - lead || x >= cone_at[n - 1] + lead) return 0.0;
    if (x < cone_at[0]) return width[0] * smooth((x - cone_at[0] + lead) / lead);
    if (x >= cone_at[n - 1]) return width[n - 1] * smooth((cone_at[n - 1] + lead - x) / lead);
    std::size_t i = 0;
    while (i + 2 < n && x >= cone_at[i + 1]) ++i;
    const double u = (x - cone_at[i]) / (cone_at[i + 1] - cone_at[i]);
    return 0.5 * (width[i] + width[i + 1]) + 0.5 * (width[i] - width[i + 1]) * std::cos(kPi * u);
  }
};

}  // namespace

BodyMotion drive_slalom(const RollCar& car, const SlalomCourse& course, const Driver& driver, const Ground& ground, const PhoneSpot& spot,
                        std::uint64_t seed) {
  base::Random random(seed);
  BodyMotion out;
  out.step = kStep;
  const double wave_number = kPi / course.spacing;
  const double amplitude = course.amplitude > 0.0 ? course.amplitude : course.lateral / std::pow(wave_number * course.speed, 2);
  const double lane = course.spacing * (course.cones + 2);
  const double run_in = 45.0, run_out = 30.0;  // [m] to gather speed and to brake
  base::Random place(ground.place);
  const Bank bank(ground, -60.0, lane + run_in + run_out + 60.0, place);
  const double turn_speed = 6.0, turn_radius = 8.0;

  CarState state;
  double x = 0.0, y = 0.0, heading = 0.0, speed = 0.0, time = 0.0, pitch = 0.0, pitch_rate = 0.0, steer = 0.0;
  double last_bank = 0.0, last_fixed_bank = 0.0, last_bank_rate = 0.0;
  double rough_roll = 0.0, rough_rate = 0.0, rough_heave = 0.0, rough_state = 0.0, heave_state = 0.0;
  const double understeer = car.mass * (car.rear / car.cornering_front - car.front / car.cornering_rear) / (car.front + car.rear);

  const auto record = [&](double longitudinal, double grade) {
    const double lean = state.roll + last_bank + rough_roll;
    const double lever = spot.height - car.axis_height;
    const double roll_rate = state.roll_rate + last_bank_rate + rough_rate;
    const double roll_acceleration = state.roll_acceleration;
    const double yaw_rate = state.yaw_rate;
    // Along road axes at the phone, then turned by lean and pitch.
    const double ax = longitudinal - state.lateral_speed * yaw_rate - spot.ahead * yaw_rate * yaw_rate - spot.left * state.yaw_acceleration;
    const double ay = state.lateral_acceleration + spot.ahead * state.yaw_acceleration - spot.left * yaw_rate * yaw_rate - lever * roll_acceleration;
    const double az = spot.left * roll_acceleration + rough_heave;
    const double gx = kGravity * std::sin(-(pitch + grade)), gz = kGravity * std::cos(lean) * std::cos(pitch + grade);
    out.force.push_back({ax * std::cos(pitch) + gx, ay * std::cos(lean) + kGravity * std::sin(lean) * std::cos(pitch + grade) + az * std::sin(lean),
                         gz + az * std::cos(lean) - ay * std::sin(lean)});
    out.rate.push_back({roll_rate - yaw_rate * std::sin(pitch), pitch_rate * std::cos(lean) + yaw_rate * std::sin(lean),
                        yaw_rate * std::cos(lean) - pitch_rate * std::sin(lean)});
    out.speed.push_back(speed);
    out.course.push_back(-heading - (speed > 1.0 ? std::atan2(state.lateral_speed, speed) : 0.0));
    out.roll.push_back(state.roll);
    out.lateral.push_back(state.lateral_acceleration);
    out.steer.push_back(steer);
  };
  // Advances by one step with a wanted curvature and speed; direction +1 drives along x, −1 back.
  const auto step = [&](double curvature, double want_speed) {
    const double a = std::clamp(1.5 * (want_speed - speed), -3.5, 2.8);
    const double want = curvature * (car.front + car.rear + understeer * speed * speed);
    steer += (1.0 - std::exp(-kStep / 0.06)) * (std::clamp(want, -0.5, 0.5) - steer);  // hands lag by 60 ms
    const double c = std::cos(heading), s = std::sin(heading);
    // Ground slope and wandering bank, seen from the car.
    const double fixed_bank = ground.slope_across * c - ground.slope_along * s;
    const double wander = bank.at(x) * c;
    const double now = fixed_bank + wander;
    const double bank_rate = time == 0.0 ? 0.0 : (wander - (last_bank - last_fixed_bank)) / kStep;
    RoadUnder road{now, bank_rate, (bank_rate - last_bank_rate) / kStep};
    if (time == 0.0) road.bank_acceleration = 0.0;
    last_fixed_bank = fixed_bank;
    last_bank = now;
    last_bank_rate = bank_rate;
    const double grade = -(ground.slope_along * c + ground.slope_across * s);
    // Small unevenness moves the body by itself: a band of 2 to 12 Hz, stronger with speed.
    const double excite = std::min(1.0, speed / 10.0);
    const double old = rough_roll;
    rough_state += kStep * (-rough_state * 2.0 * kPi * 12.0) + ground.roughness * excite * 1.2 * std::sqrt(kStep) * random.normal() * 8.7;
    rough_roll += kStep * (rough_state - rough_roll * 2.0 * kPi * 2.0);
    rough_rate = (rough_roll - old) / kStep;
    heave_state += kStep * (-heave_state * 2.0 * kPi * 15.0) + ground.heave * excite * std::sqrt(kStep) * random.normal() * 13.7;
    rough_heave = heave_state;
    advance(car, state, speed, steer, road, kStep);
    const double pitch_wish = -0.012 * a / 3.0;  // squats under power
    const double pitch_acceleration = 60.0 * (pitch_wish - pitch) - 6.0 * pitch_rate;
    pitch_rate += kStep * pitch_acceleration;
    pitch += kStep * pitch_rate;
    record(a, grade);
    speed = std::max(0.0, speed + kStep * a);
    heading += kStep * state.yaw_rate;
    x += kStep * (speed * std::cos(heading) - state.lateral_speed * std::sin(heading));
    y += kStep * (speed * std::sin(heading) + state.lateral_speed * std::cos(heading));
    time += kStep;
  };
  const auto rest_for = [&](double seconds) {
    for (double t = 0.0; t < seconds; t += kStep) step(0.0, 0.0);
  };

  rest_for(course.rest);
  int direction = 1;
  for (int pass = 0; pass < course.passes; ++pass) {
    // The lane's own coordinates: distance from where this pass begins, offset to the left of its direction.
    const double origin_x = x, origin_y = y;
    const double lane_heading = direction > 0 ? 0.0 : kPi;
    const double want_speed = course.speed * (1.0 + driver.learning * pass + random.normal(0.0, driver.speed_scatter));
    const bool starts_left = course.alternate_entry ? (pass / 2) % 2 == 0 : random.uniform() < 0.5;
    Wave wave;
    for (int cone = 0; cone < course.cones; ++cone) {
      const double side = ((cone % 2 == 0) == starts_left) ? 1.0 : -1.0;
      wave.cone_at.push_back(run_in + course.spacing * (cone + 1 + random.normal(0.0, driver.timing_scatter)));
      wave.width.push_back(side * amplitude * std::max(0.4, 1.0 + random.normal(0.0, driver.width_scatter)));
    }
    TruePass truth;
    truth.starts_left = starts_left;
    bool is_inside = false;
    const double end = run_in + lane + 6.0;
    while (true) {
      const double along = (x - origin_x) * std::cos(lane_heading) + (y - origin_y) * std::sin(lane_heading);
      const double aside = -(x - origin_x) * std::sin(lane_heading) + (y - origin_y) * std::cos(lane_heading);
      if (along > end || time > 2000.0) break;
      if (!is_inside && along > wave.cone_at.front() - course.spacing) {
        is_inside = true;
        truth.begin = time;
      }
      // Curvature of the wave a little ahead (yaw and hands lag) and correction of place and direction.
      const double look = along + speed * 0.16;
      const double h = 0.5;
      const double bend = (wave.at(look + h) - 2.0 * wave.at(look) + wave.at(look - h)) / (h * h);
      const double slope = (wave.at(along + h) - wave.at(along - h)) / (2.0 * h);
      const double turned = std::remainder(heading - lane_heading, 2.0 * kPi) - std::atan(slope);
      const double curvature = bend - 0.006 * (aside - wave.at(along)) - 0.10 * turned;
      step(curvature, want_speed);
    }
    truth.end = time - 6.0 / std::max(1.0, speed);
    out.passes.push_back(truth);
    // Brake and turn about, to the left or right as it comes; then back along the same lane.
    const double target = heading + (std::remainder(lane_heading - heading, 2.0 * kPi));
    while (speed > turn_speed + 0.3 && time < 2000.0) step(-0.10 * (heading - target), turn_speed);
    if (pass + 1 < course.passes) {
      const double side = random.uniform() < 0.5 ? 1.0 : -1.0;
      const double goal = target + side * kPi;
      const double begin_turn = time;
      while (side * (goal - heading) > 0.05 && time < begin_turn + 20.0) {
        const double left_over = side * (goal - heading);
        const double strength = smooth((time - begin_turn) / 1.2) * std::min(1.0, left_over / 0.6 + 0.12);
        step(side * strength / turn_radius, turn_speed);
      }
      for (double t = 0.0; t < 1.0; t += kStep) step(-0.10 * (heading - goal), turn_speed);
      direction = -direction;
    }
  }
  while (speed > 0.05 && time < 2100.0) step(-0.02 * std::remainder(heading - (direction > 0 ? 0.0 : kPi), 2.0 * kPi), 0.0);
  speed = 0.0;
  rest_for(course.rest);
  return out;
}

}  // namespace rollwright::phone
