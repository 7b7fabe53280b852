#include "ops/notebook_new.h"

namespace rollwright::ops {

void NotebookNewRequest::describe(base::RecordType<NotebookNewRequest>& r) { r.about("Nothing is asked; the file is named by --notebook."); }

void NotebookNewResult::describe(base::RecordType<NotebookNewResult>& r) {
  r.field<&NotebookNewResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&NotebookNewResult::file>("file", "The notebook's file.");
}

base::Outcome<base::Answer<NotebookNewResult>> notebook_new(const NotebookNewRequest&, Context& context) {
  if (context.garage == nullptr) return base::fail(open_notebook(context).error());
  const auto made = context.garage->make_new(context.now);
  if (!made) return base::fail(made.error());
  base::Answer<NotebookNewResult> answer;
  answer.result.file = context.garage->path();
  answer.result.meaning = "An empty notebook was made. Put your sheets and logs in with 'rollwright notebook add'.";
  return answer;
}

Operation notebook_new_operation() {
  return operation<&notebook_new>("notebook", "new", "Make an empty notebook")
      .helped("A notebook is one file that keeps documents with every version they had, raw logs and results. Without --notebook it is "
              "rollwright.garage in the current folder. A file that is there already is never touched.")
      .shown_by("notebook new --notebook my.garage");
}

}  // namespace rollwright::ops
