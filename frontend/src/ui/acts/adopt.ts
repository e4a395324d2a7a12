import type { Act } from "../../core/outlook/acts/shapes.ts";
import { amount_on } from "../../core/state/rations.ts";
import { write } from "../forms/write.ts";
import { day } from "../model/day.svelte.ts";
import { together } from "../model/record.ts";
import { session } from "../model/session.svelte.ts";
import { t } from "../words/text.ts";

/** Puts an act into the plan: one entry a line, spoken of once, and one undo takes all of it. */
export function adopt(act: Act): void {
  const { code, brings, lines } = act;
  together(t("act.done", { name: day.named(act.subject), act: t(`act.${code}`) }), () => {
    for (const { subject, to, slot, feed, steps } of lines) {
      const base = day.view.rations[`${subject}|${slot}|${feed}`]?.hlc ?? "";
      write("ration", subject, {
        to, slot, feed, base, steps: steps.map(([on, g]) => ({ on, g })), act: code, ...brings,
      });
    }
  });
}

/** Whoever helps lowers a ration and never raises one. */
export function may_adopt({ lines }: Act): boolean {
  return session.plans || lines.every((line) => !raises(line));
}

function raises({ subject, slot, feed, steps }: Act["lines"][number]): boolean {
  const held = day.view.rations[`${subject}|${slot}|${feed}`]?.steps ?? [];
  return [...steps, ...held].some(([on]) => on >= steps[0]![0] && amount_on(steps, on) > amount_on(held, on));
}
