// The driver of slalom.h and what he is judged by, in the parts that one car and a batch of cars share.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "vehicle/slalom.h"

namespace rollwright::vehicle {

// Rhythm of the car at the course's own frequency: how late and how strongly lateral acceleration follows the wheel.
struct Rhythm {
  double lead = 0, ratio = 1, angle_per_curvature = 1;
};
base::Outcome<Rhythm> rhythm_of(const Plant& plant, const Course& course, const Driver& driver, double speed);

// Where a run begins and ends along x [m].
struct RunEnds {
  double start = 0, finish = 0;
};
RunEnds run_ends(const Course& course, const std::vector<Target>& targets, double speed);

// His hands through one run.
class ConeDriver {
 public:
  ConeDriver() = default;
  ConeDriver(const std::vector<Target>& targets, const Driver& driver, const Rhythm& rhythm, double speed);
  // Steer [rad] from what he sees now; he is asked in the order of time.
  double steer(double t, double x, double y, double heading, double lateral_speed);

 private:
  std::vector<Target> targets_;
  Rhythm rhythm_;
  double speed_ = 1, preview_ = 1, gain_ = 0, lag_ = 0, fastest_ = 0, full_lock_ = 0, hands_ = 0, last_time_ = 0;
};

// What is kept of a run to judge it.
struct CoursePoint {
  double t, x, y, heading, roll, lateral;
};
double y_at(const std::vector<CoursePoint>& points, double x);

// Clearances, peaks, time and trouble, everything of a run but its trace and the delay of the lean.
CourseRun judge(const Plant& plant, const Course& course, const BodySize& body, const std::vector<CoursePoint>& points, const char* lost_because);
// Delay of roll: where its product with lateral acceleration, shifted, is largest.
base::Duration roll_delay(const std::vector<CoursePoint>& points);

// Practice at one speed: after a run that was not clean he moves each aim by what he missed there.
class Practice {
 public:
  Practice(const Course& course, const Driver& driver, std::vector<Target> aim);
  [[nodiscard]] const std::vector<Target>& aim() const { return aim_; }
  [[nodiscard]] bool is_over() const { return is_over_; }
  void tell(const CourseRun& run, bool is_lost, const std::vector<CoursePoint>& points);

 private:
  const Course* course_;
  std::vector<Target> aim_;
  int runs_left_;
  bool is_over_ = false;
};

// The search for the highest clean speed, run by run: climb until a speed fails in spite of practice, then bisect.
class CleanSearch {
 public:
  enum class Told { practising, clean, too_fast };
  CleanSearch(const Course& course, const Driver& driver, const BestOptions& options);
  [[nodiscard]] bool is_over() const { return is_over_; }
  [[nodiscard]] bool is_impossible() const { return is_impossible_; }  // even the slowest failed
  // Of the next run.
  [[nodiscard]] double speed() const { return trial_; }
  [[nodiscard]] const std::vector<Target>& aim() const { return practice_.aim(); }
  Told tell(const CourseRun& run, bool is_lost, const std::vector<CoursePoint>& points);
  [[nodiscard]] double best() const { return low_; }
  [[nodiscard]] double done() const;  // share of the work, 0 to 1

 private:
  void next();
  const Course* course_;
  Driver driver_;
  double slowest_, low_, high_, step_, tolerance_, range_, trial_;
  std::vector<Target> learned_;
  Practice practice_;
  bool climbing_ = true, is_first_ = true, is_over_ = false, is_impossible_ = false;
};

}  // namespace rollwright::vehicle
