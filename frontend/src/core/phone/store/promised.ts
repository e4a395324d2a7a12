/** As much of IndexedDB by promises as is asked for here. */
export function promised(db: IDBDatabase) {
  return {
    close: () => db.close(),
    transaction: (stores: string[], mode: IDBTransactionMode, options: IDBTransactionOptions) =>
      transaction(db.transaction(stores, mode, options)),
  };
}

function transaction(tx: IDBTransaction) {
  const done = new Promise<void>((resolve, reject) => {
    tx.oncomplete = () => resolve();
    tx.onerror = tx.onabort = () => reject(tx.error ?? new DOMException("AbortError", "AbortError"));
  });
  return {
    done, db: tx.db, abort: () => tx.abort(), objectStore: (name: string) => store(tx.objectStore(name)),
    get error() {
      return tx.error;
    },
  };
}

function store(of: IDBObjectStore) {
  return {
    get: (key: IDBValidKey) => answered(of.get(key)),
    getAll: (range?: IDBKeyRange, most?: number) => answered(of.getAll(range, most)),
    getAllKeys: () => answered(of.getAllKeys()),
    put: (row: unknown) => answered(of.put(row)),
    delete: (key: IDBValidKey) => answered(of.delete(key)),
    clear: () => answered(of.clear()),
  };
}

function answered<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error!);
  });
}
