// Keeps an open page open while the computer that serves it cannot be reached: it says so, keeps
// trying, and holds taps and links back, which would end at the browser's own error page. A list
// that shows itself anew looks as it was left.
"use strict";
(() => {
  const EVERY_MS = 10000;
  const PATIENCE_MS = 4000;
  const REFRESH_MS = 60000;
  const note = document.getElementById("contact");
  const isList = "list" in document.body.dataset;
  const isNarrow = matchMedia("(max-width: 560px)").matches;
  const shownAt = Date.now();
  let lostAt = "";

  const goesTo = (item) => item.href || (item.form && item.form.action) || "";

  // A list that shows itself anew leaves whoever works by keyboard where they were.
  function showAnew() {
    sessionStorage.setItem("at", goesTo(document.activeElement));
    location.reload();
  }

  function goBackTo(place) {
    sessionStorage.removeItem("at");
    const items = [...document.querySelectorAll("a[href], button")];
    const found = place && items.find((item) => goesTo(item) === place);
    if (found) found.focus({ preventScroll: true });
  }

  // Days and parts that somebody opened, or closed, stay so when the page is shown again; on a narrow
  // screen the parts of a long page are closed until then.
  function keepFolds() {
    const folds = [...document.querySelectorAll("details[data-fold]")];
    const name = "open " + location.pathname;
    const open = sessionStorage.getItem(name);
    for (const fold of folds) {
      if (open !== null) fold.open = JSON.parse(open).includes(fold.dataset.fold);
      else if (isNarrow) fold.open = false;
      fold.addEventListener("toggle", () => {
        const names = folds.filter((each) => each.open).map((each) => each.dataset.fold);
        sessionStorage.setItem(name, JSON.stringify(names));
      });
    }
  }

  async function reached() {
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), PATIENCE_MS);
    try {
      return (await fetch("/contact", { cache: "no-store", signal: stop.signal })).ok;
    } catch (problem) {
      return false;
    } finally {
      clearTimeout(timer);
    }
  }

  function tell(held) {
    lostAt = lostAt || new Date().toTimeString().slice(0, 5);
    const words = held
      ? "What you tapped was not taken: tap again once contact is back."
      : "This page may be out of date, and taps are not taken.";
    note.textContent = `No contact with the shop's computer since ${lostAt}. ${words} It is tried again every few seconds.`;
    note.hidden = false;
  }

  // True once there is contact; a list that had lost it shows what was done meanwhile.
  async function look(held) {
    if (!(await reached())) {
      tell(held);
      return false;
    }
    const isBack = lostAt !== "";
    lostAt = "";
    note.hidden = true;
    if (isList && !held && (isBack || Date.now() - shownAt >= REFRESH_MS)) showAnew();
    return true;
  }

  keepFolds();
  goBackTo(sessionStorage.getItem("at"));
  setInterval(() => document.hidden || look(false), EVERY_MS);
  document.addEventListener("visibilitychange", () => document.hidden || look(false));

  document.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (await look(true)) event.target.submit();
  });

  document.addEventListener("click", async (event) => {
    const link = event.target.closest("a[href]");
    if (!link || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
    event.preventDefault();
    if (await look(true)) location.assign(link.href);
  });
})();
