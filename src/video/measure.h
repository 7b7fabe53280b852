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

// Warnings (codes): camera_moved, camera_unknown, shake, blur, too_small, yaw_large, points_slid, exposure, dropped_frames,
// cut_short, damaged_frames, wide_lens, hidden, no_time_stamps. Problems: those of the marks and the film; no_answer
// where the car is too small, is lost, does not move as one body with the marks, or where roll cannot be told.
base::Outcome<base::Answer<FilmRoll>> measure_roll(const base::ByteSource& film, const Marks& marks, const Setting& setting,
                                                   const base::Progress& progress);

// The trace of a film, at the car's middle: 1.25 m farther from the camera than the marked axle, half a typical wheelbase
// (from memory). The axle itself swings sideways with the yaw and would show another lateral acceleration.
RollTrace trace_of(const FilmRoll& roll);

// What a film file says about itself, and one upright picture of it as PNG, for marking.
struct Still {
  FilmFacts facts;
  base::Duration time{0.0};            // of the picture given
  std::string png;
};
base::Outcome<Still> still_picture(const base::ByteSource& film, base::Duration time);

// Whether this build can read film at all.
bool has_video();

}  // namespace rollwright::video
