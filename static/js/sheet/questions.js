/* The workshop's questions before sending: all of them, each with a place for words. */

import { changed } from "./drafts.js";
import { el, fill } from "./elements.js";
import { isChanged, newPhotos } from "./replied.js";
import { aboutWords, isAboutPhoto, orderOf, placeOf, questionsOf } from "./replies.js";
import { setAside, takeBack } from "./reply_draft.js";
import { say } from "./words.js";

/* `view` is the one of check and send. */
export class QuestionsPlace {
  constructor(view) {
    this.view = view;
    this.element = el("div", {});
    this.about = null;
  }

  /* Shows the questions that wait; one that is being answered stays as it is. */
  show() {
    const { draft } = this.view;
    const order = orderOf(draft);
    const asked = questionsOf(order);
    const about = asked.map(({ id }) => id).join();
    if (about !== this.about) fill(this.element, asked.length > 0 && this.section(order, asked));
    if (this.about === null) setAside(draft).then((aside) => aside && this.element.append(this.earlier(aside)));
    this.about = about;
  }

  section(order, asked) {
    return el(
      "section",
      { class: "questions", "aria-labelledby": "questions-head" },
      el("h2", { id: "questions-head" }, say("workshop_asks", { workshop: order.workshop })),
      asked.map((question) => this.row(order, question)),
    );
  }

  row(order, question) {
    const { draft } = this.view;
    const both = order.sides.length > 1 && ` · ${say(question.side)}`;
    return el(
      "div",
      { class: "question" },
      el("p", {}, el("strong", {}, aboutWords(question, order)), both, el("br"), question.text),
      el("p", { class: "ways" }, this.ways(question)),
      this.wordsField(question),
      isChanged(draft, question) && el("p", { class: "second" }, say("changed_since")),
      !isAboutPhoto(question) &&
        newPhotos(draft, question.side).length > 0 &&
        el("p", { class: "second" }, say("photo_since")),
    );
  }

  // Only the shell in hand has its fields at hand.
  ways(question) {
    const { draft } = this.view;
    if (question.side !== draft.answers.side) return el("span", { class: "second" }, say("other_in_hand"));
    const place = placeOf(question, draft);
    return [
      place !== "check" &&
        place !== "photos" &&
        el("a", { class: "button", href: this.view.hrefOf(place) }, say("look_again")),
      el("a", { class: "button", href: this.view.hrefOf("photos") }, say("show_photo")),
    ];
  }

  wordsField(question) {
    const { draft } = this.view;
    const id = `reply-${question.id}`;
    const input = el("textarea", { class: "input", id, rows: 2, maxlength: 500 });
    input.value = draft.replies?.[question.id] ?? "";
    input.addEventListener("input", () => {
      draft.replies = { ...draft.replies, [question.id]: input.value };
      draft.changing = true;
      changed(draft);
      this.view.showFoot();
    });
    return el("p", { class: "field" }, el("label", { for: id }, say("your_answer")), input);
  }

  // What was being changed of an older revision when the question came.
  earlier(aside) {
    const { draft, go } = this.view;
    const take = () => takeBack(aside, draft).then(() => go(this.view.hrefOf("check")));
    return el(
      "p",
      { class: "notice" },
      say("set_aside"),
      " ",
      el("button", { type: "button", class: "link", onclick: take }, say("take_back")),
    );
  }
}
