import { farmFile } from "../../core/phone/sync/farm_file.ts";
import { session } from "../model/session.svelte.ts";
import { has, t } from "../words/text.ts";

const here = () => `/api/farms/${session.farmId}`;

/** What the server said no with, in our words. */
export function said(code: string): string {
  return t(has(`leaving.${code}`) ? `leaving.${code}` : "leaving.failed");
}

/** "" when it was done, else what to say. */
async function post(path: string, body: Record<string, string>): Promise<string> {
  const reply = await session.door.session.send({ method: "POST", path: here() + path, body: JSON.stringify(body) });
  return reply.ok ? "" : said(reply.failure.code || reply.failure.kind);
}

export function forget(person: string, password: string): Promise<string> {
  return post(`/people/${encodeURIComponent(person)}/erase`, { password });
}

/** Every row on the server, then all of it on this phone. */
export async function closeFarm(name: string, password: string): Promise<string> {
  const no = await post("/close", { name, password });
  if (no) return no;
  // The next answer is that the farm is no more, and the phone lets go of it as it does for everybody.
  await session.farm?.sync();
  return "";
}

export async function take(password: string): Promise<string> {
  const door = session.door;
  await session.farm?.sync();
  await door.session.refresh();
  const reply = await farmFile(door.env, session.farmId, password, door.session.facts?.csrf ?? "");
  if (!reply.ok) return said(reply.failure.code || reply.failure.kind);
  const link = document.createElement("a");
  link.href = URL.createObjectURL(reply.file);
  link.download = `${session.entry?.name ?? "mangerline"}.zip`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  return "";
}
