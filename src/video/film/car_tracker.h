// CarTracker: follows the marked points and others that it chooses on the body, frame by frame.
//
// Each frame: a guess that the car goes on as it went; every patch of the marked frame refined at full resolution; a
// robust view of the car's shape. Where that does not hold together, pyramidal flow from the frame before, checked forwards
// and backwards on a reduced picture, gives the guess instead. Points that do not agree are left out for that frame. When too few are left the car is lost and is searched for by its picture.
#pragma once

#include <optional>
#include <vector>

#include <opencv2/core.hpp>

#include "video/film/patch.h"
#include "video/film/shape.h"
#include "video/marks.h"
#include "video/tracks.h"

namespace rollwright::video {

class CarTracker {
 public:
  // `reference`: the marked frame. The marks must have passed check_marks.
  CarTracker(const cv::Mat& reference, const Marks& marks);

  [[nodiscard]] const std::vector<TrackPoint>& points() const { return points_; }
  [[nodiscard]] cv::Rect car_area() const { return car_; }  // in the marked frame

  // Starts again from the marked frame, to go the other way in time.
  void restart();
  // Looks at the next frame; `step` is the time since the one before [s].
  FrameTrack follow(const cv::Mat& grey, double step);
  // Where the car is now, as a rectangle; empty while lost.
  [[nodiscard]] cv::Rect present_area() const;

 private:
  struct Reduced {
    cv::Mat picture;
    cv::Rect area;   // in full pixels
    int factor = 1;
  };

  void choose_points(const cv::Mat& reference);
  void predict_by_flow(const cv::Mat& grey);
  void predict_by_going_on();
  bool find_again(const cv::Mat& grey);
  bool refine(const cv::Mat& grey, double reach, FrameTrack& out);
  [[nodiscard]] Reduced reduce(const cv::Mat& grey, cv::Rect area, int factor) const;
  [[nodiscard]] cv::Rect area_under(const View& view, double margin) const;
  [[nodiscard]] Pixel expected(std::size_t point) const;

  std::vector<TrackPoint> points_;
  cv::Rect car_;                 // around all marks, in the marked frame
  cv::Rect car_body_;            // around the body points, with a margin
  double reference_width_ = 0;   // [px] between the tyre marks
  double body_count_ = 0;        // points on the body
  Pixel middle_;                 // of the car in the marked frame
  std::optional<ReferencePicture> picture_;
  cv::Mat small_reference_;      // that part of the marked frame, for the search

  View view_, view_before_;      // in this frame and one frame earlier
  Shape shape_, first_shape_;
  Reduced before_;
  bool is_lost_ = false;
  int frames_lost_ = 0;
};

}  // namespace rollwright::video
