// The scenario as it stands in its file: opened, edited, put back.

import { el, put, set } from "./dom.js";
import { sentence } from "./field.js";
import { on, replace, state } from "./store.js";

const area = el("textarea", { id: "source-text", class: "source", spellcheck: "false", wrap: "off", "aria-describedby": "source-faults" });
const faults = el("ul", {});
const take = el("button", { type: "submit", class: "main" }, "Take this text");
const dialog = el(
  "dialog", { "aria-labelledby": "source-title" },
  el("form", { method: "dialog", onsubmit: taken },
    el("h3", { id: "source-title" }, "The job as text"),
    el("p", { class: "quiet" }, "The page and this text are the same thing. Comments, order and keys that the page does not know are kept."),
    el("label", { for: "source-text" }, "Scenario (TOML)"), area, el("div", { id: "source-faults", role: "status" }, faults),
    el("div", { class: "row" }, take, el("button", { type: "button", onclick: () => dialog.close() }, "Close"), el("button", { type: "button", onclick: download }, "Download"))),
);
let touched = false;
area.addEventListener("input", () => {
  touched = true;
});
area.addEventListener("keydown", (event) => {
  if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) taken(event);
});

async function taken(event) {
  event.preventDefault();
  touched = false;
  await replace(area.value);
}

function download() {
  const link = el("a", { href: URL.createObjectURL(new Blob([dialog.open ? area.value : state.document.text], { type: "application/toml" })), download: "scenario.toml" });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1000);
}

on("document", () => {
  if (!touched) area.value = state.document.text;
  put(faults, state.document.faults.map((fault) => {
    const go = () => {
      area.focus();
      area.setSelectionRange(fault.from, fault.to);
    };
    return el("li", { class: fault.refusing ? "fault" : "fault warn" }, fault.line ? el("button", { type: "button", class: "plain", onclick: go }, `Line ${fault.line}`) : null, " ", sentence(fault));
  }));
  set(area, "aria-invalid", state.document.faults.some(({ code }) => code === "syntax") ? "true" : null);
});

export const source = {
  dialog,
  download,
  open() {
    touched = false;
    area.value = state.document?.text ?? "";
    dialog.showModal();
    area.focus();
    area.setSelectionRange(0, 0);
    area.scrollTop = 0;
  },
};
