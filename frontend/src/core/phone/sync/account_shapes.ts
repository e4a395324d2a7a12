/** What the server says of accounts, people and invitations. Times are ms, days ISO or "". */
export type Heard<T> = { ok: true; body: T } | { ok: false; code: string; where: string; after_ms: number };

export const ROLES = ["owner", "family", "helper", "adviser"] as const;
export type Role = (typeof ROLES)[number];

export interface Opening {
  name: string;
  password: string;
  email?: string;
}
export interface Entered {
  person: { id: string; name: string } | null;
  recovery_code?: string;
  /** Whose invitation it was. */
  farm?: string;
}
export interface Place {
  role: string;
  whom?: string;
  starts_on?: string | null;
  ends_on?: string | null;
  does?: string[];
  pack?: string;
}
export interface Invitation {
  id: string;
  role: string;
  whom: string;
  made_by: string;
  made: number;
  until: number;
  code_until: number | null;
  starts_on: string;
  ends_on: string;
  does: string[];
}
/** As long as its secrets can be shown. */
export interface Given extends Invitation {
  code: string;
  link?: string;
  qr?: string;
}
export interface Offered extends Invitation {
  farm: string;
}
export type Secret = { token: string } | { code: string };
export interface Member {
  person: string;
  name: string;
  role: string;
  since: number;
  starts_on: string;
  ends_on: string;
  does: string[];
  gone: number | null;
  gone_why: string;
}
export interface SetAside {
  id: number;
  event: Record<string, unknown>;
  author: string;
  sent_by: string;
  received_ms: number;
}
export interface AuditRow {
  id: number;
  at: number;
  name: string;
  what: string;
  about: string;
  detail: string;
}
export interface SignedInAt {
  id: number;
  agent: string;
  since: number;
  used: number;
  here: boolean;
}
export interface Key {
  id: number;
  name: string;
  /** Seconds, as whoever keeps them counts. */
  created_at: number;
  last_used_at: number | null;
}
