#include "ops/documents/cost_sheet.h"

namespace rollwright::ops {

namespace unit = base::unit;

void CostLine::describe(base::RecordType<CostLine>& r) {
  r.about("Something that was paid for.");
  r.field<&CostLine::what>("what", "What it was.").required();
  r.field<&CostLine::price>("price", unit::money, "What it cost.").required().between(0, 1e7);
}

void CostSheet::describe(base::RecordType<CostSheet>& r) {
  r.about("What the change cost.");
  r.field<&CostSheet::currency>("currency", "The money it is in.");
  r.field<&CostSheet::parts>("parts", "What was paid for.");
  r.field<&CostSheet::work>("work", unit::hours, "Hours of work.").between(0, 1000);
  r.field<&CostSheet::worth_of_an_hour>("worth_of_an_hour", unit::money, "What an hour of yours is worth to you; 0 when it is your hobby.").between(0, 10000);
}

base::Money CostSheet::for_parts() const {
  base::Money sum;
  for (const auto& line : parts) sum += line.price;
  return sum;
}

base::Money CostSheet::total() const { return base::Money(for_parts().si() + worth_of_an_hour.si() * work.si() / 3600.0); }

}  // namespace rollwright::ops
