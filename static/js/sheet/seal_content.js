/* What goes into a seal, and how its draft stands after it. */

import { changed, keepNow } from "./drafts.js";
import { phone } from "./phone_data.js";
import { repliesOf } from "./replied.js";
import { orderOf } from "./replies.js";
import { same } from "./same.js";
import { shellsOf } from "./second_leg.js";
import { sheet } from "./words.js";

/* The hash that a correction follows: of what waits here to be sent, else of the newest revision that this phone knows
   of, its own or another phone's. */
function parentOf(draft, seals) {
  const last = seals.findLast(({ state }) => state !== "refused");
  if (last?.state === "waiting") return last.sha256;
  const onServer = orderOf(draft);
  const own = last?.receipt?.order?.revision ?? 0;
  if (onServer && onServer.revision > own) return onServer.seal_sha256;
  return (own ? last.sha256 : (draft.parent_sha256 ?? last?.sha256)) ?? null;
}

/* The photos as a seal names them, each with the shell it shows. */
function photosOf(shells) {
  return shells.flatMap(({ photos }, place) =>
    photos.map(({ sha256, bytes, view, measured }) => ({
      ...{ sha256, bytes, view, entry: place },
      ...(measured && { measured }),
    })),
  );
}

/* A seal's content for a draft whose situation is sendable. */
export function sealOf(draft, { entry, workshop }, seals) {
  const { id, reference, initials } = draft.visit;
  const shells = shellsOf(draft, entry);
  return {
    schema: "shankline-seal-1",
    id: draft.id,
    parent_sha256: parentOf(draft, seals),
    visit: { id, reference, initials },
    workshop: workshop.id,
    catalogue_version: workshop.catalogue_version,
    book_sha256: phone.book.sha256,
    sheet_build: sheet.build,
    need_by: draft.answers.need_by || null,
    deliver_to: draft.answers.deliver_to?.trim() || null,
    entries: shells.map((shell) => shell.entry),
    photos: photosOf(shells),
    replies: repliesOf(draft),
  };
}

/* Whether a draft says just what its last seal said. */
export function sameAsSealed(draft, { entry, workshop }) {
  const said = ({ entries, workshop: id, need_by, deliver_to, photos }) => [
    entries,
    id,
    need_by || null,
    deliver_to || null,
    photos ?? [],
  ];
  if (!draft.sealed_content || !workshop) return false;
  if (repliesOf(draft).length) return false;
  return same(said(draft.sealed_content), said(sealOf(draft, { entry, workshop }, [])));
}

// What a draft says, without where it is and how it stands.
function saidIn({ at, kept_at, writes, changing, sealed_content, ...rest }) {
  return rest;
}

/* A draft was sealed and kept as this copy says. What was changed while that was written is not in the seal: it stays a
   change, and is kept over the copy. */
export async function settle(draft, asSealed) {
  draft.sealed_content = asSealed.sealed_content;
  draft.changing = !same(saidIn(draft), saidIn(asSealed));
  if (!draft.changing) return;
  changed(draft);
  await keepNow();
}
