"use strict";
(() => {
  const store = "recap-checklist-" + document.body.dataset.list;
  let kept = {};
  try { kept = JSON.parse(localStorage.getItem(store)) || {}; } catch { kept = {}; }
  const inputs = [...document.querySelectorAll("main input")];
  const value = (input) => (input.type === "checkbox" ? input.checked : input.value);
  const show = () => {
    let done = 0, rows = 0;
    for (const row of document.querySelectorAll("tbody tr")) {
      const ticks = [...row.querySelectorAll("input[type=checkbox]")];
      const finished = ticks.every((tick) => tick.checked);
      row.classList.toggle("finished", finished);
      rows += 1;
      if (finished) { done += 1; }
    }
    document.getElementById("done").textContent = done + " of " + rows + " finished.";
  };
  for (const input of inputs) {
    if (input.id in kept) {
      if (input.type === "checkbox") { input.checked = kept[input.id] === true; } else { input.value = String(kept[input.id]); }
    }
    input.addEventListener("change", () => {
      kept[input.id] = value(input);
      try { localStorage.setItem(store, JSON.stringify(kept)); } catch { /* private window: ticks last until it closes */ }
      show();
    });
  }
  show();
})();
