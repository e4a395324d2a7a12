import { VERSIONS } from "../events/kinds.ts";
import { USUAL, WAY_OF, WAYS, type Role, type Way } from "../tables/roles.ts";

const KINDS = Object.keys(VERSIONS);

/** What a role may with a kind of entry, by the table the server goes by; a role nobody knows may as little as any. */
export function way(role: string, kind: string): Way {
  return WAYS[wayName(role, kind)]!;
}

export function wayName(role: string, kind: string): string {
  const known = Object.hasOwn(USUAL, role) ? (role as Role) : "adviser";
  const named = WAY_OF[known];
  return Object.hasOwn(named, kind) ? named[kind]! : USUAL[known];
}

/** Whether a role writes anything down at all. */
export const records = (role: string): boolean => KINDS.some((kind) => way(role, kind).record !== "never");

/** Whether to take back or correct an entry of a kind, one's own or somebody else's. */
export function mayLink(role: string, link: "void" | "correct", kind: string, own: boolean): boolean {
  const { own: hers = [], others = [] } = way(role, kind);
  return (own ? hers : others).includes(link);
}

/** Whether to write this into a record, which stands already or does not. */
export function mayWrite(role: string, kind: string, fields: readonly string[], stands: boolean): boolean {
  const { record, placed = [] } = way(role, kind);
  return record !== "never" && !(stands && fields.some((field) => placed.includes(field)));
}
