/** Everything the core takes from the outside world. Tests hand in their own; only `browserEnv` touches globalThis. */
export interface Env {
  now: () => number;
  random: (bytes: number) => Uint8Array;
  fetch: (url: string, init: RequestInit) => Promise<Response>;
  indexedDB: IDBFactory;
  setTimer: (run: () => void, ms: number) => unknown;
  clearTimer: (timer: unknown) => void;
  locks: Pick<LockManager, "request"> | null;
  channel: ((name: string) => Channel) | null;
  gzip: ((text: string) => Promise<Uint8Array<ArrayBuffer>>) | null;
  /** Lets taps and frames through in the middle of long work. */
  rest: () => Promise<void>;
  /** After the frame that is due has been painted, or soon where none is. */
  drawn: () => Promise<void>;
  /** Asks the browser not to clear this app's storage when space runs out. */
  persist: (() => Promise<boolean>) | null;
  /** PBKDF2 with SHA-256, in base64; null where the browser keeps it from a page without a certificate. */
  pbkdf2: ((secret: string, salt: string, rounds: number) => Promise<string>) | null;
  /** A few words kept outside the database; "" takes them away. The page brings what it has. */
  marks: { read(): string; write(text: string): void } | null;
  /** Words put down in the moment the page goes, when there is no time for the database. The page brings it. */
  hand: Hand | null;
}

export interface Hand {
  read(at: string): string;
  write(at: string, text: string): void;
  /** Runs it then; what comes back ends that. */
  going(run: () => void): () => void;
}

const FRAME_MS = 100;

export interface Channel {
  postMessage(message: unknown): void;
  onmessage: ((event: MessageEvent) => void) | null;
  close(): void;
}

export function browserEnv(): Env {
  return {
    now: () => Date.now(),
    random: (bytes) => globalThis.crypto.getRandomValues(new Uint8Array(bytes)),
    fetch: (url, init) => globalThis.fetch(url, init),
    indexedDB: globalThis.indexedDB,
    setTimer: (run, ms) => globalThis.setTimeout(run, ms),
    clearTimer: (timer) => globalThis.clearTimeout(timer as number),
    locks: globalThis.navigator?.locks ?? null,
    channel: "BroadcastChannel" in globalThis ? (name) => new BroadcastChannel(name) : null,
    gzip: "CompressionStream" in globalThis ? gzip : null,
    rest,
    drawn,
    persist: globalThis.navigator?.storage?.persist ? () => globalThis.navigator.storage.persist() : null,
    pbkdf2: globalThis.crypto?.subtle ? pbkdf2 : null,
    marks: null,
    hand: null,
  };
}

/** One for all who rest: to make a channel each time is work itself. */
let channel: MessageChannel | null = null;
const resting: (() => void)[] = [];

export function rest(): Promise<void> {
  if (!channel) {
    channel = new MessageChannel();
    channel.port1.onmessage = () => resting.shift()!();
  }
  const { port2 } = channel;
  return new Promise((done) => {
    resting.push(done);
    port2.postMessage(0);
  });
}

/** Whoever waits for a frame when the phone is put away must not wait for the next one: there may be none. */
const waiting = new Set<() => void>();
globalThis.document?.addEventListener("visibilitychange", () => waiting.forEach((done) => done()));

export function drawn(): Promise<void> {
  if (globalThis.document?.visibilityState !== "visible") return Promise.resolve();
  return new Promise<void>((done) => {
    const go = () => {
      waiting.delete(go);
      done();
    };
    waiting.add(go);
    setTimeout(go, FRAME_MS);
    requestAnimationFrame(() => void rest().then(go));
  });
}

async function gzip(text: string): Promise<Uint8Array<ArrayBuffer>> {
  const packed = new Blob([text]).stream().pipeThrough(new CompressionStream("gzip"));
  return new Uint8Array(await new Response(packed).arrayBuffer());
}

async function pbkdf2(secret: string, salt: string, iterations: number): Promise<string> {
  const { subtle } = globalThis.crypto;
  const key = await subtle.importKey("raw", new TextEncoder().encode(secret), "PBKDF2", false, ["deriveBits"]);
  const bytes = Uint8Array.from(atob(salt), (letter) => letter.charCodeAt(0));
  const bits = await subtle.deriveBits({ name: "PBKDF2", hash: "SHA-256", salt: bytes, iterations }, key, 256);
  return btoa(String.fromCharCode(...new Uint8Array(bits)));
}
