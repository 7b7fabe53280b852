#include "video/film/patch.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <Eigen/Core>
#include <opencv2/imgproc.hpp>

namespace rollwright::video {
namespace {

constexpr int kSamples = kPatchSide * kPatchSide;
using Samples = std::array<float, kSamples>;

// Bilinear samples on the grid centre + i·u + j·v; false when any lies outside.
bool sample(const cv::Mat& picture, double cx, double cy, double ux, double uy, double vx, double vy, Samples& out) {
  const double reach_x = kPatchHalf * (std::abs(ux) + std::abs(vx)) + 1.0;
  const double reach_y = kPatchHalf * (std::abs(uy) + std::abs(vy)) + 1.0;
  if (!(cx - reach_x >= 0.0) || !(cy - reach_y >= 0.0) || !(cx + reach_x < picture.cols - 1) || !(cy + reach_y < picture.rows - 1)) {
    return false;
  }
  const auto stride = static_cast<std::ptrdiff_t>(picture.step);
  const std::uint8_t* base = picture.data;
  std::size_t k = 0;
  for (int j = -kPatchHalf; j <= kPatchHalf; ++j) {
    // All coordinates are positive here, so truncation is the floor.
    float x = static_cast<float>(cx + j * vx - kPatchHalf * ux), y = static_cast<float>(cy + j * vy - kPatchHalf * uy);
    const float sx = static_cast<float>(ux), sy = static_cast<float>(uy);
    for (int i = 0; i < kPatchSide; ++i, x += sx, y += sy, ++k) {
      const int ix = static_cast<int>(x), iy = static_cast<int>(y);
      const float fx = x - static_cast<float>(ix), fy = y - static_cast<float>(iy);
      const std::uint8_t* p = base + iy * stride + ix;
      const float top = static_cast<float>(p[0]) + fx * static_cast<float>(p[1] - p[0]);
      const float bottom = static_cast<float>(p[stride]) + fx * static_cast<float>(p[stride + 1] - p[stride]);
      out[k] = top + fy * (bottom - top);
    }
  }
  return true;
}

}  // namespace

double Affine::scale() const { return std::sqrt(std::abs(a * e - b * d)); }

ReferencePicture::ReferencePicture(const cv::Mat& grey, cv::Rect area, int levels) : area_(area & cv::Rect({0, 0}, grey.size())) {
  const cv::Mat part = grey(area_);
  levels_.push_back(part.clone());
  // Half-octave steps down to a sixteenth. A picture made smaller by s has lost what a Gaussian of about
  // 0.5·√(s²−1) px takes away (common practice, no source).
  for (int i = 1; i < levels; ++i) {
    const double shrink = std::pow(2.0, 0.5 * i);
    cv::Mat blurred;
    cv::GaussianBlur(part, blurred, {}, 0.5 * std::sqrt(shrink * shrink - 1.0));
    levels_.push_back(blurred);
  }
}

const cv::Mat& ReferencePicture::level(double scale) const {
  const double steps = scale < 1.0 ? -2.0 * std::log2(scale) : 0.0;
  return levels_[static_cast<std::size_t>(std::clamp(std::lround(steps), 0L, static_cast<long>(levels_.size()) - 1))];
}

PatchResult find_patch(const ReferencePicture& reference, const Pixel& in_reference, const cv::Mat& picture,
                       cv::Point origin, const Affine& warp, const Pixel& guess, double guess_sd, double reach) {
  PatchResult result;
  const double scale = warp.scale();
  if (!(scale > 0.02) || !(scale < 50.0)) return result;
  // One sample a pixel of whichever picture is coarser.
  const double step = scale < 1.0 ? 1.0 / scale : 1.0;
  const cv::Mat& from = reference.level(scale);
  Samples patch;
  if (!sample(from, in_reference.x - reference.origin().x, in_reference.y - reference.origin().y, step, 0, 0, step, patch)) {
    return result;
  }
  // Grid axes in the present picture.
  const double ux = warp.a * step, uy = warp.d * step, vx = warp.b * step, vy = warp.e * step;

  float mean = 0;
  for (float v : patch) mean += v;
  mean /= kSamples;
  float energy = 0;
  for (float& v : patch) {
    v -= mean;
    energy += v * v;
  }
  const float deviation = std::sqrt(energy / kSamples);
  if (deviation < 2.0F) return result;  // nothing to hold on to
  // Gradient of the patch along its grid; zero on the border.
  static_assert(kPatchSide > 2);
  Samples gi{}, gj{};
  for (int j = 1; j + 1 < kPatchSide; ++j) {
    for (int i = 1; i + 1 < kPatchSide; ++i) {
      const auto k = static_cast<std::size_t>(j * kPatchSide + i);
      gi[k] = 0.5F * (patch[k + 1] - patch[k - 1]);
      gj[k] = 0.5F * (patch[k + kPatchSide] - patch[k - kPatchSide]);
    }
  }

  double x = guess.x - origin.x, y = guess.y - origin.y;
  const double x0 = x, y0 = y;
  Samples seen;
  using View = Eigen::Map<Eigen::Array<float, kSamples, 1>>;
  const View patch_view(patch.data()), gi_view(gi.data()), gj_view(gj.data());
  View seen_view(seen.data());
  float scatter = deviation;  // robust scale of the differences [grey]
  double hii = 0, hij = 0, hjj = 0, correlation = 0, contrast = 1, noise = 0;
  for (int round = 0; round < 10; ++round) {
    if (!sample(picture, x, y, ux, uy, vx, vy, seen)) return result;
    seen_view -= seen_view.mean();
    const float cross = (seen_view * patch_view).sum(), seen_energy = seen_view.square().sum();
    if (seen_energy < 1.0F) return result;
    correlation = static_cast<double>(cross) / std::sqrt(static_cast<double>(seen_energy) * static_cast<double>(energy));
    contrast = static_cast<double>(cross) / static_cast<double>(energy);
    if (correlation < 0.2) return result;
    const float gain = energy / cross;  // makes the seen patch as strong as the reference
    const float limit = 2.5F * scatter, inverse = 1.0F / (limit * limit);
    const auto error = (gain * seen_view - patch_view).eval();
    const auto weights = (1.0F + error.square() * inverse).inverse().eval();
    const auto wi = (weights * gi_view).eval(), wj = (weights * gj_view).eval();
    hii = static_cast<double>((wi * gi_view).sum());
    hij = static_cast<double>((wi * gj_view).sum());
    hjj = static_cast<double>((wj * gj_view).sum());
    const double si = static_cast<double>((wi * error).sum()), sj = static_cast<double>((wj * error).sum());
    const double absolute = static_cast<double>(error.abs().sum()), weight_sum = static_cast<double>(weights.sum());
    const double square = static_cast<double>((weights * error.square()).sum());
    scatter = std::max(1.0F, static_cast<float>(1.2533 * absolute / kSamples));  // mean |e| of a normal error is 0.798 sd
    noise = square / std::max(weight_sum, 1.0);
    // The guess as one more observation, in grid units: Mᵀ·M/sd², weighed against the patch's own information.
    const double pull = 4.0 * std::max(noise, 1.0) / (guess_sd * guess_sd);
    const double ox = x - x0, oy = y - y0;
    const double aii = hii + pull * (ux * ux + uy * uy), aij = hij + pull * (ux * vx + uy * vy),
                 ajj = hjj + pull * (vx * vx + vy * vy);
    const double ri = si + pull * (ux * ox + uy * oy), rj = sj + pull * (vx * ox + vy * oy);
    const double det = aii * ajj - aij * aij;
    if (!(det > 0.0)) return result;
    const double di = -(ajj * ri - aij * rj) / det, dj = -(aii * rj - aij * ri) / det;
    const double limit_step = 2.0;  // samples a round: the patch's own gradient is of no use farther
    const double size = std::hypot(di, dj), shorten = size > limit_step ? limit_step / size : 1.0;
    x += shorten * (di * ux + dj * vx);
    y += shorten * (di * uy + dj * vy);
    if (std::hypot(x - x0, y - y0) > reach) return result;
    if (size < 0.012) break;
  }
  // Information in pixels of the present picture: grid shift = M⁻¹ · pixel shift. Neighbouring differences are alike
  // (codec blocks, interpolation), so a patch counts for a quarter of its samples; 1.0 grey² is the least noise assumed.
  const double det = ux * vy - uy * vx;
  const double mi_x = vy / det, mi_y = -vx / det, mj_x = -uy / det, mj_y = ux / det;
  const double w = 0.25 / std::max(noise, 1.0);
  result.xx = w * (hii * mi_x * mi_x + 2 * hij * mi_x * mj_x + hjj * mj_x * mj_x);
  result.xy = w * (hii * mi_x * mi_y + hij * (mi_x * mj_y + mi_y * mj_x) + hjj * mj_x * mj_y);
  result.yy = w * (hii * mi_y * mi_y + 2 * hij * mi_y * mj_y + hjj * mj_y * mj_y);
  result.at = {x + origin.x, y + origin.y};
  result.likeness = correlation;
  result.contrast = contrast;
  result.is_found = true;
  return result;
}

}  // namespace rollwright::video
