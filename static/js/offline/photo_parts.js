/* Sends one photo in parts. What the server has already is not sent again; a cut link costs at most the part in flight.
   Only an answer that says "kept" or "set_aside" of this very hash ends it. */

import { asked, NoAnswer, Refused } from "./calls.js";
import { sha256Of } from "./seal.js";
import { readBytes } from "./store.js";

const PART = 256 * 1024;
const ACCOUNTED = new Set(["kept", "set_aside"]);
// The server has another count of what is here (409), what it put together was not this photo (422), or the part came
// cut (400): it is asked how far it is, and sending goes on from there.
const GO_ON_FROM = new Set([400, 409, 422]);

/* Sends for whom `by` names. Throws NoAnswer (try later), SignedOut, or Refused; `lost` where the bytes are no longer on
   this phone as they were. */
export async function sendPhoto(sha256, by) {
  let have = await haveOf(sha256, by);
  if (have === null) return;
  const bytes = await readBytes(sha256);
  if (!bytes || (await sha256Of(bytes)) !== sha256) throw new Refused(0, { lost: "photo" });
  const most = 4 + 2 * Math.ceil(bytes.byteLength / PART);
  let refusal = null;
  for (let tries = 0; tries < most && have !== null; tries += 1) {
    try {
      have = await sendPart(sha256, bytes, have, by);
    } catch (fault) {
      if (!(fault instanceof Refused) || !GO_ON_FROM.has(fault.status)) throw fault;
      refusal = fault;
      have = await haveOf(sha256, by);
    }
  }
  if (have === null) return;
  throw refusal?.status === 422 ? refusal : new NoAnswer("the photo makes no headway");
}

/* The byte to go on from; null once the photo is accounted for. */
async function haveOf(sha256, by) {
  return headway(sha256, await asked(`/api/photos/${sha256}`, { by }));
}

function headway(sha256, standing) {
  if (standing.sha256 !== sha256) throw new NoAnswer("an answer about another photo");
  return ACCOUNTED.has(standing.state) ? null : (standing.have ?? 0);
}

async function sendPart(sha256, bytes, have, by) {
  const standing = await asked(`/api/photos/${sha256}/parts/${have}?bytes=${bytes.byteLength}`, {
    method: "PUT",
    body: bytes.slice(have, have + PART),
    headers: { "Content-Type": "application/octet-stream" },
    by,
  });
  return headway(sha256, standing);
}
