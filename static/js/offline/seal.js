/* Sealing: what is sent is frozen as bytes, and its SHA-256 is its name. */

import { keep, keepBytes, readAll } from "./store.js";

/* SHA-256 of a buffer, in hex. Needs a secure context (https, or this very machine). */
export async function sha256Of(buffer) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", buffer));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/* The seals of one order on this phone, oldest first; of one member only, where one is named. */
export async function sealsOf(orderId, member = null) {
  const seals = (await readAll(`seal/${orderId}/`)).filter((seal) => !member || seal.member === member);
  return seals.sort((a, b) => a.number - b.number);
}

/* Freezes a seal's content and keeps it to be sent. The bytes go first, by themselves: a record never names bytes that
   aren't there. `alongside` are records that become true with it. Gives the seal's record. */
export async function sealed(content, member, alongside = []) {
  const bytes = new TextEncoder().encode(JSON.stringify(content)).buffer;
  const sha256 = await sha256Of(bytes);
  await keepBytes(sha256, bytes);
  const number = (await sealsOf(content.id)).length + 1;
  const record = {
    key: `seal/${content.id}/${String(number).padStart(4, "0")}`,
    order: content.id,
    member,
    number,
    sha256,
    bytes: bytes.byteLength,
    workshop: content.workshop,
    photos: content.photos,
    replies: content.replies.map(({ query }) => query),
    done: 0,
    count: 1 + new Set(content.photos.map(({ sha256 }) => sha256)).size,
    state: "waiting",
    tries: 0,
    problem: null,
    receipt: null,
  };
  await keep(record, ...alongside);
  return record;
}
