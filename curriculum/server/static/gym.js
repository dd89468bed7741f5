// On the pages of a practice: the timer, and a record that needs no network.
"use strict";

const form = document.getElementById("record");
const practice = form.dataset.record;
const DRAFT = `curriculum:draft:${BASE}:${practice}`;

// The record

function fields() {
  const data = new URLSearchParams(new FormData(form));
  for (const name of ["token", "client", "version"]) data.delete(name);
  return data.toString();
}

function show() {
  const status = form.elements.status.value;
  for (const part of document.querySelectorAll("[data-when]")) part.hidden = part.dataset.when !== status;
  for (const part of document.querySelectorAll("[data-unless]")) part.hidden = part.dataset.unless === status;
}

function keepDraft() {
  show();
  store(DRAFT, { version: form.dataset.version, body: fields(), at: Date.now() });
}

function fill(body) {
  const said = new URLSearchParams(body);
  for (const field of form.elements) {
    if (!field.name || field.type === "hidden" || field.type === "submit") continue;
    if (field.type === "radio") field.checked = said.get(field.name) === field.value || field.checked && !said.has(field.name);
    else if (field.type === "checkbox") field.checked = said.getAll(field.name).includes(field.value);
    else if (said.has(field.name)) field.value = said.get(field.name);
  }
}

function newClient() {
  const bytes = crypto.getRandomValues(new Uint8Array(12));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

function missing() {
  const status = form.elements.status.value;
  if (status === "lost" && !form.elements.reason.value.trim()) return form.elements.reason;
  if (status === "shortened" && !form.elements.minutes_held.value.trim()) return form.elements.minutes_held;
  return null;
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  const empty = missing();
  if (empty) {
    empty.setCustomValidity("Please fill this in.");
    empty.reportValidity();
    empty.addEventListener("input", () => empty.setCustomValidity(""), { once: true });
    return;
  }
  const waiting = stored(QUEUE);
  const before = waiting.filter((item) => item.base === BASE && item.practice === practice && !item.refused).pop();
  const item = {
    client: newClient(), base: BASE, practice, label: form.dataset.label, body: fields(),
    version: form.dataset.version, after: before ? before.client : null,
  };
  if (!store(QUEUE, [...waiting, item])) {
    form.submit();
    return;
  }
  localStorage.removeItem(DRAFT);
  tell();
  send();
  document.getElementById("main").focus({ preventScroll: true });
  document.getElementById("sending").scrollIntoView({ block: "nearest" });
});

document.addEventListener("recorded", (event) => {
  if (event.detail.base !== BASE || event.detail.practice !== practice) return;
  form.dataset.version = event.detail.version;
  form.elements.version.value = event.detail.version;
});

document.addEventListener("change", keepDraft);
form.addEventListener("input", keepDraft);
const draft = stored(DRAFT);
if (draft.body && draft.version === form.dataset.version) fill(draft.body);
show();

const note = document.getElementById("offline");
if (note) {
  if (!("serviceWorker" in navigator)) note.textContent = "Without https this page cannot be kept for a gym without network. Leave it open.";
  else if (!navigator.onLine) note.textContent = "No network. Everything works; what you record goes out later.";
  note.hidden = !note.textContent;
}

// The timer

const timer = document.getElementById("timer");
const left = document.getElementById("left");
let part = 0;
let ends = 0;
let rest = 0;
let ticking = null;
let rang = false;
let awake = null;

function section(place) {
  return document.getElementById(`part-${place}`);
}

function paint() {
  const seconds = Math.round((ticking ? ends - Date.now() : rest) / 1000);
  const sign = seconds < 0 ? "+" : "";
  const all = Math.abs(seconds);
  left.textContent = `${sign}${Math.floor(all / 60)}:${String(all % 60).padStart(2, "0")}`;
  left.classList.toggle("over", seconds < 0);
  if (seconds <= 0 && !rang) {
    rang = true;
    if (navigator.vibrate) navigator.vibrate([400, 200, 400]);
    document.getElementById("what").textContent = "Time.";
  }
}

function run() {
  ends = Date.now() + rest;
  clearInterval(ticking);
  ticking = setInterval(paint, 250);
  document.getElementById("pause").textContent = "Pause";
  if (navigator.wakeLock) navigator.wakeLock.request("screen").then((lock) => { awake = lock; }).catch(() => {});
  paint();
}

function stop() {
  rest = ends - Date.now();
  clearInterval(ticking);
  ticking = null;
  document.getElementById("pause").textContent = "Go on";
  if (awake) awake.release();
  paint();
}

function start(place) {
  const row = section(place);
  if (!row) return;
  for (const other of document.querySelectorAll(".row.now")) other.classList.remove("now");
  row.classList.add("now");
  part = place;
  rang = false;
  rest = Number(row.dataset.minutes) * 60000;
  timer.hidden = false;
  document.getElementById("what").textContent = row.dataset.title;
  document.getElementById("onward").hidden = !(section(place + 1) && section(place + 1).dataset.minutes);
  row.scrollIntoView({ block: "start" });
  run();
}

if (timer) {
  for (const button of document.querySelectorAll("[data-start]")) {
    button.hidden = false;
    button.addEventListener("click", () => start(Number(button.dataset.start)));
  }
  document.getElementById("pause").addEventListener("click", () => (ticking ? stop() : run()));
  document.getElementById("onward").addEventListener("click", () => start(part + 1));
}
