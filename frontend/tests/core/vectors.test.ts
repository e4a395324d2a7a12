import { expect, test } from "vitest";
import type { Book } from "../../src/core/outlook/herd_figures.ts";
import { evaluate } from "../../src/core/outlook/evaluate.ts";
import type { Envelope } from "../../src/core/events/events.ts";
import { fold } from "../../src/core/state/fold.ts";
import type { Outlook } from "../../src/core/outlook/shapes.ts";
import { problem_of } from "../../src/core/events/payloads.ts";
import { upcast } from "../../src/core/events/upcast.ts";
import { at, cases } from "../support/vectors.ts";

interface Case {
  name: string;
  events: Envelope[];
  expect: Record<string, unknown>;
}

interface EvaluateCase extends Case {
  outlooks: Record<string, Outlook>;
  book: Book;
  day: string;
}

const picked = (from: unknown, paths: object) =>
  Object.fromEntries(Object.keys(paths).map((path) => [path, at(from, path)]));

test.each(cases<Case>("fold"))("fold: $name", (given) => {
  expect(picked(fold(given.events), given.expect)).toEqual(given.expect);
});

test.each(cases<EvaluateCase>("evaluate"))("evaluate: $name", (given) => {
  const said = evaluate(fold(given.events), given.outlooks, given.book, given.day);
  expect(picked(said, given.expect)).toEqual(given.expect);
});

interface Golden {
  event: Envelope;
  today: { v: number; data: unknown };
}

test.each(cases<Golden>("events").map((golden) => [`${golden.event.kind} ${golden.event.v}`, golden] as const))(
  "every shipped version is accepted and read in today's form: %s", (_name, { event, today }) => {
    expect(problem_of(event)).toBeNull();
    const { v, data } = upcast(event);
    expect({ v, data }).toEqual(today);
    expect(upcast(upcast(event))).toEqual(upcast(event));
  },
);
