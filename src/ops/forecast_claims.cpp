#include "ops/forecast_claims.h"

#include <algorithm>
#include <cmath>

#include "ops/shared/forecast.h"
#include "ops/shared/sentences.h"

namespace rollwright::ops {

namespace unit = base::unit;

void ForecastClaimsRequest::describe(base::RecordType<ForecastClaimsRequest>& r) {
  using R = ForecastClaimsRequest;
  r.field<&R::car>("car", "The car.").required();
  r.field<&R::bars>("bars", "Bar sheets with their axle, for the claim about holes.");
  r.field<&R::stiffer>("stiffer", unit::percent, "How much stiffer than the fitted one a seller says the front bar is.").between(5, 1000);
  r.field<&R::speed>("speed", unit::km_per_h, "Speed in the corner.").between(10, 250);
  r.field<&R::draws>("draws", "How many cars are drawn from the doubts.").between(50, 20000);
  r.field<&R::seed>("seed", "Start of the random numbers.").at_least(0);
}

void TestedClaim::describe(base::RecordType<TestedClaim>& r) {
  r.about("Something that is often said, and what this car says.");
  r.field<&TestedClaim::claim>("claim", "What is said.");
  r.field<&TestedClaim::truth>("truth", "True, half true or false on this car.");
  r.field<&TestedClaim::numbers>("numbers", "This car's numbers.");
  r.field<&TestedClaim::why>("why", "Why.");
}

void ForecastClaimsResult::describe(base::RecordType<ForecastClaimsResult>& r) {
  r.field<&ForecastClaimsResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&ForecastClaimsResult::claims>("claims", "The claims.");
}

namespace {

enum SetupNumber : std::size_t { kNow, kFrontStiffer, kRearStiffer, kBothDoubled, kBothFourfold, kUnhooked };

constexpr double kHalfG = 0.5 * unit::kGravity;

std::string percent(const Range& r) { return percent_text(r.as<base::Ratio>()); }
std::string points(const Range& r) { return pm_text(100 * r.value, 50 * (r.high - r.low), "points"); }
std::string in_g(const Range& r) { return interval_text(r.as<base::Acceleration>(), unit::g); }
std::string balance(const Range& r) { return interval_text(r.as<base::AnglePerAcceleration>(), unit::deg_per_g); }

class Claims {
 public:
  Claims(const Forecast& forecast, double stiffer) : f_(forecast), stiffer_(stiffer) {}

  std::vector<TestedClaim> all() {
    load_shift();
    bumps();
    grip();
    inner_tyre();
    stiffer_against_lean();
    twice_as_stiff();
    balance_moves();
    tyres_lean_too();
    ratio_is_known_better();
    return std::move(claims_);
  }

 private:
  [[nodiscard]] Range change(std::size_t to, const std::function<double(const Figures&)>& of) const { return change_range(f_, kNow, to, of); }
  [[nodiscard]] Range difference(std::size_t to, const std::function<double(const Figures&)>& of) const { return difference_range(f_, kNow, to, of); }
  void add(std::string claim, ClaimTruth truth, std::string numbers, std::string why) { claims_.push_back({std::move(claim), truth, std::move(numbers), std::move(why)}); }

  void load_shift() {
    const auto total = change(kBothDoubled, [](const Figures& g) { return g[kFrontTransfer] + g[kRearTransfer]; });
    const auto share = difference(kFrontStiffer, figure(kFrontShare));
    // A tenth would still be a bar that matters to the sum; what there is comes from leaning less.
    add("A stiffer bar moves less load across the car in a corner.", std::abs(total.value) < 0.05 ? ClaimTruth::false_here : ClaimTruth::half_true,
        "Both bars twice as stiff: the load that moves across changes by " + percent(total) + ". The front bar alone moves " + points(share) + " of it to the front axle.",
        "Mass, height and track set the sum; a bar only moves its split between front and rear.");
  }

  void bumps() {
    const auto two = change(kBothDoubled, figure(kFrontTwoWheel)), one_front = change(kBothDoubled, figure(kFrontOneWheel)), one_rear = change(kBothDoubled, figure(kRearOneWheel));
    add("A stiffer bar makes the ride harder.", std::abs(two.value) < 1e-6 && std::max(one_front.value, one_rear.value) > 0.02 ? ClaimTruth::half_true : ClaimTruth::false_here,
        "Both bars twice as stiff: both wheels over a bump " + percent(two) + "; one wheel " + percent(one_front) + " at the front, " + percent(one_rear) + " at the rear.",
        "With both wheels the bar turns in its bushings and does nothing; with one it is a spring to the other side.");
  }

  void grip() {
    const auto front = change(kFrontStiffer, figure(kLimit)), rear = change(kRearStiffer, figure(kLimit)), both = change(kBothDoubled, figure(kLimit));
    const double most = std::max({front.value, rear.value, both.value});
    add("Stiffer bars give more grip.", most < 0.01 ? ClaimTruth::false_here : most < 0.04 ? ClaimTruth::half_true : ClaimTruth::true_here,
        "Limit: front bar stiffer " + percent(front) + ", rear bar stiffer " + percent(rear) + ", both twice as stiff " + percent(both) + ". It is " + in_g(value_range(f_, kNow, figure(kLimit))) + " now, and the " +
            (f_.nominal[kNow][kLimitingAxle] == 0.0 ? "front" : "rear") + " axle lets go first.",
        "A bar takes grip from its own axle and gives some to the other; only the axle that lets go first counts. Tyres decide the rest.");
  }

  void inner_tyre() {
    const auto of = [](const Figures& g) { return g[kFrontStatic] - g[kFrontTransfer] * kHalfG; };
    const auto inner = difference(kFrontStiffer, of);
    add("The bar presses the inner tyre onto the road.", inner.high < 0.0 ? ClaimTruth::false_here : ClaimTruth::half_true,
        "Front bar stiffer, at 0.5 g: inner front tyre " + interval_text(inner.as<base::Force>(), unit::n) + " against " + interval_text(value_range(f_, kNow, of).as<base::Force>(), unit::n) + " now; inner front wheel lifts " +
            in_g(difference(kFrontStiffer, figure(kFrontLift))) + " later (minus: sooner).",
        "The bar lifts the inner wheel by the force with which it holds the body up at the outer one.");
  }

  void stiffer_against_lean() {
    const auto lean = change(kFrontStiffer, figure(kRollGradient));
    const auto rate = change(kFrontStiffer, figure(kFrontRollRate));
    add(pm_text(100 * stiffer_, 0, "% stiffer means") + " " + pm_text(100 * stiffer_, 0, "% less lean."), -lean.low < 0.9 * stiffer_ ? ClaimTruth::false_here : ClaimTruth::half_true,
        "Front bar alone " + pm_text(100 * stiffer_, 0, "%") + " stiffer: front axle in roll " + percent(rate) + ", lean " + percent(lean) + ".",
        "The bar is one of several springs in roll: springs, the other axle's bar and the tyres do not get stiffer with it.");
  }

  void twice_as_stiff() {
    const auto of = figure(kRollGradient);
    const auto twice = change(kBothDoubled, of), four = change(kBothFourfold, of), bumps = change(kBothFourfold, figure(kFrontOneWheel));
    const auto lift = difference(kBothFourfold, [](const Figures& g) { return std::min(g[kFrontLift], g[kRearLift]); });
    const auto damping = change(kBothFourfold, figure(kRollDamping));
    // Twice as stiff adds the bars once more, four times adds them thrice: less than thrice the effect is a worse bargain.
    add("The shortest arm, the stiffest hole, is best.", four.value > 3.0 * 0.8 * twice.value ? ClaimTruth::false_here : ClaimTruth::half_true,
        "Bars twice as stiff: lean " + percent(twice) + "; four times: " + percent(four) + ", with one-wheel bumps " + percent(bumps) + " harder at the front, damping in roll " + percent(damping) +
            " and the first wheel lifting " + in_g(lift) + " later (minus: sooner).",
        "Each step takes less lean than the one before and costs the same in one-wheel bumps, damping and lift; the hole that suits is the one that keeps the balance.");
  }

  void balance_moves() {
    const auto front = difference(kFrontStiffer, figure(kUndersteerMid)), rear = difference(kRearStiffer, figure(kUndersteerMid));
    const auto gentle = difference(kRearStiffer, figure(kUndersteer));
    // What a driver notices is about 0.3 deg/g (common practice, no source).
    const double noticed = 0.3 * unit::kDegree / unit::kGravity;
    add("A stiffer rear bar cures a car that pushes wide.", rear.value > -0.1 * noticed ? ClaimTruth::false_here : rear.value > -noticed ? ClaimTruth::half_true : ClaimTruth::true_here,
        "At 4 m/s²: rear bar stiffer " + balance(rear) + ", front bar stiffer " + balance(front) + "; in gentle corners the rear bar changes " + balance(gentle) + ".",
        "The bar works on balance through the tyres' sensitivity to load, which only shows when they work hard.");
  }

  void tyres_lean_too() {
    const auto tyres = value_range(f_, kNow, [](const Figures& g) { return 1.0 - g[kSuspensionRollGradient] / g[kRollGradient]; });
    add("All lean is in the suspension.", tyres.low > 0.05 ? ClaimTruth::false_here : ClaimTruth::half_true,
        "Of the lean, " + percent(tyres) + " is in the tyres. With both bars off it leans " + percent(change(kUnhooked, figure(kRollGradient))) + " more.", "The tyres are springs too, in series with all others; no bar reaches them.");
  }

  void ratio_is_known_better() {
    const auto value = value_range(f_, kFrontStiffer, figure(kRollGradient)), lean = change(kFrontStiffer, figure(kRollGradient));
    const double of_value = 0.5 * (value.high - value.low) / value.value, of_change = 0.5 * (lean.high - lean.low);
    add("If the car is not known well, nothing can be said of a change.", of_change < 0.7 * of_value ? ClaimTruth::false_here : ClaimTruth::half_true,
        "Lean itself is known to ± " + pm_text(100 * of_value, 0, "%") + ", its change by the stiffer front bar to ± " + pm_text(100 * of_change, 0, "points") + ".",
        "What is doubtful about the car is doubtful before and after alike, and cancels in the ratio.");
  }

  const Forecast& f_;
  double stiffer_;
  std::vector<TestedClaim> claims_;
};

// The rate of the fitted bar, or half the springs' at the wheel where there is none, so that the claim can be tried at all.
double rate_of(const AxleSheet& axle) {
  const double fitted = axle.bar_rate_per_side->value.si();
  if (fitted > 0.0) return fitted;
  const double wheel = axle.wheel_rate ? axle.wheel_rate->value.si() : axle.spring_rate->value.si() * std::pow(double(axle.spring_motion_ratio->value), 2);
  return 0.5 * wheel / std::pow(double(axle.bar_motion_ratio->value), 2);
}

}  // namespace

base::Outcome<base::Answer<ForecastClaimsResult>> forecast_claims(const ForecastClaimsRequest& request, Context& context) {
  ForecastQuestion question;
  question.car = complete(request.car);
  question.speed = request.speed.si();
  question.draws = static_cast<std::size_t>(request.draws);
  question.seed = static_cast<std::uint64_t>(request.seed);
  // The bars in question are exact: it is the car's doubt that the claims are tried under, and the fitted bars stand for all.
  auto& sheet = question.car.sheet;
  const double front = rate_of(sheet.front), rear = rate_of(sheet.rear), more = 1.0 + double(request.stiffer);
  base::Answer<ForecastClaimsResult> answer;
  for (auto* axle : {&sheet.front, &sheet.rear}) {
    if (axle->bar_rate_per_side->value.si() > 0.0) continue;
    axle->bar_rate_per_side = base::Estimate<base::Stiffness>::exact(base::Stiffness(rate_of(*axle)), base::Origin::typical);
    answer.assume(std::string("There is no bar at the ") + (axle == &sheet.front ? "front" : "rear") + "; one of half the springs' strength is taken for the trial.");
  }
  const auto setup = [&](const char* name, double f, double r) {
    Setup s;
    s.name = name;
    if (f > 0.0) s.front.bar_rate_per_side = base::Estimate<base::Stiffness>::exact(base::Stiffness(f * front));
    if (r > 0.0) s.rear.bar_rate_per_side = base::Estimate<base::Stiffness>::exact(base::Stiffness(r * rear));
    return s;
  };
  // Now too with exact bars, so that nothing but the factor differs.
  question.setups = {setup("now", 1, 1), setup("front stiffer", more, 1), setup("rear stiffer", 1, more), setup("both doubled", 2, 2), setup("both fourfold", 4, 4)};
  Setup off;
  off.name = "unhooked";
  off.front.bar_unhooked = off.rear.bar_unhooked = true;
  question.setups.push_back(off);
  const auto f = forecast(question, context);
  if (!f) return base::fail(f.error());
  answer.result.claims = Claims(*f, request.stiffer).all();

  for (const auto& sheet_of_bar : request.bars) {
    const auto rates = bar_rates(sheet_of_bar);
    if (!rates) return base::fail(rates.error());
    if (rates->settings.size() < 2) continue;
    const auto by_rate = [](const auto& a, const auto& b) { return a.bar.rate_per_side < b.bar.rate_per_side; };
    const auto [soft, stiff] = std::minmax_element(rates->settings.begin(), rates->settings.end(), by_rate);
    const double ratio = stiff->bar.rate_per_side / soft->bar.rate_per_side;
    answer.result.claims.push_back({"The holes of " + rates->name + " are fine adjustment.", ratio < 1.15 ? ClaimTruth::true_here : ratio < 1.5 ? ClaimTruth::half_true : ClaimTruth::false_here,
                                    "Setting " + stiff->id + " is " + pm_text(100 * (ratio - 1), 0, "%") + " stiffer than " + soft->id + ".", "Rate goes nearly with one over the arm squared."});
  }
  const auto wrong = std::count_if(answer.result.claims.begin(), answer.result.claims.end(), [](const auto& c) { return c.truth == ClaimTruth::false_here; });
  answer.result.meaning = "Of " + std::to_string(answer.result.claims.size()) + " things that are often said, " + std::to_string(wrong) + " are false on this car; the numbers say how far.";
  forecast_footing(question, *f, answer);
  return answer;
}

Operation forecast_claims_operation() {
  return operation<&forecast_claims>("forecast", "claims", "Is it true what they say about bars, on this car?")
      .helped("The half-truths of the trade, each tried on this car with its doubts: load shift, bumps, grip, the inner tyre, 'x % stiffer', the stiffest hole, balance, the tyres' part of "
              "the lean, and what can be known at all.")
      .shown_by("forecast claims wren.json bars/wren-rear-three-hole.json");
}

}  // namespace rollwright::ops
