/* From a file to a photo of the draft: read at once, shrunk, named by its hash as it will be sent, kept on this phone. */

import { sha256Of } from "../offline/seal.js";
import { keepPhoto } from "../offline/store.js";
import { withBytes } from "../offline/tidy.js";
import { alter } from "./drafts.js";
import { NotAPicture, shrunk, TooLarge } from "./shrink.js";
import { say } from "./words.js";

const MOST_PHOTOS = 20; // of one shell; a seal takes 60 in all

/* Takes a file in as a photo of the shell on `side` of a draft, in place of `before` if there is one. The draft may have
   been put down by the time the photo is ready. Gives words about it for the measurer, "" where all is well. */
export async function takenIn(file, { draft, side, view, before }) {
  try {
    const { bytes, asTaken } = await shrunk(await file.arrayBuffer());
    const photo = { sha256: await sha256Of(bytes), bytes: bytes.byteLength, view, entry: 0 };
    let words = asTaken ? say("photo_as_taken") : "";
    const named = (standing) => {
      const refusal = added(standing, side, photo, before);
      words = refusal || words;
      return !refusal;
    };
    await withBytes(async () => {
      await keepPhoto(photo.sha256, bytes);
      await alter(draft.id, draft.member, named);
    });
    return words;
  } catch (fault) {
    return faultWords(fault, file);
  }
}

/* Takes a photo out of the draft again. */
export function takenOut(photo, { draft, side }) {
  return alter(draft.id, draft.member, (standing) => {
    const answers = answersOf(standing, side);
    answers.photos = (answers.photos ?? []).filter(({ sha256 }) => sha256 !== photo.sha256);
    return true;
  });
}

/* Notes something at a photo of the draft: what was measured in it, or the places so far. */
export function noted(photo, { draft, side }, note) {
  return alter(draft.id, draft.member, (standing) => {
    const here = (answersOf(standing, side).photos ?? []).find(({ sha256 }) => sha256 === photo.sha256);
    if (here) Object.assign(here, note);
    return Boolean(here);
  });
}

function answersOf(draft, side) {
  return draft.second && draft.answers.side !== side && draft.second.answers.side === side
    ? draft.second.answers
    : draft.answers;
}

/* Adds a photo to the answers of one shell; words where it can't be. */
function added(draft, side, photo, before) {
  const answers = answersOf(draft, side);
  const photos = answers.photos ?? [];
  const twin = photos.find(({ sha256 }) => sha256 === photo.sha256);
  if (twin) return say("photo_twice", { view: say(`view_${twin.view}`) });
  if (photos.length >= MOST_PHOTOS && !before) return say("photo_too_many", { most: MOST_PHOTOS });
  answers.photos = [...photos.filter(({ sha256 }) => sha256 !== before?.sha256), photo];
  return "";
}

function faultWords(fault, file) {
  if (fault instanceof TooLarge) return say("photo_too_large");
  if (fault.name === "QuotaExceededError") return say("photo_no_room");
  if (fault instanceof NotAPicture) return say("photo_no_picture", { name: file.name });
  return say("photo_not_kept", { fault: fault.message });
}
