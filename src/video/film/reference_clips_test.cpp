// Rendered clips with exact truth that lie beside the checkout (not part of the project), made by other hands with another
// renderer: 1080p, H.264 at low bit rates, tripod, yaw up to 25°, the car 700 to 240 px wide. A real film without truth lies
// there too. Marks are the truth's own pixels on one frame, so what is left is the program's.
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>

#include <gtest/gtest.h>

#include "base/units.h"
#include "video/film/film_files.h"
#include "video/measure.h"
#include "video/runs.h"

namespace rollwright::video {
namespace {

using rendered::kDeg;

std::string shared() {
  for (const char* up : {"/../shared/reference/", "/../../shared/reference/"}) {
    const std::string path = std::string(ROLLWRIGHT_SOURCE_DIR) + up;
    if (std::filesystem::exists(path)) return path;
  }
  return {};
}

// The numbers of the list after a key; nested lists are flattened.
std::vector<double> numbers_after(const std::string& text, const std::string& key) {
  std::vector<double> out;
  const auto at = text.find("\"" + key + "\":");
  if (at == std::string::npos) return out;
  std::size_t i = text.find('[', at);
  int depth = 0;
  for (; i < text.size(); ++i) {
    if (text[i] == '[') ++depth;
    else if (text[i] == ']') {
      if (--depth == 0) break;
    } else if (std::isdigit(static_cast<unsigned char>(text[i])) || text[i] == '-') {
      char* end = nullptr;
      out.push_back(std::strtod(text.c_str() + i, &end));
      i = static_cast<std::size_t>(end - text.c_str()) - 1;
    }
  }
  return out;
}

struct Clip {
  rendered::ExistingFile file;
  std::vector<double> time, roll, marks;
  explicit Clip(const std::string& name) : file(shared() + "video/" + name + ".mp4") {
    std::ifstream in(shared() + "video/" + name + ".truth.json");
    std::stringstream text;
    text << in.rdbuf();
    time = numbers_after(text.str(), "t_s");
    roll = numbers_after(text.str(), "body_roll_deg");
    marks = numbers_after(text.str(), "px");
  }
  [[nodiscard]] Marks marked(std::size_t frame) const {
    Marks m;
    m.frame = static_cast<int>(frame);
    const char* names[] = {"lamp left", "lamp right", "roof left", "roof right", "tyre left", "tyre right"};
    for (std::size_t i = 0; i < 6; ++i) {
      m.marks.push_back({names[i], i < 4 ? MarkRole::body : MarkRole::tyre_contact, i % 2 == 0 ? MarkSide::left : MarkSide::right,
                         {marks[16 * frame + 2 * i], marks[16 * frame + 2 * i + 1]}, {}});
    }
    return m;
  }
};

Setting setting() {
  Setting s;
  s.track = {base::Length(1.57), base::Length(0.005), base::Origin::measured};
  return s;
}

// Root mean square and mean of the error [deg]; also checks the time stamps.
std::pair<double, double> errors(const Clip& clip, const FilmRoll& roll, const char* what) {
  double sum = 0, square = 0;
  for (std::size_t i = 0; i < roll.time.size(); ++i) {
    const std::size_t f = roll.fit.poses[i].frame;
    EXPECT_NEAR(roll.time[i].si(), clip.time[f], 2e-5);  // the file rounds to 1/90000 s, the truth to a microsecond
    const double e = roll.fit.poses[i].pose.roll / kDeg - clip.roll[f];
    sum += e;
    square += e * e;
  }
  const double n = static_cast<double>(roll.time.size());
  std::printf("  %-28s frames %3.0f of %zu  rms %.3f  mean %+.3f deg  focal %.0f px\n", what, n, clip.time.size(), std::sqrt(square / n), sum / n, roll.fit.camera.focal);
  return {std::sqrt(square / n), sum / n};
}

#define CLIPS_OR_SAY                                  \
  if (shared().empty()) {                             \
    std::printf("not run: data not here\n");          \
    return;                                           \
  }

// 0.1° is the specification's bound at 300 px and more; these clips go down to 190 px from tyre to tyre.
TEST(ReferenceClips, clean_clip_is_within_a_tenth_of_a_degree_without_knowing_the_lens) {
  CLIPS_OR_SAY
  const Clip clip("s1_clean");
  const auto answer = measure_roll(clip.file, clip.marked(0), setting(), {});
  ASSERT_TRUE(answer);
  EXPECT_GT(answer->result.time.size(), 380U);
  EXPECT_LT(errors(clip, answer->result, "s1_clean").first, 0.1);
}

// 0.08° is the upper end of what fitting the pose recovers there with perfect marks in every frame; here one frame is marked.
TEST(ReferenceClips, known_focal_length_brings_the_clean_clip_to_what_perfect_marks_allow) {
  CLIPS_OR_SAY
  const Clip clip("s1_clean");
  Setting s = setting();
  s.focal_px = 9300;
  const auto answer = measure_roll(clip.file, clip.marked(0), s, {});
  ASSERT_TRUE(answer);
  EXPECT_LT(errors(clip, answer->result, "s1_clean, focal known").first, 0.08);
}

TEST(ReferenceClips, variable_frame_rate_and_dropped_frames_do_no_harm_and_the_change_is_found) {
  CLIPS_OR_SAY
  const Clip before("s2_before"), after("s2_after");
  const auto a = measure_roll(before.file, before.marked(0), setting(), {});
  const auto b = measure_roll(after.file, after.marked(0), setting(), {});
  ASSERT_TRUE(a && b);
  EXPECT_LT(errors(before, a->result, "s2_before").first, 0.1);
  EXPECT_LT(errors(after, b->result, "s2_after").first, 0.1);
  EXPECT_EQ(b->result.quality.dropped_frames, 2);
  EXPECT_EQ(a->result.quality.dropped_frames, 0);
  // The same reading of the true roll is the reference: the ratio of the films must be the ratio of the truths to 3 %.
  const auto film_a = read_run(trace_of(a->result)), film_b = read_run(trace_of(b->result));
  RollTrace true_a = trace_of(a->result), true_b = trace_of(b->result);
  for (std::size_t i = 0; i < true_a.roll.size(); ++i) true_a.roll[i] = before.roll[a->result.fit.poses[i].frame] * kDeg;
  for (std::size_t i = 0; i < true_b.roll.size(); ++i) true_b.roll[i] = after.roll[b->result.fit.poses[i].frame] * kDeg;
  const auto truth_a = read_run(true_a), truth_b = read_run(true_b);
  ASSERT_TRUE(film_a && film_b && truth_a && truth_b);
  const Comparison film = compare_runs(*film_a, *film_b), truth = compare_runs(*truth_a, *truth_b);
  std::printf("  lean after/before %.3f [%.3f, %.3f], by the truth's roll %.3f\n", film.ratio.value.si(), film.ratio.low.si(), film.ratio.high.si(), truth.ratio.value.si());
  EXPECT_NEAR(film.uncorrected.value.si(), truth.uncorrected.value.si(), 0.03);
  EXPECT_TRUE(film.is_significant);
  ASSERT_TRUE(film_a->gradient && film_b->gradient);
  const auto per_g = [](const video::Run& r) { return base::unit::deg_per_g.of(r.gradient->value); };
  std::printf("  gradient %.2f ± %.2f and %.2f ± %.2f deg/g (true 5.2 and 3.9)\n", per_g(*film_a), base::unit::deg_per_g.of(film_a->gradient->pm()),
              per_g(*film_b), base::unit::deg_per_g.of(film_b->gradient->pm()));
  // 10 %: the focal length is not given, and lateral acceleration goes with it.
  EXPECT_NEAR(per_g(*film_a), 5.2, 0.52);
  EXPECT_NEAR(per_g(*film_b), 3.9, 0.39);
  EXPECT_LT(film.ratio.low.si(), 3.9 / 5.2 * 1.06);  // gradients of the truth; 6 %: their natural frequencies differ
}

TEST(ReferenceClips, the_same_run_marked_on_two_frames_comes_out_equal) {
  CLIPS_OR_SAY
  const Clip clip("s2_before");
  const auto a = measure_roll(clip.file, clip.marked(0), setting(), {});
  const auto b = measure_roll(clip.file, clip.marked(50), setting(), {});
  ASSERT_TRUE(a && b);
  errors(clip, b->result, "s2_before marked at frame 50");
  const auto run_a = read_run(trace_of(a->result)), run_b = read_run(trace_of(b->result));
  ASSERT_TRUE(run_a && run_b);
  // 2 %: a tenth of what plain tracking invents.
  EXPECT_NEAR(compare_runs(*run_a, *run_b).uncorrected.value.si(), 1.0, 0.02);
}

// A moving camera in a following car, the car 100 px from tyre to tyre, 1.5 s: nothing can be measured.
TEST(ReferenceClips, real_film_from_a_moving_car_is_read_and_gives_no_certain_lean) {
  CLIPS_OR_SAY
  const rendered::ExistingFile film(shared() + "logs/rear-view-highway-video/test_video.mp4");
  Picture still;
  const auto facts = pictures_of(film, {base::Duration(0.5)}, 0, [&](const Picture& p) -> base::Outcome<bool> { still = p; return true; }, {});
  ASSERT_TRUE(facts);
  EXPECT_EQ(facts->width, 1280);
  EXPECT_NEAR(still.time.si(), 0.50, 0.021);  // 25 frames/s: the nearest is 0.48 or 0.52
  Marks m;
  m.time = base::Duration(0.0);
  m.click_sd = 1.5;  // by eye on a small car
  m.marks = {{"lamp left", MarkRole::body, MarkSide::left, {1119.2, 450.8}, {}}, {"lamp right", MarkRole::body, MarkSide::right, {1170, 450}, {}},
             {"window left", MarkRole::body, MarkSide::left, {1095, 427.5}, {}}, {"window right", MarkRole::body, MarkSide::right, {1165.8, 427.5}, {}},
             {"tyre left", MarkRole::tyre_contact, MarkSide::left, {1070, 496.5}, {}}, {"tyre right", MarkRole::tyre_contact, MarkSide::right, {1164, 498}, {}}};
  const auto answer = measure_roll(film, m, {}, {});
  if (!answer) {
    std::printf("  refused: %s\n", answer.error()[0].message.c_str());
    EXPECT_EQ(answer.error()[0].kind, base::ProblemKind::no_answer);
    return;
  }
  std::size_t holds_zero = 0;
  for (const auto& p : answer->result.fit.poses) holds_zero += std::abs(p.pose.roll) < 2.5 * p.roll_sd;
  std::printf("  %zu frames, %zu hold zero within 2.5 standard errors, mean sd %.2f deg\n", answer->result.fit.poses.size(), holds_zero,
              answer->result.fit.poses[0].roll_sd / kDeg);
  EXPECT_GT(static_cast<double>(holds_zero), 0.9 * static_cast<double>(answer->result.fit.poses.size()));
}

}  // namespace
}  // namespace rollwright::video
