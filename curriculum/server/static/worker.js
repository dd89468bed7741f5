// Keeps the practices that were opened, so that they open in a gym without network.
"use strict";

const SHELF = `curriculum-shell-${EDITION}`;
const PAGES = `curriculum-pages${BASE}`;
const STYLE = SHELL.find((address) => address.endsWith("/style.css"));
const PATIENCE_MS = 4000;
const MOST_PAGES = 30;

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(SHELF).then((shelf) => shelf.addAll(SHELL)).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith("curriculum-shell-") && name !== SHELF) await caches.delete(name);
    }
    await self.clients.claim();
  })());
});

function isPractice(address) {
  const path = new URL(address).pathname.slice(BASE.length);
  return /^\/practice\/[a-z0-9-]+(\/record)?$/.test(path) || path === "/";
}

async function put(request, answer) {
  if (!answer.ok || answer.redirected) return;
  const shelf = await caches.open(PAGES);
  await shelf.delete(request);
  await shelf.put(request, answer);
  const kept = await shelf.keys();
  for (const old of kept.slice(0, Math.max(0, kept.length - MOST_PAGES))) await shelf.delete(old);
}

async function fetched(request) {
  const answer = await fetch(request);
  await put(request.url, answer.clone());
  return answer;
}

async function page(request) {
  const kept = await caches.match(request.url, { cacheName: PAGES });
  const coming = fetched(request);
  if (!kept) return coming.catch(() => away(request.url));
  const late = new Promise((resolve) => setTimeout(() => resolve(kept), PATIENCE_MS));
  return Promise.race([coming.catch(() => kept), late]);
}

async function keptLinks() {
  const shelf = await caches.open(PAGES);
  const links = [];
  for (const request of await shelf.keys()) {
    // The title comes from a page of ours, where it is escaped already.
    const title = /<title>([^<]*)<\/title>/.exec(await (await shelf.match(request)).text());
    if (title) links.push(`<li><a href="${request.url}">${title[1]}</a></li>`);
  }
  return links.join("");
}

async function away(address) {
  const links = await keptLinks();
  const { pathname, search } = new URL(address);
  const body = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>No network</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark"><link rel="stylesheet" href="${STYLE}"></head>
<body><main><div class="narrow"><h1>No network</h1>
<p>This page cannot be shown without a network. What was recorded on this phone stays kept.</p>
<p><a class="button" href="${pathname}${search}">Try again</a></p>
${links ? `<h2>Kept on this phone</h2><ul class="links">${links}</ul>` : ""}
</div></main></body></html>`;
  return new Response(body, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8" } });
}

self.addEventListener("message", (event) => {
  const address = event.data && event.data.keep;
  if (address && isPractice(address)) {
    event.waitUntil(fetch(address).then((answer) => put(address, answer)).catch(() => {}));
  }
});

self.addEventListener("fetch", (event) => {
  const request = event.request;
  if (request.method !== "GET" || new URL(request.url).origin !== location.origin) return;
  const path = new URL(request.url).pathname;
  if (path.startsWith(`${BASE}/static/`)) {
    event.respondWith(caches.match(request).then((kept) => kept || fetch(request)));
  } else if (request.mode === "navigate" && isPractice(request.url)) {
    event.respondWith(page(request));
  } else if (request.mode === "navigate") {
    event.respondWith(fetch(request).catch(() => away(request.url)));
  }
});
