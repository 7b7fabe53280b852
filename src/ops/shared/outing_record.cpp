#include "ops/shared/outing_record.h"

#include <cmath>

namespace rollwright::ops {

namespace unit = base::unit;

void PhonePlace::describe(base::RecordType<PhonePlace>& r) {
  r.about("Where and how the phone rode.");
  r.field<&PhonePlace::height>("height", unit::mm, "Height of the phone above the ground; within 150 mm is good enough.").between(0, 2500).usual_pm(100);
  r.field<&PhonePlace::ahead>("ahead", unit::mm, "How far ahead of the middle between the seats' and rear axle's weight, roughly ahead of the gear lever: positive forward.").between(-3000, 3000).usual_pm(300);
  r.field<&PhonePlace::mount>("mount", "How it was held: fixed (taped or wedged to the floor) or in a holder.");
}

void SteeringPlace::describe(base::RecordType<SteeringPlace>& r) {
  r.about("What is needed of the car to read understeer from a steering angle in the log.");
  r.field<&SteeringPlace::wheelbase>("wheelbase", unit::mm, "Front axle to rear axle.").between(1000, 5000).usual_pm(30);
  r.field<&SteeringPlace::ratio>("ratio", unit::one, "Turn of the steering wheel over turn of the front wheels (steering ratio); not needed when the log holds the front wheels' angle.").between(5, 40).usual_pm(1);
}

void UndersteerRecord::describe(base::RecordType<UndersteerRecord>& r) {
  r.about("How much more steering the car wants the harder it corners, where the log holds the steering angle.");
  r.field<&UndersteerRecord::text>("text", "What it means, or what is missing for it.");
  r.field<&UndersteerRecord::gradient>("gradient", unit::deg_per_g, "Steering at the front wheels beyond wheelbase over radius, per lateral acceleration (understeer gradient), mean slope over what was driven; positive pushes wide.");
  r.field<&UndersteerRecord::from_passes>("from_passes", unit::deg_per_g, "The same with the scatter of the passes as its only doubt.");
}

void ColumnCorrection::describe(base::RecordType<ColumnCorrection>& r) {
  r.about("What a column of a file really holds, when the guess is wrong.");
  r.field<&ColumnCorrection::column>("column", "Name of the column as in the file, or 'column 3'.").required();
  r.field<&ColumnCorrection::meaning>("meaning", "What it holds.").required();
  r.field<&ColumnCorrection::unit>("unit", "Its unit, when the heading does not say.");
}

void LeftOut::describe(base::RecordType<LeftOut>& r) {
  r.about("A stretch of a recording.");
  r.field<&LeftOut::recording>("recording", "Which recording of the outing, from 0, as the runs say.").at_least(0);
  r.field<&LeftOut::from>("from", unit::s, "From this time, counted from the start of that recording.").required();
  r.field<&LeftOut::to>("to", unit::s, "To this time.").required();
}

void FlagRecord::describe(base::RecordType<FlagRecord>& r) {
  r.about("A fault or a peculiarity of the recording.");
  r.field<&FlagRecord::code>("code", "Stable name.");
  r.field<&FlagRecord::text>("text", "What it means and what to do.");
  r.field<&FlagRecord::is_serious>("is_serious", "True when the answer itself is in doubt.");
}

void ConeRecord::describe(base::RecordType<ConeRecord>& r) {
  r.about("The peak of a corner: a cone passed.");
  r.field<&ConeRecord::time>("time", unit::s, "From the start of the recording.");
  r.field<&ConeRecord::lateral>("lateral", unit::g, "True lateral acceleration, positive to the left.");
  r.field<&ConeRecord::roll>("roll", unit::deg, "Lean, positive to the right.");
}

void PassRecord::describe(base::RecordType<PassRecord>& r) {
  r.about("One drive through the slalom.");
  r.field<&PassRecord::recording>("recording", "Which recording, from 0.");
  r.field<&PassRecord::begin>("begin", unit::s, "Its begin, from the start of the recording.");
  r.field<&PassRecord::end>("end", unit::s, "Its end.");
  r.field<&PassRecord::corners>("corners", "Half waves found, about one a cone.");
  r.field<&PassRecord::starts_left>("starts_left", "True when it began with a left turn.");
  r.field<&PassRecord::roll_gradient>("roll_gradient", unit::deg_per_g, "Lean by this pass.");
  r.field<&PassRecord::by_rate>("by_rate", unit::deg_per_g, "By the first reading.");
  r.field<&PassRecord::by_angle>("by_angle", unit::deg_per_g, "By the second reading.");
  r.field<&PassRecord::peak_lateral>("peak_lateral", unit::g, "True lateral acceleration at the corners.");
  r.field<&PassRecord::peak_roll>("peak_roll", unit::deg, "Lean at the corners.");
  r.field<&PassRecord::speed>("speed", unit::km_per_h, "Mean speed; 0 when it was not recorded.");
  r.field<&PassRecord::is_used>("is_used", "False when it was left out.");
  r.field<&PassRecord::left_out_because>("left_out_because", "Why it was left out.");
  r.field<&PassRecord::cones>("cones", "Every corner of it.");
}

void TraceRecord::describe(base::RecordType<TraceRecord>& r) {
  r.about("Lean and lateral acceleration over a pass, for plots.");
  r.field<&TraceRecord::pass>("pass", "Which pass, from 0.");
  r.field<&TraceRecord::start>("start", unit::s, "Time of the first value.");
  r.field<&TraceRecord::step>("step", unit::s, "Time from one value to the next.");
  r.field<&TraceRecord::roll>("roll", unit::deg, "Lean.");
  r.field<&TraceRecord::lateral>("lateral", unit::g, "True lateral acceleration.");
}

void OverviewRecord::describe(base::RecordType<OverviewRecord>& r) {
  r.about("The lateral force over a whole recording, for finding runs by eye: of each step the strongest value.");
  r.field<&OverviewRecord::name>("name", "The recording.");
  r.field<&OverviewRecord::step>("step", unit::s, "Time from one value to the next.");
  r.field<&OverviewRecord::lateral>("lateral", unit::g, "Lateral force, positive to the left.");
}

void ColumnRecord::describe(base::RecordType<ColumnRecord>& r) {
  r.about("What a column of a file was taken for.");
  r.field<&ColumnRecord::file>("file", "The file.");
  r.field<&ColumnRecord::column>("column", "The column.");
  r.field<&ColumnRecord::meaning>("meaning", "What it was taken for.");
  r.field<&ColumnRecord::unit>("unit", "Its unit.");
  r.field<&ColumnRecord::reason>("reason", "Why.");
}

void DoubtRecord::describe(base::RecordType<DoubtRecord>& r) {
  r.about("A part of the doubt of the gradient.");
  r.field<&DoubtRecord::what>("what", "Where it comes from.");
  r.field<&DoubtRecord::pm>("pm", unit::deg_per_g, "Its size, 95 %.");
  r.field<&DoubtRecord::cancels_in_change>("cancels_in_change", "True when it cancels between before and after with the phone left in place.");
}

void OutingRecord::describe(base::RecordType<OutingRecord>& r) {
  r.about("What the recordings of one setup on one day say.");
  r.field<&OutingRecord::roll_gradient>("roll_gradient", unit::deg_per_g, "Lean of the body against the road (roll gradient), steady value.");
  r.field<&OutingRecord::from_passes>("from_passes", unit::deg_per_g, "The same with the scatter of the passes as its only doubt.");
  r.field<&OutingRecord::by_rate>("by_rate", unit::deg_per_g, "By the first reading, from the roll rate.");
  r.field<&OutingRecord::by_angle>("by_angle", unit::deg_per_g, "By the second reading, from the roll angle; the two must agree.");
  r.field<&OutingRecord::is_from_slalom>("is_from_slalom", "True when slalom passes were found; else the whole drive was used.");
  r.field<&OutingRecord::roll_frequency>("roll_frequency", unit::hz, "Natural frequency in roll.");
  r.field<&OutingRecord::roll_damping>("roll_damping", unit::one, "Damping ratio in roll.");
  r.field<&OutingRecord::delay>("delay", unit::ms, "How late the lean follows the turning (yaw rate to roll).");
  r.field<&OutingRecord::left_right_difference>("left_right_difference", unit::percent, "How much more it leans in left turns than in right ones.");
  r.field<&OutingRecord::understeer>("understeer", "What a steering angle in the log says about understeer, or what is missing.");
  r.field<&OutingRecord::peak_lateral>("peak_lateral", unit::g, "True lateral acceleration at the corners, on average.");
  r.field<&OutingRecord::slalom_frequency>("slalom_frequency", unit::hz, "Frequency of the slalom.");
  r.field<&OutingRecord::speed>("speed", unit::km_per_h, "Mean speed in the passes.");
  r.field<&OutingRecord::flags>("flags", "Faults and peculiarities.");
  r.field<&OutingRecord::passes>("passes", "The passes found.");
  r.field<&OutingRecord::doubts>("doubts", "What the doubt consists of.");
  r.field<&OutingRecord::columns>("columns", "What the columns were taken for.");
  r.field<&OutingRecord::traces>("traces", "Lean over time, when asked for.").detail();
  r.field<&OutingRecord::overviews>("overviews", "Each whole recording, when traces are asked for.").detail();
}

signal::OutingOptions outing_options(const PhonePlace& phone, const std::vector<LeftOut>& left_out, const std::vector<LeftOut>& marked,
                                     const SteeringPlace& steering) {
  signal::OutingOptions options;
  if (phone.height) {
    options.setup.phone_height = phone.height->value.si();
    options.setup.phone_height_sd = phone.height->sd.si();
  }
  if (phone.ahead) {
    options.setup.phone_ahead = phone.ahead->value.si();
    options.setup.phone_ahead_sd = phone.ahead->sd.si();
  }
  options.mount = phone.mount;
  if (steering.wheelbase) {
    options.steering.wheelbase = steering.wheelbase->value.si();
    options.steering.wheelbase_sd = steering.wheelbase->sd.si();
  }
  if (steering.ratio) {
    options.steering.ratio = steering.ratio->value.si();
    options.steering.ratio_sd = steering.ratio->sd.si();
  }
  for (const auto& stretch : left_out) options.left_out.push_back({stretch.recording, stretch.from.si(), stretch.to.si()});
  for (const auto& stretch : marked) options.marked.push_back({stretch.recording, stretch.from.si(), stretch.to.si()});
  return options;
}

signal::ReadOptions read_options(const std::vector<ColumnCorrection>& corrections) {
  signal::ReadOptions options;
  for (const auto& c : corrections) options.columns.push_back({c.column, c.meaning, c.unit});
  return options;
}

std::vector<FlagRecord> flag_records(const std::vector<signal::Flag>& flags) {
  std::vector<FlagRecord> records;
  for (const auto& f : flags) records.push_back({f.code, f.text, f.is_serious});
  return records;
}

namespace {

template <class Q>
base::Interval<Q> interval(const stats::Mean& mean) {
  return {Q(mean.value), Q(mean.low()), Q(mean.high())};
}

template <class Q>
std::optional<base::Interval<Q>> if_known(const stats::Mean& mean) {
  if (!(mean.standard_error > 0.0) || !std::isfinite(mean.low()) || !std::isfinite(mean.high())) return std::nullopt;
  return interval<Q>(mean);
}

template <class Q>
std::optional<base::Interval<Q>> if_known(double value, double error) {
  if (!(value > 0.0) || !(error > 0.0) || !std::isfinite(error)) return std::nullopt;
  return base::Interval<Q>::from_sd(Q(value), Q(error));
}

}  // namespace

OutingRecord outing_record(const signal::OutingRoll& o, bool wants_traces) {
  using base::AnglePerAcceleration;
  OutingRecord r;
  r.roll_gradient = interval<AnglePerAcceleration>(o.gradient);
  r.from_passes = interval<AnglePerAcceleration>(o.scatter);
  r.by_rate = AnglePerAcceleration(o.by_rate);
  r.by_angle = AnglePerAcceleration(o.by_angle);
  r.is_from_slalom = o.is_from_slalom;
  r.roll_frequency = if_known<base::Frequency>(o.natural_frequency, o.natural_frequency_error);
  r.roll_damping = if_known<base::Ratio>(o.damping_ratio, o.damping_ratio_error);
  r.delay = if_known<base::Duration>(o.delay);
  r.left_right_difference = if_known<base::Ratio>(o.side_difference);
  r.understeer.text = o.understeer.says;
  if (o.understeer.gradient) r.understeer.gradient = interval<AnglePerAcceleration>(*o.understeer.gradient);
  if (o.understeer.scatter) r.understeer.from_passes = interval<AnglePerAcceleration>(*o.understeer.scatter);
  r.peak_lateral = base::Acceleration(o.peak_lateral);
  r.slalom_frequency = base::Frequency(o.frequency);
  if (o.speed > 0.0) r.speed = base::Speed(o.speed);
  r.flags = flag_records(o.flags);
  for (const auto& p : o.passes) {
    PassRecord pass;
    pass.recording = p.recording;
    // Clocks may count from 1970; people count from the start of the recording.
    const double zero = o.recordings[static_cast<std::size_t>(p.recording)].start;
    pass.begin = base::Duration(p.begin - zero);
    pass.end = base::Duration(p.end - zero);
    for (const auto& c : p.corner_list) pass.cones.push_back({base::Duration(c.time - zero), base::Acceleration(c.lateral), base::Angle(c.roll)});
    pass.corners = p.corners;
    pass.starts_left = p.starts_left;
    pass.roll_gradient = AnglePerAcceleration(p.gradient);
    pass.by_rate = AnglePerAcceleration(p.by_rate);
    pass.by_angle = AnglePerAcceleration(p.by_angle);
    pass.peak_lateral = base::Acceleration(p.peak_lateral);
    pass.peak_roll = base::Angle(p.peak_roll);
    pass.speed = base::Speed(p.speed);
    pass.is_used = p.is_used;
    pass.left_out_because = p.left_out_because;
    r.passes.push_back(std::move(pass));
  }
  for (const auto& line : o.budget) r.doubts.push_back({line.what, AnglePerAcceleration(base::kCoverage95 * line.sd), line.cancels_in_change});
  for (const auto& c : o.columns) r.columns.push_back({c.file, c.column, c.meaning, c.unit, c.reason});
  for (std::size_t i = 0; wants_traces && i < o.overviews.size(); ++i) {
    OverviewRecord overview;
    overview.name = o.recordings[i].name;
    overview.step = base::Duration(o.overviews[i].step);
    for (const double a : o.overviews[i].lateral) overview.lateral.push_back(base::Acceleration(a));
    r.overviews.push_back(std::move(overview));
  }
  for (std::size_t i = 0; wants_traces && i < o.traces.size(); ++i) {
    TraceRecord trace;
    trace.pass = static_cast<int>(i);
    trace.start = base::Duration(o.traces[i].start - o.recordings[static_cast<std::size_t>(o.passes[i].recording)].start);
    trace.step = base::Duration(o.traces[i].step);
    for (double v : o.traces[i].roll) trace.roll.push_back(base::Angle(v));
    for (double v : o.traces[i].lateral) trace.lateral.push_back(base::Acceleration(v));
    r.traces.push_back(std::move(trace));
  }
  return r;
}

void outing_footing(base::Footing& footing) {
  footing.assume("The body rolls as one freedom on springs and bars that are straight over the range driven; the gradient is the steady one, a slalom's own overshoot taken out.");
  footing.assume("The phone did not move in its mount; what the mount gives adds to the lean and cannot be told from it.");
  footing.assume("The road is level across, or each entry side was driven as often as the other.");
  footing.cite("Heydinger 1999");
}

}  // namespace rollwright::ops
