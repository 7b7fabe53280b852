// GPX 1.1 tracks: places and times, with speed and course where a device wrote them as extensions.
//
// Only trkpt elements with lat, lon and time count. The file is scanned tag by tag in bounded memory; entities are not
// expanded and nothing outside the file is opened. A track holds no roll: it is of use beside a phone's motion sensors.
// Source: [GPX 1.1].
#pragma once

#include <vector>

#include "base/byte_source.h"
#include "base/problem.h"
#include "signal/earth.h"

namespace rollwright::signal {

struct TrackPoint {
  double time = 0.0;      // [s] since 1970-01-01 UTC
  Place place;
  double speed = -1.0;    // [m/s], negative where not written
  double course = -1.0;   // [rad], negative where not written
};

// True where the first bytes look like XML.
bool looks_like_xml(std::string_view head);

base::Outcome<std::vector<TrackPoint>> read_gpx(const base::ByteSource& source);

}  // namespace rollwright::signal
