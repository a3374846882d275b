/* What goes into a seal. */

import { phone } from "./phone_data.js";
import { sheet } from "./words.js";

/* The hash that a correction follows: of the last seal that wasn't refused. */
function parentOf(seals) {
  return seals.findLast(({ state }) => state !== "refused")?.sha256 ?? null;
}

/* A seal's content for a draft whose situation is sendable. */
export function sealOf(draft, { entry, workshop }, seals) {
  const { id, reference, initials } = draft.visit;
  return {
    schema: "shankline-seal-1",
    id: draft.id,
    parent_sha256: parentOf(seals),
    visit: { id, reference, initials },
    workshop: workshop.id,
    catalogue_version: workshop.catalogue_version,
    book_sha256: phone.book.sha256,
    sheet_build: sheet.build,
    need_by: draft.answers.need_by || null,
    deliver_to: draft.answers.deliver_to?.trim() || null,
    entries: [entry],
    photos: [],
  };
}

/* Whether a draft says just what its last seal said. */
export function sameAsSealed(draft, { entry, workshop }) {
  const said = ({ entries, workshop: id, need_by, deliver_to }) => JSON.stringify([entries, id, need_by, deliver_to]);
  if (!draft.sealed_content || !workshop) return false;
  return said(draft.sealed_content) === said(sealOf(draft, { entry, workshop }, []));
}
