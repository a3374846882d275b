/* Lets go of bytes that nothing on this phone needs any more: removed photos, and what left with its order. */

import { bytesKept, dropBytes, readAll } from "./store.js";

const LOCK = "bytes";
const HASH = /[0-9a-f]{64}/g;

/* Runs `act`, which keeps bytes and then the record that names them; nothing is tidied away in between. */
export function withBytes(act) {
  return navigator.locks.request(LOCK, { mode: "shared" }, act);
}

/* Drops the bytes that no draft, seal or set-aside draft of anybody names. Does nothing while bytes are being kept. */
export function tidy() {
  return navigator.locks.request(LOCK, { ifAvailable: true }, async (lock) => {
    if (!lock) return;
    const kept = await bytesKept();
    const records = await Promise.all(["draft/", "seal/", "aside/"].map(readAll));
    const needed = new Set(JSON.stringify(records).match(HASH));
    await dropBytes(...kept.filter((sha256) => !needed.has(sha256)));
  });
}
