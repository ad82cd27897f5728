// Large keys for a length, a percentage or a number.

const pad = document.getElementById("ui-keys-pad");
const shown = document.getElementById("ui-keys-shown");
const label = document.getElementById("ui-keys-label");
const dialog = document.getElementById("ui-keys");

const BACK = { key: "back", text: "⌫", say: "Take back the last key" };
const SIGN = { key: "minus", text: "±", say: "Above or below zero" };
const CLEAR = { key: "clear", text: "Clear" };
const DONE = { key: "done", text: "Done", strong: true };
const WIDE_CLEAR = { ...CLEAR, wide: true };
const WIDE_DONE = { ...DONE, wide: true };

// Keys of each kind of value: fractions, then digits, both in rows of four.
function layout(takes, metric) {
  const digits = (four, five) => ["7", "8", "9", BACK, "4", "5", "6", four, "1", "2", "3", five];
  const signed = takes === "height";
  if (["percent", "number", "temperature"].includes(takes)) return [[], [...digits(".", "0"), WIDE_CLEAR, WIDE_DONE]];
  if (metric) {
    const unit = takes === "long" ? { key: " m", text: "m" } : { key: " cm", text: "cm" };
    const last = signed ? [SIGN, CLEAR, { ...DONE, full: true }] : [CLEAR, DONE];
    return [[], [...digits(unit, { key: " mm", text: "mm" }), ".", "0", ...last]];
  }
  const parts = takes === "long"
    ? ["1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"]
    : ["1/64", "1/32", "1/16", "1/8", "3/16", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"];
  const fractions = parts.map((part) => ({ key: "f" + part, text: part, fraction: true }));
  const keys = takes === "long"
    ? [...digits({ key: "'", text: "ft" }, { key: '"', text: "in" }), "0", CLEAR, WIDE_DONE]
    : [...digits(".", "0"), ...(signed ? [SIGN, CLEAR, WIDE_DONE] : [WIDE_CLEAR, WIDE_DONE])];
  return [[...fractions, { key: "/", text: "/" }], keys];
}

// The next text after a key.
export function press(text, key) {
  if (key === "back") return text.trimEnd().replace(/( m| mm| cm|.)$/u, "").trimEnd();
  if (key === "clear") return "";
  if (key === "minus") return text.startsWith("-") ? text.slice(1) : "-" + text;
  // After the unit of inches or of a metric length nothing follows.
  if (/("| m| mm| cm)$/.test(text)) return text;
  if (key === '"') return /\d$/.test(text) ? text + key : text;
  if (key.startsWith("f")) return (text.replace(/(^|[ '-])\d+\/\d*$/, "$1").trimEnd() + (text === "-" ? "" : " ") + key.slice(1)).trim();
  if (key === "'") return /^\d+$/.test(text) ? text + "'" : text;
  if (key.startsWith(" ")) return /[\d.]$/.test(text) ? text + key : text;
  if (text.endsWith("'")) return text + " " + key;
  return text + key;
}

// The text with the unit that was left out.
export function finished(text, takes, metric) {
  let t = text.trim().replace(/[./]$/, "");
  if (!t || t === "-" || ["percent", "number", "temperature"].includes(takes)) return t === "-" ? "" : t;
  if (/[a-z"']$/i.test(t)) return t;
  if (metric) return t + (takes === "long" ? " m" : " mm");
  if (takes === "long" && /^\d+(\.\d+)?$/.test(t)) return t + "'";
  return t + '"';
}

// Opens the keys. `done` gets the text once "Done" is tapped.
export function openKeys({ name, field = "", takes, metric, value, done }) {
  let text = value || "";
  let fresh = true;
  const show = () => { shown.textContent = finished(text, takes, metric) + (takes === "percent" && text ? "%" : "") || "–"; };
  label.textContent = name;
  pad.replaceChildren();
  const groups = layout(takes, metric).map((keys) => {
    const group = document.createElement("div");
    if (keys.length) pad.append(group);
    return keys.map((key) => [key, group]);
  });
  for (const [k, group] of groups.flat()) {
    const key = typeof k === "string" ? { key: k, text: k } : k;
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = key.text;
    if (key.say) button.setAttribute("aria-label", key.say);
    button.className = [key.fraction && "fraction", key.wide && "wide", key.full && "full", key.strong && "strong"].filter(Boolean).join(" ");
    button.dataset.key = key.key;
    button.addEventListener("click", () => {
      if (key.key === "done") { dialog.close(); done(finished(text, takes, metric)); return; }
      // The first digit replaces what stood there; a sign or a step back changes it.
      if (fresh && !["back", "minus"].includes(key.key)) text = "";
      fresh = false;
      text = press(text, key.key);
      show();
    });
    group.append(button);
  }
  show();
  dialog.dataset.field = field;
  dialog.showModal();
}

document.getElementById("ui-keys-close").addEventListener("click", () => dialog.close());
dialog.addEventListener("click", (event) => { if (event.target === dialog) dialog.close(); });
