#include "ops/fit_sheet.h"

#include <cmath>

#include "ops/shared/cautions.h"
#include "ops/shared/fit_common.h"
#include "ops/shared/sentences.h"

namespace rollwright::ops {

namespace unit = base::unit;

void SheetPart::describe(base::RecordType<SheetPart>& r) {
  r.about("A received part to look at before fitting.");
  r.field<&SheetPart::part>("part", "The part.").required();
  r.field<&SheetPart::check>("check", "What to measure or look for.");
  r.field<&SheetPart::wanted>("wanted", "What it should be.");
}

void SheetSetting::describe(base::RecordType<SheetSetting>& r) {
  r.about("A setting for a use of the car.");
  r.field<&SheetSetting::use>("use", "Driver alone, two-up, wet, trailer.").required();
  r.field<&SheetSetting::front_bar>("front_bar", "Front holes, left/right.");
  r.field<&SheetSetting::rear_bar>("rear_bar", "Rear holes, left/right.");
  r.field<&SheetSetting::pressures>("pressures", "Tyre pressures, cold.");
  r.field<&SheetSetting::note>("note", "Note.");
}

void FitSheetRequest::describe(base::RecordType<FitSheetRequest>& r) {
  r.about("What is fitted to what. Each part that is given is worked out and goes onto the sheet; the rest stays a blank line to fill in by hand.");
  r.field<&FitSheetRequest::car_name>("car_name", "The car, as you call it.");
  r.field<&FitSheetRequest::axle>("axle", "Which axle.");
  r.field<&FitSheetRequest::new_bar>("new_bar", "The bar to fit.");
  r.field<&FitSheetRequest::old_bar>("old_bar", "The bar that comes off.");
  r.field<&FitSheetRequest::setting>("setting", "Holes to start with, left/right.");
  r.field<&FitSheetRequest::linkage>("linkage", "The suspension; taken for links, travel and joints where they do not bring their own.");
  r.field<&FitSheetRequest::car>("car", "The car; taken the same way.");
  r.field<&FitSheetRequest::bar>("bar", "The bar; taken the same way.");
  r.field<&FitSheetRequest::links>("links", "As for fit links.");
  r.field<&FitSheetRequest::travel>("travel", "As for fit travel.");
  r.field<&FitSheetRequest::joints>("joints", "As for fit joints.");
  r.field<&FitSheetRequest::bolts>("bolts", "As for fit bolts.");
  r.field<&FitSheetRequest::parts>("parts", "Parts to inspect besides the usual ones.");
  r.field<&FitSheetRequest::settings>("settings", "Rows of the settings card.");
}

void SheetInspection::describe(base::RecordType<SheetInspection>& r) {
  r.about("A part to inspect; the measured column is filled in by hand.");
  r.field<&SheetInspection::part>("part", "The part.");
  r.field<&SheetInspection::check>("check", "What to measure or look for.");
  r.field<&SheetInspection::wanted>("wanted", "What it should be.");
}

void SheetStep::describe(base::RecordType<SheetStep>& r) {
  r.about("One step, in the order of work.");
  r.field<&SheetStep::number>("number", "Number.");
  r.field<&SheetStep::title>("title", "In a few words.");
  r.field<&SheetStep::text>("text", "What to do.");
  r.field<&SheetStep::caution_title>("caution_title", "The caution that belongs to this step.");
  r.field<&SheetStep::caution>("caution", "Its text.");
}

void SheetRecheck::describe(base::RecordType<SheetRecheck>& r) {
  r.about("A re-check.");
  r.field<&SheetRecheck::when>("when", "When.");
  r.field<&SheetRecheck::what>("what", "What to look at.");
}

void SheetStatement::describe(base::RecordType<SheetStatement>& r) {
  r.about("A line for someone else to read.");
  r.field<&SheetStatement::item>("item", "What.");
  r.field<&SheetStatement::text>("text", "Statement; a row of dots is filled in by hand.");
}

void FitSheetResult::describe(base::RecordType<FitSheetResult>& r) {
  r.field<&FitSheetResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&FitSheetResult::title>("title", "Title of the sheet.");
  r.field<&FitSheetResult::car>("car", "The car.");
  r.field<&FitSheetResult::job>("job", "The job.");
  r.field<&FitSheetResult::invented>("invented", "True when car, linkage or bar are invented.");
  r.field<&FitSheetResult::stop_first>("stop_first", "What speaks against fitting it like this; settle it before starting.");
  r.field<&FitSheetResult::tools>("tools", "Tools.");
  r.field<&FitSheetResult::inspection>("inspection", "Parts to inspect, with room for what was measured.");
  r.field<&FitSheetResult::steps>("steps", "Order of work.");
  r.field<&FitSheetResult::torques>("torques", "Torque table.");
  r.field<&FitSheetResult::left_length>("left_length", unit::mm, "Left link.");
  r.field<&FitSheetResult::right_length>("right_length", unit::mm, "Right link.");
  r.field<&FitSheetResult::links>("links", "What to do to the links.");
  r.field<&FitSheetResult::through_travel>("through_travel", "Checks through the travel.");
  r.field<&FitSheetResult::recheck>("recheck", "Re-check countdown.");
  r.field<&FitSheetResult::signatures>("signatures", "Signature lines.");
  r.field<&FitSheetResult::settings_card>("settings_card", "Card for the glove box.");
  r.field<&FitSheetResult::scrutineer>("scrutineer", "Sheet for the scrutineer.");
  r.field<&FitSheetResult::insurer>("insurer", "Sheet for the insurer.");
}

namespace {

class SheetWriter {
 public:
  explicit SheetWriter(base::Answer<FitSheetResult>& answer) : answer_(answer), r_(answer.result) {}

  void step(const std::string& title, const std::string& text, std::optional<CautionTopic> caution = {}) {
    SheetStep s;
    s.number = static_cast<int>(r_.steps.size()) + 1;
    s.title = title;
    s.text = text;
    if (caution) {
      const CautionText& c = caution_text(*caution);
      s.caution_title = c.title;
      s.caution = c.text;
      for (const auto& key : c.sources) answer_.cite(key);
    }
    r_.steps.push_back(std::move(s));
  }

  // A part's answer or its problems, which are placed under its name.
  template <class Request, class Result>
  std::optional<Result> part(const char* name, const Request& request, base::Outcome<base::Answer<Result>> (*ask)(const Request&, Context&), Context& context, base::Problems& problems) {
    auto outcome = ask(request, context);
    if (!outcome) {
      for (auto& p : base::prefixed(std::move(outcome.error()), name)) problems.push_back(std::move(p));
      return std::nullopt;
    }
    for (const auto& w : outcome->warnings) r_.stop_first.push_back(w.text);
    answer_.append(*outcome);
    return std::move(outcome->result);
  }

 private:
  base::Answer<FitSheetResult>& answer_;
  FitSheetResult& r_;
};

const char* kDots = "……………………………";

}  // namespace

base::Outcome<base::Answer<FitSheetResult>> fit_sheet(const FitSheetRequest& q, Context& context) {
  base::Answer<FitSheetResult> answer;
  FitSheetResult& r = answer.result;
  SheetWriter write(answer);
  base::Problems problems;
  const std::string axle = q.axle == AxleName::front ? "front" : "rear";
  const std::string bar_name = !q.new_bar.empty() ? q.new_bar : q.bar && !q.bar->name.empty() ? q.bar->name : "new " + axle + " anti-roll bar";
  r.car = !q.car_name.empty() ? q.car_name : q.car && !q.car->name.empty() ? q.car->name : kDots;
  r.invented = (q.car && q.car->invented) || (q.linkage && q.linkage->invented) || (q.bar && q.bar->invented);
  r.title = "Job sheet";
  r.job = "Fit " + bar_name + " to the " + axle + " axle" + (q.old_bar.empty() ? "" : " in place of " + q.old_bar) + (q.setting.empty() ? "" : ", holes " + q.setting + " to start with");

  // --- the parts that were asked for ---
  std::optional<FitLinksResult> links;
  if (q.links) {
    FitLinksRequest ask = *q.links;
    if (!ask.linkage && !ask.measured_gap) ask.linkage = q.linkage;
    if (!ask.car) ask.car = q.car;
    if (!ask.bar && !ask.rate_relative) ask.bar = q.bar;
    if (ask.setting.empty() && ask.bar) ask.setting = q.setting;
    links = write.part("links", ask, &fit_links, context, problems);
  }
  std::optional<FitTravelResult> travel;
  if (q.travel) {
    FitTravelRequest ask = *q.travel;
    if (!ask.linkage) ask.linkage = q.linkage;
    // Checked with the lengths that will be set.
    if (links && links->left_length && !ask.left_length) ask.left_length = links->left_length->value;
    if (links && links->right_length && !ask.right_length) ask.right_length = links->right_length->value;
    travel = write.part("travel", ask, &fit_travel, context, problems);
  }
  std::optional<FitJointsResult> joints;
  if (q.joints) {
    FitJointsRequest ask = *q.joints;
    if (!ask.linkage) ask.linkage = q.linkage;
    if (!ask.bar && !ask.rate_relative) ask.bar = q.bar;
    if (ask.setting.empty() && ask.bar) ask.setting = q.setting;
    joints = write.part("joints", ask, &fit_joints, context, problems);
  }
  if (!q.bolts.empty()) {
    auto outcome = fit_bolts({q.bolts}, context);
    if (!outcome) {
      for (auto& p : outcome.error()) problems.push_back(std::move(p));
    } else {
      r.torques = outcome->result.bolts;
      for (const auto& w : outcome->warnings) r.stop_first.push_back(w.text);
      answer.append(*outcome);
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  if (links) {
    r.left_length = links->left_length;
    r.right_length = links->right_length;
    r.links = links->changes;
  }

  r.tools = {"Trolley jack and four support stands, marked for more than their share of the car", "Wheel chocks", "Torque wrench that covers every figure in the table", "Ring and open spanners, hexagon keys for ball studs",
             "Caliper, tape, straight edge, spirit level", "Weights or a helper for the driver's seat", "Wire brush, thread cleaner, bushing grease that suits the bushings", "Paint pen for witness lines", "Torch, gloves, glasses"};

  // --- inspection ---
  const auto look = [&](const std::string& part, const std::string& check, const std::string& wanted) { r.inspection.push_back({part, check, wanted}); };
  if (q.bar && q.bar->section.outer_diameter) {
    const auto& d = *q.bar->section.outer_diameter;
    look("Bar", "Diameter of the straight, caliper, three places", sentence("%.1f mm", 1e3 * d.value.si()));
  } else {
    look("Bar", "Diameter of the straight, caliper, three places", kDots);
  }
  look("Bar", "Both arms on a flat floor: do the holes lie alike?", "within 3 mm");
  look("Bar", "Rust, dents, tool marks, cracks at arms and welds", "none");
  look("Bushings", "Bore against the bar's diameter; slit closes", "snug, turns by hand when greased");
  look("Brackets", "Holes fit, feet flat, welds sound", "sound");
  look("Links", "Joint centre to joint centre, both", r.left_length && r.right_length ? sentence("%.1f / %.1f mm to be set", 1e3 * r.left_length->value.si(), 1e3 * r.right_length->value.si()) : std::string("alike"));
  look("Links", "Play, tilt to each side by hand to the stop", q.travel && q.travel->hole_tilt_rating ? sentence("no play; %.0f deg", q.travel->hole_tilt_rating->si() / unit::kDegree) : std::string("no play"));
  look("Threads", "Run by hand over the whole length; left-hand ends marked", "free");
  look("Body", "Metal round the bracket's holes, from both sides", "no crack, no rust");
  for (const auto& p : q.parts) look(p.part, p.check, p.wanted);

  // --- order of work ---
  write.step("Write down what is there", "Photograph the old bar, links and every washer. With the driver's weight aboard measure hub centre to arch at all four wheels: FL ……… FR ……… RL ……… RR ……… mm. Count threads showing on the old links.");
  write.step("Inspect the new parts", "Fill in the table of parts. A part that fails goes back; do not make it fit.", CautionTopic::inspection);
  write.step("Chock and lift", "Slacken the wheel nuts. Lift both wheels of the " + axle + " axle alike, body on stands. " + (travel ? travel->jacking : std::string("Do not leave one wheel hung with a link on.")), CautionTopic::lifting);
  write.step("Before you reach under it", "Push the car on its stands from the side, hard. It must not move.", CautionTopic::jack_only);
  write.step("Take the old bar off", "Jack both hubs to the same height so that the bar is free. Undo both links, then the brackets. Keep everything together and labelled.", CautionTopic::bar_loaded);
  write.step("Hang the new bar", "Grease the bushings as their maker says. Bracket bolts in by hand, bar centred sideways, then snug: the bar must turn by hand." +
                                     (travel && !travel->way_up.empty() ? " Which way up: " + travel->way_up : std::string()) + (joints ? " " + joints->side_stop : std::string()));
  write.step("Set the links on the bench", r.left_length && r.right_length
                                               ? sentence("Left %.1f mm, right %.1f mm, joint centre to joint centre.", 1e3 * r.left_length->value.si(), 1e3 * r.right_length->value.si()) +
                                                     (r.links.empty() ? std::string() : " " + std::string("Turns are in the table."))
                                               : "Both to the length of the old links, joint centre to joint centre: ……… mm.");
  write.step("Fit the links loosely", "Hole " + (q.setting.empty() ? std::string("………") : q.setting) + " (left/right; hole 1 is the farthest from the bar's straight). Bolts in, nuts on by hand.", CautionTopic::bar_loaded);
  std::string travel_text = "Springs out or hubs on jacks: from full droop to full bump, each wheel alone and together, steering lock to lock. Feel for binding, look for contact.";
  if (travel) {
    for (const auto& g : travel->gaps) {
      r.through_travel.push_back(sentence("%s to %s: least gap %.0f mm with %s. Measured ……… mm", g.part.c_str(), g.obstacle.c_str(), 1e3 * g.gap.si(), g.where.c_str()));
    }
    for (const auto& w : travel->worst) {
      if (w.allowed) r.through_travel.push_back(sentence("%s: %.0f deg (%.0f allowed) with %s. Seen free ☐", w.what.c_str(), w.value.si() / unit::kDegree, w.allowed->si() / unit::kDegree, w.where.c_str()));
    }
  }
  r.through_travel.push_back("Full droop, both wheels: free ☐  contact ☐");
  r.through_travel.push_back("Full bump, both wheels: free ☐  contact ☐");
  r.through_travel.push_back("Left up, right down: free ☐  contact ☐     Right up, left down: free ☐  contact ☐");
  if (q.axle == AxleName::front) r.through_travel.push_back("Lock to lock at ride height, droop and bump: free ☐  contact ☐");
  write.step("Through the travel", travel_text + " Fill in the list.", CautionTopic::airbag_nobody_inside);
  write.step("Tighten brackets", "In two passes to the torque table. Witness line on each.", CautionTopic::torque);
  write.step("Onto the wheels", "Wheels on, lower, wheel nuts to the maker's torque. Roll the car a few metres back and forth, bounce both ends, driver or the same weight in the seat, level ground.");
  write.step("Zero load", "One link bolted at both ends. Turn the other until its bolt slides in by hand; count the turns to where it binds on each side and set the middle: bound ……… and ……… turns, set ………."
                          " If the links cannot be reached: hub to arch of each side as written down, on stands, with the hubs on jacks.");
  write.step("Tighten links", "Bolts to the torque table, joints square, jam nuts snug with the rod held, witness lines.", CautionTopic::torque);
  write.step("Final look", "Every line of the torque table ticked, tools out, old parts labelled and kept: they are the way back.");
  write.step("First drive", "As below. Then come back and look.", CautionTopic::first_drive);

  r.recheck = {{"after the first drive", "all torques of the table, witness lines, links free, no rub marks"},
               {"after 50 km (30 miles)", "all torques, wheel nuts, brackets and metal round them"},
               {"after 500 km", "witness lines, play in joints, bushings, brackets"},
               {"every season and after any knock", "cracks at brackets and arms, links, grease"}};
  answer.cite("Continental retorque");
  r.signatures = {"Done by", "Looked over by a second pair of eyes", "Re-checked after the first drive", "Re-checked after 50 km"};

  // --- cards ---
  r.settings_card = q.settings;
  if (r.settings_card.empty()) {
    for (const char* use : {"Driver alone", "Two-up", "Wet", "Trailer or full load", "Standard (undo)"}) r.settings_card.push_back({use, "", "", "", ""});
  }
  const std::string rate = joints ? sentence("%.1f N/mm relative (one end held), %.1f N/mm per side in roll", unit::n_per_mm.of(joints->rate_relative), 2.0 * unit::n_per_mm.of(joints->rate_relative)) : std::string(kDots);
  r.scrutineer = {{"Car", r.car},
                  {"Change", r.job + "."},
                  {"Bar", bar_name + ", rate " + rate},
                  {"Links and joints", travel ? std::string(travel->is_safe ? "Calculated free through the whole travel" : "NOT free through the whole travel by calculation") +
                                                     (travel->worst.empty() ? std::string() : sentence("; least margin from one line %.0f deg", travel->worst[0].value.si() / unit::kDegree)) + ". Checked by hand ☐"
                                              : "Checked by hand through the whole travel ☐"},
                  {"Fasteners", r.torques.empty() ? std::string("Class 8.8 or better, locked; torques …") : sentence("%zu positions to the torque table; locknuts new; witness lines", r.torques.size())},
                  {"Forces", joints ? joints->meaning : std::string(kDots)},
                  {"Cut, welded or drilled", "Nothing ☐   Yes ☐: …………………………………………………"},
                  {"Standard parts", "Kept; the change can be undone with hand tools ☐"},
                  {"Approval or certificate", "Not needed here ☐   Number …………………………"}};
  r.insurer = {{"Car", r.car + ", registration ………………"},
               {"Change", r.job + "."},
               {"Why", "Less body lean. No change of engine, brakes, ride height, wheels or tyres ☐"},
               {"Parts", bar_name + "; maker …………………, part number …………………, receipt ☐"},
               {"Fitted by", "………………………………, on ………………, checked by ………………………………"},
               {"Rules", "Local rules for suspension changes were looked up: …………………………………………"},
               {"Use", "Road ☐   Club events on closed ground ☐"}};
  for (const auto& key : caution_text(CautionTopic::law).sources) answer.cite(key);
  r.meaning = r.stop_first.empty() ? sentence("%zu steps, %zu torques. Print it, tick as you go; the maker's manual wins.", r.steps.size(), r.torques.size())
                                   : sentence("%zu thing%s to settle before starting; they stand at the top of the sheet.", r.stop_first.size(), r.stop_first.size() == 1 ? "" : "s");
  if (!q.links) answer.assume("Link lengths were not asked for: the sheet leaves a blank.");
  if (!q.travel) answer.assume("Travel was not asked for: the check by hand is all there is.");
  if (q.bolts.empty()) answer.assume("No bolts were listed: write the manual's torques into the blank table.");
  return answer;
}

Operation fit_sheet_operation() {
  return operation<&fit_sheet>("fit", "sheet", "The job sheet: what to do, in order, on paper")
      .helped("Puts links, travel, joints and bolts together into a sheet to print with --html: inspection of parts with room for measured values, order of work with each caution at its step, "
              "torque table, link lengths and turns, checks through the travel, first drive, re-check countdown, signatures; settings card, scrutineer's and insurer's sheet follow.")
      .shown_by("fit sheet linkages/wren-rear.json wren.json bars/wren-rear-three-hole.json --request readings/wren-rear-job.json --html job.html");
}

}  // namespace rollwright::ops
