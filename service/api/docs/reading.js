"use strict";
// Search, copying, requests written for this server, and links that open what they lead to.

const MOST_RESULTS = 40;
// by their first words; of those that are called alike the first stands first
const KINDS = ["operation", "exercise", "problem", "shape", "list", "field", "value", "header", "message", "parameter"];
const LONGEST_TEXT = 250; // a formula's text may have 255 characters
const WRITTEN_FOR = "http://127.0.0.1:8000";

// A text of a formula in pieces that a cell takes.
function pieces(text) {
  return text.match(new RegExp(`.{1,${LONGEST_TEXT}}`, "g")).map((piece) => `"${piece}"`).join("&");
}

// Requests ask the server that the page came from.
for (const block of document.querySelectorAll(".snippet pre")) {
  const text = block.textContent.replaceAll('"&"', "").replaceAll(WRITTEN_FOR, location.origin);
  const cell = block.parentElement.dataset.language.startsWith("cell");
  block.textContent = cell ? text.replace(/"(https?:[^"]*)"/, (_, url) => pieces(url)) : text;
}

// --- language of requests ---
const languages = document.querySelectorAll("input[name=language]");
for (const language of languages) {
  language.checked = language.value === (localStorage.getItem("language") ?? languages[0].value);
  language.addEventListener("change", () => localStorage.setItem("language", language.value));
}

// --- copying ---
// Without TLS browsers give pages no clipboard, but copy what is selected.
async function copy(block) {
  if (navigator.clipboard) {
    await navigator.clipboard.writeText(block.textContent);
  } else {
    getSelection().selectAllChildren(block);
    document.execCommand("copy");
  }
}

for (const block of document.querySelectorAll("pre")) {
  const button = Object.assign(document.createElement("button"), { type: "button", className: "copy second", textContent: "Copy" });
  button.setAttribute("aria-live", "polite");
  button.setAttribute("aria-label", `Copy: ${block.getAttribute("aria-label")}`);
  button.addEventListener("click", async () => {
    await copy(block);
    button.textContent = "Copied";
    setTimeout(() => { button.textContent = "Copy"; }, 2000);
  });
  block.before(button);
}

// --- search ---
const input = document.getElementById("search");
const list = document.getElementById("search-results");
const state = document.getElementById("search-status");
let index;

const plain = (text) => text.toLowerCase().replaceAll(/[_\-/]+/g, " ");

async function entries() {
  index ??= fetch("/docs/search.json").then((response) => response.json()).then((all) =>
    all.map(([name, kind, words, address]) => ({
      name, kind, words, address, plain: plain(name).trim(), all: plain(`${name} ${kind} ${words}`),
    })));
  return index;
}

// How far down an entry stands: what is called so first, then what begins so, has it in its name, and in its words.
function rank(entry, wanted) {
  const named = entry.plain === wanted ? 0 : entry.plain.startsWith(wanted) ? 1 : entry.plain.includes(wanted) ? 2 : 3;
  return named * KINDS.length + KINDS.indexOf(entry.kind.split(" ")[0]);
}

function result(entry) {
  const link = Object.assign(document.createElement("a"), { href: entry.address });
  const parts = [["code", entry.name], ["small", entry.kind], ["span", entry.words]];
  for (const [tag, text] of parts) {
    link.append(Object.assign(document.createElement(tag), { textContent: text }), " ");
  }
  link.addEventListener("click", () => {
    show([], "");
    setTimeout(openTarget);
  });
  const item = document.createElement("li");
  item.append(link);
  return item;
}

function show(found, words) {
  list.replaceChildren(...found.slice(0, MOST_RESULTS).map(result));
  state.textContent = words;
}

async function search() {
  const wanted = plain(input.value).trim();
  if (!wanted) {
    show([], "");
    return;
  }
  const all = await entries();
  if (plain(input.value).trim() !== wanted) {
    return;
  }
  const words = wanted.split(/\s+/);
  const found = all.filter((entry) => words.every((word) => entry.all.includes(word)));
  found.sort((one, other) => rank(one, wanted) - rank(other, wanted));
  const more = found.length > MOST_RESULTS ? `, the first ${MOST_RESULTS} shown` : "";
  show(found, `${found.length} found${more}`);
}

// Arrows go from the field through the results and back, Escape to the field.
function move(event) {
  const places = [input, ...list.querySelectorAll("a")];
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (step) {
    event.preventDefault();
    places[places.indexOf(document.activeElement) + step]?.focus();
  } else if (event.key === "Escape") {
    input.value = "";
    show([], "");
    input.focus();
  }
}

input.closest("search").hidden = false;
input.closest("search").addEventListener("keydown", move);
input.addEventListener("focus", entries);
input.addEventListener("input", search);
document.addEventListener("keydown", (event) => {
  if (event.key === "/" && !event.target.matches("input, textarea, select")) {
    event.preventDefault();
    input.focus();
  }
});

// --- links ---
// What a link leads to is opened, with all that it stands in; an operation's own line takes the focus.
function openTarget() {
  const target = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  for (let around = target?.closest("details"); around; around = around.parentElement.closest("details")) {
    around.open = true;
  }
  target?.scrollIntoView();
  if (target instanceof HTMLDetailsElement) {
    target.querySelector("summary").focus();
  }
}
window.addEventListener("hashchange", openTarget);
openTarget();
