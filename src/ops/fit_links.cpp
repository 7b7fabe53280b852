#include "ops/fit_links.h"

#include <algorithm>
#include <cmath>

#include "fitup/threads.h"
#include "fitup/wrong_length.h"
#include "ops/shared/bar_rates.h"
#include "ops/shared/cautions.h"
#include "ops/shared/fit_common.h"
#include "ops/shared/sentences.h"
#include "ops/shared/typical_car.h"

namespace rollwright::ops {

namespace unit = base::unit;

void LinkThreadSheet::describe(base::RecordType<LinkThreadSheet>& r) {
  r.about("One end of an adjustable link.");
  r.field<&LinkThreadSheet::thread>("thread", "Its thread, like M10x1.5; empty when this end does not screw.");
  r.field<&LinkThreadSheet::left_hand>("left_hand", "True for a left-hand thread.");
  r.field<&LinkThreadSheet::thread_length>("thread_length", unit::mm, "Usable thread of the end.").between(0, 300);
  r.field<&LinkThreadSheet::shown>("shown", unit::mm, "Thread that shows outside the body now, jam nut included.").between(0, 300);
}

void LinkSheet::describe(base::RecordType<LinkSheet>& r) {
  r.about("An adjustable link as it lies on the bench.");
  r.field<&LinkSheet::length_now>("length_now", unit::mm, "Joint centre to joint centre.").required().between(20, 900);
  r.field<&LinkSheet::end_a>("end_a", "One end.").required();
  r.field<&LinkSheet::end_b>("end_b", "The other end.");
}

void FitLinksRequest::describe(base::RecordType<FitLinksRequest>& r) {
  r.about("The suspension's points, the wheel heights with the driver aboard, and the links in hand. Without points, the gap at the last bolt is enough for the turns.");
  r.field<&FitLinksRequest::linkage>("linkage", "The suspension and the bar's arm.");
  r.field<&FitLinksRequest::car>("car", "The car, for what a wrong length does to the corner weights.");
  r.field<&FitLinksRequest::bar>("bar", "The bar, for its rate.");
  r.field<&FitLinksRequest::setting>("setting", "Setting of that bar; the first when not named.");
  r.field<&FitLinksRequest::left_hole>("left_hole", "Hole used on the left; the linkage's first when not named.");
  r.field<&FitLinksRequest::right_hole>("right_hole", "Hole used on the right.");
  r.field<&FitLinksRequest::rate_relative>("rate_relative", unit::n_per_mm, "Relative rate of the bar (one end held), instead of a bar document.").above(0).at_most(2000);
  r.field<&FitLinksRequest::hub_to_arch_drawn>("hub_to_arch_drawn", unit::mm, "Hub centre to wheel arch when the points were measured.").between(100, 1200).under("Heights, driver aboard, level ground");
  r.field<&FitLinksRequest::hub_to_arch_left>("hub_to_arch_left", unit::mm, "The same now, left.").between(100, 1200).under("Heights, driver aboard, level ground");
  r.field<&FitLinksRequest::hub_to_arch_right>("hub_to_arch_right", unit::mm, "The same now, right.").between(100, 1200).under("Heights, driver aboard, level ground");
  r.field<&FitLinksRequest::left_travel>("left_travel", unit::mm, "Or directly: left wheel up from the drawing.").between(-250, 250).under("Heights, driver aboard, level ground");
  r.field<&FitLinksRequest::right_travel>("right_travel", unit::mm, "Right wheel up from the drawing.").between(-250, 250).under("Heights, driver aboard, level ground");
  r.field<&FitLinksRequest::height_pm>("height_pm", unit::mm, "± of each height reading.").between(0, 50).under("Heights, driver aboard, level ground");
  r.field<&FitLinksRequest::floor_slope>("floor_slope", unit::deg, "Sideways slope of the floor while reading, right side lower positive.").between(-10, 10).under("Heights, driver aboard, level ground");
  r.field<&FitLinksRequest::roll_gradient>("roll_gradient", unit::deg_per_g, "Lean per g of the car, to take the slope out.").between(0, 25).under("Heights, driver aboard, level ground");
  r.field<&FitLinksRequest::driver_side>("driver_side", "Where the driver sits, to notice exchanged sides.");
  r.field<&FitLinksRequest::without_driver_left_travel>("without_driver_left_travel", unit::mm, "Left wheel up from the drawing with the car empty.").between(-250, 250);
  r.field<&FitLinksRequest::without_driver_right_travel>("without_driver_right_travel", unit::mm, "Right wheel up from the drawing with the car empty.").between(-250, 250);
  r.field<&FitLinksRequest::droop_travel>("droop_travel", unit::mm, "How far a hung wheel drops below the drawing (a positive number).").between(0, 300);
  r.field<&FitLinksRequest::kept>("kept", "The link that keeps its length.");
  r.field<&FitLinksRequest::kept_length>("kept_length", unit::mm, "Its length; the drawn one when not given. Start with the old link's length.").between(20, 900);
  r.field<&FitLinksRequest::bent_at_rest>("bent_at_rest", unit::deg, "Left arm's angle over the right one's when the bar lies free on a flat floor; a bar that is not quite true.").between(-10, 10);
  r.field<&FitLinksRequest::left_link>("left_link", "The left link.");
  r.field<&FitLinksRequest::right_link>("right_link", "The right link.");
  r.field<&FitLinksRequest::measured_gap>("measured_gap", unit::mm, "Without points: with the kept link bolted, how far the other link's eye stands past its hole along the link (link too long positive).").between(-150, 150);
}

void FitLinkChange::describe(base::RecordType<FitLinkChange>& r) {
  r.about("What to do to one link.");
  r.field<&FitLinkChange::side>("side", "Side.");
  r.field<&FitLinkChange::length_now>("length_now", unit::mm, "Now.");
  r.field<&FitLinkChange::length_wanted>("length_wanted", unit::mm, "Wanted.");
  r.field<&FitLinkChange::change>("change", unit::mm, "Longer positive.");
  r.field<&FitLinkChange::body_turns>("body_turns", "Turns of the body with both ends on the car, lengthening positive.");
  r.field<&FitLinkChange::per_body_turn>("per_body_turn", unit::mm, "What one turn of the body does.");
  r.field<&FitLinkChange::end_a_turns>("end_a_turns", "Or turns of end a off its bolt (half turns only).");
  r.field<&FitLinkChange::end_b_turns>("end_b_turns", "Or turns of end b.");
  r.field<&FitLinkChange::left_over_by_half_turns>("left_over_by_half_turns", unit::mm, "What half turns of one end cannot reach.");
  r.field<&FitLinkChange::engaged_a>("engaged_a", unit::mm, "Thread inside the body at end a afterwards.");
  r.field<&FitLinkChange::engaged_b>("engaged_b", unit::mm, "Thread inside the body at end b afterwards.");
  r.field<&FitLinkChange::shortest>("shortest", unit::mm, "Shortest this link goes.");
  r.field<&FitLinkChange::longest>("longest", unit::mm, "Longest with 1.5 diameters of thread at each end.");
  r.field<&FitLinkChange::fits>("fits", "True when the length lies inside that range.");
  r.field<&FitLinkChange::advice>("advice", "In words.");
}

void FitLengthCost::describe(base::RecordType<FitLengthCost>& r) {
  r.about("What a link that is too long does, at rest on the wheels.");
  r.field<&FitLengthCost::state>("state", "How the length came about.");
  r.field<&FitLengthCost::length_error>("length_error", unit::mm, "Too long positive.");
  r.field<&FitLengthCost::link_force>("link_force", unit::n, "Force along the link after the body has settled, push positive.");
  r.field<&FitLengthCost::own_left>("own_left", unit::kg, "Load added to the left wheel of this axle.");
  r.field<&FitLengthCost::own_right>("own_right", unit::kg, "Load added to the right wheel of this axle.");
  r.field<&FitLengthCost::cross_weight>("cross_weight", unit::percent, "Change of the right-front plus left-rear share of the weight.");
}

void FitLinksResult::describe(base::RecordType<FitLinksResult>& r) {
  r.field<&FitLinksResult::meaning>("meaning", "What it means, in a sentence or two.");
  r.field<&FitLinksResult::left_length>("left_length", unit::mm, "Left link, joint centre to joint centre.");
  r.field<&FitLinksResult::right_length>("right_length", unit::mm, "Right link.");
  r.field<&FitLinksResult::changes>("changes", "What to do to the links.");
  r.field<&FitLinksResult::per_mm>("per_mm", "One millimetre too long, on the side that is adjusted.");
  r.field<&FitLinksResult::per_turn>("per_turn", "One turn of that link's body.");
  r.field<&FitLinksResult::set_otherwise>("set_otherwise", "What setting it in another state would have cost.");
  r.field<&FitLinksResult::bar_ratio_in_roll>("bar_ratio_in_roll", unit::one, "Hole travel per wheel travel when the wheels move apart.");
  r.field<&FitLinksResult::link_arm_angle>("link_arm_angle", unit::deg, "Link against arm at this height; 90 is best.");
  r.field<&FitLinksResult::stands_left>("stands_left", unit::mm, "Hub to arch to set on the left when working on stands.");
  r.field<&FitLinksResult::stands_right>("stands_right", unit::mm, "Hub to arch to set on the right.");
  r.field<&FitLinksResult::starting_length>("starting_length", "Which length to start from, and why.");
  r.field<&FitLinksResult::window_method>("window_method", "How to find zero load by hand.");
  r.field<&FitLinksResult::wheels_up_method>("wheels_up_method", "When the links cannot be reached with the wheels down.");
  r.field<&FitLinksResult::cautions>("cautions", "Cautions.");
}

namespace {

std::optional<fitup::LinkEnd> link_end(const LinkThreadSheet& s, const std::string& where, base::Problems& problems) {
  fitup::LinkEnd e;
  e.left_hand = s.left_hand;
  e.thread_length = s.thread_length.si();
  if (s.thread.empty()) return e;
  const auto t = fitup::read_thread(s.thread);
  if (!t) {
    problems.push_back(base::input_problem("unknown_thread", where + ".thread", "'" + s.thread + "' is not a metric thread.", "like M10x1.5 or M10"));
    return std::nullopt;
  }
  e.pitch = t->pitch;
  e.diameter = t->diameter;
  if (s.shown.si() > s.thread_length.si()) {
    problems.push_back(base::input_problem("out_of_range", where + ".shown_mm", "More thread shows than the end has.", sentence("at most %.1f mm", 1e3 * s.thread_length.si())));
    return std::nullopt;
  }
  return e;
}

std::optional<fitup::LinkBody> link_body(const LinkSheet& s, const std::string& where, base::Problems& problems) {
  const auto a = link_end(s.end_a, where + ".end_a", problems), b = link_end(s.end_b, where + ".end_b", problems);
  if (!a || !b) return std::nullopt;
  return fitup::LinkBody{*a, *b, s.length_now.si(), s.end_a.shown.si(), s.end_b.shown.si()};
}

FitLinkChange change_of(const std::string& side, const fitup::LinkBody& body, double wanted, base::Footing& footing) {
  const fitup::LinkChange c = fitup::link_change(body, wanted - body.length_now);
  FitLinkChange out;
  out.side = side;
  out.length_now = base::Length(body.length_now);
  out.length_wanted = base::Length(wanted);
  out.change = base::Length(c.change);
  out.body_turns = c.body_turns;
  out.per_body_turn = base::Length(c.per_body_turn);
  out.end_a_turns = c.end_a_turns;
  out.end_b_turns = c.end_b_turns;
  out.left_over_by_half_turns = base::Length(c.nearest_half_turn);
  out.engaged_a = base::Length(c.engaged_a);
  out.engaged_b = base::Length(c.engaged_b);
  out.shortest = base::Length(c.shortest);
  out.longest = base::Length(c.longest);
  out.fits = c.is_within;
  const std::string& name = side;
  if (std::abs(c.change) < 5e-5) {
    out.advice = "Leave it.";
  } else if (c.body_turns && body.a.left_hand != body.b.left_hand) {
    out.advice = sentence("Loosen both jam nuts, turn the body %.1f turns to make the link %s, tighten the jam nuts with both ends square.", std::abs(*c.body_turns), c.change > 0 ? "longer" : "shorter");
  } else if (c.end_a_turns || c.end_b_turns) {
    const double turns = c.end_a_turns ? *c.end_a_turns : *c.end_b_turns;
    out.advice = sentence("Take one end off its bolt and turn it %.1f turns %s; whole half turns only, which leaves %.1f mm.", std::abs(std::round(2 * turns) / 2), turns > 0 ? "out" : "in", 1e3 * std::abs(c.nearest_half_turn));
  } else {
    out.advice = "This link does not adjust: get one that does, or shim its bracket.";
    out.fits = false;
  }
  const std::string lower = sentence("changes (%s)", name.c_str());
  if (!out.fits && (body.a.pitch > 0.0 || body.b.pitch > 0.0)) {
    const bool too_long = wanted > c.longest;
    footing.warn(too_long ? "link_too_short" : "link_too_long",
                 sentence("The %s link would have to be %.1f mm; it goes from %.1f to %.1f mm%s. %s", name.c_str(), 1e3 * wanted, 1e3 * c.shortest, 1e3 * c.longest,
                          c.keeps_one_diameter ? "" : ", and less than one diameter of thread would hold it: do not drive on that",
                          too_long ? "Use a longer link, or start with both links longer." : "Use a shorter link, or start with both links shorter."),
                 lower);
  }
  return out;
}

FitLengthCost cost(const std::string& state, double error, const fitup::WrongLength& per_metre, bool of_left, bool rear) {
  // The kernel speaks of the left link; a right one that is too long does the mirror image.
  const double sign = of_left ? 1.0 : -1.0;
  FitLengthCost c;
  c.state = state;
  c.length_error = base::Length(error);
  c.link_force = base::Force(per_metre.link_force_settled * error);
  const double g = base::kStandardGravity.si();
  c.own_left = base::Mass(sign * per_metre.own_left * error / g);
  c.own_right = base::Mass(sign * per_metre.own_right * error / g);
  // Its bar at the rear, the same pattern counts with the other sign in right front plus left rear.
  c.cross_weight = (rear ? -1.0 : 1.0) * sign * per_metre.cross_share * error;
  return c;
}

std::optional<double> relative_rate(const FitLinksRequest& q, base::Problems& problems) {
  if (q.rate_relative) return q.rate_relative->value.si();
  if (!q.bar) return std::nullopt;
  auto rates = bar_rates(*q.bar);
  if (!rates) {
    for (auto& p : base::prefixed(std::move(rates.error()), "bar")) problems.push_back(std::move(p));
    return std::nullopt;
  }
  const BarSettingRate* s = q.setting.empty() ? &rates->settings.front() : rates->find(q.setting);
  if (!s) {
    std::string names;
    for (const auto& x : rates->settings) names += (names.empty() ? "" : ", ") + x.id;
    problems.push_back(base::input_problem("unknown_setting", "setting", "This bar has no setting called " + q.setting + ".", names));
    return std::nullopt;
  }
  return 0.5 * s->bar.rate_per_side;
}

void methods(const FitLinksRequest& q, FitLinksResult& r) {
  r.starting_length = {
      "Start with the new links at the length of the old ones, joint centre to joint centre: the arm then stands where the maker put it, with room both ways, and the clearances are the known ones.",
      "Another kind of bar may want another length: choose the one that puts link and arm near 90 degrees at ride height, and check the travel again."};
  r.window_method = {
      "Car on its wheels on level ground, rolled a few metres back and forth, driver or the same weight in the seat, tank as driven, tyre pressures set.",
      "Bolt the kept link at both ends. Hold the other link's eye against its hole.",
      "Turn the body until the bolt slides in by hand. Mark it. Turn on until the bolt begins to bind, count the turns; turn back through the free place until it binds the other way, count again.",
      "Half way between the two is zero load: the bushings' friction makes the window, and its middle is the answer. If the window is wider than two turns, grease the bushings and do it again.",
      "Tighten the jam nuts with both ends square to their bolts, paint a witness line across nut and body."};
  r.wheels_up_method = {
      "With the car on its wheels and the driver in, measure hub centre to arch on both sides of this axle and write both down.",
      "Chock the other wheels, lift at the maker's points, put the body on stands on hard level ground, and leave the stands to carry it.",
      "Jack each hub under the lower arm or axle until hub to arch is the written number of its own side (the sides differ with the driver's weight; do not make them equal). Work with the jack holding only the wheel's weight, never yourself under a jack alone.",
      "Now set the link by the window method. Lower, roll the car, measure again: within 2 mm is good."};
  for (const CautionTopic t : {CautionTopic::bar_loaded, CautionTopic::jack_only}) r.cautions.push_back(caution_text(t).title + ": " + caution_text(t).text);
  if (q.hub_to_arch_left) r.stands_left = q.hub_to_arch_left;
  if (q.hub_to_arch_right) r.stands_right = q.hub_to_arch_right;
}

base::Outcome<base::Answer<FitLinksResult>> by_gap(const FitLinksRequest& q) {
  base::Problems problems;
  const bool of_left = q.kept == fitup::Side::right;
  const auto& sheet = of_left ? q.left_link : q.right_link;
  std::optional<fitup::LinkBody> body;
  if (!sheet) {
    problems.push_back(base::input_problem("missing", of_left ? "left_link" : "right_link", "The link to be turned is not described.", "length, threads"));
  } else {
    body = link_body(*sheet, of_left ? "left_link" : "right_link", problems);
  }
  const auto rate = relative_rate(q, problems);
  if (!problems.empty()) return base::fail(std::move(problems));
  base::Answer<FitLinksResult> answer;
  const double wanted = body->length_now - q.measured_gap->si();
  answer.result.changes.push_back(change_of(of_left ? "left" : "right", *body, wanted, answer));
  const double half = std::sqrt(2.0) * q.height_pm.si();
  (of_left ? answer.result.left_length : answer.result.right_length) = base::Interval<base::Length>{base::Length(wanted), base::Length(wanted - half), base::Length(wanted + half)};
  methods(q, answer.result);
  answer.result.meaning = sentence("The %s link's eye stands %.1f mm %s its hole: make it %.1f mm. %s", of_left ? "left" : "right", 1e3 * std::abs(q.measured_gap->si()), q.measured_gap->si() > 0 ? "past" : "short of",
                                   1e3 * wanted, answer.result.changes[0].advice.c_str());
  answer.assume("The gap was read along the link with the car on its wheels, driver aboard; no points of the suspension were used.");
  if (rate && q.car && q.bar && q.bar->axle) {
    const bool rear = *q.bar->axle == AxleName::rear;
    const CarSheet full = complete(*q.car).sheet;
    const double ratio = double((rear ? full.rear : full.front).bar_motion_ratio->value);
    // Without points the link is taken as square to the arm, so that the hole moves as far as the link is wrong.
    const auto per_metre = fitup::wrong_length(weighed_car(*q.car, *q.bar->axle, answer), {*rate, ratio, 1.0});
    answer.result.per_mm = cost("one millimetre too long", 0.001, per_metre, of_left, rear);
    const double turn = fitup::link_change(*body, 0.0).per_body_turn;
    if (turn > 1e-9) answer.result.per_turn = cost("one turn of the body too long", turn, per_metre, of_left, rear);
    answer.assume("What a wrong length costs: link square to the arm, the bar's ratio as on the car sheet.");
  }
  return answer;
}

}  // namespace

base::Outcome<base::Answer<FitLinksResult>> fit_links(const FitLinksRequest& q, Context&) {
  if (!q.linkage && q.measured_gap) return by_gap(q);
  auto model = bar_linkage(q.linkage);
  if (!model) return base::fail(std::move(model.error()));
  base::Problems problems;
  base::Answer<FitLinksResult> answer;
  FitLinksResult& r = answer.result;
  fitup::LinkQuestion ask;
  ask.left_hole = q.left_hole;
  ask.right_hole = q.right_hole;
  if (auto p = settle_hole(*model, ask.left_hole, "left_hole")) problems.push_back(*p);
  if (ask.right_hole.empty()) ask.right_hole = ask.left_hole;
  if (auto p = settle_hole(*model, ask.right_hole, "right_hole")) problems.push_back(*p);
  const auto left_body = q.left_link ? link_body(*q.left_link, "left_link", problems) : std::nullopt;
  const auto right_body = q.right_link ? link_body(*q.right_link, "right_link", problems) : std::nullopt;
  const auto rate = relative_rate(q, problems);
  ask.loaded.left = q.left_travel.si();
  ask.loaded.right = q.right_travel.si();
  const int given = (q.hub_to_arch_drawn ? 1 : 0) + (q.hub_to_arch_left ? 1 : 0) + (q.hub_to_arch_right ? 1 : 0);
  if (given == 3) {
    ask.loaded.left = q.hub_to_arch_drawn->si() - q.hub_to_arch_left->si();
    ask.loaded.right = q.hub_to_arch_drawn->si() - q.hub_to_arch_right->si();
  } else if (given > 0 && (q.hub_to_arch_drawn || !(q.hub_to_arch_left && q.hub_to_arch_right))) {
    problems.push_back(base::input_problem("incomplete", "hub_to_arch_drawn_mm", "Heights are told by three numbers: as drawn, left now, right now.", "all three, or left_travel_mm and right_travel_mm"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  // The floor's slope leans the body as a lateral acceleration g·sin(slope) would; on level ground that lean is gone.
  const double track = 2.0 * q.linkage->wheel_centre[1].si();
  const double lean = q.roll_gradient.si() * base::kStandardGravity.si() * std::sin(q.floor_slope.si());
  const kinematics::RoadInput as_read = ask.loaded;
  ask.loaded.left += 0.5 * track * lean;
  ask.loaded.right -= 0.5 * track * lean;
  if (std::abs(q.floor_slope.si()) > 1e-6 && q.roll_gradient.si() == 0.0) {
    answer.warn("slope_not_removed", "The floor slopes, but without the car's lean per g its effect on the heights cannot be taken out. Level the floor under the tyres or give roll_gradient_deg_per_g.", "floor_slope_deg");
  }
  if (q.driver_side) {
    const double lower = *q.driver_side == bar::Side::left ? ask.loaded.left - ask.loaded.right : ask.loaded.right - ask.loaded.left;
    if (lower < -0.003) {
      answer.warn("sides_may_be_swapped", sentence("The driver's side stands %.0f mm higher than the other with the driver aboard. Are left and right exchanged?", -1e3 * lower), "left_travel_mm");
    }
  }
  auto pose = model->pose(ask.loaded);
  if (!pose) return base::fail(std::move(pose.error()));
  ask.kept = q.kept;
  ask.bent_at_rest = q.bent_at_rest.si();
  const bool adjust_left = q.kept == fitup::Side::right;
  const auto& kept_body = adjust_left ? right_body : left_body;
  ask.kept_length = q.kept_length ? q.kept_length->si() : kept_body ? kept_body->length_now : kinematics::drawn_link_length(*model, adjust_left ? ask.right_hole : ask.left_hole);
  auto lengths = fitup::neutral_lengths(*model, *pose, ask);
  if (!lengths) return base::fail(std::move(lengths.error()));
  const double wanted = adjust_left ? lengths->left : lengths->right;

  // Doubt of the adjusted length: both heights' readings through the links' own ratios.
  const auto& own = adjust_left ? lengths->left_state : lengths->right_state;
  const double half = std::sqrt(2.0) * q.height_pm.si() * std::abs(own.link_axial_ratio);
  const auto exact = [](double v) { return base::Interval<base::Length>::exact(base::Length(v)); };
  const base::Interval<base::Length> doubtful{base::Length(wanted), base::Length(wanted - half), base::Length(wanted + half)};
  r.left_length = adjust_left ? doubtful : exact(lengths->left);
  r.right_length = adjust_left ? exact(lengths->right) : doubtful;
  if (left_body) r.changes.push_back(change_of("left", *left_body, lengths->left, answer));
  if (right_body) r.changes.push_back(change_of("right", *right_body, lengths->right, answer));
  r.bar_ratio_in_roll = own.hole_travel_ratio - own.hole_travel_ratio_to_other;
  r.link_arm_angle = base::Angle(own.link_arm_angle);
  methods(q, r);

  // Links as they are, exchanged left to right: recognised when that would nearly cure the twist.
  if (left_body && right_body && ask.left_hole == ask.right_hole) {
    const auto now = fitup::twist_with(*model, *pose, ask, left_body->length_now, right_body->length_now);
    const auto swapped = fitup::twist_with(*model, *pose, ask, right_body->length_now, left_body->length_now);
    if (now && swapped && std::abs(*now) > 0.017 && std::abs(*swapped) < 0.3 * std::abs(*now)) {
      answer.warn("links_swapped", sentence("As they are, the links twist the bar by %.1f deg; exchanged left for right they would twist it by %.1f deg. They seem to be on the wrong sides.",
                                            std::abs(*now) / unit::kDegree, std::abs(*swapped) / unit::kDegree), "left_link");
    }
  }
  if (own.over_centre_margin < 30.0 * unit::kDegree) {
    answer.warn("over_centre", sentence("Link and arm stand %.0f deg from one line at ride height. Ask fit travel before driving.", own.over_centre_margin / unit::kDegree), "");
  }

  std::string weight_words;
  if (rate && q.car) {
    const bool rear = q.linkage->axle == AxleName::rear;
    const fitup::WeighedCar car = weighed_car(*q.car, q.linkage->axle, answer);
    const auto per_metre = fitup::wrong_length(car, fitup::bar_at_hole(own, *rate));
    r.per_mm = cost("one millimetre too long", 0.001, per_metre, adjust_left, rear);
    const auto& moved = adjust_left ? left_body : right_body;
    if (moved) {
      const double turn = fitup::link_change(*moved, 0.0).per_body_turn;
      if (turn > 1e-9) r.per_turn = cost("one turn of the body too long", turn, per_metre, adjust_left, rear);
    }
    const auto other_state = [&](const std::string& name, const kinematics::RoadInput& state) {
      const auto length = fitup::length_if_set_in(*model, ask, state);
      if (length) {
        r.set_otherwise.push_back(cost(name, *length - wanted, per_metre, adjust_left, rear));
      } else {
        answer.assume("Set " + name + ", the links would not even reach.");
      }
    };
    if (q.without_driver_left_travel && q.without_driver_right_travel) {
      other_state("with the car empty", {q.without_driver_left_travel->si(), q.without_driver_right_travel->si(), 0.0, 0.0});
    }
    if (std::abs(lean) > 0.0) other_state("on this sloping floor", as_read);
    if (q.droop_travel) {
      const double down = -q.droop_travel->si();
      other_state("with both wheels hanging", {down, down, 0.0, 0.0});
      other_state("with the left wheel hanging", {down, ask.loaded.right, 0.0, 0.0});
      other_state("with the right wheel hanging", {ask.loaded.left, down, 0.0, 0.0});
    }
    weight_words = sentence(" Each millimetre off moves %.2f kg and %.3f %% of cross weight.", std::abs(unit::kg.of(r.per_mm->own_left)), std::abs(100.0 * double(r.per_mm->cross_weight)));
    answer.assume("Corner weights: rigid body on its springs and tyres, small angles, no friction; the other axle's bar as on the car sheet.");
    answer.cite("reference-linkages");
  } else {
    answer.assume("Without the car and the bar's rate, what a wrong length costs in corner weight is not told.");
  }
  r.meaning = sentence("Keep the %s link at %.1f mm and make the %s one %s mm: no twist in the bar with the driver aboard.", adjust_left ? "right" : "left", 1e3 * ask.kept_length,
                       adjust_left ? "left" : "right", pm_text(1e3 * wanted, 1e3 * half, "").c_str()) + weight_words;
  answer.assume("Rigid bar arms and parts, joints without play; set the length by the window method, which sees what the numbers leave out.");
  return answer;
}

Operation fit_links_operation() {
  return operation<&fit_links>("fit", "links", "How long must the end links be, and what does a wrong length cost?")
      .helped("Takes a linkage sheet and the wheel heights with the driver aboard; with the links' threads it answers in turns, with the car and the bar's rate in kilograms and "
              "cross weight. Without points give measured_gap_mm and the link: the turns follow.")
      .shown_by("fit links linkages/wren-rear.json wren.json bars/wren-rear-three-hole.json --left-travel-mm 9 --right-travel-mm 3");
}

}  // namespace rollwright::ops
