#include "ops/test_marks.h"

#include <algorithm>
#include <cmath>

#include "ops/shared/sentences.h"
#include "video/measure.h"

namespace rollwright::ops {

namespace unit = base::unit;

void TestMarksRequest::describe(base::RecordType<TestMarksRequest>& r) {
  r.field<&TestMarksRequest::film>("film", "The film.").required();
  r.field<&TestMarksRequest::marks>("marks", "Marks on one frame of it.").required();
}

void RefinedMarkRecord::describe(base::RecordType<RefinedMarkRecord>& r) {
  r.about("One mark, looked at.");
  r.field<&RefinedMarkRecord::name>("name", "Its name.");
  r.field<&RefinedMarkRecord::is_refined>("is_refined", "True when there is a clear corner or edge next to it.");
  r.field<&RefinedMarkRecord::moved>("moved_px", "How far that is from where it was put.");
}

void TestMarksResult::describe(base::RecordType<TestMarksResult>& r) {
  r.field<&TestMarksResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&TestMarksResult::zero_pm>("zero_pm", unit::deg, "Doubt of the zero of lean (95 %) that these marks leave.");
  r.field<&TestMarksResult::marks>("marks", "Each mark.");
  r.field<&TestMarksResult::sheet>("sheet", "The marks moved to their corners and edges, each with its own standard error: for 'test video'.").detail();
}

base::Outcome<base::Answer<TestMarksResult>> test_marks(const TestMarksRequest& request, Context&) {
  auto refined = video::refine_marks(*request.film, request.marks.for_film());
  if (!refined) {
    base::Problems found = std::move(refined.error());
    for (auto& p : found) {
      if (p.where.starts_with("marks.")) continue;
      if (p.where.starts_with("marks")) p.where = "marks." + p.where;
    }
    return base::fail(std::move(found));
  }
  base::Answer<TestMarksResult> answer;
  auto& r = answer.result;
  r.zero_pm = base::Angle(base::kCoverage95 * refined->zero_sd);
  r.sheet = request.marks;
  int count = 0;
  for (std::size_t i = 0; i < r.sheet.marks.size(); ++i) {
    auto& m = r.sheet.marks[i];
    m.px = {refined->marks.marks[i].at.x, refined->marks.marks[i].at.y};
    m.sd = refined->marks.marks[i].sd;
    r.marks.push_back({m.name, refined->is_refined[i], refined->moved[i]});
    count += refined->is_refined[i];
  }
  const double pm = unit::deg.of(r.zero_pm);
  r.meaning = std::to_string(count) + " of " + std::to_string(r.sheet.marks.size()) + " marks sit next to a clear corner or edge and can be moved there. They leave the zero of lean open to ±" +
              pm_text(pm, 0.1 * pm, "").substr(0, 4) + "°. The lean from side to side, lean per lateral g and a change do not need the zero.";
  answer.cite("ForstnerGulch1987");
  answer.assume("Where a tyre ends in its own shadow, both tyres of the axle do so alike.");
  return answer;
}

Operation test_marks_operation() {
  return operation<&test_marks>("test", "marks", "Are these marks good?")
      .helped("Looks at the marked frame: moves each mark of the body to the corner next to it and each tyre mark up or down to the lower edge of the tyre, "
              "to a fraction of a pixel, and says what the marks leave open of the zero. A finger on a phone is off by one or two pixels, which is 0.1 to 0.25° of zero. Compare "
              "each moved mark with the picture: the nearest corner may be the wrong one.")
      .shown_by("test marks film/before.mp4 film/before-marks.json");
}

}  // namespace rollwright::ops
