#include "ops/shared/garage.h"

namespace rollwright::ops {

base::Outcome<std::unique_ptr<notebook::Notebook>> Garage::open(const std::string& now) {
  const std::lock_guard lock(mutex_);
  notebook::OpenOptions options;
  options.make = makes_ ? notebook::Make::when_missing : notebook::Make::never;
  options.now = now;
  if (keeper_ == nullptr) {
    auto first = notebook::Notebook::open(path_, options);
    if (!first) return first;
    keeper_ = std::move(*first);
  }
  options.check = false;
  return notebook::Notebook::open(path_, options);
}

base::Outcome<std::unique_ptr<notebook::Notebook>> Garage::make_new(const std::string& now) {
  notebook::OpenOptions options;
  options.make = notebook::Make::must_be_new;
  options.now = now;
  return notebook::Notebook::open(path_, options);
}

base::Outcome<std::unique_ptr<notebook::Notebook>> open_notebook(const Context& context) {
  if (context.garage == nullptr) {
    return base::fail(base::Problem{base::ProblemKind::environment, "no_notebook", "", "No notebook is in use here.", "", "Name one with --notebook FILE; 'rollwright notebook new' makes one."});
  }
  return context.garage->open(context.now);
}

base::Outcome<std::string> keep_result(const Context& context, const std::string& operation, std::string request_json, std::string answer_json) {
  auto notebook = open_notebook(context);
  if (!notebook) return base::fail(std::move(notebook.error()));
  return (*notebook)->put_result({"", operation, "", context.build, context.now, std::move(request_json), std::move(answer_json)});
}

}  // namespace rollwright::ops
