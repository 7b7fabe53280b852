// Cautions of fitting work, each said once, so that every sheet says the same. Own words; sources are keys of the register.
#pragma once

#include <string>
#include <vector>

namespace rollwright::ops {

enum class CautionTopic { lifting, jack_only, bar_loaded, torque, recheck, first_drive, law, inspection, locked_dampers, airbag_nobody_inside };

struct CautionText {
  std::string title;
  std::string text;
  std::vector<std::string> sources;  // empty: common practice, no source
};

const CautionText& caution_text(CautionTopic topic);

}  // namespace rollwright::ops
