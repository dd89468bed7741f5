// On every page: sends what was recorded without network, keeps opened practices for the gym.
"use strict";

const here = document.currentScript.dataset;
const BASE = here.base;
// What was recorded in any season of a club waits in one place, and any of its pages sends it.
const ROOT = here.root;
const QUEUE = `curriculum:queue:${ROOT}`;
const TOLD = `curriculum:told:${ROOT}`;
const RETRY_MS = 15000;

function stored(key) {
  try { return JSON.parse(localStorage.getItem(key)) || []; } catch { return []; }
}

function store(key, items) {
  try { localStorage.setItem(key, JSON.stringify(items)); return true; } catch { return false; }
}

function say(parts) {
  const box = document.getElementById("sending");
  box.replaceChildren(...parts);
  box.hidden = parts.length === 0;
}

function link(address, words) {
  const made = document.createElement("a");
  made.href = address;
  made.textContent = words;
  return made;
}

function practiceOf(item) {
  return `${item.base}/practice/${item.practice}`;
}

function tell() {
  const waiting = stored(QUEUE);
  const parts = [];
  for (const item of waiting) {
    if (item.refused) {
      parts.push(document.createTextNode(`${item.label} was not taken: ${item.refused} `));
      parts.push(link(practiceOf(item), "Look at it"));
      const drop = document.createElement("button");
      drop.type = "button";
      drop.textContent = "Forget it";
      drop.addEventListener("click", () => { remove(item.client); tell(); });
      parts.push(drop, document.createElement("br"));
    }
  }
  const open = waiting.filter((item) => !item.refused).length;
  if (open) {
    const words = open === 1 ? "1 record is kept on this phone" : `${open} records are kept on this phone`;
    parts.push(document.createTextNode(`${words} and goes out when there is a network. `));
    if (signedOut) parts.push(link(`${BASE}/sign-in?next=${encodeURIComponent(location.pathname.slice(BASE.length))}`, "Sign in to send it."));
  }
  for (const note of stored(TOLD)) {
    parts.push(document.createTextNode(`${note.words} `));
    if (note.address) parts.push(link(note.address, note.link));
    parts.push(document.createTextNode(" "));
  }
  store(TOLD, []);
  say(parts);
}

function remove(client) {
  store(QUEUE, stored(QUEUE).filter((item) => item.client !== client));
}

let signedOut = false;
let sending = false;

async function send() {
  if (sending || !navigator.onLine && navigator.onLine !== undefined) return;
  if (!stored(QUEUE).some((item) => !item.refused)) return;
  sending = true;
  try {
    await sendAll();
  } catch {
    // No network after all: what is kept stays kept.
  } finally {
    sending = false;
    tell();
  }
}

async function sendAll() {
  const answer = await fetch(`${BASE}/session`, { headers: { Accept: "application/json" }, cache: "no-store" });
  if (!answer.ok) return;
  const session = await answer.json();
  signedOut = !session.coach;
  if (signedOut) return;
  for (;;) {
    const item = stored(QUEUE).find((each) => !each.refused);
    if (!item) return;
    const body = new URLSearchParams(item.body);
    body.set("client", item.client);
    body.set("version", item.version);
    const reply = await fetch(`${practiceOf(item)}/record`, {
      method: "POST", body,
      headers: { Accept: "application/json", "X-Form-Token": session.token },
    });
    if (reply.status === 401 || reply.status === 429 || reply.status >= 500) return;
    const said = await reply.json();
    if (reply.ok) done(item, said.version);
    else if (said.conflict) clash(item, said);
    else refuse(item, said.says || "The server said no.");
  }
}

function done(item, version) {
  // What was recorded later on this phone was said over this version.
  const rest = stored(QUEUE).filter((each) => each.client !== item.client);
  for (const each of rest) if (each.after === item.client) each.version = String(version);
  store(QUEUE, rest);
  store(TOLD, [...stored(TOLD), { words: `${item.label}: recorded.`, address: `${practiceOf(item)}/recorded`, link: "What follows" }]);
  document.dispatchEvent(new CustomEvent("recorded", { detail: { base: item.base, practice: item.practice, version } }));
}

function clash(item, said) {
  remove(item.client);
  const by = said.by ? `${said.by} had recorded it` : "Somebody had recorded it";
  store(TOLD, [...stored(TOLD), { words: `${item.label}: ${by} first. Both are kept.`, address: said.conflict, link: "Look at both" }]);
}

function refuse(item, says) {
  store(QUEUE, stored(QUEUE).map((each) => each.client === item.client ? { ...each, refused: says } : each));
}

function working(registration) {
  if (registration.active) return registration.active;
  const coming = registration.installing || registration.waiting;
  return new Promise((resolve, reject) => {
    coming.addEventListener("statechange", () => {
      if (coming.state === "activated") resolve(coming);
      if (coming.state === "redundant") reject(new Error("replaced"));
    });
  });
}

async function forgetPages() {
  if (!("caches" in window)) return;
  for (const name of await caches.keys()) {
    if (name.startsWith("curriculum-pages")) await caches.delete(name);
  }
}

if ("serviceWorker" in navigator && here.coach) {
  // The next practice is fetched beforehand, so that it opens in a gym without network. Until the
  // worker of this very season works, that of the club may answer for its pages, which keeps none.
  navigator.serviceWorker.register(`${BASE}/worker.js`, { scope: `${BASE}/` }).then(working).then((worker) => {
    for (const next of document.querySelectorAll("[data-keep]")) worker.postMessage({ keep: next.href });
    if (document.querySelector("[data-practice]") || location.pathname === `${BASE}/`) worker.postMessage({ keep: location.href });
  }).catch(() => {});
}
if (!here.coach && location.pathname === `${BASE}/sign-in`) forgetPages();

const out = document.querySelector("[data-sign-out]");
if (out) {
  out.addEventListener("submit", (event) => {
    const open = stored(QUEUE).length;
    if (open && !confirm("Something recorded on this phone was not sent yet. It stays here until somebody signs in again. Sign out?")) {
      event.preventDefault();
      return;
    }
    forgetPages();
  });
}
for (const field of document.querySelectorAll("[data-copy]")) field.addEventListener("focus", () => field.select());

window.addEventListener("online", send);
document.addEventListener("visibilitychange", () => { if (!document.hidden) send(); });
setInterval(send, RETRY_MS);
tell();
send();
