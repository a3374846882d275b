/* Sealing: freezes what is to be sent. */

import { sha256Of } from "./seal.js";
import { keep, keepText, readAll } from "./store.js";
import { withBytes } from "./tidy.js";

/* Freezes a seal's content and keeps it to be sent. The bytes go first, by themselves: a record never names bytes that
   aren't there. `alongside` are records that become true with it. One at a time on this phone, so that two tabs don't
   take one place; the very same again is the one that is there. Gives the seal's record. */
export function sealed(content, member, alongside = []) {
  return navigator.locks.request("sealing", () => withBytes(() => frozen(content, member, alongside)));
}

async function frozen(content, member, alongside) {
  const bytes = new TextEncoder().encode(JSON.stringify(content)).buffer;
  const sha256 = await sha256Of(bytes);
  const all = await readAll("seal/");
  const before = all.filter(({ order }) => order === content.id);
  const same = before.find((seal) => seal.sha256 === sha256 && seal.member === member);
  if (!same) await keepText(sha256, bytes);
  if (same?.state === "refused") same.state = "waiting";
  const record = same ?? recordOf(content, member, { sha256, bytes: bytes.byteLength });
  if (!same) {
    record.number = 1 + Math.max(0, ...before.map(({ number }) => number));
    record.key = `seal/${content.id}/${String(record.number).padStart(4, "0")}`;
    record.turn = 1 + Math.max(0, ...all.map(({ turn }) => turn ?? 0)); // its place in the queue, by age
  }
  await keep(record, ...alongside);
  return record;
}

function recordOf(content, member, { sha256, bytes }) {
  return {
    order: content.id,
    member,
    sha256,
    bytes,
    workshop: content.workshop,
    photos: content.photos,
    replies: content.replies.map(({ query }) => query),
    done: 0,
    count: 1 + new Set(content.photos.map((photo) => photo.sha256)).size,
    state: "waiting",
    tries: 0,
    problem: null,
    receipt: null,
  };
}
