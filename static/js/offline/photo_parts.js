/* Sends one photo in parts. What the server has already is not sent again; a cut link costs at most the part in flight.
   Only an answer that says "kept" or "set_aside" of this very hash ends it. */

import { asked, NoAnswer, Refused } from "./calls.js";
import { readBytes } from "./store.js";

const PART = 256 * 1024;
const ACCOUNTED = new Set(["kept", "set_aside"]);

/* Throws NoAnswer (try later), SignedOut, or Refused; `lost` where the bytes are no longer on this phone. */
export async function sendPhoto(sha256, csrf) {
  const address = `/api/photos/${sha256}`;
  let standing = await asked(address);
  if (ACCOUNTED.has(standing.state)) return;
  const bytes = await readBytes(sha256);
  if (!bytes) throw new Refused(0, { lost: "photo" });
  for (let tries = 0; !ACCOUNTED.has(standing.state); tries += 1) {
    if (tries > 4 + 2 * Math.ceil(bytes.byteLength / PART)) throw new NoAnswer("the photo makes no headway");
    standing = await sendPart(address, bytes, standing.have ?? 0, csrf);
    if (standing.sha256 !== sha256) throw new NoAnswer("an answer about another photo");
  }
}

async function sendPart(address, bytes, have, csrf) {
  try {
    return await asked(`${address}/parts/${have}?bytes=${bytes.byteLength}`, {
      method: "PUT",
      body: bytes.slice(have, have + PART),
      headers: { "Content-Type": "application/octet-stream", "X-CSRFToken": csrf },
    });
  } catch (fault) {
    // The server knows better how far it is (409), or what it had put together was not this photo (422): from there.
    if (fault instanceof Refused && [409, 422].includes(fault.status)) {
      return { sha256: address.split("/").at(-1), state: "partial", have: fault.problem.have ?? 0 };
    }
    throw fault;
  }
}
