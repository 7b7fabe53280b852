// A bar as the car feels it.
#pragma once

namespace rollwright::ops {

struct FittedBar {
  double rate_per_side = 0.0;        // at one link, both ends moving apart [N/m]
  double left_to_right_force = 1.0;  // force of the left link over that of the right one: 1 for arms alike
};

}  // namespace rollwright::ops
