/* Narrowing the catalogue down. A classic script over data/listed.js and data/facets.js: it works from a folder and asks nothing of any host.

   The address says what was chosen: a facet's name once for each value, the words, the order. Within one facet a line needs
   one of the chosen values, across facets something in each. Without this script the page shows the whole list. */
(function () {
  "use strict";

  const form = document.querySelector("[data-passport-narrow]");
  const listed = window.passportListed;
  const data = window.passportFacets;
  if (!form || !listed || !data) return;

  const ROWS_AT_A_TIME = 100;
  // A facet with more values than this shows its most frequent ones first.
  const FEW_VALUES = 10;
  const END = location.protocol === "file:" ? "index.html" : "";
  const base = form.getAttribute("data-base");
  const found = document.querySelector(".found");
  const at = (selector) => form.querySelector(selector) || found.querySelector(selector);
  const words = at("#words");
  const order = at("#order");
  const count = at(".found__count");
  const list = at(".found__list");
  const more = at(".found__more button");

  const ids = listed.ids.split(" ");
  const rows = ids.map((_, row) => row);
  const facets = data.facets.map((facet) => Object.assign({ chosen: new Set(), whole: false, lines: new Map() }, facet, asSets(facet)));
  const named = (name) => facets.find((facet) => facet.name === name);
  const valueOf = (facet, row) => facet.values[facet.sets[facet.of[row]][0]] || "";
  const kind = named("kind");
  const size = named("size");
  const model = named("model");
  const status = named("status");
  const year = named("year");
  const yearWords = (row) => year.words[year.of[row]];
  const title = (row) => listed.titles[listed.title[row]];

  // Each combination of values once, in `sets`, and the place of each line's own in `of`: most lines share theirs with others.
  function asSets(facet) {
    if (facet.spans) return { sets: facet.spans };
    const place = new Map();
    const sets = [];
    const of = facet.of.map((values) => {
      const key = String(values);
      if (!place.has(key)) place.set(key, sets.push([].concat(values)) - 1);
      return place.get(key);
    });
    return { sets: sets, of: of };
  }

  let shown = ROWS_AT_A_TIME;
  let result = rows;
  let typing = false;

  /* ---- What is found ---- */

  // Letters without their accents, no dashes, dots or soft hyphens: a number may be typed with or without them.
  function plain(text) {
    return text.normalize("NFD").replace(/[\u0300-\u036f\u00ad\u2010-\u2015\u2212.-]/g, "").toLowerCase();
  }

  let texts = null;
  function text(row) {
    texts = texts || rows.map((each) => {
      const parts = [ids[each], listed.serials[each], listed.serials[each].replace(/\s/g, ""), title(each), yearWords(each)];
      facets.forEach((facet) => facet.sets[facet.of[each]].forEach((value) => parts.push(facet.values[value])));
      return plain(parts.join(" "));
    });
    return texts[row];
  }

  // A number or serial may be typed with blanks in it, which then stands for one word.
  function asked() {
    const typed = plain(words.value).trim();
    const pieces = typed.split(/\s+/).filter(Boolean);
    const closed = pieces.join("");
    return (row) => pieces.every((piece) => text(row).includes(piece)) || (closed.length > 3 && text(row).includes(closed));
  }

  // A year that is chosen narrows its decade down, whether or not the decade is chosen too.
  function inForce(facet) {
    const chosen = new Set(facet.chosen);
    if (facet.under) facet.chosen.forEach((value) => chosen.delete(facet.under[value]));
    return chosen;
  }

  // One pass: a line that fails nowhere counts everywhere, one that fails in a single facet counts in that facet only.
  function narrowed() {
    const fits = facets.map((facet) => {
      const chosen = inForce(facet);
      return chosen.size ? facet.sets.map((set) => set.some((value) => chosen.has(value))) : null;
    });
    const narrowing = facets.map((_, index) => index).filter((index) => fits[index]);
    const counts = facets.map((facet) => new Array(facet.sets.length).fill(0));
    const matches = words.value.trim() ? asked() : () => true;
    const kept = rows.filter((row) => {
      if (!matches(row)) return false;
      const failed = narrowing.filter((index) => !fits[index][facets[index].of[row]]);
      if (failed.length === 1) counts[failed[0]][facets[failed[0]].of[row]] += 1;
      if (failed.length) return false;
      facets.forEach((facet, index) => { counts[index][facet.of[row]] += 1; });
      return true;
    });
    facets.forEach((facet, index) => { facet.counts = perValue(facet, counts[index]); });
    return kept;
  }

  function perValue(facet, perSet) {
    const counts = new Array(facet.values.length).fill(0);
    facet.sets.forEach((set, index) => { if (perSet[index]) set.forEach((value) => { counts[value] += perSet[index]; }); });
    return counts;
  }

  const collator = new Intl.Collator("en", { numeric: true, sensitivity: "base" });
  // What is not recorded comes last in every order.
  const byWords = (of) => (a, b) => (of(a) === "") - (of(b) === "") || collator.compare(of(a), of(b));
  const undated = (row) => !year.sets[year.of[row]].length;
  const byYear = (sign) => (a, b) => undated(a) - undated(b) || sign * (year.of[a] - year.of[b]);
  const ORDERS = {
    number: (a, b) => (ids[a] < ids[b] ? -1 : 1),
    oldest: byYear(1),
    newest: byYear(-1),
    serial: byWords((row) => listed.serials[row]),
    model: byWords((row) => valueOf(model, row)),
  };

  function inOrder(kept) {
    return ORDERS[order.value] ? kept.slice().sort((a, b) => ORDERS[order.value](a, b) || a - b) : kept;
  }

  /* ---- The list ---- */

  function element(name, parent, className, content) {
    const made = document.createElement(name);
    if (className) made.className = className;
    if (content) made.textContent = content;
    return parent.appendChild(made);
  }

  // "3/4" is marked, for the typeface to set as a fraction; copied, it is still "3/4".
  function withFractions(parent, className, content) {
    const made = element("span", parent, className);
    content.split(/(\b\d{1,2}\/\d{1,2}\b)/).forEach((piece, index) => {
      if (index % 2) element("span", made, "frac", piece); else made.append(piece);
    });
    return made;
  }

  function line(into, row, withKind) {
    const link = element("a", element("li", into), "index-line");
    link.href = base + (listed.paths[row] || ids[row] + "/") + END;
    withFractions(link, "index-what", withKind ? title(row) : valueOf(size, row));
    link.append(" ");
    element("span", link, "id", ids[row]);
    [["index-model", valueOf(model, row)], ["index-serial", listed.serials[row]], ["index-year", yearWords(row)]].forEach((cell) => {
      link.append(" ");
      element("span", link, cell[0], cell[1]);
    });
    const became = valueOf(status, row);
    if (became !== "in use") element("span", link, "index-status", became);
    return link;
  }

  // In the catalogue's own order the kinds are headings, in every other each line names its kind.
  function place(row) {
    const heading = ORDERS[order.value] ? "" : data.groups[valueOf(kind, row)];
    const last = list.lastElementChild;
    if (last && last.dataset.heading === heading) return last.lastElementChild;
    const section = element("section", list, "index-group");
    section.dataset.heading = heading;
    if (heading) element("h2", section, "", heading);
    return element("ol", section, heading ? "index" : "index index-mixed");
  }

  function addRows(from, to) {
    return result.slice(from, to).map((row) => line(place(row), row, Boolean(ORDERS[order.value])))[0];
  }

  const number = (amount) => amount.toLocaleString("en");
  const instruments = (amount) => number(amount) + (amount === 1 ? " instrument" : " instruments");

  function sayMore() {
    const left = result.length - shown;
    more.parentNode.hidden = left <= 0;
    more.textContent = "Show " + number(Math.min(left, ROWS_AT_A_TIME)) + " more; " + number(shown) + " of " + number(result.length) + " are shown";
  }

  function showList() {
    list.textContent = "";
    addRows(0, shown);
    sayMore();
  }

  function showMore(upTo) {
    const first = addRows(shown, upTo);
    shown = Math.min(upTo, Math.max(result.length, ROWS_AT_A_TIME));
    sayMore();
    return first;
  }

  /* ---- The choices ---- */

  function makeFacet(facet) {
    facet.box = element("fieldset", at(".narrow__facets"), "facet");
    element("legend", facet.box, "", facet.heading);
    facet.list = element("ul", facet.box);
    facet.all = element("button", facet.box, "facet__all");
    facet.all.type = "button";
    facet.all.addEventListener("click", () => {
      facet.whole = !facet.whole;
      showFacet(facet);
    });
  }

  function makeLine(facet, value) {
    const item = document.createElement("li");
    if (facet.under && facet.under[value] !== undefined) item.className = "facet__under";
    const label = element("label", item);
    const box = element("input", label);
    box.type = "checkbox";
    box.name = facet.name;
    box.value = facet.values[value];
    withFractions(label, "facet__value", facet.values[value]);
    label.append(" ");
    element("span", label, "facet__count");
    facet.lines.set(value, item);
    return item;
  }

  // A year stands in the list only below a decade that is chosen, itself or one of its years.
  function opened(facet, value) {
    if (!facet.under || facet.under[value] === undefined) return true;
    const decade = facet.under[value];
    return facet.chosen.has(decade) || Array.from(facet.chosen).some((chosen) => facet.under[chosen] === decade);
  }

  function worthShowing(facet) {
    const kept = (value) => facet.chosen.has(value) || (facet.lines.has(value) && facet.lines.get(value).contains(document.activeElement));
    const possible = facet.values.map((_, value) => value).filter((value) => opened(facet, value) && (facet.counts[value] || kept(value)));
    facet.possible = possible.length;
    if (facet.whole || facet.under || possible.length <= FEW_VALUES) return possible;
    const frequent = new Set(possible.slice().sort((a, b) => facet.counts[b] - facet.counts[a] || a - b).slice(0, FEW_VALUES));
    return possible.filter((value) => frequent.has(value) || kept(value));
  }

  // Lines come and go around the others, which stay where they are, so that the keyboard keeps its place.
  function showFacet(facet) {
    const wanted = worthShowing(facet);
    const stay = new Set(wanted);
    facet.lines.forEach((item, value) => { if (!stay.has(value)) item.remove(); });
    let next = facet.list.firstElementChild;
    wanted.forEach((value) => {
      const item = facet.lines.get(value) || makeLine(facet, value);
      if (item === next) next = next.nextElementSibling; else facet.list.insertBefore(item, next);
      item.querySelector("input").checked = facet.chosen.has(value);
      item.querySelector(".facet__count").textContent = number(facet.counts[value]);
    });
    facet.all.hidden = Boolean(facet.under) || facet.possible <= FEW_VALUES;
    facet.all.textContent = facet.whole ? "Fewer" : "All " + number(facet.possible);
    facet.all.setAttribute("aria-label", facet.all.textContent + ", " + facet.heading);
    facet.box.hidden = facet.values.length < 2 && !facet.chosen.size;
  }

  function choices() {
    const said = facets.map((facet) => Array.from(inForce(facet)).sort((a, b) => a - b).map((value) => facet.values[value]).join(" or ")).filter(Boolean);
    return words.value.trim() ? said.concat("“" + words.value.trim() + "”") : said;
  }

  function howMany() {
    if (!result.length) return "No instrument is like that.";
    return result.length === rows.length ? (rows.length === 1 ? "One instrument" : "All " + instruments(rows.length)) : instruments(result.length) + " of " + number(rows.length);
  }

  function sayChoices() {
    const made = choices();
    const chosen = facets.reduce((sum, facet) => sum + inForce(facet).size, 0);
    count.textContent = howMany();
    at(".found__chosen").hidden = !made.length;
    at(".found__choices").textContent = made.join("; ");
    at(".narrow__open").textContent = "Narrow down" + (chosen ? ", " + number(chosen) + " chosen" : "");
    at(".narrow__close").textContent = result.length ? "Show " + (result.length === 1 ? "it" : "the " + instruments(result.length)) : "Close";
  }

  function show() {
    result = inOrder(narrowed());
    facets.forEach(showFacet);
    sayChoices();
    showList();
  }

  /* ---- The address ---- */

  function toAddress() {
    const query = new URLSearchParams();
    facets.forEach((facet) => Array.from(facet.chosen).sort((a, b) => a - b).forEach((value) => query.append(facet.name, facet.values[value])));
    if (words.value.trim()) query.set("words", words.value.trim());
    if (order.value) query.set("order", order.value);
    const text = query.toString();
    return location.pathname + (text ? "?" + text : "");
  }

  function fromAddress() {
    const query = new URLSearchParams(location.search);
    facets.forEach((facet) => {
      facet.chosen = new Set(query.getAll(facet.name).map((value) => facet.values.indexOf(value)).filter((value) => value >= 0));
    });
    words.value = query.get("words") || "";
    order.value = ORDERS[query.get("order")] ? query.get("order") : "";
    shown = Math.max(ROWS_AT_A_TIME, (history.state && history.state.shown) || 0);
    typing = false;
    show();
  }

  // What is typed letter by letter is one step back, not one for each letter.
  function changed(byTyping) {
    shown = ROWS_AT_A_TIME;
    show();
    history[byTyping && typing ? "replaceState" : "pushState"]({ shown: shown }, "", toAddress());
    typing = byTyping;
  }

  /* ---- What happens ---- */

  form.addEventListener("change", (event) => {
    const facet = named(event.target.name);
    if (event.target === words) return;
    if (facet) {
      const value = facet.values.indexOf(event.target.value);
      if (event.target.checked) facet.chosen.add(value); else unchoose(facet, value);
    }
    changed(false);
  });

  // A decade that is given up takes its years with it.
  function unchoose(facet, value) {
    facet.chosen.delete(value);
    if (facet.under) Array.from(facet.chosen).filter((each) => facet.under[each] === value).forEach((each) => facet.chosen.delete(each));
  }

  words.addEventListener("input", () => changed(true));
  form.addEventListener("submit", (event) => event.preventDefault());
  window.addEventListener("popstate", fromAddress);

  at(".found__clear").addEventListener("click", () => {
    facets.forEach((facet) => facet.chosen.clear());
    words.value = "";
    changed(false);
    count.focus();
  });

  more.addEventListener("click", () => {
    const first = showMore(shown + ROWS_AT_A_TIME);
    history.replaceState({ shown: shown }, "");
    if (first) first.focus();
  });

  function open(wide) {
    at(".narrow__open").setAttribute("aria-expanded", String(wide));
    form.classList.toggle("is-open", wide);
  }

  at(".narrow__open").addEventListener("click", () => open(!form.classList.contains("is-open")));
  at(".narrow__close").addEventListener("click", () => {
    open(false);
    found.scrollIntoView();
    count.focus({ preventScroll: true });
  });

  // On paper stands everything that was found, not only what is shown so far.
  window.addEventListener("beforeprint", () => showMore(result.length));

  facets.forEach(makeFacet);
  fromAddress();
  form.hidden = false;
  found.hidden = false;
  document.querySelector(".whole").hidden = true;
  document.querySelector(".catalogue").classList.add("is-narrowing");
})();
