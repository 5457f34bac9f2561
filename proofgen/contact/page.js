"use strict";
const rows = JSON.parse(document.getElementById("rows").textContent);
const at = (id) => document.getElementById(id);
const PAGE = 60;
const VERDICTS = ["ready", "look", "stop"];
let shown = rows;
let drawn = 0;
let open = 0;
let opened = 0;

function made(tag, text, name) {
  const element = document.createElement(tag);
  if (text) element.textContent = text;
  if (name) element.className = name;
  return element;
}

function say(text) {
  at("said").textContent = text;
  clearTimeout(say.timer);
  say.timer = setTimeout(() => { at("said").textContent = ""; }, 6000);
}

function button(text, act, label) {
  const found = made("button", text);
  found.type = "button";
  if (label) found.setAttribute("aria-label", label);
  found.addEventListener("click", act);
  return found;
}

async function copyText(text, apart) {
  try {
    await navigator.clipboard.writeText(text);
  } catch {
    const pressed = document.activeElement;
    const area = made("textarea", text);
    document.body.append(area);
    area.select();
    const done = document.execCommand("copy");
    area.remove();
    pressed.focus();
    if (!done) return say("The browser does not let this page copy.");
  }
  say(`The message is copied. ${apart}`.trim());
}

// What is inside the page of a picture: a page opened by double click may not read files beside it.
function inside(key, small) {
  const copy = at(`copy-${key}`);
  return `data:image/webp;base64,${copy ? copy.textContent : small}`;
}

async function copyPicture(file, key, refused) {
  const image = new Image();
  const onDisk = location.protocol === "file:" && at(`copy-${key}`);
  image.src = onDisk ? inside(key) : file;
  try {
    await image.decode();
    const canvas = made("canvas");
    canvas.width = image.naturalWidth;
    canvas.height = image.naturalHeight;
    canvas.getContext("2d").drawImage(image, 0, 0);
    const blob = await new Promise((done) => canvas.toBlob(done, "image/png"));
    await navigator.clipboard.write([new ClipboardItem({ "image/png": blob })]);
    say("The picture is copied.");
  } catch {
    refused("The browser does not let this page copy this picture. ",
      "Right-click it (on a phone, hold it) and choose to copy or share it.");
  }
}

function picture(row, number) {
  if (!row.small) return made("div", "no picture", "none");
  const found = button("", () => enlarge(number), `Enlarge the picture of order ${row.order}, row ${row.row}`);
  found.className = "picture";
  const image = made("img");
  image.alt = "";
  image.width = 240;
  image.height = 300;
  image.src = `data:image/webp;base64,${row.small}`;
  found.append(image);
  return found;
}

function card(row, number) {
  const box = made("article", "", row.verdict);
  const facts = made("div");
  facts.append(made("h2", row.order || "no order number"), made("span", row.verdict, "verdict"));
  const list = made("dl");
  const pairs = [...row.texts, ["design", row.title], ...row.chosen, ["buyer", row.buyer], ["code", row.code], ["row", String(row.row)]];
  const told = new Map();
  for (const [term, text] of pairs) if (text) told.set(term, [...(told.get(term) ?? []), text]);
  for (const [term, texts] of told) list.append(made("dt", term), made("dd", texts.join(" and ")));
  facts.append(list);
  const top = made("div", "", "top");
  top.append(picture(row, number), facts);
  box.append(top);
  if (row.flags.length) {
    const flags = made("ul");
    for (const [severity, sentence, remedy] of row.flags) {
      const item = made("li");
      item.append(made("strong", `${severity}: `), `${sentence} ${remedy}`);
      flags.append(item);
    }
    box.append(flags);
  }
  if (row.apart) box.append(made("p", row.apart, "apart"));
  const buttons = made("div", "", "buttons");
  const which = `of order ${row.order}, row ${row.row}`;
  if (row.message) buttons.append(button("Copy message", () => copyText(row.message, row.apart), `Copy message ${which}`));
  if (row.picture) buttons.append(button("Copy picture", () => copyPicture(row.picture, row.row, (why, remedy) => {
    enlarge(number);
    at("about").textContent = why + remedy;
  }), `Copy picture ${which}`));
  row.sets.forEach(([file, key], i) => {
    const part = row.sets.length > 1 ? ` ${i + 1} of ${row.sets.length}` : "";
    const link = made("a", "Open");
    link.href = file;
    link.target = "_blank"; // so that what is searched for stays here
    link.setAttribute("aria-label", `Open whole order${part} in one picture, ${which}`);
    const copy = button(`Copy whole order${part}`, () => copyPicture(file, key, (why, remedy) => {
      say(`${why}Open it by the link beside. ${remedy}`);
    }), `Copy whole order${part}, ${which}`);
    buttons.append(copy, link);
  });
  box.append(buttons);
  return box;
}

function drawMore(count) {
  const next = shown.slice(drawn, drawn + count);
  at("cards").append(...next.map((row, i) => card(row, drawn + i)));
  drawn += next.length;
}

// Letters that are no other letter with a mark, as they are typed without their keys.
const PLAIN = { "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ħ": "h", "ı": "i", "ŧ": "t", "ŋ": "n" };

function folded(text) {
  return text.normalize("NFKD").replace(/[\p{M}'’‘ʼʻ`´]/gu, "").toLowerCase()
    .replace(/[ßæœøłđðþħıŧŋ]/g, (letter) => PLAIN[letter]);
}

function choose() {
  const typed = folded(at("wanted").value);
  const number = /(?<!\S)row\s+(\d+)(?!\S)/g; // as a sentence of a flag names it: one row, whole
  const asked = [...typed.matchAll(number)].map(([, digits]) => Number(digits));
  const wanted = typed.replace(number, " ").split(/\s+/).filter(Boolean);
  const design = at("design").value;
  const finish = at("finish").value;
  const verdicts = new Set([...document.querySelectorAll("#verdicts input:checked")].map((box) => box.value));
  shown = rows.filter((row) => verdicts.has(row.verdict) && (!design || row.title === design)
    && (!finish || row.finishes.includes(finish))
    && asked.every((each) => each === row.row) && wanted.every((word) => row.searched.includes(word)));
  at("cards").replaceChildren();
  drawn = 0;
  drawMore(PAGE);
  at("count").textContent = `${shown.length} of ${rows.length} rows`
    + (rows.length && !shown.length ? ": nothing is all that is searched for, chosen and ticked" : "");
}

function enlarge(number) {
  open = number;
  const row = shown[number];
  const image = at("whole");
  image.onerror = () => { image.onerror = null; image.src = inside(row.row, row.small); };
  image.src = row.picture;
  image.alt = `Picture of order ${row.order}: ${row.texts.map(([, text]) => text).join(", ")}`;
  const pictured = shown.filter((other) => other.small);
  const place = `picture ${pictured.indexOf(row) + 1} of ${pictured.length}`;
  at("about").textContent = `Order ${row.order}, row ${row.row}, ${row.verdict}, ${row.code}: ${place}`;
  if (at("large").open) return;
  opened = number;
  at("large").showModal();
}

function step(by) {
  let next = open + by;
  while (shown[next] && !shown[next].small) next += by;
  if (shown[next]) enlarge(next);
}

// One of the choices of a list, which is of no use for a single one.
function offer(id, found) {
  const texts = [...new Set(found)].filter(Boolean).sort();
  for (const text of texts) {
    const option = made("option", text);
    option.value = text;
    at(id).append(option);
  }
  at(id).parentElement.hidden = texts.length < 2;
}

for (const row of rows) {
  const texts = [...row.texts, ...row.chosen].map(([, text]) => text);
  const code = row.code.replaceAll("-", "");
  // What a row that cannot be made asks for need not be a finish.
  row.finishes = row.chosen.filter(([term]) => row.code && term === "finish").map(([, text]) => text);
  const said = row.flags.map(([, sentence]) => sentence);
  const facts = [row.order, row.buyer, row.code, code, row.title, `row ${row.row}`];
  row.searched = folded([...facts, ...texts, ...said].join(" "));
}
offer("design", rows.map((row) => row.title));
offer("finish", rows.flatMap((row) => row.finishes));
for (const verdict of VERDICTS) {
  const label = made("label");
  const box = made("input");
  box.type = "checkbox";
  box.value = verdict;
  box.checked = true;
  label.append(box, ` ${verdict} (${rows.filter((row) => row.verdict === verdict).length})`);
  at("verdicts").append(label);
}
at("search").addEventListener("submit", (event) => event.preventDefault());
at("search").addEventListener("input", choose);
at("before").addEventListener("click", () => step(-1));
at("after").addEventListener("click", () => step(1));
at("shut").addEventListener("click", () => at("large").close());
at("large").addEventListener("close", () => {
  if (open === opened) return; // the browser itself goes back to the button that was pressed
  drawMore(Math.max(0, open + 1 - drawn));
  at("cards").children[open].querySelector(".picture").focus();
});
document.addEventListener("keydown", (event) => {
  if (!at("large").open) return;
  if (event.key === "ArrowLeft") step(-1);
  if (event.key === "ArrowRight") step(1);
});
new IntersectionObserver((seen) => { if (seen[0].isIntersecting) drawMore(PAGE); }, { rootMargin: "800px" }).observe(at("more"));
window.addEventListener("beforeprint", () => drawMore(shown.length));
choose();
