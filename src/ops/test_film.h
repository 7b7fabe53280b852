// test film: an invented film to try the program with.
#pragma once

#include <string>
#include <vector>

#include "ops/documents/marks_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct TestFilmRequest {
  static constexpr const char* kName = "TestFilmRequest";
  int width = 1280;
  int seed = 7;
  static void describe(base::RecordType<TestFilmRequest>& r);
};

struct TrialFilmRecord {
  static constexpr const char* kName = "TrialFilm";
  std::string file, marks_file;
  MarksSheet marks;
  base::Angle largest_roll{0.0};
  static void describe(base::RecordType<TrialFilmRecord>& r);
};

struct TestFilmResult {
  static constexpr const char* kName = "TestFilmResult";
  std::string meaning;
  TrialFilmRecord before, after;
  base::Ratio change = 0.0;
  static void describe(base::RecordType<TestFilmResult>& r);
};

base::Outcome<base::Answer<TestFilmResult>> test_film(const TestFilmRequest& request, Context& context);
Operation test_film_operation();

}  // namespace rollwright::ops
