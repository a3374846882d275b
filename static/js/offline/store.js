/* What the phone keeps. Two stores, version 1 for good: `records` (JSON, by their key) and `bytes` (ArrayBuffers,
   by their SHA-256). Saved means that the transaction is complete: a put can succeed and its transaction still abort
   for want of space. Nothing is awaited inside a transaction. A reserve is set aside that only text may use: photos can
   never take the last of the room. */

import { openDB } from "../../vendor/idb-8.0.4.js";

const NAME = "shankline";
const VERSION = 1;
const RESERVE = "reserve";
const RESERVE_BYTES = 2_000_000; // a visit's text, its seal and its changes are some 20 kB
const RETRY_MS = 1000;
/* Whether the reserve is set aside: "yes", "no" (there is no room), "soon" while this page hasn't asked. */
export const reserve = { is: "soon" };

let opening = null;
let wasOpen = false;
const listeners = new Set();

/* Calls back when the store was found empty that this page had open before: the browser, or another page, cleared it. */
export function onCleared(listener) {
  listeners.add(listener);
}

function upgrade(database) {
  database.createObjectStore("records", { keyPath: "key" });
  database.createObjectStore("bytes");
  if (wasOpen) for (const listener of listeners) listener();
}

// The browser closed it. Opened anew at once: should it be empty then, the page is told while it still knows what was in it.
// In the middle of clearing, a browser refuses for a while.
function closed() {
  opening = null;
  openAnew();
}

function openAnew() {
  opened().catch(() => setTimeout(openAnew, RETRY_MS));
}

function letGo(_current, _blocked, event) {
  event.target.close();
  closed();
}

function opened() {
  opening ??= openDB(NAME, VERSION, { upgrade, blocking: letGo, terminated: closed }).then(
    (database) => {
      wasOpen = true;
      return database;
    },
    (fault) => {
      opening = null;
      throw fault;
    },
  );
  return opening;
}

/* A transaction on one store; a connection that the browser has closed meanwhile is opened anew, once. */
async function begun(store, mode) {
  const options = mode === "readwrite" ? { durability: "strict" } : undefined;
  try {
    return (await opened()).transaction(store, mode, options);
  } catch (fault) {
    if (fault.name !== "InvalidStateError") throw fault;
    opening = null;
    return (await opened()).transaction(store, mode, options);
  }
}

// Committed by ourselves: a transaction that is left to commit by itself is dropped with a page that goes right after.
async function written(store, ask) {
  const transaction = await begun(store, "readwrite");
  for (const request of ask(transaction.store)) request.catch(() => {}); // told by the transaction instead
  try {
    transaction.commit();
  } catch {
    // aborted already: what it comes to says why
  }
  await transaction.done;
}

/* Writes text; where there is no room, in that of the reserve. */
async function writtenAnyway(store, ask) {
  try {
    await written(store, ask);
  } catch (fault) {
    if (fault.name !== "QuotaExceededError") throw fault;
    await dropBytes(RESERVE);
    await written(store, ask);
  }
}

/* Keeps records (each with its `key`), all or none. Rejects when they aren't safely on the disk. */
export function keep(...records) {
  return writtenAnyway("records", (store) => records.map((record) => store.put(record)));
}

/* Forgets the records with these keys. */
export function drop(...keys) {
  return written("records", (store) => keys.map((key) => store.delete(key)));
}

/* The record with this key, or undefined. */
export async function read(key) {
  return (await begun("records", "readonly")).store.get(key);
}

/* All records whose key begins with this text, by key. */
export async function readAll(beginning) {
  const range = IDBKeyRange.bound(beginning, `${beginning}\uffff`);
  return (await begun("records", "readonly")).store.getAll(range);
}

/* Keeps an ArrayBuffer under its SHA-256: text, a seal's. */
export function keepText(sha256, buffer) {
  return writtenAnyway("bytes", (store) => [store.put(buffer, sha256)]);
}

/* Keeps an ArrayBuffer under its SHA-256: a photo's. Rejects with a QuotaExceededError once only the reserve is left. */
export async function keepPhoto(sha256, buffer) {
  if (!(await reserved())) throw new DOMException("", "QuotaExceededError");
  await written("bytes", (store) => [store.put(buffer, sha256)]);
}

/* Sets the reserve aside where it isn't. Gives whether it is. */
export async function reserved() {
  const isThere = await (await begun("bytes", "readonly")).store.getKey(RESERVE);
  reserve.is = isThere || (await setAside()) ? "yes" : "no";
  return reserve.is === "yes";
}

async function setAside() {
  const noise = new Uint8Array(RESERVE_BYTES); // nothing that a database could make smaller
  for (let at = 0; at < noise.length; at += 65536) crypto.getRandomValues(noise.subarray(at, at + 65536));
  try {
    await written("bytes", (store) => [store.put(noise.buffer, RESERVE)]);
    return true;
  } catch (fault) {
    if (fault.name !== "QuotaExceededError") throw fault;
    return false;
  }
}

export async function readBytes(sha256) {
  return (await begun("bytes", "readonly")).store.get(sha256);
}

/* The hashes of all bytes that are kept. */
export async function bytesKept() {
  const keys = await (await begun("bytes", "readonly")).store.getAllKeys();
  return keys.filter((key) => key !== RESERVE);
}

/* Forgets the bytes with these hashes. */
export function dropBytes(...hashes) {
  return written("bytes", (store) => hashes.map((sha256) => store.delete(sha256)));
}

/* Asks the browser not to clear this site's store by itself; it may say no. */
export async function askToStay() {
  return (await navigator.storage?.persist?.()) ?? false;
}
