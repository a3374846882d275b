/* What the server has of what this phone counts as received. A server restored from an older backup lacks some of it,
   and gets it again. What it has had for 14 days, by its own clock, leaves the phone. */

import { asked, NoAnswer } from "./calls.js";
import { strike } from "./held.js";
import { drop, keep, readAll } from "./store.js";

const SLICE = 40;
const KEPT_MS = 14 * 86_400_000;

/* Asks about all that this member's phone counts as received. What is missing there waits again; what has been there
   for long is dropped here. Throws NoAnswer, SignedOut or Refused. */
export async function heal(member, csrf) {
  const seals = (await readAll("seal/")).filter((seal) => seal.member === member && seal.state === "received");
  for (let from = 0; from < seals.length; from += SLICE) await healSome(seals.slice(from, from + SLICE), csrf);
}

async function healSome(seals, csrf) {
  const photosOf = (seal) => (seal.photos ?? []).map(({ sha256 }) => sha256);
  const list = {
    seals: seals.map(({ order, sha256 }) => ({ order, sha256 })),
    photos: [...new Set(seals.flatMap(photosOf))],
  };
  const body = new TextEncoder().encode(JSON.stringify(list));
  const told = await asked("/api/phone/have", { method: "POST", body, by: { csrf } });
  if (!Array.isArray(told.seals) || !Array.isArray(told.photos)) throw new NoAnswer("no have-list");
  const here = new Set([...told.seals, ...told.photos]);
  for (const seal of seals) {
    if ([seal.sha256, ...photosOf(seal)].every((sha256) => here.has(sha256))) continue;
    await keep({ ...seal, state: "waiting", done: 0, problem: null });
  }
  await dropOld(seals, Date.parse(told.now));
}

/* Whether nothing is left to do about a seal here: the server has it, and made something of it. */
function isSettled({ state, receipt }) {
  return state === "received" && receipt?.outcome !== "kept";
}

/* Drops the orders whose every seal the server has had for long. Both times are the server's: this phone's clock may be
   years off. */
function dropOld(seals, now) {
  const isOld = (seal) => isSettled(seal) && now - Date.parse(seal.receipt?.received_at) > KEPT_MS;
  return dropOrders(seals, isOld);
}

/* Drops what this member's phone counts as received and settled, for signing out. What isn't stays. */
export async function dropReceived(member) {
  await dropOrders((await readAll("seal/")).filter((seal) => seal.member === member), isSettled);
}

/* Drops what this phone holds of each of these seals' orders, if all of it `mayGo` and nobody is changing it; its bytes
   go with the next tidying. */
async function dropOrders(seals, mayGo) {
  const [{ member }] = seals.length ? seals : [{}];
  for (const order of new Set(seals.map((seal) => seal.order))) {
    const all = await Promise.all([`seal/${order}/`, `draft/${order}`, `aside/${order}/`].map(readAll));
    const [own, drafts, aside] = all.map((records) => records.filter((record) => record.member === member));
    if (!own.every(mayGo) || aside.length || drafts.some(({ changing }) => changing)) continue;
    strike(member, [order]);
    await drop(
      ...own.map(({ key }) => key),
      ...drafts.flatMap(({ key, visit }) => [key, `visit/${visit.id}`]),
    );
  }
}
