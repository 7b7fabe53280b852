// BackgroundTracker: how the camera turned since the marked frame, from what does not move.
//
// Corners outside the car are found again by their patches and give a turn and a shift of the whole picture (a camera that
// only turns, seen through a long lens; a walking camera leaves residuals). When the picture has moved on, the present one
// becomes one more anchor; anchors seen before are used again, so a pan there and back closes. Points on other moving
// things are outvoted.
#pragma once

#include <vector>

#include <opencv2/core.hpp>

#include "video/film/patch.h"
#include "video/tracks.h"

namespace rollwright::video {

class BackgroundTracker {
 public:
  BackgroundTracker(const cv::Mat& reference, cv::Rect car);
  void restart();
  // `car` is left out; empty while it is lost.
  BackgroundMotion follow(const cv::Mat& grey, cv::Rect car);
  // Enough texture around the car to tell at all.
  [[nodiscard]] bool has_anchor() const { return !anchors_.empty() && anchors_.front().points.size() >= kLeastPoints; }

 private:
  static constexpr std::size_t kLeastPoints = 8;
  struct Anchor {
    ReferencePicture picture;
    cv::Mat small;            // the same, reduced
    std::vector<Pixel> points;
    BackgroundMotion motion;  // from the marked frame to this one
  };
  void add_anchor(const cv::Mat& grey, cv::Rect car, const BackgroundMotion& motion);
  bool fit(const Anchor& anchor, const cv::Mat& grey, cv::Rect car, const BackgroundMotion& guess, double reach, BackgroundMotion& out,
           double& found_share) const;
  [[nodiscard]] BackgroundMotion guess_by_flow(const cv::Mat& small, const BackgroundMotion& last) const;

  [[nodiscard]] BackgroundMotion guess_by_search(const Anchor& anchor, const cv::Mat& small) const;

  std::vector<Anchor> anchors_;
  cv::Mat small_before_;
  BackgroundMotion last_;
  cv::Size size_;
  int factor_ = 4;
};

}  // namespace rollwright::video
