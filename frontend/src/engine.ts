import type { RuleOf } from "./core/barn/task_anchors.ts";
import { tasks_between } from "./core/barn/tasks.ts";
import type { Book } from "./core/outlook/ground/herd_figures.ts";
import { Context } from "./core/outlook/ground/context.ts";
import { answer } from "./core/outlook/questions.ts";
import type { Outlook } from "./core/outlook/ground/documents.ts";
import type { View } from "./core/state/view.ts";

/** The evaluator as Python asks it (herd/outlook/engine): a farm on a day goes in once and is asked by its key. */
const MOST_OPEN = 4;
const open = new Map<string, Context>();

type Farm = [view: View, outlooks: Record<string, Outlook>, book: Book, day: string];

/** `question` is a list of the name and what it takes. Without `farm` the one opened under the key, if it still is. */
export function ask(key: string, question: string, farm: string): string {
  try {
    const ctx = farm ? opened(key, farm) : open.get(key);
    if (ctx === undefined) return JSON.stringify({ closed: true });
    const [name, ...given] = JSON.parse(question) as [string, ...unknown[]];
    const said = name === "tasks" ? tasks_of(ctx, ...(given as [string, string])) : answer(ctx, name, given);
    return JSON.stringify({ answer: said ?? null });
  } catch (error) {
    return JSON.stringify({ error: error instanceof Error ? (error.stack ?? String(error)) : String(error) });
  }
}

/** The year's tasks between two days, as a phone asks them; of outlooks their dates alone. */
function tasks_of(ctx: Context, since: string, until: string) {
  const rule: RuleOf = (name) => ctx.rule_or_ours(name);
  return tasks_between(ctx.view, { rule, due: (doe) => ctx.outlooks[doe] ?? null, day: ctx.day }, since, until);
}

/** The oldest makes room. */
function opened(key: string, farm: string): Context {
  const ctx = new Context(...(JSON.parse(farm) as Farm));
  open.set(key, ctx);
  for (const old of [...open.keys()].slice(0, -MOST_OPEN)) open.delete(old);
  return ctx;
}
