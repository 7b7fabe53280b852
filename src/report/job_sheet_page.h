// The job sheet and its cards, to print on A4 or Letter in black and white and to read at arm's length.
#pragma once

#include <string>

#include "ops/fit_sheet.h"

namespace rollwright::report {

// HTML inside <main>: job sheet, then settings card, scrutineer's and insurer's sheet, each on its own page.
std::string job_sheet_body(const ops::FitSheetResult& sheet);

}  // namespace rollwright::report
