import { expect, test } from "vitest";
import { deflateRawSync } from "node:zlib";
import { bring, look_inside, type Bringing } from "../../src/core/phone/sync/farm_file.ts";

const SAID = {
  format: "mangerline-farm", v: 1, farm: { name: "Combe" }, counts: { entries: 12 },
  files: { "log/entries.jsonl": {}, "pictures/a.jpg": {}, "pictures/b.wav": {} },
};

/** A ZIP as any program would make it. */
function zip(files: Record<string, string>, packed = true): Blob {
  const [parts, list]: [Uint8Array<ArrayBuffer>[], Uint8Array<ArrayBuffer>[]] = [[], []];
  let at = 0;
  for (const [name, text] of Object.entries(files)) {
    const plain = new TextEncoder().encode(text);
    const content = packed ? new Uint8Array(deflateRawSync(plain)) : plain;
    const letters = new TextEncoder().encode(name);
    const common = [packed ? 8 : 0, 0, 0, 0, content.length, plain.length];
    const head = head_of(0x04034b50, [20, 0, common[0]!, 0, 0], common.slice(3), [letters.length, 0]);
    const row = head_of(0x02014b50, [20, 20, 0, common[0]!, 0, 0], common.slice(3), [letters.length, 0, 0, 0, 0]);
    list.push(row, numbers([0, 0, at & 0xffff, at >>> 16]), letters);
    parts.push(head, letters, content);
    at += head.length + letters.length + content.length;
  }
  const size = list.reduce((sum, one) => sum + one.length, 0);
  const n = Object.keys(files).length;
  const end = [...numbers([0, 0, n, n, size & 0xffff, size >>> 16, at & 0xffff, at >>> 16, 0])];
  return new Blob([...parts, ...list, new Uint8Array([0x50, 0x4b, 5, 6, ...end])]);
}

function head_of(is: number, shorts: number[], longs: number[], more: number[]): Uint8Array<ArrayBuffer> {
  const wide = longs.flatMap((one) => [one & 0xffff, one >>> 16]);
  return numbers([is & 0xffff, is >>> 16, ...shorts, ...wide, ...more]);
}

function numbers(shorts: number[]): Uint8Array<ArrayBuffer> {
  return new Uint8Array(shorts.flatMap((one) => [one & 255, one >>> 8]));
}

const LOG = "{}\n".repeat(40);
const whole = (said: unknown = SAID, packed = true) =>
  zip({ "README.txt": "A farm.", "log/entries.jsonl": LOG, "manifest.json": JSON.stringify(said) }, packed);

test("a farm's file says whose it is and how much is in it, packed or not", async () => {
  const inside = { name: "Combe", entries: 12, pictures: 2 };
  expect(await look_inside(whole())).toEqual(inside);
  expect(await look_inside(whole(SAID, false))).toEqual(inside);
});

test("what is no farm's file is known before anything is sent", async () => {
  const file = whole();
  for (const bad of [
    new Blob(["a shopping list"]), new Blob([]), zip({ "list.txt": "milk" }), whole({ ...SAID, format: "another" }),
    whole({}), whole("x"), whole({ ...SAID, farm: { name: 7 } }), file.slice(0, file.size - 30), file.slice(100),
  ])
    expect(await look_inside(bad)).toBeNull();
});

function server(answers: Record<string, string[]> = {}) {
  const [asked, waited]: [string[], number[]] = [[], []];
  const hear = <T,>(what: string, body: T) => {
    asked.push(what);
    const code = answers[what.split(" ")[0]!]?.shift();
    const bad = { ok: false as const, code: code ?? "", where: "", after_ms: 9000 };
    return Promise.resolve(code ? bad : { ok: true as const, body });
  };
  const farm = { id: "f", name: "Combe", zone: "UTC", role: "owner" as const, epoch: 1 };
  const on: Bringing = {
    account: {
      beginFarmFile: (password, bytes) => hear(`begin ${password} ${bytes}`, { file: "one", part_bytes: 4 }),
      sendPart: (file, number, part) => hear(`part ${file} ${number} ${new TextDecoder().decode(part)}`, { number }),
      takeIn: (file, name) => hear(`take ${file} ${name}`, farm),
    },
    wait: (ms) => Promise.resolve(void waited.push(ms)),
    tell: () => true,
  };
  return { on, asked, waited, farm };
}

test("it goes in parts, and then becomes a farm", async () => {
  const { on, asked, farm } = server();
  const seen: number[] = [];
  const heard = await bring({ ...on, tell: (n) => seen.push(n) > 0 }, new Blob(["0123456789"]), "secret", "Combe");
  expect(heard).toEqual({ ok: true, body: farm });
  expect(asked).toEqual([
    "begin secret 10", "part one 0 0123", "part one 1 4567", "part one 2 89", "take one Combe",
  ]);
  expect(seen).toEqual([4, 8, 10]);
});

test("a part that got lost goes again, and a lost answer is asked for again", async () => {
  const { on, asked, waited } = server({ part: ["no_answer", "busy"], take: ["not_ours", "server_error"] });
  expect((await bring(on, new Blob(["0123"]), "secret", "")).ok).toBe(true);
  expect(asked.slice(1)).toEqual([...Array(3).fill("part one 0 0123"), ...Array(3).fill("take one ")]);
  expect(waited).toEqual([9000, 9000, 9000, 9000]);
});

test("what will not pass ends it at once, and so does whoever goes away", async () => {
  const wrong = server({ begin: ["wrong_password"] });
  expect(await bring(wrong.on, new Blob(["0123"]), "x", "")).toMatchObject({ ok: false, code: "wrong_password" });
  expect(wrong.asked).toHaveLength(1);
  const changed = server({ take: ["farm_file_changed"] });
  expect(await bring(changed.on, new Blob(["0123"]), "x", "")).toMatchObject({ code: "farm_file_changed" });
  const gone = server();
  expect(await bring({ ...gone.on, tell: () => false }, new Blob(["01234567"]), "x", "")).toMatchObject({ ok: false });
  expect(gone.asked).toHaveLength(2);
});

test("a server that never answers is not asked for ever", async () => {
  const { on, asked } = server({ part: Array(50).fill("no_answer") });
  expect(await bring(on, new Blob(["0123"]), "x", "")).toMatchObject({ code: "no_answer" });
  expect(asked).toHaveLength(9);
});
