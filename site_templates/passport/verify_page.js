/* The page: files chosen or dropped, and what the checks found in them, shown.
   It alone changes what is seen; words of others get there only as text. */

var MOST_PICTURE_BYTES = 50000000;
var reportsPlace = document.getElementById("reports"), status = document.getElementById("status");
var field = document.getElementById("files"), links = [];

function made(tag, text, name) {
  var element = document.createElement(tag);
  if (text) element.textContent = text;
  if (name) element.className = name;
  return element;
}

function withParts(element) {
  Array.prototype.slice.call(arguments, 1).forEach(function (part) { if (part) element.append(part); });
  return element;
}

function reportElement(report, index) {
  var title = made("h2", shown(report.file));
  title.id = "report-" + index;
  title.tabIndex = -1;
  var section = made("section", "", "report");
  section.setAttribute("aria-labelledby", title.id);
  var steps = made("dl", "", "steps");
  report.steps.forEach(function (each) {
    var words = withParts(made("dd"), made("b", WORDS["result." + each.result], "result " + each.result), " ", made("span", each.said.text));
    steps.append(withParts(made("div"), made("dt", WORDS["step." + each.name]), words));
  });
  withParts(section, title, headings(report), report.verdict && made("p", report.verdict.text, "verdict"), steps, pictureElements(report), coveredElement(report));
  return section;
}

function headings(report) {
  if (!report.says) return null;
  var facts = { name: report.says.name, issue: report.says.number, day: report.says.day, issuer: report.says.issuerName };
  var claim = say("covered.claim", { claim: report.says.claim });
  return withParts(made("div"), made("p", say("covered.heading", facts).text, "heading"), made("p", claim.text));
}

function pictureElements(report) {
  if (!report.pictures.length) return null;
  var list = made("ul", "", "pictures");
  report.pictures.forEach(function (picture) {
    var image = made("img"), link = URL.createObjectURL(new Blob([picture.bytes], { type: "image/jpeg" }));
    links.push(link);
    image.src = link;
    image.alt = shown(picture.words) || shown(picture.caption);
    list.append(withParts(made("li"), image, made("p", shown(picture.caption || picture.words), "small")));
  });
  return list;
}

function coveredElement(report) {
  if (!report.document) return null;
  var details = withParts(made("details"), made("summary", WORDS["page.covered"]));
  return withParts(details, element(without(report.document.credentialSubject, "type")));
}

/* Any part of a document as lists and tables; only ever as text. */
function element(meant) {
  if (Array.isArray(meant)) {
    if (meant.length && meant.every(Array.isArray)) return tableElement(meant);
    var list = made("ul");
    meant.forEach(function (each) { list.append(withParts(made("li"), element(each))); });
    return list;
  }
  if (!isGroup(meant)) return made("span", String(meant));
  if (Object.keys(meant).length === 2 && typeof meant.name === "string" && typeof meant.value === "string") {
    return withParts(made("span"), made("i", meant.name), " ", made("span", meant.value));
  }
  var group = made("dl");
  Object.keys(meant).forEach(function (name) {
    var words = name.replace(/[A-Z]/g, function (sign) { return " " + sign.toLowerCase(); });
    group.append(withParts(made("div"), made("dt", words), withParts(made("dd"), element(meant[name]))));
  });
  return group;
}

function tableElement(rows) {
  var body = made("tbody");
  rows.forEach(function (row) {
    var line = made("tr");
    row.forEach(function (cell, index) { line.append(withParts(made(index ? "td" : "th"), element(cell))); });
    if (line.firstChild) line.firstChild.scope = "row";
    body.append(line);
  });
  return withParts(made("div", "", "scroll"), withParts(made("table"), body));
}

async function readFiles(list) {
  var files = [], said = [];
  for (var file of list) {
    if (file.size > MOST_PICTURE_BYTES) { said.push(say("page.large", { name: file.name }).text); continue; }
    try {
      files.push({ name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) });
    } catch (error) { said.push(say("page.unread", { name: file.name }).text); }
  }
  return { files: files, said: said };
}

async function checkFiles(list) {
  if (!list.length) return;
  status.textContent = WORDS["page.working"];
  links.forEach(URL.revokeObjectURL);
  links = [];
  var given = await readFiles(list);
  var reports;
  try {
    reports = await verify(given.files);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    given.said.push(error.said.text);  /* the page itself was altered */
    reports = [];
  }
  reportsPlace.replaceChildren.apply(reportsPlace, reports.map(reportElement));
  status.textContent = given.said.concat(say("page.done", { count: reports.length }).text).join(" ");
  document.getElementById("proof").hidden = !reports.length;
  if (reports.length) document.getElementById("report-0").focus();
}

function stop(code) {
  status.textContent = WORDS[code];
  field.disabled = true;
}

async function begin() {
  document.getElementById("proof").textContent = WORDS["covered.proof"];
  document.getElementById("back").hidden = !/\/verify\/(index\.html)?$/.test(location.pathname);
  if (!window.isSecureContext || !window.crypto || !crypto.subtle) return stop("page.insecure");
  try {
    await crypto.subtle.importKey("raw", new Uint8Array(32), "Ed25519", false, ["verify"]);
  } catch (error) { if (error.name === "NotSupportedError") return stop("page.old"); }
  field.addEventListener("change", function () { checkFiles(Array.from(field.files)); });
  document.addEventListener("dragover", function (event) { event.preventDefault(); });
  document.addEventListener("drop", function (event) {
    event.preventDefault();
    checkFiles(Array.from(event.dataTransfer.files));
  });
  field.disabled = false;
  document.documentElement.dataset.ready = "yes";
}

begin();
