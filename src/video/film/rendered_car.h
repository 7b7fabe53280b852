// A small renderer for tests and for the film to try the program with: an invented car drawn with known roll, yaw and distance by a camera with known lens, blur and
// noise, and written by a real encoder. Its projection is written here anew, from the definitions, so that a slip in the
// library's does not hide itself.
#pragma once

#include <cmath>
#include <functional>
#include <string>
#include <vector>

#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>

#include "base/random.h"
#include "video/marks.h"

namespace rollwright::video::rendered {

inline constexpr double kDeg = 3.14159265358979323846 / 180.0;

struct Pose {
  double x = 30, y = 0, yaw = 0, roll = 0, pitch = 0, heave = 0;  // m, rad; rear axle's middle on the road
};

struct Scene {
  int width = 1920, height = 1080;
  double focal = 6000;          // [px]
  double camera_height = 1.5;   // [m]
  double tilt = 1.7 * kDeg;     // down
  double camera_roll = 0.0;     // clockwise from behind
  double k1 = 0.0;              // camera.h
  double blur = 0.6;            // [px] sd of the lens
  double noise = 2.0;           // [grey] sd
  double fps = 30;
  double frames = 75;
  double track = 1.5;
  std::uint64_t seed = 1;
  std::function<Pose(double t)> pose;
  std::function<double(int i)> stamp;         // [s] of a frame; empty: even
  std::function<cv::Point2d(double t)> pan;   // [px] shift of the picture; empty: tripod
  bool has_cones = false;                     // cones between camera and car
  double brightness_from = -1;                // frame time from which the exposure drops; −1: never
};

// A slalom: path amplitude 1.2 m over 11 m cones away from the camera; roll follows the lateral acceleration.
inline std::function<Pose(double)> slalom(double start, double speed, double roll_peak_deg, double spacing = 11.0, double lag = 0.15) {
  return [=](double t) {
    const double k = 3.14159265358979323846 / spacing, s = speed * t;
    Pose p;
    p.x = start + s;
    p.y = 1.2 * std::sin(k * s);
    p.yaw = std::atan(1.2 * k * std::cos(k * s));
    p.roll = -roll_peak_deg * kDeg * std::sin(k * (s - lag * speed));
    p.pitch = 0.15 * kDeg * std::sin(2 * k * s + 0.4);
    p.heave = 0.003 * std::sin(1.7 * k * s);
    return p;
  };
}

// Body points (x from the rear axle, y left, z up at rest).
inline const cv::Point3d kLampLeft{-0.70, 0.60, 0.85}, kLampRight{-0.70, -0.60, 0.85};
inline const cv::Point3d kWindowLeft{-0.38, 0.50, 1.30}, kWindowRight{-0.38, -0.50, 1.30};

class Renderer {
 public:
  explicit Renderer(const Scene& scene) : scene_(scene), random_(scene.seed) {
    // A background with detail at many sizes: sky, trees, road.
    const int margin = 200;
    cv::Mat texture(scene.height + 2 * margin, scene.width + 2 * margin, CV_32F, cv::Scalar(0));
    for (int octave = 0; octave < 6; ++octave) {
      const int cell = 4 << octave;
      cv::Mat coarse(texture.rows / cell + 2, texture.cols / cell + 2, CV_32F), fine;
      for (int j = 0; j < coarse.rows; ++j) {
        for (int i = 0; i < coarse.cols; ++i) coarse.at<float>(j, i) = static_cast<float>(random_.normal());
      }
      cv::resize(coarse, fine, texture.size(), 0, 0, cv::INTER_CUBIC);
      texture += fine * 9.0;
    }
    for (int j = 0; j < texture.rows; ++j) {
      for (int i = 0; i < texture.cols; ++i) texture.at<float>(j, i) += j < texture.rows / 2 ? 90.0F : 125.0F;
    }
    texture.convertTo(background_, CV_8U);
    margin_ = margin;
  }

  [[nodiscard]] cv::Point2d pixel_of_world(const cv::Point3d& w, double t) const {
    // Camera axes in the world: along, right, down, turned about the optical axis.
    const double ct = std::cos(scene_.tilt), st = std::sin(scene_.tilt);
    const cv::Point3d d(w.x, w.y, w.z - scene_.camera_height);
    const double along = d.x * ct - d.z * st, down = -d.x * st - d.z * ct, right = -d.y;
    const double u0 = scene_.focal * right / along, v0 = scene_.focal * down / along;
    // The camera turned clockwise by r turns the picture anticlockwise by r.
    const double r = scene_.camera_roll, u = std::cos(r) * u0 + std::sin(r) * v0, v = -std::sin(r) * u0 + std::cos(r) * v0;
    const double half2 = 0.25 * (scene_.width * double(scene_.width) + scene_.height * double(scene_.height));
    const double scale = 1 + scene_.k1 * (u * u + v * v) / half2;
    const cv::Point2d shift = scene_.pan ? scene_.pan(t) : cv::Point2d(0, 0);
    return {0.5 * (scene_.width - 1) + u * scale + shift.x, 0.5 * (scene_.height - 1) + v * scale + shift.y};
  }
  static cv::Point3d on_wheels(const Pose& p, const cv::Point3d& b) {
    return {p.x + b.x * std::cos(p.yaw) - b.y * std::sin(p.yaw), p.y + b.x * std::sin(p.yaw) + b.y * std::cos(p.yaw), b.z};
  }
  static cv::Point3d on_body(const Pose& p, const cv::Point3d& b) {
    const double y = b.y * std::cos(p.roll) - b.z * std::sin(p.roll), z = b.y * std::sin(p.roll) + b.z * std::cos(p.roll);
    const double x = b.x * std::cos(p.pitch) + z * std::sin(p.pitch), z2 = -b.x * std::sin(p.pitch) + z * std::cos(p.pitch);
    return on_wheels(p, {x, y, z2 + p.heave});
  }

  cv::Mat frame(double t) {
    const Pose p = scene_.pose(t);
    cv::Mat big;
    const cv::Point2d shift = scene_.pan ? scene_.pan(t) : cv::Point2d(0, 0);
    cv::Mat picture;
    const cv::Matx23d move(1, 0, -margin_ + shift.x, 0, 1, -margin_ + shift.y);
    cv::warpAffine(background_, picture, move, {scene_.width, scene_.height}, cv::INTER_LINEAR, cv::BORDER_REFLECT);
    // The car at four times the resolution in its own box, then area-averaged: edges are right to a hundredth of a pixel.
    cv::Point2d low(1e9, 1e9), high(-1e9, -1e9);
    for (const double x : {-0.9, 3.3}) {
      for (const double y : {-1.0, 1.0}) {
        for (const double z : {0.0, 1.6}) {
          const cv::Point2d q = pixel_of_world(on_wheels(p, {x, y, z}), t);
          low = {std::min(low.x, q.x), std::min(low.y, q.y)};
          high = {std::max(high.x, q.x), std::max(high.y, q.y)};
        }
      }
    }
    const cv::Rect box = cv::Rect(cv::Point(int(low.x) - 4, int(low.y) - 4), cv::Point(int(high.x) + 5, int(high.y) + 5)) &
                         cv::Rect(0, 0, scene_.width, scene_.height);
    if (box.area() > 0) {
      cv::resize(picture(box), big, box.size() * 4, 0, 0, cv::INTER_LINEAR);
      draw_car(big, box, p, t);
      cv::resize(big, picture(box), box.size(), 0, 0, cv::INTER_AREA);
    }
    if (scene_.has_cones) draw_cones(picture, t);
    if (scene_.blur > 0) cv::GaussianBlur(picture, picture, {}, scene_.blur);
    cv::Mat out;
    const double gain = scene_.brightness_from >= 0 && t >= scene_.brightness_from ? 0.7 : 1.0;
    picture.convertTo(out, CV_32F, gain);
    if (scene_.noise > 0) {
      if (noise_.empty()) {
        noise_.create(scene_.height + 64, scene_.width + 64, CV_32F);
        cv::RNG rng(scene_.seed);
        rng.fill(noise_, cv::RNG::NORMAL, 0.0, scene_.noise);
      }
      // One field of noise at a random place: new noise in every frame at little cost.
      out += noise_(cv::Rect(int(random_.below(64)), int(random_.below(64)), scene_.width, scene_.height));
    }
    out.convertTo(out, CV_8U);
    return out;
  }

  // Marks as a person would click them at time t, off by a normal error of `click_sd` px.
  Marks marks(double t, double click_sd, std::uint64_t seed) const {
    const Pose p = scene_.pose(t);
    base::Random random(seed);
    Marks m;
    m.time = base::Duration(t);
    const auto add = [&](const char* name, MarkRole role, MarkSide side, const cv::Point3d& world) {
      const cv::Point2d q = pixel_of_world(world, t);
      m.marks.push_back({name, role, side, {q.x + click_sd * random.normal(), q.y + click_sd * random.normal()}, {}});
    };
    add("lamp left", MarkRole::body, MarkSide::left, on_body(p, kLampLeft));
    add("lamp right", MarkRole::body, MarkSide::right, on_body(p, kLampRight));
    add("window left", MarkRole::body, MarkSide::left, on_body(p, kWindowLeft));
    add("window right", MarkRole::body, MarkSide::right, on_body(p, kWindowRight));
    add("tyre left", MarkRole::tyre_contact, MarkSide::left, on_wheels(p, {0, 0.5 * scene_.track, 0}));
    add("tyre right", MarkRole::tyre_contact, MarkSide::right, on_wheels(p, {0, -0.5 * scene_.track, 0}));
    return m;
  }

 private:
  void polygon(cv::Mat& big, cv::Rect box, double t, const std::vector<cv::Point3d>& world, int grey) const {
    std::vector<cv::Point> points;
    for (const auto& w : world) {
      const cv::Point2d q = pixel_of_world(w, t);
      // Area averaging puts the centre of a small pixel at (4i+1.5): big = 4·(q − box) + 1.5; four more bits of fraction.
      points.emplace_back(cvRound((4 * (q.x - box.x) + 1.5) * 16), cvRound((4 * (q.y - box.y) + 1.5) * 16));
    }
    cv::fillConvexPoly(big, points, cv::Scalar(grey), cv::LINE_AA, 4);
  }
  void panel(cv::Mat& big, cv::Rect box, double t, const Pose& p, double x0, double x1, double y0, double y1, double z0, double z1, int grey) const {
    polygon(big, box, t, {on_body(p, {x0, y0, z0}), on_body(p, {x0, y1, z0}), on_body(p, {x1, y1, z1}), on_body(p, {x1, y0, z1})}, grey);
  }
  void draw_car(cv::Mat& big, cv::Rect box, const Pose& p, double t) const {
    const double h = 0.5 * scene_.track;
    for (const double side : {-1.0, 1.0}) {
      for (const double x : {2.5, 0.0}) {
        // Tyre: a box as wide as a tyre and nearly as deep as its contact.
        for (const double dx : {0.25, 0.0}) {
          polygon(big, box, t, {on_wheels(p, {x + dx - 0.02, side * h + 0.1, 0}), on_wheels(p, {x + dx - 0.02, side * h - 0.1, 0}),
                                on_wheels(p, {x + dx - 0.02, side * h - 0.1, 0.6}), on_wheels(p, {x + dx - 0.02, side * h + 0.1, 0.6})}, 25);
        }
      }
    }
    const double side = p.yaw - std::atan2(p.y, p.x) > 0 ? 1.0 : -1.0;  // the flank that is seen
    const double f = 0.85 * side;
    polygon(big, box, t, {on_body(p, {-0.7, f, 0.4}), on_body(p, {3.2, f, 0.4}), on_body(p, {3.2, f, 0.9}), on_body(p, {-0.7, f, 0.95})}, 110);
    polygon(big, box, t, {on_body(p, {-0.7, f, 0.95}), on_body(p, {2.0, f, 0.95}), on_body(p, {1.2, 0.6 * side, 1.42}), on_body(p, {-0.3, 0.6 * side, 1.42})}, 80);
    panel(big, box, t, p, -0.70, -0.70, -0.85, 0.85, 0.55, 0.95, 150);   // tail
    panel(big, box, t, p, -0.70, -0.30, -0.78, 0.78, 0.95, 1.42, 160);   // hatch
    panel(big, box, t, p, -0.68, -0.38, -0.50, 0.50, 0.98, 1.30, 50);    // window
    panel(big, box, t, p, -0.55, -0.49, -0.30, 0.10, 1.12, 1.18, 120);   // sticker in it
    panel(big, box, t, p, -0.75, -0.75, -0.86, 0.86, 0.35, 0.58, 70);    // bumper
    panel(big, box, t, p, -0.76, -0.76, -0.26, 0.26, 0.42, 0.53, 225);   // plate
    panel(big, box, t, p, -0.762, -0.762, -0.20, -0.12, 0.44, 0.51, 40);
    panel(big, box, t, p, -0.762, -0.762, 0.02, 0.16, 0.44, 0.51, 40);
    for (const double s : {-1.0, 1.0}) {
      // Lamps of four parts, their inner upper corner is a mark.
      panel(big, box, t, p, -0.70, -0.70, s * 0.60, s * 0.70, 0.72, 0.85, 60);
      panel(big, box, t, p, -0.70, -0.70, s * 0.70, s * 0.80, 0.72, 0.85, 230);
      panel(big, box, t, p, -0.70, -0.70, s * 0.60, s * 0.70, 0.62, 0.72, 210);
      panel(big, box, t, p, -0.70, -0.70, s * 0.70, s * 0.80, 0.62, 0.72, 35);
    }
    panel(big, box, t, p, -0.702, -0.702, -0.05, 0.05, 0.75, 0.85, 245);  // badge
    panel(big, box, t, p, -0.702, -0.702, -0.40, 0.40, 0.655, 0.675, 230); // trim
  }
  void draw_cones(cv::Mat& picture, double t) const {
    for (int i = 0; i < 5; ++i) {
      const double x = 22.0 + 11.0 * i;
      if (x > scene_.pose(t).x - 1.0) break;
      const cv::Point2d foot = pixel_of_world({x, 0.15, 0.0}, t), top = pixel_of_world({x, 0.15, 0.75}, t);
      const double half = 0.2 * scene_.focal / x;
      const std::vector<cv::Point> triangle{{cvRound(foot.x - half), cvRound(foot.y)}, {cvRound(foot.x + half), cvRound(foot.y)},
                                            {cvRound(top.x), cvRound(top.y)}};
      cv::fillConvexPoly(picture, triangle, cv::Scalar(200), cv::LINE_AA);
    }
  }

  Scene scene_;
  base::Random random_;
  cv::Mat background_, noise_;
  int margin_ = 0;
};

}  // namespace rollwright::video::rendered
