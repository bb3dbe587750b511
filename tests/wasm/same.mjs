// The module against the native program: the same messages, the same bytes.
//   same.mjs SESSION FOLDER TRIP...   SESSION: the native session at a terminal; FOLDER: build/wasm
// 200 questions from a fixed seed, all four kinds for each trip, and a conversation about each trip. Says how long answers take.
// Exit 77: there is no module to ask, which is a failure where CI is set, unless SKERRY_NO_MODULE says why there is none.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import vm from 'node:vm';

const [session, folder, ...trips] = process.argv.slice(2);
const code = join(folder, 'skerry_wasm.wasm');
if (!existsSync(code)) {
  console.log('SKIPPED: no module; run ./dev page');
  process.exit(process.env.CI && !process.env.SKERRY_NO_MODULE ? 1 : 77);
}
const module = await createRequire(import.meta.url)(join(folder, 'skerry_wasm.js'))({ wasmBinary: readFileSync(code) });
vm.runInThisContext(readFileSync(new URL('../../src/wasm/ask.js', import.meta.url), 'utf8'));
const ask = (message) => globalThis.skerryAnswer(module, message);

// mulberry32: small, and the same everywhere.
let seed = 18;
const random = () => {
  seed = (seed + 0x6d2b79f5) | 0;
  let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
};
const among = (list) => list[Math.floor(random() * list.length)];
const between = (low, high, digits) => Number((low + random() * (high - low)).toFixed(digits));

const texts = trips.map((trip) => readFileSync(trip, 'utf8'));
const format = () => among(['text', 'json', 'csv']);
const place = () => ({ lat_deg: between(-80, 80, 2), lon_deg: between(-180, 180, 2) });
const kinds = {
  path: () => ({
    do: 'path',
    format: format(),
    question: {
      from: place(),
      to: place(),
      month: `20${Math.floor(between(26, 40, 0))}-${String(Math.floor(between(1, 12, 0))).padStart(2, '0')}`,
      r12: between(0, 200, 0),
      mode: among(['cw', 'ssb', 'ft8']),
      way: among(['short', 'long', 'both']),
      power_w: between(0.5, 100, 1),
      maps: among(['ccir', 'ursi']),
      es: among(['on', 'off']),
    },
  }),
  pack: () => ({ do: 'pack', trip: among(texts), format: format(), mass_limit_kg: between(1, 6, 1), tolerance_percent: between(0, 5, 1) }),
  explain: () => ({ do: 'explain', trip: among(texts), region: 'all', hour: Math.floor(between(0, 23, 0)) }),
  antenna: () => ({
    do: 'antenna',
    trip: among(texts),
    format: format(),
    mhz: [among([3.55, 7.03, 10.12, 14.06, 18.08, 21.06, 28.06])],
    ground: among(['rock', 'average', 'sand', 'sea', 'poor']),
    height_m: between(2, 10, 1),
    sea_from_m: among([0, 10, 100]),
  }),
};
const messages = [];
for (const trip of texts) {
  for (const shape of ['text', 'json', 'csv']) {
    messages.push({ do: 'pack', trip, format: shape }, { do: 'antenna', trip, format: shape });
  }
  messages.push({ do: 'pack', trip, show: ['all'] }, { do: 'explain', trip, region: 'all' });
  messages.push({ do: 'open', trip }, { do: 'rest' }, { do: 'change', limit_g: 3000 });
  messages.push({ do: 'change', limit_g: 3000, set: { power_w: 8, r12: 120, date: '2027-06-05' } }, { do: 'rest' }, { do: 'save' });
}
const drawn = [['path', 140], ['antenna', 20], ['pack', 30], ['explain', 10]];
for (const [kind, times] of drawn) for (let i = 0; i < times; ++i) messages.push(kinds[kind]());
messages.push({ do: 'open', trip: '[trip]\nname = 1\n' }, { do: 'nonsense' });

const native = spawnSync(session, { input: messages.map((m) => JSON.stringify(m)).join('\n') + '\n', maxBuffer: 1 << 30, encoding: 'utf8' });
const expected = native.stdout.split('\n');
let differ = 0;
const times = {};
messages.forEach((message, i) => {
  const began = performance.now();
  const said = ask(message);
  (times[message.do] ??= []).push(performance.now() - began);
  if (said === expected[i]) return;
  differ += 1;
  const at = [...said].findIndex((letter, k) => letter !== expected[i][k]);
  console.log(`${message.do} ${i} differs at ${at}: ${said.slice(at - 40, at + 40)} | ${(expected[i] ?? '').slice(at - 40, at + 40)}`);
});
const middle = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)].toFixed(0);
for (const [kind, list] of Object.entries(times)) console.log(`${kind}: first ${list[0].toFixed(0)} ms, median ${middle(list)} ms of ${list.length}`);
console.log(`heap ${(module.HEAPU8 ?? { length: 0 }).length >> 20} MB`);
console.log(`${messages.length} messages, ${differ} differ`);
process.exit(differ > 0 || native.status !== 0 || messages.length < 200 ? 1 : 0);
