// The bytes of dropped files, kept in the browser (IndexedDB) so that a reload or a new start of the program loses
// nothing. Where there is no such store they last as long as the page.

const NAME = "rollwright";
const STORE = "files";
const fallback = new Map<string, Blob>();

function open(): Promise<IDBDatabase | null> {
  if (typeof indexedDB === "undefined") return Promise.resolve(null);
  return new Promise((done) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(STORE);
    request.onsuccess = () => done(request.result);
    request.onerror = () => done(null);
    request.onblocked = () => done(null);
  });
}

function within<T>(
  db: IDBDatabase,
  mode: IDBTransactionMode,
  act: (store: IDBObjectStore) => IDBRequest<T>,
): Promise<T | null> {
  return new Promise((done) => {
    const transaction = db.transaction(STORE, mode);
    const request = act(transaction.objectStore(STORE));
    transaction.oncomplete = () => done(request.result);
    transaction.onerror = () => done(null);
    transaction.onabort = () => done(null);
  });
}

export const newId = (): string =>
  [...crypto.getRandomValues(new Uint8Array(12))].map((b) => b.toString(16).padStart(2, "0")).join("");

export async function keepBlob(id: string, blob: Blob): Promise<void> {
  fallback.set(id, blob);
  const db = await open();
  if (!db) return;
  await within(db, "readwrite", (s) => s.put(blob, id));
  db.close();
}

export async function findBlob(id: string): Promise<Blob | null> {
  const here = fallback.get(id);
  if (here) return here;
  const db = await open();
  if (!db) return null;
  const blob = await within(db, "readonly", (s) => s.get(id) as IDBRequest<Blob | undefined>);
  db.close();
  return blob ?? null;
}
