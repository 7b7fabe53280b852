#include "ops/documents/share_sheet.h"

#include <algorithm>

namespace rollwright::ops {

namespace unit = base::unit;

void FeelRating::describe(base::RecordType<FeelRating>& r) {
  r.about("How it felt, rated before and after. A rating before that still waits for its other half is kept and not shown.");
  r.field<&FeelRating::what>("what", "What was rated.").required();
  r.field<&FeelRating::before>("before", unit::one, "Before, 0 bad to 10 good.").required().between(0, 10);
  r.field<&FeelRating::after>("after", unit::one, "After, 0 bad to 10 good.").between(0, 10);
  r.field<&FeelRating::sealed>("sealed", "True when the rating before was out of sight while that after was given (blind).");
}

void ShareSheet::describe(base::RecordType<ShareSheet>& r) {
  using S = ShareSheet;
  r.document("share/1");
  r.about("One finished change without anything personal: no names, no place, no plate, no notes, no day.");
  r.field<&S::month>("month", "Year and month, 2026-05; nothing finer.");
  r.field<&S::invented>("invented", "True for a car that does not exist.");
  r.field<&S::car_class>("car_class", "Class of the car.");
  r.field<&S::drive>("drive", "Driven wheels.");
  r.field<&S::mass>("mass", unit::kg, "Mass to the next 50 kg.").between(0, 5000);
  r.field<&S::changed>("changed", "What was changed.");
  r.field<&S::worth>("worth", "Worth it, not worth it, or cannot tell.").required();
  r.field<&S::wanted_change>("wanted_change", unit::percent, "Change of lean that was wanted.").between(-90, 0);
  r.field<&S::measured_change>("measured_change", unit::percent, "Change of lean as measured; left out where it was not.");
  r.field<&S::forecast_change>("forecast_change", unit::percent, "Change of lean as forecast.").required();
  r.field<&S::forecast_held>("forecast_held", "Whether the measurement agreed with the forecast.");
  r.field<&S::lean_before>("lean_before", unit::deg_per_g, "Lean before, measured where it was.");
  r.field<&S::lean_after>("lean_after", unit::deg_per_g, "Lean after, measured where it was.");
  r.field<&S::front_bar_before>("front_bar_before", unit::n_per_mm, "Front bar per side at the link before.");
  r.field<&S::front_bar_after>("front_bar_after", unit::n_per_mm, "After.");
  r.field<&S::rear_bar_before>("rear_bar_before", unit::n_per_mm, "Rear bar per side at the link before.");
  r.field<&S::rear_bar_after>("rear_bar_after", unit::n_per_mm, "After.");
  r.field<&S::front_share_change>("front_share_change", unit::percent, "Change of the front axle's part of the load shift, points; forecast.");
  r.field<&S::understeer_change>("understeer_change", unit::deg_per_g, "Change of how much it pushes wide; forecast.");
  r.field<&S::limit_change>("limit_change", unit::g, "Change of the limit; forecast.");
  r.field<&S::one_wheel_front_change>("one_wheel_front_change", unit::percent, "Change of the front one-wheel bump rate; forecast.");
  r.field<&S::one_wheel_rear_change>("one_wheel_rear_change", unit::percent, "Change of the rear one-wheel bump rate; forecast.");
  r.field<&S::currency>("currency", "The money, three letters.");
  r.field<&S::parts_cost>("parts_cost", unit::money, "What the parts cost.").between(0, 1e7);
  r.field<&S::total_cost>("total_cost", unit::money, "Parts and the worth of the hours.").between(0, 1e7);
  r.field<&S::work>("work", unit::hours, "Hours of work.").between(0, 1000);
  r.field<&S::feel>("feel", "How it felt.");
  r.check([](const S& s, base::Problems& problems) {
    const auto digits = [](const std::string& text) { return std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; }); };
    const bool is_month = s.month.size() == 7 && s.month[4] == '-' && digits(s.month.substr(0, 4)) && digits(s.month.substr(5));
    if (!s.month.empty() && !is_month) problems.push_back(base::input_problem("not_a_month", "month", "This is not a year and a month.", "2026-05; a share file has no days"));
    const bool is_code = s.currency.size() == 3 && std::all_of(s.currency.begin(), s.currency.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
    if (!s.currency.empty() && !is_code) problems.push_back(base::input_problem("not_a_currency", "currency", "A share file names its money by three capital letters.", "EUR, USD, GBP, …"));
  });
}

const char* feel_words(FeelQuestion question) {
  switch (question) {
    case FeelQuestion::lean: return "lean";
    case FeelQuestion::turn_in: return "turning in";
    case FeelQuestion::balance: return "balance";
    case FeelQuestion::grip: return "grip";
    case FeelQuestion::comfort: return "comfort";
    case FeelQuestion::confidence: return "confidence";
  }
  return "";
}

const char* part_words(SharedPart part) {
  switch (part) {
    case SharedPart::front_bar: return "front bar";
    case SharedPart::rear_bar: return "rear bar";
    case SharedPart::front_springs: return "front springs";
    case SharedPart::rear_springs: return "rear springs";
    case SharedPart::dampers: return "dampers";
    case SharedPart::tyres: return "tyres";
    case SharedPart::ride_height: return "ride height";
    case SharedPart::load: return "load";
  }
  return "";
}

}  // namespace rollwright::ops
