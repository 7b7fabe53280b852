#include <cmath>

#include "signal/gpx.h"
#include "signal/recording.h"
#include "targets.h"

namespace rollwright::fuzz {
namespace {

void expect_finite(const signal::Series3& series) {
  for (const double t : series.time()) FUZZ_HOLDS(std::isfinite(t));
  for (int axis = 0; axis < 3; ++axis) {
    for (const float v : series.axis(axis)) FUZZ_HOLDS(std::isfinite(v));
  }
}

}  // namespace

void log_files(std::string_view bytes) {
  const auto recordings = signal::read_recordings({base::text_source("log.csv", std::string(bytes))});
  if (!recordings) return FUZZ_HOLDS(!recordings.error().empty());
  for (const auto& recording : *recordings) {
    expect_finite(recording.specific_force);
    expect_finite(recording.angular_rate);
    for (const auto& fix : recording.fixes) FUZZ_HOLDS(std::isfinite(fix.time) && std::isfinite(fix.speed));
  }
}

void gpx_tracks(std::string_view bytes) {
  const auto points = signal::read_gpx(*base::text_source("track.gpx", std::string(bytes)));
  if (!points) return FUZZ_HOLDS(!points.error().empty());
  for (const auto& point : *points) FUZZ_HOLDS(std::isfinite(point.time) && std::isfinite(point.speed) && std::isfinite(point.course));
}

}  // namespace rollwright::fuzz
