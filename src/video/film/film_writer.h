// FilmWriter: pictures into the bytes of an MP4 file, with the time stamps, coding and rotation flag that a phone writes.
//
// For the invented film that people try the program with, and for tests of what phones do (HEVC, ten bits, variable frame
// rate, rotation). Encoders are those of the machine's FFmpeg libraries; where one is missing start() says so.
#pragma once

#include <memory>
#include <string>

#include <opencv2/core.hpp>

#include "base/problem.h"

namespace rollwright::video {

struct FilmFormat {
  std::string coding = "h264";  // or "hevc"
  bool is_ten_bit = false;
  int rotation_deg = 0;         // by which a player turns the picture clockwise: 0, 90, 180, 270
  int quality = 21;             // constant rate factor: 18 looks untouched, 28 is coarse
  double nominal_rate = 30.0;   // [frames/s] a hint for the encoder; the stamps say what is
};

class FilmWriter {
 public:
  static base::Outcome<std::unique_ptr<FilmWriter>> start(int width, int height, const FilmFormat& format);
  ~FilmWriter();
  // One picture, 8 bit grey or BGR; `time` [s] must grow. False when the encoder fails.
  bool add(const cv::Mat& picture, double time);
  // The whole file; empty when something failed on the way.
  std::string finish();

 private:
  struct State;
  explicit FilmWriter(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace rollwright::video
