// A film to try the program with: the invented car of the tests, on an invented slalom.
#include <cmath>
#include <numbers>

#include "video/film/film_writer.h"
#include "video/film/rendered_car.h"
#include "video/measure.h"

namespace rollwright::video {

base::Outcome<TrialFilm> trial_film(base::AnglePerAcceleration roll_gradient, base::Speed speed, int width, std::uint64_t seed, const base::Progress& progress) {
  // Cones 11 m apart, path 1.2 m to each side: lateral acceleration goes with the square of the speed.
  constexpr double kSpacing = 11.0, kAmplitude = 1.2, kLength = 55.0;  // [m]
  const double k = std::numbers::pi / kSpacing, v = speed.si();
  const double peak = roll_gradient.si() * kAmplitude * k * k * v * v;
  rendered::Scene scene;
  scene.width = width - width % 2;
  scene.height = scene.width * 9 / 16 - (scene.width * 9 / 16) % 2;
  scene.focal = 5000.0 * scene.width / 1920.0;
  scene.tilt = 1.9 * rendered::kDeg;
  scene.fps = 30;
  scene.frames = std::floor(kLength / v * scene.fps);
  scene.seed = seed;
  scene.has_cones = true;
  scene.noise = 2.0;
  scene.pose = rendered::slalom(20.0, v, peak / rendered::kDeg, kSpacing);
  rendered::Renderer renderer(scene);
  FilmFormat format;
  format.nominal_rate = scene.fps;
  auto writer = FilmWriter::start(scene.width, scene.height, format);
  if (!writer) return base::fail(writer.error());
  const int frames = static_cast<int>(scene.frames);
  for (int i = 0; i < frames; ++i) {
    if (progress.is_cancelled()) return base::fail(base::no_answer("cancelled", "film", "Stopped before the end."));
    if (i % 8 == 0) progress.report(static_cast<double>(i) / frames, "drawing the film");
    if (!(*writer)->add(renderer.frame(i / scene.fps), i / scene.fps)) break;
  }
  TrialFilm out;
  out.mp4 = (*writer)->finish();
  if (out.mp4.empty()) return base::fail(base::Problem{base::ProblemKind::environment, "no_encoder", "", "The film could not be written.", {}, "Install the machine's usual video encoders."});
  out.marks = renderer.marks(0.0, 0.4, seed);
  out.marks.click_sd = 0.5;
  out.setting.track = {base::Length(scene.track), base::Length(0.01), base::Origin::measured};
  out.largest_roll = base::Angle(peak);
  return out;
}

}  // namespace rollwright::video
