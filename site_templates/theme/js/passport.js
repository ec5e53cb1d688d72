/* The typed number, the near numbers, the contents button. A classic script: it works from a folder and asks nothing of any host.

   A number is six characters and a check character by ISO 7064 MOD 37-2, all from an alphabet without 0, O, 1, I and L. */
(function () {
  "use strict";

  var ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ";
  var CHECK_ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";
  var LENGTH = 7;
  var NEAR_AT_MOST = 5;
  var FAR_AT_MOST = 2;

  function normalised(text) {
    return text.toUpperCase().replace(/[\s.\u00ad\u2010-\u2015\u2212-]/g, "");
  }

  function checks(number) {
    var sum = 0;
    for (var i = 0; i < number.length; i += 1) {
      var value = CHECK_ALPHABET.indexOf(number[i]);
      if (value < 0) return false;
      sum = i === number.length - 1 ? sum + value : ((sum + value) * 2) % 37;
    }
    return sum % 37 === 1;
  }

  function never(number) {
    return number.split("").filter(function (c) { return /[0O1IL]/.test(c); });
  }

  function strange(number) {
    return number.split("").filter(function (c) { return ALPHABET.indexOf(c) < 0; });
  }

  /* Optimal string alignment: a slip, a gap, an extra character or two swapped neighbours count one each.
     Beyond `most` it only says "more": ten thousand numbers are compared while somebody waits. */
  function distance(a, b, most) {
    if (Math.abs(a.length - b.length) > most) return most + 1;
    var before = [], last = [], row = [];
    for (var j = 0; j <= b.length; j += 1) last.push(j);
    for (var i = 1; i <= a.length; i += 1) {
      row = [i];
      var least = i;
      for (j = 1; j <= b.length; j += 1) {
        var best = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
        if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) best = Math.min(best, before[j - 2] + 1);
        row.push(best);
        if (best < least) least = best;
      }
      if (least > most + 1) return most + 1;
      before = last;
      last = row;
    }
    return last[b.length];
  }

  var listed = window.passportListed || { ids: "", titles: [], title: [], serials: [], paths: {} };
  var ids = listed.ids ? listed.ids.split(" ") : [];

  /* Rows of the listed instruments whose number is close to this one, the closest first. */
  function near(number) {
    return ids
      .map(function (id, row) { return { id: id, row: row, far: distance(number, id, FAR_AT_MOST) }; })
      .filter(function (found) { return found.far <= FAR_AT_MOST; })
      .sort(function (a, b) { return a.far - b.far || (a.id < b.id ? -1 : 1); })
      .slice(0, NEAR_AT_MOST)
      .map(function (found) { return found.row; });
  }

  function sentence(number) {
    if (!number) return "Type the number that stands inside the instrument or on its label.";
    var misread = never(number);
    if (misread.length) {
      return misread.join(", ") + (misread.length > 1 ? " do" : " does") + " not occur in a number. Look again: 0 and O may be Q or D, 1, I and L may be J or T.";
    }
    if (strange(number).length) return "A number has only letters and figures.";
    if (number.length !== LENGTH) return "A number has seven characters; this one has " + number.length + ".";
    return "One character in " + number + " is wrong: the last one does not agree with the others.";
  }

  function element(name, text, parent) {
    var made = document.createElement(name);
    made.textContent = text;
    if (parent) parent.appendChild(made);
    return made;
  }

  // A page stands at its number, but for one whose address was made before it was listed; the list says where.
  function page(base, number) {
    var path = listed.paths[ids.indexOf(number)] || number + "/";
    return base + path + (location.protocol === "file:" ? "index.html" : "");
  }

  function offer(into, rows, base) {
    if (!rows.length) return;
    element("p", rows.length > 1 ? "Listed numbers close to it:" : "The listed number close to it:", into);
    var list = into.appendChild(document.createElement("ul"));
    list.className = "near";
    rows.forEach(function (row) {
      var link = element("a", "", list.appendChild(document.createElement("li")));
      link.href = page(base, ids[row]);
      element("span", ids[row], link).className = "id";
      element("span", " " + listed.titles[listed.title[row]] + (listed.serials[row] ? ", " + listed.serials[row] : ""), link);
    });
  }

  function withSlash(base) {
    return base.charAt(base.length - 1) === "/" ? base : base + "/";
  }

  function numberBox(form) {
    var field = form.querySelector("input");
    var answer = form.querySelector("[role=status]");
    var base = withSlash(form.getAttribute("data-base"));
    form.addEventListener("submit", function (event) {
      event.preventDefault();
      // Somebody may paste the whole address from a label; the number is its last part.
      var number = normalised(field.value.replace(/\/+\s*$/, "").replace(/^.*\//, ""));
      answer.textContent = "";
      field.removeAttribute("aria-invalid");
      if (number.length === LENGTH && !strange(number).length && checks(number)) {
        location.href = page(base, number);
        return;
      }
      field.setAttribute("aria-invalid", "true");
      element("p", sentence(number), answer);
      if (number) offer(answer, near(number), base);
      field.focus();
    });
  }

  /* The number that was asked for: the address's last part, with dashes, dots and blanks where they may be. What is far too
     long is a file, or an address with its random end, of which nothing is said. */
  function typedNumber() {
    var parts = location.pathname.split("/").filter(Boolean).map(function (part) {
      try { return decodeURIComponent(part); } catch (error) { return part; }
    });
    var last = parts[parts.length - 1] === "index.html" ? parts[parts.length - 2] : parts[parts.length - 1];
    var number = normalised(last || "");
    return Math.abs(number.length - LENGTH) <= FAR_AT_MOST ? number : "";
  }

  function lostPage(place) {
    var number = typedNumber();
    var base = withSlash(document.querySelector("[data-passport-number]").getAttribute("data-base"));
    var rows = number ? near(number) : [];
    if (!rows.length) return;
    document.querySelector("[data-passport-number] input").value = number;
    var box = document.createElement("div");
    place.parentNode.replaceChild(box, place);
    element("p", "You asked for " + number + ".", box);
    offer(box, rows, base);
  }

  function contentsButton(button) {
    var links = document.getElementById(button.getAttribute("aria-controls"));
    button.addEventListener("click", function () {
      var open = button.getAttribute("aria-expanded") !== "true";
      button.setAttribute("aria-expanded", String(open));
      links.classList.toggle("is-open", open);
    });
  }

  function searchClose(button) {
    button.addEventListener("click", function () {
      var toggle = document.getElementById("__search");
      if (toggle.checked) toggle.click();
      document.getElementById("query").blur();
    });
  }

  /* A number typed with a dash or a space is one word to the search, as it is in the index. */
  function searchField(field) {
    field.addEventListener("input", function () {
      // Somebody may paste the whole address from a label; the number is its last part.
      var number = normalised(field.value.replace(/\/+\s*$/, "").replace(/^.*\//, ""));
      if (number !== field.value && number.length === LENGTH && !strange(number).length && checks(number)) field.value = number;
    });
  }

  /* A table that is wider than its column may be scrolled with the keyboard, and says so. */
  function scrollBox(box) {
    function look() {
      var wide = box.scrollWidth > box.clientWidth + 1;
      box.classList.toggle("is-wide", wide);
      if (wide) box.setAttribute("tabindex", "0"); else box.removeAttribute("tabindex");
    }
    look();
    window.addEventListener("resize", look);
    window.addEventListener("load", look);
  }

  function each(selector, act) {
    Array.prototype.forEach.call(document.querySelectorAll(selector), act);
  }

  /* In a copy opened from a folder, an address that ends in "/" would show the folder and not its page. */
  function fromFolder(event) {
    var link = event.target.closest && event.target.closest("a[href]");
    if (link && link.protocol === "file:" && link.pathname.slice(-1) === "/") link.pathname += "index.html";
  }

  if (location.protocol === "file:") document.addEventListener("click", fromFolder, true);
  each("[data-passport-number]", numberBox);
  each("[data-passport-near]", lostPage);
  each(".head__contents", contentsButton);
  each(".search__close", searchClose);
  each("#query", searchField);
  each(".scroll", scrollBox);
})();
