// Patch: a small square of the marked frame, found again in another frame to a few hundredths of a pixel.
//
// The patch is taken from the marked frame each time, never from the frame before, so errors do not add up. It is warped
// by the car's present affine picture, compared after removing brightness and contrast, and shifted by Gauss–Newton
// steps with a robust weight on each pixel [BakerMatthews2004 §3.2, inverse compositional].
#pragma once

#include <vector>

#include <opencv2/core.hpp>

#include "video/camera.h"

namespace rollwright::video {

struct Affine {
  // x' = a x + b y + c, y' = d x + e y + f
  double a = 1, b = 0, c = 0, d = 0, e = 1, f = 0;
  [[nodiscard]] Pixel operator()(const Pixel& p) const { return {a * p.x + b * p.y + c, d * p.x + e * p.y + f}; }
  [[nodiscard]] double scale() const;
};

// The marked frame at growing blur, so that a far, small car is compared with a picture of the same sharpness.
class ReferencePicture {
 public:
  // Keeps the part inside `area`, at `levels` steps of blur (half an octave each).
  ReferencePicture(const cv::Mat& grey, cv::Rect area, int levels = 9);
  // Level whose blur fits a picture `scale` times as large as the marked frame's.
  [[nodiscard]] const cv::Mat& level(double scale) const;
  [[nodiscard]] cv::Point origin() const { return area_.tl(); }
  [[nodiscard]] cv::Rect area() const { return area_; }

 private:
  cv::Rect area_;
  std::vector<cv::Mat> levels_;  // 8 bit
};

struct PatchResult {
  bool is_found = false;
  Pixel at;
  double xx = 0, xy = 0, yy = 0;  // information [px⁻²]
  double likeness = 0;
  double contrast = 1;            // present contrast / contrast in the marked frame
};

// Side of a patch in samples; half of it to each side.
inline constexpr int kPatchHalf = 9;
inline constexpr int kPatchSide = 2 * kPatchHalf + 1;

// Finds the patch around `in_reference` near `guess` in `picture`. `picture` must be blurred like the reference when the
// car is larger than there. The guess is known to `guess_sd` [px]: along an edge, where the picture says nothing, the
// patch stays at its guess instead of sliding (the information returned is the picture's alone). `reach` [px]: farther
// from the guess counts as not found.
PatchResult find_patch(const ReferencePicture& reference, const Pixel& in_reference, const cv::Mat& picture,
                       cv::Point picture_origin, const Affine& warp, const Pixel& guess, double guess_sd, double reach);

}  // namespace rollwright::video
