// Garage: the notebook file that a door works with. It is opened when the first operation needs it, so that questions
// without a notebook cost nothing and never fail because of one.
#pragma once

#include <memory>
#include <mutex>
#include <string>

#include "base/problem.h"
#include "notebook/notebook.h"
#include "ops/context.h"

namespace rollwright::ops {

class Garage {
 public:
  // `makes`: a missing file is made at the first need (the workbench, where everything typed is kept at once); otherwise
  // only 'notebook new' makes one.
  Garage(std::string path, bool makes) : path_(std::move(path)), makes_(makes) {}

  [[nodiscard]] const std::string& path() const { return path_; }
  // A connection of its own for each question, so that several threads may ask at once. The file is checked at the first.
  base::Outcome<std::unique_ptr<notebook::Notebook>> open(const std::string& now);
  base::Outcome<std::unique_ptr<notebook::Notebook>> make_new(const std::string& now);

 private:
  std::string path_;
  bool makes_;
  std::mutex mutex_;
  // Stays open while the door does: SQLite tidies up its write-ahead file when the last connection goes.
  std::unique_ptr<notebook::Notebook> keeper_;
};

// The notebook that the door lent, or a problem that says how to have one.
base::Outcome<std::unique_ptr<notebook::Notebook>> open_notebook(const Context& context);

// Keeps an answer with what was asked; returns its id. For doors, after any question.
base::Outcome<std::string> keep_result(const Context& context, const std::string& operation, std::string request_json, std::string answer_json);

}  // namespace rollwright::ops
