#include "ops/notebook_undo.h"

namespace rollwright::ops {

void NotebookUndoRequest::describe(base::RecordType<NotebookUndoRequest>& r) {
  r.field<&NotebookUndoRequest::document>("document", "The document's name or id; the start of the id is enough.").required();
}

base::Outcome<base::Answer<NotebookChange>> notebook_undo(const NotebookUndoRequest& request, Context& context) {
  const auto notebook = open_notebook(context);
  if (!notebook) return base::fail(notebook.error());
  const auto document = (*notebook)->find_document(request.document);
  if (!document) return base::fail(document.error());
  return change_answer(**notebook, (*notebook)->undo(*document, context.now), "is back to what it was before");
}

Operation notebook_undo_operation() {
  return operation<&notebook_undo>("notebook", "undo", "Take back the last change of a document")
      .helped("Brings back what the document was before its latest version; asked again, goes one step further back. Nothing is lost: the history keeps every version, and 'notebook restore' brings any of them back.")
      .shown_by("notebook undo --document Wren --notebook my.garage");
}

}  // namespace rollwright::ops
