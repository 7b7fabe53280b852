// Typical linkages by kind, for people who have no points: what a suspension of that kind does, worked out from one such
// linkage.
//
// The points are invented, drawn to look like the kind at a track of 1.43 m and a hub height of 0.29 m, and scaled to the car:
// sideways with the track, along and up with the hub height. What follows from them (roll centre, camber, ratios) is read from
// the compiled linkage, not typed in. Two cars of one kind differ by far more than the scaling: the ranges that go with the
// figures are those of the trade [TradeValues: rc.*, mr.*, camber.roll_loss.*].
#pragma once

#include <optional>

#include "kinematics/axle.h"

namespace rollwright::kinematics {

enum class TypicalKind { strut, double_wishbone, five_link, semi_trailing_arm, twist_beam, panhard_axle, watt_axle };

// At ride height, `track` between the tyre contacts, hubs `hub_height` above the road; with spring, damper and bar link.
Linkage typical_linkage(TypicalKind kind, base::Length track, base::Length hub_height);

// What a car model wants of a linkage at ride height.
struct LinkageFigures {
  base::Length roll_centre_height{};  // where the links carry side force
  base::Ratio camber_loss = 0.0;      // lean of a wheel against the road per roll of the body
  base::Ratio roll_steer = 0.0;       // steer to the left per roll of the body to the right, mean of both wheels
  std::optional<base::Ratio> spring_ratio, damper_ratio;  // per wheel travel, both wheels rising together
  std::optional<base::Ratio> spring_ratio_in_roll;        // the wheels moving apart: less on a solid axle
  std::optional<base::Ratio> link_ratio_in_roll;          // of the bar's pick-up, up and down, the wheels moving apart
};

LinkageFigures figures_at_rest(const AxleModel& model);

}  // namespace rollwright::kinematics
