/* The key by which this phone sends for its member once the session has ended. It reads nothing, so it may lie here. */

import { asked, NoAnswer } from "./calls.js";
import { drop, keep, read } from "./store.js";

const KEPT = "send_key";

/* This member's key on this phone with the time until which it sends, by the server's word: {token, until}, or null. */
export async function keptKey(member) {
  const kept = await read(KEPT);
  return kept && kept.member === member ? kept : null;
}

/* The text of this member's key, or null. */
export async function keyOf(member) {
  return (await keptKey(member))?.token ?? null;
}

/* Asks for the signed-in member's key. What the phone holds goes along: it stays if it is theirs and lasts, and is
   ended if it is somebody else's. */
export async function askKey(member, csrf) {
  const kept = await read(KEPT);
  const answer = await asked("/api/phone/key", { method: "POST", body: kept?.token ?? "", by: { csrf } });
  if (answer.member !== member || typeof answer.key !== "string") throw new NoAnswer("a key for somebody else");
  await keep({ key: KEPT, member, token: answer.key, until: answer.until });
}

export function dropKey() {
  return drop(KEPT);
}
