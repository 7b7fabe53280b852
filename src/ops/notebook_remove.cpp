#include "ops/notebook_remove.h"

namespace rollwright::ops {

void NotebookRemoveRequest::describe(base::RecordType<NotebookRemoveRequest>& r) {
  r.field<&NotebookRemoveRequest::document>("document", "The document's name or id; the start of the id is enough.").required();
}

base::Outcome<base::Answer<NotebookChange>> notebook_remove(const NotebookRemoveRequest& request, Context& context) {
  const auto notebook = open_notebook(context);
  if (!notebook) return base::fail(notebook.error());
  const auto document = (*notebook)->find_document(request.document);
  if (!document) return base::fail(document.error());
  return change_answer(**notebook, (*notebook)->remove(*document, context.now), "is off the list; 'rollwright notebook undo' brings it back");
}

Operation notebook_remove_operation() {
  return operation<&notebook_remove>("notebook", "remove", "Take a document off the list")
      .helped("The document leaves the list; all its versions stay in the file, and 'notebook undo' brings it back.")
      .shown_by("notebook remove --document Wren --notebook my.garage");
}

}  // namespace rollwright::ops
