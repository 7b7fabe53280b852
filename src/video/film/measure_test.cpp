#include "video/measure.h"

#include <cmath>
#include <cstdio>
#include <fstream>
#include <sstream>

#include <gtest/gtest.h>
#include <opencv2/imgcodecs.hpp>

#include "video/film/film_files.h"

namespace rollwright::video {
namespace {

using rendered::kDeg;

struct Errors {
  double rms = 0, mean = 0, slope = 0, cover = 0, sd = 0;
  std::size_t frames = 0;
};

Errors against(const FilmRoll& roll, const std::function<double(double)>& truth) {
  Errors e;
  double n = 0, s = 0, q = 0, st = 0, sr = 0, stt = 0, srt = 0, in = 0, sd = 0;
  for (std::size_t i = 0; i < roll.time.size(); ++i) {
    const double t = truth(roll.time[i].si()), r = roll.fit.poses[i].pose.roll, d = r - t;
    ++n; s += d; q += d * d; st += t; sr += r; stt += t * t; srt += r * t;
    in += std::abs(d) < 1.96 * roll.fit.poses[i].roll_sd;
    sd += roll.fit.poses[i].roll_sd;
  }
  e.frames = roll.time.size();
  e.rms = std::sqrt(q / n) / kDeg;
  e.mean = s / n / kDeg;
  e.slope = (srt - sr * st / n) / (stt - st * st / n);
  e.cover = in / n;
  e.sd = sd / n / kDeg;
  return e;
}

Setting with_track(double track) {
  Setting s;
  s.track = {base::Length(track), base::Length(0.005), base::Origin::measured};
  return s;
}

std::string codes(const base::Footing& f) {
  std::string all;
  for (const auto& w : f.warnings) all += w.code + " ";
  return all;
}
std::string codes(const base::Problems& problems) {
  std::string all;
  for (const auto& p : problems) all += p.code + ": " + p.message + " ";
  return all;
}

void print(const char* what, const Errors& e, const std::string& flags) {
  std::printf("  %-22s frames %zu  rms %.3f  mean %+.3f  slope %.4f  covered %.2f  mean sd %.3f deg  %s\n", what, e.frames, e.rms, e.mean,
              e.slope, e.cover, e.sd, flags.c_str());
}

#define RENDER_OR_SAY(scene, file)                                                    \
  if (!rendered::write_film(scene, (file).local_path())) {                            \
    std::printf("not run: no H.264 encoder on this machine\n");                       \
    return;                                                                           \
  }

rendered::Scene plain() {
  rendered::Scene s;
  s.pose = rendered::slalom(26.0, 6.5, 2.6);
  return s;
}

Errors run(const rendered::Scene& scene, const Marks& marks, const Setting& setting, const char* name, std::string* flags = nullptr) {
  rendered::FilmFile file(name);
  if (!rendered::write_film(scene, file.local_path())) return {};
  const auto answer = measure_roll(file, marks, setting, {});
  if (!answer) {
    ADD_FAILURE() << codes(answer.error());
    return {};
  }
  const Errors e = against(answer->result, [&](double t) { return scene.pose(t).roll; });
  print(name, e, codes(*answer));
  const PoseFit& f = answer->result.fit;
  std::printf("    focal %.0f ± %.0f (true %.0f)  tilt %.2f  camera roll %.2f (true %.2f) deg  readout %.1f ms  height %.2f m  zero sd %.3f deg  noise %.2f  left out %d\n",
              f.camera.focal, 1.96 * f.focal_sd_relative * f.camera.focal, scene.focal, f.camera.tilt / kDeg, f.camera.roll / kDeg,
              scene.camera_roll / kDeg, 1e3 * f.readout, f.camera.height, f.zero_sd / kDeg, f.noise, f.points_left_out);
  if (flags) *flags = codes(*answer);
  return e;
}

// Rendered truth (invented car), H.264. The tyres are 346 px apart at the start and 200 px at the end, the body 390 to 230.
// The bound of 0.1 degrees is the specification's; exact marks.
TEST(MeasureRoll, is_within_a_tenth_of_a_degree_on_rendered_film_without_knowing_the_lens) {
  const rendered::Scene s = plain();
  const Errors e = run(s, rendered::Renderer(s).marks(0.0, 0.0, 1), with_track(1.5), "plain");
  if (e.frames == 0) return;
  EXPECT_LT(e.rms, 0.1);
  EXPECT_NEAR(e.slope, 1.0, 0.03);  // peaks within 3 %
  EXPECT_GT(e.frames, 70U);
}

TEST(MeasureRoll, goes_backwards_from_a_mark_in_the_middle_of_the_film) {
  rendered::Scene s = plain();
  s.pose = rendered::slalom(19.0, 5.5, 2.6);  // nearer, so that the tyres are 330 px apart in the marked frame
  const Errors e = run(s, rendered::Renderer(s).marks(1.5, 0.0, 1), with_track(1.5), "marked_in_the_middle");
  if (e.frames == 0) return;
  // 0.2°: the car is turned by 19° in the marked frame, and the lens is not known; both go into the zero, whose stated
  // standard error here is 0.1 to 0.2°.
  EXPECT_LT(e.rms, 0.2);
  EXPECT_GT(e.frames, 70U);
}

TEST(MeasureRoll, takes_a_tilted_camera_out) {
  rendered::Scene s = plain();
  s.camera_roll = 2.0 * kDeg;
  const Errors e = run(s, rendered::Renderer(s).marks(0.5, 0.0, 1), with_track(1.5), "tilted_camera");
  if (e.frames == 0) return;
  EXPECT_LT(e.rms, 0.1);
}

TEST(MeasureRoll, takes_a_panning_and_shaking_camera_out_and_says_so) {
  rendered::Scene s = plain();
  s.pan = [](double t) { return cv::Point2d(120.0 * std::sin(1.3 * t) + 2.0 * std::sin(25 * t), 30 * std::sin(0.9 * t) + 2.0 * std::cos(31 * t)); };
  std::string flags;
  const Errors e = run(s, rendered::Renderer(s).marks(0.0, 0.0, 1), with_track(1.5), "panning", &flags);
  if (e.frames == 0) return;
  EXPECT_LT(e.rms, 0.1);
  EXPECT_NE(flags.find("camera_moved"), std::string::npos);
}

TEST(MeasureRoll, keeps_going_when_cones_hide_part_of_the_car) {
  rendered::Scene s = plain();
  s.has_cones = true;
  const Errors e = run(s, rendered::Renderer(s).marks(0.0, 0.0, 1), with_track(1.5), "cones");
  if (e.frames == 0) return;
  EXPECT_LT(e.rms, 0.1);
}

TEST(MeasureRoll, bears_blur_noise_and_a_change_of_exposure) {
  rendered::Scene s = plain();
  s.blur = 1.6;
  s.noise = 6.0;
  s.brightness_from = 1.5;
  const Errors e = run(s, rendered::Renderer(s).marks(0.0, 0.0, 1), with_track(1.5), "blur_noise");
  if (e.frames == 0) return;
  EXPECT_LT(e.rms, 0.15);  // beyond the specification's plain case; half as much again
}

}  // namespace
}  // namespace rollwright::video
