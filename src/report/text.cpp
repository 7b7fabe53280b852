#include "report/text.h"

#include <algorithm>
#include <sstream>
#include <vector>

namespace rollwright::report {
namespace {

using base::Field;
using base::Kind;
using base::Type;

bool is_line(const Type& type) {
  switch (type.kind) {
    case Kind::record:
    case Kind::file: return false;
    case Kind::list: return type.element().kind == Kind::text || type.element().kind == Kind::choice;
    case Kind::tuple: return type.element().kind == Kind::number;
    case Kind::optional: return is_line(type.element());
    default: return true;
  }
}

// Several texts of more than a word each; keys and file names stay on one line.
bool has_sentences(const Type& type, void* value) {
  if (type.kind != Kind::list || type.element().kind != Kind::text || type.size(value) < 2) return false;
  for (std::size_t i = 0; i < type.size(value); ++i) {
    if (value_text(type.element(), nullptr, type.element_at(value, i), UnitSystem::metric).find(' ') != std::string::npos) return true;
  }
  return false;
}

std::string padded(const std::string& text, std::size_t width, bool to_the_right) {
  const std::size_t shown = shown_width(text);
  const std::string space(width > shown ? width - shown : 0, ' ');
  return to_the_right ? space + text : text + space;
}

void trim_end(std::string& line) { line.erase(line.find_last_not_of(' ') + 1); }

class TextWriter {
 public:
  explicit TextWriter(const TextOptions& options) : options_(options) {}

  void record(const Type& type, void* value, std::size_t indent) {
    lines(type, value, indent);
    for (const auto& field : type.fields) {
      if (!field.is_detail) inner(field, field.type(), field.at(value), indent);
    }
  }

  std::string take() { return std::move(out_); }
  void paragraph(const std::string& text) { out_ += wrapped(text, options_.width) + "\n"; }
  void paragraph(const std::string& mark, const std::string& text) {
    out_ += mark + wrapped(text, options_.width - mark.size(), shown_width(mark)) + "\n";
  }
  void gap() {
    if (!out_.empty() && out_.size() >= 2 && out_.substr(out_.size() - 2) != "\n\n") out_ += "\n";
  }

 private:
  void lines(const Type& type, void* value, std::size_t indent) {
    std::size_t widest = 0;
    for (const auto& field : type.fields) {
      if (is_line(field.type()) && field.key != "meaning" && !field.is_detail) widest = std::max(widest, shown_width(label(field)));
    }
    for (const auto& field : type.fields) {
      if (!is_line(field.type()) || field.is_detail) continue;
      const std::string text = value_text(field.type(), &field, field.at(value), options_.units);
      if (field.key == "meaning") {
        if (!text.empty()) out_ += std::string(indent, ' ') + wrapped(text, options_.width - indent, indent) + "\n\n";
        continue;
      }
      if (text.empty() || text == "–") continue;
      if (has_sentences(field.type(), field.at(value))) {
        items(field.type(), field.at(value), label(field), widest + 2, indent);
        continue;
      }
      const auto* unit = shown_unit(&field, options_.units);
      const std::string whole = text + (unit == nullptr || unit->symbol.empty() ? "" : " " + std::string(unit->symbol));
      out_ += std::string(indent, ' ') + padded(label(field), widest + 2, false) +
              wrapped(whole, options_.width - indent - widest - 2, indent + widest + 2) + "\n";
    }
  }

  // A list of texts: one a line, each with its mark, so that steps and cautions stay apart.
  void items(const Type& list, void* value, const std::string& name, std::size_t at, std::size_t indent) {
    const std::size_t column = indent + at;
    for (std::size_t i = 0; i < list.size(value); ++i) {
      const std::string text = value_text(list.element(), nullptr, list.element_at(value, i), options_.units);
      out_ += std::string(indent, ' ') + padded(i == 0 ? name : "", at, false) + "- " + wrapped(text, options_.width - column - 2, column + 2) + "\n";
    }
  }

  void inner(const Field& field, const Type& type, void* value, std::size_t indent) {
    if (is_line(type)) return;
    if (type.kind == Kind::optional) {
      if (type.has_value(value)) inner(field, type.element(), type.element_at(value, 0), indent);
      return;
    }
    if (type.kind == Kind::record) {
      heading(label(field), indent);
      record(type, value, indent + 2);
    } else if (type.kind == Kind::list && type.element().kind == Kind::record && type.size(value) > 0) {
      heading(label(field), indent);
      table(type, value, indent + 2);
    }
  }

  void heading(const std::string& text, std::size_t indent) {
    gap();
    out_ += std::string(indent, ' ') + text + "\n";
  }

  struct Column {
    const Field* field;
    std::vector<std::string> cells;
    bool is_number;
  };

  // Parts of the row's name in columns of their own: good for a program, noise on paper.
  static bool repeats_the_name(const std::vector<Column>& columns, const Column& column) {
    if (columns.empty() || column.is_number || columns.front().is_number) return false;
    for (std::size_t i = 0; i < column.cells.size(); ++i) {
      if (column.cells[i] != "–" && columns.front().cells[i].find(column.cells[i]) == std::string::npos) return false;
    }
    return true;
  }

  // A list of records as a table. Too wide for the terminal, it is turned: a line for each quantity, a column for each
  // record. Sentences and what is nested stands below.
  void table(const Type& list, void* value, std::size_t indent) {
    const Type& row_type = list.element();
    const std::size_t rows = list.size(value);
    std::vector<Column> columns;
    std::vector<const Field*> sentences;
    for (const auto& field : row_type.fields) {
      if (!is_line(field.type())) continue;
      if (field.type().kind == Kind::list) {
        sentences.push_back(&field);
        continue;
      }
      Column column{&field, {}, field.type().kind != Kind::text};
      std::size_t longest = 0;
      bool is_empty = true;
      for (std::size_t i = 0; i < rows; ++i) {
        column.cells.push_back(value_text(field.type(), &field, field.at(list.element_at(value, i)), options_.units));
        longest = std::max(longest, shown_width(column.cells.back()));
        is_empty = is_empty && (column.cells.back().empty() || column.cells.back() == "–");
      }
      if (is_empty || repeats_the_name(columns, column)) continue;
      const bool names_the_row = columns.empty() && field.type().kind == Kind::text && longest <= 70;
      if (longest > 48 && !names_the_row) {
        sentences.push_back(&field);
      } else {
        columns.push_back(std::move(column));
      }
    }
    auto as_rows = upright(columns, rows, indent), as_columns = turned(columns, rows, indent);
    const std::size_t bearable = options_.width + 28;  // a little over the edge reads better than a table torn apart
    if (widest(as_rows) <= options_.width + 2 || (widest(as_rows) <= bearable && widest(as_rows) <= widest(as_columns))) {
      print(as_rows);
    } else if (rows <= 8 && widest(as_columns) <= bearable) {
      print(as_columns);
    } else {
      in_parts(columns, rows, indent);
    }
    for (const auto* field : sentences) {
      for (std::size_t i = 0; i < rows; ++i) {
        const std::string name = columns.empty() ? std::to_string(i + 1) : columns.front().cells[i];
        sentences_of(*field, field->at(list.element_at(value, i)), name, indent);
      }
    }
    for (const auto& field : row_type.fields) {
      if (field.type().kind == Kind::record && rows <= 8 && !columns.empty()) nested(field, list, value, columns.front(), indent);
    }
  }

  void sentences_of(const Field& field, void* value, const std::string& name, std::size_t indent) {
    const auto line = [&](const std::string& text) {
      if (!text.empty() && text != "–") out_ += std::string(indent, ' ') + "- " + wrapped(name + ": " + text, options_.width - indent - 2, indent + 2) + "\n";
    };
    if (field.type().kind != Kind::list) return line(value_text(field.type(), &field, value, options_.units));
    for (std::size_t i = 0; i < field.type().size(value); ++i) {
      line(value_text(field.type().element(), &field, field.type().element_at(value, i), options_.units));
    }
  }

  // A record inside every row: a table of its own under the same names. Lists inside rows are long; they are for --json
  // and the page.
  void nested(const Field& field, const Type& list, void* value, const Column& names, std::size_t indent) {
    const std::size_t rows = list.size(value);
    std::vector<Column> columns{names};
    for (const auto& inner : field.type().fields) {
      if (!is_line(inner.type())) continue;
      Column column{&inner, {}, true};
      for (std::size_t i = 0; i < rows; ++i) {
        column.cells.push_back(value_text(inner.type(), &inner, inner.at(field.at(list.element_at(value, i))), options_.units));
      }
      columns.push_back(std::move(column));
    }
    heading(label(field), indent);
    auto lines_of_table = turned(columns, rows, indent);
    print(lines_of_table);
  }

  [[nodiscard]] std::vector<std::string> upright(const std::vector<Column>& columns, std::size_t rows, std::size_t indent) const {
    std::vector<std::string> out(rows + 2, std::string(indent, ' '));
    for (const auto& column : columns) {
      const auto* unit = shown_unit(column.field, options_.units);
      std::vector<std::string> cells{label(*column.field), unit == nullptr ? "" : std::string(unit->symbol)};
      cells.insert(cells.end(), column.cells.begin(), column.cells.end());
      append_column(out, cells, column.is_number);
    }
    return out;
  }

  [[nodiscard]] std::vector<std::string> turned(const std::vector<Column>& columns, std::size_t rows, std::size_t indent) const {
    std::vector<std::string> out(columns.size(), std::string(indent, ' '));
    std::vector<std::string> names, units;
    for (const auto& column : columns) {
      const auto* unit = shown_unit(column.field, options_.units);
      names.push_back(label(*column.field));
      units.push_back(unit == nullptr ? "" : std::string(unit->symbol));
    }
    if (!names.empty() && !columns.front().is_number) names.front().clear();  // the first column names the records
    append_column(out, names, false);
    for (std::size_t i = 0; i < rows; ++i) {
      std::vector<std::string> cells;
      for (const auto& column : columns) cells.push_back(column.cells[i]);
      append_column(out, cells, true);
    }
    append_column(out, units, false);
    return out;
  }

  // Many rows and many columns: as many columns at a time as fit, each part under the first column again.
  void in_parts(const std::vector<Column>& columns, std::size_t rows, std::size_t indent) {
    for (std::size_t next = 1; next < columns.size();) {
      std::vector<Column> part{columns.front(), columns[next++]};
      while (next < columns.size()) {
        part.push_back(columns[next]);
        if (widest(upright(part, rows, indent)) > options_.width + 2) {
          part.pop_back();
          break;
        }
        ++next;
      }
      auto lines_of_part = upright(part, rows, indent);
      print(lines_of_part);
      if (next < columns.size()) out_ += "\n";
    }
  }

  static std::size_t widest(const std::vector<std::string>& lines) {
    std::size_t width = 0;
    for (const auto& line : lines) width = std::max(width, shown_width(line));
    return width;
  }

  static void append_column(std::vector<std::string>& out, const std::vector<std::string>& cells, bool to_the_right) {
    std::size_t width = 0;
    for (const auto& cell : cells) width = std::max(width, shown_width(cell));
    for (std::size_t i = 0; i < cells.size(); ++i) out[i] += padded(cells[i], width, to_the_right) + "  ";
  }

  void print(std::vector<std::string>& lines) {
    for (auto& line : lines) {
      trim_end(line);
      if (!line.empty()) out_ += line + "\n";
    }
  }

  const TextOptions& options_;
  std::string out_;
};

}  // namespace

std::string wrapped(const std::string& text, std::size_t width, std::size_t indent) {
  std::istringstream words(text);
  std::string out, word;
  std::size_t column = 0;
  while (words >> word) {
    const std::size_t length = shown_width(word);
    if (column > 0 && column + 1 + length > std::max<std::size_t>(width, 20)) {
      out += "\n" + std::string(indent, ' ');
      column = 0;
    } else if (column > 0) {
      out += " ";
      ++column;
    }
    out += word;
    column += length;
  }
  return out;
}

std::string answer_text(const ops::Operation& operation, const ops::ErasedAnswer& answer, const TextOptions& options) {
  TextWriter writer(options);
  writer.record(*operation.result, const_cast<void*>(answer.result.get()), 0);
  if (!answer.warnings.empty()) {
    writer.gap();
    writer.paragraph("Look at this:");
    for (const auto& warning : answer.warnings) writer.paragraph("  ! ", warning.text + " [" + warning.code + "]");
  }
  if (!answer.assumptions.empty()) {
    writer.gap();
    writer.paragraph("Assumed:");
    for (const auto& assumption : answer.assumptions) writer.paragraph("  - ", assumption);
  }
  if (!answer.sources.empty()) {
    writer.gap();
    std::string keys;
    for (const auto& key : answer.sources) keys += (keys.empty() ? "" : ", ") + key;
    writer.paragraph("Rests on: ", keys);
  }
  return writer.take();
}

std::string problems_text(const base::Problems& problems, const TextOptions& options) {
  std::string out;
  for (const auto& p : problems) {
    std::string line = (p.where.empty() ? "" : p.where + ": ") + p.message;
    if (!p.allowed.empty()) line += " Allowed: " + p.allowed + ".";
    if (!p.hint.empty()) line += " " + p.hint;
    out += "  " + wrapped(line, options.width - 2, 4) + "\n";
  }
  return out;
}

}  // namespace rollwright::report
