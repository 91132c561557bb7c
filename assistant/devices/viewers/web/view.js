"use strict";
// Shows the page that the main screen shows, as a picture, and says at once when that isn't sure.
// Whatever is shown is live only while a sign of life is younger than LIMIT by this device's own
// clock, came without delay, belongs to the page that is shown, and no sleep lies between.

const LIMIT = 1200; // milliseconds; with TICK and the drawing it is under two seconds
const TICK = 100;
const SLEPT = 1000; // a gap between two ticks that means: this device slept
const LATE = 900; // an event so much later than the quickest was held up on its way
const AGAIN = 3000; // nothing for so long: the connection is made anew

const page = document.getElementById("page");
const word = document.getElementById("word");
const why = document.getElementById("why");

let source = null;
let opened = 0; // when the connection was made
let alive = -Infinity; // when the last good sign of life came
let shown = 0; // number of the page that is shown
let quickest = Infinity; // least difference of this clock and the server's
let reason = "No page yet.";
let over = false; // there is no more to come
let ticked = Date.now();
let showing = null; // the state that is shown
let last = ""; // the time of day at which the page was live last

function lost(text) {
  alive = -Infinity;
  reason = text;
  look();
}

function arrived(told) {
  const now = Date.now();
  quickest = Math.min(quickest, now - told.at);
  if (now - told.at - quickest > LATE) {
    lost("The network is slow.");
    open();
    return false;
  }
  return true;
}

function size() {
  const scale = Math.min(devicePixelRatio || 1, 2);
  return [innerWidth, innerHeight - 26].map((side) => Math.max(1, Math.round(side * scale)));
}

function open() {
  if (source) source.close();
  if (over) return;
  opened = Date.now();
  shown = 0;
  quickest = Infinity;
  const [width, height] = size();
  source = new EventSource(`/pages?width=${width}&height=${height}`);
  source.addEventListener("open", () => {
    shown = 0;
    quickest = Infinity;
  });
  source.addEventListener("page", (event) => {
    const told = JSON.parse(event.data);
    arrived(told); // the beat behind it says whether it is live
    page.src = `data:image/png;base64,${told.picture}`;
    page.alt = told.text;
    shown = told.page;
  });
  source.addEventListener("beat", (event) => {
    const told = JSON.parse(event.data);
    if (!arrived(told)) return;
    if (!told.live) lost("The program doesn't answer.");
    else if (told.page !== shown || !shown) lost("No page yet.");
    else seen();
  });
  source.addEventListener("end", (event) => {
    over = true;
    source.close();
    lost(JSON.parse(event.data).why);
  });
  source.addEventListener("error", () => {
    lost("No connection to the main screen.");
    if (source.readyState === EventSource.CLOSED && !over) refused();
  });
}

async function refused() {
  // The browser tries again by itself, but not after an answer that is no stream.
  try {
    const answer = await fetch("/pages?width=0&height=0");
    if (answer.status === 403) {
      over = true;
      lost("This device needs a new code: F2 on the main screen.");
      setTimeout(() => location.replace("/"), 4000);
    }
  } catch {
    // not there: the next tick tries again
  }
}

function seen() {
  if (document.visibilityState === "visible") alive = Date.now();
  look();
}

function look() {
  const now = Date.now();
  const age = now - alive;
  const live = age >= 0 && age < LIMIT;
  const clock = new Date(now).toTimeString().slice(0, 8);
  const state = live ? `live ${clock}` : `dead ${reason}`;
  if (state === showing) return;
  showing = state;
  document.body.classList.toggle("dead", !live);
  document.title = live ? "Wheelcall" : "Wheelcall: not live";
  word.textContent = live ? "live" : "NOT LIVE";
  if (live) last = clock;
  why.textContent = live ? `${clock}${awake}` : `${reason}${last && ` Under this: the page of ${last}.`}`;
  page.setAttribute("aria-hidden", String(!live));
}

function tick() {
  const now = Date.now();
  const gap = now - ticked;
  ticked = now;
  if (gap > SLEPT || gap < 0) {
    lost("This device slept.");
    open();
  } else if (!over && now - Math.max(alive, opened) > AGAIN) {
    open();
  }
  if (now - alive >= LIMIT && alive > 0) lost("Nothing comes from the main screen.");
  look();
}

document.addEventListener("visibilitychange", () => {
  // greyed before it is out of sight, so that it is grey when it comes back
  lost("This page was out of sight.");
  if (document.visibilityState === "visible") {
    open();
    stayAwake();
  }
});
addEventListener("pagehide", () => {
  lost("This page was left.");
  if (source) source.close();
});
addEventListener("pageshow", (event) => {
  if (event.persisted) open();
});

let resizing = 0;
addEventListener("resize", () => {
  clearTimeout(resizing);
  resizing = setTimeout(open, 200);
});

// Over plain http browsers keep the screen awake for nobody (it wants a "secure context").
let awake = "";
async function stayAwake() {
  awake = " · set this device to keep its screen on";
  try {
    if (navigator.wakeLock) {
      await navigator.wakeLock.request("screen");
      awake = "";
    }
  } catch {
    // refused, as with a low battery: the operator is told
  }
}

setInterval(tick, TICK);
stayAwake();
open();
