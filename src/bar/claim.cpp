#include "bar/claim.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <functional>

#include "base/units.h"

namespace rollwright::bar {

namespace {

namespace unit = base::unit;

constexpr Range kWall{2.5e-3, 6.5e-3};       // [TradeValues: bar.wall.tube]
constexpr Range kHoleStep{1.15, 1.40};       // [TradeValues: bar.hole.step]
constexpr Range kPlausibleRate{5e3, 250e3};  // per side [N/m]; common practice, no source
constexpr Range kPlausibleRatio{0.5, 6.0};   // no change of bar is outside this; common practice, no source

struct Word {
  std::string text;
  std::optional<double> number;
};

// Numbers and runs of letters or unit signs; a decimal comma is a point when digits follow it directly.
std::vector<Word> words_of(const std::string& text) {
  std::vector<Word> words;
  for (std::size_t i = 0; i < text.size();) {
    const auto c = static_cast<unsigned char>(text[i]);
    if (std::isdigit(c)) {
      std::string digits;
      while (i < text.size() && (std::isdigit(static_cast<unsigned char>(text[i])) ||
                                 ((text[i] == '.' || text[i] == ',') && i + 1 < text.size() &&
                                  std::isdigit(static_cast<unsigned char>(text[i + 1]))))) {
        digits += text[i] == ',' ? '.' : text[i];
        ++i;
      }
      double value = 0.0;
      const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
      if (error == std::errc() && end == digits.data() + digits.size()) words.push_back({digits, value});
    } else if (std::isalpha(c) || c == '%' || c == '"') {
      std::string word;
      if (c == '%' || c == '"') {
        word = text[i++];
      } else {
        while (i < text.size() && (std::isalpha(static_cast<unsigned char>(text[i])) || text[i] == '/')) {
          word += static_cast<char>(std::tolower(static_cast<unsigned char>(text[i++])));
        }
      }
      words.push_back({word, std::nullopt});
    } else {
      ++i;
    }
  }
  return words;
}

bool is_any(const std::string& word, std::initializer_list<const char*> list) {
  return std::any_of(list.begin(), list.end(), [&](const char* w) { return word == w; });
}

std::optional<int> count_word(const std::string& word) {
  static constexpr std::array kNames{"one", "two", "three", "four", "five", "six"};
  for (std::size_t i = 0; i < kNames.size(); ++i) {
    if (word == kNames[i]) return static_cast<int>(i) + 1;
  }
  return std::nullopt;
}

Range times(Range a, Range b) { return {a.low * b.low, a.high * b.high}; }
Range over(Range a, Range b) { return {a.low / b.high, a.high / b.low}; }

// D⁴ − d⁴ over all walls in reach.
Range stiffness_of(double diameter, std::optional<double> wall, std::optional<bool> hollow) {
  const auto value = [&](double w) {
    const double inner = std::max(0.0, diameter - 2.0 * w);
    return std::pow(diameter, 4) - std::pow(inner, 4);
  };
  if (wall) return {value(*wall), value(*wall)};
  if (hollow && !*hollow) return {std::pow(diameter, 4), std::pow(diameter, 4)};
  const double thin = value(std::min(kWall.low, 0.5 * diameter)), thick = value(std::min(kWall.high, 0.5 * diameter));
  return {thin, hollow ? thick : std::pow(diameter, 4)};
}

}  // namespace

base::Outcome<Claim> read_claim(const std::string& text) {
  Claim c;
  const auto words = words_of(text);
  bool any = false;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string next = i + 1 < words.size() ? words[i + 1].text : "";
    const auto& w = words[i];
    if (w.number) {
      const double v = *w.number;
      const std::string after = i + 2 < words.size() ? words[i + 2].text : "";
      if (is_any(next, {"%", "percent", "pct"})) {
        if (after == "lighter") continue;  // of the weight
        c.stiffer = is_any(after, {"softer", "weaker"}) ? -v / 100.0 : v / 100.0;
      } else if (is_any(next, {"n/mm", "kn/m"})) {
        c.rate = unit::n_per_mm(v);
      } else if (is_any(next, {"kg/mm", "kgf/mm"})) {
        c.rate = unit::n_per_mm(v * unit::kGravity);
      } else if (is_any(next, {"lb/in", "lbs/in", "lbf/in", "lb/inch", "lbs/inch"})) {
        c.rate = unit::pound_per_inch(v);
      } else if (is_any(next, {"mm"})) {
        if (is_any(after, {"wall"})) c.wall = unit::mm(v);
        else if (c.diameter && v < unit::mm.of(*c.diameter) / 2 && !c.wall) c.wall = unit::mm(v);
        else c.diameter = unit::mm(v);
      } else if (is_any(next, {"in", "inch", "inches", "\""})) {
        if (is_any(after, {"wall"})) c.wall = unit::inch(v);
        else c.diameter = unit::inch(v);
      } else if (is_any(next, {"x", "times"})) {
        // "25 x 4 mm" is a tube, "2.5 x stiffer" a factor.
        if (i + 2 < words.size() && words[i + 2].number) {
          c.diameter = unit::mm(v);
          c.wall = unit::mm(*words[i + 2].number);
          c.is_hollow = true;
          i += 2;
        } else {
          c.times = v;
        }
      } else if (is_any(next, {"way", "ways", "position", "positions", "hole", "holes", "point"})) {
        c.ways = static_cast<int>(std::lround(v));
      } else {
        continue;
      }
      any = true;
    } else if (is_any(w.text, {"hollow", "tubular", "tube"})) {
      c.is_hollow = any = true;
    } else if (w.text == "solid") {
      c.is_hollow = false;
      any = true;
    } else if (const auto n = count_word(w.text); n && is_any(next, {"way", "ways", "position", "positions", "hole", "holes"})) {
      c.ways = *n;
      any = true;
    } else if (w.text == "adjustable" && !c.ways) {
      c.ways = 0;  // how many is a question
      any = true;
    } else if (w.text == "twice" || w.text == "double") {
      c.times = 2.0;
      any = true;
    }
  }
  if (!any) {
    return base::fail(base::input_problem("claim_not_understood", "text", "There is no number with a unit and no word about the bar in this text.",
                                          "for example: 38 % stiffer; 24 mm hollow, three-way; rate 60 N/mm"));
  }
  return c;
}

double lean_change(double axle_change, double axle_share, double tyre_share) {
  const double stiffness = 1.0 + axle_share * axle_change;
  return (1.0 - tyre_share) * (1.0 / stiffness - 1.0);
}

base::Outcome<ClaimAnswer> decode(const Claim& c, const ClaimContext& x) {
  base::Problems problems;
  if (c.diameter && !(c.diameter->si() >= 5e-3 && c.diameter->si() <= 0.08)) {
    problems.push_back(base::input_problem("diameter_out_of_range", "claim.diameter_mm", "No bar has this diameter.", "5 to 80 mm"));
  }
  if (c.diameter && c.wall && c.wall->si() >= 0.5 * c.diameter->si()) {
    problems.push_back(base::input_problem("wall_not_less_than_radius", "claim.wall_mm", "This wall does not fit into the bar's radius.", "less than half the diameter"));
  }
  if (c.stiffer && *c.stiffer <= -1.0) {
    problems.push_back(base::input_problem("stiffer_out_of_range", "claim.stiffer_percent", "A bar cannot be 100 % softer.", "above -100 %"));
  }
  if (c.rate && !(c.rate->si() > 0.0)) problems.push_back(base::input_problem("rate_not_positive", "claim.rate_n_per_mm", "A rate is above zero.", "above 0 N/mm"));
  if (c.times && !(*c.times > 0.0)) problems.push_back(base::input_problem("times_not_positive", "claim.times", "A factor is above zero.", "above 0"));
  for (const auto& [range, key] : {std::pair{x.present_rate, "present_rate"}, {x.motion_ratio, "motion_ratio"}, {x.bar_share, "bar_share"}, {x.axle_share, "axle_share"}}) {
    if (!(range.low > 0.0 && range.low <= range.high)) problems.push_back(base::input_problem("range_not_positive", key, "This range is empty or reaches below zero.", "above 0, low before high"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  ClaimAnswer out;
  const auto add = [&](std::string means, Range ratio, Range per_side, std::string note, std::optional<double> at_wheel = {}) {
    ClaimReading r;
    r.means = std::move(means);
    // Where a reading reaches beyond what road cars have, only the part inside is kept; where it lies outside altogether it
    // is kept whole and called implausible.
    const auto overlaps = [](const Range& a, const Range& b) { return a.high >= b.low && a.low <= b.high; };
    r.is_plausible = overlaps(ratio, kPlausibleRatio) && overlaps(per_side, kPlausibleRate);
    if (r.is_plausible) {
      ratio = {std::max(ratio.low, kPlausibleRatio.low), std::min(ratio.high, kPlausibleRatio.high)};
      per_side = {std::max(per_side.low, kPlausibleRate.low), std::min(per_side.high, kPlausibleRate.high)};
    }
    r.bar_ratio = ratio;
    r.rate_per_side = per_side;
    r.wheel_rate = {per_side.low * x.motion_ratio.low * x.motion_ratio.low, per_side.high * x.motion_ratio.high * x.motion_ratio.high};
    if (at_wheel) r.wheel_rate = {*at_wheel, *at_wheel};
    // The change at the axle is monotone in share and ratio apart from its sign, so the corners hold the reach.
    r.axle_change = {1e300, -1e300};
    r.lean_change = {1e300, -1e300};
    for (const double k : {ratio.low, ratio.high}) {
      for (const double b : {x.bar_share.low, x.bar_share.high}) {
        const double axle = b * (k - 1.0);
        r.axle_change = {std::min(r.axle_change.low, axle), std::max(r.axle_change.high, axle)};
        for (const double a : {x.axle_share.low, x.axle_share.high}) {
          for (const double t : {x.tyre_share.low, x.tyre_share.high}) {
            const double lean = lean_change(axle, a, t);
            r.lean_change = {std::min(r.lean_change.low, lean), std::max(r.lean_change.high, lean)};
          }
        }
      }
    }
    r.note = std::move(note);
    out.readings.push_back(std::move(r));
  };
  const auto ratio_reading = [&](std::string means, Range ratio, std::string note) {
    add(std::move(means), ratio, times(ratio, x.present_rate), std::move(note));
  };
  const auto ask = [&](const char* question) { out.questions.emplace_back(question); };

  const int ways = c.ways.value_or(1);
  const Range span = ways > 1 ? Range{std::pow(kHoleStep.low, ways - 1), std::pow(kHoleStep.high, ways - 1)} : Range{1.0, 1.0};
  if (c.stiffer || c.times) {
    const double ratio = c.times ? *c.times : 1.0 + *c.stiffer;
    ratio_reading(ways > 1 ? "the bar alone, in its stiffest hole" : "the bar alone, on its own bushings", {ratio, ratio},
                  "What most sellers mean. Bushings and links in series make less of it on the car.");
    if (ways > 1) {
      ratio_reading("the bar alone, in its softest hole", {ratio, ratio * span.high}, "Then the other holes are stiffer still.");
      ratio_reading("the softest hole when the claim is for the stiffest", {ratio / span.high, ratio / span.low}, "What you may get in the first hole.");
    }
    // The claim may count springs in: then the bar itself must have grown by more.
    const Range inner{1.0 + (ratio - 1.0) / x.bar_share.high, 1.0 + (ratio - 1.0) / x.bar_share.low};
    if (ratio > 1.0) ratio_reading("the roll stiffness of the whole axle, springs included", inner, "Rarely meant; the bar alone would have to be this much stiffer.");
    if (c.times) {
      ratio_reading("that many times stiffer than before, on top of it", {1.0 + ratio, 1.0 + ratio}, "Some count a bar twice as stiff as 100 % and as two times.");
    }
    ask("Is the percentage for the bar alone, or for the axle with its springs?");
    if (ways != 1) ask("In which hole, and how many holes are there at what distances?");
    ask("Compared with which factory bar: its diameter, solid or hollow?");
    ask("Calculated from diameters, or measured? With which bushings?");
  }
  if (c.diameter) {
    const Range now = stiffness_of(c.diameter->si(), c.wall ? std::optional(c.wall->si()) : std::nullopt, c.is_hollow);
    if (x.present_diameter) {
      const Range before{std::pow(x.present_diameter->low, 4) * x.present_solid_share.low, std::pow(x.present_diameter->high, 4) * x.present_solid_share.high};
      const Range ratio = over(now, before);
      ratio_reading(ways > 1 ? "same arms as now, in the hole that matches the present lever" : "same arms and bushings as now", ratio,
                    "From diameter and wall by D⁴ − d⁴; arms of another length change it with about the square of the lever.");
      if (ways > 1) {
        ratio_reading("over all holes, the present lever anywhere among them", {ratio.low / span.high, ratio.high * span.high}, "Until the seller tells the levers of the holes.");
      }
    } else {
      ask("What is the diameter of the factory bar, and is it hollow? (Measure yours.)");
    }
    if (!c.wall && c.is_hollow.value_or(true)) ask("How thick is the wall, or how much does the bar weigh? (Weight and length give the wall.)");
    if (!c.is_hollow && !c.wall) ask("Is it solid or hollow?");
    ask("How long are the arms, square to the straight, to each hole?");
    ask("Which bushings come with it, and how wide apart do they sit?");
  }
  if (c.rate) {
    const double k = c.rate->si();
    const auto rate_reading = [&](std::string means, Range per_side, std::string note, std::optional<double> at_wheel = {}) {
      add(std::move(means), over(per_side, x.present_rate), per_side, std::move(note), at_wheel);
    };
    rate_reading("relative rate at the link: one end held", {2.0 * k, 2.0 * k}, "The handbook formula gives this; the rate per side in roll is twice it.");
    rate_reading("per-side rate at the link: both ends moving", {k, k}, "Force at one link per mm of that link.");
    const Range squared{x.motion_ratio.low * x.motion_ratio.low, x.motion_ratio.high * x.motion_ratio.high};
    rate_reading("per-side rate at the wheel", over({k, k}, squared), "Divided by the motion ratio squared to bring it to the link.", k);
    rate_reading("relative rate at the wheel: one wheel lifted", over({2.0 * k, 2.0 * k}, squared), "Twice that again.", 2.0 * k);
    ask("Is the rate for one end with the other held, or per side with both moving? (A factor of two.)");
    ask("At the end of the bar or at the wheel?");
    if (ways != 1) ask("In which hole?");
    ask("With the bushings that come with it, or clamped rigidly?");
  }
  if (c.ways && *c.ways == 0) ask("How many holes, and how far apart?");
  if (c.ways && !c.stiffer && !c.times && !c.diameter && !c.rate) ask("How stiff is it in each hole, against the factory bar?");
  return out;
}

}  // namespace rollwright::bar
