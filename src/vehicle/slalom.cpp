#include "vehicle/slalom.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstdio>
#include <numbers>

#include "vehicle/bicycle.h"
#include "vehicle/linear_model.h"
#include "vehicle/roll_balance.h"

namespace rollwright::vehicle {
namespace {

constexpr double kPi = std::numbers::pi;

struct PathPoint {
  double y, slope, curvature;
};

PathPoint path_at(const std::vector<Target>& targets, double x) {
  if (x <= targets.front().x) return {targets.front().y, 0.0, 0.0};
  if (x >= targets.back().x) return {targets.back().y, 0.0, 0.0};
  const auto next = std::upper_bound(targets.begin(), targets.end(), x, [](double v, const Target& t) { return v < t.x; });
  const Target& b = *next;
  const Target& a = *(next - 1);
  const double length = b.x - a.x, k = kPi / length, s = k * (x - a.x), half = 0.5 * (b.y - a.y);
  return {a.y + half * (1.0 - std::cos(s)), half * k * std::sin(s), half * k * k * std::cos(s)};
}

// Rhythm of the car at the course's own frequency: how late and how strongly lateral acceleration follows the wheel.
struct Rhythm {
  double lead, ratio, angle_per_curvature;
};

base::Outcome<Rhythm> rhythm_of(const Plant& plant, const Course& course, const Driver& driver, double u) {
  const auto balance = roll_balance(plant);
  if (!balance) return base::fail(balance.error());
  const auto model = bicycle(plant, *balance, base::Speed(u));
  if (!model) return base::fail(model.error());
  const double per_curvature = plant.wheelbase + model->understeer.si() * u * u;
  const double f = u / course.frequency_length;
  const auto response = LinearModel(plant, u).to_steer(f).lateral_acceleration;
  const double steady = u * u / std::max(per_curvature, 0.2 * plant.wheelbase);
  Rhythm r;
  r.ratio = std::clamp(std::abs(response) / steady, 0.3, 2.0);
  r.lead = std::clamp(-std::arg(response) / (2.0 * kPi * f), 0.0, 0.6) + driver.lag.si();
  r.angle_per_curvature = std::max(per_curvature, 0.2 * plant.wheelbase);
  return r;
}

double interpolate_y(const std::vector<Moment>& m, double x) {
  const auto next = std::lower_bound(m.begin(), m.end(), x, [](const Moment& a, double v) { return a.x < v; });
  if (next == m.begin()) return m.front().y;
  if (next == m.end()) return m.back().y;
  const Moment& a = *(next - 1);
  const double f = (x - a.x) / std::max(next->x - a.x, 1e-9);
  return a.y + f * (next->y - a.y);
}

double time_at(const std::vector<Moment>& m, double x) {
  const auto next = std::lower_bound(m.begin(), m.end(), x, [](const Moment& a, double v) { return a.x < v; });
  if (next == m.begin()) return m.front().t;
  if (next == m.end()) return m.back().t;
  const Moment& a = *(next - 1);
  return a.t + (x - a.x) / std::max(next->x - a.x, 1e-9) * (next->t - a.t);
}

base::Outcome<Trace> one_run(const Plant& plant, const Course& course, const std::vector<Target>& targets, const Driver& driver,
                             const Rhythm& rhythm, double u) {
  TransientOptions options;
  options.step = std::min(0.004, coarsest_step(plant, u));
  const double start = std::min(targets.front().x, course.cones.front().x - u * 1.5) - 2.0;
  const double finish = std::max(targets.back().x, course.cones.back().x + 8.0);
  options.start[kStateX] = start;
  const double preview = driver.preview.si(), gain = driver.gain * 2.0 / (u * preview * u * preview);
  double hands = 0.0, last_time = 0.0;
  const std::function<Inputs(const Moment&)> steer = [&](const Moment& m) {
    const double h = m.t - last_time;
    last_time = m.t;
    const auto here = path_at(targets, m.x);
    const double error = here.y - m.y;
    const double course_angle = m.heading + std::atan2(m.lateral_speed, u);
    const double error_rate = u * (here.slope - std::tan(std::clamp(course_angle, -1.2, 1.2)));
    const double ahead = path_at(targets, m.x + u * rhythm.lead).curvature / rhythm.ratio;
    const double wanted = std::clamp(rhythm.angle_per_curvature * (ahead + gain * (error + preview * error_rate)),
                                     -driver.full_lock.si(), driver.full_lock.si());
    const double fastest = driver.fastest_hands.si();
    hands += h * std::clamp((wanted - hands) / std::max(driver.lag.si(), 0.02), -fastest, fastest);
    Inputs in;
    in.speed = u;
    in.steer = hands;
    return in;
  };
  return drive_closed_loop(plant, (finish - start) / u * 1.15, steer, options);
}

void judge(const Plant& plant, const Course& course, const BodySize& body, CourseRun& run) {
  const auto& m = run.trace.moments;
  const double half = 0.5 * body.width.si(), front = plant.a + body.front_overhang.si(), rear = plant.b + body.rear_overhang.si();
  run.passes.assign(course.cones.size(), {});
  const double spacing = course.cones.size() > 1 ? course.cones[1].x - course.cones[0].x : 10.0;
  for (std::size_t i = 0; i < course.cones.size(); ++i) {
    const Cone& cone = course.cones[i];
    double clearance = 1e9, roll = 0.0, lateral = 0.0;
    bool reached = false;
    for (const auto& x : m) {
      const double dx = cone.x - x.x, dy = cone.y - x.y;
      if (std::abs(dx) <= 0.5 * std::max(spacing, 4.0)) {
        if (std::abs(x.roll) > std::abs(roll)) roll = x.roll;
        if (std::abs(x.lateral_acceleration) > std::abs(lateral)) lateral = x.lateral_acceleration;
      }
      if (std::abs(dx) > front + 1.0 && std::abs(dx) > rear + 1.0) continue;
      const double c = std::cos(x.heading), s = std::sin(x.heading);
      const double along = c * dx + s * dy, across = -s * dx + c * dy;
      if (along < front && along > -rear) {
        reached = true;
        clearance = std::min(clearance, -cone.side * across - half - course.cone_radius);
      }
    }
    ConePass& pass = run.passes[i];
    pass.clearance = base::Length(reached ? clearance : -1e3);
    pass.roll_peak = base::Angle(roll);
    pass.lateral_peak = base::Acceleration(lateral);
    pass.time = base::Duration(time_at(m, cone.x));
    if ((!reached || clearance < 0.0) && run.first_hit < 0) {
      run.first_hit = static_cast<int>(i);
      char text[160];
      if (!reached) {
        std::snprintf(text, sizeof text, "the car never reaches cone %zu: %s", i + 1,
                      run.trace.is_lost ? run.trace.lost_because.c_str() : "it leaves the course");
      } else {
        std::snprintf(text, sizeof text, "cone %zu is hit by %.0f mm", i + 1, -clearance * 1e3);
      }
      run.trouble = text;
    }
  }
  if (run.trace.is_lost && run.first_hit < 0) {
    run.first_hit = static_cast<int>(course.cones.size()) - 1;
    run.trouble = run.trace.lost_because;
  }
  run.is_clean = run.first_hit < 0;
  run.time = run.passes.back().time - run.passes.front().time;
  double roll = 0.0, lateral = 0.0;
  int count = 0;
  for (std::size_t i = 1; i + 1 < run.passes.size(); ++i, ++count) {
    roll += std::abs(run.passes[i].roll_peak.si());
    lateral += std::abs(run.passes[i].lateral_peak.si());
  }
  if (count > 0 && lateral > 0.0) {
    run.mean_lateral_peak = base::Acceleration(lateral / count);
    run.roll_per_lateral_acceleration = base::AnglePerAcceleration(roll / lateral);
  }
  // Delay of roll: where its product with lateral acceleration, shifted, is largest.
  const double h = m.size() > 1 ? m[1].t - m[0].t : 0.0;
  if (h > 0.0) {
    const int most = static_cast<int>(0.5 / h);
    std::vector<double> match(most + 1, 0.0);
    for (int shift = 0; shift <= most; ++shift) {
      for (std::size_t i = 0; i + shift < m.size(); ++i) match[shift] += m[i].lateral_acceleration * m[i + shift].roll;
    }
    const auto best = static_cast<int>(std::max_element(match.begin(), match.end()) - match.begin());
    double fraction = 0.0;
    if (best > 0 && best < most) {
      const double bend = match[best - 1] - 2.0 * match[best] + match[best + 1];
      if (bend < 0.0) fraction = 0.5 * (match[best - 1] - match[best + 1]) / bend;
    }
    run.roll_delay = base::Duration((best + fraction) * h);
  }
}

}  // namespace

base::Outcome<Course> slalom_course(const SlalomCourse& in, const BodySize& body) {
  base::Problems problems;
  if (in.cones < 3 || in.cones > 40) {
    problems.push_back(base::input_problem("out_of_range", "cones", "A slalom needs at least three cones.", "3 to 40"));
  }
  const double d = in.spacing.si(), length = body.width.si() * 2.0;
  if (!(d >= std::max(5.0, length) && d <= 100.0)) {
    problems.push_back(base::input_problem("course_impossible", "spacing",
                                           "Cones this close leave no room for the car between them, or are too far apart to weave.",
                                           "5 to 100 m", "Club courses use 13.7 m at least, road tests 18 m or 30 m."));
  }
  if (!(in.margin.si() >= 0.0 && in.margin.si() <= 2.0)) {
    problems.push_back(base::input_problem("out_of_range", "margin", "The margin to the cones is out of range.", "0 to 2000 mm"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  Course c;
  c.frequency_length = 2.0 * d;
  const double offset = 0.5 * body.width.si() + c.cone_radius + in.margin.si();
  c.targets.push_back({-d, 0.0});
  for (int i = 0; i < in.cones; ++i) {
    const double side = i % 2 == 0 ? 1.0 : -1.0;
    c.cones.push_back({i * d, 0.0, side});
    c.targets.push_back({i * d, side * offset});
  }
  c.targets.push_back({in.cones * d, 0.0});
  return c;
}

base::Outcome<Course> lane_change_course(const BodySize& body) {
  const double w = body.width.si();
  if (!(w >= 1.0 && w <= 2.6)) {
    return base::fail(base::input_problem("out_of_range", "width", "The car's width is out of range.", "1000 to 2600 mm"));
  }
  // Right edges of entry and exit lane coincide; the side lane's right edge lies 1 m left of the entry lane's left edge.
  const double entry = 1.1 * w + 0.25, side = w + 1.0, exit = std::max(1.3 * w + 0.25, 3.0);
  const double right = -0.5 * entry, side_right = 0.5 * entry + 1.0;
  Course c;
  c.frequency_length = 61.0;
  const auto lane = [&](double x0, double x1, double low, double width) {
    const int gates = 3;
    for (int i = 0; i < gates; ++i) {
      const double x = x0 + (x1 - x0) * i / (gates - 1);
      c.cones.push_back({x, low - c.cone_radius, 1.0});
      c.cones.push_back({x, low + width + c.cone_radius, -1.0});
    }
  };
  lane(0.0, 12.0, right, entry);
  lane(25.5, 36.5, side_right, side);
  lane(49.0, 61.0, right, exit);
  const double middle = side_right + 0.5 * side, end = right + 0.5 * exit;
  c.targets = {{0.0, 0.0}, {10.0, 0.0}, {27.5, middle}, {34.5, middle}, {51.0, end}, {61.0, end}};
  return c;
}

base::Outcome<CourseRun> drive_course(const Plant& plant, const Course& course, const BodySize& body, const Driver& driver,
                                      base::Speed speed, std::vector<Target>* learned) {
  const double u = speed.si();
  const auto rhythm = rhythm_of(plant, course, driver, std::max(u, 1.0));
  if (!rhythm) return base::fail(rhythm.error());
  std::vector<Target> targets = learned && learned->size() == course.targets.size() ? *learned : course.targets;
  CourseRun run;
  for (int attempt = 0; attempt <= std::max(driver.practice_runs, 0); ++attempt) {
    auto trace = one_run(plant, course, targets, driver, *rhythm, u);
    if (!trace) return base::fail(trace.error());
    run = CourseRun{};
    run.trace = std::move(*trace);
    judge(plant, course, body, run);
    if (run.is_clean && learned) *learned = targets;
    if (run.is_clean || run.trace.is_lost) break;
    for (std::size_t i = 1; i + 1 < targets.size(); ++i) {
      const double missed = course.targets[i].y - interpolate_y(run.trace.moments, course.targets[i].x);
      // Nobody aims more than two metres beside where he wants to be.
      targets[i].y = std::clamp(targets[i].y + 0.6 * missed, course.targets[i].y - 2.0, course.targets[i].y + 2.0);
    }
  }
  return run;
}

base::Outcome<BestRun> best_clean_run(const Plant& plant, const Course& course, const BodySize& body, const Driver& driver,
                                      const BestOptions& options) {
  double low = options.slowest.si(), high = options.fastest.si();
  std::vector<Target> learned = course.targets;
  auto first = drive_course(plant, course, body, driver, options.slowest, &learned);
  if (!first) return base::fail(first.error());
  if (!first->is_clean) {
    char text[240];
    std::snprintf(text, sizeof text, "Even at %.0f km/h this driver does not get through: %s.", low * 3.6, first->trouble.c_str());
    return base::fail(base::no_answer("course_impossible", "course", text, {},
                                      "Wider spacing, a smaller margin, or a driver with quicker hands."));
  }
  BestRun best;
  best.speed = options.slowest;
  best.run = std::move(*first);
  const double range = high - low, step = options.first_step.si();
  bool climbing = true;
  while (climbing ? low < high : high - low > options.tolerance.si()) {
    const double trial = climbing ? std::min(low + step, high) : 0.5 * (low + high);
    // A driver takes what he learned to the next speed, but a failed run teaches him nothing worth keeping.
    auto run = drive_course(plant, course, body, driver, base::Speed(trial), &learned);
    if (!run) return base::fail(run.error());
    if (run->is_clean) {
      low = trial;
      best.speed = base::Speed(trial);
      best.run = std::move(*run);
    } else {
      high = trial;
      best.too_fast = std::move(*run);
      climbing = false;
    }
    const double done = climbing ? 0.6 * (trial - options.slowest.si()) / range : 0.6 + 0.4 * (1.0 - (high - low) / step);
    if (options.go_on && !options.go_on(done)) break;
  }
  return best;
}

}  // namespace rollwright::vehicle
