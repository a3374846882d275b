/** Asks before a page is left whose form says something that isn't saved: typed now, or before it was shown again. */

export function attend(form, page) {
  let unsaved = "unsaved" in form.dataset;
  form.addEventListener("input", () => { unsaved = true; });
  form.addEventListener("submit", () => { unsaved = false; }); // whatever its buttons do, the form goes along
  page.addEventListener("beforeunload", (event) => {
    if (unsaved) event.preventDefault();
  });
}

const form = document.querySelector("form.keeps-typed");
if (form) attend(form, window);
