/* Seals on this phone: what is sent, frozen as bytes whose SHA-256 is its name. */

import { keep, readAll } from "./store.js";

/* SHA-256 of a buffer, in hex. Needs a secure context (https, or this very machine). */
export async function sha256Of(buffer) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", buffer));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/* The seals of one order on this phone, oldest first; of one member only, where one is named. */
export async function sealsOf(orderId, member = null) {
  return inTurn(await readAll(`seal/${orderId}/`), member);
}

/* Seals oldest first; of one member only, where one is named. */
export function inTurn(seals, member = null) {
  return seals.filter((seal) => !member || seal.member === member).sort((a, b) => a.number - b.number);
}

/* Makes what was refused wait again, a seal or a visit, for the button beside it. */
export async function tryAgain(item) {
  await keep({ ...item, state: "waiting" });
}
