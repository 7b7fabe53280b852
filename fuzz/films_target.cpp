#include <cmath>

#include "base/byte_source.h"
#include "targets.h"
#include "video/measure.h"

namespace rollwright::fuzz {

// Header, facts and one picture: what the page asks when a film is dropped on it.
void films(std::string_view bytes) {
  if (!video::has_video() || bytes.size() > (1U << 18)) return;
  const auto facts = video::pictures_of(
      *base::text_source("film.mp4", std::string(bytes)), {base::Duration(0.1)}, 0,
      [](const video::Picture& picture) -> base::Outcome<bool> {
        FUZZ_HOLDS(picture.jpeg.size() > 8 && picture.width > 0 && picture.height > 0);
        FUZZ_HOLDS(std::isfinite(picture.time.si()));
        return true;
      },
      {});
  if (!facts) return FUZZ_HOLDS(!facts.error().empty());
  FUZZ_HOLDS(facts->width > 0 && facts->height > 0);
}

}  // namespace rollwright::fuzz
