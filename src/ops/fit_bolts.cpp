#include "ops/fit_bolts.h"

#include <algorithm>

#include "ops/shared/cautions.h"
#include "ops/shared/fit_common.h"

namespace rollwright::ops {

namespace unit = base::unit;

void FitBoltSheet::describe(base::RecordType<FitBoltSheet>& r) {
  r.about("A bolt or stud and its nut.");
  r.field<&FitBoltSheet::name>("name", "What it holds.").required();
  r.field<&FitBoltSheet::thread>("thread", "Thread, like M10x1.5; M10 alone is the coarse one.").required();
  r.field<&FitBoltSheet::grade>("grade", "Property class stamped on the head: 8.8, 10.9 or 12.9.");
  r.field<&FitBoltSheet::friction>("friction", "Thread and head: dry (degreased), light_oil (as from the box), oiled, paste (copper, molybdenum), or unknown.");
  r.field<&FitBoltSheet::prevailing_nut>("prevailing_nut", "True for a nut that brakes itself: nylon ring or deformed thread.");
  r.field<&FitBoltSheet::prevailing_torque>("prevailing_torque", unit::nm, "Torque to run that nut before it seats, when measured.").between(0, 60);
  r.field<&FitBoltSheet::maker_torque>("maker_torque", unit::nm, "The maker's figure; it wins.").above(0).at_most(20000);
  r.field<&FitBoltSheet::engagement>("engagement", unit::mm, "Thread that holds, when it is not a full nut.").between(0, 100);
  r.field<&FitBoltSheet::into_aluminium>("into_aluminium", "True when it screws into aluminium.");
}

void FitBoltsRequest::describe(base::RecordType<FitBoltsRequest>& r) {
  r.about("The bolts of the job.");
  r.field<&FitBoltsRequest::bolts>("bolts", "Bolts, studs and nuts.").required();
}

void FitBoltLine::describe(base::RecordType<FitBoltLine>& r) {
  r.about("One bolt.");
  r.field<&FitBoltLine::name>("name", "What it holds.");
  r.field<&FitBoltLine::thread>("thread", "Thread.");
  r.field<&FitBoltLine::torque>("torque", unit::nm, "Tighten to this.");
  r.field<&FitBoltLine::is_makers>("is_makers", "True when it is the maker's figure.");
  r.field<&FitBoltLine::computed>("computed", unit::nm, "Computed beside it: 75 % of yield at the low end of friction, locknut included.");
  r.field<&FitBoltLine::preload>("preload", unit::n, "Clamping force at that torque: between sticky and slippery threads.");
  r.field<&FitBoltLine::proof_use_low>("proof_use_low", unit::percent, "Of the proof load, sticky.");
  r.field<&FitBoltLine::proof_use_high>("proof_use_high", unit::percent, "Of the proof load, slippery.");
  r.field<&FitBoltLine::yield_use_high>("yield_use_high", unit::percent, "Pull and twist together against yield, slippery.");
  r.field<&FitBoltLine::proof_load>("proof_load", unit::n, "Proof load of the class.");
  r.field<&FitBoltLine::engagement_wanted>("engagement_wanted", unit::mm, "Thread that should hold.");
  r.field<&FitBoltLine::thread_strips>("thread_strips", unit::n, "Pull at which the engaged thread would strip, a low estimate.");
  r.field<&FitBoltLine::note>("note", "Note.");
}

void FitBoltsResult::describe(base::RecordType<FitBoltsResult>& r) {
  r.field<&FitBoltsResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&FitBoltsResult::bolts>("bolts", "The bolts.");
  r.field<&FitBoltsResult::locknuts>("locknuts", "How locknuts and jam nuts are used.");
  r.field<&FitBoltsResult::cautions>("cautions", "Cautions.");
}

base::Outcome<base::Answer<FitBoltsResult>> fit_bolts(const FitBoltsRequest& q, Context&) {
  base::Problems problems;
  base::Answer<FitBoltsResult> answer;
  if (q.bolts.empty()) problems.push_back(base::input_problem("missing", "bolts", "No bolts were given.", "at least one"));
  int computed = 0;
  for (std::size_t i = 0; i < q.bolts.size(); ++i) {
    const FitBoltSheet& s = q.bolts[i];
    const std::string where = "bolts[" + std::to_string(i) + "]";
    const auto thread = fitup::read_thread(s.thread);
    if (!thread) {
      problems.push_back(base::input_problem("unknown_thread", where + ".thread", "'" + s.thread + "' is not a metric thread.", "like M10x1.5 or M10",
                                             "Inch threads and others: use the maker's torque; no computed value is offered."));
      continue;
    }
    fitup::BoltJoint joint{*thread, s.grade, s.friction, s.prevailing_nut, {}, {}, s.engagement.si(), s.into_aluminium};
    if (s.prevailing_torque) joint.prevailing_torque = s.prevailing_torque->si();
    if (s.maker_torque) joint.maker_torque = s.maker_torque->si();
    auto one = fitup::bolt(joint, where);
    if (!one) {
      for (auto& p : one.error()) problems.push_back(std::move(p));
      continue;
    }
    answer.append(*one);
    const fitup::BoltAnswer& a = one->result;
    FitBoltLine line;
    line.name = s.name;
    line.thread = fitup::thread_name(*thread);
    line.torque = base::Moment(a.torque);
    line.is_makers = a.is_makers;
    line.computed = base::Moment(a.computed_torque);
    line.preload = {base::Force(0.5 * (a.preload_low + a.preload_high)), base::Force(a.preload_low), base::Force(a.preload_high)};
    line.proof_use_low = a.proof_use_low;
    line.proof_use_high = a.proof_use_high;
    line.yield_use_high = a.yield_use_high;
    line.proof_load = base::Force(a.proof);
    line.engagement_wanted = base::Length(a.engagement_wanted);
    line.thread_strips = base::Force(a.engagement_strips);
    if (!a.is_makers) {
      line.note = "computed; look for the maker's figure, it wins";
      ++computed;
    } else {
      line.note = "maker's figure";
    }
    if (s.prevailing_nut) line.note += "; new locknut each time unless its maker says otherwise";
    answer.result.bolts.push_back(std::move(line));
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  answer.result.locknuts = {
      "Jam nut on a rod end: hold the rod end square, snug the jam nut against the body, paint a witness line. It needs no great torque; it must not turn.",
      "Two nuts on one thread: the thin one goes against the joint and is only seated; the full nut goes on top and gets the torque, the thin one held.",
      "A nylon-ring or deformed-thread nut brakes while it runs: add its running torque to the tightening torque, and use it once unless its maker says otherwise.",
      "At least one full thread shows past any locknut. Inside a link's body keep 1.5 diameters of thread, never less than one; look through the witness hole or measure.",
      "Ball-joint studs turn when their taper lets go: hold the stud by its hexagon, never by the boot."};
  answer.cite("Syracuse 2021");
  answer.result.meaning = computed == 0 ? std::string("Every torque is the maker's; the bands show what friction makes of them.")
                                        : sentence("%d of %zu torques are computed because no maker's figure was given: find it, it wins. One torque means a preload somewhere in the band.", computed, q.bolts.size());
  for (const CautionTopic t : {CautionTopic::torque, CautionTopic::recheck}) {
    answer.result.cautions.push_back(caution_text(t).title + ": " + caution_text(t).text);
    for (const auto& key : caution_text(t).sources) answer.cite(key);
  }
  return answer;
}

Operation fit_bolts_operation() {
  return operation<&fit_bolts>("fit", "bolts", "How tight, and what does that torque really do?")
      .helped("Metric bolts of class 8.8 to 12.9: torque to preload band by friction, use of proof load, engagement, locknuts. The maker's figure always wins and is shown beside the "
              "computed one; a torque that only makes sense in another unit is questioned. Bolts are given in a file: --request file.json.")
      .shown_by("fit bolts --request readings/wren-rear-bolts.json");
}

}  // namespace rollwright::ops
