#include "signal/proof.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/quantity.h"
#include "base/units.h"
#include "stats/distributions.h"
#include "stats/sample.h"

namespace rollwright::signal {
namespace {

constexpr double kGravity = base::kStandardGravity.si();
constexpr double kDegPerG = base::unit::deg_per_g.si_per_unit;

std::string number(const char* format, double a, double b = 0.0) {
  char text[96];
  std::snprintf(text, sizeof text, format, a, b);
  return text;
}

stats::Mean widened(const stats::Mean& mean, double sd) {
  stats::Mean out = mean;
  const double own = mean.standard_error * mean.standard_error, total = own + sd * sd;
  out.standard_error = std::sqrt(total);
  if (own > 0.0) out.degrees_of_freedom = std::min(1e6, mean.degrees_of_freedom * total * total / (own * own));
  return out;
}

// Passes of several outings: the scatter between outings, where it exceeds what their passes explain, counts once per
// outing [one-way random effects, method of moments].
stats::Mean pooled(const std::vector<OutingRoll>& outings) {
  if (outings.size() == 1) return outings[0].scatter;
  double weight = 0.0, sum = 0.0;
  for (const auto& o : outings) {
    const double w = 1.0 / (o.scatter.standard_error * o.scatter.standard_error);
    weight += w;
    sum += w * o.scatter.value;
  }
  double q = 0.0, squares = 0.0;
  for (const auto& o : outings) {
    const double w = 1.0 / (o.scatter.standard_error * o.scatter.standard_error);
    q += w * std::pow(o.scatter.value - sum / weight, 2);
    squares += w * w;
  }
  const double m = static_cast<double>(outings.size());
  const double between = std::max(0.0, (q - (m - 1.0)) / (weight - squares / weight));
  double w_sum = 0.0, mean = 0.0, spread = 0.0;
  for (const auto& o : outings) {
    const double w = 1.0 / (o.scatter.standard_error * o.scatter.standard_error + between);
    w_sum += w;
    mean += w * o.scatter.value;
    spread += w * w / o.scatter.degrees_of_freedom;
  }
  mean /= w_sum;
  const double within_degrees = w_sum * w_sum / spread;
  // Where the outings themselves scatter, their number limits what is known.
  const double share = between * weight / m / (1.0 + between * weight / m);
  return {mean, std::sqrt(1.0 / w_sum), share > 0.2 ? m - 1.0 + (1.0 - share) * 2.0 : within_degrees};
}

SideOfProof side_of(const std::vector<OutingRoll>& outings) {
  SideOfProof side;
  side.scatter = pooled(outings);
  double shared = 0.0;
  for (const auto& o : outings) {
    double variance = 0.0;
    for (const auto& line : o.budget) variance += line.sd * line.sd;
    shared = std::max(shared, variance);
    side.passes += static_cast<int>(std::count_if(o.passes.begin(), o.passes.end(), [](const OutingPass& p) { return p.is_used; }));
    side.speed += o.speed;
    side.frequency += o.frequency;
    side.peak_lateral += o.peak_lateral;
  }
  const double m = static_cast<double>(outings.size());
  side.outings = static_cast<int>(outings.size());
  side.speed /= m;
  side.frequency /= m;
  side.peak_lateral /= m;
  side.gradient = widened(side.scatter, std::sqrt(shared));
  return side;
}

// Air, tyres, dampers, fuel and load from one day to another, as a share of the gradient (invented).
constexpr double kOtherDay = 0.01;
// A trend is taken out of the change only where it is this sure; at 5 % one healthy test in twenty would lose its sharpness.
constexpr double kTrendIsSure = 0.01;
// A trend that moves the change, or the lean within three passes, by less than this is left alone (invented).
constexpr double kTrendMatters = 0.01;

// Recordings with passes that count.
std::vector<const Alignment*> mounts_of(const std::vector<OutingRoll>& outings) {
  std::vector<const Alignment*> mounts;
  for (const auto& o : outings) {
    for (std::size_t r = 0; r < o.recordings.size(); ++r) {
      const bool is_driven = !o.is_from_slalom || std::any_of(o.passes.begin(), o.passes.end(), [&](const OutingPass& p) { return p.is_used && p.recording == static_cast<int>(r); });
      if (is_driven) mounts.push_back(&o.recordings[r].alignment);
    }
  }
  return mounts;
}

// Angle between how the phone lies in two recordings, the largest of the three axes.
double angle_between(const Alignment& a, const Alignment& b) {
  double largest = 0.0;
  for (const auto& [u, v] : {std::pair{a.up, b.up}, std::pair{a.left, b.left}, std::pair{a.forward, b.forward}}) {
    const double c = u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
    largest = std::max(largest, std::acos(std::clamp(c, -1.0, 1.0)));
  }
  return largest;
}

class Prover {
 public:
  Prover(const std::vector<OutingRoll>& before, const std::vector<OutingRoll>& after, const ProofOptions& options, const BridgeOutings& bridge, ProofOrder order)
      : before_(before), after_(after), options_(options), bridge_(bridge) {
    proof_.order = std::move(order);
  }

  Proof run() {
    proof_.before = side_of(before_);
    proof_.after = side_of(after_);
    take_over_flags(before_, "before: ");
    take_over_flags(after_, "after: ");
    add_what_does_not_cancel();
    if (!bridge_.before_day.empty()) cross_the_bridge();
    take_out_the_trend();
    compare();
    compare_response();
    conclude();
    return std::move(proof_);
  }

 private:
  void flag(std::string code, std::string text, bool is_serious = false) { proof_.flags.push_back({std::move(code), std::move(text), is_serious}); }

  void take_over_flags(const std::vector<OutingRoll>& outings, const std::string& which) {
    for (const auto& o : outings) {
      for (const auto& f : o.flags) {
        const auto same = std::find_if(proof_.flags.begin(), proof_.flags.end(), [&](const Flag& g) { return g.code == f.code; });
        if (same == proof_.flags.end()) {
          proof_.flags.push_back({f.code, which + f.text, f.is_serious});
        } else if (same->text.rfind(which, 0) != 0 && same->text.rfind("before and after: ", 0) != 0) {
          same->text = "before and after: " + same->text.substr(same->text.find(": ") + 2);
          same->is_serious = same->is_serious || f.is_serious;
        }
      }
    }
  }

  static const BudgetLine* line(const OutingRoll& o, std::string_view what) {
    for (const auto& l : o.budget) {
      if (l.what.rfind(what, 0) == 0) return &l;
    }
    return nullptr;
  }

  void add_what_does_not_cancel() {
    // Scale, place and inertia cancel up to their product with the change itself.
    double variance = std::pow(0.003, 2);
    // The mount's own lean adds to both and so draws the ratio towards one.
    {
      double sd = 0.0;
      for (const auto& o : before_) {
        if (const auto* l = line(o, "own lean")) sd = std::max(sd, l->sd);
      }
      variance += std::pow(sd / proof_.before.scatter.value * (1.0 - proof_.before.scatter.value / proof_.after.scatter.value), 2);
    }
    bool is_remounted = false;
    double turned = 0.0;
    for (const Alignment* a : mounts_of(before_)) {
      for (const Alignment* b : mounts_of(after_)) turned = std::max(turned, angle_between(*a, *b));
    }
    // The same mount on a sloping place differs by up to 3 degrees; 7 is another mount.
    is_remounted = turned > 0.12;
    const double k = proof_.before.scatter.value;
    if (is_remounted) {
      double sd = 0.0;
      for (const auto* side : {&before_, &after_}) {
        for (const auto& o : *side) {
          if (const auto* l = line(o, "own lean")) sd = std::max(sd, l->sd);
        }
      }
      variance += std::pow(sd / k, 2);
      // Two places, each known as well as it was entered.
      for (const char* what : {"height of the phone", "place of the phone"}) {
        double place = 0.0;
        for (const auto& o : after_) {
          if (const auto* l = line(o, what)) place = std::max(place, l->sd);
        }
        variance += 0.5 * std::pow(place / k, 2);
      }
      flag("remounted", "The phone lies " + number("%.0f", turned * 57.29578) +
           " degrees differently after than before, so its mount's own lean and place no longer cancel and the interval is wider. Leave the phone in its "
           "mount between the runs where you can.");
    }
    for (const auto* side : {&before_, &after_}) {
      double worst = 0.0;
      for (const auto& o : *side) {
        for (const auto& l : o.budget) {
          if (!l.cancels_in_change) worst = std::max(worst, l.sd);
        }
      }
      variance += std::pow(worst / side->front().scatter.value, 2) / static_cast<double>(side->size());
    }
    if (proof_.order.are_days_apart || !bridge_.before_day.empty()) {
      variance += std::pow(kOtherDay, 2);
      if (bridge_.before_day.empty()) {
        flag("other_day", "Before and after were driven on different days. Heat, load and tyres are allowed for with " + number("%.0f %%", 100.0 * kOtherDay) +
             ". A few runs with both bars unhooked on each day (where your car allows it) would show what else changed between them.");
      }
    }
    proof_.fixed_share = std::sqrt(variance);

    const auto& b = proof_.before;
    const auto& a = proof_.after;
    const auto apart = [](double x, double y) { return x > 0.0 && y > 0.0 ? std::abs(std::log(y / x)) : 0.0; };
    if (apart(b.speed, a.speed) > 0.10) {
      flag("speeds_differ", "Before was driven at " + number("%.0f km/h, after at %.0f km/h", 3.6 * b.speed, 3.6 * a.speed) +
           ". The gradient is corrected for the rhythm of the slalom, not for tyres, dampers and stops that work differently. Drive both at one speed.");
    } else if (apart(b.frequency, a.frequency) > 0.12) {
      flag("rhythm_differs", "The slalom was driven at " + number("%.2f Hz before and %.2f Hz after", b.frequency, a.frequency) +
           ". Use the same cones and speed.");
    }
    if (apart(b.peak_lateral, a.peak_lateral) > 0.25) {
      flag("g_differs", "The corners reached " + number("%.2f g before and %.2f g after", b.peak_lateral / kGravity, a.peak_lateral / kGravity) +
           ". Springs, stops and tyres are not quite linear, so compare runs of the same g.");
    }
    const bool slalom_b = before_.front().is_from_slalom, slalom_a = after_.front().is_from_slalom;
    if (slalom_a != slalom_b) {
      flag("not_comparable", "One side was a slalom and the other was not, so the two numbers do not measure quite the same.", true);
    }
  }

  void cross_the_bridge() {
    const stats::Mean before = pooled(bridge_.before_day), after = pooled(bridge_.after_day);
    const auto share = [](const stats::Mean& m) { return std::pow(m.standard_error / m.value, 2); };
    const double reading = share(before) + share(after) + std::pow(0.003, 2);
    const double known = std::pow(proof_.fixed_share, 2);
    BridgeFound found;
    found.shift = {std::log(after.value / before.value), std::sqrt(reading), std::min(before.degrees_of_freedom, after.degrees_of_freedom)};
    found.contradicts = std::abs(found.shift.value) > 3.0 * std::sqrt(known + reading);
    const double weight = found.contradicts ? 1.0 : known / (known + reading);
    const double d = weight * found.shift.value;
    // The same amount of lean is a larger share of a smaller lean.
    const double as_amount = before.value / std::sqrt(proof_.before.scatter.value * proof_.after.scatter.value);
    found.taken_out = d * 0.5 * (1.0 + as_amount);
    const double shape = std::abs(d) * std::abs(as_amount - 1.0) / std::sqrt(12.0);
    proof_.fixed_share = std::sqrt(weight * reading + shape * shape);
    if (found.contradicts) {
      flag("days_differ", "With the bars unhooked the car leaned " + number("%+.0f %%", 100.0 * std::expm1(found.shift.value)) +
           " on the second day against the first, more than heat and a phone fitted anew explain. Tyre pressures, load, springs or the phone's place differ. "
           "It is taken out of the change, but look for the reason.", true);
    }
    proof_.bridge = found;
    factor_ *= std::exp(-found.taken_out);
  }

  void take_out_the_trend() {
    const auto& e = proof_.order.effect;
    if (!e || e->trend_p >= kTrendIsSure || !(e->trend.standard_error > 0.0)) return;
    // Very even runs show trends that nobody needs to know of.
    if (std::max(std::abs(e->corrected.value - e->plain.value), 3.0 * std::abs(e->trend.value)) < kTrendMatters) return;
    proof_.order.is_corrected = true;
    factor_ *= std::exp(e->corrected.value - e->plain.value);
    const double more = std::pow(e->corrected.standard_error, 2) - std::pow(e->plain.standard_error, 2);
    trend_sd_ = std::sqrt(std::max(more, 0.0));
    flag("trend", "From run to run the lean per g moved by " + number("%+.1f ± %.1f %%", 100.0 * e->trend.value, 100.0 * e->trend.half_width()) +
         ", whatever was fitted: heat, practice or a phone that works loose. It is taken out of the change, which makes the interval " +
         (e->inflation > 1.3 ? "wider. Drive in the order A B B A, and it falls out by itself." : "hardly wider, because the order was balanced."));
  }

  void compare() {
    stats::Mean after = widened(proof_.after.scatter, proof_.fixed_share * proof_.after.scatter.value);
    proof_.uncorrected = stats::relative_change(proof_.before.scatter, after);
    after = widened(after, trend_sd_ * after.value);
    after.value *= factor_;
    after.standard_error *= factor_;
    proof_.change = stats::relative_change(proof_.before.scatter, after);
    // The absolute change also has the phone's scale on it.
    stats::Test test = stats::compare(proof_.before.scatter, after);
    double scale = 0.0;
    for (const auto& o : before_) {
      for (const auto& l : o.budget) {
        if (l.cancels_in_change && l.what.rfind("own lean", 0) != 0) scale += l.sd * l.sd / static_cast<double>(before_.size());
      }
    }
    const double share = std::sqrt(scale) / proof_.before.scatter.value;
    const double p = test.p_value, t = test.t;  // whether there is a change does not depend on the scale
    test.difference = widened(test.difference, share * std::abs(test.difference.value));
    proof_.difference = test;
    proof_.difference.p_value = p;
    proof_.difference.t = t;
    const stats::Mean relative{proof_.change.value, proof_.change.standard_error, proof_.change.degrees_of_freedom};
    proof_.equivalence = stats::equivalence(relative, options_.practical_share);
  }

  void compare_response() {
    std::vector<double> delay[2], lag[2];
    for (int side = 0; side < 2; ++side) {
      for (const auto& o : side == 0 ? before_ : after_) {
        for (const auto& p : o.passes) {
          if (!p.is_used) continue;
          delay[side].push_back(p.delay);
          lag[side].push_back(p.damping_lag);
        }
      }
    }
    if (const auto t = stats::compare_unpaired(delay[0], delay[1])) proof_.delay_change = *t;
    if (const auto t = stats::compare_unpaired(lag[0], lag[1])) proof_.damping_change = *t;
  }

  void conclude() {
    const auto& c = proof_.change;
    const double half = 0.5 * (c.high - c.low);
    if (!c.is_bounded) {
      proof_.answer = ProofAnswer::cannot_tell;
    } else if (c.low > 0.0 || c.high < 0.0) {
      proof_.answer = ProofAnswer::changed;
    } else {
      proof_.answer = half <= options_.widest_for_no_change ? ProofAnswer::no_change : ProofAnswer::cannot_tell;
    }
    proof_.is_practical = proof_.answer == ProofAnswer::changed && std::abs(c.value) >= options_.practical_share;
    const char* direction = c.value < 0.0 ? "less" : "more";
    if (proof_.answer == ProofAnswer::changed) {
      const double near = c.value < 0.0 ? -c.high : c.low, far = c.value < 0.0 ? -c.low : c.high;
      proof_.sentence = "The body leans " + number("%.0f %% ", 100.0 * std::abs(c.value)) + direction + " per g (between " +
                        number("%.0f and %.0f %%", 100.0 * near, 100.0 * far) + ", 95 % sure)" +
                        (proof_.is_practical ? "." : ": a real change, but smaller than most people notice.");
    } else if (proof_.answer == ProofAnswer::no_change) {
      proof_.sentence = "No change was found; one larger than " + number("%.0f %%", 100.0 * proof_.equivalence.smallest_margin) +
                        " is ruled out (95 % sure).";
    } else {
      proof_.sentence = "These runs cannot tell: the change lies anywhere between " + number("%+.0f and %+.0f %%", 100.0 * c.low, 100.0 * c.high) +
                        ". More passes with the same speed would.";
    }
  }

  const std::vector<OutingRoll>& before_;
  const std::vector<OutingRoll>& after_;
  const ProofOptions& options_;
  const BridgeOutings& bridge_;
  Proof proof_;
  double factor_ = 1.0;    // what order and bridge multiply the side after with
  double trend_sd_ = 0.0;  // what taking out the trend costs, as a share
};

}  // namespace

base::Outcome<Proof> prove(const std::vector<OutingRoll>& before, const std::vector<OutingRoll>& after, const ProofOptions& options,
                           const BridgeOutings& bridge) {
  base::Problems problems;
  if (before.empty()) problems.push_back(base::input_problem("no_files", "before", "There is no outing before the change.", "one or more"));
  if (after.empty()) problems.push_back(base::input_problem("no_files", "after", "There is no outing after the change.", "one or more"));
  if (bridge.before_day.empty() != bridge.after_day.empty()) {
    const char* missing = bridge.before_day.empty() ? "bridge_before" : "bridge_after";
    problems.push_back(base::input_problem("half_a_bridge", missing, "Runs with the bars unhooked join two days only where both days have some.", "runs on both days, or on none"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  auto order = order_of(before, after, options.order);
  if (!order) return base::fail(order.error());
  return Prover(before, after, options, bridge, std::move(*order)).run();
}

}  // namespace rollwright::signal
