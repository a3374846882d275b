/* What this phone knows from the server: who is signed in, the workshops with their catalogues, the visits and orders,
   and the rule book. Kept in the store, so that the sheet opens with no signal. */

import { asked, NoAnswer, SignedOut } from "../offline/calls.js";
import { keep, read } from "../offline/store.js";
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

/* Asks the server anew, keeps what it says and gives {member, csrf} for sending. Throws NoAnswer or SignedOut. */
export async function askServer() {
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
