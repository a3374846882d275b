/* What could not be sent, as one file that the office takes in. Its first line is JSON: which parts follow, how long
   each is and its SHA-256; then the parts' bytes, one after the other. DEVELOPERS.md describes it. */

import { readBytes } from "./store.js";

/* A Blob with these seals and their photos. What the phone has lost of them is left out. */
export async function parcelOf(seals, clinic) {
  const photos = new Set(seals.flatMap((seal) => (seal.photos ?? []).map(({ sha256 }) => sha256)));
  const named = [
    ...[...photos].map((sha256) => ({ kind: "photo", sha256 })),
    ...seals.map(({ order, sha256 }) => ({ kind: "seal", order, sha256 })),
  ];
  const parts = [];
  for (const part of named) {
    const bytes = await readBytes(part.sha256);
    if (bytes) parts.push([{ ...part, bytes: bytes.byteLength }, bytes]);
  }
  const head = { schema: "shankline-parcel-1", clinic, parts: parts.map(([part]) => part) };
  return new Blob([JSON.stringify(head), "\n", ...parts.map(([, bytes]) => bytes)]);
}
