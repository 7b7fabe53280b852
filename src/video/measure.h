// From a film and marks to roll against time: the one entry of this folder.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "base/answer.h"
#include "base/byte_source.h"
#include "base/progress.h"
#include "video/film_facts.h"
#include "video/marks.h"
#include "video/pose_fit.h"
#include "video/runs.h"
#include "video/tracks.h"

namespace rollwright::video {

// What the film was like; each is a share of frames or a size, and the flags in the footing say what spoils the answer.
struct Quality {
  std::int64_t frames = 0;             // decoded
  std::int64_t frames_followed = 0;
  int dropped_frames = 0;              // gaps in the time stamps
  int damaged_frames = 0;
  double smallest_width = 0.0;         // [px] tyre to tyre, over the frames that count
  double largest_width = 0.0;
  base::Angle largest_yaw{0.0};        // off the view from behind or in front
  double camera_shake = 0.0;           // [px] rms of the picture's motion from frame to frame
  bool camera_moved = false;
  bool camera_is_known = false;        // the background could be followed
};

struct FilmRoll {
  FilmFacts facts;
  Quality quality;
  PoseFit fit;                         // poses by frame
  std::vector<base::Duration> time;    // of each pose, from the film's first frame
  std::vector<FrameTrack> frames;      // of each pose: where the points were seen
  std::vector<TrackPoint> points;
};

// Shows how the work stands now and then: the newest frame, reduced, with the followed points drawn in.
struct Glimpse {
  base::Duration time{0.0};
  int points = 0;                      // seen in it; 0 while the car is lost
  std::string jpeg;
};
using ShowGlimpse = std::function<void(const Glimpse&)>;

// Warnings (codes): camera_moved, camera_unknown, shake, blur, too_small, yaw_large, points_slid, exposure, dropped_frames,
// cut_short, damaged_frames, wide_lens, hidden, no_time_stamps, road_banked, stands_still. Problems: those of the marks and the film; no_answer
// where the car is too small, is lost, does not move as one body with the marks, or where roll cannot be told.
base::Outcome<base::Answer<FilmRoll>> measure_roll(const base::ByteSource& film, const Marks& marks, const Setting& setting,
                                                   const base::Progress& progress, const ShowGlimpse& show = {});

// The trace of a film, at the car's middle: 1.25 m farther from the camera than the marked axle, half a typical wheelbase
// (from memory). The axle itself swings sideways with the yaw and would show another lateral acceleration.
RollTrace trace_of(const FilmRoll& roll);

// What a film file says about itself, and one upright picture of it in grey as PNG.
struct Still {
  FilmFacts facts;
  base::Duration time{0.0};            // of the picture given
  std::string png;
};
base::Outcome<Still> still_picture(const base::ByteSource& film, base::Duration time);

// Upright pictures of a film as JPEG, for marking, for stills and for looking at two films side by side.
struct Picture {
  base::Duration time{0.0};            // of the frame: the first whose stamp is not before the wanted one
  int width = 0, height = 0;           // [px]
  std::string jpeg;
};
// Is given each picture as it is read; an empty outcome ends it.
using TakePicture = std::function<base::Outcome<bool>(const Picture&)>;
// Pictures at the wanted times, which are sorted first; not wider than `most_width` px (0: as filmed). Times after the end
// give the last picture.
base::Outcome<FilmFacts> pictures_of(const base::ByteSource& film, std::vector<base::Duration> times, int most_width, const TakePicture& take,
                                     const base::Progress& progress);

// Marks moved to what they were meant for: body marks to the corner in the picture next to them, tyre marks up or down to
// the lower edge of the dark tyre. A mark without a clear corner or edge within `reach` px stays where it is.
struct RefinedMarks {
  FilmFacts facts;
  Marks marks;                         // with their own standard errors
  std::vector<double> moved;           // [px] of each; 0 where it was left
  std::vector<bool> is_refined;
  double zero_sd = 0.0;                // [rad] what the marks alone leave open of the zero of roll
};
base::Outcome<RefinedMarks> refine_marks(const base::ByteSource& film, const Marks& marks);

// A film to try the program with: an invented car drawn on an invented course, through a real encoder. `roll_gradient` is
// the truth of it; the marks are those of a careful person on its first frame.
struct TrialFilm {
  std::string mp4;
  Marks marks;
  Setting setting;
  base::Angle largest_roll{0.0};       // the truth
};
base::Outcome<TrialFilm> trial_film(base::AnglePerAcceleration roll_gradient, base::Speed speed, int width, std::uint64_t seed, const base::Progress& progress);

// Whether this build can read film at all.
bool has_video();

}  // namespace rollwright::video
