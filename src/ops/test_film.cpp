#include "ops/test_film.h"

#include "video/measure.h"
#include "wire/write.h"

namespace rollwright::ops {

namespace unit = base::unit;

void TestFilmRequest::describe(base::RecordType<TestFilmRequest>& r) {
  r.field<&TestFilmRequest::width>("width_px", "Width of the picture; 1920 is what a phone films.").between(640, 1920);
  r.field<&TestFilmRequest::seed>("seed", "Start of the random numbers: another day, another grain.").between(0, 1000000);
}

void TrialFilmRecord::describe(base::RecordType<TrialFilmRecord>& r) {
  r.about("One invented film.");
  r.field<&TrialFilmRecord::file>("file", "Where the film lies (MP4).");
  r.field<&TrialFilmRecord::marks_file>("marks_file", "Where its marks lie.");
  r.field<&TrialFilmRecord::marks>("marks", "The same marks, on its first frame.").detail();
  r.field<&TrialFilmRecord::largest_roll>("largest_roll", unit::deg, "The truth: greatest lean in it.");
}

void TestFilmResult::describe(base::RecordType<TestFilmResult>& r) {
  r.field<&TestFilmResult::meaning>("meaning", "What it is, in a sentence.");
  r.field<&TestFilmResult::before>("before", "The film before.");
  r.field<&TestFilmResult::after>("after", "The film after.");
  r.field<&TestFilmResult::change>("change", unit::percent, "The truth: change of lean at equal speed.");
}

namespace {

MarksSheet sheet_of(const video::TrialFilm& film) {
  MarksSheet sheet;
  sheet.time = film.marks.time;
  sheet.track = film.setting.track;
  sheet.click = film.marks.click_sd;
  for (const auto& m : film.marks.marks) {
    MarkSheet s;
    s.name = m.name;
    s.what = m.role;
    s.side = m.side;
    s.px = {m.at.x, m.at.y};
    sheet.marks.push_back(s);
  }
  return sheet;
}

}  // namespace

base::Outcome<base::Answer<TestFilmResult>> test_film(const TestFilmRequest& request, Context& context) {
  if (!context.outbox) {
    return base::fail(base::Problem{base::ProblemKind::environment, "no_outbox", "", "There is no place here to write the films to.", "", "Ask on the command line or in the workbench."});
  }
  // Invented: 5.4 and 4.1 deg/g, driven at 6.5 and 6.7 m/s.
  constexpr double kBefore = 5.4, kAfter = 4.1;
  base::Answer<TestFilmResult> answer;
  auto& result = answer.result;
  for (const bool is_after : {false, true}) {
    base::Progress* own = nullptr;
    base::Progress part([&](double fraction, std::string_view doing) {
      context.progress.report(0.5 * ((is_after ? 1.0 : 0.0) + fraction), doing);
      if (context.progress.is_cancelled()) own->cancel();
    });
    own = &part;
    const auto film = video::trial_film(unit::deg_per_g(is_after ? kAfter : kBefore), base::Speed(is_after ? 6.7 : 6.5), request.width,
                                        static_cast<std::uint64_t>(request.seed) * 2 + (is_after ? 1 : 0), part);
    if (!film) return base::fail(film.error());
    auto& record = is_after ? result.after : result.before;
    record.marks = sheet_of(*film);
    record.largest_roll = film->largest_roll;
    const std::string name = is_after ? "after" : "before";
    auto where = context.outbox(name + ".mp4", [&](const Write& write) -> base::Outcome<bool> { return write(film->mp4); });
    if (!where) return base::fail(std::move(where.error()));
    record.file = std::move(*where);
    const wire::Json json = wire::write_record(record.marks);
    where = context.outbox(name + "-marks.json", [&](const Write& write) -> base::Outcome<bool> { return write(json.dump(1) + "\n"); });
    if (!where) return base::fail(std::move(where.error()));
    record.marks_file = std::move(*where);
  }
  result.change = kAfter / kBefore - 1.0;
  result.meaning = "Two invented films of an invented car in a slalom, before and after a change, with marks as a careful person puts them. Nothing in them is real: they are drawn by the program.";
  return answer;
}

Operation test_film_operation() {
  return operation<&test_film>("test", "film", "Is there a film to try this with?")
      .helped("Draws two short films of an invented car in a slalom, before and after an invented change, and writes them with marks, so that 'test video' can be tried "
              "before anyone has driven. Takes the better part of a minute. Needs a video encoder on the machine.")
      .shown_by("test film --out film")
      .takes_long();
}

}  // namespace rollwright::ops
