/** Additive for ever: a store that may hold something unsent is never deleted. One step per version, never edited. */
export const FARM_MIGRATIONS: ((db: IDBDatabase) => void)[] = [
  (db) => {
    db.createObjectStore("events", { keyPath: "id" });
    db.createObjectStore("outbox", { keyPath: "id" });
    db.createObjectStore("outlooks", { keyPath: "doe" });
    db.createObjectStore("meta", { keyPath: "key" });
  },
  // Also the step after which outlooks are written as text: an app of before must not read them.
  (db) => {
    db.createObjectStore("picture", { keyPath: "part" });
  },
];

export const PHONE_MIGRATIONS: ((db: IDBDatabase) => void)[] = [
  (db) => {
    db.createObjectStore("meta", { keyPath: "key" });
  },
];

export const MEDIA_MIGRATIONS: ((db: IDBDatabase) => void)[] = [
  (db) => {
    db.createObjectStore("meta", { keyPath: "key" });
    db.createObjectStore("media", { keyPath: "sha256" });
    db.createObjectStore("unsent", { keyPath: "sha256" });
  },
];
