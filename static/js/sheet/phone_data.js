/* What this phone knows from the server: who is signed in, the workshops with their catalogues, the visits and orders,
   and the rule book. Kept in the store, so that the sheet opens with no signal. */

import { asked, NoAnswer, Refused, SignedOut } from "../offline/calls.js";
import { askKey } from "../offline/send_key.js";
import { drop, keep, read, readAll } from "../offline/store.js";
import { tidy } from "../offline/tidy.js";
import { haveList, Later, NotHere } from "./later.js";
import { sheet } from "./words.js";

export const phone = {
  member: null,
  organisation: null,
  workshops: [],
  visits: [],
  orders: [],
  cards: [],
  book: null,
  signed_out: false,
  no_signal_since: null,
};

/* The rule book, its sentences in the page's language. */
const BOOK = new URL(`../../book-${sheet.language}.json`, import.meta.url);

/* This build's rule book, as it was kept, else asked for. It comes after the first view, or when a view asks for it; until
   then `phone.book` is the one before, or none. */
export const book = new Later(async () => {
  const kept = await read("book");
  phone.book ??= kept?.book;
  if (kept?.build === sheet.build && kept.language === sheet.language) return kept.book;
  const fetched = await asked(BOOK);
  phone.book = fetched;
  await keep({ key: "book", build: sheet.build, language: sheet.language, book: fetched });
  return fetched;
});

/* Whose id the server left here with the last signing in; undefined where none is told. */
function lastSignedIn() {
  return /(?:^|; )(?:__Host-)?member=([^;]+)/.exec(document.cookie)?.[1];
}

/* Takes what was kept at the last signal, unless somebody else has signed in since. */
export async function takeKept() {
  const reading = read("phone");
  const now = lastSignedIn(); // the browser's own process answers that, which takes as long as the store
  const kept = await reading;
  if (kept && now && kept.phone.member?.id !== now) await drop("phone");
  else if (kept) Object.assign(phone, kept.phone);
}

/* Keeps once more what this page knows, after the store was cleared; the rest is asked for with the next signal. */
export async function keepAnew() {
  greeted = null;
  const { member, organisation, workshops, visits, orders, cards } = phone;
  const records = [
    member && { key: "phone", phone: { member, organisation, workshops, visits, orders, cards } },
    phone.book && { key: "book", build: book.here && sheet.build, book: phone.book },
  ];
  await keep(...records.filter(Boolean));
}

let asking = null;
let learning = null;
let greeted = null;

/* Asks the server anew, keeps what it says and gives {member, csrf} for sending. Throws NoAnswer or SignedOut. */
export function askServer() {
  asking ??= askedAnew().finally(() => {
    asking = null;
  });
  return asking;
}

/* The same, without waiting for what follows from the answer. */
export function learnPhone() {
  askServer().catch(() => {}); // told by what is waited for
  return learning;
}

async function askedAnew() {
  learning = learned();
  const told = await learning;
  await greet(told.member.id, told.csrf);
  return told;
}

async function learned() {
  try {
    const { csrf, member, organisation, workshops, visits, orders, cards } = await asked("/api/phone");
    const fresh = { member, organisation, workshops, visits, orders, cards };
    Object.assign(phone, fresh, { signed_out: false, no_signal_since: null });
    await keep({ key: "phone", phone: fresh });
    return { member, csrf };
  } catch (fault) {
    if (fault instanceof SignedOut) phone.signed_out = true;
    if (fault instanceof NoAnswer) phone.no_signal_since ??= new Date();
    throw fault;
  }
}

/* Once for each opening of the page: the key to send by, and what the server has of what was received. What goes wrong
   here is made good at the next opening, and keeps nobody from working. */
async function greet(member, csrf) {
  if (greeted === member) return;
  greeted = member;
  try {
    await askKey(member, csrf);
    if ((await readAll("seal/")).length) await (await haveList.asked()).heal(member, csrf);
    await tidy();
  } catch (fault) {
    greeted = null;
    if (![NoAnswer, NotHere, Refused, SignedOut].some((kind) => fault instanceof kind)) throw fault;
  }
}
