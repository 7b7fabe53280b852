// Follows the car through a whole film, forwards from the marked frame and backwards, in bounded memory.
#pragma once

#include "base/progress.h"
#include "video/film/film.h"
#include "video/marks.h"
#include "video/measure.h"
#include "video/tracks.h"

namespace rollwright::video {

struct Followed {
  Tracks tracks;
  std::int64_t frames = 0;
  bool background_has_texture = false;
};

// Problems: the marked time is past the end, no frames at all, cancelled.
base::Outcome<Followed> follow_car(Film& film, const Marks& marks, const base::Progress& progress, const ShowGlimpse& show = {});

}  // namespace rollwright::video
