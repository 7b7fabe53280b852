#include "ops/documents/candidate_sheet.h"

namespace rollwright::ops {

namespace unit = base::unit;

void AxleChange::describe(base::RecordType<AxleChange>& r) {
  r.about("What a candidate changes at one axle; what is left out stays as it is.");
  r.field<&AxleChange::bar>("bar", "Name of a bar sheet.");
  r.field<&AxleChange::setting>("setting", "Setting of that bar, hole left / hole right.");
  r.field<&AxleChange::bar_unhooked>("bar_unhooked", "The bar's links come off.");
  r.field<&AxleChange::bar_rate_per_side>("bar_rate_per_side", unit::n_per_mm, "Rate of the new bar at one link, both ends moving apart.").between(0, 2000).usual_pm(2);
  r.field<&AxleChange::bar_factor>("bar_factor", unit::one, "Rate of the new bar against the fitted one.").between(0, 20).usual_pm(0.1);
  r.field<&AxleChange::spring_rate>("spring_rate", unit::n_per_mm, "Rate of one new spring.").between(1, 1500).usual_pm(1);
  r.field<&AxleChange::spring_factor>("spring_factor", unit::one, "Rate of the new springs against those fitted.").between(0.2, 10).usual_pm(0.05);
  r.field<&AxleChange::damping>("damping", unit::one, "Damper forces against those now.").between(0.1, 10).usual_pm(0.1);
  r.field<&AxleChange::tyre_kind>("tyre_kind", "Another kind of tyre.");
  r.field<&AxleChange::grip>("grip", unit::one, "Tyre grip against now.").between(0.2, 3).usual_pm(0.03);
  r.field<&AxleChange::cornering_stiffness>("cornering_stiffness", unit::one, "Cornering stiffness of the tyres against now.").between(0.3, 3).usual_pm(0.05);
  r.field<&AxleChange::tyre_vertical_rate>("tyre_vertical_rate", unit::one, "Vertical stiffness of the tyres against now.").between(0.3, 3).usual_pm(0.05);
  r.field<&AxleChange::camber>("camber", unit::deg, "Change of camber at rest, negative when the top goes in.").between(-6, 6).usual_pm(0.2);
  r.field<&AxleChange::unsprung_mass>("unsprung_mass", unit::kg, "Change of the mass that moves with the wheels, both together.").between(-150, 150).usual_pm(2);
  r.field<&AxleChange::bump_stop_gap>("bump_stop_gap", unit::mm, "Change of the wheel travel to the bump stop.").between(-200, 200).usual_pm(5);
}

void CarChange::describe(base::RecordType<CarChange>& r) {
  r.about("What a candidate changes on the car.");
  r.field<&CarChange::front>("front", "At the front.");
  r.field<&CarChange::rear>("rear", "At the rear.");
  r.field<&CarChange::lowered>("lowered", unit::mm, "How much lower the body sits.").between(-150, 150).usual_pm(3);
  r.field<&CarChange::aboard>("aboard", "What comes aboard; negative mass for what is taken out.");
}

void KnockOnCost::describe(base::RecordType<KnockOnCost>& r) {
  r.about("What a candidate also causes. The same thing caused twice in a combination is paid once.");
  r.field<&KnockOnCost::what>("what", "What it is.").required();
  r.field<&KnockOnCost::price>("price", unit::money, "What it costs.").between(0, 1e6);
  r.field<&KnockOnCost::work>("work", unit::hours, "Own hours it takes.").between(0, 500);
}

void Candidate::describe(base::RecordType<Candidate>& r) {
  r.about("Something to buy or do.");
  r.field<&Candidate::name>("name", "What you call it.").required();
  r.field<&Candidate::what>("what", "What kind of thing it is.");
  r.field<&Candidate::change>("change", "What it changes.");
  r.field<&Candidate::price>("price", unit::money, "What it costs, parts and paid work; null when you do not know yet.").between(0, 1e6);
  r.field<&Candidate::price_low>("price_low", unit::money, "The least it may cost.").between(0, 1e6);
  r.field<&Candidate::price_high>("price_high", unit::money, "The most it may cost.").between(0, 1e6);
  r.field<&Candidate::work>("work", unit::hours, "Own hours it takes.").between(0, 500);
  r.field<&Candidate::work_low>("work_low", unit::hours, "The least it may take.").between(0, 500);
  r.field<&Candidate::work_high>("work_high", unit::hours, "The most it may take.").between(0, 500);
  r.field<&Candidate::knock_on>("knock_on", "What it also causes.");
  r.field<&Candidate::needs>("needs", "Names of candidates that must be done too.");
  r.field<&Candidate::excludes>("excludes", "Names of candidates that it rules out. Two that change the same part rule each other out by themselves.");
  r.field<&Candidate::can_be_undone>("can_be_undone", "True if the car can be put back as it was.");
  r.field<&Candidate::origin>("origin", "Where price and effect come from.");
  r.field<&Candidate::notes>("notes", "Anything worth knowing.");
  r.check([](const Candidate& c, base::Problems& problems) {
    if (c.price && ((c.price_low && *c.price_low > *c.price) || (c.price_high && *c.price_high < *c.price))) {
      problems.push_back(base::input_problem("contradiction", "price_money", "The price of \"" + c.name + "\" does not lie between its least and its most.", "least ≤ price ≤ most"));
    }
    if ((c.work_low && *c.work_low > c.work) || (c.work_high && *c.work_high < c.work)) {
      problems.push_back(base::input_problem("contradiction", "work_h", "The hours of \"" + c.name + "\" do not lie between their least and their most.", "least ≤ hours ≤ most"));
    }
  });
}

void CandidateSheet::describe(base::RecordType<CandidateSheet>& r) {
  r.document("candidates/1");
  r.about("A list of things to buy or do, with what they change and cost.");
  r.field<&CandidateSheet::name>("name", "What you call the list.");
  r.field<&CandidateSheet::currency>("currency", "The money it is in.");
  r.field<&CandidateSheet::notes>("notes", "Anything worth remembering.");
  r.field<&CandidateSheet::candidates>("candidates", "The candidates.").required();
}

}  // namespace rollwright::ops
