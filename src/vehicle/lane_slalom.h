// Many cars through the same cones at once, for sampling: each looks for its own highest clean speed with the driver and
// the search of slalom.h, eight at a time in the lanes of lane_engine.h. A car that has finished makes room for the next.
//
// Steps of 8 ms where every car of the batch bears them: speeds agree with the single car's 4 ms to about 0.5 % (the driver is asked half
// as often), which is well inside what one drawn car differs from another.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "vehicle/slalom.h"

namespace rollwright::vehicle {

struct LaneRunOptions {
  base::Duration step{0.008};
  std::optional<base::Speed> speed;   // held; without it the highest clean one is sought with `search`
  // How each car is sought; car number i takes the i-th, or the only one.
  std::vector<BestOptions> search{BestOptions{}};
  std::function<bool(double)> go_on;  // asked now and then with the share of work done; false gives up
};

struct LaneRun {
  base::Speed speed{};
  CourseRun run;                      // without trace
};

// By car; nothing where a car does not get through, or spins at the speed held, or the work was given up.
std::vector<std::optional<LaneRun>> drive_courses(const std::vector<Plant>& plants, const Course& course, const BodySize& body,
                                                  const Driver& driver, const LaneRunOptions& options = {});

}  // namespace rollwright::vehicle
