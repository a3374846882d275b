/* What the first view does without. It is asked for when it is needed, else once the worker keeps it, and asked for again
   for as long as it doesn't come: with no signal yet, or when the link was cut. project/bundle.py makes the scripts. */

import { settled } from "../offline/app.js";

const FIRST_WAIT_MS = 500;
const LONGEST_WAIT_MS = 30_000;

/* It can't be had now. */
export class NotHere extends Error {}

// Until a signal may have come back, at the longest for so long.
function pause(wait_ms) {
  return new Promise((resolve) => {
    setTimeout(resolve, wait_ms);
    addEventListener("online", resolve, { once: true });
  });
}

/* One thing that comes later; `here` is it, null until it has come. */
export class Later {
  here = null;
  asking = null;
  tries = 0;

  /* `load` asks for it; what it is given makes another address of each try. */
  constructor(load) {
    this.load = load;
  }

  /* Asks once. Throws NotHere where it can't be had now. */
  async asked() {
    if (this.here) return this.here;
    this.asking ??= this.load(this.tries ? `?try=${this.tries}` : "").then(
      (module) => {
        this.here ??= module;
        return this.here;
      },
      (fault) => {
        this.tries += 1;
        this.asking = null;
        throw new NotHere(fault.message);
      },
    );
    return this.asking;
  }

  /* Resolves once it is there, however long that takes. */
  async come() {
    for (let wait_ms = FIRST_WAIT_MS; ; wait_ms = Math.min(2 * wait_ms, LONGEST_WAIT_MS)) {
      try {
        return await this.asked();
      } catch {
        await pause(wait_ms);
      }
    }
  }
}

export const reckoning = new Later((again) => import("./reckoning.js" + again));
export const pictures = new Later((again) => import("./pictures.js" + again));

// What draws and reckons by itself waits for both.
async function withBoth(coming) {
  const [module] = await Promise.all([coming, reckoning.asked(), pictures.asked()]);
  return module;
}

export const outbox = new Later((again) => import("../offline/outbox.js" + again));
export const readying = new Later((again) => import("./readiness.js" + again));
export const saving = new Later((again) => import("./save_file.js" + again));
export const otherLanguage = new Later((again) => import("../offline/other_language.js" + again));
export const haveList = new Later((again) => import("../offline/have_list.js" + again));
export const replyDraft = new Later((again) => withBoth(import("./reply_draft.js" + again)));

/* Views and controls, each its class. */
export const checkView = new Later((again) =>
  withBoth(import("./check_and_send.js" + again)).then(({ CheckView }) => CheckView),
);
export const signOutView = new Later((again) => import("./sign_out.js" + again).then(({ SignOutView }) => SignOutView));
export const sheetParts = new Later((again) => import("./parts_panel.js" + again));
export const cardChooser = new Later((again) => import("./card_chooser.js" + again));
export const enlarging = new Later((again) => withBoth(import("./enlarged.js" + again)));
export const controls = {
  marks: new Later((again) => withBoth(import("./marks.js" + again)).then(({ MarksControl }) => MarksControl)),
  photos: new Later((again) => withBoth(import("./photos.js" + again)).then(({ PhotosControl }) => PhotosControl)),
  points: new Later((again) => withBoth(import("./points.js" + again)).then(({ PointsControl }) => PointsControl)),
  rows: new Later((again) => import("./rows.js" + again).then(({ RowsControl }) => RowsControl)),
};

/* Calls back whenever one of these that wasn't here has come, as long as `signal` lasts. */
export function whenCome(things, signal, act) {
  for (const thing of things) if (!thing.here) thing.come().then(() => signal.aborted || act());
}

/* The same for what can wait until the worker keeps them: it is bringing them already. */
export function whenKept(things, signal, act) {
  settled.then(() => whenCome(things, signal, act));
}

/* Does something with a thing that likely is here; where it can't be had now, nothing happens. */
export function withLater(thing, act) {
  return thing.asked().then(act, () => {});
}

/* Brings everything, one after the other, so that what is in hand has the link and the processor first. */
export async function bringRest() {
  for (const one of [reckoning, pictures, readying, saving, outbox, haveList, checkView, replyDraft, enlarging, sheetParts, cardChooser, ...Object.values(controls), signOutView, otherLanguage]) await one.come();
}

/* Sends all that waits, as offline/outbox.js does it, once that is there. */
export async function flush(signedIn) {
  return (await outbox.come()).flush(signedIn);
}
