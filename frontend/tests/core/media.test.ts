import { describe, expect, test } from "vitest";
import { withoutNotes } from "../../src/core/base/jpeg.ts";
import { folded, playable, speechFile, unfolded } from "../../src/core/base/speech.ts";
import { MediaStore } from "../../src/core/phone/store/media.ts";
import { mediaOf, sendMedia } from "../../src/core/phone/sync/media.ts";
import { Session } from "../../src/core/phone/sync/session.ts";
import { TestPhone } from "../support/phone.ts";

describe("speech", () => {
  // ITU-T G.711 mu-law, as CPython 3.11's audioop.lin2ulaw and ulaw2lin give it.
  test.each([
    [0, 255], [1, 255], [7, 254], [8, 254], [100, 242], [-100, 114], [1000, 206], [-1000, 78], [8159, 159],
    [-8159, 31], [20_000, 140], [-20_000, 12], [32_635, 128], [32_767, 128], [-32_768, 0],
  ])("%i becomes %i", (sample, byte) => expect(folded(sample)).toBe(byte));

  test.each([
    [0, -32_124], [1, -31_100], [15, -16_764], [16, -15_996], [127, 0], [128, 32_124], [255, 0], [254, 8],
    [143, 16_764], [170, 5_372], [85, -716],
  ])("%i means %i", (byte, sample) => expect(unfolded(byte) + 0).toBe(sample));

  test("half a minute is a quarter of a megabyte, and plays as plain samples of the same length", () => {
    const file = speechFile(new Float32Array(30 * 8_000).fill(0.5));
    expect(file.length).toBe(240_058);
    const plain = new DataView(playable(file.buffer)!.buffer);
    const said = [plain.getUint16(20, true), plain.getUint32(24, true), plain.getUint32(40, true)];
    expect(said).toEqual([1, 8_000, 480_000]);
    expect(Math.abs(plain.getInt16(44, true) - 16_384)).toBeLessThan(600);
    expect(playable(new TextEncoder().encode("<html>").buffer)).toBeNull();
  });
});

describe("a picture", () => {
  const part = (marker: number, ...content: number[]) => [0xff, marker, 0, content.length + 2, ...content];
  const SCAN = [...part(0xda, 1), 7, 8, 9, 0xff, 0xd9];

  test("leaves without the place it was taken, and is the same picture", () => {
    const [jfif, exif, iptc, said, colours, table] =
      [part(0xe0, 1), part(0xe1, 69, 120), part(0xed, 2), part(0xfe, 3), part(0xe2, 4), part(0xdb, 5)];
    const taken = new Uint8Array([0xff, 0xd8, ...jfif, ...exif, ...iptc, ...said, ...colours, ...table, ...SCAN]);
    expect([...withoutNotes(taken)]).toEqual([0xff, 0xd8, ...jfif, ...colours, ...table, ...SCAN]);
    expect([...withoutNotes(new Uint8Array([1, 2, 3, 4, 5]))]).toEqual([1, 2, 3, 4, 5]);
  });
});

/** A server that has pictures, and nothing else. */
function server(answer: (method: string, path: string) => Response) {
  const calls: string[] = [];
  const fetch = async (path: string, init: RequestInit): Promise<Response> => {
    const session = { person: { id: "p1", name: "Ada" }, farms: [], csrf: "x" };
    if (path === "/api/session") return marked(JSON.stringify(session));
    calls.push(`${init.method} ${path.split("/").at(-1)}`);
    return answer(init.method!, path);
  };
  return { calls, fetch };
}
const marked = (body: BodyInit, status = 200) => new Response(body, { status, headers: { "X-Mangerline": "1" } });
const row = (sha256: string, ...bytes: number[]) =>
  ({ sha256, type: "image/jpeg", content: new Uint8Array(bytes).buffer });

test("wait until the server has them, in turn, and stay to be looked at", async () => {
  const env = new TestPhone().env();
  const store = new MediaStore("farm", env);
  await store.keepOwn(row("a", 1));
  await store.keepOwn(row("b", 2));
  const dead = new Session({ ...env, fetch: () => Promise.reject(new TypeError("no signal")) });
  expect(await sendMedia(dead, store, "farm")).toBe("later");
  expect((await store.unsent()).map(({ sha256 }) => sha256)).toEqual(["a", "b"]);
  const { calls, fetch } = server(() => marked("{}"));
  expect(await sendMedia(new Session({ ...env, fetch }), store, "farm")).toBe("done");
  expect(calls).toEqual(["PUT a", "PUT b"]);
  expect(await store.unsent()).toEqual([]);
  expect([...new Uint8Array((await store.of("b"))!.content)]).toEqual([2]);
});

test("one that is refused stays with its reason and holds up none; want of room is tried again", async () => {
  const env = new TestPhone().env();
  const store = new MediaStore("farm", env);
  for (const sha of ["a", "b", "c"]) await store.keepOwn(row(sha, 1));
  const codes: Record<string, [number, string]> = { a: [400, "bad_media"], b: [413, "no_room"] };
  const { calls, fetch } = server((_, path) => {
    const [status, code] = codes[path.at(-1)!] ?? [200, ""];
    return marked(JSON.stringify({ code }), status);
  });
  const session = new Session({ ...env, fetch });
  expect(await sendMedia(session, store, "farm")).toBe("no_room");
  expect(await store.unsent()).toEqual([{ sha256: "a", code: "bad_media" }, { sha256: "b", code: "no_room" }]);
  delete codes.b;
  expect(await sendMedia(session, store, "farm")).toBe("done");
  expect(calls).toEqual(["PUT a", "PUT b", "PUT c", "PUT b"]);
});

test("another's comes from the server once, and goes where room is wanted; one's own unsent does not", async () => {
  const env = new TestPhone().env();
  const store = new MediaStore("farm", env);
  await store.keepOwn(row("mine", 9));
  const { calls, fetch } = server((_, path) =>
    path.endsWith("gone") ? marked(JSON.stringify({ code: "not_found" }), 404) : marked(new Uint8Array([1, 2])));
  const session = new Session({ ...env, fetch });
  for (let n = 0; n < 2; n++) expect((await mediaOf(session, store, "farm", "theirs"))?.type).toBe("image/jpeg");
  expect(await mediaOf(session, store, "farm", "gone")).toBeNull();
  expect(calls).toEqual(["GET theirs", "GET gone"]);
  await store.letGo();
  expect(await store.marks()).toEqual(["mine"]);
});
