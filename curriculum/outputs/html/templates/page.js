"use strict";
(() => {
  const by = (id) => document.getElementById(id);
  const pages = [...document.querySelectorAll(".page")];
  const links = [...document.querySelectorAll("nav a")];

  // One page at a time; without a script all of them stand below each other.
  function show(focus) {
    const wanted = decodeURIComponent(location.hash.slice(1));
    const page = pages.find((each) => each.id === wanted) || pages[0];
    for (const each of pages) each.hidden = each !== page;
    const home = page.classList.contains("sheet") ? "practices" : page.id;
    for (const link of links) {
      if (link.hash === "#" + home) link.setAttribute("aria-current", "page");
      else link.removeAttribute("aria-current");
    }
    if (!focus) return;
    window.scrollTo(0, 0);
    page.querySelector("h2").focus({ preventScroll: true });
  }
  window.addEventListener("hashchange", () => { if (location.hash !== "#main") show(true); });

  // Which practice comes next, by the clock of this phone.
  const now = new Date();
  const two = (number) => String(number).padStart(2, "0");
  const today = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  const dated = [...document.querySelectorAll("[data-date]")];
  for (const each of dated) if (each.dataset.date < today) each.classList.add("past");
  const next = dated.find((each) => each.dataset.date >= today);
  if (next) next.classList.add("due");

  // The block timer: counts down, says when a block ends, counts on until somebody goes on.
  const KEY = "curriculum-clock";
  const OLD = 4 * 60 * 60 * 1000;
  let state = null, told = null, ticking = 0, sound = null, awake = null;

  const rowsOf = (sheet) => [...document.querySelectorAll(`[id="${CSS.escape(sheet)}"] .row`)];
  const lengthOf = (row) => Number(row.dataset.minutes) * 60000;

  function keep() {
    try {
      if (state) localStorage.setItem(KEY, JSON.stringify(state));
      else localStorage.removeItem(KEY);
    } catch { /* a phone may forbid keeping; the clock runs all the same */ }
  }
  function kept() {
    try {
      const found = JSON.parse(localStorage.getItem(KEY));
      const row = found && rowsOf(found.sheet)[found.row];
      return row && Date.now() - found.seen < OLD ? found : null;
    } catch { return null; }
  }
  const left = () => (state.left === null ? state.end - Date.now() : state.left);

  function begin(sheet, row) {
    const rows = rowsOf(sheet);
    if (!rows[row]) return stop();
    const running = !state || state.left === null;
    state = { sheet, row, end: Date.now() + lengthOf(rows[row]), left: running ? null : lengthOf(rows[row]), seen: Date.now() };
    told = null;
    mark();
    say(`${rows[row].dataset.title}, ${rows[row].dataset.minutes} minutes`);
    rows[row].scrollIntoView({ block: "start", behavior: still() ? "auto" : "smooth" });
    run();
  }
  function run() {
    clearInterval(ticking);
    ticking = setInterval(tick, 250);
    by("clock").hidden = false;
    stayAwake();
    keep();
    tick();
  }
  function stop() {
    clearInterval(ticking);
    state = null;
    by("clock").hidden = true;
    if (awake) awake.release().catch(() => {});
    awake = null;
    mark();
    keep();
  }
  function mark() {
    for (const each of document.querySelectorAll(".row.on, .strip .on")) each.classList.remove("on");
    if (!state) return;
    rowsOf(state.sheet)[state.row].classList.add("on");
    const strip = document.querySelectorAll(`[id="${CSS.escape(state.sheet)}"] .strip span`);
    if (strip[state.row]) strip[state.row].classList.add("on");
  }
  function tick() {
    const rows = rowsOf(state.sheet), row = rows[state.row], after = rows[state.row + 1];
    const rest = left(), over = rest <= 0;
    const seconds = over ? Math.floor(-rest / 1000) : Math.ceil(rest / 1000);
    by("clock-title").textContent = row.dataset.title;
    by("clock-left").textContent = `${over ? "+" : ""}${Math.floor(seconds / 60)}:${two(seconds % 60)}`;
    by("clock-next").textContent = over ? `Time is up. ${after ? "Next: " + after.dataset.title : "That was the last part."}`
      : after ? `Then ${after.dataset.title}` : "The last part";
    by("clock-pause").textContent = state.left === null ? "Pause" : "Go on";
    by("clock-back").disabled = state.row === 0;
    by("clock").classList.toggle("over", over);
    if (over && told !== "over") {
      told = "over";
      say(by("clock-next").textContent);
      ring();
    } else if (!over && rest <= 60000 && lengthOf(row) > 120000 && told === null) {
      told = "minute";
      say("One minute left");
    }
  }
  const say = (words) => { by("clock-says").textContent = words; };
  const still = () => matchMedia("(prefers-reduced-motion: reduce)").matches;

  function ring() {
    if (navigator.vibrate) navigator.vibrate([300, 150, 300]);
    if (!sound) return;
    for (const at of [0, 0.35, 0.7]) {
      const tone = sound.createOscillator(), volume = sound.createGain();
      tone.frequency.value = 880;
      volume.gain.value = 0.25;
      tone.connect(volume).connect(sound.destination);
      tone.start(sound.currentTime + at);
      tone.stop(sound.currentTime + at + 0.2);
    }
  }
  function stayAwake() {
    if (!awake && navigator.wakeLock && document.visibilityState === "visible") {
      navigator.wakeLock.request("screen").then((lock) => {
        awake = lock;
        lock.addEventListener("release", () => { awake = null; });
      }).catch(() => {});
    }
  }
  document.addEventListener("visibilitychange", () => { if (state) stayAwake(); });

  document.addEventListener("click", (event) => {
    const button = event.target.closest("button[data-row]");
    if (!button) return;
    const Sound = window.AudioContext || window.webkitAudioContext;
    if (!sound && Sound) sound = new Sound();
    begin(button.dataset.sheet, Number(button.dataset.row));
    by("clock-pause").focus({ preventScroll: true });
  });
  by("clock-back").addEventListener("click", () => begin(state.sheet, state.row - 1));
  by("clock-on").addEventListener("click", () => begin(state.sheet, state.row + 1));
  by("clock-stop").addEventListener("click", stop);
  by("clock-pause").addEventListener("click", () => {
    const rest = left();
    if (state.left === null) state.left = rest;
    else { state.end = Date.now() + rest; state.left = null; }
    state.seen = Date.now();
    keep();
    tick();
  });

  document.documentElement.classList.add("one");
  for (const button of document.querySelectorAll("button[data-row]")) button.hidden = false;
  const before = kept();
  if (before) {
    state = before;
    if (!location.hash) location.hash = "#" + before.sheet;
    mark();
    run();
  }
  show(false);
})();
