#include "ops/test_video.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "ops/shared/sentences.h"
#include "signal/outing.h"
#include "video/log_sync.h"
#include "video/measure.h"
#include "video/runs.h"

namespace rollwright::ops {

namespace unit = base::unit;

void TestVideoRequest::describe(base::RecordType<TestVideoRequest>& r) {
  r.field<&TestVideoRequest::films>("films", "One film, or two: before and after the change.").required();
  r.field<&TestVideoRequest::marks>("marks", "Marks on a frame of the first film.").required();
  r.field<&TestVideoRequest::marks_after>("marks_after", "Marks on a frame of the second film.");
  r.field<&TestVideoRequest::logs>("logs", "A phone's or a logger's log of the same run as the first film: gives it true lateral acceleration.");
  r.field<&TestVideoRequest::logs_after>("logs_after", "The same for the second film.");
  r.field<&TestVideoRequest::phone>("phone", "Where and how the phone rode.");
  r.field<&TestVideoRequest::log_start>("log_start", unit::s, "The log's clock at the start of the first film, to about 3 s: only needed when its runs are too much alike.");
  r.field<&TestVideoRequest::log_start_after>("log_start_after", unit::s, "The same for the second film.");
  r.field<&TestVideoRequest::glimpses>("glimpses", "Also put out small pictures of how the following stands, while it runs: for a page that watches.");
}

void FilmFrameRecord::describe(base::RecordType<FilmFrameRecord>& r) {
  r.about("Lean in one frame.");
  r.field<&FilmFrameRecord::time>("time", unit::s, "Time stamp from the start of the film.");
  r.field<&FilmFrameRecord::roll>("roll", unit::deg, "Lean of the body against the road, positive to the right, with everything that is not known.");
  r.field<&FilmFrameRecord::standard_error>("standard_error", unit::deg, "Standard error of the lean against this film's other frames, without the common zero.");
  r.field<&FilmFrameRecord::yaw>("yaw", unit::deg, "Heading against the line of view, positive to the left.");
  r.field<&FilmFrameRecord::along>("along", unit::m, "Place of the marked axle along the view.");
  r.field<&FilmFrameRecord::left>("left", unit::m, "Place to the left of the line of view.");
  r.field<&FilmFrameRecord::car_width>("car_width_px", "Width from tyre to tyre in the picture.");
  r.field<&FilmFrameRecord::body_line>("body_line_px", "Left and right end of the marked line of the body in the upright picture, by the fit.");
  r.field<&FilmFrameRecord::wheel_line>("wheel_line_px", "The same of the line from tyre to tyre.");
}

void FilmConeRecord::describe(base::RecordType<FilmConeRecord>& r) {
  r.about("A swing of the body at a cone.");
  r.field<&FilmConeRecord::time>("time", unit::s, "Time of the greatest lean.");
  r.field<&FilmConeRecord::is_left>("is_left", "True when the car passes on the left of the cone.");
  r.field<&FilmConeRecord::peak>("peak", unit::deg, "Greatest lean, positive to the right.");
  r.field<&FilmConeRecord::swing>("swing", unit::deg, "Half of the difference to the neighbouring peaks: free of the zero.");
  r.field<&FilmConeRecord::lateral>("lateral", unit::g, "Greatest lateral acceleration there, by the path.");
}

void FilmQualityRecord::describe(base::RecordType<FilmQualityRecord>& r) {
  r.about("What the film is like, and what was found out about the camera.");
  r.field<&FilmQualityRecord::width>("width_px", "Upright picture.");
  r.field<&FilmQualityRecord::height>("height_px", "Upright picture.");
  r.field<&FilmQualityRecord::rotation>("turned_deg", "By which the stored picture was turned to stand upright.");
  r.field<&FilmQualityRecord::coding>("coding", "Coding of the film.");
  r.field<&FilmQualityRecord::frame_rate>("frame_rate", unit::hz, "Mean frames a second, as the file says.");
  r.field<&FilmQualityRecord::frames>("frames", "Frames read.");
  r.field<&FilmQualityRecord::frames_followed>("frames_followed", "Frames that give a lean.");
  r.field<&FilmQualityRecord::dropped_frames>("dropped_frames", "Frames missing between the time stamps.");
  r.field<&FilmQualityRecord::damaged_frames>("damaged_frames", "Frames with decoding errors.");
  r.field<&FilmQualityRecord::points>("points", "Points followed on the body.");
  r.field<&FilmQualityRecord::points_left_out>("points_left_out", "Points that did not move with it.");
  r.field<&FilmQualityRecord::smallest_car_width>("smallest_car_width_px", "Tyre to tyre, at the farthest.");
  r.field<&FilmQualityRecord::largest_car_width>("largest_car_width_px", "Tyre to tyre, at the nearest.");
  r.field<&FilmQualityRecord::largest_yaw>("largest_yaw", unit::deg, "Farthest off the view from behind or in front.");
  r.field<&FilmQualityRecord::camera_moved>("camera_moved", "True when the camera turned and that was taken out.");
  r.field<&FilmQualityRecord::camera_is_known>("camera_is_known", "True when the surroundings show what the camera did.");
  r.field<&FilmQualityRecord::focal_per_width>("focal_per_width", unit::one, "Focal length / long side of the picture.");
  r.field<&FilmQualityRecord::camera_tilt>("camera_tilt", unit::deg, "Camera tilted down against the road.");
  r.field<&FilmQualityRecord::camera_roll>("camera_roll", unit::deg, "Camera turned clockwise against the road.");
  r.field<&FilmQualityRecord::camera_height>("camera_height", unit::m, "Height of the camera above the road.");
  r.field<&FilmQualityRecord::road_bank>("road_bank", unit::deg, "Cross slope of the road, positive when its left side is higher; null when nothing level is marked.");
  r.field<&FilmQualityRecord::scatter>("scatter", "Misses of the points against what was expected of them; 1 is as expected.");
}

void FilmLogRecord::describe(base::RecordType<FilmLogRecord>& r) {
  r.about("A log of the filmed run, tied to the film by the lean that both saw.");
  r.field<&FilmLogRecord::text>("text", "What both say, in a sentence or two.");
  r.field<&FilmLogRecord::pass>("pass", "Which pass of the log, from 0.");
  r.field<&FilmLogRecord::start>("start", unit::s, "The log's clock at the film's first frame.");
  r.field<&FilmLogRecord::likeness>("likeness", unit::one, "Correlation of the two leans.");
  r.field<&FilmLogRecord::film_over_log>("film_over_log", unit::one, "Lean by the film over lean by the phone, in this run.");
  r.field<&FilmLogRecord::by_phone>("roll_gradient_by_phone", unit::deg_per_g, "Lean per lateral g by the phone alone.");
  r.field<&FilmLogRecord::agrees>("agrees", "True when film and phone agree on it within their doubts.");
}

void FilmRecord::describe(base::RecordType<FilmRecord>& r) {
  r.about("What one film says.");
  r.field<&FilmRecord::name>("name", "File.");
  r.field<&FilmRecord::mean_swing>("mean_swing", unit::deg, "Lean to one side at a cone, mean of the swings; null when fewer than three stand out.");
  r.field<&FilmRecord::cone_time>("cone_time", unit::s, "Time from cone to cone.");
  r.field<&FilmRecord::roll_gradient>("roll_gradient", unit::deg_per_g, "Steady lean per lateral g (roll gradient), by the path and a sprung mass fitted to it; needs the focal length for its full worth. By a log's lateral acceleration instead of the path where one was tied to the film.");
  r.field<&FilmRecord::is_by_log>("is_by_log", "True when the lateral acceleration is the log's.");
  r.field<&FilmRecord::delay>("delay", unit::ms, "Delay of the lean behind the lateral acceleration.");
  r.field<&FilmRecord::log>("log", "The log tied to it, and what the phone says.");
  r.field<&FilmRecord::zero_pm>("zero_pm", unit::deg, "Doubt of the zero (95 %), the same for all frames; mean_swing, roll_gradient and a change do not need the zero.");
  r.field<&FilmRecord::cones>("cones", "Lean at each cone.");
  r.field<&FilmRecord::flags>("flags", "What spoils or limits the answer.");
  r.field<&FilmRecord::quality>("quality", "What the film is like.");
  r.field<&FilmRecord::frames>("frames", "Lean in every frame that gives one.");
}

void FilmChangeRecord::describe(base::RecordType<FilmChangeRecord>& r) {
  r.about("After against before.");
  r.field<&FilmChangeRecord::lean_ratio>("lean_ratio", unit::one, "Lean after / before at equal time from cone to cone.");
  r.field<&FilmChangeRecord::change>("change", unit::percent, "The same as a change.");
  r.field<&FilmChangeRecord::as_driven>("as_driven", unit::one, "Lean after / before as driven, without the correction for speed.");
  r.field<&FilmChangeRecord::gradient_ratio>("gradient_ratio", unit::one, "Lean per lateral g after / before, by the paths.");
  r.field<&FilmChangeRecord::is_certain>("is_certain", "True when 'no change' lies outside the interval.");
}

void TestVideoResult::describe(base::RecordType<TestVideoResult>& r) {
  r.field<&TestVideoResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&TestVideoResult::change>("change", "After against before, with two films.");
  r.field<&TestVideoResult::films>("films", "What each film says.");
}

namespace {

struct Measured {
  FilmRecord record;
  std::optional<video::Run> run;
};

FilmQualityRecord quality_of(const video::FilmRoll& roll) {
  const auto& q = roll.quality;
  FilmQualityRecord r;
  r.width = roll.facts.width;
  r.height = roll.facts.height;
  r.rotation = roll.facts.rotation_deg;
  r.coding = roll.facts.coding;
  r.frame_rate = base::Frequency(roll.facts.nominal_frame_rate);
  r.frames = static_cast<int>(q.frames);
  r.frames_followed = static_cast<int>(q.frames_followed);
  r.dropped_frames = q.dropped_frames;
  r.damaged_frames = q.damaged_frames;
  r.points = static_cast<int>(std::count_if(roll.points.begin(), roll.points.end(), [](const auto& p) { return !p.is_on_wheels; }));
  r.points_left_out = roll.fit.points_left_out;
  r.smallest_car_width = std::round(q.smallest_width);
  r.largest_car_width = std::round(q.largest_width);
  r.largest_yaw = q.largest_yaw;
  r.camera_moved = q.camera_moved;
  r.camera_is_known = q.camera_is_known;
  const double per_width = roll.fit.camera.focal / std::max(roll.facts.width, roll.facts.height);
  r.focal_per_width = base::Interval<base::Ratio>::from_sd(base::Ratio(per_width), base::Ratio(per_width * roll.fit.focal_sd_relative));
  r.camera_tilt = base::Angle(roll.fit.camera.tilt);
  r.camera_roll = base::Angle(roll.fit.camera.roll);
  r.camera_height = base::Length(roll.fit.camera.height);
  if (roll.fit.road_bank) r.road_bank = base::Interval<base::Angle>::from_sd(base::Angle(roll.fit.road_bank->angle), base::Angle(roll.fit.road_bank->sd));
  r.scatter = roll.fit.noise;
  return r;
}

// Ties the logs to the film: lateral acceleration goes into the trace. A log that cannot be tied is a flag, one that cannot be
// read a problem.
base::Outcome<bool> with_log(const std::vector<base::InputFile>& logs, const TestVideoRequest& request, std::size_t index, video::RollTrace& trace, FilmRecord& r) {
  const auto outing = signal::analyse_files(logs, outing_options(request.phone, {}), {});
  if (!outing) return base::fail(outing.error());
  const auto& hint = index == 0 ? request.log_start : request.log_start_after;
  const auto join = video::join_log(trace, outing->traces, hint ? std::optional<double>(hint->si()) : std::nullopt);
  if (!join) {
    r.flags.push_back({join.error()[0].code, join.error()[0].message + " " + join.error()[0].hint, false});
    return false;
  }
  FilmLogRecord log;
  log.pass = static_cast<int>(join->pass);
  log.start = base::Interval<base::Duration>::from_sd(base::Duration(join->offset), base::Duration(join->offset_sd));
  log.likeness = join->likeness;
  log.film_over_log = base::Interval<base::Ratio>::from_sd(base::Ratio(join->film_over_log), base::Ratio(join->film_over_log_sd));
  const auto& g = outing->gradient;
  log.by_phone = {base::AnglePerAcceleration(g.value), base::AnglePerAcceleration(g.low()), base::AnglePerAcceleration(g.high())};
  r.log = log;
  trace.lateral = join->lateral;
  return true;
}

// Film and phone beside each other, never mixed.
void compare_with_phone(const base::Interval<base::AnglePerAcceleration>& film, FilmLogRecord& log) {
  const double doubt = std::hypot(film.pm().si(), log.by_phone.pm().si());
  log.agrees = std::abs(film.value.si() - log.by_phone.value.si()) <= doubt;
  log.text = "By the film " + interval_text(film, unit::deg_per_g) + ", by the phone " + interval_text(log.by_phone, unit::deg_per_g) +
             (log.agrees ? ": they agree within their doubts." : ": they disagree by more than their doubts allow. A phone that gives in its mount, or a point marked that is not on the body, would do that; neither is averaged away.") +
             " The film begins at " + interval_text(log.start, unit::s) + " of the log.";
}

base::Outcome<Measured> measure(const TestVideoRequest& request, std::size_t index, const Context& context, base::Footing& footing) {
  const base::InputFile& film = request.films[index];
  const MarksSheet& marks = index == 0 ? request.marks : *request.marks_after;
  const std::size_t count = request.films.size();
  // A progress of its own, which passes on its share of the whole and the wish to stop.
  base::Progress* own = nullptr;
  base::Progress part([&](double fraction, std::string_view doing) {
    context.progress.report((static_cast<double>(index) + fraction) / static_cast<double>(count), doing);
    if (context.progress.is_cancelled()) own->cancel();
  });
  own = &part;
  video::ShowGlimpse show;
  if (request.glimpses && context.outbox) {
    show = [&](const video::Glimpse& g) {
      char name[64];
      std::snprintf(name, sizeof name, "glimpse-%zu-%.2f-%d.jpg", index, g.time.si(), g.points);
      // Room for a glimpse is not worth an error: without it nothing is shown.
      (void)context.outbox(name, [&](const Write& write) -> base::Outcome<bool> { return write(g.jpeg); });
    };
  }
  auto roll = video::measure_roll(*film, marks.for_film(), marks.setting(), part, show);
  if (!roll) return base::fail(roll.error());
  Measured out;
  FilmRecord& r = out.record;
  r.name = film->name();
  r.quality = quality_of(roll->result);
  for (const auto& w : roll->warnings) r.flags.push_back({w.code, w.text, w.code == "camera_unknown" || w.code == "points_slid" || w.code == "stands_still"});
  r.zero_pm = base::Angle(base::kCoverage95 * roll->result.fit.zero_sd);
  const auto& poses = roll->result.fit.poses;
  for (std::size_t i = 0; i < poses.size(); ++i) {
    const auto& p = poses[i];
    FilmFrameRecord f;
    f.time = roll->result.time[i];
    f.roll = base::Interval<base::Angle>::from_sd(base::Angle(p.pose.roll), base::Angle(p.roll_sd));
    f.standard_error = base::Angle(p.roll_sd_relative);
    f.yaw = base::Angle(p.pose.yaw);
    f.along = base::Length(p.pose.x);
    f.left = base::Length(p.pose.y);
    f.car_width = static_cast<int>(std::lround(roll->result.frames[i].car_width));
    // A hundredth of a pixel is finer than anybody draws.
    const auto px = [](const video::Pixel& at) { return std::array<double, 2>{std::round(100 * at.x) / 100, std::round(100 * at.y) / 100}; };
    f.body_line = {px(p.body_left), px(p.body_right)};
    f.wheel_line = {px(p.wheel_left), px(p.wheel_right)};
    r.frames.push_back(f);
  }
  auto trace = video::trace_of(roll->result);
  const auto& logs = index == 0 ? request.logs : request.logs_after;
  if (!logs.empty()) {
    auto joined = with_log(logs, request, index, trace, r);
    if (!joined) return base::fail(base::prefixed(std::move(joined.error()), index == 0 ? "logs" : "logs_after"));
  }
  if (auto run = video::read_run(trace)) {
    if (r.log && run->gradient) compare_with_phone(*run->gradient, *r.log);
    r.is_by_log = run->has_true_lateral;
    r.mean_swing = run->mean_swing;
    r.cone_time = run->cone_time;
    r.roll_gradient = run->gradient;
    if (run->gradient) r.delay = run->delay;
    for (const auto& p : run->passages) r.cones.push_back({p.time, p.is_left, p.peak, p.swing, p.lateral});
    out.run = std::move(*run);
  } else {
    r.flags.push_back({run.error()[0].code, run.error()[0].message, false});
  }
  footing.append(*roll);
  return out;
}

}  // namespace

base::Outcome<base::Answer<TestVideoResult>> test_video(const TestVideoRequest& request, Context& context) {
  base::Problems problems;
  if (request.films.empty()) problems.push_back(base::input_problem("missing", "films", "No film was given.", "one film, or two: before and after"));
  if (request.films.size() > 2) problems.push_back(base::input_problem("too_many", "films", "More than two films were given.", "one film, or two: before and after"));
  if (request.films.size() == 2 && !request.marks_after) {
    problems.push_back(base::input_problem("missing", "marks_after", "The second film has no marks of its own.", "a second marks/1 document"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  base::Answer<TestVideoResult> answer;
  auto& result = answer.result;
  std::vector<Measured> films;
  for (std::size_t i = 0; i < request.films.size(); ++i) {
    auto one = measure(request, i, context, answer);
    if (!one) {
      base::Problems found = std::move(one.error());
      const std::string key = i == 0 ? "marks" : "marks_after";
      for (auto& p : found) {
        if (p.where.starts_with("logs")) continue;
      if (p.where.starts_with("marks.")) p.where = key + p.where.substr(5);
        else if (p.where.starts_with("marks")) p.where = key + "." + p.where;
        else if (p.where == "film") p.where = "films[" + std::to_string(i) + "]";
      }
      problems.insert(problems.end(), found.begin(), found.end());
      continue;
    }
    films.push_back(std::move(*one));
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  if (films.size() == 2 && films[0].run && films[1].run) {
    const auto c = video::compare_runs(*films[0].run, *films[1].run);
    FilmChangeRecord change;
    change.lean_ratio = c.ratio;
    change.change = {base::Ratio(c.ratio.value - 1.0), base::Ratio(c.ratio.low - 1.0), base::Ratio(c.ratio.high - 1.0)};
    change.as_driven = c.uncorrected;
    change.gradient_ratio = c.gradient_ratio;
    change.is_certain = c.is_significant;
    result.change = change;
    result.meaning = "At equal time from cone to cone the body " +
                     change_in_words(change.change, "leans less", "leans more", "leans the same as far as these films can tell") + ".";
  } else if (films.size() == 2) {
    result.meaning = "At least one of the films shows no swings that stand out, so they cannot be compared.";
  } else if (films[0].run) {
    result.meaning = "The body leans " + interval_text(films[0].run->mean_swing, unit::deg) + " to each side at the cones.";
    if (films[0].run->gradient) result.meaning += std::string(films[0].run->has_true_lateral ? " By the log's lateral acceleration" : " By its path") + " the steady lean is " + interval_text(*films[0].run->gradient, unit::deg_per_g) + ".";
  } else {
    result.meaning = "Lean was followed, but no swings stand out from the noise.";
  }
  for (auto& f : films) {
    if (f.record.log && !f.record.log->agrees && !f.record.log->text.empty()) answer.warn("film_and_phone_disagree", f.record.name + ": " + f.record.log->text, "logs");
    result.films.push_back(std::move(f.record));
  }
  return answer;
}

Operation test_video_operation() {
  return operation<&test_video>("test", "video", "How much does the car lean, by a film of it?")
      .helped("Reads any phone's film, follows the marked car against the marked frame and fits car, road and camera together; gives lean with its standard "
              "error in every frame, at each cone, and with two films the change at equal time from cone to cone. Needs marks (marks/1): the same corner of "
              "both rear lamps, better also both upper corners of the rear window, and where both rear tyres meet the road, on a frame where the car is near. "
              "Film from behind or in front on a tripod, with the car at least 300 pixels wide. A film whose car is too small, hidden or lost is refused. 'rollwright test film --out film' draws an invented film to try it with.")
      .shown_by("test video film/before.mp4 --marks film/before-marks.json")
      .takes_long();
}

}  // namespace rollwright::ops
