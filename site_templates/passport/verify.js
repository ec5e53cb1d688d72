/* Checks signed passports in the browser: the same steps, in the same words, as the command. Asks nothing of any network.
   Everything that is shown of a passport comes from the document that its signature covered. */
(function () {
  "use strict";

  var KNOWN = JSON.parse(document.getElementById("known").textContent);
  var WORDS = KNOWN.words;
  var MOST_BYTES = 1000000, MOST_DEPTH = 20, LONGEST_NUMBER = 40, LONGEST_TEXT = 128, LONGEST_SHOWN = 200;
  var MOST_PICTURE_BYTES = 50000000;
  var ALPHABET = "123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz";
  var BASE32 = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";
  var AFTER_SIGNATURE = ["key", "issues", "pictures", "newest"];

  /* ---- Words --------------------------------------------------------------------------------------------- */

  function shown(text) {
    var signs = Array.from(text);
    var short = signs.length > LONGEST_SHOWN ? signs.slice(0, LONGEST_SHOWN).join("") + "…" : text;
    return short.replace(/[\p{C}\p{Zl}\p{Zp}]|(?! )\p{Zs}/gu, "\ufffd");
  }

  function say(code, facts) {
    var text = WORDS[code].replace(/\{(\w+)\}/g, function (_, name) { return shown(String(facts[name])); });
    return { code: code, text: text };
  }

  function Refused(said) { this.said = said; }
  function refuse(code, facts) { throw new Refused(say(code, facts)); }

  /* ---- Bytes and text ------------------------------------------------------------------------------------- */

  function utf8(text) { return new TextEncoder().encode(text); }

  async function sha256(bytes) { return new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)); }

  function joined(first, second) {
    var whole = new Uint8Array(first.length + second.length);
    whole.set(first);
    whole.set(second, first.length);
    return whole;
  }

  function base58(bytes) {
    var number = 0n, text = "";
    bytes.forEach(function (byte) { number = number * 256n + BigInt(byte); });
    for (; number > 0n; number /= 58n) text = ALPHABET[Number(number % 58n)] + text;
    for (var at = 0; at < bytes.length && bytes[at] === 0; at += 1) text = ALPHABET[0] + text;
    return text;
  }

  /* Bytes of multibase base58btc; nothing for anything else. */
  function fromMultibase(text) {
    if (typeof text !== "string" || text[0] !== "z" || text.length - 1 > LONGEST_TEXT) return null;
    var number = 0n, bytes = [];
    for (var sign of text.slice(1)) {
      var value = ALPHABET.indexOf(sign);
      if (value < 0) return null;
      number = number * 58n + BigInt(value);
    }
    for (; number > 0n; number /= 256n) bytes.unshift(Number(number % 256n));
    for (var at = 1; text[at] === ALPHABET[0]; at += 1) bytes.unshift(0);
    return new Uint8Array(bytes);
  }

  function startsWith(bytes, first, second, length) {
    return bytes !== null && bytes.length === length && bytes[0] === first && bytes[1] === second;
  }

  async function digest(bytes) { return "z" + base58(joined(new Uint8Array([0x12, 0x20]), await sha256(bytes))); }
  function isDigest(text) { return startsWith(fromMultibase(text), 0x12, 0x20, 34); }

  function publicOf(did) {
    var bytes = typeof did === "string" && did.startsWith("did:key:") ? fromMultibase(did.slice(8)) : null;
    return startsWith(bytes, 0xed, 0x01, 34) ? bytes.slice(2) : null;
  }

  function grouped(hash) {
    var bits = "", signs = "";
    hash.slice(0, 13).forEach(function (byte) { bits += byte.toString(2).padStart(8, "0"); });
    for (var at = 0; at < 100; at += 5) signs += BASE32[parseInt(bits.slice(at, at + 5), 2)];
    return signs.match(/.{4}/g).join(" ");
  }

  async function fingerprint(did) { return grouped(await sha256(utf8(did))); }

  /* ---- The strict reader of JSON (RFC 8259), and the canonical form (RFC 8785) ------------------------------ */

  function read(bytes) {
    var text;
    if (bytes.length > MOST_BYTES) refuse("form.large");
    try {
      text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
    } catch (error) { refuse("form.letters"); }
    refuseDepth(text);
    var reader = { text: text, at: 0, isBroken: false };
    blanks(reader);
    var found = value(reader);
    blanks(reader);
    if (reader.at < text.length || !isGroup(found)) refuse("form.json");
    if (reader.isBroken) refuse("form.letters");
    return found;
  }

  function refuseDepth(text) {
    for (var at = 0, depth = 0; at < text.length; at += 1) {
      var sign = text[at];
      if (sign === '"') at = endOfText(text, at);
      if (sign === "{" || sign === "[") depth += 1;
      if (sign === "}" || sign === "]") depth -= 1;
      if (depth > MOST_DEPTH) refuse("form.deep");
    }
  }

  function endOfText(text, start) {
    for (var at = start + 1; at < text.length && text[at] !== '"'; at += 1) if (text[at] === "\\") at += 1;
    return at;
  }

  function blanks(reader) { while (" \t\n\r".includes(reader.text[reader.at] || "-")) reader.at += 1; }

  function value(reader) {
    var sign = reader.text[reader.at];
    if (sign === "{") return group(reader);
    if (sign === "[") return list(reader);
    if (sign === '"') return words(reader);
    for (var [word, meant] of [["true", true], ["false", false], ["null", null]]) {
      if (reader.text.startsWith(word, reader.at)) { reader.at += word.length; return meant; }
    }
    return number(reader);
  }

  function number(reader) {
    var pattern = /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?/y;
    pattern.lastIndex = reader.at;
    var found = pattern.exec(reader.text);
    if (!found) refuse("form.json");
    reader.at += found[0].length;
    var meant = Number(found[0]);
    if (found[0].length > LONGEST_NUMBER || Math.abs(meant) > Number.MAX_SAFE_INTEGER) refuse("form.number");
    return meant;
  }

  function words(reader) {
    var start = reader.at, meant;
    reader.at = endOfText(reader.text, start) + 1;
    try { meant = JSON.parse(reader.text.slice(start, reader.at)); } catch (error) { refuse("form.json"); }
    reader.isBroken = reader.isBroken || /\p{Cs}/u.test(meant);
    return meant;
  }

  function next(reader, sign) {
    blanks(reader);
    if (reader.text[reader.at] !== sign) return false;
    reader.at += 1;
    blanks(reader);
    return true;
  }

  function list(reader) {
    var found = [];
    next(reader, "[");
    if (next(reader, "]")) return found;
    do found.push(value(reader)); while (next(reader, ","));
    if (!next(reader, "]")) refuse("form.json");
    return found;
  }

  function group(reader) {
    /* Without a prototype, so that no name in it has a meaning of its own. */
    var found = Object.create(null), twice = null;
    next(reader, "{");
    if (next(reader, "}")) return found;
    do {
      if (reader.text[reader.at] !== '"') refuse("form.json");
      var name = words(reader);
      if (twice === null && name in found) twice = name;
      if (!next(reader, ":")) refuse("form.json");
      found[name] = value(reader);
    } while (next(reader, ","));
    if (!next(reader, "}")) refuse("form.json");
    if (twice !== null) refuse("form.twice", { name: twice });
    return found;
  }

  function canonical(meant) {
    if (Array.isArray(meant)) return "[" + meant.map(canonical).join(",") + "]";
    if (meant === null || typeof meant !== "object") return JSON.stringify(meant);
    var names = Object.keys(meant).sort();
    return "{" + names.map(function (name) { return JSON.stringify(name) + ":" + canonical(meant[name]); }).join(",") + "}";
  }

  function same(first, second) { return canonical(first) === canonical(second); }
  function digestOf(meant) { return digest(utf8(canonical(meant))); }

  function without(meant, name) {
    var rest = Object.assign(Object.create(null), meant);
    delete rest[name];
    return rest;
  }

  function isGroup(meant) { return meant !== null && typeof meant === "object" && !Array.isArray(meant); }
  function groupIn(meant, name) { return isGroup(meant[name]) ? meant[name] : Object.create(null); }
  function textIn(meant, name) { return typeof meant[name] === "string" ? meant[name] : ""; }
  function digestIn(meant, name) { return textIn(groupIn(meant, name), "digestMultibase"); }

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
    var isNamed = earlier.nextKey === later.keyDigest;
    var isSignedRight = later.signer === earlier.did || (later.signer === later.did && isNamed);
    var isInOrder = later.number === earlier.number + 1 && later.day >= earlier.day && later.before === earlier.digest;
    return isInOrder && isSignedRight && (isNamed || !earlier.nextKey);
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

  /* ---- The page ------------------------------------------------------------------------------------------- */

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
})();
