import { expect, test } from "vitest";
import { NO_BOOK } from "../../src/core/outlook/ground/herd_figures.ts";
import { Context } from "../../src/core/outlook/ground/context.ts";
import { Evaluation } from "../../src/core/outlook/whole/evaluation.ts";
import { fold } from "../../src/core/state/fold.ts";
import type { Envelope } from "../../src/core/events/events.ts";

const TODAY = "2026-11-25";

function event(kind: string, subject: string, data: Envelope["data"]): Envelope {
  const happened = Date.UTC(2026, 10, 24, 5);
  return {
    id: `${kind}-${subject}`, kind, v: 1, subject, on: TODAY, slot: "", happened, entered: happened,
    hlc: `${happened.toString(16).padStart(12, "0")}-0000-00000000`, author: "a", device: "d", data,
  };
}

/** Each in no pen, and so judged by herself. */
const VIEW = fold(["fern", "gorse"].map((name) => event("doe", name, { f: { name }, base: {} })));

test("whoever was asked about first is given as well, so that it comes to be shown", () => {
  const evaluation = new Evaluation(new Context(VIEW, {}, NO_BOOK, TODAY), () => undefined);
  evaluation.doe("gorse");
  const given = [...evaluation.steps([])].filter((unit) => unit !== undefined);
  expect(given.sort()).toEqual(["fern", "gorse"]);
});
