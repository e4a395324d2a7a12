import { drawn } from "../../core/base/env.ts";
import { mayLink, mayWrite, records, way } from "../../core/barn/may.ts";
import type { Stay } from "../../core/barn/stays.ts";
import { CHAIN_KINDS, type Kind } from "../../core/events/kinds.ts";
import { NoSecond } from "../../core/phone/bring.ts";
import type { Farm } from "../../core/phone/farm.ts";
import type { Status } from "../../core/phone/status.ts";
import type { PersonRow } from "../../core/phone/store/rows.ts";
import type { LastUse } from "../../core/phone/store/phone.ts";
import type { FarmEntry } from "../../core/phone/sync/session.ts";
import type { Notice } from "../../core/phone/waits.ts";
import { Doorway, type Outcome } from "../shell/doorway.ts";
import { route } from "../shell/router.svelte.ts";
import { t } from "../words/text.ts";
import { saying } from "./saying.svelte.ts";
import type { Envelope } from "./shapes.ts";

const SENT: Status = { kind: "sent", n: 0, of: 0, at: 0, why: "" };
/** A list that is not drawn by then is waited for no longer. */
const MOST_FRAMES = 60;
const MOST_LINKS = 50;
const LINKS: readonly string[] = CHAIN_KINDS;

/** Who is at this phone and which farm is open. */
class Session {
  stage = $state<"starting" | "sign_in" | "farms" | "farm">("starting");
  entry = $state.raw<FarmEntry | null>(null);
  newVersion = $state(false);
  /** All of the farm is here, and not only the list as it was when it was last at rest. */
  whole = $state(false);
  /** A part of the app is not to be had: only the first screen works. */
  lacking = $state(false);
  /** Pictures and recordings that wait on this phone. */
  pictures = $state(0);
  /** All of the first list has been drawn, or is drawn in the frame that comes. */
  listed = false;
  readonly door = new Doorway();
  /** What somebody must be told, until somebody has read it. */
  notices = $state.raw<Notice[]>([]);
  /** Called whenever the farm is another one or has changed: the day on the screen follows it. */
  changed: () => void = () => {};
  #farm = $state.raw<Farm | null>(null);
  #changes = $state(0);
  #held = false;
  #stop: () => void = () => {};

  get farm(): Farm | null {
    void this.#changes;
    return this.#farm;
  }
  get status(): Status {
    return this.farm?.status ?? SENT;
  }
  get unheard(): boolean {
    return this.farm?.unheard ?? false;
  }
  get farmId(): string {
    return this.entry?.id ?? "";
  }
  get zone(): string {
    return this.entry?.zone ?? "UTC";
  }
  events(wanted: (event: Envelope) => boolean): Envelope[] {
    return this.farm?.events(wanted) ?? [];
  }
  /** Whoever's name stands under what is tapped now. */
  get on(): string {
    const id = this.farm?.person;
    const people = [...this.door.users.map(({ person }) => person), this.door.person];
    return people.find((person) => person?.id === id)?.name ?? "";
  }
  /** Who plans: the owner and the family. Whoever helps records, holds and reduces. */
  get plans(): boolean {
    return way(this.role, "ration").record === "any";
  }
  /** Her place here as last heard: it may have been changed since the farm was opened. */
  get #own(): PersonRow | FarmEntry | null {
    return this.farm?.people.find(({ id }) => id === this.farm?.person) ?? this.entry;
  }
  get role(): string {
    return this.#own?.role ?? "";
  }
  /** Her days on this farm. */
  get stay(): Stay {
    return this.#own ?? {};
  }
  /** Whether whoever is on writes anything down: who only reads is shown nothing to write with (`.writes`). */
  get records(): boolean {
    return records(this.role);
  }
  /** By which pack whoever is on looks after the farm; "" for all others. */
  get pack(): string {
    return this.#own?.pack ?? "";
  }
  /** Whether whoever is on may record this kind at all; how much of it may still hang on what stands. */
  may(kind: Kind): boolean {
    return mayWrite(this.role, kind, [], false);
  }
  /** Whether to change these fields of a record that stands. */
  mayChange(kind: Kind, ...fields: string[]): boolean {
    return mayWrite(this.role, kind, fields, true);
  }
  /** Of an undo, what was first recorded decides. */
  mayUndo(id: string, own = true, links = MOST_LINKS): boolean {
    const event = this.farm?.event(id);
    if (!event || !links) return false;
    const hers = own && event.author === this.farm?.person;
    if (LINKS.includes(event.kind)) return this.mayUndo(String(event.data["of"]), hers, links - 1);
    return mayLink(this.role, "void", event.kind, hers);
  }
  who(person: string): string {
    return person === this.farm?.person ? t("you") : this.farm?.nameOf(person) || t("someone");
  }

  async start(): Promise<void> {
    addEventListener("online", () => this.#farm?.schedule.online());
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") this.#farm?.schedule.visible();
      else this.#farm?.schedule.hidden();
    });
    const last = await this.door.lastFarm();
    this.#lookForLost();
    if (last) return this.open(last);
    if (!(await this.door.signedIn())) return void (this.stage = "sign_in");
    const [only, another] = this.door.farms;
    if (only && !another) return this.open(only);
    this.stage = "farms";
  }
  #lookForLost(): void {
    const seen = () => (this.notices = this.door.notices);
    void this.door.lookForLost().then(seen, seen);
  }
  dismiss(notice: Notice): void {
    this.door.dismiss(notice);
    this.notices = this.door.notices;
  }
  async signIn(name: string, password: string): Promise<Outcome> {
    const outcome = await this.door.signIn(name, password);
    if (outcome.ok) await this.in();
    return outcome;
  }
  /** On to the farm she was let in to, to the one that was open, or to her only one. */
  async in(farm = ""): Promise<void> {
    const { farms, person } = this.door;
    const only = farms.length === 1 ? farms[0] : undefined;
    if (!farm && this.#farm && person?.id === this.#farm.person) void this.#farm.schedule.asked();
    else await this.#goOn(farms.find(({ id }) => id === (farm || this.entry?.id)) ?? only);
  }
  /** Who's on: another one of this phone's people, without a password. */
  takeOver(use: LastUse): Promise<void> {
    return this.#goOn(this.door.takeOver(use, this.entry?.id));
  }
  async #goOn(entry: FarmEntry | undefined): Promise<void> {
    if (entry) {
      await this.open(entry);
      return void (location.hash = "#/");
    }
    this.close();
    location.hash = "#/";
    this.stage = "farms";
  }
  async open(entry: FarmEntry): Promise<void> {
    try {
      await this.#open(entry);
    } catch (error) {
      if (!(error instanceof NoSecond)) throw error;
      this.lacking = true;
    }
  }
  async #open(entry: FarmEntry): Promise<void> {
    const farm = await this.door.open(entry, entry.id === this.entry?.id ? this.#farm?.person : "");
    this.close();
    [this.entry, this.#farm] = [entry, farm];
    [this.whole, this.listed] = [farm.picture === null, false];
    this.#stop = farm.subscribe(() => this.#took());
    this.#took();
    this.stage = "farm";
    // The list is on the screen, a pen a frame, before the rest is read.
    for (let frame = 0; !this.whole && !this.listed && !route.parts[0] && frame < MOST_FRAMES; frame++) await drawn();
    await farm.complete();
    if (this.#farm !== farm) return;
    this.whole = true;
    this.#took();
    farm.schedule.start();
  }
  async signOut(what: "sent" | "keep" | "throw_away" = "sent"): Promise<void> {
    if (what === "throw_away") await this.#farm?.throwAway();
    this.close();
    await this.door.signOut(what === "keep");
    location.hash = "";
    this.stage = "sign_in";
  }
  close(): void {
    this.#stop();
    this.#farm?.close();
    [this.#farm, this.entry, saying.toast] = [null, null, null];
    this.#took();
  }
  #took(): void {
    if (this.#held) return;
    this.#changes += 1;
    if (this.#farm?.removed) return void this.#removed(this.#farm);
    if (this.#farm) this.notices = this.door.notices;
    this.changed();
  }
  /** Taken off the farm: nothing of it is here any more, and she is told. */
  async #removed({ farmId }: Farm): Promise<void> {
    this.close();
    await this.door.leaveFarm(farmId);
    this.notices = this.door.notices;
    location.hash = "";
    this.stage = "farms";
  }
  /** Several entries of one tap are one change to look at: at once, or after the frame in which `first` is painted. */
  atOnce(act: () => void, first?: () => void): void {
    this.#held = true;
    try {
      act();
    } finally {
      this.#held = false;
      if (!first) this.#took();
    }
    if (!first) return;
    first();
    void drawn().then(() => this.#took());
  }
}

export const session = new Session();
