import { drawn, rest } from "../../core/base/env.ts";
import { acts_in_steps } from "../../core/outlook/acts/search.ts";
import type { Acts } from "../../core/outlook/acts/shapes.ts";
import type { Evaluation } from "../../core/outlook/whole/evaluation.ts";

/** Longer than this nothing is worked without letting a tap and a frame through: her page stands still meanwhile. */
const SLICE_MS = 20;

type Heard = (acts: Acts) => void;
interface Job {
  acts: Acts | null;
  heard: Set<Heard>;
  running: boolean;
}

/** What was worked out of a farm as it stood: a change of the farm is another evaluation. */
const JOBS = new WeakMap<Evaluation, Map<string, Job>>();

/**
 * What can be done about a doe or a pen, worked between taps for as long as somebody waits for it. Gives back what ends
 * the waiting.
 */
export function work_out(evaluation: Evaluation, subject: string, heard: Heard, still: () => boolean): () => void {
  const jobs = JOBS.get(evaluation) ?? new Map<string, Job>();
  JOBS.set(evaluation, jobs);
  const job = jobs.get(subject) ?? { acts: null, heard: new Set<Heard>(), running: false };
  jobs.set(subject, job);
  if (job.acts) heard(job.acts);
  else job.heard.add(heard);
  if (!job.acts && !job.running) void run(job, evaluation, subject, still);
  return () => job.heard.delete(heard);
}

async function run(job: Job, evaluation: Evaluation, subject: string, still: () => boolean): Promise<void> {
  job.running = true;
  await drawn();
  const work = acts_in_steps(evaluation.ctx, subject);
  let since = performance.now();
  while (job.heard.size && still()) {
    const step = work.next();
    if (step.done) {
      job.acts = step.value;
      for (const heard of job.heard) heard(step.value);
      break;
    }
    if (performance.now() - since < SLICE_MS) continue;
    await rest();
    since = performance.now();
  }
  job.running = false;
}
