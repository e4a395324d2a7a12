import { Context } from "./context.ts";

type Work = (ctx: Context) => unknown;

/** Names of the herd rules read while something is worked, sorted; those `before` reads do not count. */
export function rules_read(ctx: Context, work: Work, before?: Work): string[] {
  const read = new Set<string>();
  const rules = new Proxy(ctx.rules, {
    get(of, name) {
      if (typeof name === "string") read.add(name);
      return Reflect.get(of, name) as number;
    },
  });
  const heard = new Context(ctx.view, ctx.outlooks, { ...ctx.book, rules }, ctx.day, ctx);
  before?.(heard);
  read.clear();
  work(heard);
  return [...read].sort();
}
