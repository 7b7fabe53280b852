#include "vehicle/lane_slalom.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "vehicle/cone_driver.h"
#include "vehicle/lane_engine.h"

namespace rollwright::vehicle {
namespace {

// One lane: the car in it, what it searches, and the run it is on.
struct Lane {
  std::optional<std::size_t> car;
  std::optional<CleanSearch> search;
  std::optional<Practice> practice;  // where the speed is held
  ConeDriver hands;
  RunEnds ends;
  double speed = 1.0;
  std::size_t steps = 0, most_steps = 0;
  std::vector<CoursePoint> points;
};

class Batch {
 public:
  Batch(const std::vector<Plant>& plants, const Course& course, const BodySize& body, const Driver& driver, const LaneRunOptions& options)
      : plants_(plants), course_(course), body_(body), driver_(driver), options_(options), answers_(plants.size()) {}

  std::vector<std::optional<LaneRun>> drive() {
    if (plants_.empty()) return answers_;
    step_ = options_.step.si();
    const double fastest = options_.speed ? options_.speed->si() : 45.0;
    for (const auto& p : plants_) step_ = std::min(step_, coarsest_step(p, fastest));
    for (int i = 0; i < kCars; ++i) {
      engine_.set(i, plants_.front());
      cars_.speed[i] = 1.0;
      take_next_car(i);
    }
    for (std::size_t turn = 0; std::any_of(lanes_.begin(), lanes_.end(), [](const Lane& l) { return l.car.has_value(); }); ++turn) {
      if (turn % 4096 == 0 && options_.go_on && !options_.go_on(static_cast<double>(finished_) / static_cast<double>(plants_.size()))) break;
      step();
    }
    return answers_;
  }

 private:
  void step() {
    std::array<double, kCars> x, y, heading, roll;
    for (int i = 0; i < kCars; ++i) {
      Lane& lane = lanes_[i];
      x[i] = cars_.state[kStateX][i];
      y[i] = cars_.state[kStateY][i];
      heading[i] = cars_.state[kStateHeading][i];
      roll[i] = cars_.state[kStateRoll][i];
      if (lane.car) {
        cars_.steer[i] = lane.hands.steer(step_ * static_cast<double>(lane.steps), x[i], y[i], heading[i], cars_.state[kStateSideSpeed][i]);
      }
    }
    engine_.step(cars_, step_);
    for (int i = 0; i < kCars; ++i) {
      Lane& lane = lanes_[i];
      if (!lane.car) continue;
      lane.points.push_back({step_ * static_cast<double>(lane.steps), x[i], y[i], heading[i], roll[i], cars_.lateral_acceleration[i]});
      ++lane.steps;
      const char* lost = lost_lane(cars_, i);
      if (lost || x[i] > lane.ends.finish || lane.steps > lane.most_steps) end_run(i, lost);
    }
  }

  // The next car that can be driven at all sits down in the lane.
  void take_next_car(int i) {
    Lane& lane = lanes_[i];
    while (next_ < plants_.size()) {
      const std::size_t car = next_++;
      lane.car = car;
      engine_.set(i, plants_[car]);
      if (options_.speed) {
        lane.practice.emplace(course_, driver_, course_.targets);
      } else {
        lane.search.emplace(course_, driver_, options_.search[std::min(car, options_.search.size() - 1)]);
      }
      if (begin_run(i)) return;
      ++finished_;
    }
    lane.car.reset();
    park(i);
  }

  bool begin_run(int i) {
    Lane& lane = lanes_[i];
    const Plant& plant = plants_[*lane.car];
    lane.speed = options_.speed ? options_.speed->si() : lane.search->speed();
    const auto& aim = options_.speed ? lane.practice->aim() : lane.search->aim();
    const auto rhythm = rhythm_of(plant, course_, driver_, lane.speed);
    if (!rhythm) return false;
    lane.hands = ConeDriver(aim, driver_, *rhythm, lane.speed);
    lane.ends = run_ends(course_, aim, lane.speed);
    lane.steps = 0;
    lane.most_steps = static_cast<std::size_t>((lane.ends.finish - lane.ends.start) / lane.speed * 1.15 / step_);
    lane.points.clear();
    park(i);
    cars_.speed[i] = lane.speed;
    cars_.state[kStateX][i] = lane.ends.start;
    return true;
  }

  void end_run(int i, const char* lost) {
    Lane& lane = lanes_[i];
    CourseRun run = judge(plants_[*lane.car], course_, body_, lane.points, lost);
    bool is_over = false;
    if (options_.speed) {
      lane.practice->tell(run, lost != nullptr, lane.points);
      is_over = lane.practice->is_over();
      if (is_over && !lost) answer(lane, std::move(run));
    } else {
      if (lane.search->tell(run, lost != nullptr, lane.points) == CleanSearch::Told::clean) answer(lane, std::move(run));
      is_over = lane.search->is_over();
    }
    if (!is_over && begin_run(i)) return;
    ++finished_;
    take_next_car(i);
  }

  void answer(const Lane& lane, CourseRun run) {
    run.roll_delay = roll_delay(lane.points);
    answers_[*lane.car] = LaneRun{base::Speed(lane.speed), std::move(run)};
  }

  // A car at rest in straight running: nothing left of the run before.
  void park(int i) {
    for (auto& row : cars_.state) row[i] = 0.0;
    cars_.steer[i] = 0.0;
    cars_.steer_rate[i] = 0.0;
  }

  const std::vector<Plant>& plants_;
  const Course& course_;
  const BodySize& body_;
  const Driver& driver_;
  const LaneRunOptions& options_;
  std::vector<std::optional<LaneRun>> answers_;
  LaneEngine engine_;
  LaneCars cars_{};
  std::array<Lane, kCars> lanes_;
  double step_ = 0.008;
  std::size_t next_ = 0, finished_ = 0;
};

}  // namespace

std::vector<std::optional<LaneRun>> drive_courses(const std::vector<Plant>& plants, const Course& course, const BodySize& body,
                                                  const Driver& driver, const LaneRunOptions& options) {
  return Batch(plants, course, body, driver, options).drive();
}

}  // namespace rollwright::vehicle
