#include "ops/shared/film_measure.h"

#include <algorithm>
#include <cmath>

#include "ops/shared/sentences.h"
#include "ops/test_prove.h"
#include "ops/test_video.h"

namespace rollwright::ops {

namespace unit = base::unit;

base::Outcome<std::optional<MeasuredChange>> film_measure(const TestProveRequest& request, Context& context) {
  if (request.films.empty() && !request.film_marks && !request.film_marks_after) return std::optional<MeasuredChange>{};
  base::Problems problems;
  if (request.films.size() != 2) {
    problems.push_back(base::input_problem("missing", "films", "A change by film needs two films.", "the film before, then the film after"));
  }
  if (!request.film_marks) problems.push_back(base::input_problem("missing", "film_marks", "The film before has no marks.", "a marks/1 document"));
  if (!request.film_marks_after) problems.push_back(base::input_problem("missing", "film_marks_after", "The film after has no marks of its own.", "a second marks/1 document"));
  if (!problems.empty()) return base::fail(std::move(problems));

  TestVideoRequest question;
  question.films = request.films;
  question.marks = *request.film_marks;
  question.marks_after = request.film_marks_after;
  auto answer = test_video(question, context);
  if (!answer) {
    for (auto& p : answer.error()) {
      if (p.where.starts_with("marks")) p.where = "film_" + p.where;
    }
    return base::fail(std::move(answer.error()));
  }
  const auto& r = answer->result;
  MeasuredChange m;
  m.kind = "film";
  m.what = "lean at equal time from cone to cone";
  m.text = "By the films: " + r.meaning;
  m.runs_before = m.runs_after = 1;
  const auto words = [](const FilmRecord& film) { return film.mean_swing ? interval_text(*film.mean_swing, unit::deg) : std::string("no swings"); };
  m.value_before = words(r.films[0]);
  m.value_after = words(r.films[1]);
  if (r.change) {
    m.change = r.change->change;
    const double low = double(m.change->low), high = double(m.change->high), practical = double(request.practical_change);
    m.no_change_larger_than = std::max(std::abs(low), std::abs(high));
    if (r.change->is_certain) {
      m.answer = signal::ProofAnswer::changed;
      m.is_practical = std::abs(double(m.change->value)) >= practical;
    } else if (std::max(std::abs(low), std::abs(high)) < practical) {
      m.answer = signal::ProofAnswer::no_change;
    }
  }
  for (std::size_t i = 0; i < r.films.size(); ++i) {
    for (const auto& f : r.films[i].flags) m.flags.push_back({f.code, std::string(i == 0 ? "Film before: " : "Film after: ") + f.text, f.is_serious});
  }
  m.flags.push_back({"one_run_each", "One run of each was filmed: what the driver did otherwise in it is in the change.", false});
  return std::optional<MeasuredChange>(std::move(m));
}

std::string phone_beside_film(const base::Interval<base::Ratio>& phone, MeasuredChange& film) {
  if (film.kind != "film" || !film.change) return "";
  const auto& f = *film.change;
  // Half widths as doubts: a phone's interval is Student's and may lie askew.
  const double apart = std::abs(double(phone.value) - double(f.value));
  const double doubt = std::hypot(0.5 * (double(phone.high) - double(phone.low)), 0.5 * (double(f.high) - double(f.low)));
  std::string text = "Change of lean by the phone " + percent_text(phone) + ", by the films " + percent_text(f);
  if (apart <= doubt) return text + ": they agree within their doubts. Both stand as they are; nothing is averaged.";
  text += ": they disagree by more than their doubts allow. Both stand as they are; nothing is averaged. Was the phone's mount or place another, or were other runs filmed?";
  film.flags.push_back({"phone_and_film_disagree", text, true});
  return text;
}

}  // namespace rollwright::ops
