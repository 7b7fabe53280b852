// Do the intervals hold what they promise? Random cars, drivers, places and phones, with roll physics that the estimator does
// not assume (springs that stiffen, bump stops, friction, tyres that give, dampers with a knee, mounts that give, bank).
//
// The quick study runs always; with ROLLWRIGHT_SLOW=1 in the environment the full one runs (about two minutes).
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <iostream>

#include "base/random.h"
#include "base/units.h"
#include "phone/random_case.h"
#include "signal/proof.h"

namespace rollwright::phone {
namespace {

constexpr double kDegPerG = base::unit::deg_per_g.si_per_unit;

bool is_slow_run() { return std::getenv("ROLLWRIGHT_SLOW") != nullptr; }

struct Study {
  int outings = 0, pairs = 0, refused = 0;
  int covered = 0, change_covered = 0, called_changed = 0;
  double squared = 0.0, change_squared = 0.0, trace_squared = 0.0;
  int traces = 0;
  [[nodiscard]] double coverage() const { return static_cast<double>(covered) / outings; }
  [[nodiscard]] double change_coverage() const { return static_cast<double>(change_covered) / pairs; }
  [[nodiscard]] double rmse() const { return std::sqrt(squared / outings) / kDegPerG; }
  [[nodiscard]] double change_rmse() const { return 100.0 * std::sqrt(change_squared / pairs); }
  [[nodiscard]] double trace_rms() const { return std::sqrt(trace_squared / traces) * 57.29578; }
};

// Changes are drawn: bars and springs 15 to 60 % stiffer, so that no single change is tuned to; 0 asks for no change.
Study study(Family family, int pairs, bool has_change, std::uint64_t first_seed) {
  Study s;
  for (int i = 0; i < pairs; ++i) {
    const auto seed = first_seed + static_cast<std::uint64_t>(i);
    const double factor = has_change ? base::Random(seed).uniform(1.15, 1.6) : 1.0;
    const auto c = draw_case(family, factor, seed);
    std::vector<signal::OutingRoll> outings;
    double truth[2] = {0.0, 0.0};
    for (int side = 0; side < 2; ++side) {
      const auto sim = simulate(c, side, seed);
      truth[side] = sim.gradient;
      auto outing = signal::analyse_outing({sim.recording}, c.told);
      if (!outing) break;
      s.covered += outing->gradient.low() <= sim.gradient && sim.gradient <= outing->gradient.high();
      s.squared += std::pow(outing->gradient.value - sim.gradient, 2);
      ++s.outings;
      for (const auto& trace : outing->traces) {
        double sum = 0.0;
        for (std::size_t k = 0; k < trace.roll.size(); ++k) {
          const auto j = std::min(sim.motion.size() - 1, static_cast<std::size_t>((trace.start + trace.step * static_cast<double>(k)) / sim.motion.step));
          sum += std::pow(trace.roll[k] - sim.motion.roll[j], 2);
        }
        s.trace_squared += sum / static_cast<double>(trace.roll.size());
        ++s.traces;
      }
      outings.push_back(std::move(*outing));
    }
    if (outings.size() < 2) {
      ++s.refused;
      continue;
    }
    const auto proof = signal::prove({outings[0]}, {outings[1]});
    if (!proof) continue;
    const double change = truth[1] / truth[0] - 1.0;
    s.change_covered += proof->change.low <= change && change <= proof->change.high;
    s.called_changed += proof->answer == signal::ProofAnswer::changed;
    s.change_squared += std::pow(proof->change.value - change, 2);
    ++s.pairs;
  }
  std::cout << kFamilyNames[static_cast<std::size_t>(family)] << (has_change ? "" : ", no change") << ": " << s.pairs << " pairs, " << s.refused
            << " refused; gradient covered " << 100.0 * s.coverage() << " %, rmse " << s.rmse() << " deg/g; change covered "
            << 100.0 * s.change_coverage() << " %, rmse " << s.change_rmse() << " points; called changed " << s.called_changed << "; trace "
            << s.trace_rms() << " deg rms\n";
  return s;
}

// A share p of n independent cases scatters by √(p(1−p)/n); three of them on each side of the promised 93 to 97 %.
double allowance(int n) { return 3.0 * std::sqrt(0.05 * 0.95 / n); }

TEST(Coverage, QuickTypicalIntervalsHoldTheTruth) {
  const auto s = study(Family::typical, 30, true, 400);
  EXPECT_EQ(s.refused, 0);
  EXPECT_GE(s.coverage(), 0.93 - allowance(s.outings));
  EXPECT_GE(s.change_coverage(), 0.93 - allowance(s.pairs));
  EXPECT_LE(s.rmse(), 0.11 * 1.35);         // target 0.11 deg/g; 60 values know their rms to 9 %, four of that
  EXPECT_LE(s.change_rmse(), 2.2 * 1.4);    // target 2.2 points; 30 values, 13 %, three of that
  EXPECT_LE(s.trace_rms(), 0.27);           // target
}

TEST(Coverage, QuickNoChangeIsCalledNoChange) {
  const auto s = study(Family::typical, 25, false, 700);
  // At 5 % false alarms four or more of 25 happen once in 29 studies and five once in 140; the seed is fixed.
  EXPECT_LE(s.called_changed, 4);
}

TEST(Coverage, FullStudyCoversNinetyThreeToNinetySevenPercent) {
  if (!is_slow_run()) {
    std::cout << "not run: set ROLLWRIGHT_SLOW=1 for the full study\n";
    return;
  }
  for (const auto family : {Family::benign, Family::typical, Family::harsh}) {
    const auto s = study(family, 300, true, 10000);
    EXPECT_EQ(s.refused, 0);
    EXPECT_GE(s.coverage(), 0.93 - allowance(s.outings));
    EXPECT_GE(s.change_coverage(), 0.93 - allowance(s.pairs));
    if (family == Family::benign) continue;  // easier than the budget allows for, so its intervals are too careful
    EXPECT_LE(s.coverage(), 0.97 + allowance(s.outings));
    EXPECT_LE(s.change_coverage(), 0.97 + allowance(s.pairs));
    if (family == Family::typical) {
      EXPECT_LE(s.rmse(), 0.11);
      EXPECT_LE(s.change_rmse(), 2.2);
      EXPECT_LE(s.trace_rms(), 0.27);
    }
  }
  for (const auto family : {Family::typical, Family::harsh}) {
    const auto s = study(family, 300, false, 20000);
    EXPECT_LE(static_cast<double>(s.called_changed) / s.pairs, 0.05 + allowance(s.pairs));
  }
}

// Faults put into typical drives: the answer must hold or the fault be told.
Handset with_slip(Handset h, double time, double degrees, int axis) {
  Slip slip;
  slip.time = time;
  slip.angle = degrees / 57.29578;
  slip.axis = {axis == 0 ? 1.0 : 0.0, axis == 1 ? 1.0 : 0.0, axis == 2 ? 1.0 : 0.0};
  h.slip = slip;
  return h;
}

double truth_of(const RollCar& car, const BodyMotion& m) {
  std::vector<double> lateral;
  for (const auto& pass : m.passes) {
    for (auto i = static_cast<std::size_t>(pass.begin / m.step); i < static_cast<std::size_t>(pass.end / m.step); i += 25) lateral.push_back(m.lateral[i]);
  }
  return car.gradient_over(lateral);
}

TEST(Faults, APhoneThatSlipsBetweenPassesIsToldAndTheGradientHolds) {
  int held = 0, told = 0;
  const int cases = 9;
  for (int i = 0; i < cases; ++i) {
    const auto c = draw_case(Family::typical, 1.0, 1000 + static_cast<std::uint64_t>(i));
    const auto m = drive_slalom(c.before, c.course, c.driver, c.ground, c.spot, 5 + static_cast<std::uint64_t>(i));
    const auto h = with_slip(c.handset, m.passes[1].end + 6.0, i % 2 == 0 ? 12.0 : -12.0, i % 3);
    const auto o = signal::analyse_outing({to_recording(record(m, h, 9), "x")}, c.told);
    ASSERT_TRUE(o);
    told += o->has_flag("phone_moved");
    const double k = truth_of(c.before, m);
    held += o->gradient.low() <= k && k <= o->gradient.high();
  }
  EXPECT_EQ(told, cases);
  EXPECT_GE(held, cases - 1);  // one in twenty may miss
}

TEST(Faults, APassInWhichThePhoneSlipsSidewaysIsLeftOut) {
  for (int i = 0; i < 4; ++i) {
    const auto c = draw_case(Family::typical, 1.0, 1000 + static_cast<std::uint64_t>(3 * i));
    const auto m = drive_slalom(c.before, c.course, c.driver, c.ground, c.spot, 5 + static_cast<std::uint64_t>(i));
    const auto h = with_slip(c.handset, 0.5 * (m.passes[1].begin + m.passes[1].end), 10.0, 0);
    const auto o = signal::analyse_outing({to_recording(record(m, h, 9), "x")}, c.told);
    ASSERT_TRUE(o);
    ASSERT_EQ(o->passes.size(), m.passes.size());
    EXPECT_FALSE(o->passes[1].is_used);
    EXPECT_FALSE(o->passes[1].left_out_because.empty());
    const double k = truth_of(c.before, m);
    EXPECT_NEAR(o->gradient.value / k, 1.0, 0.1);
  }
}

TEST(Faults, WarmingIsToldAndHarmless) {
  for (int i = 0; i < 4; ++i) {
    auto c = draw_case(Family::typical, 1.0, 2000 + static_cast<std::uint64_t>(i));
    const auto m = drive_slalom(c.before, c.course, c.driver, c.ground, c.spot, 5 + static_cast<std::uint64_t>(i));
    const auto cold = signal::analyse_outing({to_recording(record(m, c.handset, 9), "x")}, c.told);
    c.handset.warming = 1.0 / 57.29578;  // a degree a second over the drive
    const auto warm = signal::analyse_outing({to_recording(record(m, c.handset, 9), "x")}, c.told);
    ASSERT_TRUE(cold && warm);
    EXPECT_TRUE(warm->has_flag("offset_drift"));
    EXPECT_FALSE(cold->has_flag("offset_drift"));
    EXPECT_NEAR(warm->gradient.value / cold->gradient.value, 1.0, 0.01);
  }
}

TEST(Faults, HealthyDrivesRaiseNoSeriousFlag) {
  for (int i = 0; i < 15; ++i) {
    const auto c = draw_case(i % 2 == 0 ? Family::benign : Family::typical, 1.3, 3000 + static_cast<std::uint64_t>(i));
    const auto o = signal::analyse_outing({simulate(c, 0, 3000 + static_cast<std::uint64_t>(i)).recording}, c.told);
    ASSERT_TRUE(o);
    for (const auto& f : o->flags) EXPECT_FALSE(f.is_serious) << i << " " << f.code << ": " << f.text;
  }
}

}  // namespace
}  // namespace rollwright::phone
