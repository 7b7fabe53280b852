#include "signal/outing.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/quantity.h"
#include "base/units.h"
#include "signal/drive_health.h"
#include "signal/motion.h"
#include "signal/understeer.h"
#include "signal/vibration.h"
#include "stats/sample.h"

namespace rollwright::signal {
namespace {

constexpr double kGravity = base::kStandardGravity.si();
constexpr double kDegPerG = base::unit::deg_per_g.si_per_unit;

// What the residuals of a pass predict for its scatter counts as much as this many passes seen (invented: with three
// passes, scatter alone knows its own size to ±50 %).
constexpr double kPriorPasses = 4.0;
// Unevenness from pass to pass that residuals do not show: line driven, tyres, bank (share of K; set by simulation).
constexpr double kPassShare = 0.004;
// Residuals overstate the error of a pass a little, because part of the bank in them turns round from pass to pass (set by
// simulation, src/phone/coverage_test.cpp).
constexpr double kResidualShare = 0.85;

constexpr double kLeastSlalomPeak = 0.25 * kGravity;   // below it a flag says that roll hardly rose above the noise
constexpr double kLeastStreetPeak = 0.15 * kGravity;   // below it nothing is said

constexpr double kLongestPiece = 3.0 * 3600.0, kPiece = 2.0 * 3600.0;  // [s]

struct Analysed {
  CarMotion car;
  DriveHealth health;
  std::vector<Pass> passes;
  double yaw_leak = 0.0;
  RollModel::Whole whole;
  bool has_whole = false;
  std::vector<double> steering;  // on the grid, empty where unknown
};

double mount_sd(Mount mount) {
  // Own lean of a phone, in deg/g: a holder on an arm up to 0.3 [own derivation §2.7], evenly spread: 0.17 rms; a phone
  // wedged to the floor up to 0.1 (invented).
  switch (mount) {
    case Mount::fixed: return 0.05 * kDegPerG;
    case Mount::holder: return 0.17 * kDegPerG;
    case Mount::unknown: return 0.10 * kDegPerG;
  }
  return 0.1 * kDegPerG;
}

class OutingAnalysis {
 public:
  OutingAnalysis(const std::vector<Recording>& recordings, const OutingOptions& options) : recordings_(recordings), options_(options) {
    out_.setup = options.setup;
    out_.mount = options.mount;
  }

  base::Outcome<OutingRoll> run() {
    base::Problems problems;
    for (const auto& recording : recordings_) {
      for (const auto& w : recording.footing.warnings) flag(w.code, w.text);
      out_.columns.insert(out_.columns.end(), recording.columns.begin(), recording.columns.end());
      // A day's log is taken in pieces, so that memory stays bounded; each piece finds its own mount.
      const auto& time = recording.specific_force.time();
      if (time.empty() || time.back() - time.front() <= kLongestPiece) {
        if (auto failed = analyse(recording)) problems.insert(problems.end(), failed->begin(), failed->end());
        continue;
      }
      for (double from = time.front(); from < time.back(); from += kPiece) {
        Recording piece;
        piece.name = recording.name;
        piece.specific_force = recording.specific_force.part(from, from + kPiece);
        piece.angular_rate = recording.angular_rate.part(from, from + kPiece);
        for (const auto& fix : recording.fixes) {
          if (fix.time >= from && fix.time < from + kPiece) piece.fixes.push_back(fix);
        }
        piece.steering = recording.steering.part(from, from + kPiece);
        piece.steering_is_hand_wheel = recording.steering_is_hand_wheel;
        piece.steering_unit_is_known = recording.steering_unit_is_known;
        piece.speed_unit_is_known = recording.speed_unit_is_known;
        piece.rate_unit_is_named = recording.rate_unit_is_named;
        if (piece.specific_force.size() < 10) continue;
        if (auto failed = analyse(piece)) problems.insert(problems.end(), failed->begin(), failed->end());
      }
    }
    if (analysed_.empty()) return base::fail(std::move(problems));
    for (const auto& p : problems) flag("recording_left_out", p.where + ": " + p.message);

    std::size_t pass_count = 0;
    for (const auto& a : analysed_) pass_count += a.passes.size();
    if (pass_count > 0) fit_passes();
    const auto used = std::count_if(out_.passes.begin(), out_.passes.end(), [](const OutingPass& p) { return p.is_used; });
    if (used > 0) {
      combine_passes();
    } else if (auto refused = judge_street()) {
      return base::fail(std::move(*refused));
    }
    understeer();
    if (auto refused = last_look()) return base::fail(std::move(*refused));
    return std::move(out_);
  }

 private:
  void flag(std::string code, std::string text, bool is_serious = false) {
    for (const auto& f : out_.flags) {
      if (f.code == code) return;  // once is enough
    }
    out_.flags.push_back({std::move(code), std::move(text), is_serious});
  }

  std::optional<base::Problems> analyse(const Recording& recording) {
    auto motion = even_motion(recording);
    if (!motion) return motion.error();
    base::Footing footing;
    auto car = align(*motion, recording, footing);
    if (!car) return car.error();
    for (const auto& w : footing.warnings) flag(w.code, w.text);
    Analysed a{std::move(*car), {}, {}, 0.0, {}, false, {}};
    a.steering = steering_on_grid(recording, a.car);
    has_steering_ = has_steering_ || !recording.steering.is_empty();
    is_hand_wheel_ = recording.steering_is_hand_wheel;
    steering_unit_is_known_ = steering_unit_is_known_ && (recording.steering.is_empty() || recording.steering_unit_is_known);
    a.health = look_at_drive(*motion, a.car, recording);
    for (const auto& f : a.health.flags) flag(f.code, f.text, f.is_serious);
    const double zero = recording.specific_force.time().front();
    leave_out(a, zero);
    a.passes = find_passes(a.car.lateral_force, a.car.is_gap, a.car.step);
    take_marked(a, zero);
    vibration_flags(look_at_vibration(recording, a.car, a.passes));
    const RollModel model(a.car, options_.setup);
    const auto whole = model.fit_whole(a.health.is_smooth);
    if (whole) {
      a.whole = *whole;
      a.has_whole = true;
      // A leak of more than 0.35 rad would be a mount 20 degrees off the mean force: no fit, then.
      if (std::abs(whole->yaw_leak) < 0.35) a.yaw_leak = whole->yaw_leak;
    }
    RecordingSummary s;
    s.name = recording.name;
    s.start = recording.specific_force.time().front();
    s.duration = motion->duration();
    s.rate_hz = recording.specific_force.health().usual_interval > 0.0 ? 1.0 / recording.specific_force.health().usual_interval : 0.0;
    s.gap_share = motion->gap_share;
    s.alignment = a.car.alignment;
    out_.overviews.push_back(overview_of(a.car));
    out_.recordings.push_back(std::move(s));
    analysed_.push_back(std::move(a));
    return std::nullopt;
  }

  static Overview overview_of(const CarMotion& car) {
    constexpr double kMostPoints = 1500.0;  // more than a screen is wide
    Overview o;
    const double wanted = std::max(0.25, car.step * static_cast<double>(car.size()) / kMostPoints);
    const auto each = std::max<std::size_t>(1, static_cast<std::size_t>(wanted / car.step));
    o.step = car.step * static_cast<double>(each);
    for (std::size_t from = 0; from < car.size(); from += each) {
      double strongest = 0.0;
      for (std::size_t i = from; i < std::min(car.size(), from + each); ++i) {
        if (std::abs(car.lateral_force[i]) > std::abs(strongest)) strongest = car.lateral_force[i];
      }
      o.lateral.push_back(strongest);
    }
    return o;
  }

  void take_marked(Analysed& a, double zero) {
    if (options_.marked.empty()) return;
    for (const auto& [recording, from, to] : options_.marked) {
      if (recording != static_cast<int>(analysed_.size())) continue;
      const double first = (zero + from - a.car.start) / a.car.step, last = (zero + to - a.car.start) / a.car.step;
      const auto begin = static_cast<std::size_t>(std::clamp(first, 0.0, static_cast<double>(a.car.size()))), end = static_cast<std::size_t>(std::clamp(last, 0.0, static_cast<double>(a.car.size())));
      auto pass = marked_pass(a.car.lateral_force, begin, end, a.car.step);
      if (!pass) {
        flag("marked_run_unusable", "A run that you marked (" + tenth(from) + " to " + tenth(to) + " s) holds fewer than three corners and cannot be read.");
        continue;
      }
      std::erase_if(a.passes, [&](const Pass& p) { return p.begin < end && begin < p.end; });
      a.passes.push_back(std::move(*pass));
    }
    std::sort(a.passes.begin(), a.passes.end(), [](const Pass& x, const Pass& y) { return x.begin < y.begin; });
  }

  void vibration_flags(const Vibration& v) {
    if (v.ring_hz) {
      flag("mount_rings", "The phone rings in its mount at about " + tenth(*v.ring_hz) + " times a second. A mount that soft leans with the car by itself, which "
           "counts as roll; it falls out of a change only with the same mount. Tape the phone flat to the floor or wedge it in.");
    }
    // The low-pass takes away what is faster.
    if (v.is_folded && v.lowest_in_passes < 4.0) {
      flag("engine_alias", "The engine's shaking is faster than half the logging rate and folds down to " + tenth(v.lowest_in_passes) +
           " times a second in the slalom, where it looks like cornering. Log 200 a second, take another gear, or change the speed by a tenth.");
    }
  }

  void leave_out(Analysed& a, double zero) const {
    if (options_.left_out.empty()) return;
    for (std::size_t i = 0; i < a.car.size(); ++i) {
      const double t = a.car.time(i) - zero;
      for (const auto& [recording, from, to] : options_.left_out) {
        if (recording == static_cast<int>(analysed_.size()) && t >= from && t <= to) a.car.is_gap[i] = 1;
      }
    }
  }

  // The leak of yaw rate into roll rate for each pass. Where the phone moved, the whole drive knows only a mean of it: then
  // the longest stretch without a move is fitted by itself, and the others follow from how their roll rate goes with yaw.
  std::vector<double> leaks(const Analysed& a) const {
    std::vector<double> leak(a.passes.size(), a.yaw_leak);
    if (a.passes.empty()) return leak;
    std::vector<Lie> lies;
    for (const auto& pass : a.passes) lies.push_back(lie_between(a.car, pass.begin, pass.end));
    std::size_t best_from = 0, best_to = 0, from = 0;
    for (std::size_t i = 1; i <= a.passes.size(); ++i) {
      const bool ends = i == a.passes.size() || move_between(lies[i - 1], lies[i]) > 0.0;
      if (!ends) continue;
      if (i - from > best_to - best_from) {
        best_from = from;
        best_to = i;
      }
      from = i;
    }
    if (best_to - best_from == a.passes.size()) return leak;
    std::vector<std::uint8_t> is_used(a.car.size(), 0);
    for (std::size_t i = a.passes[best_from].begin; i < a.passes[best_to - 1].end; ++i) is_used[i] = a.health.is_smooth[i];
    const auto fit = RollModel(a.car, options_.setup).fit_whole(is_used);
    if (!fit || std::abs(fit->yaw_leak) > 0.5) return leak;
    double reference = 0.0;
    for (std::size_t i = best_from; i < best_to; ++i) reference += lies[i].fore_aft / static_cast<double>(best_to - best_from);
    for (std::size_t i = 0; i < leak.size(); ++i) {
      leak[i] = fit->yaw_leak + (i >= best_from && i < best_to ? 0.0 : lies[i].fore_aft - reference);
    }
    return leak;
  }

  void fit_passes() {
    for (std::size_t r = 0; r < analysed_.size(); ++r) {
      const auto& a = analysed_[r];
      const RollModel model(a.car, options_.setup);
      const auto leak = leaks(a);
      for (std::size_t i = 0; i < a.passes.size(); ++i) {
        const auto& pass = a.passes[i];
        auto fit = model.fit_pass(pass, leak[i]);
        if (!fit) continue;
        OutingPass p;
        static_cast<PassRoll&>(p) = *fit;
        p.recording = static_cast<int>(r);
        p.vibration = a.health.vibration_between(pass.begin, pass.end);
        out_.traces.push_back(model.trace(pass, *fit, leak[i]));
        out_.passes.push_back(p);
        pass_of_.push_back({r, &pass});
        leak_of_.push_back(leak[i]);
      }
    }
    leave_out_spoiled();
    look_for_moves();
  }

  // A phone that moved between passes lies differently in them.
  void look_for_moves() {
    double largest = 0.0;
    std::size_t moves = 0;
    for (std::size_t i = 1; i < pass_of_.size(); ++i) {
      const auto& [before_recording, before] = pass_of_[i - 1];
      const auto& [recording, pass] = pass_of_[i];
      if (recording != before_recording) continue;
      const auto& car = analysed_[recording].car;
      const double moved = move_between(lie_between(car, before->begin, before->end), lie_between(car, pass->begin, pass->end));
      largest = std::max(largest, moved);
      moves += moved > 0.0;
    }
    std::size_t within = 0;
    for (const auto& [recording, pass] : pass_of_) {
      const double moved = move_within(analysed_[recording].car, *pass);
      largest = std::max(largest, moved);
      within += moved > 0.0;
    }
    if (moves + within > 0) {
      flag("phone_moved", "The phone turned in its mount by about " + tenth(largest * 180.0 / std::numbers::pi) +
           " degrees during the recording. Passes in which it moved are left out. Fix it so that a firm push does not move it, and repeat.", true);
    }
  }

  // A pass whose readings do not follow the roll equation is spoiled, whatever the reason.
  void leave_out_spoiled() {
    std::vector<double> residuals;
    for (const auto& p : out_.passes) residuals.push_back(p.residual_share);
    const double typical = residuals.empty() ? 0.0 : stats::median(residuals);
    std::size_t i = 0;
    for (auto& p : out_.passes) {
      const auto& a = analysed_[pass_of_[i].first];
      const double slip = move_within(a.car, *pass_of_[i].second);
      ++i;
      const auto drop = [&](const std::string& why) {
        p.is_used = false;
        p.left_out_because = why;
      };
      if (!std::isfinite(p.gradient) || p.gradient <= 0.0) {
        drop("the readings do not follow a body that leans outward");
      } else if (slip > 0.0) {
        drop("the phone moved during the pass");
      } else if (p.residual_share > 0.35 || (p.residual_share > 2.5 * typical && p.residual_share > 0.15)) {
        drop("the readings do not follow the roll of a body: the phone moved, or the road was uneven");
      } else if (std::abs(p.by_rate - p.by_angle) > 0.15 * std::abs(p.gradient)) {
        drop("the two readings of the same pass disagree by more than 15 %");
      }
    }
    const auto dropped = std::count_if(out_.passes.begin(), out_.passes.end(), [](const OutingPass& p) { return !p.is_used; });
    if (dropped > 0) {
      flag("pass_left_out", std::to_string(dropped) + " of " + std::to_string(out_.passes.size()) +
           " passes are left out because their readings are spoiled; the list of passes says why. Look at the mount and drive them again.");
    }
  }

  void combine_passes() {
    out_.is_from_slalom = true;
    std::vector<double> k, lag, delay, side;
    double predicted = 0.0, peaks = 0.0, corners = 0.0, speed = 0.0, frequency = 0.0;
    for (const auto& p : out_.passes) {
      if (!p.is_used) continue;
      k.push_back(p.gradient);
      lag.push_back(p.damping_lag);
      delay.push_back(p.delay);
      if (p.left_gradient > 0.0 && p.right_gradient > 0.0) side.push_back(2.0 * (p.left_gradient - p.right_gradient) / (p.left_gradient + p.right_gradient));
      const double model = kResidualShare * 0.5 * (p.by_rate_error + p.by_angle_error);
      predicted += model * model + std::pow(kPassShare * p.gradient, 2);
      model_error_ += model * model;
      peaks += p.peak_lateral * p.corners;
      corners += p.corners;
      out_.largest_lateral = std::max(out_.largest_lateral, p.largest_lateral);
      out_.by_rate += p.by_rate;
      out_.by_angle += p.by_angle;
      speed += p.speed;
      frequency += p.frequency;
    }
    const double n = static_cast<double>(k.size());
    predicted /= n;
    model_error_ = std::sqrt(model_error_ / n);
    out_.by_rate /= n;
    out_.by_angle /= n;
    out_.peak_lateral = peaks / corners;
    out_.speed = speed / n;
    out_.frequency = frequency / n;
    const double mean = stats::mean(k);
    double squares = 0.0;
    for (const double value : k) squares += (value - mean) * (value - mean);
    const double degrees = kPriorPasses + n - 1.0;
    const double variance = (kPriorPasses * predicted + squares) / degrees;
    out_.pass_deviation = std::sqrt(variance);
    out_.scatter = {mean, std::sqrt(variance / n), degrees};
    const auto summary = [](const std::vector<double>& x) {
      if (x.size() < 2) return stats::Mean{x.empty() ? 0.0 : x[0], 0.0, 1.0};
      return *stats::mean_with_error(x);
    };
    out_.damping_lag = summary(lag);
    out_.delay = summary(delay);
    out_.side_difference = summary(side);
    add_budget(true);
    roll_mode();
    pass_flags(k.size());
  }

  void add_budget(bool is_slalom) {
    const double mean = out_.scatter.value;
    // Two sensors, 1 % each in ordinary phones (common practice, no source).
    out_.budget.push_back({"scale of the phone's sensors", 0.015 * mean, true});
    // Friction of dampers, bushings and links holds the body back in movements as small as a slalom's: 6 % of the moment makes
    // the gradient read 2 to 3 % low, usual friction half of that and less (simulation, src/phone). Equal before and after.
    out_.budget.push_back({"friction of dampers and bushings", 0.008 * mean, true});
    if (is_slalom) {
      const auto sensitivity = [&](auto change) {
        double sum = 0.0;
        int count = 0;
        for (std::size_t i = 0; i < out_.passes.size(); ++i) {
          if (!out_.passes[i].is_used || count >= 6) continue;
          const auto& a = analysed_[pass_of_[i].first];
          const RollModel model(a.car, options_.setup);
          RollSetup up = options_.setup, down = options_.setup;
          change(up, 0.05);
          change(down, -0.05);
          const auto high = model.gradient_with(*pass_of_[i].second, leak_of_[i], up);
          const auto low = model.gradient_with(*pass_of_[i].second, leak_of_[i], down);
          if (high && low) {
            sum += (*high - *low) / 0.1;
            ++count;
          }
        }
        return count > 0 ? std::abs(sum / count) : 0.0;
      };
      const auto& s = options_.setup;
      out_.budget.push_back({"height of the phone above the roll axis",
                             std::hypot(s.phone_height_sd, s.axis_height_sd) * sensitivity([](RollSetup& x, double d) { x.phone_height += d; }), true});
      out_.budget.push_back({"place of the phone along the car",
                             s.phone_ahead_sd * sensitivity([](RollSetup& x, double d) { x.phone_ahead += d; }), true});
      out_.budget.push_back({"roll inertia of the body (pendulum length)", s.pendulum_sd * sensitivity([](RollSetup& x, double d) { x.pendulum += d; }), true});
    }
    out_.budget.push_back({"own lean of the mount", mount_sd(options_.mount), true});
    if (!is_slalom) {
      // Street corners have camber that no entry side cancels: single corners of a real drive read 1.7 to 6.7 deg/g.
      out_.budget.push_back({"camber and crown of the street", 0.12 * mean, false});
    } else if (bank_left_over() > 0.05) {
      // What the residuals of one pass say that uneven ground does to it, all passes alike.
      out_.budget.push_back({"bank of the place", bank_left_over() * model_error_, false});
    }
    double variance = out_.scatter.standard_error * out_.scatter.standard_error, shared = 0.0;
    for (const auto& line : out_.budget) shared += line.sd * line.sd;
    const double total = variance + shared;
    // Welch–Satterthwaite with the budget taken as known.
    const double degrees = variance > 0.0 ? out_.scatter.degrees_of_freedom * total * total / (variance * variance) : 1e6;
    out_.gradient = {mean, std::sqrt(total), std::min(degrees, 1e6)};
  }

  // Bank belongs to the place. Between two passes in the same direction that begin on different sides it cancels; whether
  // it does between directions depends on the number of cones, so that is not counted on. 0: all cancels, 1: nothing.
  [[nodiscard]] double bank_left_over() const {
    double left_over[2] = {0.0, 0.0}, count = 0.0;
    std::array<double, 2> recording_heading{};
    int recording = -1;
    for (const auto& p : out_.passes) {
      if (!p.is_used) continue;
      if (p.recording != recording) recording_heading[0] = p.heading;  // headings count from each recording's start
      recording = p.recording;
      const std::size_t back = std::cos(p.heading - recording_heading[0]) < 0.0 ? 1 : 0;
      left_over[back] += p.starts_left ? 1.0 : -1.0;
      count += 1.0;
    }
    return count > 0.0 ? std::hypot(left_over[0], left_over[1]) / count : 0.0;
  }

  void roll_mode() {
    const double k = out_.gradient.value;
    const double stiffness = k * options_.setup.pendulum;  // K·ℓ = 1/ω₀²
    if (!(stiffness > 0.0)) return;
    const double w = 1.0 / std::sqrt(stiffness);
    out_.natural_frequency = w / (2.0 * std::numbers::pi);
    const double share = 0.5 * std::hypot(out_.gradient.standard_error / k, options_.setup.pendulum_sd / options_.setup.pendulum);
    out_.natural_frequency_error = out_.natural_frequency * share;
    out_.damping_ratio = 0.5 * out_.damping_lag.value * w;
    // T shares its fit with the mount's pitch error; 0.01 s is what half a degree of that does in a slalom (own derivation).
    out_.damping_ratio_error = 0.5 * w * std::hypot(out_.damping_lag.standard_error, 0.01) + out_.damping_ratio * share;
  }

  void understeer() {
    auto& u = out_.understeer;
    const auto& facts = options_.steering;
    if (!has_steering_) {
      u.says = "How much the car pushes wide was not measured: the log holds no steering angle. A column with the angle of the steering wheel or of the front wheels is needed, a speed, the wheelbase, "
               "and for the steering wheel the steering ratio.";
      return;
    }
    std::string missing;
    const auto need = [&](const std::string& what) { missing += (missing.empty() ? "" : ", ") + what; };
    if (!steering_unit_is_known_) need("the unit of the steering column (deg or rad)");
    if (!facts.wheelbase) need("the wheelbase");
    if (is_hand_wheel_ && !facts.ratio) need("the steering ratio");
    if (!(out_.speed > 3.0)) need("slalom passes with a recorded speed");
    if (!missing.empty()) {
      u.says = "The log holds a steering angle. To say how much the car pushes wide, this is missing: " + missing + ".";
      return;
    }
    const double ratio = is_hand_wheel_ ? *facts.ratio : 1.0;
    std::vector<double> slopes;
    for (std::size_t i = 0; i < out_.passes.size(); ++i) {
      if (!out_.passes[i].is_used) continue;
      const auto& a = analysed_[pass_of_[i].first];
      if (const auto k = understeer_of_pass(a.car, a.steering, out_.traces[i], *facts.wheelbase, ratio)) slopes.push_back(*k);
    }
    if (slopes.size() < 3) {
      u.says = "The log holds a steering angle, but fewer than three passes in which it follows the cornering, so how much the car pushes wide cannot be told.";
      return;
    }
    u.scatter = *stats::mean_with_error(slopes);
    const double k = u.scatter->value, kinematic = *facts.wheelbase / (out_.speed * out_.speed);
    // Speed 2 %, the phone's two scales 1.5 % together (common practice, no source), wheelbase and ratio as told.
    const double shared = std::hypot(std::hypot(facts.wheelbase_sd / *facts.wheelbase, 0.02) * kinematic, 0.015 * kinematic,
                                     is_hand_wheel_ ? facts.ratio_sd / ratio * (kinematic + k) : 0.0);
    const double own = u.scatter->standard_error, total = own * own + shared * shared;
    u.gradient = stats::Mean{k, std::sqrt(total), own > 0.0 ? std::min(1e6, u.scatter->degrees_of_freedom * total * total / std::pow(own, 4)) : 1e6};
    const bool is_clear = u.gradient->low() > 0.0 || u.gradient->high() < 0.0;
    u.says = !is_clear ? "The steering does not show whether the car pushes wide or turns in: the interval holds zero."
             : k > 0.0 ? "The car wants more steering the harder it corners (understeer)."
                       : "The car wants less steering the harder it corners (oversteer).";
  }

  void pass_flags(std::size_t used) {
    if (used < 3) {
      flag("few_passes", "Only " + std::to_string(used) + " usable " + (used == 1 ? "pass was" : "passes were") +
           " found, so scatter is hardly known and the interval is wide. Drive six or more per setup.");
    }
    if (out_.peak_lateral < kLeastSlalomPeak) {
      flag("little_excitation", "The corners reached only " + tenth(out_.peak_lateral / kGravity) +
           " g on average, so road and noise are a large part of the roll seen. 0.4 to 0.6 g is better, on private ground with room to run off.");
    }
    if (used >= 2 && bank_left_over() > 0.65) {
      flag("one_entry_side", "Nearly all passes of a direction began on the same side, so bank of the place is counted as roll. Drive out and back "
           "beginning on the left, then out and back beginning on the right, and so on.");
    }
    double disagreement = std::abs(out_.by_rate - out_.by_angle) / out_.scatter.value;
    if (disagreement > 0.06) {
      flag("readings_disagree", "The two ways of reading the roll differ by " + tenth(100.0 * disagreement) +
           " %, more than noise explains. Look for a loose mount or a very uneven surface.", true);
    }
    if (out_.side_difference.degrees_of_freedom >= 2.0 &&
        std::abs(out_.side_difference.value) > 0.10 + 3.0 * out_.side_difference.standard_error) {
      flag("sides_differ", "The body leans " + tenth(100.0 * std::abs(out_.side_difference.value)) + " % more per g in " +
           (out_.side_difference.value > 0.0 ? "left" : "right") +
           " turns. Look for a bar or link that binds on one side, a weak damper, or a strongly banked place.");
    }
    if (out_.largest_lateral > 0.85 * kGravity) {
      flag("near_the_limit", "Peaks of " + tenth(out_.largest_lateral / kGravity) + " g are near what street tyres can hold. There the tyres and "
           "bump stops bend the relation of roll to g. Compare runs of the same g, and drive slower.");
    }
    double low = 1e9, high = 0.0;
    for (const auto& p : out_.passes) {
      if (!p.is_used) continue;
      low = std::min(low, p.peak_lateral);
      high = std::max(high, p.peak_lateral);
    }
    if (low > 0.0 && high > 1.4 * low) {
      flag("uneven_passes", "Some passes were driven much harder than others (" + tenth(low / kGravity) + " to " + tenth(high / kGravity) +
           " g). Springs and tyres are not quite linear; keep the speed alike.");
    }
  }

  static std::string tenth(double x) {
    char text[32];
    std::snprintf(text, sizeof text, x < 2.0 ? "%.2f" : "%.1f", x);
    return text;
  }

  // No slalom: what a drive through streets says, if it says anything.
  std::optional<base::Problems> judge_street() {
    const Analysed* best = nullptr;
    for (const auto& a : analysed_) {
      if (a.has_whole && (best == nullptr || a.whole.explained * a.whole.blocks > best->whole.explained * best->whole.blocks)) best = &a;
    }
    double left = 0.0, right = 0.0;
    int left_corners = 0, right_corners = 0;
    for (const auto& a : analysed_) {
      for (const auto& w : half_waves(a.car.lateral_force)) {
        if (a.car.is_gap[w.peak] || !a.health.is_smooth[w.peak]) continue;
        // A corner turns the car, too; a bank or a phone that slipped does not.
        if (std::abs(a.car.yaw_rate[w.peak]) < 0.03) continue;
        left = std::max(left, w.height);
        right = std::max(right, -w.height);
        if (w.height > 0.7 * kLeastStreetPeak) ++left_corners;
        if (w.height < -0.7 * kLeastStreetPeak) ++right_corners;
      }
    }
    const std::string where = recordings_.front().name;
    if (std::max(left, right) < kLeastStreetPeak) {
      return base::Problems{base::no_answer(
          "too_little_excitation", where,
          std::max(left, right) > 0.02 * kGravity
              ? "The hardest corner reached " + tenth(std::max(left, right) / kGravity) + " g. With so little cornering roll cannot be told from the road."
              : std::string("The car hardly cornered, so roll cannot be told from the road."),
          "at least 0.15 g to both sides, better a slalom with 0.4 g",
          "Drive a slalom on private ground: eight cones 15 to 18 m apart, three passes or more each way. 'test plan' lays it out.")};
    }
    if (left_corners == 0 || right_corners == 0) {
      return base::Problems{base::no_answer(
          "one_direction", where, std::string("The car only cornered to the ") + (left_corners > 0 ? "left" : "right") +
          ", so roll cannot be told from a bank of the road or a tilt of the phone.", "corners both ways", "Drive the same place in both directions, or a slalom.")};
    }
    if (best == nullptr || best->whole.blocks < 4 || !(best->whole.gradient > 0.3 * kDegPerG) || best->whole.gradient > 20.0 * kDegPerG ||
        best->whole.explained < 0.25) {
      return base::Problems{base::no_answer(
          "cannot_tell", where, "The roll rate does not follow the cornering well enough to give a gradient.",
          "a phone fixed firmly and corners both ways", "Look at the mount, and drive a slalom on smooth private ground.")};
    }
    out_.is_from_slalom = false;
    out_.by_rate = best->whole.gradient;
    out_.by_angle = best->whole.gradient;
    out_.scatter = {best->whole.gradient, best->whole.gradient_error, std::max(3.0, std::min(left_corners, right_corners) * 2.0)};
    out_.pass_deviation = best->whole.gradient_error;
    out_.largest_lateral = std::max(left, right);
    add_budget(false);
    roll_mode();
    flag("no_slalom", "No slalom was found. The answer comes from all corners of the drive, where camber of the street counts as roll, so the "
         "interval is wide. A slalom on level private ground is far sharper.");
    return std::nullopt;
  }

  std::optional<base::Problems> last_look() {
    const double k = out_.gradient.value, error = out_.gradient.standard_error;
    if (!std::isfinite(k) || !std::isfinite(error) || k <= 0.0 || k > 25.0 * kDegPerG || out_.gradient.half_width() > 0.75 * k) {
      return base::Problems{base::no_answer("cannot_tell", recordings_.front().name,
                                            "What the recording says about roll is no better than a guess: the interval reaches from nothing to twice the value.",
                                            "", "Fix the phone firmly and drive a slalom with 0.4 g, six passes or more.")};
    }
    return std::nullopt;
  }

  const std::vector<Recording>& recordings_;
  const OutingOptions& options_;
  OutingRoll out_;
  double model_error_ = 0.0;  // of one pass, by its residuals
  std::vector<Analysed> analysed_;
  std::vector<std::pair<std::size_t, const Pass*>> pass_of_;
  std::vector<double> leak_of_;
  bool has_steering_ = false, is_hand_wheel_ = true, steering_unit_is_known_ = true;
};

}  // namespace

bool OutingRoll::has_flag(std::string_view code) const {
  return std::any_of(flags.begin(), flags.end(), [&](const Flag& f) { return f.code == code; });
}

base::Outcome<OutingRoll> analyse_outing(const std::vector<Recording>& recordings, const OutingOptions& options) {
  if (recordings.empty()) return base::fail(base::input_problem("no_files", "files", "No recording was given.", "one or more"));
  return OutingAnalysis(recordings, options).run();
}

base::Outcome<OutingRoll> analyse_files(const std::vector<base::InputFile>& files, const OutingOptions& options, const ReadOptions& read) {
  const auto recordings = read_recordings(files, read);
  if (!recordings) return base::fail(recordings.error());
  return analyse_outing(*recordings, options);
}

}  // namespace rollwright::signal
