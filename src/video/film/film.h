// Film: a film file read frame by frame, upright, as brightness, with the time stamps of the file.
//
// Phones write variable frame rates, rotation flags, 8- and 10-bit pictures and edit lists; all of that ends here. The
// picture stays in the decoder's own memory (no copy, no colour conversion) where the format allows it and is valid
// until the next call.
#pragma once

#include <cstdint>
#include <memory>

#include <opencv2/core.hpp>

#include "base/byte_source.h"
#include "base/problem.h"
#include "video/film_facts.h"

namespace rollwright::video {

struct Frame {
  std::int64_t index = 0;    // in display order from 0; −1 after a jump, where it is not known
  double time = 0.0;         // [s] from the first frame's stamp
  bool is_damaged = false;   // the decoder reported errors in it
  cv::Mat grey;              // 8 bit, upright
};

class Film {
 public:
  // Problems: no such file or unreadable (environment), no video stream, no frames, too large, unknown coding (input).
  static base::Outcome<std::unique_ptr<Film>> open(const base::ByteSource& source);
  ~Film();

  [[nodiscard]] const FilmFacts& facts() const;
  // The next frame; false at the end. Damaged ends are an end; facts().is_cut_short tells.
  bool next(Frame& frame);
  // The picture that next() gave last, upright, in colours (BGR), at most `most_width` px wide; empty when there is none.
  // Valid until the next call of next().
  cv::Mat colours(int most_width);
  // Jumps so that next() gives a frame at or before `time` [s]; false when the file cannot.
  bool jump_before(double time);

 private:
  struct State;
  explicit Film(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace rollwright::video
