#include <cmath>

#include "base/byte_source.h"
#include "targets.h"
#include "video/measure.h"

namespace rollwright::fuzz {

// Header, facts and one picture: what the page asks when a film is dropped on it.
void films(std::string_view bytes) {
  if (!video::has_video() || bytes.size() > (1U << 18)) return;
  const auto still = video::still_picture(*base::text_source("film.mp4", std::string(bytes)), base::Duration(0.1));
  if (!still) return FUZZ_HOLDS(!still.error().empty());
  FUZZ_HOLDS(still->png.size() > 8 && still->facts.width > 0 && still->facts.height > 0);
  FUZZ_HOLDS(std::isfinite(still->time.si()));
}

}  // namespace rollwright::fuzz
