#include "vehicle/slalom.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "vehicle/cone_driver.h"

namespace rollwright::vehicle {
namespace {

struct Attempt {
  CourseRun run;
  std::vector<CoursePoint> points;
};

base::Outcome<Attempt> one_run(const Plant& plant, const Course& course, const BodySize& body, const std::vector<Target>& targets,
                               const Driver& driver, const Rhythm& rhythm, double u) {
  TransientOptions options;
  options.step = std::min(0.004, coarsest_step(plant, u));
  const RunEnds ends = run_ends(course, targets, u);
  options.start[kStateX] = ends.start;
  ConeDriver hands(targets, driver, rhythm, u);
  const std::function<Inputs(const Moment&)> steer = [&](const Moment& m) {
    Inputs in;
    in.speed = u;
    in.steer = hands.steer(m.t, m.x, m.y, m.heading, m.lateral_speed);
    return in;
  };
  auto trace = drive_closed_loop(plant, (ends.finish - ends.start) / u * 1.15, steer, options);
  if (!trace) return base::fail(trace.error());
  Attempt out;
  for (const auto& m : trace->moments) {
    out.points.push_back({m.t, m.x, m.y, m.heading, m.roll, m.lateral_acceleration});
    if (m.x > ends.finish) break;
  }
  out.run = judge(plant, course, body, out.points, trace->is_lost ? trace->lost_because.c_str() : nullptr);
  out.run.trace = std::move(*trace);
  return out;
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
  Practice practice(course, driver, learned && learned->size() == course.targets.size() ? *learned : course.targets);
  for (;;) {
    auto attempt = one_run(plant, course, body, practice.aim(), driver, *rhythm, u);
    if (!attempt) return base::fail(attempt.error());
    practice.tell(attempt->run, attempt->run.trace.is_lost, attempt->points);
    if (!practice.is_over()) continue;
    attempt->run.roll_delay = roll_delay(attempt->points);
    if (attempt->run.is_clean && learned) *learned = practice.aim();
    return std::move(attempt->run);
  }
}

base::Problem course_impossible(double speed, const std::string& trouble) {
  char text[240];
  std::snprintf(text, sizeof text, "Even at %.0f km/h this driver does not get through: %s.", speed * 3.6, trouble.c_str());
  return base::no_answer("course_impossible", "course", text, {}, "Wider spacing, a smaller margin, or a driver with quicker hands.");
}

base::Outcome<BestRun> best_clean_run(const Plant& plant, const Course& course, const BodySize& body, const Driver& driver,
                                      const BestOptions& options) {
  CleanSearch search(course, driver, options);
  BestRun best;
  while (!search.is_over()) {
    const double u = search.speed();
    const auto rhythm = rhythm_of(plant, course, driver, std::max(u, 1.0));
    if (!rhythm) return base::fail(rhythm.error());
    auto attempt = one_run(plant, course, body, search.aim(), driver, *rhythm, u);
    if (!attempt) return base::fail(attempt.error());
    const auto told = search.tell(attempt->run, attempt->run.trace.is_lost, attempt->points);
    if (told == CleanSearch::Told::practising) continue;
    attempt->run.roll_delay = roll_delay(attempt->points);
    if (search.is_impossible()) return base::fail(course_impossible(u, attempt->run.trouble));
    if (told == CleanSearch::Told::clean) {
      best.speed = base::Speed(u);
      best.run = std::move(attempt->run);
    } else {
      best.too_fast = std::move(attempt->run);
    }
    if (options.go_on && !options.go_on(search.done())) break;
  }
  return best;
}

}  // namespace rollwright::vehicle
