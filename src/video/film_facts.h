// What a film file says about itself.
#pragma once

#include <cstdint>
#include <string>

#include "base/quantity.h"

namespace rollwright::video {

struct FilmFacts {
  int width = 0;                     // [px] upright
  int height = 0;                    // [px] upright
  int rotation_deg = 0;              // by which the stored picture was turned clockwise to stand upright
  double nominal_frame_rate = 0.0;   // [frames/s] mean over the file as it says, 0 when it does not
  base::Duration duration{0.0};      // as the file says, 0 when it does not
  std::int64_t frames_promised = 0;  // as the file says, 0 when it does not
  std::string coding;                // "h264"
  bool is_cut_short = false;         // fewer frames or bytes than promised (known after reading to the end)
  bool has_time_stamps = true;       // false: times are frame number / nominal rate
};

// Larger pictures are refused before any is decoded: 8K and a little.
inline constexpr int kLargestSide = 8192;
inline constexpr std::int64_t kLargestPicture = 8192LL * 4608;

}  // namespace rollwright::video
