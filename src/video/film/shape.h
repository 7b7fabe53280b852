// Shape: the followed points as a rigid body under a far camera, learned while following.
//
// A camera far from the car sees point i at  x = L·u + g·d + c : u is its place in the marked frame, d its depth behind
// it, and the view (2×2 matrix L, vector g, shift c) is the same for all points of a frame [TomasiKanade1992 §2]. The
// depths start from a slope that most tails have and are learned by alternating least squares over frames kept so far.
// This predicts where a point must be; the angle itself comes from the pose fit, with the full camera.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "video/camera.h"
#include "video/film/patch.h"

namespace rollwright::video {

struct View {
  Affine warp;               // L and c
  double gx = 0.0, gy = 0.0; // [px per px of depth]
  [[nodiscard]] Pixel operator()(const Pixel& u, double depth) const {
    const Pixel p = warp(u);
    return {p.x + gx * depth, p.y + gy * depth};
  }
};

// Robust view from places in the marked frame and depths to places in this frame. Pulled weakly to `prior`, so that two
// points are enough. Empty when the points are too few or on one spot.
std::optional<View> robust_view(const std::vector<Pixel>& from, const std::vector<double>& depth,
                                const std::vector<Pixel>& to, const View& prior);

class Shape {
 public:
  Shape() = default;
  Shape(std::vector<Pixel> places, std::vector<double> first_depths);

  [[nodiscard]] double depth(std::size_t point) const { return depth_[point]; }
  // Learned from enough different views to be relied on.
  [[nodiscard]] bool is_learned() const { return frames_.size() >= 12; }

  // One more frame: places of the points that were seen. Learns now and then.
  void learn(const std::vector<std::size_t>& points, const std::vector<Pixel>& seen, const View& view);

 private:
  struct Kept {
    std::vector<std::size_t> points;
    std::vector<Pixel> seen;
    View view;
  };
  std::vector<Pixel> places_;
  std::vector<double> depth_, first_depth_;
  std::vector<Kept> frames_;
  int since_ = 0, every_ = 3;
};

}  // namespace rollwright::video
