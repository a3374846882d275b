/* One member's drafts on this phone, each with the state that a person sees. */

import { inTurn } from "../offline/seal.js";
import { readAll } from "../offline/store.js";
import { draftsOf } from "./drafts.js";
import { phone } from "./phone_data.js";
import { stateOf } from "./state.js";

/* [{draft, seals, state, word, says, seal, …}], of everything that this member has here. */
export async function draftStates(member) {
  const [drafts, visits, all] = await Promise.all([draftsOf(member), readAll("visit/"), readAll("seal/")]);
  const planned = new Map(visits.map((visit) => [visit.id, visit]));
  const own = inTurn(all, member);
  return drafts.map((draft) => {
    const seals = own.filter(({ order }) => order === draft.id);
    return { draft, seals, ...stateOf(draft, seals, phone, planned.get(draft.visit.id)) };
  });
}
