#include "video/film/shape.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>

namespace rollwright::video {
namespace {

constexpr std::size_t kKeptFrames = 48;

double median(std::vector<double> v) {
  const auto middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

}  // namespace

std::optional<View> robust_view(const std::vector<Pixel>& from, const std::vector<double>& depth,
                                const std::vector<Pixel>& to, const View& prior) {
  const std::size_t n = from.size();
  if (n < 2) return std::nullopt;
  Pixel mean{};
  for (const auto& p : from) {
    mean.x += p.x / static_cast<double>(n);
    mean.y += p.y / static_cast<double>(n);
  }
  double spread = 0;
  for (const auto& p : from) spread += std::pow(p.x - mean.x, 2) + std::pow(p.y - mean.y, 2);
  spread /= static_cast<double>(n);
  if (!(spread > 4.0)) return std::nullopt;
  // Start from the prior with the median shift: nearly half of the points may be wrong.
  std::vector<double> sx(n), sy(n);
  for (std::size_t i = 0; i < n; ++i) {
    const Pixel p = prior(from[i], depth[i]);
    sx[i] = to[i].x - p.x;
    sy[i] = to[i].y - p.y;
  }
  View best = prior;
  best.warp.c += median(sx);
  best.warp.f += median(sy);
  for (int round = 0; round < 8; ++round) {
    std::vector<double> miss(n);
    for (std::size_t i = 0; i < n; ++i) {
      const Pixel p = best(from[i], depth[i]);
      miss[i] = std::hypot(to[i].x - p.x, to[i].y - p.y);
    }
    const double scale = std::max(0.3, 2.0 * median(miss));
    Eigen::Matrix4d normal = Eigen::Matrix4d::Zero();
    Eigen::Matrix<double, 4, 2> right = Eigen::Matrix<double, 4, 2>::Zero();
    for (std::size_t i = 0; i < n; ++i) {
      const double q = 1.0 / (1.0 + std::pow(miss[i] / scale, 2));
      const Eigen::Vector4d row(from[i].x - mean.x, from[i].y - mean.y, depth[i], 1.0);
      normal += q * q * row * row.transpose();
      right += q * q * row * Eigen::RowVector2d(to[i].x, to[i].y);
    }
    // The pull: worth a fiftieth of a point at the spread's distance.
    const double pull = 0.02 * spread;
    const Eigen::Matrix<double, 3, 2> before{{prior.warp.a, prior.warp.d}, {prior.warp.b, prior.warp.e}, {prior.gx, prior.gy}};
    for (int k = 0; k < 3; ++k) normal(k, k) += pull;
    right.topRows<3>() += pull * before;
    const Eigen::Matrix<double, 4, 2> fit = normal.ldlt().solve(right);
    if (!fit.allFinite()) return std::nullopt;
    best.warp = {fit(0, 0), fit(1, 0), fit(3, 0) - fit(0, 0) * mean.x - fit(1, 0) * mean.y,
                 fit(0, 1), fit(1, 1), fit(3, 1) - fit(0, 1) * mean.x - fit(1, 1) * mean.y};
    best.gx = fit(2, 0);
    best.gy = fit(2, 1);
  }
  return best;
}

Shape::Shape(std::vector<Pixel> places, std::vector<double> first_depths)
    : places_(std::move(places)), depth_(first_depths), first_depth_(std::move(first_depths)) {}

void Shape::learn(const std::vector<std::size_t>& points, const std::vector<Pixel>& seen, const View& view) {
  if (++since_ < (frames_.size() < 12 ? 1 : every_)) return;
  since_ = 0;
  frames_.push_back({points, seen, view});
  if (frames_.size() >= kKeptFrames) {
    // Every second one goes, and new ones come half as often: the kept frames span the whole film.
    for (std::size_t k = 0; 2 * k < frames_.size(); ++k) frames_[k] = frames_[2 * k];
    frames_.resize((frames_.size() + 1) / 2);
    every_ *= 2;
  }
  for (int round = 0; round < 2; ++round) {
    for (auto& f : frames_) {
      std::vector<Pixel> from;
      std::vector<double> depth;
      for (const auto i : f.points) {
        from.push_back(places_[i]);
        depth.push_back(depth_[i]);
      }
      if (const auto fit = robust_view(from, depth, f.seen, f.view)) f.view = *fit;
    }
    std::vector<double> up(depth_.size(), 0.0), down(depth_.size(), 0.0);
    for (const auto& f : frames_) {
      const double length = f.view.gx * f.view.gx + f.view.gy * f.view.gy;
      for (std::size_t k = 0; k < f.points.size(); ++k) {
        const std::size_t i = f.points[k];
        const Pixel p = f.view.warp(places_[i]);
        const double rx = f.seen[k].x - p.x, ry = f.seen[k].y - p.y;
        const double miss = std::hypot(rx - f.view.gx * depth_[i], ry - f.view.gy * depth_[i]);
        const double w = 1.0 / (1.0 + miss * miss / 4.0);
        up[i] += w * (rx * f.view.gx + ry * f.view.gy);
        down[i] += w * length;
      }
    }
    // A little of the first guess stays until the views differ enough to know better.
    constexpr double kStart = 0.002;
    for (std::size_t i = 0; i < depth_.size(); ++i) {
      depth_[i] = (up[i] + kStart * first_depth_[i]) / (down[i] + kStart);
    }
  }
}

}  // namespace rollwright::video
