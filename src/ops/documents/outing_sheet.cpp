#include "ops/documents/outing_sheet.h"

namespace rollwright::ops {
namespace {

// YYYY-MM-DD with a possible month and day; ISO 8601.
bool is_date(const std::string& text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
  for (const std::size_t i : {0, 1, 2, 3, 5, 6, 8, 9}) {
    if (text[i] < '0' || text[i] > '9') return false;
  }
  const int month = (text[5] - '0') * 10 + text[6] - '0', day = (text[8] - '0') * 10 + text[9] - '0';
  return month >= 1 && month <= 12 && day >= 1 && day <= 31;
}

}  // namespace

void OutingSheet::describe(base::RecordType<OutingSheet>& r) {
  r.document("outing/1");
  r.about("Runs with one setup on one day.");
  r.field<&OutingSheet::name>("name", "What you call it.");
  r.field<&OutingSheet::date>("date", "The day, as YYYY-MM-DD.").required();
  r.field<&OutingSheet::car>("car", "Which car.");
  r.field<&OutingSheet::setup>("setup", "Which setup: bars, settings, springs, tyres, in words that you use again for the same setup.");
  r.field<&OutingSheet::bars_unhooked>("bars_unhooked", "True when both bars were unhooked (a bridge).");
  r.field<&OutingSheet::roll_gradient>("roll_gradient", base::unit::deg_per_g, "Measured lean of the body against the road (roll gradient).").required().above(0).at_most(30).usual_pm(0.3);
  r.field<&OutingSheet::left_right_difference>("left_right_difference", base::unit::percent, "How much more it leans in left turns than in right ones.").between(-100, 100).usual_pm(3);
  r.field<&OutingSheet::logs>("logs", "Hashes of its logs in the notebook.");
  r.field<&OutingSheet::notes>("notes", "What you noticed: weather, load, tyre pressure.");
  r.field<&OutingSheet::invented>("invented", "True for made-up data.");
  r.check([](const OutingSheet& sheet, base::Problems& problems) {
    if (!is_date(sheet.date)) problems.push_back(base::input_problem("not_a_date", "date", "\"" + sheet.date.substr(0, 40) + "\" is not a day.", "YYYY-MM-DD, for example 2026-05-01"));
  });
}

}  // namespace rollwright::ops
