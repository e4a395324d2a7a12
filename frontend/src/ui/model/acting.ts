import { drawn, rest } from "../../core/base/env.ts";
import { GOALS } from "../../core/outlook/verdict/goals.ts";
import { acts_in_steps } from "../../core/outlook/acts/search.ts";
import type { Acts } from "../../core/outlook/acts/shapes.ts";
import { once } from "../../core/outlook/ground/context.ts";
import type { Evaluation } from "../../core/outlook/whole/evaluation.ts";
import { units_of } from "../../core/outlook/whole/units.ts";
import { idle, touched, untouched, waits } from "./hands.ts";
import type { Prompt } from "./results.ts";

/** Longer than this nothing is worked without letting a tap and a frame through. */
const SLICE_MS = 6;
/** So long the phone is taken to stay idle, as long as nobody touches it. */
const SPELL_MS = 200;

type Heard = (acts: Acts) => void;
type Still = () => boolean;
interface Job {
  subject: string;
  kept: Map<string, unknown>;
  work: Generator<void, Acts>;
  acts: Acts | null;
  heard: Set<Heard>;
  running: boolean;
}

/** What was worked out of a farm as it stood: a change of the farm is another evaluation. */
const JOBS = new WeakMap<Evaluation, Map<string, Job>>();
/** How many somebody stands waiting for, and the farm that is gone through unasked. */
let waited_for = 0;
let gone_through: Evaluation | null = null;

/**
 * What can be done about a doe or a pen, worked between taps for as long as somebody waits for it. Gives back what ends
 * the waiting.
 */
export function work_out(evaluation: Evaluation, subject: string, heard: Heard, still: Still): () => void {
  const job = job_of(evaluation, subject);
  if (job.acts) heard(job.acts);
  else job.heard.add(heard);
  if (!job.acts && !job.running) void waited(job, still);
  return () => job.heard.delete(heard);
}

/** The same before anybody asks, the most urgent first, while the phone has nothing else to do. */
export async function work_ahead(evaluation: Evaluation, still: Still): Promise<void> {
  if (gone_through === evaluation) return;
  gone_through = evaluation;
  for (const subject of to_ask(evaluation)) {
    const job = job_of(evaluation, subject);
    while (!job.acts) {
      await idle();
      if (!still()) return;
      if (!waited_for) await spell(job, still);
    }
  }
}

/** Does and then pens of whom something is said that an act may answer. */
function to_ask(evaluation: Evaluation): string[] {
  const units = units_of(evaluation.ctx).map((unit) => [unit, evaluation.unit(unit)] as const);
  const of = (said: (readonly [string, { prompt: Prompt | null }])[]) =>
    said.flatMap(([id, { prompt }]) => (prompt && prompt.code in GOALS ? [{ id, rank: prompt.rank }] : []))
      .sort((a, b) => a.rank - b.rank).map(({ id }) => id);
  return [...of(units.flatMap(([, { does }]) => Object.entries(does))), ...of(units)];
}

function job_of(evaluation: Evaluation, subject: string): Job {
  const jobs = JOBS.get(evaluation) ?? new Map<string, Job>();
  JOBS.set(evaluation, jobs);
  return once(jobs, subject, () => {
    const [work, kept] = [acts_in_steps(evaluation.ctx, subject), evaluation.kept_of(subject)];
    const acts = (kept.get(subject) as Acts | undefined) ?? null;
    return { subject, kept, work, acts, heard: new Set(), running: false };
  });
}

async function waited(job: Job, still: Still): Promise<void> {
  job.running = true;
  waited_for += 1;
  try {
    await drawn();
    await untouched();
    while (!job.acts && job.heard.size && still()) {
      slice(job);
      await rest();
      await untouched();
    }
    tell(job);
  } finally {
    job.running = false;
    waited_for -= 1;
  }
}

async function spell(job: Job, still: Still): Promise<void> {
  const ends = performance.now() + SPELL_MS;
  while (!job.acts && !touched() && still() && performance.now() < ends) {
    slice(job);
    await rest();
  }
  tell(job);
}

function slice(job: Job): void {
  const ends = performance.now() + SLICE_MS;
  while (!job.acts && performance.now() < ends && !waits()) {
    const step = job.work.next();
    if (step.done) job.kept.set(job.subject, (job.acts = step.value));
  }
}

/** What is drawn of it is work of its own. */
function tell({ acts, heard }: Job): void {
  if (!acts) return;
  for (const each of heard) each(acts);
  heard.clear();
}
