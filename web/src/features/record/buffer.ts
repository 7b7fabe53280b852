// The recording on the phone until the notebook has it: pieces of a few seconds in the browser's own database, so that a
// flat battery or a closed page costs the last piece at most.

export interface Kept {
  id: string;
  name: string;
  started: string; // ISO 8601
  seconds: number;
  isDone: boolean;
}

const NAME = "rollwright-recordings";

function open(): Promise<IDBDatabase> {
  return new Promise((done, failed) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore("recordings", { keyPath: "id" });
      request.result.createObjectStore("pieces", { autoIncrement: true }).createIndex("recording", "recording");
    };
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
}

async function within<T>(
  stores: string[],
  mode: IDBTransactionMode,
  act: (t: IDBTransaction) => IDBRequest<T> | undefined,
): Promise<T | undefined> {
  const db = await open();
  try {
    return await new Promise((done, failed) => {
      const t = db.transaction(stores, mode);
      const request = act(t);
      t.oncomplete = () => done(request?.result);
      t.onerror = () => failed(t.error);
      t.onabort = () => failed(t.error);
    });
  } finally {
    db.close();
  }
}

export const putHead = (head: Kept) =>
  within(["recordings"], "readwrite", (t) => t.objectStore("recordings").put(head));

// A piece and what the recording is with it, both or neither.
export const putPiece = (head: Kept, text: string) =>
  within(["recordings", "pieces"], "readwrite", (t) => {
    t.objectStore("recordings").put(head);
    return t.objectStore("pieces").add({ recording: head.id, text });
  });

export const recordings = async (): Promise<Kept[]> =>
  (await within(["recordings"], "readonly", (t) => t.objectStore("recordings").getAll() as IDBRequest<Kept[]>)) ?? [];

export async function fileOf(head: Kept): Promise<File> {
  const pieces = await within(
    ["pieces"],
    "readonly",
    (t) => t.objectStore("pieces").index("recording").getAll(head.id) as IDBRequest<{ text: string }[]>,
  );
  return new File(
    (pieces ?? []).map((p) => p.text),
    head.name,
    { type: "text/csv" },
  );
}

export const forget = (id: string) =>
  within(["recordings", "pieces"], "readwrite", (t) => {
    const keys = t.objectStore("pieces").index("recording").getAllKeys(id);
    keys.onsuccess = () => {
      for (const key of keys.result) t.objectStore("pieces").delete(key);
      t.objectStore("recordings").delete(id);
    };
    return undefined;
  });
