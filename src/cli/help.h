// Help texts, from the descriptions.
#pragma once

#include <string>
#include <vector>

#include "cli/command_line.h"
#include "ops/operation.h"

namespace rollwright::cli {

std::string overview(const std::vector<ExtraCommand>& extra);
std::string help_of(const ops::Operation& operation);

// "--speed-km-per-h" for the field speed_km_per_h.
std::string flag(const base::Field& field);

// True when the field can be given as a flag: single values, lists of single values, files.
bool has_flag(const base::Field& field);

}  // namespace rollwright::cli
