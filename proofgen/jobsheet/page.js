"use strict";
// Ticks stay when the page is opened again; those of another run, whose pieces may be unfinished,
// are forgotten after two months.
(() => {
  const LONG = 60 * 24 * 60 * 60 * 1000;
  const own = "job sheet " + document.documentElement.dataset.run;
  const boxes = [...document.querySelectorAll("input[type=checkbox]")];
  let store = null;
  try {
    store = window.localStorage;
    for (const key of Object.keys(store)) {
      if (!key.startsWith("job sheet ") || key === own) continue;
      const { at } = JSON.parse(store.getItem(key));
      if (!(Date.now() - at < LONG)) store.removeItem(key);
    }
    const ticked = new Set(JSON.parse(store.getItem(own) || "{}").ticked);
    for (const box of boxes) box.checked = ticked.has(box.id);
  } catch (error) {
    if (!(error instanceof DOMException) && !(error instanceof SyntaxError)) throw error;
  }
  document.addEventListener("change", () => {
    const ticked = boxes.filter((box) => box.checked).map((box) => box.id);
    try {
      if (store) store.setItem(own, JSON.stringify({ at: Date.now(), ticked }));
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
    }
  });
})();
