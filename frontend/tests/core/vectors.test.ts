import { expect, test } from "vitest";
import type { Envelope } from "../../src/core/events/events.ts";
import { fold } from "../../src/core/state/fold.ts";
import { problem_of } from "../../src/core/events/payloads.ts";
import { upcast } from "../../src/core/events/upcast.ts";
import { at, cases } from "../support/vectors.ts";

interface Case {
  name: string;
  events: Envelope[];
  expect: Record<string, unknown>;
}

const picked = (from: unknown, paths: object) =>
  Object.fromEntries(Object.keys(paths).map((path) => [path, at(from, path)]));

test.each(cases<Case>("fold"))("fold: $name", (given) => {
  expect(picked(fold(given.events), given.expect)).toEqual(given.expect);
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
