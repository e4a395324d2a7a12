import type * as said from "../../tables/wire.ts";

/** What the server says of accounts, people and invitations. Times are ms, days ISO or "". */
export type Heard<T> = { ok: true; body: T } | { ok: false; code: string; where: string; after_ms: number };

export const ROLES = ["owner", "family", "helper", "adviser"] as const satisfies readonly said.RoleEnum[];
export type Role = said.RoleEnum;

export type Opening = said.SignUp;
/** `farm`: whose invitation it was. */
export type Entered = Pick<said.Joined, "person"> & Partial<Pick<said.Joined, "farm" | "recovery_code">>;
export type Place = said.NewInvitation;
export type Invitation = said.InvitationRow;
/** As long as its secrets can be shown. */
export type Given = said.InvitationWithCode & Partial<Pick<said.NewInvitationMade, "link" | "qr">>;
export type Offered = said.InvitationSeen;
export type Secret = Required<Pick<said.Secret, "token">> | Required<Pick<said.Secret, "code">>;
export type Member = said.MemberRow;
export type MemberChange = said.MemberChange;
export type SetAside = said.AsideRow;
/** What somebody is told of a farm, and where her browser is reached. */
export type Notices = said.Notices;
export type NoticeChoices = said.Choices;
export type Where = said.Subscription;
export type AuditRow = said.AuditRow;
export type SignedInAt = said.SeatRow;
/** Hers once the link in the mail to it was opened; until then one she asks for. */
export interface OwnAddress {
  email: string;
  verified: boolean;
}
export interface Key {
  id: number;
  name: string;
  /** Seconds, as whoever keeps them counts. */
  created_at: number;
  last_used_at: number | null;
}
