// A place to drop files, which is also a button that opens the file list: drag and drop is never the only way.
import type { ComponentChildren } from "preact";
import { useId, useState } from "preact/hooks";

export function FileDrop(p: {
  label: ComponentChildren;
  hint: string;
  accept: string;
  onFiles: (files: File[]) => void;
  busy?: string | null;
}) {
  const id = useId();
  const [isOver, setOver] = useState(false);
  const take = (list: FileList | null | undefined) => {
    if (list && list.length > 0) p.onFiles([...list]);
  };
  return (
    <div
      class={`drop ${isOver ? "over" : ""}`}
      onDragOver={(e) => {
        e.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(e) => {
        e.preventDefault();
        setOver(false);
        take(e.dataTransfer?.files);
      }}
    >
      <input
        id={id}
        class="unseen"
        type="file"
        multiple
        accept={p.accept}
        aria-describedby={`${id}-h`}
        onChange={(e) => {
          take(e.currentTarget.files);
          e.currentTarget.value = "";
        }}
      />
      <label for={id} class="drop-label">
        {p.label}
      </label>
      <p class="note" id={`${id}-h`}>
        {p.hint}
      </p>
      <p aria-live="polite" class="drop-busy">
        {p.busy ?? ""}
      </p>
    </div>
  );
}
