// Home measurements: what a person can measure with tape, caliper, scale and phone, how long it takes and how well it
// then is known.
//
// The doubts are those of an amateur at home [TradeValues: err.*]; times are common practice, no source.
#pragma once

#include <string>
#include <vector>

namespace rollwright::ops {

struct Measured {
  std::string key;          // of the car sheet
  double pm = 0.0;          // 95 % half width afterwards, in the key's unit; 0: use `relative`
  double relative = 0.0;    // or as a share of the value
};

struct HomeMeasurement {
  std::string name;
  double minutes = 0.0;
  std::vector<Measured> measures;
  std::string how;  // with its cautions
};

const std::vector<HomeMeasurement>& home_measurements();

}  // namespace rollwright::ops
