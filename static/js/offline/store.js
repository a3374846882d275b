/* What the phone keeps. Two stores, version 1 for good: `records` (JSON, by their key) and `bytes` (ArrayBuffers,
   by their SHA-256). Saved means that the transaction is complete: a put can succeed and its transaction still abort
   for want of space. Nothing is awaited inside a transaction. */

import { openDB } from "../../vendor/idb-8.0.4.js";

const NAME = "shankline";
const VERSION = 1;
let opening = null;

function upgrade(database) {
  database.createObjectStore("records", { keyPath: "key" });
  database.createObjectStore("bytes");
}

function letGo(_current, _blocked, event) {
  event.target.close();
  opening = null;
}

function opened() {
  opening ??= openDB(NAME, VERSION, {
    upgrade,
    blocking: letGo,
    terminated: () => {
      opening = null;
    },
  }).catch((fault) => {
    opening = null;
    throw fault;
  });
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

/* Keeps records (each with its `key`), all or none. Rejects when they aren't safely on the disk. */
export function keep(...records) {
  return written("records", (store) => records.map((record) => store.put(record)));
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

/* Keeps an ArrayBuffer under its SHA-256. */
export function keepBytes(sha256, buffer) {
  return written("bytes", (store) => [store.put(buffer, sha256)]);
}

export async function readBytes(sha256) {
  return (await begun("bytes", "readonly")).store.get(sha256);
}

/* The hashes of all bytes that are kept. */
export async function bytesKept() {
  return (await begun("bytes", "readonly")).store.getAllKeys();
}

/* Forgets the bytes with these hashes. */
export function dropBytes(...hashes) {
  return written("bytes", (store) => hashes.map((sha256) => store.delete(sha256)));
}

/* Asks the browser not to clear this site's store by itself; it may say no. */
export async function askToStay() {
  return (await navigator.storage?.persist?.()) ?? false;
}
