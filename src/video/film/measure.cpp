#include "video/measure.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

#include "video/film/film.h"
#include "video/film/follow.h"
#include "video/film/png.h"

namespace rollwright::video {
namespace {

// Below this the marks and patches hold too few pixels for a tenth of a degree (tried on rendered film): told.
constexpr double kSmallWidth = 110.0;   // [px] tyre to tyre
// Below this a frame is not used at all.
constexpr double kLeastWidth = 45.0;
constexpr double kLargeYaw = 35.0 * std::numbers::pi / 180.0;
constexpr double kLargestYaw = 55.0 * std::numbers::pi / 180.0;
// A roll that is not known to this is no answer.
constexpr double kWorstRollSd = 0.7 * std::numbers::pi / 180.0;

std::string number(double v, int decimals) {
  char text[32];
  std::snprintf(text, sizeof text, "%.*f", decimals, v);
  return text;
}

double yaw_off_view(double yaw) {
  const double y = std::abs(std::remainder(yaw, 2 * std::numbers::pi));
  return std::min(y, std::numbers::pi - y);
}

// Whether the camera moved, and what to do about it.
void settle_background(Tracks& tracks, bool has_texture, Quality& quality, base::Footing& footing) {
  double largest = 0, step2 = 0;
  std::size_t known = 0, steps = 0;
  for (std::size_t i = 0; i < tracks.frames.size(); ++i) {
    const auto& b = tracks.frames[i].background;
    if (!b.is_known) continue;
    ++known;
    // A turn counts by what it does at the edge of the picture.
    largest = std::max(largest, std::hypot(b.dx, b.dy) + std::abs(b.turn) * 0.3 * tracks.width);
    if (i > 0 && tracks.frames[i - 1].background.is_known) {
      const auto& a = tracks.frames[i - 1].background;
      step2 += std::pow(b.dx - a.dx, 2) + std::pow(b.dy - a.dy, 2);
      ++steps;
    }
  }
  quality.camera_shake = steps > 0 ? std::sqrt(step2 / static_cast<double>(steps)) : 0.0;
  const double share = tracks.frames.empty() ? 0.0 : static_cast<double>(known) / static_cast<double>(tracks.frames.size());
  quality.camera_is_known = has_texture && share > 0.5;
  if (!quality.camera_is_known) {
    for (auto& f : tracks.frames) f.background = {};
    if (has_texture) {
      footing.warn("camera_unknown",
                   "The surroundings do not move as the picture of a camera that only turns: it was carried, it zoomed, or most of "
                   "the picture moves. The camera's own motion cannot be taken out; roll is given as if it stood still.",
                   "film");
    } else {
      footing.warn("camera_unknown",
                   "There is nothing around the car to tell whether the camera moved; it is taken to have stood still.", "film");
    }
    return;
  }
  quality.camera_moved = largest > 0.8;
  if (!quality.camera_moved) {
    // What is left is the patches' own noise; applying it would only add to the result's.
    for (auto& f : tracks.frames) f.background = {};
    footing.assume("The camera stood still: its surroundings moved by less than a pixel.");
    return;
  }
  // Frames whose camera is not known say nothing about roll.
  for (auto& f : tracks.frames) {
    if (f.background.is_known) continue;
    f.is_lost = true;
    f.sightings.clear();
  }
  footing.warn("camera_moved",
               "The camera moved (up to " + number(largest, 0) + " px). Its turns were taken out by the surroundings; a tripod is better.",
               "film");
  if (quality.camera_shake > 3.0) {
    footing.warn("shake", "The picture shakes by " + number(quality.camera_shake, 1) + " px from frame to frame.", "film");
  }
}

}  // namespace

base::Outcome<base::Answer<FilmRoll>> measure_roll(const base::ByteSource& source, const Marks& marks, const Setting& setting,
                                                   const base::Progress& progress, const ShowGlimpse& show) {
  auto opened = Film::open(source);
  if (!opened) return base::fail(opened.error());
  Film& film = **opened;
  // Early, so that nobody waits for a long film to hear of a mark in the wrong place.
  const base::Problems wrong = check_marks(marks, film.facts().width, film.facts().height);
  if (!wrong.empty()) return base::fail(wrong);
  auto followed = follow_car(film, marks, progress, show);
  if (!followed) return base::fail(followed.error());
  Tracks& tracks = followed->tracks;

  base::Answer<FilmRoll> answer;
  FilmRoll& out = answer.result;
  out.facts = film.facts();
  Quality& q = out.quality;
  q.frames = followed->frames;
  q.dropped_frames = tracks.dropped_frames;
  q.damaged_frames = tracks.damaged_frames;
  settle_background(tracks, followed->background_has_texture, q, answer);

  std::int64_t small = 0;
  for (auto& f : tracks.frames) {
    if (f.is_lost || f.car_width >= kLeastWidth) continue;
    f.is_lost = true;
    f.sightings.clear();
    ++small;
  }
  const auto seen = static_cast<std::int64_t>(std::count_if(tracks.frames.begin(), tracks.frames.end(), [](const FrameTrack& f) { return !f.is_lost; }));
  if (seen < 10 && small > seen) {
    return base::fail(base::no_answer("car_too_small", source.name(), "The car is too small in this film: less than " +
                                      number(kLeastWidth, 0) + " px from tyre to tyre.", "better 300 px or more",
                                      "Film from nearer or with a longer lens, at 1080p."));
  }
  auto fit = fit_poses(tracks, marks, setting);
  if (!fit) return base::fail(fit.error());
  progress.report(0.98, "working out the roll");

  // Frames that cannot be relied on are left out, not smoothed over.
  std::vector<FramePose> kept;
  double turn_noise = 0;
  for (FramePose p : fit->poses) {
    const auto& f = tracks.frames[p.frame];
    const double yaw = yaw_off_view(p.pose.yaw);
    if (yaw > kLargestYaw) continue;
    p.roll_sd = std::hypot(p.roll_sd, f.background.turn_sd);
    p.roll_sd_relative = std::hypot(p.roll_sd_relative, f.background.turn_sd);
    turn_noise = std::max(turn_noise, f.background.turn_sd);
    kept.push_back(p);
  }
  fit->poses = std::move(kept);
  if (fit->poses.size() < 10) {
    return base::fail(base::no_answer("yaw_too_large", source.name(), "The car is seen from the side in nearly all frames.",
                                      "within 55° of the view from behind or in front", "Stand in line with the cones."));
  }
  std::vector<double> sds;
  for (const auto& p : fit->poses) sds.push_back(p.roll_sd_relative);
  std::nth_element(sds.begin(), sds.begin() + static_cast<std::ptrdiff_t>(sds.size() / 2), sds.end());
  const double typical_sd = sds[sds.size() / 2];
  if (typical_sd > kWorstRollSd) {
    return base::fail(base::no_answer("cannot_tell", source.name(), "Roll cannot be told from this film: its standard error would be " +
                                      number(typical_sd * 180 / std::numbers::pi, 1) + "°.", "at most 0.7°",
                                      "Nearer, sharper, more body marks, and the focal length of the camera if you know it."));
  }
  if (fit->noise > 4.0) {
    return base::fail(base::no_answer("not_one_body", source.name(), "The marked points do not move as one stiff body.", {},
                                      "Check that each mark sits on the body, on something that is painted or built there and not a reflection."));
  }
  if (!q.camera_is_known && fit->noise > 2.5) {
    return base::fail(base::no_answer("camera_unknown", source.name(), "The camera moved in a way that cannot be taken out.", {},
                                      "Use a tripod."));
  }

  // Quality, in the person's words.
  q.frames_followed = static_cast<std::int64_t>(fit->poses.size());
  q.smallest_width = 1e9;
  std::int64_t blurred = 0, clipped = 0;
  double darkest = 1e9, brightest = 0;
  for (const auto& p : fit->poses) {
    const auto& f = tracks.frames[p.frame];
    q.smallest_width = std::min(q.smallest_width, f.car_width);
    q.largest_width = std::max(q.largest_width, f.car_width);
    q.largest_yaw = base::Angle(std::max(q.largest_yaw.si(), yaw_off_view(p.pose.yaw)));
    blurred += f.sharpness < 0.6;
    clipped += f.clipped > 0.35;
    darkest = std::min(darkest, f.brightness);
    brightest = std::max(brightest, f.brightness);
  }
  const double count = static_cast<double>(fit->poses.size());
  double low_x = 1e9, high_x = -1e9, low_y = 1e9, high_y = -1e9;
  for (const auto& p : fit->poses) {
    low_x = std::min(low_x, p.pose.x);
    high_x = std::max(high_x, p.pose.x);
    low_y = std::min(low_y, p.pose.y);
    high_y = std::max(high_y, p.pose.y);
  }
  if (high_x - low_x < 0.5 && high_y - low_y < 0.2) {
    answer.warn("stands_still", "What is marked does not drive: it moves by less than half a metre in the whole film. Are the marks on the car?", "marks");
  }
  if (q.smallest_width < kSmallWidth) {
    answer.warn("too_small", "The car is only " + number(q.smallest_width, 0) + " px wide (tyre to tyre) at its farthest; the standard error grows there.", "film");
  }
  if (q.largest_yaw.si() > kLargeYaw) {
    answer.warn("yaw_large", "The car turns up to " + number(q.largest_yaw.si() * 180 / std::numbers::pi, 0) + "° off the line of view; roll and pitch mix there.", "film");
  }
  if (static_cast<double>(blurred) > 0.1 * count) {
    answer.warn("blur", "The car is blurred against the marked frame in " + number(100.0 * static_cast<double>(blurred) / count, 0) + " % of the frames.", "film");
  }
  if (static_cast<double>(clipped) > 0.1 * count || brightest - darkest > 90.0) {
    answer.warn("exposure", "The exposure is at its stop or jumps; lock it on the phone before the run.", "film");
  }
  if (fit->points_left_out > static_cast<int>(tracks.points.size()) / 4) {
    answer.warn("points_slid", std::to_string(fit->points_left_out) + " of " + std::to_string(tracks.points.size()) +
                " points did not move with the body (reflections, edges) and were left out.", "film");
  }
  if (q.dropped_frames > 0) {
    answer.warn("dropped_frames", std::to_string(q.dropped_frames) + " frames are missing; the time stamps were kept, so nothing shifts.", "film");
  }
  if (film.facts().is_cut_short) answer.warn("cut_short", "The film ends before its index says; what is there was used.", "film");
  if (q.damaged_frames > 0) answer.warn("damaged_frames", std::to_string(q.damaged_frames) + " frames are damaged.", "film");
  if (!film.facts().has_time_stamps) answer.warn("no_time_stamps", "The film has no time stamps; an even frame rate is taken.", "film");
  if (static_cast<double>(tracks.frames.size()) - count > 0.3 * static_cast<double>(tracks.frames.size())) {
    answer.warn("hidden", "The car could be followed in " + number(100.0 * count / static_cast<double>(tracks.frames.size()), 0) +
                " % of the frames; the others give no roll.", "film");
  }
  if (fit->camera.focal < 0.9 * std::max(tracks.width, tracks.height) && !setting.k1) {
    answer.warn("wide_lens", "The lens is wide and its distortion is not known; keep the car in the middle third of the picture.", "setting.k1");
  }
  if (fit->road_bank) {
    const double bank = fit->road_bank->angle * 180 / std::numbers::pi, pm = 1.96 * fit->road_bank->sd * 180 / std::numbers::pi;
    const std::string text = "By the level thing the road slopes across by " + number(std::abs(bank), 1) + " ± " + number(pm, 1) + "°, its " +
                             (bank > 0 ? "left" : "right") + " side higher.";
    if (std::abs(bank) > 1.0 && std::abs(bank) > pm) {
      answer.warn("road_banked", text + " Lean is given against the road; on a slope the two sides of a slalom load the car differently. Take a level place.", "film");
    } else {
      answer.assume(text);
    }
  }
  answer.assume("The road is flat where the car drives; body and marks are stiff.");
  answer.assume("Zero roll is where the marked left–right pairs lie parallel to the line of the tyre marks; it is known to ±" +
                number(1.96 * fit->zero_sd * 180 / std::numbers::pi, 2) +
                "°, the same for the whole film. Swings, lean per lateral g and a change before and after do not need the zero.");
  answer.cite("Triggs2000");
  answer.cite("BakerMatthews2004");

  for (const auto& p : fit->poses) {
    out.time.emplace_back(tracks.frames[p.frame].time);
    out.frames.push_back(tracks.frames[p.frame]);
  }
  out.points = tracks.points;
  out.fit = std::move(*fit);
  return answer;
}

base::Outcome<Still> still_picture(const base::ByteSource& source, base::Duration time) {
  auto opened = Film::open(source);
  if (!opened) return base::fail(opened.error());
  Film& film = **opened;
  Frame frame;
  cv::Mat kept;
  double at = 0;
  // The first frame sets the zero of time; only then is a jump measured from it.
  if (time.si() > 1.0 && film.next(frame)) film.jump_before(time.si() - 0.5);
  while (film.next(frame)) {
    if (!kept.empty() && std::abs(frame.time - time.si()) > std::abs(at - time.si())) break;
    // Only pictures that may be the nearest are copied.
    if (kept.empty() || frame.time > time.si() - 0.2) kept = frame.grey.clone();
    at = frame.time;
  }
  if (kept.empty()) {
    return base::fail(base::input_problem("no_frames", source.name(), "There is not one whole picture in this film."));
  }
  Still out;
  out.facts = film.facts();
  out.time = base::Duration(at);
  out.png = grey_png(kept.data, kept.cols, kept.rows, kept.step);
  return out;
}

bool has_video() { return true; }

}  // namespace rollwright::video
