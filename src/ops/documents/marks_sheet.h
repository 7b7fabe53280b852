// The marks sheet (document marks/1): what the person pointed at on one frame of a film, and what is known of car and
// camera.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/describe.h"
#include "video/marks.h"
#include "video/pose_fit.h"

namespace rollwright::ops {

struct MarkSheet {
  static constexpr const char* kName = "Mark";
  std::string name;
  video::MarkRole what = video::MarkRole::body;
  video::MarkSide side = video::MarkSide::middle;
  std::array<double, 2> px{};
  std::optional<std::array<base::Length, 3>> place;
  std::optional<double> sd;  // [px]
  static void describe(base::RecordType<MarkSheet>& r);
};

struct FilmCameraSheet {
  static constexpr const char* kName = "FilmCamera";
  std::optional<double> focal;                  // [px] of the film's own picture
  std::optional<base::Length> focal_full_frame; // of a 36 mm wide picture
  std::optional<double> k1;
  std::optional<base::Length> height;
  std::optional<base::Duration> readout;
  static void describe(base::RecordType<FilmCameraSheet>& r);
};

struct MarksSheet {
  static constexpr const char* kName = "MarksSheet";
  base::Duration time{0.0};
  std::optional<int> frame;
  base::Estimate<base::Length> track = base::Estimate<base::Length>::from_pm(base::unit::mm(1500), base::unit::mm(60), base::Origin::typical);
  base::Length wheel_radius = base::unit::mm(310);
  double click = 0.7;
  std::vector<MarkSheet> marks;
  FilmCameraSheet camera;
  static void describe(base::RecordType<MarksSheet>& r);

  [[nodiscard]] video::Marks for_film() const;
  [[nodiscard]] video::Setting setting() const;
};

}  // namespace rollwright::ops
RW_NAMES(rollwright::video::MarkRole, "body", "tyre_contact", "wheel_centre", "level");
RW_NAMES(rollwright::video::MarkSide, "left", "right", "middle");
