/* Checking signed passports step by step: the same steps, in the same words, as the command. Asks nothing of any network.
   Sees no page; gives of a passport only what its signature covered. */

var AFTER_SIGNATURE = ["key", "issues", "pictures", "newest"];

/* ---- Signatures: W3C Data Integrity, eddsa-jcs-2022 -------------------------------------------------------- */

async function check(secured) {
  try {
    var proof = proofOf(secured), did = signerOf(proof), signature = signatureOf(proof);
    var covered = coveredBy(secured, proof);
    var proofHash = await sha256(utf8(canonical(without(proof, "proofValue"))));
    var documentHash = await sha256(utf8(canonical(covered.document)));
    if (!(await isSigned(publicOf(did), signature, joined(proofHash, documentHash)))) refuse("signature.wrong");
    return { document: covered.document, did: did, fault: null, hasAdditions: covered.hasAdditions };
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    return { document: null, did: "", fault: error.said, hasAdditions: false };
  }
}

async function isSigned(key, signature, content) {
  try {
    var imported = await crypto.subtle.importKey("raw", key, "Ed25519", false, ["verify"]);
    return await crypto.subtle.verify("Ed25519", imported, signature, content);
  } catch (error) { return false; }
}

function proofOf(secured) {
  var proof = secured.proof;
  if (proof === undefined || proof === null) refuse("signature.none");
  if (!isGroup(proof) || proof.type !== "DataIntegrityProof" || proof.proofPurpose !== "assertionMethod") refuse("signature.shape");
  if (proof.cryptosuite !== "eddsa-jcs-2022") refuse("signature.suite");
  return proof;
}

function signerOf(proof) {
  var did = textIn(proof, "verificationMethod").split("#")[0];
  if (!publicOf(did) || proof.verificationMethod !== did + "#" + did.slice(8)) refuse("signature.key");
  return did;
}

function signatureOf(proof) {
  var signature = fromMultibase(proof.proofValue);
  if (signature === null || signature.length !== 64) refuse("signature.shape");
  return signature;
}

function coveredBy(secured, proof) {
  var bare = without(secured, "proof");
  if (!("@context" in proof)) return { document: bare, hasAdditions: false };
  var signed = [].concat(proof["@context"]), given = "@context" in bare ? [].concat(bare["@context"]) : [null];
  if (!same(given.slice(0, signed.length), signed)) refuse("signature.context");
  bare["@context"] = proof["@context"];
  return { document: bare, hasAdditions: given.length > signed.length };
}

/* ---- Key statements ------------------------------------------------------------------------------------- */

/* The day a document is valid from; nothing where it is not written as ours are. */
function dayOf(meant) {
  var found = textIn(meant, "validFrom");
  return /^[0-9]{4}-[0-9]{2}-[0-9]{2}T00:00:00Z$/.test(found) ? found.slice(0, 10) : "";
}

function isStatement(meant) { return Array.isArray(meant.type) && same(meant.type, ["VerifiableCredential", "KeyStatement"]); }

async function statementOf(secured) {
  var found = await check(secured);
  if (found.document === null) throw new Refused(found.fault);
  var subject = groupIn(found.document, "credentialSubject"), issuer = groupIn(found.document, "issuer");
  var made = {
    number: Number.isInteger(subject.keyNumber) ? subject.keyNumber : 0,
    did: textIn(subject, "id"),
    signer: found.did,
    workshop: textIn(issuer, "name"),
    day: dayOf(found.document),
    nextKey: digestIn(subject, "nextKey"),
    before: digestIn(found.document, "statementBefore"),
    digest: await digestOf(secured),
  };
  var isOurs = isStatement(found.document) && same(found.document["@context"], KNOWN.context) && issuer.id === found.did;
  var isWhole = publicOf(made.did) && made.day;
  if (!isOurs || !isWhole || ![made.nextKey, made.before].filter(Boolean).every(isDigest)) refuse("key.form");
  made.begins = !made.before && made.signer === made.did;
  made.fingerprint = await fingerprint(made.did);
  made.keyDigest = await digest(utf8(made.did));
  return made;
}

function follows(earlier, later) {
  var isNamed = earlier.nextKey === later.keyDigest && later.signer === later.did;
  var isPassedOn = !earlier.nextKey && later.signer === earlier.did;
  var isInOrder = later.number === earlier.number + 1 && later.day >= earlier.day && later.before === earlier.digest;
  return isInOrder && (isNamed || isPassedOn);
}

function chain(statements) {
  var ordered = statements.slice().sort(function (first, second) { return first.number - second.number; });
  ordered.forEach(function (made, index) {
    var isTied = made.begins || (index > 0 && follows(ordered[index - 1], made));
    if (made.number !== index + 1 || !isTied) refuse("key.chain", { number: made.number });
  });
  return ordered;
}

function extended(known, given) {
  var row = known.slice(), found;
  var isNext = function (made) { return !made.begins && follows(row[row.length - 1], made); };
  while (row.length && (found = given.find(isNext))) row.push(found);
  return row;
}

/* ---- What was given ------------------------------------------------------------------------------------- */

function documentIn(file) {
  var head = String.fromCharCode.apply(null, file.bytes.slice(0, 64));
  if (head.startsWith("%PDF")) refuse("form.pdf");
  var seemsText = file.name.toLowerCase().endsWith(".json") || /^[ \t\n\r\v\f]*\{/.test(head);
  return seemsText ? read(file.bytes) : null;
}

async function passportIn(name, secured) {
  var checked = await check(secured);
  if (checked.document !== null && !("@context" in checked.document && same(checked.document["@context"], KNOWN.context))) refuse("form.other");
  return { file: name, digest: await digestOf(secured), checked: checked, says: saysOf(checked.document || secured) };
}

function saysOf(meant) {
  var subject = groupIn(meant, "credentialSubject"), issuer = groupIn(meant, "issuer");
  var pictures = "pictures" in subject ? subject.pictures : [];
  var texts = [subject.number, meant.name, subject.claim, issuer.id, issuer.name];
  var isOurs = Array.isArray(meant.type) && same(meant.type, ["VerifiableCredential", "InstrumentPassport"]);
  var before = digestIn(meant, "issueBefore");
  if (!isOurs || !Array.isArray(pictures) || !pictures.every(isGroup)) refuse("form.other");
  pictures.forEach(function (picture) { texts.push(picture.name, picture.digestMultibase); });
  var areApart = new Set(pictures.map(function (picture) { return picture.name; })).size === pictures.length;
  var areTexts = texts.every(function (text) { return typeof text === "string"; });
  var digests = pictures.map(function (picture) { return picture.digestMultibase; }).concat(before || []);
  var day = dayOf(meant), isCounted = Number.isInteger(meant.issueNumber) && meant.issueNumber > 0;
  if (!areTexts || !areApart || !digests.every(isDigest) || !day || !isCounted) refuse("form.other");
  return {
    stem: subject.number, name: meant.name, claim: subject.claim, number: meant.issueNumber,
    day: day, issuer: issuer.id, issuerName: issuer.name, before: before, pictures: pictures,
  };
}

/* ---- Step by step --------------------------------------------------------------------------------------- */

function step(name, result, code, facts) { return { name: name, result: result, said: say(code, facts) }; }

async function verify(files) {
  var table = { passports: [], stated: [], pictures: [], issues: new Map(Object.entries(KNOWN.issues)) }, broken = [];
  for (var file of files) {
    try {
      var meant = documentIn(file);
      if (meant === null) table.pictures.push({ name: file.name, digest: await digest(file.bytes), bytes: file.bytes });
      else if (isStatement(meant)) table.stated.push({ name: file.name, made: await statementOf(meant) });
      else table.passports.push(await passportIn(file.name, meant));
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      broken.push(brokenReport(file.name, error.said));
    }
  }
  /* What is written into this page is read as strictly as what is given. */
  var known = await Promise.all(KNOWN.statements.map(function (made) { return statementOf(read(utf8(JSON.stringify(made)))); }));
  known = chain(known);
  var loose = table.stated.map(function (each) { return each.made; });
  loose = loose.filter(function (made, index) {
    return loose.findIndex(function (other) { return other.digest === made.digest; }) === index;
  });
  table.keys = extended(known, loose);
  table.loose = known.length ? [] : loose;
  table.workshop = known.length ? known[known.length - 1].workshop : "";
  var reports = [];
  for (var given of table.passports) reports.push(await passportReport(table, given));
  table.stated.forEach(function (each) { reports.push(statementReport(table, each)); });
  return reports.concat(broken, strays(table));
}

function failing(steps) {
  var names = steps.filter(function (each) { return each.result === "fails"; }).map(function (each) { return WORDS["step." + each.name]; });
  return say("verdict.fails", { steps: names.join(", ") });
}

function brokenReport(name, said) {
  var under = said.code.split(".")[0];
  var steps = under === "form"
    ? [{ name: "form", result: "fails", said: said }, step("signature", "unchecked", "signature.unchecked")]
    : [step("form", "holds", "form.statement"), { name: under, result: "fails", said: said }];
  return { file: name, steps: steps, document: null, verdict: failing(steps), pictures: [] };
}

async function passportReport(table, given) {
  var steps = [step("form", "holds", "form.holds")], checked = given.checked, says = given.says;
  if (checked.fault) {
    steps.push({ name: "signature", result: "fails", said: checked.fault });
    AFTER_SIGNATURE.forEach(function (name) { steps.push(step(name, "unchecked", name + ".unchecked")); });
    return { file: given.file, steps: steps, document: null, verdict: failing(steps), pictures: [] };
  }
  var named = await fingerprint(checked.did), key = keyStep(table, given, named);
  steps.push(step("signature", "holds", checked.hasAdditions ? "signature.added" : "signature.holds", { day: says.day }));
  steps.push(key, issuesStep(table, given), picturesStep(table, given), newestStep(table, given, key));
  return { file: given.file, steps: steps, document: checked.document, says: says, verdict: verdictOf(table, steps, named), pictures: shownPictures(table, says) };
}

function verdictOf(table, steps, named) {
  var key = steps[2], newest = steps[5], facts = { workshop: table.workshop, fingerprint: named, day: KNOWN.day };
  var fails = steps.filter(function (each) { return each.result === "fails"; });
  var isOnlyOld = fails.length === 1 && fails[0] === newest && newest.said.code !== "newest.unlisted" && key.result === "holds";
  if (isOnlyOld) return say("verdict.superseded", facts);
  if (fails.length) return failing(steps);
  return say(key.result === "holds" && newest.result === "holds" ? "verdict.holds" : "verdict.unchecked", facts);
}

function keyStep(table, given, named) {
  var did = given.checked.did, day = given.says.day;
  if (given.says.issuer !== did) return step("key", "fails", "key.issuer");
  if (!table.keys.length) return step("key", "unchecked", looseCode(table, did), { fingerprint: named });
  var found = table.keys.find(function (made) { return made.did === did; });
  if (!found) return step("key", "fails", "key.foreign", { fingerprint: named, workshop: table.workshop });
  if (day < found.day) return step("key", "fails", "key.early", { fingerprint: named, day: day, since: found.day });
  var after = table.keys.find(function (made) { return made.number === found.number + 1; });
  if (after && day > after.day) return step("key", "fails", "key.late", { fingerprint: named, day: day, until: after.day });
  return keyWords(found);
}

function looseCode(table, did) {
  try {
    return chain(table.loose).some(function (made) { return made.did === did; }) ? "key.given" : "key.unknown";
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    return "key.unknown";
  }
}

function keyWords(found) {
  var code = found.number === 1 ? "key.first" : found.begins ? "key.afresh" : "key.holds";
  return step("key", "holds", code, { fingerprint: found.fingerprint, workshop: found.workshop, since: found.day, number: found.number });
}

function sound(table) { return table.passports.filter(function (each) { return each.checked.document !== null; }); }

function issuesStep(table, given) {
  var here = given, count = 0;
  var find = function (digest) { return sound(table).find(function (each) { return each.digest === digest; }); };
  while (here.says.before) {
    var number = here.says.number - 1, before = find(here.says.before);
    if (number < 1 || (before && !isBefore(before.says, here.says))) return step("issues", "fails", "issues.odd");
    if (!before) return issueNotHere(table, here);
    var did = before.checked.did;
    var isOurs = !table.keys.length || table.keys.some(function (made) { return made.did === did; });
    if (!isOurs) return step("issues", "fails", "issues.foreign", { number: number });
    here = before;
    count += 1;
  }
  if (here.says.number !== 1) return step("issues", "fails", "issues.odd");
  return count ? step("issues", "holds", "issues.all", { count: count }) : step("issues", "holds", "issues.first");
}

function isBefore(before, after) {
  return before.stem === after.stem && before.number === after.number - 1 && before.day <= after.day;
}

function issueNotHere(table, here) {
  var number = here.says.number - 1, listed = table.issues.get(here.says.before);
  if (listed && listed[0] === number) return step("issues", "holds", "issues.listed", { number: number, day: listed[1] });
  if (listed) return step("issues", "fails", "issues.odd");
  var isOther = sound(table).some(function (each) { return each.says.stem === here.says.stem && each.says.number === number; });
  if (isOther) return step("issues", "fails", "issues.other", { number: number });
  return step("issues", "unchecked", "issues.missing", { number: number });
}

function digestsIn(says) { return says.pictures.map(function (picture) { return picture.digestMultibase; }); }

/* Whether a passport may say something about another one: not if altered, nor if somebody else's. */
function counts(table, other) { return other.checked.document !== null && keyStep(table, other, "").result !== "fails"; }

/* The pictures in a passport and in the other issues here, which may reuse a name. */
function vouchedFor(table, given) {
  var issues = table.passports.filter(function (each) { return each.says.stem === given.says.stem && counts(table, each); });
  return [].concat.apply([], [given].concat(issues).map(function (each) { return digestsIn(each.says); }));
}

function picturesStep(table, given) {
  var wanted = digestsIn(given.says), names = given.says.pictures.map(function (picture) { return picture.name; });
  var signed = vouchedFor(table, given);
  var wrong = table.pictures.find(function (each) { return names.includes(each.name) && !signed.includes(each.digest); });
  if (wrong) return step("pictures", "fails", "pictures.wrong", { name: wrong.name });
  var here = table.pictures.map(function (each) { return each.digest; });
  var found = wanted.filter(function (digest) { return here.includes(digest); }).length;
  if (!wanted.length) return step("pictures", "holds", "pictures.none");
  if (found === wanted.length) return step("pictures", "holds", "pictures.all", { count: found });
  return step("pictures", "unchecked", found ? "pictures.some" : "pictures.missing", { found: found, count: wanted.length });
}

function shownPictures(table, says) {
  return says.pictures.map(function (picture) {
    var file = table.pictures.find(function (each) { return each.digest === picture.digestMultibase; });
    return file && { words: textIn(picture, "shows"), caption: textIn(picture, "caption"), bytes: file.bytes };
  }).filter(Boolean);
}

function newestStep(table, given, key) {
  var newer = table.passports.filter(function (each) {
    var isLater = each.says.stem === given.says.stem && each.says.number > given.says.number;
    return isLater && counts(table, each);
  });
  if (newer.length) {
    var last = newer.reduce(function (one, other) { return other.says.number > one.says.number ? other : one; });
    return step("newest", "fails", "newest.given", { number: last.says.number, day: last.says.day });
  }
  if (key.result !== "holds") return step("newest", "unchecked", "newest.unknown");
  var listed = table.issues.get(given.digest), isTooOld = given.says.day < KNOWN.day;
  if (!listed && isTooOld) return step("newest", "fails", "newest.unlisted", { day: KNOWN.day });
  if (!listed) return step("newest", "unchecked", "newest.since", { day: KNOWN.day });
  if (listed[2] > given.says.number) return step("newest", "fails", "newest.later", { number: listed[2], day: listed[3] });
  return step("newest", "holds", "newest.holds", { day: KNOWN.day });
}

function statementReport(table, each) {
  var made = each.made, facts = { fingerprint: made.fingerprint, workshop: table.workshop }, key;
  if (!table.keys.length) key = step("key", "unchecked", "key.given", facts);
  else if (table.keys.some(function (other) { return other.digest === made.digest; })) key = keyWords(made);
  else key = step("key", "fails", "key.foreign", facts);
  var steps = [step("form", "holds", "form.statement"), step("signature", "holds", "signature.holds", { day: made.day }), key];
  return { file: each.name, steps: steps, document: null, verdict: key.result === "fails" ? failing(steps) : null, pictures: [] };
}

function strays(table) {
  var spokenOf = [];
  table.passports.forEach(function (each) {
    each.says.pictures.forEach(function (picture) { spokenOf.push(picture.name, picture.digestMultibase); });
  });
  var stray = table.pictures.filter(function (each) { return !spokenOf.includes(each.name) && !spokenOf.includes(each.digest); });
  return stray.map(function (each) {
    var steps = [step("form", "unchecked", "form.picture"), step("pictures", "fails", "pictures.stray")];
    return { file: each.name, steps: steps, document: null, verdict: failing(steps), pictures: [] };
  });
}
