import type { Cites } from "./documents.ts";

/** What ran for one term of one doe: places in the reference's list, and the herd rules read. */
export interface Cited {
  places: number[];
  rules: string[];
}

/** `branch` as compiled; a term of every branch counts too. */
export function cited(of: Cites, term: string, branch: string): Cited {
  const parts = [of.terms[term] ?? "", of_branch(of, term, branch)].join(" ").split(" ").filter(Boolean);
  const numbers = parts.filter((part) => /^\d/.test(part)).flatMap(run);
  return {
    places: [...new Set(numbers)].sort((a, b) => a - b),
    rules: [...new Set(parts.filter((part) => !/^\d/.test(part)))].sort(),
  };
}

/** Branches go in alphabetical order, and each says only what differs from the one before. */
function of_branch({ branches }: Cites, term: string, branch: string): string {
  const names = Object.keys(branches).sort();
  const upTo = names.slice(0, names.indexOf(branch) + 1).reverse();
  for (const name of upTo) {
    const told = branches[name]![term];
    if (told !== undefined) return told;
  }
  return "";
}

function run(part: string): number[] {
  const [first, last = first] = part.split("-").map(Number) as [number, number?];
  return Array.from({ length: last - first + 1 }, (_, k) => first + k);
}
