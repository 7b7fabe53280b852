#include "report/html.h"

#include "ops/bar_curve.h"
#include "ops/bar_rate.h"
#include "ops/demo.h"
#include "ops/fit_sheet.h"
#include "ops/verdict_make.h"
#include "report/bar_figures.h"
#include "report/job_sheet_page.h"
#include "report/page.h"
#include "report/svg.h"
#include "report/verdict_page.h"

namespace rollwright::report {
namespace {

using base::Field;
using base::Kind;
using base::Type;

class HtmlWriter {
 public:
  explicit HtmlWriter(UnitSystem units) : units_(units) {}

  void record(const Type& type, void* value, int level) {
    std::string rows;
    for (const auto& field : type.fields) {
      const std::string text = value_text(field.type(), &field, field.at(value), units_);
      if (text.empty() || text == "–") continue;
      if (field.key == "meaning") {
        out_ += "<p class=\"said\">" + escaped(text) + "</p>\n";
      } else {
        rows += "<tr><th>" + escaped(label(field)) + "</th><td>" + escaped(with_unit(field, text)) + "</td></tr>\n";
      }
    }
    if (!rows.empty()) out_ += "<table>" + rows + "</table>\n";
    for (const auto& field : type.fields) {
      if (!field.is_detail) inner(field, field.type(), field.at(value), level);
    }
  }

  std::string take() { return std::move(out_); }

 private:
  [[nodiscard]] std::string with_unit(const Field& field, const std::string& text) const {
    const auto* unit = shown_unit(&field, units_);
    return unit == nullptr || unit->symbol.empty() ? text : text + " " + std::string(unit->symbol);
  }

  void heading(const Field& field, int level) {
    const std::string tag = level <= 2 ? "h2" : "h3";
    std::string text = label(field);
    if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    out_ += "<" + tag + ">" + escaped(text) + "</" + tag + ">\n";
  }

  void inner(const Field& field, const Type& type, void* value, int level) {
    if (type.kind == Kind::optional) {
      if (type.has_value(value)) inner(field, type.element(), type.element_at(value, 0), level);
    } else if (type.kind == Kind::record) {
      heading(field, level);
      record(type, value, level + 1);
    } else if (type.kind == Kind::list && type.element().kind == Kind::record && type.size(value) > 0) {
      heading(field, level);
      table(type, value);
    }
  }

  void table(const Type& list, void* value) {
    out_ += "<table><thead><tr>";
    std::vector<const Field*> columns;
    for (const auto& field : list.element().fields) {
      if (value_text(field.type(), &field, field.at(list.element_at(value, 0)), units_).empty() && field.type().kind != Kind::text) continue;
      columns.push_back(&field);
      const auto* unit = shown_unit(&field, units_);
      out_ += std::string("<th") + (field.type().kind == Kind::text ? "" : " class=\"n\"") + ">" + escaped(label(field)) +
              (unit == nullptr || unit->symbol.empty() ? "" : " <small>" + escaped(std::string(unit->symbol)) + "</small>") + "</th>";
    }
    out_ += "</tr></thead><tbody>\n";
    for (std::size_t i = 0; i < list.size(value); ++i) {
      out_ += "<tr>";
      for (const auto* field : columns) {
        out_ += std::string("<td") + (field->type().kind == Kind::text ? "" : " class=\"n\"") + ">" +
                escaped(value_text(field->type(), field, field->at(list.element_at(value, i)), units_)) + "</td>";
      }
      out_ += "</tr>\n";
    }
    out_ += "</tbody></table>\n";
  }

  UnitSystem units_;
  std::string out_;
};

std::string footing_html(const base::Footing& footing) {
  std::string out;
  if (!footing.warnings.empty()) {
    std::string all;
    for (const auto& w : footing.warnings) all += w.text + " ";
    out += caution("Look at this", all);
  }
  if (!footing.assumptions.empty()) {
    out += "<h2>Assumed</h2><ul>";
    for (const auto& a : footing.assumptions) out += "<li>" + escaped(a) + "</li>";
    out += "</ul>\n";
  }
  if (!footing.sources.empty()) {
    out += "<p class=\"pencil\">Rests on:";
    for (const auto& s : footing.sources) out += " " + escaped(s) + ";";
    out.back() = '.';
    out += "</p>\n";
  }
  return out;
}

std::string figures_of(const ops::Operation& operation, const ops::ErasedAnswer& answer) {
  const auto figure = [](const char* title, const std::string& svg) { return svg.empty() ? std::string() : "<h2>" + std::string(title) + "</h2>\n" + svg; };
  if (operation.result == &base::type_of<ops::BarRateResult>()) {
    const auto& bar = *static_cast<const ops::BarRateResult*>(answer.result.get());
    return figure("The bar", bar_drawing(bar)) + figure("Rate against hole", bar_holes_figure(bar)) + figure("Stress along the bar", bar_stress_figure(bar));
  }
  if (operation.result == &base::type_of<ops::BarCurveResult>()) {
    return figure("Force against travel", bar_curve_figure(*static_cast<const ops::BarCurveResult*>(answer.result.get())));
  }
  return {};
}

// The verdict that an answer is or holds; nothing for other questions.
const ops::VerdictResult* verdict_of(const ops::Operation& operation, const ops::ErasedAnswer& answer) {
  if (operation.result == &base::type_of<ops::VerdictResult>()) return static_cast<const ops::VerdictResult*>(answer.result.get());
  if (operation.result == &base::type_of<ops::DemoResult>()) return &static_cast<const ops::DemoResult*>(answer.result.get())->verdict;
  return nullptr;
}

}  // namespace

std::string answer_html(const ops::Operation& operation, const ops::ErasedAnswer& answer, const HtmlOptions& options) {
  if (const auto* verdict = verdict_of(operation, answer)) {
    // One page: what it rests on can be opened, and is then printed as well.
    base::Footing rests = answer;
    rests.warnings.clear();
    base::Footing warns;
    warns.warnings = answer.warnings;
    return page(operation.question, verdict_body(*verdict) + footing_html(warns) + "<details><summary>All holes, what is assumed, and what this rests on</summary>\n" +
                                        verdict_evidence(*verdict) + footing_html(rests) + "</details>\n",
                options.build, Paper::one_page);
  }
  std::string body;
  if (operation.result == &base::type_of<ops::FitSheetResult>()) {
    body = job_sheet_body(*static_cast<const ops::FitSheetResult*>(answer.result.get()));
  } else {
    HtmlWriter writer(options.units);
    writer.record(*operation.result, const_cast<void*>(answer.result.get()), 2);
    body = "<h1>" + escaped(operation.question) + "</h1>\n" + figures_of(operation, answer) + writer.take();
  }
  base::Footing footing = answer;
  // The job sheet says its warnings at the top, before the work starts.
  if (operation.result == &base::type_of<ops::FitSheetResult>()) footing.warnings.clear();
  return page(operation.question, body + footing_html(footing), options.build);
}

}  // namespace rollwright::report
