// Driving among cones: a slalom or a lane change, with a driver who looks ahead, and the highest speed that leaves every
// cone standing.
//
// The path is a chain of half cosines through targets beside the cones. The driver steers by what the path demands a
// little ahead (curvature × (L + K u²), ahead by the car's own delay and his), corrects what he sees to be wrong at his
// preview distance, turns the wheel no faster than his hands and no sooner than his lag, and after each practice run
// moves each target by what he missed. Speed is held.
//
// Steering: δ = (L + K u²)[κ(x + u·lead)/ratio + g·2(e + T e')/(u T)²], e the side error to the path, T the preview time,
// lead and ratio the car's delay and gain of lateral acceleration at the slalom's own frequency; then a first-order lag
// and a rate limit. A simple driver: good for before and after with the same hands, not for a person's best lap.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "vehicle/transient.h"

namespace rollwright::vehicle {

struct Cone {
  double x = 0, y = 0;   // [m]
  double side = 1;       // +1: the car passes on its left (at greater y), −1: on its right
};

struct Target {
  double x = 0, y = 0;   // [m] where the middle of the car should pass
};

struct Course {
  std::vector<Cone> cones;
  std::vector<Target> targets;  // ascending x, first and last far from the cones
  double frequency_length = 36.0;  // [m] of one full weave, for the driver's sense of rhythm
  double cone_radius = 0.14;       // [m] of the base (invented: common traffic cones are 0.28 m square)
};

struct BodySize {
  base::Length width{1.75}, front_overhang{0.85}, rear_overhang{0.75};
};

struct SlalomCourse {
  int cones = 7;
  base::Length spacing{18.0};
  base::Length margin{0.25};  // between cone and body that the driver aims for
};

// Alternating passes, first cone on the right hand: the car goes left first.
base::Outcome<Course> slalom_course(const SlalomCourse& course, const BodySize& body);
// ISO 3888-2 [lengths 12, 13.5, 11, 12.5, 12 m; widths from memory].
base::Outcome<Course> lane_change_course(const BodySize& body);

struct Driver {
  base::Duration preview{0.7};        // T
  base::Duration lag{0.12};           // of nerves and arms
  base::AngularRate fastest_hands{0.65};  // at the road wheels: some 600 deg/s at a wheel of ratio 16
  base::Angle full_lock{0.6};
  base::Ratio gain = 0.8;             // g: how much of a seen error is corrected
  int practice_runs = 6;              // before the run that counts
};

struct ConePass {
  base::Length clearance{};           // between body and cone, negative when hit
  base::Angle roll_peak{};            // largest magnitude around this cone, signed
  base::Acceleration lateral_peak{};
  base::Duration time{};              // when the middle of the car passes it
};

struct CourseRun {
  Trace trace;
  std::vector<ConePass> passes;       // one per cone
  bool is_clean = false;
  int first_hit = -1;                 // index of the first cone hit, or where the car was lost
  std::string trouble;                // why not clean, in words
  base::Duration time{};              // from first to last cone
  base::Acceleration mean_lateral_peak{};   // mean over the inner cones
  base::AnglePerAcceleration roll_per_lateral_acceleration{};  // mean peak roll over mean peak lateral acceleration
  base::Duration roll_delay{};        // roll against lateral acceleration, by their best match in time
};

base::Outcome<CourseRun> drive_course(const Plant& plant, const Course& course, const BodySize& body, const Driver& driver,
                                      base::Speed speed, std::vector<Target>* learned = nullptr);
// `learned`: where the driver aims, from an earlier run; replaced by what he has learned in this one when it was clean.

struct BestRun {
  base::Speed speed{};
  CourseRun run;
  CourseRun too_fast;                 // the run just above, that failed, with its reason
};

struct BestOptions {
  base::Speed slowest{5.0}, fastest{45.0};
  base::Speed first_step{2.0};   // of the climb until a run fails
  base::Speed tolerance{0.05};   // of the answer
  // Asked between runs with the share of work done; false gives up.
  std::function<bool(double)> go_on;
};

// What is said where a driver does not get through at the slowest speed.
base::Problem course_impossible(double speed, const std::string& trouble);

// Highest clean speed by climbing from `slowest` until a run fails, then by bisection. Problem "course_impossible" with
// cone and reason where even the slowest fails.
base::Outcome<BestRun> best_clean_run(const Plant& plant, const Course& course, const BodySize& body, const Driver& driver,
                                      const BestOptions& options = {});

}  // namespace rollwright::vehicle
