#include "vehicle/cone_driver.h"

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

struct AimedPoint {
  double y, slope, curvature;
};

AimedPoint path_at(const std::vector<Target>& targets, double x) {
  if (x <= targets.front().x) return {targets.front().y, 0.0, 0.0};
  if (x >= targets.back().x) return {targets.back().y, 0.0, 0.0};
  const auto next = std::upper_bound(targets.begin(), targets.end(), x, [](double v, const Target& t) { return v < t.x; });
  const Target& b = *next;
  const Target& a = *(next - 1);
  const double length = b.x - a.x, k = kPi / length, s = k * (x - a.x), half = 0.5 * (b.y - a.y);
  return {a.y + half * (1.0 - std::cos(s)), half * k * std::sin(s), half * k * k * std::cos(s)};
}

double time_at(const std::vector<CoursePoint>& m, double x) {
  const auto next = std::lower_bound(m.begin(), m.end(), x, [](const CoursePoint& a, double v) { return a.x < v; });
  if (next == m.begin()) return m.front().t;
  if (next == m.end()) return m.back().t;
  const CoursePoint& a = *(next - 1);
  return a.t + (x - a.x) / std::max(next->x - a.x, 1e-9) * (next->t - a.t);
}

}  // namespace

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

RunEnds run_ends(const Course& course, const std::vector<Target>& targets, double u) {
  return {std::min(targets.front().x, course.cones.front().x - u * 1.5) - 2.0, std::max(targets.back().x, course.cones.back().x + 8.0)};
}

ConeDriver::ConeDriver(const std::vector<Target>& targets, const Driver& driver, const Rhythm& rhythm, double u)
    : targets_(targets),
      rhythm_(rhythm),
      speed_(u),
      preview_(driver.preview.si()),
      gain_(driver.gain * 2.0 / (u * preview_ * u * preview_)),
      lag_(std::max(driver.lag.si(), 0.02)),
      fastest_(driver.fastest_hands.si()),
      full_lock_(driver.full_lock.si()) {}

double ConeDriver::steer(double t, double x, double y, double heading, double lateral_speed) {
  const double h = t - last_time_;
  last_time_ = t;
  const auto here = path_at(targets_, x);
  const double error = here.y - y;
  const double course_angle = heading + std::atan2(lateral_speed, speed_);
  const double error_rate = speed_ * (here.slope - std::tan(std::clamp(course_angle, -1.2, 1.2)));
  const double ahead = path_at(targets_, x + speed_ * rhythm_.lead).curvature / rhythm_.ratio;
  const double wanted = std::clamp(rhythm_.angle_per_curvature * (ahead + gain_ * (error + preview_ * error_rate)), -full_lock_, full_lock_);
  hands_ += h * std::clamp((wanted - hands_) / lag_, -fastest_, fastest_);
  return hands_;
}

double y_at(const std::vector<CoursePoint>& m, double x) {
  const auto next = std::lower_bound(m.begin(), m.end(), x, [](const CoursePoint& a, double v) { return a.x < v; });
  if (next == m.begin()) return m.front().y;
  if (next == m.end()) return m.back().y;
  const CoursePoint& a = *(next - 1);
  const double f = (x - a.x) / std::max(next->x - a.x, 1e-9);
  return a.y + f * (next->y - a.y);
}

CourseRun judge(const Plant& plant, const Course& course, const BodySize& body, const std::vector<CoursePoint>& m, const char* lost_because) {
  CourseRun run;
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
        if (std::abs(x.lateral) > std::abs(lateral)) lateral = x.lateral;
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
                      lost_because ? lost_because : "it leaves the course");
      } else {
        std::snprintf(text, sizeof text, "cone %zu is hit by %.0f mm", i + 1, -clearance * 1e3);
      }
      run.trouble = text;
    }
  }
  if (lost_because && run.first_hit < 0) {
    run.first_hit = static_cast<int>(course.cones.size()) - 1;
    run.trouble = lost_because;
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
  return run;
}

base::Duration roll_delay(const std::vector<CoursePoint>& m) {
  const double h = m.size() > 1 ? m[1].t - m[0].t : 0.0;
  if (!(h > 0.0)) return base::Duration(0.0);
  const int most = static_cast<int>(0.5 / h);
  std::vector<double> match(most + 1, 0.0);
  for (int shift = 0; shift <= most; ++shift) {
    for (std::size_t i = 0; i + shift < m.size(); ++i) match[shift] += m[i].lateral * m[i + shift].roll;
  }
  const auto best = static_cast<int>(std::max_element(match.begin(), match.end()) - match.begin());
  double fraction = 0.0;
  if (best > 0 && best < most) {
    const double bend = match[best - 1] - 2.0 * match[best] + match[best + 1];
    if (bend < 0.0) fraction = 0.5 * (match[best - 1] - match[best + 1]) / bend;
  }
  return base::Duration((best + fraction) * h);
}

Practice::Practice(const Course& course, const Driver& driver, std::vector<Target> aim)
    : course_(&course), aim_(std::move(aim)), runs_left_(std::max(driver.practice_runs, 0)) {}

void Practice::tell(const CourseRun& run, bool is_lost, const std::vector<CoursePoint>& points) {
  if (run.is_clean || is_lost || runs_left_ == 0) {
    is_over_ = true;
    return;
  }
  --runs_left_;
  for (std::size_t i = 1; i + 1 < aim_.size(); ++i) {
    const Target& wanted = course_->targets[i];
    // Nobody aims more than two metres beside where he wants to be.
    aim_[i].y = std::clamp(aim_[i].y + 0.6 * (wanted.y - y_at(points, wanted.x)), wanted.y - 2.0, wanted.y + 2.0);
  }
}

CleanSearch::CleanSearch(const Course& course, const Driver& driver, const BestOptions& options)
    : course_(&course),
      driver_(driver),
      slowest_(options.slowest.si()),
      low_(slowest_),
      high_(options.fastest.si()),
      step_(options.first_step.si()),
      tolerance_(options.tolerance.si()),
      range_(high_ - low_),
      trial_(slowest_),
      learned_(course.targets),
      practice_(course, driver, course.targets) {}

CleanSearch::Told CleanSearch::tell(const CourseRun& run, bool is_lost, const std::vector<CoursePoint>& points) {
  practice_.tell(run, is_lost, points);
  if (!practice_.is_over()) return Told::practising;
  // A driver takes what he learned to the next speed, but a failed run teaches him nothing worth keeping.
  if (run.is_clean) {
    learned_ = practice_.aim();
    low_ = trial_;
  } else if (is_first_) {
    is_impossible_ = is_over_ = true;
  } else {
    high_ = trial_;
    climbing_ = false;
  }
  is_first_ = false;
  next();
  return run.is_clean ? Told::clean : Told::too_fast;
}

void CleanSearch::next() {
  if (climbing_ ? low_ >= high_ : high_ - low_ <= tolerance_) is_over_ = true;
  trial_ = climbing_ ? std::min(low_ + step_, high_) : 0.5 * (low_ + high_);
  practice_ = Practice(*course_, driver_, learned_);
}

double CleanSearch::done() const {
  return climbing_ ? 0.6 * (trial_ - slowest_) / range_ : 0.6 + 0.4 * (1.0 - (high_ - low_) / step_);
}

}  // namespace rollwright::vehicle
