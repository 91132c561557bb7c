"use strict";
// Tells the code, typed or scanned. A scanned one stands behind the # of the address, which is
// never sent by itself; it is taken out of the address at once.
const form = document.getElementById("form");
const code = document.getElementById("code");
const why = document.getElementById("why");

async function tell() {
  why.textContent = "";
  try {
    const answer = await fetch("/enter", {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ code: code.value }),
    });
    if (answer.ok) {
      location.replace("/");
      return;
    }
    why.textContent = await answer.text();
  } catch {
    why.textContent = "The main screen's computer doesn't answer.";
  }
  code.select();
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  tell();
});

function scanned() {
  if (location.hash.length > 1) {
    code.value = location.hash.slice(1);
    history.replaceState(null, "", "/");
    tell();
  }
}
addEventListener("hashchange", scanned);
scanned();
