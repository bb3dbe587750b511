// @ts-check
// Small things that all other pieces of the script use, and what is known of the trip.

/** @param {string} id @returns {any} */
const $ = (id) => document.getElementById(id);
/** @param {string} selector @param {ParentNode} [from] @returns {any[]} */
const all = (selector, from) => Array.from((from || document).querySelectorAll(selector));

/** @typedef {Record<string, any>} Cell */
/** @typedef {{way: number, hour: number, band: number}} Chosen */

/** What the program found out, as page_json() wrote it. */
let data = JSON.parse($('data').textContent);
/** @type {Chosen} */
const state = { way: data.start.way, hour: data.start.hour, band: data.start.band };

/** @param {number} way @param {number} hour @param {number} band @returns {Cell} */
const cellAt = (way, hour, band) => {
  /** @type {Cell} */
  const cell = {};
  data.ways[way].cells[hour * data.bands.length + band].forEach((/** @type {any} */ value, /** @type {number} */ i) => {
    cell[data.cell_keys[i]] = value;
  });
  return cell;
};

/** A sentence of the program with its marks filled in. @param {string} text @param {any[]} values */
const fill = (text, ...values) => text.replace(/%(\d)/g, (mark, i) => String(values[Number(i)]));
/** @param {number} n */
const two = (n) => String(n).padStart(2, '0');
/** @param {number} minutes */
const clock = (minutes) => two(Math.floor(minutes / 60)) + ':' + two(minutes % 60);
/** @param {number} n */
const minus = (n) => (n < 0 ? '\u2212' : '') + Math.abs(n).toFixed(1);
/** @param {number} n */
const signed = (n) => (n < 0 ? '\u2212' : '+') + Math.abs(n).toFixed(1);
/** @param {number} grams */
const mass = (grams) => (grams < 1000 ? Math.round(grams) + ' g' : (grams / 1000).toFixed(2) + ' kg');

/** @param {string} name @param {string} [text] @param {string} [kind] @returns {any} */
const html = (name, text, kind) => {
  const element = document.createElement(name);
  if (text !== undefined) element.textContent = text;
  if (kind) element.className = kind;
  return element;
};

/** One short sentence for those who listen; they hear the last of several. @param {string} text */
const say = (text) => {
  $('status').textContent = text.length > 120 ? text.slice(0, 117) + '...' : text;
};

/** What is remembered on this device only; a private window forgets. @param {string} key */
const remembered = (key) => {
  try { return JSON.parse(localStorage.getItem(key) || '{}') || {}; } catch (refused) { return {}; }
};
/** @param {string} key @param {any} value */
const remember = (key, value) => {
  try { localStorage.setItem(key, JSON.stringify(value)); } catch (refused) { /* not remembered */ }
};
