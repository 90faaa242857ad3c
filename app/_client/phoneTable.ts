/** A table in the browser's own database: what is in it outlives a closed page and an empty battery. */

export interface PhoneTable<Row> {
  put: (row: Row) => Promise<unknown>;
  remove: (key: string) => Promise<unknown>;
  all: () => Promise<Row[]>;
}

/** @param database holds this table alone; rows are told apart by their field `key` */
export function phoneTable<Row extends { key: string }>(database: string, table: string): PhoneTable<Row> {
  const open = () =>
    new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open(database, 1);
      request.onupgradeneeded = () => request.result.createObjectStore(table, { keyPath: "key" });
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });

  async function inTable<T>(
    mode: IDBTransactionMode,
    work: (store: IDBObjectStore) => IDBRequest<T>,
  ): Promise<T> {
    const db = await open();
    try {
      return await new Promise<T>((resolve, reject) => {
        // "strict": on the disk before it counts as kept.
        const transaction = db.transaction(table, mode, { durability: "strict" });
        const request = work(transaction.objectStore(table));
        transaction.oncomplete = () => resolve(request.result);
        transaction.onerror = () => reject(transaction.error);
        transaction.onabort = () => reject(transaction.error);
      });
    } finally {
      db.close();
    }
  }

  return {
    put: (row) => inTable("readwrite", (store) => store.put(row)),
    remove: (key) => inTable("readwrite", (store) => store.delete(key)),
    all: () => inTable<Row[]>("readonly", (store) => store.getAll()),
  };
}
