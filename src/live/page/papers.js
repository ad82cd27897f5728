// Papers to print, to send and to keep: made when they are asked for.

import { element, say } from "./dom.js";
import { home } from "./home.js";

const PAPERS = [
  ["crew-map.pdf", "Crew map", "The floor to work by, with its schedules"],
  ["customer-drawing.pdf", "Customer drawing", "What was found, in plain words"],
  ["proposal.pdf", "Proposal", "The paper that the customer signs"],
  ["field-sheet.pdf", "Field sheet", "A form for another visit"],
  ["photos.pdf", "Photos", "The crew's sheets of photos"],
];

// Gives a file away: by the share sheet where there is one, else as a download.
export async function give(name, blob) {
  const file = new File([blob], name, { type: blob.type });
  if (matchMedia("(pointer: coarse)").matches && navigator.canShare?.({ files: [file] })) {
    try { await navigator.share({ files: [file], title: name }); return; } catch (error) {
      if (error.name === "AbortError") return;
    }
  }
  const link = element("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

// Puts a text on the clipboard. A page that came over a network unencrypted has none, and marks the text for the browser to copy.
async function copied(text) {
  if (navigator.clipboard) { await navigator.clipboard.writeText(text); return; }
  const box = element("textarea");
  box.value = text;
  document.body.append(box);
  box.select();
  const done = document.execCommand("copy");
  box.remove();
  if (!done) throw new Error("this browser gives no clipboard");
}

export class Papers {
  // `told` gives what is wrong with photos and logo, `look` asks for it anew.
  constructor({ body, state, told, look }) {
    Object.assign(this, { body, state, told, look });
    this.making = null;
  }

  draw() {
    const lacking = this.told();
    this.body.replaceChildren();
    if (lacking.length) this.body.append(element("p", { className: "ask", text: `Made without ${lacking.length === 1 ? "a picture that is" : `${lacking.length} pictures that are`} named below.` }));
    for (const [name, label, what] of PAPERS) this.row(label, `${what}. PDF`, name, () => home.paper(name));
    if (lacking.length) this.body.append(element("h2", { text: "Pictures that papers can't show" }), ...lacking);
    this.body.append(element("h2", { text: "The sketch itself" }));
    for (const [name, label, what, make] of home.files(this.state())) this.row(label, what, name, make);
    const copy = element("button", { text: "Copy the sketch as text", className: "full", click: () => this.copy() });
    copy.id = "ui-copy";
    this.body.append(copy);
    this.body.append(element("p", { className: "ask" }), element("small", { text: "For estimating; nothing here is an engineering opinion." }));
  }

  // The text of the sketch, to be pasted elsewhere.
  async copy() {
    try {
      const { text } = await home.ask("api/text");
      await copied(text);
      say("The sketch is copied; paste it where it is wanted.");
    } catch (error) { say(`The sketch can't be copied: ${error.message}`, true); }
  }

  row(label, what, name, make) {
    const button = element("button", { className: "row", click: () => this.make(name, label, make) });
    const head = element("span");
    head.append(element("b", { text: label }), element("small", { text: what }));
    button.append(head, element("span", { text: this.making === name ? "…" : "↓" }));
    button.dataset.paper = name;
    button.disabled = !!this.making;
    this.body.append(button);
  }

  async make(name, label, make) {
    if (this.making) return;
    this.making = name;
    this.draw();
    say(`${label} is being made.`);
    try {
      const blob = await make();
      const stem = this.state().name.replace(/\.ya?ml$/, "");
      const papers = PAPERS.some(([paper]) => paper === name);
      await give(papers ? `${stem}-${name}` : name, blob);
      await this.look();
      say(`${label} is ready.${papers && this.told().length ? " What papers can't show is said below them." : ""}`);
    } catch (error) { say(`${label}: ${error.message}`, true); }
    this.making = null;
    this.draw();
  }
}
