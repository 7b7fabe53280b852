#include "ops/fit_joints.h"

#include <algorithm>
#include <cmath>

#include "bar/rate.h"
#include "fitup/joint_loads.h"
#include "fitup/rod_end.h"
#include "ops/shared/bar_rates.h"
#include "ops/shared/fit_common.h"

namespace rollwright::ops {

namespace unit = base::unit;

void FitBracketSheet::describe(base::RecordType<FitBracketSheet>& r) {
  r.about("One bracket of the bar and what holds it to the body.");
  r.field<&FitBracketSheet::bolts>("bolts", "Bolts of one bracket.").between(1, 8);
  r.field<&FitBracketSheet::thread>("thread", "Their thread.");
  r.field<&FitBracketSheet::grade>("grade", "Their class.");
  r.field<&FitBracketSheet::friction>("friction", "Their condition when tightened.");
  r.field<&FitBracketSheet::maker_torque>("maker_torque", unit::nm, "The maker's torque.").above(0).at_most(20000);
  r.field<&FitBracketSheet::prying>("prying", "How much a bracket's foot levers on its bolts: 1 stiff block, 1.5 stamped sheet (common practice), 2 thin.").between(1, 4);
  r.field<&FitBracketSheet::weld_throat>("weld_throat", unit::mm, "Throat of the fillet weld that carries the bracket, where it is welded.").between(0.5, 20);
  r.field<&FitBracketSheet::weld_length>("weld_length", unit::mm, "Length of that weld.").between(3, 500);
}

void FitStudSheet::describe(base::RecordType<FitStudSheet>& r) {
  r.about("A stud that holds a rod end from one side.");
  r.field<&FitStudSheet::thread>("thread", "Its thread.");
  r.field<&FitStudSheet::grade>("grade", "Its class.");
  r.field<&FitStudSheet::offset>("offset", unit::mm, "From the face it is screwed to, to the middle of the joint.").required().between(0, 120);
}

void FitJointsRequest::describe(base::RecordType<FitJointsRequest>& r) {
  r.about("The suspension with its bar, the bar's rate, what the wheels do, and the parts that carry it.");
  r.field<&FitJointsRequest::linkage>("linkage", "The suspension and the bar's arm.");
  r.field<&FitJointsRequest::bar>("bar", "The bar, for its rate and its brackets.");
  r.field<&FitJointsRequest::setting>("setting", "Setting of that bar; the first when not named.");
  r.field<&FitJointsRequest::left_hole>("left_hole", "Hole used on the left.");
  r.field<&FitJointsRequest::right_hole>("right_hole", "Hole used on the right.");
  r.field<&FitJointsRequest::left_length>("left_length", unit::mm, "Left link; as drawn when not given.").between(20, 900);
  r.field<&FitJointsRequest::right_length>("right_length", unit::mm, "Right link.").between(20, 900);
  r.field<&FitJointsRequest::rate_relative>("rate_relative", unit::n_per_mm, "Relative rate of the bar (one end held), instead of a bar document.").above(0).at_most(2000);
  r.field<&FitJointsRequest::cornering_travel>("cornering_travel", unit::mm, "Wheel travel up outside and down inside in the hardest corner: half the track times the body's lean on its springs.").between(0, 200);
  r.field<&FitJointsRequest::droop>("droop", unit::mm, "How far a hung wheel drops.").between(0, 300);
  r.field<&FitJointsRequest::bump>("bump", unit::mm, "How far a wheel rises to its stop.").between(0, 300);
  r.field<&FitJointsRequest::kerb_factor>("kerb_factor", "What the shock of a kerb adds: 2 is common practice.").between(1, 5);
  r.field<&FitJointsRequest::bracket_factor>("bracket_factor", "Bracket force per link force; from the bar document, else 1.4 (1.1 to 1.8).").between(1, 4);
  r.field<&FitJointsRequest::rod_end_bore>("rod_end_bore", unit::mm, "Bore of the rod ends, for a typical rating (6 to 16 mm).").between(4, 30);
  r.field<&FitJointsRequest::joint_rating>("joint_rating", unit::n, "Static rating of the link's joint as its maker states it; it wins.").above(0).at_most(1e6);
  r.field<&FitJointsRequest::bracket>("bracket", "The bar's brackets.");
  r.field<&FitJointsRequest::stud>("stud", "A stud in single shear, where there is one.");
}

void FitLoadCase::describe(base::RecordType<FitLoadCase>& r) {
  r.about("One case.");
  r.field<&FitLoadCase::load_case>("case", "What the wheels do.");
  r.field<&FitLoadCase::bar_twist>("bar_twist", unit::deg, "One arm against the other.");
  r.field<&FitLoadCase::link_force>("link_force", unit::n, "Along the harder loaded link.");
  r.field<&FitLoadCase::side_force>("side_force", unit::n, "Of it along a joint's bolt, from its tilt.");
  r.field<&FitLoadCase::bracket_force>("bracket_force", unit::n, "At one bracket.");
  r.field<&FitLoadCase::side_stop_force>("side_stop_force", unit::n, "Along the bar, for its side stop to hold.");
  r.field<&FitLoadCase::joint_use>("joint_use", unit::percent, "Of the joint's static rating.");
  r.field<&FitLoadCase::bolt_of_preload>("bolt_of_preload", unit::percent, "Pull on one bracket bolt against the low end of its preload; above 100 the bracket lifts.");
  r.field<&FitLoadCase::bolt_of_proof>("bolt_of_proof", unit::percent, "The same against its proof load.");
  r.field<&FitLoadCase::stud_bending>("stud_bending", unit::mpa, "Bending stress of the stud.");
  r.field<&FitLoadCase::stud_use>("stud_use", unit::percent, "Of its yield.");
}

void FitJointsResult::describe(base::RecordType<FitJointsResult>& r) {
  r.field<&FitJointsResult::meaning>("meaning", "What it means, in a sentence or two.");
  r.field<&FitJointsResult::cases>("cases", "The cases.");
  r.field<&FitJointsResult::rate_relative>("rate_relative", unit::n_per_mm, "Relative rate used.");
  r.field<&FitJointsResult::bracket_factor>("bracket_factor", "Bracket force per link force used.");
  r.field<&FitJointsResult::fatigue>("fatigue", "What can be said about fatigue of the bracket's weld or sheet.");
  r.field<&FitJointsResult::side_stop>("side_stop", "Whether the bar needs a side stop.");
}

base::Outcome<base::Answer<FitJointsResult>> fit_joints(const FitJointsRequest& q, Context&) {
  auto model = bar_linkage(q.linkage);
  if (!model) return base::fail(std::move(model.error()));
  base::Problems problems;
  base::Answer<FitJointsResult> answer;
  FitJointsResult& r = answer.result;
  std::string left = q.left_hole, right = q.right_hole;
  if (auto p = settle_hole(*model, left, "left_hole")) problems.push_back(*p);
  if (right.empty()) right = left;
  if (auto p = settle_hole(*model, right, "right_hole")) problems.push_back(*p);

  double rate = q.rate_relative ? q.rate_relative->value.si() : 0.0, rate_sd = q.rate_relative ? q.rate_relative->sd.si() : 0.0;
  double factor = q.bracket_factor.value_or(1.4);
  if (q.bar) {
    auto rates = bar_rates(*q.bar);
    if (!rates) {
      for (auto& p : base::prefixed(std::move(rates.error()), "bar")) problems.push_back(std::move(p));
    } else {
      const BarSettingRate* s = q.setting.empty() ? &rates->settings.front() : rates->find(q.setting);
      if (!s) {
        std::string names;
        for (const auto& x : rates->settings) names += (names.empty() ? "" : ", ") + x.id;
        problems.push_back(base::input_problem("unknown_setting", "setting", "This bar has no setting called " + q.setting + ".", names));
      } else {
        if (!q.rate_relative) {
          rate = 0.5 * s->bar.rate_per_side;
          rate_sd = rate * s->relative_sd;
        }
        if (!q.bracket_factor) {
          const auto compiled = bar::compile(to_bar(*q.bar));
          for (const auto& m : compiled->settings) {
            if (m.id != s->id) continue;
            const auto solution = bar::linear_solution(*compiled, m);
            factor = 0.0;
            for (const auto& reaction : solution.reactions) {
              factor = std::max(factor, bar::norm(reaction.force) / std::max(std::abs(solution.rate.force_left), std::abs(solution.rate.force_right)));
            }
          }
        }
      }
    }
  } else if (!q.rate_relative) {
    problems.push_back(base::input_problem("missing", "rate_relative_n_per_mm", "The bar's rate is needed.", "rate_relative_n_per_mm or a bar document"));
  }
  const auto thread = fitup::read_thread(q.bracket.thread);
  if (!thread) problems.push_back(base::input_problem("unknown_thread", "bracket.thread", "'" + q.bracket.thread + "' is not a metric thread.", "like M8 or M10x1.5"));
  std::optional<fitup::Thread> stud_thread;
  if (q.stud) {
    stud_thread = fitup::read_thread(q.stud->thread);
    if (!stud_thread) problems.push_back(base::input_problem("unknown_thread", "stud.thread", "'" + q.stud->thread + "' is not a metric thread.", "like M10 or M12x1.5"));
  }
  double rating = 0.0;
  if (q.joint_rating) {
    rating = q.joint_rating->si();
  } else if (q.rod_end_bore) {
    const auto size = fitup::rod_end_of_bore(q.rod_end_bore->si());
    if (!size) {
      problems.push_back(base::input_problem("unknown_size", "rod_end_bore_mm", "No typical rating is known for this bore.", "6, 8, 10, 12, 14 or 16", "Give the maker's joint_rating_n."));
    } else {
      rating = size->static_rating;
      answer.assume(sentence("Rod end of %.0f mm bore: static rating %.1f kN of one maker as an order of magnitude; ratings are not standardised. The part's own figure wins.", 1e3 * size->bore, 1e-3 * rating));
      answer.cite("ISO 12240-4");
    }
  }
  std::optional<fitup::BoltAnswer> bolt;
  if (thread) {
    fitup::BoltJoint joint;
    joint.thread = *thread;
    joint.grade = q.bracket.grade;
    joint.friction = q.bracket.friction;
    if (q.bracket.maker_torque) joint.maker_torque = q.bracket.maker_torque->si();
    auto one = fitup::bolt(joint, "bracket");
    if (!one) {
      for (auto& p : one.error()) problems.push_back(std::move(p));
    } else {
      bolt = one->result;
      answer.append(*one);
    }
  }
  if (q.bracket.weld_throat.has_value() != q.bracket.weld_length.has_value()) {
    problems.push_back(base::input_problem("incomplete", "bracket.weld_length_mm", "A weld is told by throat and length.", "both"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  const double left_length = q.left_length ? q.left_length->si() : kinematics::drawn_link_length(*model, left);
  const double right_length = q.right_length ? q.right_length->si() : kinematics::drawn_link_length(*model, right);
  const double c = q.cornering_travel.si(), down = -q.droop.si(), up = q.bump.si();
  const std::vector<fitup::LoadCase> cases{{"hardest corner", {c, -c, 0, 0}, 1.0, 0.0},
                                           {"one wheel hung, the other at ride height", {down, 0, 0, 0}, 1.0, 0.0},
                                           {"one wheel hung, the other at full bump", {down, up, 0, 0}, 1.0, 0.0},
                                           {"kerb: one wheel at full bump, with shock", {up, 0, 0, 0}, q.kerb_factor, 0.0}};
  double most = 0.0, corner_bracket = 0.0, worst_stop = 0.0;
  std::string worst_name;
  for (const auto& load : cases) {
    auto l = fitup::link_loads(*model, load, left, right, left_length, right_length, rate, factor);
    if (!l) {
      answer.warn("link_in_line", load.name + ": " + l.error()[0].message, "droop_mm");
      continue;
    }
    FitLoadCase line;
    line.load_case = load.name;
    line.bar_twist = base::Angle(std::abs(l->arm_twist));
    line.link_force = base::Interval<base::Force>::from_sd(base::Force(l->link_force), base::Force(rate > 0.0 ? l->link_force * rate_sd / rate : 0.0));
    line.side_force = base::Force(l->link_force * l->side_share);
    line.bracket_force = base::Force(l->bracket_force);
    line.side_stop_force = base::Force(l->side_stop_force);
    if (rating > 0.0) line.joint_use = l->link_force / rating;
    const auto use = fitup::bracket_use({q.bracket.bolts, q.bracket.prying, bolt->preload_low, bolt->proof}, l->bracket_force);
    line.bolt_of_preload = use.of_preload;
    line.bolt_of_proof = use.of_proof;
    if (q.stud) {
      const double stress = fitup::stud_bending(l->link_force, q.stud->offset.si(), stud_thread->root_diameter());
      line.stud_bending = base::Stress(stress);
      line.stud_use = stress / fitup::strength_of(q.stud->grade).yield;
      if (*line.stud_use > 1.0) {
        answer.warn("stud_bends", sentence("%s: the stud would bend (%.0f MPa, yield %.0f). Shorten the spacer, use a thicker stud, or hold the joint from both sides.", load.name.c_str(), 1e-6 * stress,
                                           1e-6 * fitup::strength_of(q.stud->grade).yield), "stud");
      }
    }
    if (line.joint_use && *line.joint_use > 1.0) {
      answer.warn("joint_overload", sentence("%s: %.1f kN on a joint rated %.1f kN. Use a larger joint.", load.name.c_str(), 1e-3 * l->link_force, 1e-3 * rating), "joint_rating_n");
    }
    if (use.of_preload > 1.0) {
      answer.warn("bracket_lifts", sentence("%s: each bracket bolt is pulled with %.1f kN, more than the %.1f kN that its torque surely gives. Larger or more bolts, or a backing plate.", load.name.c_str(),
                                            1e-3 * use.per_bolt, 1e-3 * bolt->preload_low), "bracket");
    }
    if (l->link_force > most) most = l->link_force, worst_name = load.name;
    if (&load == &cases.front()) corner_bracket = l->bracket_force;
    worst_stop = std::max(worst_stop, l->side_stop_force);
    r.cases.push_back(line);
  }
  if (r.cases.empty()) {
    return base::fail(base::no_answer("link_in_line", "droop_mm", "In no case does the link reach: arm and link pass one line.", "", "Ask fit travel."));
  }
  r.rate_relative = base::Stiffness(rate);
  r.bracket_factor = factor;
  if (q.bracket.weld_throat) {
    const auto weld = fitup::weld_use(corner_bracket, q.bracket.weld_throat->si(), q.bracket.weld_length->si());
    r.fatigue = sentence("Weld: the hardest corners swing its nominal stress by %.0f MPa; the cautious class for fillet welds allows 36 MPa for two million swings, so roughly %.1g swings. This hides "
                         "root gaps, rust and thin sheet: a factor of ten either way is possible. Look for cracks at every re-check.", 1e-6 * weld.stress_range, weld.cycles);
    if (weld.cycles < 1e5) answer.warn("weld_fatigue", "The bracket's weld may crack within a season of hard use. Reinforce it or have it looked at.", "bracket.weld_length_mm");
    answer.cite("Hobbacher");
  } else {
    r.fatigue = sentence("Brackets swing by ±%.1f kN in every hard corner. What thin sheet or spot welds take is not calculated: nobody's formula knows yours. Look for cracks and drawn sheet at "
                         "every re-check; where the standard bar was much softer, a reinforcing plate is cheap.", 1e-3 * corner_bracket);
  }
  r.side_stop = worst_stop > 0.05 * most ? sentence("Links lean along the bar and push it sideways with up to %.0f N: it needs a collar or flange at a bushing, or it creeps.", worst_stop)
                                         : sentence("Side push on the bar stays below %.0f N; a collar against creeping is still good practice.", std::max(1.0, worst_stop));
  r.meaning = sentence("Worst is '%s': %.1f kN along a link, %.1f kN at a bracket.", worst_name.c_str(), 1e-3 * most, 1e-3 * most * factor);
  if (!r.cases.empty() && answer.warnings.empty()) r.meaning += " Nothing given is overloaded.";
  if (rating <= 0.0) answer.assume("Joints without a rating are not judged.");
  answer.assume(sentence("Linear bar; shock factor %.1f over a kerb (common practice, no source); bracket carries %.2f times the link; prying %.1f.", q.kerb_factor, factor, q.bracket.prying));
  answer.cite("TradeValues");
  return answer;
}

Operation fit_joints_operation() {
  return operation<&fit_joints>("fit", "joints", "What do links, joints, brackets and bolts carry, and is it too much?")
      .helped("Takes a linkage sheet, the bar or its relative rate, the travels and the parts' ratings. Forces for the hardest corner, a hung wheel and a kerb, against joint rating, bracket "
              "bolts' preload and a stud's bending; a hedged word on fatigue.")
      .shown_by("fit joints linkages/wren-rear.json bars/wren-rear-three-hole.json --rod-end-bore-mm 10");
}

}  // namespace rollwright::ops
