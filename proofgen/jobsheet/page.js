"use strict";
// Ticks stay when the page is opened again; those of another run are forgotten.
(() => {
  const own = "job sheet " + document.documentElement.dataset.run;
  const boxes = [...document.querySelectorAll("input[type=checkbox]")];
  let store = null;
  try {
    store = window.localStorage;
    for (const key of Object.keys(store)) {
      if (key.startsWith("job sheet ") && key !== own) store.removeItem(key);
    }
    const ticked = new Set(JSON.parse(store.getItem(own) || "[]"));
    for (const box of boxes) box.checked = ticked.has(box.id);
  } catch (error) {
    if (!(error instanceof DOMException) && !(error instanceof SyntaxError)) throw error;
  }
  document.addEventListener("change", () => {
    const ticked = boxes.filter((box) => box.checked).map((box) => box.id);
    try {
      if (store) store.setItem(own, JSON.stringify(ticked));
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
    }
  });
})();
