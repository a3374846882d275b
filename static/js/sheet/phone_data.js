/* What this phone knows from the server: who is signed in, the workshops with their catalogues, the visits and orders,
   and the rule book. Kept in the store, so that the sheet opens with no signal. */

import { asked, NoAnswer, Refused, SignedOut } from "../offline/calls.js";
import { heal } from "../offline/have_list.js";
import { askKey } from "../offline/send_key.js";
import { keep, read } from "../offline/store.js";
import { tidy } from "../offline/tidy.js";
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

const BOOK = new URL("../../book.json", import.meta.url);

/* Takes what was kept at the last signal. */
export async function takeKept() {
  const [kept, book] = await Promise.all([read("phone"), read("book")]);
  if (kept) Object.assign(phone, kept.phone);
  if (book) phone.book = book.book;
  if (book?.build !== sheet.build) await fetchBook();
}

async function fetchBook() {
  try {
    const book = await asked(BOOK);
    phone.book = book;
    await keep({ key: "book", build: sheet.build, book });
  } catch (fault) {
    if (!(fault instanceof NoAnswer) && !phone.book) throw fault;
  }
}

let asking = null;
let greeted = null;

/* Asks the server anew, keeps what it says and gives {member, csrf} for sending. Throws NoAnswer or SignedOut. */
export function askServer() {
  asking ??= askedAnew().finally(() => {
    asking = null;
  });
  return asking;
}

async function askedAnew() {
  try {
    const { csrf, member, organisation, workshops, visits, orders, cards } = await asked("/api/phone");
    const fresh = { member, organisation, workshops, visits, orders, cards };
    Object.assign(phone, fresh, { signed_out: false, no_signal_since: null });
    await keep({ key: "phone", phone: fresh });
    await greet(member.id, csrf);
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
    await heal(member, csrf);
    await tidy();
  } catch (fault) {
    greeted = null;
    if (![NoAnswer, Refused, SignedOut].some((kind) => fault instanceof kind)) throw fault;
  }
}
