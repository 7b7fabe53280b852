// test frame: pictures of a film, to mark, to keep, to look at side by side.
#pragma once

#include <string>
#include <vector>

#include "ops/operation.h"

namespace rollwright::ops {

struct TestFrameRequest {
  static constexpr const char* kName = "TestFrameRequest";
  base::InputFile film;
  std::vector<base::Duration> times;
  int width = 1920;
  static void describe(base::RecordType<TestFrameRequest>& r);
};

struct FilmPictureRecord {
  static constexpr const char* kName = "FilmPicture";
  base::Duration time{0.0};
  int width = 0, height = 0;
  std::string file;  // where the door put it
  static void describe(base::RecordType<FilmPictureRecord>& r);
};

struct TestFrameResult {
  static constexpr const char* kName = "TestFrameResult";
  std::string meaning;
  int width = 0, height = 0, rotation = 0;  // of the film, upright
  std::string coding;
  base::Frequency frame_rate{0.0};
  base::Duration duration{0.0};
  std::vector<FilmPictureRecord> pictures;
  static void describe(base::RecordType<TestFrameResult>& r);
};

base::Outcome<base::Answer<TestFrameResult>> test_frame(const TestFrameRequest& request, Context& context);
Operation test_frame_operation();

}  // namespace rollwright::ops
