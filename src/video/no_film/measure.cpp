#include "video/measure.h"

namespace rollwright::video {
namespace {

base::Problem none(const std::string& where) {
  return {base::ProblemKind::environment, "no_video", where, "This build of the program cannot read film.",
          "a build with ROLLWRIGHT_VIDEO on", "Install the packaged program, or build it with OpenCV and FFmpeg's libraries."};
}

}  // namespace

base::Outcome<base::Answer<FilmRoll>> measure_roll(const base::ByteSource& film, const Marks&, const Setting&, const base::Progress&, const ShowGlimpse&) {
  return base::fail(none(film.name()));
}

base::Outcome<FilmFacts> pictures_of(const base::ByteSource& film, std::vector<base::Duration>, int, const TakePicture&, const base::Progress&) {
  return base::fail(none(film.name()));
}

base::Outcome<RefinedMarks> refine_marks(const base::ByteSource& film, const Marks&) { return base::fail(none(film.name())); }

base::Outcome<TrialFilm> trial_film(base::AnglePerAcceleration, base::Speed, int, std::uint64_t, const base::Progress&) { return base::fail(none("")); }

bool has_video() { return false; }

}  // namespace rollwright::video
