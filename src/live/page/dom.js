// What every part of the page uses: elements, and a word to the reader.

export const SVG = "http://www.w3.org/2000/svg";

export const $ = (id) => document.getElementById("ui-" + id);

// An element with a text and a few properties.
export function element(name, { id, text, className, click, pressed, role } = {}) {
  const el = document.createElement(name);
  if (name === "button") el.type = "button";
  if (id) el.id = "ui-" + id;
  if (text !== undefined) el.textContent = text;
  if (className) el.className = className;
  if (role) el.setAttribute("role", role);
  if (pressed !== undefined) el.setAttribute("aria-pressed", String(pressed));
  if (click) el.addEventListener("click", click);
  return el;
}

let silence;
// A word to the reader that goes away by itself.
export function say(text, wrong = false) {
  $("say").textContent = text;
  $("say").classList.toggle("wrong", wrong);
  clearTimeout(silence);
  silence = setTimeout(() => { $("say").textContent = ""; }, wrong ? 7000 : 4000);
}
