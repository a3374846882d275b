/** The button that copies the handout's link; without the clipboard there is none, and the text can be selected. */

const link = document.querySelector("#link");
const button = document.querySelector("#copy");
const copied = document.querySelector("#copied");

async function copy() {
  try {
    await navigator.clipboard.writeText(link.value);
    button.textContent = copied.textContent = button.dataset.copied;
  } catch {
    link.focus();
    link.select();
  }
}

link.addEventListener("focus", () => link.select());
button.hidden = !navigator.clipboard;
button.addEventListener("click", copy);
