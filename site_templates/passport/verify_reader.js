/* For the page that checks passports: words, bytes, keys as text, the strict reader of JSON, and the canonical form.
   Judges no passport; refuses everything that two programs might read differently. */

var KNOWN = JSON.parse(document.getElementById("known").textContent);
var WORDS = KNOWN.words;
var MOST_BYTES = 1000000, MOST_DEPTH = 20, LONGEST_NUMBER = 40, LONGEST_TEXT = 128, LONGEST_SHOWN = 200;
var ALPHABET = "123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz";
var BASE32 = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

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
