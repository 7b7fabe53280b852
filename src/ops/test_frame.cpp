#include "ops/test_frame.h"

#include <cstdio>

#include "video/measure.h"

namespace rollwright::ops {

namespace unit = base::unit;

void TestFrameRequest::describe(base::RecordType<TestFrameRequest>& r) {
  r.field<&TestFrameRequest::film>("film", "The film.").required();
  r.field<&TestFrameRequest::times>("times", unit::s, "Times from the start of the film; its beginning when none is given. After the end: the last picture.").at_least(0);
  r.field<&TestFrameRequest::width>("width_px", "Pictures are not made wider than this.").between(32, 8192);
}

void FilmPictureRecord::describe(base::RecordType<FilmPictureRecord>& r) {
  r.about("One picture of the film.");
  r.field<&FilmPictureRecord::time>("time", unit::s, "Time stamp of the frame.");
  r.field<&FilmPictureRecord::width>("width_px", "As given.");
  r.field<&FilmPictureRecord::height>("height_px", "As given.");
  r.field<&FilmPictureRecord::file>("file", "Where the picture lies (JPEG).");
}

void TestFrameResult::describe(base::RecordType<TestFrameResult>& r) {
  r.field<&TestFrameResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&TestFrameResult::width>("width_px", "Upright picture of the film; marks count in its pixels.");
  r.field<&TestFrameResult::height>("height_px", "The same.");
  r.field<&TestFrameResult::rotation>("turned_deg", "By which the stored picture was turned to stand upright.");
  r.field<&TestFrameResult::coding>("coding", "Coding of the film.");
  r.field<&TestFrameResult::frame_rate>("frame_rate", unit::hz, "Mean frames a second, as the file says.");
  r.field<&TestFrameResult::duration>("duration", unit::s, "Length, as the file says.");
  r.field<&TestFrameResult::pictures>("pictures", "The pictures, in order of time.");
}

base::Outcome<base::Answer<TestFrameResult>> test_frame(const TestFrameRequest& request, Context& context) {
  constexpr std::size_t kMost = 600;  // pictures in one answer: half a minute at 20 a second
  if (request.times.size() > kMost) {
    return base::fail(base::input_problem("too_many", "times_s", "These are " + std::to_string(request.times.size()) + " pictures.", "at most 600 at once"));
  }
  if (!context.outbox) {
    return base::fail(base::Problem{base::ProblemKind::environment, "no_outbox", "", "There is no place here to write pictures to.", "", "Ask on the command line or in the workbench."});
  }
  base::Answer<TestFrameResult> answer;
  auto& result = answer.result;
  std::vector<base::Duration> times = request.times;
  if (times.empty()) times.emplace_back(0.0);
  const auto facts = video::pictures_of(*request.film, times, request.width, [&](const video::Picture& p) -> base::Outcome<bool> {
    char name[48];
    std::snprintf(name, sizeof name, "frame-%.3f-s.jpg", p.time.si());
    auto where = context.outbox(name, [&](const Write& write) -> base::Outcome<bool> { return write(p.jpeg); });
    if (!where) return base::fail(std::move(where.error()));
    result.pictures.push_back({p.time, p.width, p.height, std::move(*where)});
    return true;
  }, context.progress);
  if (!facts) return base::fail(facts.error());
  result.width = facts->width;
  result.height = facts->height;
  result.rotation = facts->rotation_deg;
  result.coding = facts->coding;
  result.frame_rate = base::Frequency(facts->nominal_frame_rate);
  result.duration = facts->duration;
  result.meaning = std::to_string(result.pictures.size()) + (result.pictures.size() == 1 ? " picture" : " pictures") + " of the film, upright. Mark one in which the car is near, sharp, and straight.";
  return answer;
}

Operation test_frame_operation() {
  return operation<&test_frame>("test", "frame", "What does the film show at a time?")
      .helped("Writes pictures of a film as JPEG, upright as a player shows them, so that they can be marked for 'test video' or kept. Reads what a browser may "
              "not (HEVC, ten bits). Pixels of marks count on the film's own size, not on a picture made smaller.")
      .shown_by("test frame film/before.mp4 --times-s 2.5 --out film")
      .takes_long();
}

}  // namespace rollwright::ops
