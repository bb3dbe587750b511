// The engine itself in the page: how long answers take, a trip pasted anywhere, what a link carries, the steppers, and saving.
// Usage: node tool.mjs SKERRY OUTPUT_DIR TRIP
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { check, context, equal, finish, missing, open } from './tools.mjs';

const [program, output, trip] = process.argv.slice(2);
if (!trip) {
  console.error('usage: node tool.mjs SKERRY OUTPUT_DIR TRIP');
  process.exit(2);
}
mkdirSync(output, { recursive: true });
const file = path.resolve(output, 'own.html'), tool = path.resolve(output, 'tool.html');
execFileSync(program, ['report', trip, '-o', file], { stdio: 'inherit' });
try {
  execFileSync(program, ['page', '--first-day', '2027-02-13', '-o', tool], { stdio: 'pipe' });
} catch {
  missing('a program that carries the engine: run "./dev page"');
}

const quiet = (page) => page.waitForFunction(() => !document.body.classList.contains('busy') && !document.querySelector('.stale'), null, { polling: 20 });
/** Until a sentence of what changed stands there that was not there before; milliseconds. */
const until = async (page, act) => page.evaluate(({ what, value }) => new Promise((done) => {
  const said = document.getElementById('changed-text');
  const began = performance.now();
  const seen = new MutationObserver(() => { seen.disconnect(); done(performance.now() - began); });
  seen.observe(said, { childList: true, characterData: true, subtree: true });
  const element = document.querySelector(what);
  if (value !== undefined) {
    element.value = value;
    element.dispatchEvent(new Event('change', { bubbles: true }));
  } else {
    element.click();
  }
}), act);
const median = (list) => list.slice().sort((a, b) => a - b)[Math.floor(list.length / 2)];

const desk = await context({ viewport: { width: 1280, height: 900 } });
const { page, noise } = await open(desk, file);
// Opened anew: from the address to the first answer that this page computed.
await page.goto('about:blank');
const began = Date.now();
await page.goto(pathToFileURL(file).href + '#limit=3900');
await page.waitForFunction(() => !document.getElementById('changed').hidden, null, { polling: 10 });
console.log('first answer, from opening the file: ' + (Date.now() - began) + ' ms');
equal(await page.locator('#limit').inputValue(), '3900', 'the link sets the limit');
await quiet(page);
const limits = [], things = [], others = [];
for (const step of ['-100', '-100', '100', '100', '-100']) {
  limits.push(await until(page, { what: '.railtext [data-step="' + step + '"]' }));
  await quiet(page);
}
const reach = () => page.evaluate(() => document.querySelector('[data-v=reach]').firstChild.textContent.trim());
for (let i = 0; i < 2; ++i) {
  await page.locator('.folds .pick').nth(1).click();
  things.push(await until(page, { what: 'input[name=wish][value=not]' }));
  await quiet(page);
  check((await page.locator('s.ghost').count()) > 0, 'former values stay beside new ones');
  check(/without|instead/i.test(await page.locator('#changed-text').textContent()), 'told what changed');
  things.push(await until(page, { what: '#undo-button' }));
  await quiet(page);
}
for (const [what, value] of [['#set-power', '5'], ['#set-sun', '100'], ['#set-date', '2027-03-13'], ['#set-power', '20']]) {
  others.push(await until(page, { what, value }));
  await quiet(page);
}
console.log('a changed limit: ' + limits.map(Math.round).join(', ') + ' ms (median ' + Math.round(median(limits)) + ')');
console.log('a thing that is not there, and undone: ' + things.map(Math.round).join(', ') + ' ms (median ' + Math.round(median(things)) + ')');
console.log('power, Sun, date, power: ' + others.map(Math.round).join(', ') + ' ms');

// A link carries hour, region, band and change; whoever opens it sees the same.
const link = await page.evaluate(() => location.hash);
check(/way=\d+&hour=\d+&band=/.test(link) && /power_w=20/.test(link) && /date=2027-03-13/.test(link), 'the link: ' + link);
const shown = await reach();
const { page: other } = await open(desk, file);
await other.goto(pathToFileURL(file).href + link);
await other.reload();
await other.waitForFunction(() => !document.getElementById('changed').hidden, null, { polling: 20 });
await quiet(other);
equal(await other.evaluate(() => document.querySelector('[data-v=reach]').firstChild.textContent.trim()), shown, 'the link brings the same answer');
equal(await other.locator('#set-power').inputValue(), '20', 'and its steppers');
await other.close();

// Undone until nothing is left: the steppers are what the trip says.
await until(page, { what: '#undo-button' });
await quiet(page);
equal(await page.locator('#set-power').inputValue(), '5', 'a stepper goes back with the change');

// Play: the hours go by on the map, and stand still when asked.
const hourNow = () => page.locator('#hour').inputValue();
const night = () => page.evaluate(() => document.querySelector('.map:not([hidden]) .night').getAttribute('d'));
const start = await hourNow(), dark = await night();
await page.locator('#play').click();
await page.waitForFunction((h) => document.getElementById('hour').value !== h, start);
check((await night()) !== dark, 'the night moves over the map');
await page.locator('#play').click();
equal(await page.locator('#play').getAttribute('aria-pressed'), 'false', 'it stops');

// A trip pasted anywhere on the empty tool, its comments kept when it is saved.
const { page: empty, noise: said } = await open(desk, tool);
const before = await empty.locator('h1').first().textContent();
const text = readFileSync(trip, 'utf8');
await empty.evaluate((pasted) => {
  const clipboardData = new DataTransfer();
  clipboardData.setData('text/plain', pasted);
  document.querySelector('h1').dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
}, text);
await empty.waitForFunction((old) => document.querySelector('h1').textContent !== old, before);
await quiet(empty);
check(text.includes(await empty.locator('h1').first().textContent()), 'a trip pasted on the page is opened: ' + await empty.locator('h1').first().textContent());
equal(await empty.locator('#set-date').inputValue(), /first_day = (\S+)/.exec(text)[1], 'the steppers show the pasted trip');
await until(empty, { what: '.railtext [data-step="-100"]' });
await quiet(empty);
const [saved] = await Promise.all([empty.waitForEvent('download'), empty.locator('#trip-save').click()]);
const kept = readFileSync(await saved.path(), 'utf8');
const comments = (toml) => toml.split('\n').filter((line) => line.includes('#')).length;
check(comments(text) > 0 && comments(kept) >= comments(text) && kept !== text, 'saved with its comments and the new limit');
await empty.evaluate(() => {
  const clipboardData = new DataTransfer();
  clipboardData.setData('text/plain', 'a shopping list');
  document.querySelector('h1').dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
});
check(await empty.locator('#trip-error').isHidden(), 'other text that is pasted is left alone');
equal(said.concat(noise).join('\n'), '', 'silence');
await desk.close();
await finish();
