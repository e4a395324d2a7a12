import type { Prompt } from "../model/results.ts";

/** By the first word of the code. */
const OF_NIGHT: Record<string, string[]> = {
  overdue: ["hard_kidding", "toxemia"],
  kid: ["cold_kid"], placenta: ["placenta"], prolapse: ["prolapse", "hard_kidding"],
};
/** A fresh doe that is dull, off her hay or down is short of calcium until the vet says otherwise. */
const DULL = ["milk_fever", "placenta", "mastitis"];
const OF_DAM: Record<string, string[]> = {
  hot: ["mastitis"], cold: ["mastitis"], one: ["mastitis"], none: ["mastitis", "milk_fever"], foul: ["placenta"],
  blood: ["placenta", "prolapse"],
};
const NEAR = ["late", "last_weeks", "labour"];

function ofNight(code: string, why: string): string[] | undefined {
  if (code.startsWith("dam_")) return OF_DAM[why] ?? DULL;
  return OF_NIGHT[code.split("_")[0]!];
}

/**
 * Which cards to lay beside a prompt that cannot wait: near kidding both metabolic ones, fresh also udder and womb; a
 * male has stones.
 */
export function cardsFor({ code, args }: Prompt): string[] {
  const stage = String(args["stage"] ?? "");
  if (code.startsWith("labour"))
    return args["why"] === "too_early" ? ["abortion", "hard_kidding"] : ["hard_kidding", "milk_fever"];
  const night = ofNight(code, String(args["why"] ?? ""));
  if (night) return night;
  if (stage === "buck") return ["stones", "bloat"];
  if (code.startsWith("belly") || code.startsWith("grain_overload")) return ["bloat"];
  if (code.startsWith("udder")) return ["mastitis"];
  if (code.startsWith("ketones")) return ["toxemia", "milk_fever"];
  if (stage === "labour") return ["milk_fever", "toxemia", "hard_kidding"];
  if (NEAR.includes(stage) || code.startsWith("temperature")) return ["milk_fever", "toxemia"];
  if (stage === "fresh") return DULL;
  return ["bloat", "listeria"];
}
