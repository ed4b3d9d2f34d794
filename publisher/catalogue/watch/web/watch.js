"use strict";
// Ask for the state, show it, and ask again: each answer comes when something has changed.

const found = (id) => document.getElementById(id);
let state = { revision: -1, left: 0, problems: [], patterns: [] };

function make(tag, words, kind) {
  const element = document.createElement(tag);
  if (words !== undefined) element.textContent = words;
  if (kind) element.className = kind;
  return element;
}

// What is looked at stands after the # of the address: SLUG/EDITION-PAPER.
function chosen() {
  const [slug, name] = decodeURIComponent(location.hash.slice(1)).split("/");
  const pattern = state.patterns.find((one) => one.slug === slug) || state.patterns[0];
  const book = pattern && (pattern.books.find((one) => one.name === name) || pattern.books[0]);
  return { pattern, book };
}

function choice(words, address, pressed) {
  const button = make("button", words);
  button.setAttribute("aria-pressed", pressed);
  button.addEventListener("click", () => { location.hash = address; });
  return button;
}

function showPatterns(pattern) {
  const items = state.patterns.map((one) => {
    const item = make("li");
    item.append(choice(one.slug, one.slug, one === pattern));
    const count = one.problems.length;
    if (count) item.append(make("div", count === 1 ? "1 problem" : `${count} problems`, "wrong"));
    return item;
  });
  found("patterns").replaceChildren(...items);
}

function showState() {
  const wrong = allProblems().length;
  const busy = state.left > 0;
  const words = busy ? `Making ${state.left} pattern${state.left === 1 ? "" : "s"} …`
    : wrong ? (wrong === 1 ? "1 problem" : `${wrong} problems`) : "All is up to date";
  found("state").textContent = words;
  found("state").className = busy ? "busy" : "";
  document.title = wrong ? `(${wrong}) Publisher` : "Publisher";
}

function allProblems() {
  const all = [...state.problems, ...state.patterns.flatMap((one) => one.problems)];
  const told = new Set();
  return all.filter((one) => {
    const words = JSON.stringify(one);
    return !told.has(words) && told.add(words);
  });
}

function showProblems() {
  const items = allProblems().map((problem) => {
    const item = make("li");
    item.append(make("code", problem.place), make("span", problem.message + "; "),
      make("span", problem.hint, "hint"));
    return item;
  });
  const list = make("ul");
  list.append(...items);
  found("problems").hidden = items.length === 0;
  found("problems").replaceChildren(...(items.length ? [make("h2", "To mend"), list] : []));
}

function showBooks(pattern, book) {
  const books = pattern ? pattern.books : [];
  const buttons = books.map((one) => choice(one.name, `${pattern.slug}/${one.name}`, one === book));
  found("books").replaceChildren(...buttons);
}

// Pages that are there stay in their place and only get another picture: nothing jumps.
function showPages(book) {
  const pages = found("pages");
  const sizes = book ? book.pages : [];
  while (pages.children.length > sizes.length) pages.lastChild.remove();
  sizes.forEach(([width, height], index) => {
    if (!pages.children[index]) {
      const figure = make("figure");
      const image = make("img");
      image.loading = "lazy";
      figure.append(image, make("figcaption", String(index + 1)));
      pages.append(figure);
    }
    const image = pages.children[index].firstChild;
    image.width = Math.round(width);
    image.height = Math.round(height);
    image.alt = `Page ${index + 1}`;
    const file = book.file.split("/").map(encodeURIComponent).join("/");
    const address = `page/${file}/${index + 1}?${book.digest}`;
    if (image.getAttribute("src") !== address) image.setAttribute("src", address);
  });
}

function show() {
  const { pattern, book } = chosen();
  showPatterns(pattern);
  showState();
  showProblems();
  showBooks(pattern, book);
  showPages(book);
}

async function follow() {
  for (;;) {
    try {
      const { pattern } = chosen();
      const looking = pattern ? encodeURIComponent(pattern.slug) : "";
      const answer = await fetch(`state?after=${state.revision}&looking-at=${looking}`);
      const next = await answer.json();
      const same = next.revision === state.revision;
      state = next;
      if (!same) show();
      if (same && next.closed) throw new Error("closed");
    } catch {
      found("state").textContent = "The watch has been stopped";
      found("state").className = "";
      state = { ...state, revision: -1 };
      await new Promise((resolve) => setTimeout(resolve, 2000));
    }
  }
}

window.addEventListener("hashchange", show);
follow();
